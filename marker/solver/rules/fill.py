"""A quick lay that keeps every rule and can be torn: pieces are set one by one into free cloth.

Free cloth is kept as rectangles that edge-to-edge cuts have parted, so whatever is set can be
torn out again: a piece set into one parts it into the cloth before and behind, below and above.
So gaps that a repeat or a flaw leaves stay free for smaller pieces.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from random import Random
from time import monotonic

from marker.geometry import Rect
from marker.solver.rules.question import Question, Spot, Way

TRIES = 120


@dataclass
class Fill:
    """A lay under way: free cloth, what is set, and where the matched sets have come to lie."""

    question: Question
    random: Random
    most: int
    free: list[Rect] = field(default_factory=list)
    spots: list[Spot] = field(default_factory=list)
    phases: dict[tuple[int, int], int] = field(default_factory=dict)
    length: int = 0

    def set_all(self, order: Sequence[int]) -> bool:
        """Set kinds in this order, one copy each time; False where one finds no place."""
        usable = self.question.cloth.usable
        self.free = [Rect(0, usable.y0, self.most, usable.y1)]
        return all(self._set(kind) for kind in order)

    def _set(self, kind: int) -> bool:
        """Set a copy where it lengthens the lay least, in the free cloth that fits it best."""
        places = [
            ((max(self.length, rect.x1), room.area if rect.x1 <= self.length else 0, rect.x1,
              self.random.random()), kind, number, rect, room)
            for number, way in enumerate(self.question.kinds[kind].ways)
            for room in self.free
            for rect in self._corner(way, room)
        ]  # fmt: skip
        if not places:
            return False
        _, _, number, rect, room = min(places, key=lambda place: place[0])
        way = self.question.kinds[kind].ways[number]
        repeat = self.question.cloth.repeat
        self.phases.update({(0, name): (rect.x0 + at) % repeat.along for name, at in way.along})
        self.phases.update({(1, name): (rect.y0 + at) % repeat.across for name, at in way.across})
        self.phases.update({(2, name): way.half for name in way.senses})
        self.spots.append(Spot(kind, number, rect))
        self.length = max(self.length, rect.x1)
        self.free.remove(room)
        self.free += self._parted(room, rect)
        return True

    def _corner(self, way: Way, room: Rect) -> Iterator[Rect]:
        """The first places along the room where the way may lie: at its near and its far side."""
        if way.a > room.along or way.b > room.across:
            return
        if any(self.phases.get((2, name), way.half) != way.half for name in way.senses):
            return
        flaws = [flaw for flaw in self.question.flaws if flaw.overlaps(room)]
        along, across = self.question.cloth.repeat.along, self.question.cloth.repeat.across
        starts = {
            self._next(low, way.along, 0, along) for low in (room.x0, *(flaw.x1 for flaw in flaws))
        }
        sides: set[int] = set()
        for low, high in way.ys:
            first, last = max(low, room.y0), min(high, room.y1 - way.b)
            for at in (first, *(flaw.y1 for flaw in flaws)):
                sides.add(self._next(max(at, first), way.across, 1, across))
            for at in (last, *(flaw.y0 - way.b for flaw in flaws)):
                sides.add(self._last(min(at, last), way.across, across))
        for x in sorted(starts):
            sound = [
                rect
                for y in sorted(sides)
                if x >= 0 and any(low <= y <= high for low, high in way.ys)
                for rect in (Rect(x, y, x + way.a, y + way.b),)
                if room.holds(rect) and not any(rect.overlaps(flaw) for flaw in flaws)
            ]
            if sound:
                yield sound[0]
                yield sound[-1]
                return

    def _next(self, low: int, points: Sequence[tuple[int, int]], axis: int, repeat: int) -> int:
        """The first start from `low` on that falls in the place of the repeat; -1 if none can."""
        residue = self._residue(points, axis, repeat)
        if residue is None:
            return low
        return -1 if residue < 0 else low + (residue - low) % repeat

    def _last(self, high: int, points: Sequence[tuple[int, int]], repeat: int) -> int:
        """The last start across up to `high`."""
        residue = self._residue(points, 1, repeat)
        if residue is None:
            return high
        return -1 if residue < 0 else high - (high - residue) % repeat

    def _residue(self, points: Sequence[tuple[int, int]], axis: int, repeat: int) -> int | None:
        """Where in the repeat the corner must fall: None where that is free, -1 if it can't."""
        asked = {
            (self.phases[axis, name] - at) % repeat
            for name, at in points
            if (axis, name) in self.phases
        }
        if not asked:
            return None
        return asked.pop() if len(asked) == 1 else -1

    def _parted(self, room: Rect, rect: Rect) -> list[Rect]:
        """The free cloth left of a room: parted across first, or along, as leaves more whole."""
        across = [
            Rect(room.x0, room.y0, rect.x0, room.y1), Rect(rect.x1, room.y0, room.x1, room.y1),
            Rect(rect.x0, room.y0, rect.x1, rect.y0), Rect(rect.x0, rect.y1, rect.x1, room.y1),
        ]  # fmt: skip
        along = [
            Rect(room.x0, room.y0, room.x1, rect.y0), Rect(room.x0, rect.y1, room.x1, room.y1),
            Rect(room.x0, rect.y0, rect.x0, rect.y1), Rect(rect.x1, rect.y0, room.x1, rect.y1),
        ]  # fmt: skip
        open_end = room.x1 == self.most
        larger = max(part.area for part in across) >= max(part.area for part in along)
        chosen = across if open_end or larger else along
        return [part for part in chosen if part.along > 0 and part.across > 0]


def fill(question: Question, random: Random, tries: int, until: float | None) -> list[Spot] | None:
    """The shortest of many quick lays, or None where none of them came out."""
    best: list[Spot] | None = None
    shortest = question.most or question.longest()
    for number in range(tries):
        if until is not None and number and monotonic() > until:
            break
        work = Fill(question, random, question.most or question.longest())
        if work.set_all(_order(question, random, number)) and (
            best is None or work.length < shortest
        ):
            best, shortest = work.spots, work.length
    return best


def _order(question: Question, random: Random, number: int) -> list[int]:
    """Kinds in the order to set them: large ones first, with more and more left to chance."""
    spread = 1 + number / 20
    by_breadth = number % 3 == 1

    def rank(kind: int) -> float:
        ways = question.kinds[kind].ways
        size = min(way.b if by_breadth else way.a for way in ways)
        measure = size if number % 3 < 2 else question.kinds[kind].area
        return float(measure) * random.uniform(1, spread if number else 1)

    if number % 2:
        ranks = {at: rank(at) for at in range(len(question.kinds))}
        order = [at for at, kind in enumerate(question.kinds) for _ in kind.copies]
        return sorted(order, key=lambda at: -ranks[at])
    order = [at for at, kind in enumerate(question.kinds) for _ in kind.copies]
    return [at for _, at in sorted(((rank(at), at) for at in order), key=lambda pair: -pair[0])]
