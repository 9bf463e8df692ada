"""The search for a short row of bands and the bound on it: quick lay, exhaustion, betterment."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from random import Random
from time import monotonic

import numpy as np

from marker.solver.bounds import AREA, ROWS, TALLEST, Measure, by_area, by_rows
from marker.solver.problem import Problem
from marker.solver.tear.block import Block
from marker.solver.tear.exact import exhaust
from marker.solver.tear.greedy import fill_lay, greedy, length_of
from marker.solver.tear.improve import Betterment
from marker.solver.tear.packing import Purse

EXHAUSTED = "every shorter length was searched through"
TRIES = 40
QUICK, BRIEF = 400_000_000, 150_000_000
"""Pairs of blocks that the exhaustion may look at: some seconds of work, or a part of one."""
MIDDLING = 40
"""More pieces than that are hardly ever exhausted, so little is spent on the attempt."""


@dataclass
class Search:
    """A search under way: the best lay so far, the bound, and what is left of the time."""

    problem: Problem
    random: Random
    until: float | None
    iterations: int | None
    tell: Callable[[int, int], None]
    best: tuple[Block, ...] = ()
    bound: int = 0
    bound_by: str = AREA
    worths: Measure = field(init=False)

    @property
    def proved(self) -> bool:
        """Whether nothing shorter exists."""
        return self.bound == length_of(self.best)

    def run(self) -> None:
        """Search until proved or out of time; Ctrl-C ends it and keeps what was found."""
        self.best = fill_lay(self.problem, self.random, 0.0)
        # A bound of some kind must stand from the first moment that Ctrl-C can end the search.
        self.bound = -(-self.problem.area // self.problem.width)
        try:
            self._first_bound()
            self.best = greedy(self.problem, self.random, TRIES, self._part_of_time(0.15))
            self.tell(length_of(self.best), self.bound)
            self._exhaust(QUICK if self.problem.pieces <= MIDDLING else BRIEF)
            self._improve()
        except KeyboardInterrupt:
            return

    def _first_bound(self) -> None:
        """The best of the bounds that need no search, raised to a sum of piece sizes."""
        self.worths = by_rows(self.problem)
        area, rows = by_area(self.problem).bound(self.problem), self.worths.bound(self.problem)
        tallest = max(min(a for a, _ in kind.shapes) for kind in self.problem.kinds)
        self.bound = max(area, rows, tallest)
        reason = {rows: ROWS, tallest: TALLEST, area: AREA}
        self.bound_by = reason[self.bound]
        lengths = self.problem.sums(0, length_of(self.best))
        self.bound = int(lengths[np.searchsorted(lengths, self.bound)])

    def _exhaust(self, effort: int) -> None:
        if self.proved:
            return
        purse = Purse(effort, self._part_of_time(0.5))
        length = length_of(self.best)
        result = exhaust(self.problem, self.bound, length, self.worths, purse, self._raise)
        if result.bands is not None:
            self.best = result.bands
        self._raise(result.bound)

    def _improve(self) -> None:
        work = Betterment(self.problem, self.worths, self.random, self.best, self.until)
        rounds = 0
        while not self.proved and not self._spent(rounds):
            work.round()
            rounds += 1
            if work.best is not self.best:
                self.best = work.best
                self.tell(length_of(self.best), self.bound)

    def _spent(self, rounds: int) -> bool:
        if self.iterations is not None:
            return rounds >= self.iterations
        return self.until is not None and monotonic() >= self.until

    def _part_of_time(self, part: float) -> float | None:
        """The clock time at which a part of the time that is left has gone."""
        now = monotonic()
        return None if self.until is None else now + part * max(0.0, self.until - now)

    def _raise(self, bound: int) -> None:
        if bound > self.bound:
            self.bound, self.bound_by = bound, EXHAUSTED
        self.tell(length_of(self.best), self.bound)


def search(
    problem: Problem,
    seconds: float,
    iterations: int | None,
    seed: int,
    tell: Callable[[int, int], None],
) -> Search:
    """Run a search; with `iterations` the clock is not looked at."""
    until = None if iterations is not None else monotonic() + seconds
    found = Search(problem, Random(seed), until, iterations, tell)
    found.run()
    return found
