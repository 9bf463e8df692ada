"""Lays for the tests of the plan that ask for shears, stripes, flaws, remnants or scraps.

All are made by hand. Goals are reckoned by the solver's own rule from the finished lay;
nothing is searched.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from itertools import product

from example_lays import Drop, Maker, in_drops, joined, lay_of

from marker.cloth import Cloth, Repeat
from marker.geometry import Rect
from marker.lay import Direction, Lay, Mode, Part, Placement, prove
from marker.piece import AtSelvedge, Edges, Grain, Mark, MarkKind, Match, Piece, Pieced, Side, Wise
from marker.record import Garment, Record
from marker.solver.goals import goals, kept
from marker.solver.threads import mark_cuts
from marker.units import CM, MM, System


def finished(lay: Lay, cuts: int = 0, least: int = 0) -> Lay:
    """A lay with its cuts along threads marked, its remnants judged, and its four goals."""
    lay = replace(
        lay,
        tears=mark_cuts(lay.cloth, lay.pieces, lay.placements, lay.tears),
        offcuts=kept(lay.cloth, [offcut.rect for offcut in lay.offcuts]),
    )
    return replace(lay, goals=goals(lay, cuts, least))


def left_over(bolt: Rect, laid: Sequence[Rect]) -> tuple[Rect, ...]:
    """The bolt without its pieces in rectangles, the largest first, found on the grid of edges."""
    free, taken = [], list(laid)
    while True:
        xs = sorted({bolt.x0, bolt.x1, *(x for r in taken for x in (r.x0, r.x1))})
        ys = sorted({bolt.y0, bolt.y1, *(y for r in taken for y in (r.y0, r.y1))})
        spans = [(a, b) for i, a in enumerate(xs) for b in xs[i + 1 :]]
        rows = [(a, b) for i, a in enumerate(ys) for b in ys[i + 1 :]]
        every = (Rect(x0, y0, x1, y1) for (x0, x1), (y0, y1) in product(spans, rows))
        open_ = [rect for rect in every if not any(rect.overlaps(one) for one in taken)]
        if not open_:
            return tuple(free)
        free.append(max(open_, key=lambda rect: (rect.area, -rect.x0, -rect.y0)))
        taken.append(free[-1])


def with_shears(
    cloth: Cloth, pieces: Sequence[Piece], spots: Sequence[Placement], bound: int, cuts: int
) -> Lay:
    known = {piece.letter: piece for piece in pieces}
    rects = [spot.rect(known[spot.letter]) for spot in spots]
    length = max(rect.x1 for rect in rects)
    bolt = cloth.bolt(length)
    squaring = [Rect(bolt.x0, 0, 0, bolt.y1)] if bolt.x0 else []
    zone = Rect(0, 0, bolt.x1, bolt.y1)
    lay = Lay(
        cloth=cloth,
        pieces=tuple(pieces),
        length=length,
        bolt=bolt,
        placements=tuple(spots),
        tears=(),
        offcuts=kept(cloth, [*squaring, *left_over(zone, rects)]),
        bound=bound,
        bound_by="the area of the pieces over the usable width",
        proof=prove(cloth, length, bound),
        mode=Mode.SHEARS,
    )
    return finished(lay, cuts, cuts - 2)


def garment(name: str, panels: int, cut_length: int, hem: int = 220 * CM) -> Garment:
    return Garment("skirt", name, "Ilse", panels, cut_length, hem, 74 * CM, 26 * CM)


def pinwheel() -> Record:
    """Four panels round a patch, which no tear can part, then drops that can be cut across."""
    cloth = Cloth("main", "felted loden", 102 * CM, 10 * CM, CM, squaring=2 * CM, tears=False)
    pieces = (
        Piece("A", "yoke", 60 * CM, 40 * CM, 4, "main", Grain.EITHER,
              edges=Edges("neck", "hem", "seam", "seam"), garment="skirt"),
        Piece("B", "patch", 20 * CM, 20 * CM, 2, "main", garment="skirt"),
        Piece("C", "pocket", 16 * CM, 18 * CM, 6, "main", garment="skirt"),
        Piece("D", "cord cover", 64 * CM, 3 * CM, 2, "main", garment="skirt"),
    )  # fmt: skip
    spots = [
        Placement("A", 1, 0, CM, 0), Placement("A", 2, 60 * CM, CM, 90),
        Placement("A", 3, 40 * CM, 61 * CM, 0), Placement("A", 4, 0, 41 * CM, 90),
        Placement("B", 1, 40 * CM, 41 * CM, 0),
        *(Placement("C", n + 1, (100 + 16 * (n // 3)) * CM, (1 + 18 * (n % 3)) * CM, 0)
          for n in range(6)),
        Placement("D", 1, 100 * CM, 55 * CM, 0), Placement("D", 2, 100 * CM, 58 * CM, 0),
        Placement("B", 2, 132 * CM, CM, 0),
    ]  # fmt: skip
    lay = with_shears(cloth, pieces, spots, 142 * CM, 17)
    return Record(
        "Loden for the winter dance", System.CM, (garment("dance skirt", 4, 108 * CM),), (lay,)
    )


def checks() -> Record:
    """Panels of a checked cloth: hems on one stripe, breadths matched across, strips between."""
    cloth = Cloth("main", "red check wool", 114 * CM, 10 * CM, CM, squaring=3 * CM,
                  repeat=Repeat(12 * CM, 8 * CM), torn_edge=2 * CM // 10)  # fmt: skip
    hem = Match("hem", Wise.LENGTHWISE, 104 * CM, 0)
    side = Match("seam", Wise.CROSSWISE, 0, 0)
    notch = Mark(MarkKind.NOTCH, "opening", 32 * CM, 0, 32 * CM, CM)
    fold = Mark(MarkKind.FOLD, "fold of the turn-down", 6 * CM, 0, 6 * CM, 56 * CM)
    panel = Piece("A", "panel", 104 * CM, 56 * CM, 4, "main", edges=Edges("waist", "hem", "seam",
                  "seam"), marks=(fold, notch), garment="skirt", matches=(hem, side))  # fmt: skip
    band = Piece("B", "band", 78 * CM, 8 * CM, 1, "main", Grain.EITHER, "breadth", garment="skirt")
    maker = Maker({"A": panel, "B": band})
    rows = [("A", 0, 1), ("A", 0, 1)]
    bolt = cloth.bolt(220 * CM)
    parts = [
        Part(Rect(bolt.x0, 0, 0, bolt.y1)),
        maker.drop(cloth, rows, 0, 104 * CM),
        Part(Rect(104 * CM, 0, 108 * CM, bolt.y1)),
        maker.drop(cloth, rows, 108 * CM, 212 * CM),
        maker.drop(cloth, [("B", 90, 1)], 212 * CM, 220 * CM),
        Part(Rect(220 * CM, 0, bolt.x1, bolt.y1)),
    ]
    lay = lay_of(cloth, (panel, band), joined(Direction.ACROSS, parts), 220 * CM, 220 * CM)
    return Record(
        "Checked skirt", System.CM, (garment("checked skirt", 4, 1036 * MM),), (finished(lay),)
    )


def flawed() -> Record:
    """Two flaws on the bolt, one of them small, and one beyond it; cuts along a thread."""
    flaws = (
        Rect(108 * CM, 30 * CM, 118 * CM, 62 * CM),
        Rect(60 * CM, 101 * CM, 63 * CM, 103 * CM),
        Rect(700 * CM, 0, 720 * CM, 40 * CM),
    )
    cloth = Cloth("main", "unbleached calico", 110 * CM, 10 * CM, CM, squaring=2 * CM,
                  flaws=flaws, least_strip=4 * CM)  # fmt: skip
    panel = Piece("A", "panel", 108 * CM, 98 * CM, 2, "main", garment="skirt",
                  edges=Edges("waist", "hem", "seam", "seam"))  # fmt: skip
    tape = Piece("T", "tape", 90 * CM, 3 * CM, 3, "main", Grain.ACROSS, garment="skirt")
    band = Piece("V", "velvet band", 80 * CM, 9 * CM, 1, "main", Grain.ACROSS, garment="skirt",
                 torn=False)  # fmt: skip
    maker = Maker({"A": panel, "T": tape, "V": band})
    bolt = cloth.bolt(247 * CM)
    parts = [
        Part(Rect(bolt.x0, 0, 0, bolt.y1)),
        maker.drop(cloth, [("A", 0, 1)], 0, 108 * CM),
        Part(Rect(108 * CM, 0, 118 * CM, bolt.y1)),
        maker.drop(cloth, [("A", 0, 1)], 118 * CM, 226 * CM),
        maker.drop(cloth, [("V", 90, 1)], 226 * CM, 235 * CM),
        *(maker.drop(cloth, [("T", 90, 1)], (235 + 3 * n) * CM, (238 + 3 * n) * CM)
          for n in range(3)),
        Part(Rect(244 * CM, 0, bolt.x1, bolt.y1)),
    ]  # fmt: skip
    lay = lay_of(cloth, (panel, tape, band), joined(Direction.ACROSS, parts), 244 * CM, 238 * CM)
    lay = replace(lay, proof=prove(cloth, 244 * CM, 238 * CM))
    return Record(
        "Calico from the fair",
        System.CM,
        (garment("dance skirt", 2, 108 * CM, 192 * CM),),
        (finished(lay),),
    )


def scrap_of(key: str, name: str, width: int, length: int, piece: Piece, rows: int) -> Lay:
    """Some equal segments across a scrap."""
    cloth = Cloth(key, name, width, 10 * CM, keep_selvedges=True, length=length)
    drops: list[Drop] = [(piece.breadth, [(piece.letter, 90, 1)])] * rows
    lay = in_drops(cloth, (replace(piece, count=rows, cloth=key),), drops)
    return finished(lay)


def remnant() -> Record:
    """A facing pieced from three scraps in hand; hems on the selvedge of the first."""
    total, seam = 336 * CM, CM
    pieced = Pieced("facing of the dance skirt", total, seam, 40 * CM, 8)
    strip = Piece("A", "facing strip", 92 * CM, 14 * CM, 2, "chest", Grain.ACROSS, "breadth",
                  edges=Edges("join", "join", "hem", "top"), garment="skirt",
                  pieced=pieced)  # fmt: skip
    along = replace(strip, letter="B", length=80 * CM, count=1, grain=Grain.ALONG,
                    selvedges=(AtSelvedge(Side.LOW),))  # fmt: skip
    end = replace(strip, letter="C", length=82 * CM, grain=Grain.ACROSS)
    chest = scrap_of("chest", "striped ticking", 92 * CM, 48 * CM, strip, 2)
    cloth = Cloth("drawer", "blue linen", 70 * CM, 10 * CM, CM, True, 2 * CM, length=120 * CM)
    pocket = Piece("D", "pocket", 22 * CM, 18 * CM, 2, "drawer", garment="skirt")
    drawer = in_drops(cloth, (replace(along, cloth="drawer"), pocket),
                      [(80 * CM, [("B", 0, 1), ("D", 0, 2)])])  # fmt: skip
    drawer = replace(drawer, bound=76 * CM, proof=prove(cloth, 80 * CM, 76 * CM))
    attic = scrap_of("attic", "old sheet", 84 * CM, 30 * CM, end, 1)
    return Record(
        "Facing from three scraps",
        System.CM,
        (garment("dance skirt", 4, 108 * CM),),
        (finished(drawer), chest, attic),
    )


ASKING: dict[str, Callable[[], Record]] = {
    "pinwheel": pinwheel, "checks": checks, "flawed": flawed, "remnant": remnant,
}  # fmt: skip
