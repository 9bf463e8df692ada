"""Beams of lays that aim at a length, each valued by its own mixture of measures."""

from __future__ import annotations

from dataclasses import dataclass, field
from random import Random
from threading import Event

import numpy as np

from marker.solver.bounds import Measure
from marker.solver.problem import Problem
from marker.solver.shears import beam
from marker.solver.shears.exhaust import WIDEST, Target, Worths
from marker.solver.shears.strip import Spots
from marker.solver.shears.tree import CLOSE
from marker.solver.spots import Spot

BREADTHS, SHARES = (40, 40, 100), (100, 200, 400)
"""Lays kept in a share, and shares; many small beams that differ find more than a large one."""
WIDER, BROADEST = 25, 1000
"""So many beams after a gain breadths are doubled, after as many more trebled, and so on to a
broadest: lays near the shortest are met by broad ones alone."""
GUIDES = (0.0, 0.3, 1.0)
NOISES = (0.0, 0.001, 0.003)
LARGE = (0.03, 0.1)
"""What all pieces count for by the square of their area, in parts of all that there is."""
ALIKE = (1, 3, 10)


@dataclass(frozen=True)
class Beam:
    """One beam, to be run anywhere: it holds nothing that others change."""

    target: Target
    guide: tuple[float, ...]
    noise: float
    large: float
    alike: int
    breadth: int
    shares: int
    seed: int

    def run(self, stop: Event) -> Spots:
        """A lay no longer than the target, or none where the beam met none or `stop` is set."""
        if stop.is_set() or self.target.hopeless:
            return ()
        store = self._store()
        at = beam.grow(self._task(), store, self.seed)
        return self._spots(store.history, at) if at >= 0 else ()

    def _task(self) -> beam.Task:
        """What is laid, with guides and large pieces in parts of all there is."""
        target, strip = self.target, self.target.strip
        # The last row of each is for sums of what is left, which beams do without.
        across, along = (tables[1:-1] for tables in target.tables)
        whole = [int(t[-1]) * target.far for t in across] + [
            int(t[-1]) * strip.width for t in along
        ]
        squares = np.array([float(kind.area) ** 2 for kind in strip.kinds])
        copies = np.array([kind.count for kind in strip.kinds])
        return beam.Task(
            strip.width,
            target.far,
            target.sizes.shapes,
            np.ascontiguousarray(target.worth[:, 2::2]),
            across,
            along,
            np.array(self.guide) / np.array(whole, float),
            squares * (self.large / float((squares * copies).sum())),
            self.noise,
            self.alike,
        )

    def _store(self) -> beam.Store:
        """Room for the lays, with the bare cloth in it."""
        strip, kept = self.target.strip, (self.shares, self.breadth)
        slots = 1 << (4 * self.shares * self.breadth).bit_length()
        store = beam.Store(
            np.zeros((*kept, 2, beam.MOST_STEPS + 4), np.int32),
            np.zeros((*kept, 5), np.int32),
            np.zeros((*kept, len(strip.kinds)), np.int32),
            np.zeros(kept),
            np.zeros(kept, np.uint64),
            np.zeros(slots, np.uint64),
            np.zeros(self.shares, np.int64),
            np.zeros(self.shares, np.int64),
            np.zeros((beam.OFTEN * self.shares * self.breadth + 2, 4), np.int32),
        )
        store.left[0, 0] = [kind.count for kind in strip.kinds]
        store.fronts[0, 0, 0, 1] = strip.width
        store.marks[0, 0] = 1, -1, CLOSE, 0, 0
        store.number[0] = 1
        return store

    def _spots(self, history: beam.Small, at: int) -> Spots:
        """The lay that ends at a place of the history."""
        lay = []
        while at >= 0:
            before, shape, x, y = history[at].tolist()
            if shape != CLOSE:
                lay.append(self.target.sizes.spot(shape, x, y))
            at = before
        if not self.target.turned:
            return tuple(lay)
        return tuple(Spot(spot.kind, spot.b, spot.a, spot.y, spot.x) for spot in lay)


@dataclass
class Beams:
    """Beams for ever shorter lays, along the cloth and across it, each valued by other weights.

    `best` is the length to be bettered, and `gained` how many beams were drawn before it was met.
    """

    problem: Problem
    random: Random
    until: float | None = None
    drawn: int = 0
    best: int = 0
    gained: int = 0
    worths: tuple[Worths, Worths] | None = None
    targets: dict[bool, Target] = field(default_factory=dict)

    def next(self, best: int, goal: int) -> Beam | None:
        """The next beam, for a length from `goal` to below the best; None for cloth too large."""
        length = best - 1 - int((best - 1 - goal) * self.random.random() * self.random.random())
        if max(best, self.problem.width) > WIDEST:
            return None
        if best != self.best:
            self.best, self.gained = best, self.drawn
        self.drawn += 1
        return self._drawn(self._target(length, self.random.random() < 0.5))

    def _drawn(self, target: Target) -> Beam:
        random, wider = self.random, 1 + (self.drawn - self.gained) // WIDER
        guide = [random.choice(GUIDES) for _ in range(2)]
        guide[random.randrange(len(guide))] = 1.0
        return Beam(
            target,
            tuple(guide),
            random.choice(NOISES),
            random.choice(LARGE),
            random.choice(ALIKE),
            min(BROADEST, wider * random.choice(BREADTHS)),
            random.choice(SHARES),
            random.randrange(1 << 30),
        )

    def _target(self, length: int, turned: bool) -> Target:
        """A length to be met; the worths of the first one serve all that follow."""
        if self.worths is None:
            first = Target(self.problem, length, until=self.until)
            self.worths = _worths(first.measures[0][1]), _worths(first.measures[1][1])
        known = self.targets.get(turned)
        if known is None or known.length != length:
            known = Target(self.problem, length, turned, worths=self.worths)
            self.targets[turned] = known
        return known


def _worths(measure: Measure) -> Worths:
    """Worths of the kinds by a measure, a full row being 1."""
    return tuple((measure.worth / measure.full).tolist())
