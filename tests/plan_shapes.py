"""Lays for the tests of the plan with pieces of any outline.

All are made by hand: pieces are set in columns, each slid across the cloth until it touches
the one before. Goals are reckoned by the solver's own rule; nothing is searched.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import replace

from example_lays import joined, lay_of

from marker.cloth import Cloth
from marker.geometry import Outline, Polygon, Rect
from marker.geometry.shapes import bias_strip, circle_panel, facing, gore
from marker.lay import Direction, Lay, Mode, Offcut, Part, Placement, prove
from marker.piece import Edges, Grain, Mark, MarkKind, Piece
from marker.record import Garment, Item, Record
from marker.solver.goals import goals
from marker.units import CM, System

Way = tuple[str, int, bool]
"""Letter, turn, and whether turned over."""
SEWN = {"start": "waist", "end": "hem", "low": "seam", "high": "seam"}
WHERE = "the area of the pieces over the usable width"


class Table:
    """Sets pieces on the cloth, and counts the copies of each."""

    def __init__(self, pieces: Sequence[Piece]) -> None:
        self.pieces = {piece.letter: piece for piece in pieces}
        self.copies: Counter[str] = Counter()
        self.spots: list[Placement] = []
        self.laid: list[Polygon] = []

    def put(self, way: Way, x: int, y: int) -> Placement:
        letter, turn, flip = way
        self.copies[letter] += 1
        spot = Placement(letter, self.copies[letter], x, y, turn, flip)
        self.spots.append(spot)
        self.laid.append(spot.polygon(self.pieces[letter]))
        return spot

    def slide(self, way: Way, y: int) -> Rect:
        """Set a piece beyond all others, then push it towards the free end until it touches."""
        shape = self.pieces[way[0]].laid(way[1], way[2])
        low, high = 0, max((one.box.x1 for one in self.laid), default=0)
        while high - low > 1:
            middle = (low + high) // 2
            touches = any(shape.shifted(middle, y).overlaps(one) for one in self.laid)
            low, high = (middle, high) if touches else (low, middle)
        self.put(way, high, y)
        return self.laid[-1].box

    def column(self, x: int, y: int, ways: Sequence[Way]) -> Rect:
        """Set pieces one above another from y on; gives the room they take."""
        first = len(self.laid)
        for letter, turn, flip in ways:
            shape = self.pieces[letter].laid(turn, flip)
            near = self.laid[first:]
            high = max((one.box.y1 for one in near), default=y)
            low = near[-1].box.y0 if near else y
            while high - low > 1 and near:
                middle = (low + high) // 2
                touches = any(shape.shifted(x, middle).overlaps(one) for one in near)
                low, high = (middle, high) if touches else (low, middle)
            self.put((letter, turn, flip), x, high)
        boxes = [one.box for one in self.laid[first:]]
        return Rect(x, y, max(b.x1 for b in boxes), max(b.y1 for b in boxes))


def cut_out(
    cloth: Cloth, pieces: Sequence[Piece], table: Table, bound: int, left: Sequence[Rect] = ()
) -> Lay:
    """A lay for shears; `left` are rectangles that no piece touches."""
    length = max(shape.box.x1 for shape in table.laid)
    bolt = cloth.bolt(length)
    behind = [Rect(length, 0, bolt.x1, bolt.y1)] if bolt.x1 > length else []
    big = [rect for rect in (*left, *behind) if min(rect.along, rect.across) >= 10 * CM]
    lay = Lay(
        cloth=cloth, pieces=tuple(pieces), length=length, bolt=bolt,
        placements=tuple(table.spots), tears=(),
        offcuts=tuple(Offcut(rect, rect in big) for rect in (*left, *behind)),
        bound=bound, bound_by=WHERE, proof=prove(cloth, length, bound), mode=Mode.SHEARS,
    )  # fmt: skip
    count = len(table.spots)
    return replace(lay, goals=goals(lay, count, count))


def wool(**more: object) -> Cloth:
    plain = Cloth("main", "grey walking wool", 140 * CM, 10 * CM, CM, squaring=2 * CM, tears=False)
    return replace(plain, **more)  # type: ignore[arg-type]


def gores(count: int, **more: object) -> Piece:
    outline = gore(14 * CM, 44 * CM, 84 * CM).renamed(SEWN)
    middle = 22 * CM
    notch = Mark(MarkKind.NOTCH, "hip", 20 * CM, round(middle - 10.6 * CM),
                 20 * CM, round(middle - 9.6 * CM))  # fmt: skip
    return Piece.shaped("A", "gore", outline, count, "main", marks=(notch,), garment="skirt",
                        folds=True, **more)  # fmt: skip


def yoke(letter: str, count: int = 2, mirrored: int = 1) -> Piece:
    """Unlike its mirror image, so that it is cut as a pair."""
    outline = Outline.through(
        [(0, 0), (30 * CM, 0), (30 * CM, 12 * CM), (18 * CM, 22 * CM), (0, 16 * CM)],
        ("centre front", "shoulder", "neck", "side", "waist"),
    )
    return Piece.shaped(letter, "yoke", outline, count, "main", mirrored=mirrored, garment="skirt")


def open_gores() -> Record:
    """Six gores head to tail, shaped facings of the same hem, and a straight band."""
    panel = gores(6)
    assert panel.outline is not None
    shaped = facing(panel.outline.renamed({"hem": "end"}), "end", 6 * CM).renamed(
        {"end": "hem", "low": "seam", "high": "seam"}
    )
    pieces = (
        panel,
        Piece.shaped("B", "shaped facing", shaped.turned(0), 6, "main", garment="skirt"),
        Piece("C", "band", 78 * CM, 8 * CM, 1, "main", Grain.EITHER, "breadth", garment="skirt"),
    )
    table = Table(pieces)
    up, down = ("A", 0, False), ("A", 180, False)
    first = table.column(0, CM, (up, down, up, down))
    table.put(("C", 90, False), first.x1, CM)
    low = table.column(first.x1 + 8 * CM, CM, (up, down))
    for _ in range(6):
        table.slide(("B", 0, False), low.y1)
    lay = cut_out(wool(), pieces, table, 140 * CM)
    made = Garment("skirt", "walking skirt", "Ilse", 6, 84 * CM, 246 * CM, 76 * CM, 24 * CM,
                   figures=(Item("hem of a gore", 44 * CM),))  # fmt: skip
    return Record("Walking skirt in six gores", System.CM, (made,), (lay,))


def bias_strips() -> Record:
    """A mirrored pair, a half circle, and strips of true bias beside them."""
    panel = circle_panel(70 * CM, 52 * CM, 0.5, 2).renamed(SEWN)
    folds = (Mark(MarkKind.FOLD, "fold", 2 * CM, 2 * CM, 72 * CM, 2 * CM),)
    strip = bias_strip(70 * CM, 4 * CM).renamed(
        {"start": "join", "end": "join", "low": "hem", "high": "top"}
    )
    pieces = (
        Piece.shaped("A", "circle panel", panel, 2, "main", garment="skirt", folds=True),
        yoke("B"),
        Piece.shaped("C", "hem binding strip", strip, 5, "main", grain=Grain.BIAS, marks=folds,
                     edges=Edges("join", "join", "hem", "top"), garment="skirt"),
    )  # fmt: skip
    table = Table(pieces)
    table.slide(("A", 0, False), CM)
    table.slide(("A", 0, False), CM)
    table.slide(("B", 0, False), 117 * CM)
    tall = pieces[2].laid(45).box.across
    for _ in range(5):
        table.slide(("C", 45, False), 139 * CM - tall)
    table.slide(("B", 0, True), CM)
    lay = cut_out(wool(), pieces, table, 118 * CM)
    made = Garment("skirt", "half-circle skirt", "Ilse", 2, 52 * CM, 233 * CM,
                   figures=(Item("waist", 70 * CM), Item("hem binding, joined", 340 * CM)),
                   advice=("The hem binding is 5 strips of true bias 4.0 cm wide.",))  # fmt: skip
    return Record("Half-circle skirt with a bias binding", System.CM, (made,), (lay,))


def mixed() -> Record:
    """Panels torn off first, then a region from which gores and yokes are cut with shears."""
    cloth = wool(tears=True)
    pieces = (
        replace(gores(4), letter="B"),
        yoke("C"),
        Piece("A", "panel", 90 * CM, 100 * CM, 2, "main", edges=Edges("waist", "hem", "seam",
              "seam"), garment="petticoat"),
        Piece("D", "band", 76 * CM, 8 * CM, 1, "main", garment="petticoat"),
    )  # fmt: skip
    table = Table(pieces)
    bolt = cloth.bolt((180 + 86) * CM)

    def drop(x: int) -> Part:
        spot = table.put(("A", 0, False), x, CM)
        parts = [Part(Rect(x, 0, x + 90 * CM, CM)), Part(spot.rect(pieces[2]), placed=spot)]
        if x:
            band = table.put(("D", 0, False), x, 101 * CM)
            rect = band.rect(pieces[3])
            row = (Part(rect, placed=band), Part(Rect(rect.x1, rect.y0, x + 90 * CM, rect.y1)))
            parts.append(joined(Direction.ACROSS, row))
        parts.append(Part(Rect(x, parts[-1].rect.y1, x + 90 * CM, bolt.y1)))
        return joined(Direction.ALONG, parts)

    torn = [drop(0), drop(90 * CM)]
    x = 180 * CM
    up, down = ("B", 0, False), ("B", 180, False)
    room = table.column(x, CM, (up, down, up, down))
    pair = table.column(x + 86 * CM, CM, (("C", 0, False), ("C", 0, True)))
    end = max(room.x1, pair.x1)
    region = Rect(x, CM, end, 139 * CM)
    shears = [Part(Rect(x, 0, end, CM)), Part(region, region=True),
              Part(Rect(x, 139 * CM, end, bolt.y1))]  # fmt: skip
    bolt = cloth.bolt(end)
    behind = [Part(Rect(end, 0, bolt.x1, bolt.y1))] if bolt.x1 > end else []
    parts = [Part(Rect(bolt.x0, 0, 0, bolt.y1)), *torn, joined(Direction.ALONG, shears), *behind]
    lay = lay_of(cloth, pieces, joined(Direction.ACROSS, parts), end, 250 * CM)
    spots = tuple(sorted(table.spots, key=lambda spot: (spot.x, spot.y)))
    lay = replace(
        lay, placements=spots, regions=(region,), bound_by=WHERE,
        offcuts=tuple(one for one in lay.offcuts if one.rect != region),
        proof=prove(cloth, end, 250 * CM),
    )  # fmt: skip
    *others, tears = goals(lay, 0, 0)
    # Each piece in the region takes a cut of its own besides the tears.
    tears = replace(tears, value=len(lay.tears) + 6, bound=min(tears.bound, len(lay.tears) + 6))
    lay = replace(lay, goals=(*others, tears))
    made = (
        Garment("petticoat", "petticoat", "Ilse", 2, 90 * CM, 194 * CM, 76 * CM, 24 * CM),
        Garment("skirt", "walking skirt", "Ilse", 4, 84 * CM, 164 * CM),
    )
    return Record("Petticoat torn, skirt cut out", System.CM, made, (lay,))


def folded() -> Record:
    """Cloth laid folded: two gores on the fold, pairs in both layers, a mirrored pair."""
    cloth = wool(folded=True, margin=CM // 2)
    pieces = (gores(4), yoke("B"), Piece("C", "pocket", 18 * CM, 16 * CM, 2, "main"))
    table = Table(pieces)
    wide = cloth.laid_width

    def both(way: Way, x: int, y: int) -> None:
        letter, turn, flip = way
        piece = pieces["ABC".index(letter)]
        over = letter == "B"
        table.put(way, x, y)
        tall = piece.laid(turn, flip).box.across
        table.put((letter, turn, flip ^ over), x, wide - y - tall)

    low = (wide - pieces[0].breadth) // 2
    table.put(("A", 0, False), 0, low)
    both(("A", 180, False), 0, CM)
    x = table.laid[0].box.x1 + CM // 2
    table.put(("A", 180, False), x, low)
    both(("B", 0, False), x, CM)
    both(("C", 0, False), x + 32 * CM, CM)
    lay = cut_out(cloth, pieces, table, 140 * CM)
    made = Garment("skirt", "walking skirt", "Ilse", 4, 84 * CM, 164 * CM)
    return Record("Gores from folded cloth", System.CM, (made,), (lay,))


SHAPED: dict[str, Callable[[], Record]] = {
    "gores": open_gores, "bias": bias_strips, "mixed": mixed, "folded": folded,
}  # fmt: skip
