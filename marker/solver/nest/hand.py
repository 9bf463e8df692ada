"""One hand at the nest: it moves pieces apart on ever shorter cloth.

Guided local search: pieces that bite into others move to the spot where the sum of their
weighed bites is least, and weights of bites that stay grow (Egeblad, Nielsen and Odgaard,
EJOR 183, 2007; Umetani and others, ITOR 16, 2009; from memory). When all are apart the lay
is compacted and the cloth made shorter; where that fails, two pieces of a near miss change
places.
"""

from __future__ import annotations

from random import Random

import numpy as np

from marker.solver.nest.kernel import separate
from marker.solver.nest.task import Layout, Task
from marker.solver.nest.tighten import compact

CHUNK = 10
"""Rounds of moves in one call of the kernel: what may pass before the clock is looked at."""
SHRINK = 0.003
DENSE = 0.8
"""Part of the cloth that the first try asks to be covered."""
STRIKES, STALE = 3, 100
REACH = 0.02
"""How far a piece may move in a round of compaction, against the cloth's width."""
WEIGHTS = np.array((1.2, 2.0, 0.95))
SAMPLES = np.array((8, 6, 3, 8))


class Hand:
    """A search with luck of its own; `advance` goes on with it by a few rounds of moves."""

    def __init__(self, task: Task, best: Layout, bound: int, seed: int, afresh: bool) -> None:
        self.task, self.best, self.bound = task, best, bound
        self.random = Random(seed)
        self.state = task.state(best, self.random.getrandbits(63))
        self.work = task.work()
        self.rounds = 0
        self.shrink = SHRINK
        self.length = best.length
        self.afresh = afresh
        if afresh:
            area = sum(kind.area2 for kind in task.kinds) / 2 / task.width
            self.length = max(float(bound), min(area / DENSE, best.length * (1 - SHRINK)))
            self._scatter()
        else:
            self._shorten()
        self._begin()

    @property
    def done(self) -> bool:
        """Whether nothing shorter exists."""
        return self.best.length <= self.bound

    def advance(self, rounds: int = CHUNK) -> None:
        """Go on by a few rounds."""
        state, task = self.state, self.task
        status = separate(
            task.table, state, self.work, self.length, rounds, SAMPLES, WEIGHTS, self.mark
        )
        self.rounds += rounds
        if status == 1:
            self._apart()
        elif status == 2:
            self._stale()

    def take(self, layout: Layout) -> None:
        """Go on from a better layout."""
        self.best = layout
        self._put(layout)
        self._shorten()
        self._begin()

    def _begin(self) -> None:
        self.strikes = 0
        self.mark = np.array([np.inf, 0.0, STALE])
        self.state.price[:] = np.outer(self.task.table.factor, self.task.table.factor)

    def _apart(self) -> None:
        self.afresh = False
        self._compacted()
        if not self.done:
            self._shorten()
            self._begin()

    def _compacted(self) -> None:
        table, state = self.task.table, self.state
        free = table.free
        x, y = state.x.copy(), state.y.copy()
        length = compact(table, state, REACH * table.width)
        if length is None or length > self.length:
            state.x[:], state.y[:], length = x, y, self.length
        if length < self.best.length:
            self.best = Layout(
                length, state.x[:free].copy(), state.y[:free].copy(), state.s[:free].copy()
            )
        self.length = length

    def _stale(self) -> None:
        self.strikes += 1
        best = self.work.best
        self.state.x[:], self.state.y[:] = best[0], best[1]
        self.state.s[:] = best[2]
        self.mark[1] = 0
        if self.strikes < STRIKES:
            return
        if self.afresh:
            self._put(self.best)
            self._shorten()
            self.afresh = False
        else:
            self._swap()
        self._begin()

    def _swap(self) -> None:
        """Let two pieces of different kinds change places."""
        table, state = self.task.table, self.state
        kind = table.kind
        p = self.random.randrange(table.free)
        others = np.flatnonzero(kind != kind[p])
        if len(others):
            q = int(others[self.random.randrange(len(others))])
            for values, size in ((state.x, table.along), (state.y, table.across)):
                a, b = size[state.s[p]] / 2, size[state.s[q]] / 2
                values[p], values[q] = values[q] + b - a, values[p] + a - b
        self._clamp()

    def _put(self, layout: Layout) -> None:
        free = self.task.table.free
        self.state.x[:free], self.state.y[:free] = layout.x, layout.y
        self.state.s[:free] = layout.s
        self.length = layout.length

    def _scatter(self) -> None:
        table, state = self.task.table, self.state
        for p in range(table.free):
            s = state.s[p]
            state.x[p] = self.random.random() * (self.length - table.along[s])
            state.y[p] = self.random.random() * (table.width - table.across[s])
        self._clamp()

    def _shorten(self) -> None:
        """Take a strip out of the cloth at a place drawn by lot."""
        table, state = self.task.table, self.state
        shorter = max(float(self.bound), self.length * (1 - self.shrink))
        free = table.free
        middle = state.x[:free] + table.along[state.s[:free]] / 2
        cut = self.random.random() * self.length
        state.x[:free] -= np.where(middle > cut, self.length - shorter, 0.0)
        self.length = shorter
        self._clamp()

    def _clamp(self) -> None:
        table, state = self.task.table, self.state
        free = table.free
        for p in np.flatnonzero(table.along[state.s[:free]] > self.length):
            first, many = table.first[table.kind[p]], table.many[table.kind[p]]
            ways = range(first, first + many)
            state.s[p] = min(ways, key=lambda s: float(table.along[s]))
        s = state.s[:free]
        state.x[:free] = np.clip(state.x[:free], 0, np.maximum(self.length - table.along[s], 0))
        state.y[:free] = np.clip(state.y[:free], 0, table.width - table.across[s])
