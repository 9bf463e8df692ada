"""One hand at the nest: it moves pieces apart on ever shorter cloth.

Guided local search: pieces that bite into others move to the spot where the sum of their
weighed bites is least, and weights of bites that stay grow (Egeblad, Nielsen and Odgaard,
EJOR 183, 2007; Umetani and others, ITOR 16, 2009; from memory). When all are apart the lay
is compacted and the cloth made shorter; where that fails, something about a near miss or the
best lay is changed.
"""

from __future__ import annotations

from random import Random

import numpy as np

from marker.solver.nest.moves import change, cut, put, scatter, shift
from marker.solver.nest.rounds import measure, separate
from marker.solver.nest.task import Layout, Task
from marker.solver.nest.tighten import compact

CHUNK = 10
"""Rounds of moves in one call of the kernel: what may pass before the clock is looked at."""
SHRINK, PRESS_SHRINK, LEAST_SHRINK = 0.002, 0.001, 0.0001
"""Part of the cloth taken away at a time: as a rule, when first pressing, at least."""
GROW, FALL = 1.5, 0.7
"""What that part is multiplied by, when pressing, after a better lay and after a miss."""
MISSES = 20
"""Near misses that are remembered at one length."""
BEST_PART = 0.5
"""How often the search goes on from the best lay rather than from a near miss."""
PRESSES = 5
"""Misses at the least step after which pressing ends."""
SHIFTED = 0.1
"""How often a try lets matched sets fall elsewhere in the repeat."""
DENSE = 0.8
"""Part of the cloth that the first try asks to be covered."""
STRIKES, STALE = 3, 100
REACH = 0.02
"""How far a piece may move in a round of compaction, against the cloth's width."""
WEIGHTS = np.array((1.2, 1.5, 0.95))
SAMPLES = np.array((8, 6, 3, 8, 1, 8, 0))


class Hand:
    """A search with luck of its own; `advance` goes on with it by a few rounds of moves."""

    def __init__(self, task: Task, best: Layout, bound: int, seed: int, afresh: bool) -> None:
        self.task, self.best, self.bound = task, best, bound
        self.random = Random(seed)
        self.state = task.state(best, self.random.getrandbits(63))
        self.work = task.work()
        self.rounds = 0
        self.shrink = SHRINK
        self.pressing, self.presses = False, 0
        self.misses: list[tuple[float, Layout]] = []
        self.length = best.length
        self.afresh = afresh
        if afresh:
            area = sum(kind.area2 for kind in task.kinds) / 2 / task.width
            self.length = max(float(bound), min(area / DENSE, best.length * (1 - SHRINK)))
            scatter(task, self.state, self.random, self.length)
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

    def _put(self, layout: Layout) -> None:
        put(self.state, layout, self.task)
        self.length = layout.length

    def _shorten(self) -> None:
        shorter = max(float(self.bound), self.length * (1 - self.shrink))
        cut(self.task, self.state, self.random, self.length, shorter)
        self.length = shorter

    def _begin(self) -> None:
        self.strikes = 0
        self.mark = np.array([np.inf, 0.0, STALE])
        self.state.price[:] = np.outer(self.task.table.factor, self.task.table.factor)

    def _apart(self) -> None:
        """Keep a lay in which all are apart, and go on from it on shorter cloth."""
        found = self._seen(self.length)
        if not self._compacted() and found.length < self.best.length:
            self.best = found
        self._go_on()

    def _seen(self, length: float) -> Layout:
        free, state = self.task.table.free, self.state
        x, y = state.x[:free].copy(), state.y[:free].copy()
        return Layout(length, x, y, state.s[:free].copy(), state.phase.copy())

    def _least(self) -> Layout:
        """The layout in which the sum of the bites was least, of this try."""
        x, y, s = (values[: self.task.table.free].copy() for values in self.work.best)
        return Layout(self.length, x, y, s.astype(np.int64), self.state.phase.copy())

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
        length = compact(self.task, self.state, REACH * table.width)
        if length is None or length >= self.best.length - 1:
            return False
        if measure(table, self.state, self.work)[0] > 0:
            return False
        self.best = self._seen(length)
        return True

    def _stale(self) -> None:
        """Make what can be made of a near miss, and go on from it or from another."""
        self.strikes += 1
        self.mark[1] = 0
        best = self._least()
        put(self.state, best, self.task)
        if self._compacted():
            self._go_on()
            return
        put(self.state, best, self.task)
        if self.strikes < STRIKES and not self.pressing:
            return
        if self.pressing or self.afresh:
            self._miss()
            return
        self.misses.append((float(self.mark[0]), best))
        self.misses.sort(key=lambda miss: miss[0])
        del self.misses[MISSES:]
        self._try_again()

    def _miss(self) -> None:
        """Ask for less where the best lay is pressed, until that no longer helps."""
        if self.pressing and self.shrink <= LEAST_SHRINK:
            self.presses += 1
            self.pressing = self.presses < PRESSES
        self.shrink = max(LEAST_SHRINK, self.shrink * FALL) if self.pressing else SHRINK
        self._go_on(False)

    def _try_again(self) -> None:
        """Begin from the best lay or from a near miss, with something changed."""
        if self.random.random() < BEST_PART:
            put(self.state, self.best, self.task)
        else:
            at = min(abs(self.random.gauss(0, 0.25)), 0.999) * len(self.misses)
            put(self.state, self.misses[int(at)][1], self.task)
        self.length = max(float(self.bound), self.best.length * (1 - self.shrink))
        if self.task.ground.sets and self.random.random() < SHIFTED:
            shift(self.task, self.state, self.random, self.length)
        change(self.task, self.state, self.random, self.length)
        self._begin()

    def press(self, layout: Layout) -> None:
        """From now on only make the best layout shorter, by ever smaller steps."""
        self.pressing, self.presses, self.shrink = True, 0, PRESS_SHRINK
        self.take(layout)
