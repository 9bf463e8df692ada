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

from marker.solver.nest.kernel import Floats
from marker.solver.nest.rounds import measure, separate
from marker.solver.nest.task import Layout, Task
from marker.solver.nest.tighten import compact

CHUNK = 10
"""Rounds of moves in one call of the kernel: what may pass before the clock is looked at."""
SHRINK, PRESS_SHRINK, LEAST_SHRINK = 0.003, 0.001, 0.0001
"""Part of the cloth taken away at a time: at first and at most, when pressing, at least."""
GROW, FALL = 1.5, 0.8
"""What that part is multiplied by after a better lay, and after a miss."""
PRESS_FALL = 0.7
MISSES = 20
"""Near misses that are remembered at one length."""
BEST_PART = 0.5
"""How often the search goes on from the best lay rather than from a near miss."""
DENSE = 0.8
"""Part of the cloth that the first try asks to be covered."""
STRIKES, STALE = 3, 100
REACH = 0.02
"""How far a piece may move in a round of compaction, against the cloth's width."""
WEIGHTS = np.array((1.2, 2.0, 0.95))
SAMPLES = np.array((8, 6, 3, 8, 2, 8))


class Hand:
    """A search with luck of its own; `advance` goes on with it by a few rounds of moves."""

    def __init__(self, task: Task, best: Layout, bound: int, seed: int, afresh: bool) -> None:
        self.task, self.best, self.bound = task, best, bound
        self.random = Random(seed)
        self.state = task.state(best, self.random.getrandbits(63))
        self.work = task.work()
        self.rounds = 0
        self.shrink = SHRINK
        self.pressing = False
        self.misses: list[tuple[float, Floats]] = []
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
        self.misses.clear()
        self._put(layout)
        self._shorten()
        self._begin()

    def _begin(self) -> None:
        self.strikes = 0
        self.mark = np.array([np.inf, 0.0, STALE])
        self.state.price[:] = np.outer(self.task.table.factor, self.task.table.factor)

    def _apart(self) -> None:
        """Keep a lay in which all are apart, and go on from it on shorter cloth."""
        state = self.state
        x, y = state.x.copy(), state.y.copy()
        if not self._compacted():
            state.x[:], state.y[:] = x, y
            self._keep(self.length)
        self._go_on()

    def _go_on(self, better: bool = True) -> None:
        self.afresh = False
        if better:
            self.shrink = min(SHRINK, self.shrink * GROW)
        self.misses.clear()
        if not self.done:
            self._put(self.best)
            self._shorten()
            self._begin()

    def _compacted(self) -> bool:
        """Compact what lies there, near miss or not; whether a best lay came of it."""
        table = self.task.table
        length = compact(table, self.state, REACH * table.width)
        if length is None or length >= self.best.length - 1:
            return False
        if measure(table, self.state, self.work)[0] > 0:
            return False
        self._keep(length)
        return True

    def _keep(self, length: float) -> None:
        free, state = self.task.table.free, self.state
        if length < self.best.length:
            self.best = Layout(
                length, state.x[:free].copy(), state.y[:free].copy(), state.s[:free].copy()
            )

    def _stale(self) -> None:
        """Make what can be made of a near miss, and go on from it or from another."""
        self.strikes += 1
        self.mark[1] = 0
        best = self.work.best.copy()
        self._restore(best)
        if self._compacted():
            self._go_on()
            return
        self._restore(best)
        if self.strikes < STRIKES and not self.pressing:
            return
        if self.pressing or self.afresh:
            self.shrink = max(LEAST_SHRINK, self.shrink * PRESS_FALL) if self.pressing else SHRINK
            self._go_on(False)
            return
        self.misses.append((float(self.mark[0]), best))
        self.misses.sort(key=lambda miss: miss[0])
        del self.misses[MISSES:]
        self.shrink = max(LEAST_SHRINK, self.shrink * FALL)
        if self.random.random() < BEST_PART:
            self._put(self.best)
        else:
            at = min(abs(self.random.gauss(0, 0.25)), 0.999) * len(self.misses)
            self._restore(self.misses[int(at)][1])
        self.length = max(float(self.bound), self.best.length * (1 - self.shrink))
        self._swap()
        self._begin()

    def press(self, layout: Layout) -> None:
        """From now on only make the best layout shorter, by ever smaller steps."""
        self.pressing, self.shrink = True, PRESS_SHRINK
        self.take(layout)

    def _restore(self, noted: Floats) -> None:
        self.state.x[:], self.state.y[:], self.state.s[:] = noted[0], noted[1], noted[2]

    def _swap(self) -> None:
        """Let two pieces of different kinds change places, large ones sooner than small ones."""
        table, state = self.task.table, self.state
        kind, sizes = table.kind, (table.factor[: table.free] ** 4).tolist()
        p = self.random.choices(range(table.free), sizes)[0]
        others = np.flatnonzero(kind != kind[p])
        if len(others):
            q = self.random.choices(others.tolist(), [sizes[q] for q in others])[0]
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
