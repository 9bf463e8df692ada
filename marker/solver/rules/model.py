"""A question of rules as a constraint model, and its answers back as lays.

Parts of a lay that are to stay as they are enter as one rectangle each, that moves along the
cloth only, and whose starts keep its pieces off every flaw and in their places of the repeat.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations, product

from marker.geometry import Rect
from marker.solver.arrangement import Arrangement, Choice, Span
from marker.solver.model import arrangement
from marker.solver.rules.question import Question, Spot, Way
from marker.solver.separate import Knot

MOST_ALIKE = 300
"""A knot is forbidden to so many sets of equal copies at once; the rest when they turn up."""


@dataclass(frozen=True)
class Bound:
    """A knot as the model forbids it: numbers of copies, and the pairs that tie them."""

    members: tuple[int, ...]
    along: tuple[Span, ...]
    across: tuple[Span, ...]


@dataclass
class Posed:
    """A model of a question, copies in the order of their kinds, kept parts behind them."""

    question: Question
    made: Arrangement
    kinds: list[int]
    ways: list[tuple[int, ...]]
    """For each copy the numbers of its kind's ways that the model may choose from."""
    kept: Sequence[tuple[Spot, ...]]
    origin: Span
    """Where on the cloth the model's x and y begin, in units."""

    def spots(self, values: Sequence[int]) -> list[Spot]:
        """The lay told by the values of `made.asked()`; copies first, then the kept parts."""
        told = list(zip(values[0::3], values[1::3], values[2::3], strict=True))
        spots = []
        for kind, ways, (x, y, number) in zip(self.kinds, self.ways, told, strict=False):
            way = self.question.kinds[kind].ways[ways[number]]
            spots.append(Spot(kind, ways[number], self._rect(way, x, y)))
        along, _ = self.question.steps
        for part, (x, _, _) in zip(self.kept, told[len(self.kinds) :], strict=True):
            shift = x * along - box(part).x0
            spots += [moved(spot, shift) for spot in part]
        return spots

    def _rect(self, way: Way, x: int, y: int) -> Rect:
        along, across = self.question.steps
        left, low = x * along + self.origin[0], y * across + self.origin[1]
        return Rect(left, low, left + way.a, low + way.b)

    def hint(self, spots: Sequence[Spot]) -> None:
        """Start from a lay: the free copies, in `order`, and the kept parts where they are."""
        along, across = self.question.steps
        left, low = self.origin
        hints = {
            at: (
                (spot.rect.x0 - left) // along,
                (spot.rect.y0 - low) // across,
                ways.index(spot.way),
            )
            for at, (spot, ways) in enumerate(zip(spots, self.ways, strict=True))
            if spot.way in ways
        }
        for at, part in enumerate(self.kept, len(spots)):
            hints[at] = (box(part).x0 // along, (box(part).y0 - low) // across, 0)
        self.made.hint(hints)

    def forbid(self, bounds: Sequence[Bound]) -> None:
        """Let no knot that has turned up come again."""
        for bound in bounds:
            self.made.tearable(bound.members, bound.along, bound.across)


def pose(
    question: Question,
    kinds: Sequence[int],
    lengths: Span,
    kept: Sequence[tuple[Spot, ...]] = (),
    *,
    flat: bool = False,
    room: Rect | None = None,
) -> Posed:
    """The model of laying these kinds, one copy each time a kind is listed (in ascending order).

    `lengths` are the least and the greatest length allowed, in units; `flat` leaves out where
    pieces lie across the cloth (see `Arrangement.apart`). With a `room` all lies within it, and
    lengths count from its low end.
    """
    along, across = question.steps
    made, usable, repeat = arrangement(), question.cloth.usable, question.cloth.repeat
    low, most = -(-lengths[0] // along), lengths[1] // along
    at = room or Rect(0, usable.y0, lengths[1], usable.y1)
    flaws = [
        (max(flaw.x0 - at.x0, 0) // along, max(flaw.y0 - at.y0, 0) // across,
         -((at.x0 - flaw.x1) // along), min(-((at.y0 - flaw.y1) // across), at.across // across))
        for flaw in question.flaws
        if flaw.x1 > at.x0 and flaw.y0 < at.y1 and flaw.y1 > at.y0
    ]  # fmt: skip
    sheet = made.sheet(
        at.across // across,
        [(low, max(low, most))],
        (repeat.along // along, repeat.across // across),
        flaws,
    )
    posed = Posed(question, made, list(kinds), [], kept, (at.x0, at.y0))
    for kind in kinds:
        ways = question.kinds[kind].ways
        open_ways = {number: choice for number, way in enumerate(ways)
                     if (choice := _choice(question, way, most, at))}  # fmt: skip
        posed.ways.append(tuple(open_ways) or (0,))
        made.copy(kind, list(open_ways.values()) or [_never(question, ways[0])])
    for number, part in enumerate(kept):
        made.copy(-1 - number, [_part_choice(question, part, most)], kept=True)
    made.apart(flat=flat)
    made.model.minimize(sheet.length)
    return posed


def order(spots: Sequence[Spot]) -> list[Spot]:
    """Spots as the model numbers them: by kind, and equal copies by place."""
    return sorted(spots, key=lambda spot: (spot.kind, spot.rect))


def _choice(question: Question, way: Way, most: int, room: Rect) -> Choice | None:
    """A way within a room; None where it doesn't fit."""
    along, across = question.steps
    a, last = way.a // along, room.y1 - way.b
    ys = tuple(
        ((max(low, room.y0) - room.y0) // across, (min(high, last) - room.y0) // across)
        for low, high in way.ys
        if low <= last and high >= room.y0
    )
    if a > most or not ys:
        return None
    return Choice(
        a,
        way.b // across,
        ((0, most - a),),
        ys,
        tuple((name, offset // along) for name, offset in way.along),
        tuple((name, offset // across) for name, offset in way.across),
        tuple((name, way.half) for name in way.senses),
    )


def _never(question: Question, way: Way) -> Choice:
    """A way that no length allows, for a copy that fits in none: the model has no answer."""
    along, across = question.steps
    return Choice(way.a // along, way.b // across, ((0, 0),), ((0, 0),))


def tie(posed: Posed, spots: Sequence[Spot]) -> None:
    """Hold matched sets in the place of the repeat, and the way round, that these spots have."""
    question, made = posed.question, posed.made
    repeats, steps = (question.cloth.repeat.along, question.cloth.repeat.across), question.steps
    for spot in spots:
        way = question.kinds[spot.kind].ways[spot.way]
        starts = (spot.rect.x0 - posed.origin[0], spot.rect.y0 - posed.origin[1])
        falls = {(2, name): way.half for name in way.senses}
        for axis, points in enumerate((way.along, way.across)):
            for name, at in points:
                falls[axis, name] = (starts[axis] + at) % repeats[axis] // steps[axis]
        for (axis, name), fall in falls.items():
            if (0, axis, name) in made.phases:
                made.model.add(made.phases[0, axis, name] == fall)


def box(part: Sequence[Spot]) -> Rect:
    """The rectangle about some spots."""
    return Rect(
        min(spot.rect.x0 for spot in part),
        min(spot.rect.y0 for spot in part),
        max(spot.rect.x1 for spot in part),
        max(spot.rect.y1 for spot in part),
    )


def moved(spot: Spot, shift: int) -> Spot:
    """A spot moved along the cloth."""
    rect = spot.rect
    moved_rect = Rect(rect.x0 + shift, rect.y0, rect.x1 + shift, rect.y1)
    return Spot(spot.kind, spot.way, moved_rect)


def _part_choice(question: Question, part: Sequence[Spot], most: int) -> Choice:
    """A part of a lay as one rectangle that keeps its place across the cloth."""
    along, across = question.steps
    rect, low = box(part), question.cloth.usable.y0
    repeat = question.cloth.repeat
    turns, sides, senses = set(), set(), set()
    for spot in part:
        way = question.kinds[spot.kind].ways[spot.way]
        for name, at in way.along:
            turns.add((name, (spot.rect.x0 - rect.x0 + at) % repeat.along // along))
        for name, at in way.across:
            sides.add((name, (spot.rect.y0 - rect.y0 + at) % repeat.across // across))
        senses |= {(name, way.half) for name in way.senses}
    last = most - rect.along // along
    side = (rect.y0 - low) // across
    return Choice(
        rect.along // along,
        rect.across // across,
        tuple(_clear_starts(question, part, last)) or ((0, max(last, 0)),),
        ((side, side),),
        tuple(sorted(turns)),
        tuple(sorted(sides)),
        tuple(sorted(senses)),
    )


def _clear_starts(question: Question, part: Sequence[Spot], last: int) -> list[Span]:
    """Where a part may start, in steps, so that none of its pieces touches a flaw."""
    along, first = question.steps[0], box(part).x0
    taken = sorted(
        (
            (flaw.x0 - spot.rect.x1 + first) // along + 1,
            -((spot.rect.x0 - first - flaw.x1) // along),
        )
        for flaw in question.flaws
        for spot in part
        if spot.rect.y0 < flaw.y1 and flaw.y0 < spot.rect.y1
    )
    spans, at = [], 0
    for low, high in taken:
        if at < low:
            spans.append((at, min(low - 1, last)))
        at = max(at, high)
    spans.append((at, last))
    return [(low, high) for low, high in spans if low <= high]


def alike(kinds: Sequence[int], knot: Knot) -> list[Bound]:
    """A knot told of every set of equal copies that could be tied so.

    Equal copies are numbered by their place, so that only sets in the same order count.
    """
    numbers: dict[int, list[int]] = {}
    for at, kind in enumerate(kinds):
        numbers.setdefault(kind, []).append(at)
    groups: dict[int, list[int]] = {}
    for member in sorted(knot.members):
        groups.setdefault(kinds[member], []).append(member)
    choices = [combinations(numbers[kind], len(group)) for kind, group in groups.items()]
    members = [member for group in groups.values() for member in group]
    bounds = [renumbered(knot, dict(zip(members, members, strict=True)))]
    for count, chosen in enumerate(product(*choices)):
        if count == MOST_ALIKE:
            break
        other = [number for group in chosen for number in group]
        if other != members:
            bounds.append(renumbered(knot, dict(zip(members, other, strict=True))))
    return bounds


def renumbered(knot: Knot, to: dict[int, int]) -> Bound:
    """A knot told by other numbers."""
    return Bound(
        tuple(to[member] for member in knot.members),
        tuple((to[one], to[two]) for one, two in knot.along),
        tuple((to[one], to[two]) for one, two in knot.across),
    )
