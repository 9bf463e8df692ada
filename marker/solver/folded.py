"""Lays on cloth laid folded lengthwise: half of the cloth is nested, the other is its image.

What is cut through both layers is there twice, as two mirror images. A piece that folds may
lie on the fold, and is nested as its lower half; what is cut an odd number of times and does
not fold leaves one copy's place in the other layer empty. The lay is told as it lies unfolded.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from marker.cloth import Cloth
from marker.errors import BadInput, CannotLay
from marker.geometry import Polygon, Rect
from marker.geometry.segments import Point, edges
from marker.lay import Lay, Placement
from marker.piece import Piece, Wise
from marker.solver.copies import Copies, Way, check, distinct, too_wide, turned_over, ways_of
from marker.solver.finish import cut, cut_out
from marker.solver.lays import Limits
from marker.solver.nest.bounds import least_length
from marker.solver.nested import bound, flaws_in, spread
from marker.solver.rules_read import matched_sets, no_selvedge
from marker.units import MM

ALIKE = MM // 5
"""Two polygons round one shape lie within twice 0.1 mm of each other, and so do images."""
SAFE = ALIKE + 2
"""What pieces keep apart so that neither images nor halves, alike to that, can overlap."""


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
            image is None or frozenset(image.outline.points) == frozenset(_over(way.outline).points)
            for way, image in zip(self.copies.ways, self.images, strict=True)
        )


def lay_folded(cloth: Cloth, pieces: Sequence[Piece], limits: Limits) -> Lay:
    """The lay on folded cloth, cut through both layers with shears.

    Raises `CannotLay` where a piece finds no place so, or a remnant is too short, and
    `BadInput` where the pieces ask what folded cloth can't give.
    """
    check(cloth, pieces)
    _check_matches(cloth, pieces)
    # A rectangle is its own mirror image, whether or not its recipe says so.
    pieces = [p if p.outline is not None else replace(p, folds=True) for p in pieces]
    half = _half(cloth)
    layers = list(_layers(cloth, pieces, half))
    exact = all(layer.exact for layer in layers)
    near = replace(cloth, margin=cloth.margin + (0 if exact else SAFE), flaws=tuple(_flaws(cloth)))
    spots = spread(near, [layer.copies for layer in layers], half, limits)
    numbers = _Numbers(pieces)
    placed: list[Placement] = []
    empty: list[Polygon] = []
    for spot in sorted(spots, key=lambda spot: (spot.x, spot.y)):
        layer = layers[spot.kind]
        way, image = layer.copies.ways[spot.shape], layer.images[spot.shape]
        letter = layer.copies.piece.letter
        placed.append(numbers.next(letter, way, spot.x, spot.y))
        if layer.on_fold:
            continue
        over = image.outline if image is not None else _over(way.outline)
        y = cloth.laid_width - spot.y - over.box.across
        if image is not None:
            placed.append(numbers.next(letter, image, spot.x, y))
        else:
            empty.append(over.shifted(spot.x, y))
    best = _bound(near, pieces, layers, half, bound(cloth, pieces, cloth.margin))
    shaped = any(piece.outline is not None for piece in pieces)
    return (cut_out if shaped else cut)(cloth, pieces, placed, *best, empty)


def _half(cloth: Cloth) -> Rect:
    """The usable cloth of the near layer, up to the fold."""
    return Rect(0, cloth.usable.y0, 0, cloth.laid_width // 2)


def _flaws(cloth: Cloth) -> Iterator[Rect]:
    """Flaws of both layers, as the near one must heed them."""
    for flaw in cloth.flaws:
        yield flaw
        yield Rect(flaw.x0, cloth.laid_width - flaw.y1, flaw.x1, cloth.laid_width - flaw.y0)


def _check_matches(cloth: Cloth, pieces: Sequence[Piece]) -> None:
    for name, wise in matched_sets(cloth, pieces):
        if wise is Wise.CROSSWISE:
            raise BadInput(
                f"cloth {cloth.key!r}: the match {name!r} goes by the crosswise repeat, and folded "
                "cloth turns that round in one layer; lay the cloth open"
            )


def _layers(cloth: Cloth, pieces: Sequence[Piece], half: Rect) -> Iterator[Layer]:
    """What is nested in the near layer: pairs, copies on the fold, and a last one alone."""
    sets = matched_sets(cloth, pieces)
    for piece in pieces:
        every = ways_of(cloth, piece, sets)
        ways = [found for way in every if (found := _beside(cloth, way, half))]
        # The middle line of an outline runs along its length; a rectangle has one either way.
        able = [
            way for way in every if piece.outline is None or (piece.folds and not way.turn % 180)
        ]
        on_fold = [found for way in able if (found := _on_fold(cloth, way, half))]
        if not ways and not on_fold:
            if piece.selvedges:
                raise CannotLay(no_selvedge(cloth, piece))
            raise CannotLay(too_wide(cloth, piece, every, half.across, folded=True))
        yield from _shared_out(cloth, piece, [_pair(cloth, way, every) for way in ways], on_fold)


def _shared_out(
    cloth: Cloth, piece: Piece, ways: Sequence[tuple[Way, Way | None]], on_fold: Sequence[Way]
) -> Iterator[Layer]:
    """The copies of a piece as pairs, on the fold, and alone; `ways` lie beside the fold."""
    both = [(way, image) for way, image in ways if image is not None]
    over = turned_over(piece)
    own = any(way.flip == image.flip for way, image in both)
    pairs = min(piece.count - over, over) or (piece.count // 2 if own else 0)
    if not both:
        pairs = 0
    rest = piece.count - 2 * pairs
    if pairs:
        yield Layer(
            Copies(piece, 1, pairs, tuple(way for way, _ in both)), tuple(way for _, way in both)
        )
    if rest and on_fold:
        yield Layer(Copies(piece, 1, rest, tuple(on_fold)), (None,) * len(on_fold), True)
    elif rest == 1:
        alone = distinct((way for way, _ in ways), flip=over > piece.count - over)
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
    return (
        f"piece {piece.letter} ({piece.name}) is cut {piece.count - over} times as drawn and "
        f"{over} times turned over, and folded cloth {cloth.key!r} gives as many of either; "
        "cut it in mirrored pairs, or lay the cloth open"
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


def _over(outline: Polygon) -> Polygon:
    """The mirror image of an outline across a line along the cloth."""
    return outline.mirrored().turned(180)


def _image(cloth: Cloth, way: Way, ways: Iterable[Way]) -> Way | None:
    """The way in which a copy lies that is another one's mirror image, if any is.

    Exactly so turned over; a shape that is its own image is not turned over. It may lie where
    the image comes to lie.
    """
    over = _over(way.outline)
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


class _Numbers:
    """Hands out numbers: copies as drawn first, then those turned over."""

    def __init__(self, pieces: Sequence[Piece]) -> None:
        self.left = {
            (piece.letter, flip): 1 + (piece.count - turned_over(piece) if flip else 0)
            for piece in pieces
            for flip in (False, True)
        }

    def next(self, letter: str, way: Way, x: int, y: int) -> Placement:
        """The next copy that lies so."""
        number = self.left[letter, way.flip]
        self.left[letter, way.flip] += 1
        return Placement(letter, number, x, y, way.turn, way.flip)


def _bound(
    near: Cloth,
    pieces: Sequence[Piece],
    layers: Sequence[Layer],
    half: Rect,
    whole: tuple[int, str],
) -> tuple[int, str]:
    """What no lay undercuts: as on open cloth, and where no piece could fold, as half is nested."""
    if any(piece.folds for piece in pieces) or any(piece.matches for piece in pieces):
        return whole
    halved = least_length(
        [layer.copies.kind for layer in layers],
        half.across,
        flaws=tuple(flaws_in(near, half)),
    )
    return max(whole, halved, key=lambda found: found[0])
