"""Lays made by hand for the tests.

Nothing here goes through a solver or the tool's own cut tree: tears are listed by hand, and
so is what each lay reaches, so that a test of the referee has a footing of its own.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal

from marker.cloth import Cloth
from marker.geometry import Rect
from marker.lay import Aim, Direction, Goal, Lay, Mode, Offcut, Placement, Proof, Tear
from marker.piece import Edges, Grain, Mark, MarkKind, Piece
from marker.record import Garment, Notion, Record, TurnDown
from marker.units import CM, INCH, MM, System

ACROSS, ALONG = Direction.ACROSS, Direction.ALONG


@dataclass
class Bench:
    """A table to tear a lay on by hand: parts are named by their rectangles."""

    pieces: list[Piece]
    placements: list[Placement] = field(default_factory=list)
    tears: list[Tear] = field(default_factory=list)
    offcuts: list[Offcut] = field(default_factory=list)

    def put(self, letter: str, x: int, y: int, turn: int = 0) -> str:
        """Lay the next copy of a piece."""
        copy = sum(spot.letter == letter for spot in self.placements) + 1
        self.placements.append(Placement(letter, copy, x, y, turn))
        return f"{letter}-{copy}"

    def tear(
        self, hand: Rect, direction: Direction, at: int, *frees: str, cut: bool = False
    ) -> tuple[Rect, Rect]:
        """Tear a part in two; gives the part on the low side, and the other."""
        self.tears.append(Tear(len(self.tears) + 1, hand, direction, at, frees, cut))
        if direction is ACROSS:
            return Rect(hand.x0, hand.y0, at, hand.y1), Rect(at, hand.y0, hand.x1, hand.y1)
        return Rect(hand.x0, hand.y0, hand.x1, at), Rect(hand.x0, at, hand.x1, hand.y1)

    def leave(self, *rects: Rect, keep: bool = False) -> None:
        """List parts as left over."""
        self.offcuts += [Offcut(rect, keep) for rect in rects]

    def lay(
        self,
        cloth: Cloth,
        length: int,
        bolt: Rect,
        bound: int,
        proof: Proof,
        buys: tuple[int, int],
        left: int = 0,
        cuts: int | None = None,
    ) -> Lay:
        """The finished lay.

        `buys` are what is bought and its bound, `left` the largest useful remnant, and `cuts`
        the straight cuts of a lay for shears. The other bounds are such as nobody can doubt:
        the whole bolt, and no tear.
        """
        count = len(self.tears) if cuts is None else cuts
        whole = (bolt.x1 - bolt.x0) * (bolt.y1 - bolt.y0)
        goals = (
            Goal(Aim.BUY, *buys, "area"),
            Goal(Aim.LENGTH, length, bound, "area"),
            Goal(Aim.REMNANT, left, whole, "the whole bolt"),
            Goal(Aim.TEARS, count, 0, "none at all"),
        )
        return Lay(
            cloth=cloth,
            pieces=tuple(self.pieces),
            length=length,
            bolt=bolt,
            placements=tuple(self.placements),
            tears=tuple(self.tears),
            offcuts=tuple(self.offcuts),
            bound=bound,
            bound_by="area",
            proof=proof,
            mode=Mode.TEAR if cuts is None else Mode.SHEARS,
            goals=goals,
        )


def skirt() -> Lay:
    """Three drops of 108 cm and a band of 7.5 cm from cloth 114 cm wide, selvedges torn off.

    100 + 6 + 2 = 108; 3 x 108 + 7.5 = 331.5, so 3.40 m (common practice, no source).
    """
    cloth = Cloth("main", "wool", width=114 * CM, step=10 * CM, selvedge=CM)
    edges = Edges(start="waist", end="hem", low="side seam", high="side seam")
    fold = Mark(MarkKind.FOLD, "turn-down", 6 * CM, 0, 6 * CM, 112 * CM)
    seam = Mark(MarkKind.SEAM, "seam", 0, CM, 108 * CM, CM)
    pieces = [
        Piece("A", "panel", 108 * CM, 112 * CM, 3, "main", edges=edges, marks=(fold, seam),
              garment="skirt"),
        Piece("B", "band", 76 * CM, 75 * MM, 1, "main", grain=Grain.ACROSS, up="breadth",
              garment="skirt"),
    ]  # fmt: skip
    bench = Bench(pieces)
    rest = bolt = Rect(0, 0, 340 * CM, 114 * CM)
    bands = []
    for drop in range(3):
        bench.put("A", drop * 108 * CM, CM)
        band, rest = bench.tear(rest, ACROSS, (drop + 1) * 108 * CM)
        bands.append(band)
    bench.put("B", 324 * CM, CM, 90)
    strip, tail = bench.tear(rest, ACROSS, 324 * CM + 75 * MM)
    for copy, band in enumerate(bands, 1):
        near, band = bench.tear(band, ALONG, CM)
        _, far = bench.tear(band, ALONG, 113 * CM, f"A-{copy}")
        bench.leave(near, far)
    near, strip = bench.tear(strip, ALONG, CM)
    _, far = bench.tear(strip, ALONG, 77 * CM, "B-1")
    bench.leave(near, far)
    # 85 mm are too little to keep.
    bench.leave(tail)
    length = 324 * CM + 75 * MM
    return bench.lay(cloth, length, bolt, length, Proof.LENGTH, (340 * CM, 340 * CM))


def squared() -> Lay:
    """Washed cloth squared by 3 cm: two panels abreast, and facings across, with a gap to prove.

    Shrinkage 4 % along and 2 % across: 100 cm of width make 98; (3 + 120) / 0.96 = 128.125
    cm, bought as 130, which washes to 124.8.
    """
    cloth = Cloth(
        "lining", "cotton", width=100 * CM, step=10 * CM, keep_selvedges=True, selvedge=CM,
        squaring=3 * CM, warp_shrinkage=Decimal(4), weft_shrinkage=Decimal(2),
    )  # fmt: skip
    pieces = [
        Piece(
            "C",
            "panel",
            90 * CM,
            45 * CM,
            2,
            "lining",
            garment="petticoat",
            edges=Edges(start="waist", end="hem"),
        ),
        Piece("D", "facing", 49 * CM, 15 * CM, 4, "lining", grain=Grain.EITHER, up="breadth"),
    ]
    bench = Bench(pieces)
    bolt = Rect(-3 * CM, 0, 1248 * MM - 3 * CM, 98 * CM)
    square, rest = bench.tear(bolt, ACROSS, 0)
    panels, rest = bench.tear(rest, ACROSS, 90 * CM)
    one, rest = bench.tear(rest, ACROSS, 105 * CM)
    two, tail = bench.tear(rest, ACROSS, 120 * CM)
    bench.put("C", 0, 0)
    bench.put("C", 0, 45 * CM, 180)
    _, rest = bench.tear(panels, ALONG, 45 * CM, "C-1")
    _, side = bench.tear(rest, ALONG, 90 * CM, "C-2")
    for band, x in ((one, 90 * CM), (two, 105 * CM)):
        names = bench.put("D", x, 0, 90), bench.put("D", x, 49 * CM, 270)
        bench.tear(band, ALONG, 49 * CM, *names)
    bench.leave(square, side, tail)
    return bench.lay(cloth, 120 * CM, bolt, 116 * CM, Proof.STEP, (130 * CM, 130 * CM))


def nap() -> Lay:
    """One-way cloth in inches: a panel, a band that must lie along with it, and room to spare."""
    cloth = Cloth("velvet", "velvet", width=45 * INCH, step=9 * INCH // 2, one_way=True)
    pieces = [
        Piece("E", "panel", 40 * INCH, 30 * INCH, 1, "velvet", grain=Grain.EITHER),
        Piece("F", "band", 30 * INCH, 3 * INCH, 1, "velvet", grain=Grain.EITHER, up="breadth"),
        Piece("G", "tie", 40 * INCH, 2 * INCH, 2, "velvet"),
    ]
    bench = Bench(pieces)
    bolt = Rect(0, 0, 45 * INCH, 45 * INCH)
    bench.put("E", 0, 0)
    bench.put("F", 40 * INCH, 0, 90)
    bench.put("G", 0, 30 * INCH)
    bench.put("G", 0, 32 * INCH)
    drop, rest = bench.tear(bolt, ACROSS, 40 * INCH)
    strip, tail = bench.tear(rest, ACROSS, 43 * INCH)
    _, rest = bench.tear(drop, ALONG, 30 * INCH, "E-1")
    _, rest = bench.tear(rest, ALONG, 32 * INCH, "G-1")
    _, side = bench.tear(rest, ALONG, 34 * INCH, "G-2")
    _, end = bench.tear(strip, ALONG, 30 * INCH, "F-1")
    bench.leave(side, keep=True)
    bench.leave(end, tail)
    return bench.lay(
        cloth, 43 * INCH, bolt, 30 * INCH, Proof.OPEN,
        (45 * INCH, 63 * INCH // 2), left=40 * INCH * 11 * INCH,
    )  # fmt: skip


def railroaded() -> Lay:
    """One panel turned, its hem along the selvedge, on a bolt sold to its very length."""
    cloth = Cloth("wide", "linen", width=150 * CM, step=10 * CM)
    pieces = [Piece("H", "panel", 108 * CM, 300 * CM, 1, "wide", grain=Grain.ACROSS)]
    bench = Bench(pieces)
    bolt = Rect(0, 0, 300 * CM, 150 * CM)
    bench.put("H", 0, 0, 90)
    _, side = bench.tear(bolt, ALONG, 108 * CM, "H-1")
    bench.leave(side, keep=True)
    return bench.lay(
        cloth, 300 * CM, bolt, 300 * CM, Proof.LENGTH,
        (300 * CM, 300 * CM), left=300 * CM * 42 * CM,
    )  # fmt: skip


def whole() -> Lay:
    """A square of cloth that is the piece: nothing to tear."""
    cloth = Cloth("scarf", "silk", width=90 * CM, step=90 * CM)
    bench = Bench([Piece("J", "kerchief", 90 * CM, 90 * CM, 1, "scarf")])
    bench.put("J", 0, 0)
    bolt = Rect(0, 0, 90 * CM, 90 * CM)
    return bench.lay(cloth, 90 * CM, bolt, 90 * CM, Proof.LENGTH, (90 * CM, 90 * CM))


GOOD = {make.__name__: make for make in (skirt, squared, nap, railroaded, whole)}
"""The hand-made lays, by name; each passes the referee."""


def record() -> Record:
    """A record of two garments on two cloths; it passes the referee."""
    skirt_told = Garment(
        key="skirt", name="Sunday skirt", wearer="Anna", panels=3, cut_length=108 * CM,
        round_hem=3 * 110 * CM, drawn=70 * CM, opening=25 * CM,
        turn_downs=(
            TurnDown("front", 99 * CM, 7 * CM),
            TurnDown("side", 100 * CM, 6 * CM),
            TurnDown("back", 100 * CM, 6 * CM),
        ),
        notions=(Notion("binding", 332 * CM),),
    )  # fmt: skip
    petticoat = Garment(
        key="petticoat", name="petticoat", wearer="Anna", panels=2, cut_length=90 * CM,
        round_hem=2 * 43 * CM, drawn=72 * CM, opening=0,
    )  # fmt: skip
    return Record("Harvest dance", System.CM, (skirt_told, petticoat), (skirt(), squared()))
