"""Both layers of folded cloth: which copies lie in pairs, on the fold, or in one layer alone.

What is cut through both layers is there twice, as two mirror images. A piece that folds may
lie on the fold, and is nested as its lower half.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from marker.cloth import Cloth
from marker.errors import CannotLay
from marker.geometry import Polygon, Rect
from marker.geometry.segments import Point, edges
from marker.piece import Grain, Piece
from marker.solver.copies import Copies, Way, distinct, turned_over, ways_of
from marker.solver.rules.read import matched_sets, no_selvedge
from marker.units import MM, Rounding, format_length

ALIKE = MM // 5
"""Two polygons round one shape lie within twice 0.1 mm of each other, and so do images."""
STRIP = 4
"""So many times its breadth a piece on the bias is long that is a strip."""


@dataclass(frozen=True)
class Layer:
    """Copies in the near layer: which way their images lie in the far one, if they have any.

    `images` has an entry for each way. Those `on_fold` lie in both layers at once.
    """

    copies: Copies
    images: tuple[Way | None, ...]
    on_fold: bool = False

    @property
    def exact(self) -> bool:
        """Whether both layers are cut alike to the unit, as rectangles and turned copies are."""
        if self.on_fold:
            return self.copies.piece.outline is None
        return all(
            image is None
            or frozenset(image.outline.points) == frozenset(mirror_image(way.outline).points)
            for way, image in zip(self.copies.ways, self.images, strict=True)
        )


@dataclass(frozen=True)
class Doubled:
    """How copies of a piece may lie: beside the fold, with their images if any, and on it."""

    piece: Piece
    ways: tuple[tuple[Way, Way | None], ...]
    on_fold: tuple[Way, ...]

    @property
    def pairs(self) -> int:
        """The most copies beside the fold of which each has its image."""
        over = turned_over(self.piece)
        both = [(way, image) for way, image in self.ways if image is not None]
        own = any(way.flip == image.flip for way, image in both)
        pairs = min(self.piece.count - over, over) or (self.piece.count // 2 if own else 0)
        return pairs if both else 0

    @property
    def fewer(self) -> range:
        """The numbers of pairs below the most, where the others lie on the fold instead."""
        able = self.on_fold and not turned_over(self.piece)
        return range(self.pairs - 1, -1, -1) if able else range(0)


def doubled(cloth: Cloth, pieces: Sequence[Piece], half: Rect) -> list[Doubled]:
    """How each piece may lie on folded cloth."""
    sets = matched_sets(cloth, pieces)
    found = []
    for piece in pieces:
        every = ways_of(cloth, piece, sets)
        ways = [laid for way in every if (laid := _beside(cloth, way, half))]
        # The middle line of an outline runs along its length; a rectangle has one either way.
        able = [
            way for way in every if piece.outline is None or (piece.folds and not way.turn % 180)
        ]
        on_fold = [laid for way in able if (laid := _on_fold(cloth, way, half))]
        if not ways and not on_fold:
            if piece.selvedges:
                raise CannotLay(no_selvedge(cloth, piece), proved=True)
            raise CannotLay(_too_wide(cloth, piece, every, half.across), proved=True)
        paired = tuple(_pair(cloth, way, every) for way in ways)
        found.append(Doubled(piece, paired, tuple(on_fold)))
    return found


def layers(cloth: Cloth, how: Doubled, pairs: int) -> Iterator[Layer]:
    """The copies of a piece: so many pairs, the others on the fold, or a last one alone."""
    piece, on_fold = how.piece, how.on_fold
    both = [(way, image) for way, image in how.ways if image is not None]
    rest = piece.count - 2 * pairs
    if pairs:
        yield Layer(
            Copies(piece, 1, pairs, tuple(way for way, _ in both)), tuple(way for _, way in both)
        )
    if rest and on_fold:
        yield Layer(Copies(piece, 1, rest, on_fold), (None,) * len(on_fold), True)
    elif rest == 1:
        over = turned_over(piece)
        alone = distinct((way for way, _ in how.ways), flip=over > piece.count - over)
        yield Layer(Copies(piece, 1, 1, alone), (None,) * len(alone))
    elif rest:
        raise CannotLay(_unlike(cloth, piece))


def _pair(cloth: Cloth, way: Way, ways: Sequence[Way]) -> tuple[Way, Way | None]:
    """A way to lie beside the fold, and the one in which the image then lies, if there is any."""
    image = _image(cloth, way, ways)
    if image is None or image.outline.box.across <= way.outline.box.across:
        return way, image
    # Rounded up in its turn, the image is a unit broader; the fold is kept clear of it.
    low, high = way.rule.across or (0, 0)
    rule = replace(way.rule, across=(low, high - 1))
    return (replace(way, rule=rule), image) if low < high else (way, None)


def _unlike(cloth: Cloth, piece: Piece) -> str:
    over = turned_over(piece)
    remedy = (
        "cut it on the bias from a rectangle, take another cloth,"
        if _strip(piece)
        else "cut it in mirrored pairs,"
    )
    return (
        f"piece {piece.letter} ({piece.name}) is cut {piece.count - over} times as drawn and "
        f"{over} times turned over, and folded cloth {cloth.key!r} gives as many of either; "
        f"{remedy} or lay the cloth open"
    )


def _strip(piece: Piece) -> bool:
    return piece.grain is Grain.BIAS and piece.length >= STRIP * piece.breadth


def _too_wide(cloth: Cloth, piece: Piece, ways: Sequence[Way], there: int) -> str:
    """That a piece that fits open cloth is too wide for half of it, and what helps."""
    system = cloth.system
    least = format_length(min(way.outline.box.across for way in ways), system, Rounding.UP)
    remedy = (
        "cut the piece on the bias from a rectangle, take another cloth,"
        if _strip(piece)
        else "take a wider cloth, let the piece lie on another grain,"
    )
    return (
        f"piece {piece.letter} ({piece.name}) needs {least} across in the narrowest way in which "
        f"it may lie, and cloth {cloth.key!r} has {format_length(there, system)} from selvedge to "
        f"fold; lay it open, {remedy} or join it from narrower ones"
    )


def _beside(cloth: Cloth, way: Way, half: Rect) -> Way | None:
    """A way as copies may lie beside the fold, half the margin from it."""
    apart = cloth.margin // 2 + 1 if cloth.margin else 0
    high = half.across - apart - way.outline.box.across
    low, greatest = way.rule.across or (0, high)
    greatest = min(high, greatest)
    if greatest < low:
        return None
    return replace(way, rule=replace(way.rule, across=(low, greatest)))


def _on_fold(cloth: Cloth, way: Way, half: Rect) -> Way | None:
    """A way as copies may lie on the fold, its middle line along it: the half below it."""
    breadth = way.outline.box.across
    low = (cloth.laid_width - breadth) // 2 - half.y0
    allowed = way.rule.across or (low, low)
    if low < 0 or not allowed[0] <= low <= allowed[1]:
        return None
    lower = _below(way.outline, half.across - low)
    return replace(way, outline=lower, rule=replace(way.rule, across=(low, low)))


def _below(outline: Polygon, height: int) -> Polygon:
    """The part of an outline below a height, whole units outwards.

    A shape that is its own mirror image across that height meets it in one stretch: several
    would close a ring around a hole.
    """
    kept: list[Point] = []
    met: list[int] = []
    for (ax, ay), (bx, by) in edges(outline.points):
        if ay <= height:
            kept.append((ax, ay))
        if (ay - height) * (by - height) < 0:
            rise = (bx - ax) * (height - ay)
            # The cloth lies left of an edge: on one that rises, what is further right is outside.
            x = ax + (-(-rise // (by - ay)) if by > ay else rise // (by - ay))
            kept.append((x, height))
            met.append(x)
    if len(met) > 2:
        return Polygon.of_rect(Rect(0, 0, outline.box.along, height))
    return Polygon.of(kept)


def mirror_image(outline: Polygon) -> Polygon:
    """The mirror image of an outline across a line along the cloth."""
    return outline.mirrored().turned(180)


def _image(cloth: Cloth, way: Way, ways: Iterable[Way]) -> Way | None:
    """The way in which a copy lies that is another one's mirror image, if any is.

    Exactly so turned over; a shape that is its own image is not turned over. It may lie where
    the image comes to lie.
    """
    over = mirror_image(way.outline)
    able = [other for other in ways if _reaches(cloth, way, other)]
    exact = [other for other in able if frozenset(other.outline.points) == frozenset(over.points)]
    if exact:
        return min(exact, key=lambda other: other.flip == way.flip)
    near = (other for other in able if other.flip == way.flip and _alike(over, other.outline))
    return next(near, None)


def _reaches(cloth: Cloth, way: Way, other: Way) -> bool:
    """Whether a copy may lie the other way wherever images of copies that lie this way come."""
    if other.rule.across is None or way.rule.across is None:
        return True
    far = cloth.usable.across - other.outline.box.across
    low, high = far - way.rule.across[1], far - way.rule.across[0]
    return other.rule.across[0] <= low and high <= other.rule.across[1]


def _alike(one: Polygon, other: Polygon) -> bool:
    """Whether two outlines, against 0, 0, go round one shape."""
    if max(abs(one.box.x1 - other.box.x1), abs(one.box.y1 - other.box.y1)) > 1:
        return False
    return all(
        any(_near(point, *side) for side in edges(second.points))
        for first, second in ((one, other), (other, one))
        for point in first.points
    )


def _near(point: Point, a: Point, b: Point) -> bool:
    """Whether a point lies within reach of a side."""
    ux, uy, px, py = b[0] - a[0], b[1] - a[1], point[0] - a[0], point[1] - a[1]
    size = ux * ux + uy * uy
    part = min(1.0, max(0.0, (px * ux + py * uy) / size))
    return (px - part * ux) ** 2 + (py - part * uy) ** 2 <= ALIKE * ALIKE
