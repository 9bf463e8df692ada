"""Orders of pieces bettered by annealing: of all pieces, or of a few bands of a long lay."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field
from random import Random
from threading import Event

import numpy as np

from marker.solver.problem import Ints, Kind, Problem
from marker.solver.shears import skyline
from marker.solver.shears.strip import Sizes, Spots, bands, joined, renamed
from marker.solver.spots import Spot, reach

WINDOWS = (2, skyline.LOWEST, 1000, 1, 4)
"""The rules that are taken in turn; no single one is best for all cases."""
HEATS = (0.003, 0.01, 0.03)
COOLING = 20
"""Warmth to begin with, in parts of the length, and by how much it falls in a chain."""
SLICE = 400_000
"""Pieces laid between two looks at whether the work is still wanted."""
FIRST, GROWTH, LONGEST = 4_000, 1.15, 150_000
"""Changes of the first chain, of each in parts of the one before, and of the longest."""
MOST_PIECES, MOST_BANDS = 48, 6
"""So much of a long lay is laid anew at a time."""


@dataclass(frozen=True)
class Chain:
    """An annealing of one order, to be run anywhere: it holds nothing that others use."""

    problem: Problem
    order: Ints
    window: int
    warmth: float
    changes: int
    goal: int
    seed: int

    def run(self, stop: Event) -> Spots:
        """The best lay met, or met so far when `stop` is set."""
        sizes = Sizes.of(self.problem)
        order, best = self.order.copy(), self.order.copy()
        heat = np.array([self.warmth, self.warmth / COOLING])
        step = max(1, SLICE // len(order))
        for begin in range(0, self.changes, step):
            now = min(step, self.changes - begin)
            span = np.array([begin, now, self.changes], np.int64)
            least = skyline.anneal(
                order,
                best,
                self.problem.width,
                sizes.shapes,
                sizes.other,
                self.window,
                heat,
                span,
                self.goal,
                (self.seed + begin) % (1 << 31),
            )
            if least <= self.goal or stop.is_set():
                break
        return laid(self.problem, best, self.window)


def laid(problem: Problem, order: Ints, window: int) -> Spots:
    """The lay that an order of shapes gives by a rule."""
    sizes, n = Sizes.of(problem), len(order)
    out = np.zeros((3, n), np.int64)
    front, follows = np.zeros((2, 2 * n + 5), np.int64), np.zeros(n + 1, np.int64)
    seen = np.zeros(len(sizes.shapes), np.int64)
    skyline.lay(order, problem.width, sizes.shapes, skyline.FAR, front, out, follows, seen, window)
    return tuple(sizes.spot(*column) for column in out.T)


def order_of(problem: Problem, spots: Sequence[Spot]) -> Ints:
    """The shapes of a lay in the order in which they stand along the bolt."""
    sizes = Sizes.of(problem).shapes.tolist()
    places = {tuple(row): at for at, row in enumerate(sizes)}
    ranked = sorted(spots, key=lambda spot: (spot.x, spot.y))
    return np.array([places[spot.a, spot.b, spot.kind] for spot in ranked], np.int64)


@dataclass
class Chains:
    """Chains over all pieces, each by the next rule, from the best order or a fresh one."""

    problem: Problem
    random: Random
    drawn: int = 0

    def next(self, best: Spots, goal: int) -> Chain:
        """The next chain to run."""
        at, self.drawn = self.drawn, self.drawn + 1
        return Chain(
            self.problem,
            order_of(self.problem, best) if at % 3 else self._fresh(),
            WINDOWS[at % len(WINDOWS)],
            self.random.choice(HEATS) * reach(best),
            min(LONGEST, int(FIRST * GROWTH**at)),
            goal,
            self.random.randrange(1 << 30),
        )

    def _fresh(self) -> Ints:
        """All pieces from large to small, mixed a little."""
        sizes = Sizes.of(self.problem)
        keys = [
            (float(sizes.shapes[s, 0] * sizes.shapes[s, 1]) * self.random.uniform(0.5, 1), int(s))
            for s in sizes.order
        ]
        return np.array([shape for _, shape in sorted(keys, reverse=True)], np.int64)


@dataclass
class Relaying:
    """A long lay as a row of bands, of which a few at a time are laid anew."""

    problem: Problem
    random: Random
    row: list[Spots] = field(default_factory=list)
    busy: set[int] = field(default_factory=set)

    def begin(self, best: Spots) -> None:
        """Take a lay up, band by band."""
        self.row, self.busy = bands(best), set()

    @property
    def spots(self) -> Spots:
        """The lay as it stands."""
        return joined(self.row)

    def next(self) -> Relay | None:
        """Choose some bands to lay anew, or None where all are too large or in work."""
        free = [band for band in self.row if id(band) not in self.busy]
        free = [band for band in free if len(band) < MOST_PIECES]
        if len(free) < 2:
            return None
        self.random.shuffle(free)
        most, chosen = self.random.randint(2, MOST_BANDS), [free[0]]
        for band in free[1:]:
            if len(chosen) < most and sum(map(len, chosen)) + len(band) <= MOST_PIECES:
                chosen.append(band)
        self.busy.update(id(band) for band in chosen)
        return Relay.of(self.problem, chosen, self.random)

    def settle(self, relay: Relay, found: Spots) -> bool:
        """Put a shorter lay in the place of its bands; whether it was shorter."""
        self.busy -= {id(band) for band in relay.chosen}
        better = reach(found) < sum(reach(band) for band in relay.chosen)
        if better:
            gone = {id(band) for band in relay.chosen}
            self.row = [band for band in self.row if id(band) not in gone] + bands(found)
        return better


@dataclass(frozen=True)
class Relay:
    """A few bands to be laid anew as one lay of their own, by a chain."""

    chosen: tuple[Spots, ...]
    kinds: tuple[int, ...]
    chain: Chain

    @classmethod
    def of(cls, problem: Problem, chosen: Sequence[Spots], random: Random) -> Relay:
        """Gather the pieces of the bands into a problem of their own."""
        lain = joined(chosen)
        counts = Counter(spot.kind for spot in lain)
        kinds = tuple(sorted(counts))
        small = Problem(
            problem.width, tuple(Kind(problem.kinds[k].shapes, counts[k]) for k in kinds)
        )
        named = renamed(lain, {kind: at for at, kind in enumerate(kinds)})
        floor = -(-small.area // small.width)
        chain = Chain(
            small,
            order_of(small, named),
            random.choice(WINDOWS),
            random.choice(HEATS) * reach(lain),
            random.choice((4_000, 12_000, 40_000)),
            floor,
            random.randrange(1 << 30),
        )
        return cls(tuple(chosen), kinds, chain)

    def run(self, stop: Event) -> tuple[Relay, Spots]:
        """The best lay met of these bands' pieces, kinds named as in the whole problem."""
        found = self.chain.run(stop)
        return self, renamed(found, dict(enumerate(self.kinds)))
