"""Lays made by hand for the tests, and a maker of random ones that can be torn.

Nothing here goes through a solver or the tool's own cut tree: tears are listed by hand or
by the small walker below, so that a test of the referee has a footing of its own.
"""

from __future__ import annotations

import random
from dataclasses import dataclass, field, replace
from decimal import Decimal

from marker.cloth import Cloth
from marker.geometry import Rect
from marker.lay import Direction, Lay, Offcut, Placement, Proof, Tear
from marker.piece import Edges, Grain, Mark, MarkKind, Piece
from marker.record import Garment, Item, Record, TurnDown
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

    def tear(self, hand: Rect, direction: Direction, at: int, *frees: str) -> tuple[Rect, Rect]:
        """Tear a part in two; gives the part on the low side, and the other."""
        self.tears.append(Tear(len(self.tears) + 1, hand, direction, at, frees))
        if direction is ACROSS:
            return Rect(hand.x0, hand.y0, at, hand.y1), Rect(at, hand.y0, hand.x1, hand.y1)
        return Rect(hand.x0, hand.y0, hand.x1, at), Rect(hand.x0, at, hand.x1, hand.y1)

    def leave(self, *rects: Rect, keep: bool = False) -> None:
        """List parts as left over."""
        self.offcuts += [Offcut(rect, keep) for rect in rects]

    def lay(self, cloth: Cloth, length: int, bolt: Rect, bound: int, proof: Proof) -> Lay:
        """The finished lay."""
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
    bench.leave(tail, keep=True)
    length = 324 * CM + 75 * MM
    return bench.lay(cloth, length, bolt, length, Proof.LENGTH)


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
    return bench.lay(cloth, 120 * CM, bolt, 116 * CM, Proof.STEP)


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
    bench.leave(side, end, tail)
    return bench.lay(cloth, 43 * INCH, bolt, 30 * INCH, Proof.OPEN)


def railroaded() -> Lay:
    """One panel turned, its hem along the selvedge, on a bolt sold to its very length."""
    cloth = Cloth("wide", "linen", width=150 * CM, step=10 * CM)
    pieces = [Piece("H", "panel", 108 * CM, 300 * CM, 1, "wide", grain=Grain.ACROSS)]
    bench = Bench(pieces)
    bolt = Rect(0, 0, 300 * CM, 150 * CM)
    bench.put("H", 0, 0, 90)
    _, side = bench.tear(bolt, ALONG, 108 * CM, "H-1")
    bench.leave(side, keep=True)
    return bench.lay(cloth, 300 * CM, bolt, 300 * CM, Proof.LENGTH)


def whole() -> Lay:
    """A square of cloth that is the piece: nothing to tear."""
    cloth = Cloth("scarf", "silk", width=90 * CM, step=90 * CM)
    bench = Bench([Piece("J", "kerchief", 90 * CM, 90 * CM, 1, "scarf")])
    bench.put("J", 0, 0)
    return bench.lay(cloth, 90 * CM, Rect(0, 0, 90 * CM, 90 * CM), 90 * CM, Proof.LENGTH)


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
        notions=(Item("binding", 332 * CM),),
    )  # fmt: skip
    petticoat = Garment(
        key="petticoat", name="petticoat", wearer="Anna", panels=2, cut_length=90 * CM,
        round_hem=2 * 43 * CM, drawn=72 * CM, opening=0,
    )  # fmt: skip
    return Record("Harvest dance", System.CM, (skirt_told, petticoat), (skirt(), squared()))


def torn(seed: int, most: int = 12) -> Lay:
    """A random lay that can be torn, of up to `most` parts, with odd cloth and odd sizes.

    A length is torn at random, breadth or length of every part in turn; some parts become
    pieces and the rest offcuts. Equal sizes become copies of one piece.
    """
    dice = random.Random(seed)
    one_way = dice.random() < 0.3
    width, edge = dice.randint(40, 400), dice.choice((0, 0, 3))
    cloth = Cloth(
        "main", "cloth", width=width, step=dice.choice((1, 7, 50)), selvedge=edge,
        keep_selvedges=dice.random() < 0.3, squaring=dice.choice((0, 0, 5)), one_way=one_way,
        warp_shrinkage=Decimal(dice.choice(("0", "0", "3.5"))),
        weft_shrinkage=Decimal(dice.choice(("0", "0", "2.5"))),
    )  # fmt: skip
    length = dice.randint(20, 900)
    maker = _Maker(dice, cloth, most)
    return maker.lay(length)


class _Maker:
    """Tears a bolt at random and names what it finds."""

    def __init__(self, dice: random.Random, cloth: Cloth, most: int) -> None:
        self.dice, self.cloth, self.most = dice, cloth, most
        self.bench = Bench([])
        self.kinds: dict[tuple[int, int, Grain, str], str] = {}
        self.spots: list[tuple[str, Rect, int]] = []
        self.parts = 1

    def lay(self, length: int) -> Lay:
        cloth = self.cloth
        # Whole per mille keeps the sums exact: (squaring + length) / kept, up to whole steps.
        kept = 1000 - int(cloth.warp_shrinkage * 10)
        steps = -(-(cloth.squaring + length) * 1000 // (kept * cloth.step))
        end = steps * cloth.step * kept // 1000 - cloth.squaring
        across = cloth.width * (1000 - int(cloth.weft_shrinkage * 10)) // 1000
        rest = bolt = Rect(-cloth.squaring, 0, end, across)
        if cloth.squaring:
            square, rest = self.bench.tear(rest, ACROSS, 0)
            self.bench.leave(square)
        if end > length:
            rest, tail = self.bench.tear(rest, ACROSS, length)
            self.bench.leave(tail)
        edge = 0 if cloth.keep_selvedges else cloth.selvedge
        if edge:
            near, rest = self.bench.tear(rest, ALONG, edge)
            rest, far = self.bench.tear(rest, ALONG, across - edge)
            self.bench.leave(near, far)
        self._part(rest, must=True)
        self._name()
        bound = self.dice.randint(1, length)
        return self.bench.lay(cloth, length, bolt, bound, self._proof(bound, length, steps, kept))

    def _proof(self, bound: int, length: int, steps: int, kept: int) -> Proof:
        if bound == length:
            return Proof.LENGTH
        cloth = self.cloth
        held = (steps - 1) * cloth.step * kept // 1000 - cloth.squaring
        return Proof.STEP if held < bound else Proof.OPEN

    def _part(self, rect: Rect, *, must: bool) -> None:
        """Tear a part further, or make it a piece or an offcut; `must` ends at the length."""
        ways = [(ACROSS, rect.x0, rect.x1), (ALONG, rect.y0, rect.y1)]
        ways = [way for way in ways if way[2] - way[1] > 1]
        self.dice.shuffle(ways)
        if ways and self.parts < self.most and (self.parts == 1 or self.dice.random() < 0.8):
            direction, low, high = ways[0]
            self.parts += 1
            falls, stays = self.bench.tear(rect, direction, self.dice.randint(low + 1, high - 1))
            # The far part of a tear across, and both of a tear along, reach the length.
            order = [(falls, must and direction is ALONG and self.dice.random() < 0.5)]
            order.append((stays, must and not order[0][1]))
            self.dice.shuffle(order)
            for part, bound in order:
                self._part(part, must=bound)
        elif must or self.dice.random() < 0.7:
            self._piece(rect)
        else:
            self.bench.leave(rect)

    def _piece(self, rect: Rect) -> None:
        """Take a part as a piece of whatever grain lets it lie as it does."""
        dice = self.dice
        turn = dice.choice((0, 90))
        length, breadth = rect.x1 - rect.x0, rect.y1 - rect.y0
        if turn == 90:
            length, breadth = breadth, length
        fixed = Grain.ALONG if turn == 0 else Grain.ACROSS
        grain, up = dice.choice((fixed, Grain.EITHER)), dice.choice(("length", "breadth"))
        if self.cloth.one_way and grain is Grain.EITHER:
            up = "length" if turn == 0 else "breadth"
        kind = (length, breadth, grain, up)
        letter = self.kinds.setdefault(kind, f"P{len(self.kinds)}")
        half = 0 if self.cloth.one_way else dice.choice((0, 180))
        self.spots.append((letter, rect, turn + half))

    def _name(self) -> None:
        """Number the copies, list the pieces, and tell each tear what it frees."""
        names = {}
        for letter, rect, turn in self.spots:
            names[rect] = self.bench.put(letter, rect.x0, rect.y0, turn)
        counts = dict.fromkeys(self.kinds.values(), 0)
        for letter, _, _ in self.spots:
            counts[letter] += 1
        for (length, breadth, grain, up), letter in self.kinds.items():
            self.bench.pieces.append(
                Piece(letter, "part", length, breadth, counts[letter], "main", grain, up)
            )
        for at, tear in enumerate(self.bench.tears):
            freed = [names[part] for part in (tear.falls, tear.stays) if part in names]
            self.bench.tears[at] = replace(tear, frees=tuple(freed))
