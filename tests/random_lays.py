"""Random lays with odd cloth, odd sizes and odd wishes, all of which they fulfil.

A length is torn at random by a small walker of its own; then flaws, matches and wishes are
read off where the pieces happen to lie, each as tight as it can be.
"""

from __future__ import annotations

import random
from dataclasses import replace
from decimal import Decimal

from lays import ACROSS, ALONG, Bench

from marker.cloth import Cloth, Repeat
from marker.geometry import Rect
from marker.lay import Lay, Mode, Placement, Proof, Tear
from marker.piece import AtSelvedge, Grain, Match, Piece, Side, Wise

KEPT = 16000
"""10 cm in units: less of an offcut, either way, isn't kept."""


def torn(seed: int, most: int = 12) -> Lay:
    """A random lay that can be torn, of up to `most` parts.

    Breadth or length of every part is torn in turn; some parts become pieces and the rest
    offcuts. Equal sizes become copies of one piece.
    """
    dice = random.Random(seed)
    one_way = dice.random() < 0.3
    # Units of a millimetre make some offcuts large enough to keep.
    unit = dice.choice((1, 160, 160))
    width, edge = dice.randint(40, 400), dice.choice((0, 0, 3))
    cloth = Cloth(
        "main", "cloth", width=width * unit, step=dice.choice((1, 7, 50)) * unit,
        selvedge=edge * unit, keep_selvedges=dice.random() < 0.3,
        squaring=dice.choice((0, 0, 5)) * unit, one_way=one_way,
        warp_shrinkage=Decimal(dice.choice(("0", "0", "3.5"))),
        weft_shrinkage=Decimal(dice.choice(("0", "0", "2.5"))),
        least_strip=dice.choice((0, 20)) * unit,
    )  # fmt: skip
    length = dice.randint(20, 900) * unit
    return asked(_Maker(dice, cloth, most).lay(length), dice)


def sheared(seed: int) -> Lay:
    """A random lay for shears, of the same parts as a torn one."""
    lay = torn(seed)
    cloth = replace(lay.cloth, tears=bool(seed % 2))
    cuts = replace(lay.goals[3], value=slow_cuts(lay), bound=0)
    goals = (*lay.goals[:3], cuts)
    return replace(lay, cloth=cloth, mode=Mode.SHEARS, tears=(), goals=goals)


def slow_cuts(lay: Lay) -> int:
    """How many straight cuts part the pieces: edges in one line that meet are taken as one."""
    edges = {((0, 0), (lay.bolt.y0, lay.bolt.y1))} if lay.bolt.x0 < 0 else set()
    bolt = lay.bolt
    for spot in lay.placements:
        rect = spot.rect(lay.piece(spot.letter))
        edges |= {((0, x), (rect.y0, rect.y1)) for x in (rect.x0, rect.x1)}
        edges |= {((1, y), (rect.x0, rect.x1)) for y in (rect.y0, rect.y1)}
    edges -= {edge for edge in edges if edge[0] in {(0, bolt.x0), (0, bolt.x1)}}
    edges -= {edge for edge in edges if edge[0] in {(1, bolt.y0), (1, bolt.y1)}}
    groups: list[set[tuple[tuple[int, int], tuple[int, int]]]] = []
    for line, (low, high) in edges:
        met = [
            group
            for group in groups
            if any(other == line and lo <= high and low <= hi for other, (lo, hi) in group)
        ]
        groups = [group for group in groups if group not in met]
        groups.append({(line, (low, high))}.union(*met))
    return len(groups)


def asked(lay: Lay, dice: random.Random) -> Lay:
    """The lay with flaws, matches and wishes that it happens to fulfil."""
    cloth = lay.cloth
    left = [cut.rect for cut in lay.offcuts]
    flaws = tuple(dice.sample(left, dice.randint(0, min(2, len(left)))))
    if dice.random() < 0.5 and left:
        # A flaw that lies partly off the cloth, beside it.
        last = max(left)
        flaws += (replace(last, x0=max(last.x0, lay.length), x1=last.x1 + lay.length),)
        flaws = tuple(flaw for flaw in flaws if flaw.x0 < flaw.x1)
    repeat = Repeat(dice.choice((0, 1, 7, 64)), dice.choice((0, 1, 5, 48)))
    cloth = replace(cloth, flaws=flaws, repeat=repeat)
    pieces = []
    for piece in lay.pieces:
        spots = [spot for spot in lay.placements if spot.letter == piece.letter]
        wish = wished(cloth, piece, spots, dice) if dice.random() < 0.5 else ()
        match = matched(cloth, piece, spots, dice) if len(spots) == 1 else ()
        pieces.append(replace(piece, selvedges=wish, matches=match))
    return kept_clear(replace(lay, cloth=cloth, pieces=tuple(pieces)))


def kept_clear(lay: Lay) -> Lay:
    """The lay with its offcuts kept, and its remnant told, for what is clear of the flaws."""
    worths = [slow_worth(lay, cut.rect) for cut in lay.offcuts]
    offcuts = tuple(
        replace(cut, keep=worth > 0) for cut, worth in zip(lay.offcuts, worths, strict=True)
    )
    remnant = replace(lay.goals[2], value=max(worths, default=0))
    return replace(lay, offcuts=offcuts, goals=(*lay.goals[:2], remnant, lay.goals[3]))


def slow_worth(lay: Lay, rect: Rect) -> int:
    """Area of the largest usable part of an offcut with no flaw in it, of all that edges bound."""
    usable = lay.cloth.usable
    low, high = max(rect.y0, usable.y0), min(rect.y1, usable.y1)
    xs = sorted(
        {max(rect.x0, 0), rect.x1, *(x for flaw in lay.cloth.flaws for x in (flaw.x0, flaw.x1))}
    )
    ys = sorted({low, high, *(y for flaw in lay.cloth.flaws for y in (flaw.y0, flaw.y1))})
    found = [
        (x1 - x0) * (y1 - y0)
        for x0 in xs for x1 in xs for y0 in ys for y1 in ys
        if x1 - x0 >= KEPT and y1 - y0 >= KEPT
        and max(rect.x0, 0) <= x0 and x1 <= rect.x1 and low <= y0 and y1 <= high
        and not any(flaw.overlaps(Rect(x0, y0, x1, y1)) for flaw in lay.cloth.flaws)
    ]  # fmt: skip
    return max(found, default=0)


def wished(
    cloth: Cloth, piece: Piece, spots: list[Placement], dice: random.Random
) -> tuple[AtSelvedge, ...]:
    """A wish for an edge that runs along the cloth in every copy, as near as the furthest lies."""
    if len({spot.turn % 180 for spot in spots}) > 1:
        return ()
    along = spots[0].turn % 180 == 0
    edge = dice.choice((Side.LOW, Side.HIGH) if along else (Side.START, Side.END))
    low, high = cloth.usable.y0, cloth.usable.y1
    far = []
    for spot in spots:
        rect = spot.rect(piece)
        # The low edge lies below at no turn, the start at a quarter; a half turn changes both.
        below = (edge in (Side.LOW, Side.START)) == (spot.turn < 180)
        at = rect.y0 if below else rect.y1
        far.append(min(at - low, high - at))
    return (AtSelvedge(edge, max(far)),)


def matched(
    cloth: Cloth, piece: Piece, spots: list[Placement], dice: random.Random
) -> tuple[Match, ...]:
    """Matches of a lone copy: points of the frame that fall in place 3 of either repeat."""
    spot, found = spots[0], []
    for wise, repeat in (
        (Wise.LENGTHWISE, cloth.repeat.along),
        (Wise.CROSSWISE, cloth.repeat.across),
    ):
        if not repeat:
            found.append(Match("loose", wise, dice.randint(-9, 9), dice.randint(-9, 9)))
            continue
        # Both are tried a step at a time; the one that moves the point that way ends it.
        for u, v in [(n, 0) for n in range(repeat)] + [(0, n) for n in range(repeat)]:
            at = spot.to_cloth(piece, u, v)[0 if wise is Wise.LENGTHWISE else 1]
            if at % repeat == 3 % repeat:
                # Half a turn makes a set of its own: no two of a set may lie so.
                name = "set" if spot.turn < 180 else "turned set"
                found.append(Match(name, wise, u + repeat * dice.randint(-2, 2), v))
                break
    return tuple(found)


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
            self._leave(square)
        if end > length:
            rest, tail = self.bench.tear(rest, ACROSS, length)
            self._leave(tail)
        edge = 0 if cloth.keep_selvedges else cloth.selvedge
        if edge:
            near, rest = self.bench.tear(rest, ALONG, edge)
            rest, far = self.bench.tear(rest, ALONG, across - edge)
            self._leave(near, far)
        self._part(rest, must=True)
        self._name()
        bound = self.dice.randint(1, length)
        bought = steps * cloth.step
        bound_steps = -(-(cloth.squaring + bound) * 1000 // (kept * cloth.step))
        proof = Proof.STEP if bound_steps == steps else Proof.OPEN
        buys = (bought, bound_steps * cloth.step)
        if self.dice.random() < 0.2:
            # The same cloth, in hand already: nothing is bought, and so no step can be saved.
            cloth = replace(cloth, length=bought)
            proof, buys = Proof.STEP, (0, 0)
        proof = Proof.LENGTH if bound == length else proof
        left = max((self._worth(cut.rect) for cut in self.bench.offcuts), default=0)
        return self.bench.lay(cloth, length, bolt, bound, proof, buys, left)

    def _worth(self, rect: Rect) -> int:
        """Area of what of an offcut is kept: behind the squared end, between the selvedges."""
        edge = 0 if self.cloth.keep_selvedges else self.cloth.selvedge
        across = self.cloth.width * (1000 - int(self.cloth.weft_shrinkage * 10)) // 1000
        along = rect.x1 - max(rect.x0, 0)
        broad = min(rect.y1, across - edge) - max(rect.y0, edge)
        return along * broad if along >= KEPT and broad >= KEPT else 0

    def _leave(self, *rects: Rect) -> None:
        for rect in rects:
            self.bench.leave(rect, keep=self._worth(rect) > 0)

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
            self._leave(rect)

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
        """Number the copies, list the pieces, and tell of each tear what it frees and how."""
        names = {}
        for letter, rect, turn in self.spots:
            names[rect] = self.bench.put(letter, rect.x0, rect.y0, turn)
        counts = dict.fromkeys(self.kinds.values(), 0)
        for letter, _, _ in self.spots:
            counts[letter] += 1
        # One piece at least may be torn, else the lay would be one for shears.
        spared = {letter for letter in counts if letter != "P0" and self.dice.random() < 0.2}
        for (length, breadth, grain, up), letter in self.kinds.items():
            self.bench.pieces.append(
                Piece(
                    letter, "part", length, breadth, counts[letter], "main", grain, up,
                    torn=letter not in spared,
                )
            )  # fmt: skip
        delicate = [rect for letter, rect, _ in self.spots if letter in spared]
        for at, tear in enumerate(self.bench.tears):
            freed = [names[part] for part in (tear.falls, tear.stays) if part in names]
            cut = self._cut(tear, delicate)
            self.bench.tears[at] = replace(tear, frees=tuple(freed), cut=cut)

    def _cut(self, tear: Tear, delicate: list[Rect]) -> bool:
        """Whether a step is cut with shears: for a narrow strip, or a piece not to be torn."""
        for part in (tear.falls, tear.stays):
            breadth = part.along if tear.direction is ACROSS else part.across
            edge = 0 if self.cloth.keep_selvedges else self.cloth.selvedge
            across = self.cloth.width * (1000 - int(self.cloth.weft_shrinkage * 10)) // 1000
            bare = part.x1 <= 0 or part.y1 <= edge or part.y0 >= across - edge
            if breadth < self.cloth.least_strip and not bare:
                return True
        return any(
            tear.in_hand.holds(rect)
            and tear.at in ((rect.x0, rect.x1) if tear.direction is ACROSS else (rect.y0, rect.y1))
            for rect in delicate
        )
