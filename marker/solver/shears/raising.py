"""Raising the bound: targets from the bound upwards, each searched through or met."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Callable
from dataclasses import dataclass, field
from random import Random
from threading import Event

from marker.solver.problem import Problem
from marker.solver.shears import tree
from marker.solver.shears.exhaust import WIDEST, Exhaustion, Target
from marker.solver.shears.strip import Spots

SLICE = 20_000
"""States between two looks at whether the work is still wanted."""
FIRST = 100_000
"""States of the first search of a target; later ones are given more."""
NOISE = (0.0, 0.0, 0.3, 0.3, 0.6, 0.6)


@dataclass(frozen=True)
class Tried:
    """What came of a search: its target, the outcome, the lay if one was found, states spent."""

    target: int
    outcome: int
    spots: Spots
    spent: int


@dataclass
class Raising:
    """The bound of a problem on its way up; `lengths` are all that a lay may have, ascending.

    `aim` is a length that is to be ruled out first, such as the longest that saves a cutting
    step; targets beyond it wait for that.
    """

    problem: Problem
    random: Random
    lengths: list[int]
    bound: int
    until: float | None = None
    aim: int = 0
    drawn: int = 0
    spent: int = 0
    ruled_out: int = 0
    targets: dict[tuple[int, bool], Target] = field(default_factory=dict)

    def next(self, best: int) -> Callable[[Event], Tried] | None:
        """The next search, for a lay shorter than `best`; None where none is left to do."""
        length = self.target(best)
        if length is None or max(length, self.problem.width) > WIDEST:
            return None
        turned = self.drawn % 2 == 1
        target = self.targets.setdefault(
            (length, turned), Target(self.problem, length, turned, self.until)
        )
        noise = NOISE[min(self.drawn, len(NOISE) - 1)]
        seed, effort = self.random.randrange(1 << 30), FIRST << (self.drawn // 4)
        self.drawn += 1
        return lambda stop: self._search(target, Random(seed), noise, effort, stop)

    def target(self, best: int) -> int | None:
        """The length to be met or ruled out next: between the bound and the lay in hand.

        Effort grows steeply with the waste that a target allows, so that grows by half at a
        time: little is spent on targets that turn out too short, and little is overshot.
        """
        end = bisect_left(self.lengths, best)
        at = bisect_left(self.lengths, self.bound)
        if at >= end:
            return None
        spare = self.problem.width * self.lengths[at] - self.problem.area
        wide = (self.problem.area + spare * 3 // 2) // self.problem.width
        chosen = min(end - 1, max(at, bisect_right(self.lengths, wide) - 1))
        if self.ruled_out == 0:
            chosen = at
        if self.bound <= self.aim < self.lengths[chosen]:
            chosen = max(at, bisect_right(self.lengths, self.aim) - 1)
        return self.lengths[chosen]

    def settle(self, tried: Tried) -> None:
        """Take in what came of a search."""
        self.spent += tried.spent
        if tried.outcome == tree.EXHAUSTED and tried.target >= self.bound:
            after = bisect_right(self.lengths, tried.target)
            self.bound = self.lengths[min(after, len(self.lengths) - 1)]
            self.ruled_out += 1
            self.drawn, self.targets = 0, {}

    @staticmethod
    def _search(target: Target, random: Random, noise: float, effort: int, stop: Event) -> Tried:
        if target.hopeless:
            return Tried(target.length, tree.EXHAUSTED, (), 0)
        search = Exhaustion(target, random, noise)
        spent = 0
        while spent < effort and search.outcome == tree.TIRED and not stop.is_set():
            search.run(SLICE)
            spent += SLICE
        spots = search.spots() if search.outcome == tree.FOUND else ()
        return Tried(target.length, search.outcome, spots, spent)
