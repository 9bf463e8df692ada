"""Lays made by hand, for tests of what is drawn and told; nothing here solves anything."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal
from itertools import pairwise

from marker.cloth import Cloth, Price
from marker.geometry import Rect
from marker.lay import (
    Aim,
    Direction,
    Goal,
    Lay,
    Offcut,
    Part,
    Placement,
    leaves,
    prove,
    tears,
)
from marker.piece import Edges, Grain, Piece
from marker.record import Garment, Notion, Record, TurnDown
from marker.units import CM, INCH, MM, YARD, System, parse

Row = tuple[str, int, int]
"""Letter, turn, and how many stand one after another along the bolt."""
Drop = tuple[int, Sequence[Row]]

KEPT = 10 * CM


def lay_of(cloth: Cloth, pieces: Sequence[Piece], tree: Part, length: int, bound: int) -> Lay:
    """Make a lay of a cut tree."""
    ends = leaves(tree)
    left = [part.rect for part in ends if part.placed is None]
    lay = Lay(
        cloth=cloth,
        pieces=tuple(pieces),
        length=length,
        bolt=tree.rect,
        placements=tuple(part.placed for part in ends if part.placed),
        tears=tears(tree),
        offcuts=tuple(Offcut(rect, keep=useful(cloth, rect) > 0) for rect in left),
        bound=bound,
        bound_by="the heights of what must lie one after another",
        proof=prove(cloth, length, bound),
    )
    return replace(lay, goals=goals_of(lay))


def useful(cloth: Cloth, rect: Rect) -> int:
    """The area of an offcut's usable cloth, where it is large enough to keep."""
    along = rect.x1 - max(rect.x0, 0)
    across = min(rect.y1, cloth.usable.y1) - max(rect.y0, cloth.usable.y0)
    return along * across if min(along, across) >= KEPT else 0


def goals_of(lay: Lay) -> tuple[Goal, ...]:
    """The goals of a lay to be torn, with bounds that nobody can doubt."""
    cloth, by = lay.cloth, lay.bound_by
    left = max((useful(cloth, cut.rect) for cut in lay.offcuts), default=0)
    return (
        Goal(Aim.BUY, cloth.buy(lay.length), cloth.buy(lay.bound), by),
        Goal(Aim.LENGTH, lay.length, lay.bound, by),
        Goal(Aim.REMNANT, left, lay.bolt.area, "the whole bolt"),
        Goal(Aim.TEARS, len(lay.tears), 0, "none at all"),
    )


def in_drops(cloth: Cloth, pieces: Sequence[Piece], drops: Sequence[Drop]) -> Lay:
    """Tear drops off the bolt, rows out of each drop, and pieces out of each row."""
    maker = Maker({piece.letter: piece for piece in pieces})
    length = sum(along for along, _ in drops)
    bolt = cloth.bolt(length)
    parts = [Part(Rect(bolt.x0, 0, 0, bolt.y1))] if bolt.x0 < 0 else []
    x = 0
    for along, rows in drops:
        parts.append(maker.drop(cloth, rows, x, x + along))
        x += along
    if x < bolt.x1:
        parts.append(Part(Rect(x, 0, bolt.x1, bolt.y1)))
    return lay_of(cloth, pieces, joined(Direction.ACROSS, parts), length, length)


class Maker:
    """Makes the parts of a cut tree, and counts the copies of each piece."""

    def __init__(self, pieces: dict[str, Piece]) -> None:
        self.pieces = pieces
        self.copies: Counter[str] = Counter()

    def leaf(self, letter: str, turn: int, x: int, y: int) -> Part:
        self.copies[letter] += 1
        placed = Placement(letter, self.copies[letter], x, y, turn)
        return Part(placed.rect(self.pieces[letter]), placed=placed)

    def row(self, kind: Row, x: int, y: int, end: int) -> Part:
        letter, turn, count = kind
        parts: list[Part] = []
        for _ in range(count):
            parts.append(self.leaf(letter, turn, parts[-1].rect.x1 if parts else x, y))
        last = parts[-1].rect
        if last.x1 < end:
            parts.append(Part(Rect(last.x1, y, end, last.y1)))
        return joined(Direction.ACROSS, parts)

    def drop(self, cloth: Cloth, rows: Sequence[Row], x: int, end: int) -> Part:
        y = cloth.usable.y0
        parts = [Part(Rect(x, 0, end, y))] if y else []
        for kind in rows:
            parts.append(self.row(kind, x, y, end))
            y = parts[-1].rect.y1
        if y < cloth.laid_width:
            parts.append(Part(Rect(x, y, end, cloth.laid_width)))
        return joined(Direction.ALONG, parts)


def joined(direction: Direction, parts: Sequence[Part]) -> Part:
    """The part that tears into these, or the one part itself."""
    if len(parts) == 1:
        return parts[0]
    low, high = parts[0].rect, parts[-1].rect
    return Part(Rect(low.x0, low.y0, high.x1, high.y1), direction, tuple(parts))


def skirt_cloth() -> Cloth:
    return Cloth(
        "main", "indigo sprig cotton", parse("114 cm"), parse("10 cm"), parse("1 cm"),
        squaring=parse("2.5 cm"), price=Price(Decimal("12.50"), "EUR"), grams=Decimal(145),
    )  # fmt: skip


def skirt() -> Lay:
    """Three panels of 108 cm and a band of 7.5 cm: 331.5 cm (common practice, no source)."""
    edges = Edges("waist", "hem", "seam", "seam")
    panel = Piece(
        "A", "panel", parse("108 cm"), parse("112 cm"), 3, "main",
        edges=edges, garment="skirt", wearer="Ilse",
    )  # fmt: skip
    band = Piece(
        "B", "band", parse("78 cm"), parse("7.5 cm"), 1, "main", Grain.ACROSS, "breadth",
        garment="skirt", wearer="Ilse",
    )  # fmt: skip
    drops: list[Drop] = [(parse("108 cm"), [("A", 0, 1)])] * 3
    return in_drops(skirt_cloth(), (panel, band), [*drops, (parse("7.5 cm"), [("B", 90, 1)])])


def facing() -> Lay:
    """Three facings, two rows of pockets, and a tie, on calico measured in inches."""
    cloth = Cloth("facing", "unbleached calico", 45 * INCH, YARD // 8, INCH // 2, squaring=INCH)
    pieces = (
        Piece("F", "hem facing", parse("43 1/2 in"), 7 * INCH, 3, "facing", Grain.ACROSS,
              "breadth", garment="skirt", wearer="Ilse"),
        Piece("G", "pocket", parse("6 1/2 in"), 7 * INCH, 12, "facing",
              garment="skirt", wearer="Ilse"),
        Piece("T", "tie", 3 * INCH, 40 * INCH, 1, "facing", garment="skirt", wearer="Ilse"),
    )  # fmt: skip
    facings: list[Drop] = [(7 * INCH, [("F", 90, 1)])] * 3
    return in_drops(
        cloth, pieces, [*facings, (13 * INCH, [("G", 0, 2)] * 6), (3 * INCH, [("T", 0, 1)])]
    )


def squares() -> Lay:
    """225 squares of 4 in from cloth 30 in wide: 132 in (Dr. Math archive, 2003)."""
    piece = Piece("S", "square", 4 * INCH, 4 * INCH, 225, "squares")
    cloth = Cloth("squares", "ticking", 30 * INCH, INCH)
    rows: list[Drop] = [(4 * INCH, [("S", 0, 1)] * 7)] * 32
    return in_drops(cloth, (piece,), [*rows, (4 * INCH, [("S", 0, 1)])])


def torn_at_random(seed: int, grain: int = MM) -> Lay:
    """A cloth torn at random into a tree of several stages; all sizes in whole `grain`."""
    chance = random.Random(seed)
    squaring = chance.choice([0, 25])
    selvedge = chance.choice([0, 10])
    length = chance.randint(400, 1500)
    cloth = Cloth("main", "cloth", 900 * grain, grain, selvedge * grain, squaring=squaring * grain)
    letters: dict[tuple[int, int], str] = {}
    copies: Counter[str] = Counter()

    def leaf(rect: Rect, usable: bool) -> Part:
        if not usable or chance.random() < 0.2:
            return Part(rect)
        letter = letters.setdefault((rect.along, rect.across), f"P{len(letters)}")
        copies[letter] += 1
        return Part(rect, placed=Placement(letter, copies[letter], rect.x0, rect.y0, 0))

    def cut(rect: Rect, direction: Direction, depth: int) -> Part:
        across = direction is Direction.ACROSS
        low, high = (rect.x0, rect.x1) if across else (rect.y0, rect.y1)
        count = chance.randint(1, 5)
        places = [low + (high - low) * i // count // grain * grain for i in range(count)]
        if not across and selvedge and rect.across == 900 * grain:
            places = [low, selvedge * grain, 890 * grain]
        places = sorted({*places, high})
        if len(places) == 2 or depth == 0:
            return leaf(rect, usable=bool(depth < 2 or not selvedge))
        other = Direction.ALONG if across else Direction.ACROSS
        parts = []
        for start, end in pairwise(places):
            part = (
                Rect(start, rect.y0, end, rect.y1) if across else Rect(rect.x0, start, rect.x1, end)
            )
            firm = not across and selvedge and part.across == selvedge * grain
            parts.append(Part(part) if firm else cut(part, other, depth - 1))
        return joined(direction, parts)

    body = cut(Rect(0, 0, length * grain, 900 * grain), Direction.ACROSS, 3)
    if squaring:
        square = Part(Rect(-squaring * grain, 0, 0, 900 * grain))
        rest = body.parts if body.direction is Direction.ACROSS else (body,)
        body = joined(Direction.ACROSS, (square, *rest))
    pieces = [
        Piece(letter, "piece", along, across, copies[letter], "main")
        for (along, across), letter in letters.items()
    ]
    return lay_of(cloth, pieces, body, length * grain, length * grain)


def record(units: System = System.CM, title: str = "Harvest dance, first skirt") -> Record:
    """A skirt and its facing, planned."""
    garment = Garment(
        "skirt", "dance skirt", "Ilse", 3, parse("108 cm"), parse("330 cm"), parse("76 cm"),
        parse("26 cm"),
        (
            TurnDown("front", parse("98 cm"), parse("8 cm")),
            TurnDown("side", parse("99 cm"), parse("7 cm")),
            TurnDown("back", parse("100 cm"), parse("6 cm")),
        ),
        (Notion("hem binding", parse("332 cm")), Notion("tape for ties", parse("180 cm"))),
        ("Under 3.6 m round the hem the skirt stays light.",),
    )  # fmt: skip
    choice = "The band is torn across the cloth after the panels."
    return Record(title, units, (garment,), (skirt(), facing()), (choice,))
