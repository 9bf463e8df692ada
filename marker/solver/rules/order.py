"""The parts of a lay put one behind another in a better order, each where rules first let it lie.

Between matched parts a repeat leaves gaps, and flaws leave stretches of sound cloth: what goes
well behind what, and into which gap, hangs on the order alone once the parts are as they are.
So the order is searched, by moves of one or two parts at a time, and every part is set as near
the free end as the parts set before it, the flaws and its place of the repeat allow.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from random import Random
from time import monotonic

from marker.geometry import Rect
from marker.solver.rules.question import Question, Spot
from marker.solver.separate import knots

NEVER = 1 << 60
"""A start beyond any cloth: the part can't lie in two places of the repeat."""


@dataclass(frozen=True)
class Part:
    """Spots that keep their places among themselves, told from the part's own near corner."""

    spots: tuple[Spot, ...]
    y0: int
    y1: int
    along: int
    points: tuple[tuple[int, int], ...]
    """(set, offset) of the matched points along; one offset a set."""
    barred: tuple[tuple[int, int], ...]
    """Open spans of starts at which a piece of it would lie on a flaw."""


def part(question: Question, spots: Sequence[Spot]) -> Part:
    """A part of spots that agree among themselves (see `Question.agrees`)."""
    x0 = min(spot.rect.x0 for spot in spots)
    repeat = question.cloth.repeat.along
    points = {
        (name, (spot.rect.x0 - x0 + at) % repeat)
        for spot in spots
        for name, at in question.kinds[spot.kind].ways[spot.way].along
    }
    barred = {
        (flaw.x0 - spot.rect.x1 + x0, flaw.x1 - spot.rect.x0 + x0)
        for spot in spots
        for flaw in question.flaws
        if spot.rect.y0 < flaw.y1 and flaw.y0 < spot.rect.y1
    }
    return Part(
        tuple(moved(spot, -x0) for spot in spots),
        min(spot.rect.y0 for spot in spots),
        max(spot.rect.y1 for spot in spots),
        max(spot.rect.x1 for spot in spots) - x0,
        tuple(sorted(points)),
        tuple(sorted(barred)),
    )


def moved(spot: Spot, shift: int) -> Spot:
    """A spot moved along the cloth."""
    rect = spot.rect
    return Spot(spot.kind, spot.way, Rect(rect.x0 + shift, rect.y0, rect.x1 + shift, rect.y1))


@dataclass
class Row:
    """Parts set in an order, and how far they reach."""

    question: Question
    starts: list[int]
    length: int = 0

    @classmethod
    def of(cls, question: Question, parts: Sequence[Part], cap: int) -> Row | None:
        """Set parts one by one; None as soon as they reach further than `cap`."""
        row, fixed, set_parts = cls(question, []), dict[int, int](), list[tuple[int, Part]]()
        for each in parts:
            start = _first(question, each, set_parts, fixed)
            row.length = max(row.length, start + each.along)
            if row.length > cap:
                return None
            row.starts.append(start)
            set_parts.append((start, each))
            for name, offset in each.points:
                fixed.setdefault(name, (start + offset) % question.cloth.repeat.along)
        return row


def _first(
    question: Question, each: Part, set_parts: Sequence[tuple[int, Part]], fixed: dict[int, int]
) -> int:
    """The first start of a part that is clear of flaws and of the parts already set."""
    repeat = question.cloth.repeat.along
    asked = {(fixed[name] - at) % repeat for name, at in each.points if name in fixed}
    if len(asked) > 1:
        return NEVER
    residue = asked.pop() if asked else None
    # Starts between these are taken: by a flaw, or by a part that lies in the way.
    taken = sorted(
        (
            *each.barred,
            *(
                (start - each.along, start + other.along)
                for start, other in set_parts
                if other.y0 < each.y1 and each.y0 < other.y1
            ),
        )
    )
    at = residue or 0
    for low, high in taken:
        if low < at < high:
            at = high if residue is None else high + (residue - high) % repeat
    return at


def reorder(
    question: Question,
    parts: Sequence[Part],
    random: Random,
    rounds: int,
    until: float | None,
    torn: bool,
) -> list[Spot] | None:
    """The spots of the shortest row met, or None where parts disagree in all orders tried.

    With `torn` only rows that can be torn apart are taken.
    """
    order, most = list(parts), question.most or question.longest()
    row = Row.of(question, order, most)
    best = _torn_spots(row, order, torn)
    shortest = most + 1 if best is None or row is None else row.length
    for _ in range(rounds):
        if until is not None and monotonic() > until:
            break
        tried = _changed(order, random) if row else random.sample(order, len(order))
        found = Row.of(question, tried, row.length if row else most)
        if found is None:
            continue
        # A row that can't be torn may still lead on to one that can.
        order, row = tried, found
        if found.length < shortest or (found.length == shortest and random.random() < 0.2):
            spots = _torn_spots(found, tried, torn)
            if spots is not None:
                best, shortest = spots, found.length
    return best


def _torn_spots(row: Row | None, parts: Sequence[Part], torn: bool) -> list[Spot] | None:
    """The spots of a row; None where it must be torn and can't be."""
    if row is None:
        return None
    spots = _spots(row, parts)
    return None if torn and knots([spot.rect for spot in spots]) else spots


def _spots(row: Row, parts: Sequence[Part]) -> list[Spot]:
    """The spots of parts set in a row."""
    return [
        moved(spot, start)
        for start, each in zip(row.starts, parts, strict=True)
        for spot in each.spots
    ]


def _changed(parts: Sequence[Part], random: Random) -> list[Part]:
    """The order with one part moved, two exchanged, or a stretch turned about."""
    tried = list(parts)
    one, two = random.randrange(len(parts)), random.randrange(len(parts))
    choice = random.random()
    if choice < 0.5:
        tried.insert(two, tried.pop(one))
    elif choice < 0.8:
        tried[one], tried[two] = tried[two], tried[one]
    else:
        low, high = min(one, two), max(one, two)
        tried[low : high + 1] = reversed(tried[low : high + 1])
    return tried
