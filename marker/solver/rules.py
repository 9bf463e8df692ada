"""What real cloth and pieces ask, read into a question that the searches by rules can take up.

Every way in which a piece may lie is worked out once: its turn, the sizes it then takes along
and across, where it may start across the cloth (a wanted selvedge), and where its matched
points then fall. Lengths stay in true units; `Question.steps` are the whole numbers by which
each axis may be divided without losing a lay.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from math import gcd

from marker.cloth import Cloth
from marker.errors import BadInput, CannotLay
from marker.geometry import Rect
from marker.lay import Placement
from marker.piece import AtSelvedge, Piece, Side, Wise
from marker.solver.problem import shapes_of
from marker.units import Rounding, System, format_length

Span = tuple[int, int]
Points = tuple[tuple[int, int], ...]
"""(set, offset): the piece's corner plus the offset falls in the set's place of the repeat."""


@dataclass(frozen=True)
class Way:
    """A way to lie: `a` along, `b` across, its low side starting within `ys` (cloth units)."""

    turn: int
    a: int
    b: int
    ys: tuple[Span, ...]
    along: Points = ()
    across: Points = ()


@dataclass(frozen=True)
class Kind:
    """Pieces of which nothing asks a difference: their ways, and the copies that lie so."""

    ways: tuple[Way, ...]
    copies: tuple[tuple[str, int], ...]

    @property
    def area(self) -> int:
        """Area of one copy."""
        return self.ways[0].a * self.ways[0].b


@dataclass(frozen=True)
class Spot:
    """One copy of a kind on the cloth, its low corner at (x, y), in its way number `way`."""

    kind: int
    way: int
    rect: Rect


@dataclass(frozen=True)
class Question:
    """Kinds to lay on a cloth, no longer than `most` where that is above nought."""

    cloth: Cloth
    kinds: tuple[Kind, ...]
    most: int
    sets: tuple[tuple[str, Wise], ...]

    @property
    def count(self) -> int:
        """Number of copies in all."""
        return sum(len(kind.copies) for kind in self.kinds)

    @property
    def area(self) -> int:
        """Area of all copies."""
        return sum(kind.area * len(kind.copies) for kind in self.kinds)

    @cached_property
    def flaws(self) -> tuple[Rect, ...]:
        """The flaws as far as they lie on usable cloth behind the squared end."""
        low, high = self.cloth.usable.y0, self.cloth.usable.y1
        clipped = (
            Rect(max(flaw.x0, 0), max(flaw.y0, low), flaw.x1, min(flaw.y1, high))
            for flaw in self.cloth.flaws
        )
        return tuple(flaw for flaw in clipped if flaw.along > 0 and flaw.across > 0)

    @cached_property
    def steps(self) -> Span:
        """What divides each axis: of every lay there is one no longer whose starts it divides.

        Starts are bound by differences (sizes, repeats, offsets) and by least values; rounding
        all of them down to whole steps keeps every bound that is itself a whole step, and
        greatest values may be floored. So only the former enter.
        """
        ways = [way for kind in self.kinds for way in kind.ways]
        repeat, low = self.cloth.repeat, self.cloth.usable.y0
        along = [way.a for way in ways] + [flaw.x1 for flaw in self.flaws]
        across = [way.b for way in ways] + [flaw.y1 - low for flaw in self.flaws]
        across += [start - low for way in ways for start, _ in way.ys]
        for points, repeat_of, axis in (
            ([point for way in ways for point in way.along], repeat.along, along),
            ([point for way in ways for point in way.across], repeat.across, across),
        ):
            if points:
                axis += [repeat_of, *(offset for _, offset in points)]
        return gcd(*along), gcd(*across)

    def longest(self) -> int:
        """A length that surely holds the lay: every copy behind the other, in whole repeats."""
        total = sum(max(way.a for way in kind.ways) * len(kind.copies) for kind in self.kinds)
        slack = self.cloth.repeat.along * (self.count + len(self.flaws) + 1)
        return total + slack + sum(flaw.along for flaw in self.flaws) + max(
            (flaw.x1 for flaw in self.flaws), default=0
        )  # fmt: skip

    def placements(self, spots: Sequence[Spot]) -> tuple[Placement, ...]:
        """Name the copies: the first along the cloth is the first of its kind."""
        waiting = [list(kind.copies) for kind in self.kinds]
        named = []
        for spot in sorted(spots, key=lambda spot: (spot.rect.x0, spot.rect.y0)):
            letter, copy = waiting[spot.kind].pop(0)
            way = self.kinds[spot.kind].ways[spot.way]
            named.append(Placement(letter, copy, spot.rect.x0, spot.rect.y0, way.turn))
        return tuple(named)

    def holds(self, spots: Sequence[Spot]) -> bool:
        """Whether a lay keeps every rule: all copies, apart, on sound cloth, matched."""
        counts = Counter(spot.kind for spot in spots)
        if any(counts[at] != len(kind.copies) for at, kind in enumerate(self.kinds)):
            return False
        phases: dict[tuple[int, int], int] = {}
        return all(self._sound(spot, phases) for spot in spots) and not any(
            one.rect.overlaps(two.rect) for at, one in enumerate(spots) for two in spots[:at]
        )

    def _sound(self, spot: Spot, phases: dict[tuple[int, int], int]) -> bool:
        way, rect = self.kinds[spot.kind].ways[spot.way], spot.rect
        repeat = self.cloth.repeat
        falls = [((0, name), (rect.x0 + at) % repeat.along) for name, at in way.along]
        falls += [((1, name), (rect.y0 + at) % repeat.across) for name, at in way.across]
        return (
            (rect.along, rect.across) == (way.a, way.b)
            and rect.x0 >= 0
            and (not self.most or rect.x1 <= self.most)
            and any(low <= rect.y0 <= high for low, high in way.ys)
            and not any(rect.overlaps(flaw) for flaw in self.flaws)
            and all(phases.setdefault(key, value) == value for key, value in falls)
        )


def read(cloth: Cloth, pieces: Sequence[Piece]) -> Question:
    """The question that these pieces ask of a cloth.

    Raises `BadInput` where there is nothing to lay, and `CannotLay` with a remedy where a
    piece can't lie on the cloth as it must.
    """
    if not pieces:
        raise BadInput(f"cloth {cloth.key!r}: there is no piece to lay; give at least one")
    sets = _sets(cloth, pieces)
    groups: dict[tuple[Way, ...], list[tuple[str, int]]] = {}
    for piece in pieces:
        copies = [(piece.letter, copy) for copy in range(1, piece.count + 1)]
        groups.setdefault(_ways(cloth, piece, sets), []).extend(copies)
    kinds = [Kind(ways, tuple(copies)) for ways, copies in groups.items()]
    kinds.sort(key=lambda kind: (-kind.area, kind.copies))
    most = cloth.longest_lay(cloth.length) if cloth.length else 0
    question = Question(cloth, tuple(kinds), most, sets)
    _short(question)
    return question


def asks(cloth: Cloth, pieces: Sequence[Piece]) -> bool:
    """Whether anything is asked that a plain lay of rectangles doesn't keep by itself."""
    return bool(
        cloth.flaws
        or cloth.length
        or any(piece.selvedges for piece in pieces)
        or _sets(cloth, pieces)
    )


def _sets(cloth: Cloth, pieces: Sequence[Piece]) -> tuple[tuple[str, Wise], ...]:
    """The matched sets that bind anything: the cloth has the repeat, and two points share it."""
    repeats = {Wise.LENGTHWISE: cloth.repeat.along, Wise.CROSSWISE: cloth.repeat.across}
    points: Counter[tuple[str, Wise]] = Counter()
    for piece in pieces:
        for match in piece.matches:
            points[match.name, match.wise] += piece.count
    return tuple(key for key, times in points.items() if times > 1 and repeats[key[1]])


def _ways(cloth: Cloth, piece: Piece, sets: Sequence[tuple[str, Wise]]) -> tuple[Way, ...]:
    """All ways in which the piece may lie that differ in what they ask of their place."""
    shapes_of(piece, cloth)  # says what is too wide, and what helps
    turns = piece.turns(cloth.one_way)
    matched = any((match.name, match.wise) in sets for match in piece.matches)
    # Half a turn would let the print of a matched piece run the other way than its mates'.
    if not cloth.one_way and not matched:
        turns = (*turns, *(turn + 180 for turn in turns))
    found: dict[Way, Way] = {}
    for turn in turns:
        for way in _way(cloth, piece, turn, sets):
            found.setdefault(replace(way, turn=0), way)
    if not found:
        raise CannotLay(_no_selvedge(cloth, piece))
    return tuple(found.values())


def _way(cloth: Cloth, piece: Piece, turn: int, sets: Sequence[tuple[str, Wise]]) -> Iterator[Way]:
    """The piece in one turn, if its wanted edges can then lie at the selvedges."""
    placed = Placement(piece.letter, 1, 0, 0, turn)
    rect = placed.rect(piece)
    low, high = cloth.usable.y0, cloth.usable.y1 - rect.across
    if high < low:
        return
    spans: list[Span] = [(low, high)]
    for wish in piece.selvedges:
        spans = _meet(spans, _starts(cloth, piece, rect.across, turn, wish))
    points: dict[Wise, list[tuple[int, int]]] = {Wise.LENGTHWISE: [], Wise.CROSSWISE: []}
    for match in piece.matches:
        if (match.name, match.wise) in sets:
            x, y = placed.to_cloth(piece, match.u, match.v)
            lengthwise = match.wise is Wise.LENGTHWISE
            repeat = cloth.repeat.along if lengthwise else cloth.repeat.across
            offset = (x if lengthwise else y) % repeat
            points[match.wise].append((sets.index((match.name, match.wise)), offset))
    if spans:
        along, across = (tuple(sorted(set(found))) for found in points.values())
        yield Way(turn, rect.along, rect.across, tuple(spans), along, across)


def _starts(cloth: Cloth, piece: Piece, across: int, turn: int, wish: AtSelvedge) -> list[Span]:
    """Where the low side may start so that the wanted edge lies near a selvedge."""
    low, high = cloth.usable.y0, cloth.usable.y1
    ends = {Side.START: (0, 0), Side.END: (piece.length, piece.length)}
    sides = {Side.LOW: (0, 0), Side.HIGH: (piece.breadth, piece.breadth)}
    wanted = (Side.LOW, Side.HIGH) if wish.edge is Side.EITHER_SIDE else (wish.edge,)
    placed = Placement(piece.letter, 1, 0, 0, turn)
    spans: list[Span] = []
    for edge in wanted:
        if edge in sides and turn % 180 == 0:
            at = placed.to_cloth(piece, 0, sides[edge][0])[1]
        elif edge in ends and turn % 180 == 90:
            at = placed.to_cloth(piece, ends[edge][0], 0)[1]
        else:
            continue  # in this turn the edge runs across the cloth
        spans.append((low - at, low + wish.within - at))
        spans.append((high - wish.within - at, high - at))
    return _meet(_joined(spans), [(low, high - across)])


def _joined(spans: Sequence[Span]) -> list[Span]:
    """Spans in order, joined where they touch or overlap."""
    joined: list[Span] = []
    for low, high in sorted(spans):
        if joined and low <= joined[-1][1] + 1:
            joined[-1] = (joined[-1][0], max(high, joined[-1][1]))
        else:
            joined.append((low, high))
    return joined


def _meet(spans: Sequence[Span], others: Sequence[Span]) -> list[Span]:
    """What lies in both."""
    both = [(max(a, c), min(b, d)) for a, b in spans for c, d in others]
    return _joined([(low, high) for low, high in both if low <= high])


def _no_selvedge(cloth: Cloth, piece: Piece) -> str:
    edges = " and ".join(wish.edge.value for wish in piece.selvedges)
    why = (
        f"piece {piece.letter} ({piece.name}) wants a selvedge at its {edges}, and on cloth "
        f"{cloth.key!r} it can't lie so"
    )
    if cloth.one_way:
        return f"{why} with its up along the warp; ask for another edge, or for none"
    return f"{why}; let it turn, give a greater distance from the selvedge, or ask for none"


def _short(question: Question) -> None:
    """Say so where a remnant is plainly too short. Raises `CannotLay`."""
    cloth, most = question.cloth, question.most
    if not most:
        return
    tallest = max(min(way.a for way in kind.ways) for kind in question.kinds)
    least = max(tallest, -(-question.area // cloth.usable.across))
    if least > most:
        raise CannotLay(too_short(cloth, least))


def too_short(cloth: Cloth, least: int) -> str:
    """That a remnant does not hold its pieces, and how much would at the least be needed."""
    system = System.IN if cloth.step % 127 == 0 else System.CM
    need = cloth.need(least)
    return (
        f"the remnant {cloth.key!r} is {format_length(cloth.length, system)} long and its pieces "
        f"take at least {format_length(need, system, Rounding.UP)}; take some of them from "
        "another cloth, or make them smaller"
    )
