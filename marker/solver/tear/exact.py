"""The shortest lay by exhaustion: targets raised step by step until one can be met.

A target at which every lay was searched through without finding one is a bound: the lay
is longer, and no shorter than the next sum of piece sizes. A target at which lays are
found gives the shortest of all, since the search at a target is complete below it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass

import numpy as np

from marker.solver.bounds import Measure
from marker.solver.problem import Ints, Problem
from marker.solver.tear.block import Block
from marker.solver.tear.blocks import enumerate_blocks
from marker.solver.tear.cover import cover
from marker.solver.tear.packing import Purse, TooMany
from marker.solver.tear.sieve import Sieve

CLOSE = 1.005
"""A length that saves no cutting step is worth little more, once it is no more than this times the
bound."""
LEAST = 2000
"""Part of all worth by which a budget grows at least, where targets are raised by equal parts."""
STAGES, GROWTH = 16, 2
"""What part of all effort the first stage of deepening takes, and how it grows with each; what is
searched sparingly costs one part in as many of the rest."""
SPARED, EASED = 0.4, 1.1
"""What blocks may waste in the first stage, see `blocks.Limits`, and how that grows."""
TIMES, GROWN, LEAPS = 1.2, 1.05, 32
"""So many times the effort goes into a budget that is greater so many times; and how often that may
be leapt at once."""
SHARE, STRETCH, BOLD = 0.7, 1.2, 4.0
"""What part of the effort left the next target is expected to take, what it may be expected to take
where it is a stop, and how many times as much where it is done boldly."""


@dataclass(frozen=True)
class Result:
    """What the exhaustion brought: a shortest row of bands if one was met, and the bound."""

    bands: tuple[Block, ...] | None
    bound: int


def shortest_within(
    problem: Problem, target: int, sieve: Sieve, purse: Purse, spared: float | None = None
) -> tuple[Block, ...] | None:
    """A shortest lay if one of `target` or less exists, else None. Raises `TooMany`.

    With `spared` (see `blocks.Limits`) some lay may be missed, and a shorter one than is given.
    """
    table = enumerate_blocks(problem, target, sieve, purse, spared)
    budget = problem.width * target - problem.area
    rows = cover(problem, sieve.packing, table, budget, purse)
    return None if rows is None else tuple(table.block(row) for row in rows)


def exhaust(
    problem: Problem,
    bound: int,
    best: int,
    aims: Sequence[int],
    sieve: Sieve,
    purse: Purse,
    raised: Callable[[int], None],
    bold: float = 1.0,
) -> Result:
    """Raise the bound from `bound` towards `best`, the length of a lay in hand.

    Ends when a shorter lay is met (it is a shortest one), when nothing exists of the last length
    aimed at or less, or when the purse is empty. The lengths before it are stops on the way.
    `raised` is told every new bound. Boldly, targets are raised further at once than effort is
    expected to last for: the more may be proved, or nothing.
    """
    lengths = problem.sums(0, best)
    within = lengths[lengths <= min(aims[-1], best - 1)]
    ends = np.searchsorted(within, sorted(aims), side="right") - 1
    at = int(np.searchsorted(within, bound))
    while at < len(within):
        target, before = int(within[at]), purse.spent
        try:
            bands = shortest_within(problem, target, sieve, purse)
        except TooMany:
            break
        if bands is not None:
            return Result(bands, sum(band.a for band in bands))
        bound = int(lengths[np.searchsorted(lengths, target, side="right")])
        raised(bound)
        worths, left = sieve.measures[0], bold * purse.left / (purse.spent - before + 1)
        far, furthest = (
            int(np.searchsorted(within, _wider(problem, worths, target, grown), side="right")) - 1
            for grown in (_grown(SHARE * left), _grown(STRETCH * left))
        )
        stop = int(min(ends[ends > at], default=len(within)))
        at = max(at + 1, stop if stop <= furthest else far)
    return Result(None, bound)


@dataclass
class Deepening:
    """Exhaustion by turns, sparingly and in earnest, of what is shorter than the best lay known.

    `shortest` gives the length of that lay, `wanted` the length that is wanted most where a lay of
    some length is at hand; `raised` is told every new bound. It is `settled` once nothing shorter
    was found sparingly, or the shortest that can be so found: most likely that is the shortest of
    all. From then on only the proof is worked on.
    """

    problem: Problem
    bound: int
    shortest: Callable[[], int]
    wanted: Callable[[int], int]
    sieve: Sieve
    purse: Purse
    raised: Callable[[int], None]
    settled: bool = False

    def lays(self) -> Iterator[tuple[Block, ...] | None]:
        """Shorter lays, as they are met, and None where it comes to be settled.

        Ends when nothing shorter is left to be found, or with the purse.
        """
        effort, spared = self.purse.pairs // STAGES, SPARED
        while effort <= self.purse.pairs and not self.purse.late:
            if not self.settled:
                if bands := self._sparingly(Purse(effort, self.purse.until), spared):
                    yield bands
                if self.settled:
                    yield None
            share = self.purse.pairs if self.settled else effort * GROWTH
            if bands := self._in_earnest(Purse(share, self.purse.until)):
                yield bands
            if self.bound >= self.shortest():
                return
            effort, spared = max(effort, share // GROWTH) * GROWTH, spared * EASED

    def _sparingly(self, purse: Purse, spared: float) -> tuple[Block, ...] | None:
        best = self.shortest()
        lengths = self.problem.sums(0, best)
        with suppress(TooMany):
            for target in _targets(
                self.problem, self.sieve.measures[0], lengths, self.bound, best - 1
            ):
                if target >= self.shortest():
                    break
                if bands := shortest_within(self.problem, target, self.sieve, purse, spared):
                    self.settled = True
                    return bands
            self.settled = True
        return None

    def _in_earnest(self, purse: Purse) -> tuple[Block, ...] | None:
        """Every length up to the one wanted most, then what makes the gap small, then all."""
        best = self.shortest()
        aims = stops(best, self.wanted)
        result = exhaust(self.problem, self.bound, best, aims, self.sieve, purse, self._raise)
        if result.bands is not None:
            self._raise(result.bound)
        return result.bands

    def _raise(self, bound: int) -> None:
        self.bound = bound
        self.raised(bound)


def stops(best: int, wanted: Callable[[int], int]) -> tuple[int, int, int]:
    """The lengths worth most to exhaust: the one wanted, what makes the gap small, and all."""
    return wanted(best), int(best / CLOSE), best - 1


def _targets(
    problem: Problem, worths: Measure, lengths: Ints, bound: int, limit: int
) -> Iterator[int]:
    """Targets to search sparingly, a quarter further each, ending at the last within the limit."""
    within = lengths[lengths <= limit]
    at = int(np.searchsorted(within, bound))
    while at < len(within):
        target = int(within[at])
        yield target
        wider = _wider(problem, worths, target, 1 / 4)
        at = max(at + 1, int(np.searchsorted(within, wider, side="right")) - 1)


def _grown(times: float) -> float:
    """By what part a budget may grow where so many times the effort may go into it."""
    # No logarithm: it ends in other digits on other machines.
    grown = 1.0
    for _ in range(LEAPS):
        if times < TIMES:
            break
        times, grown = times / TIMES, grown * GROWN
    return grown - 1


def _wider(problem: Problem, worths: Measure, target: int, part: float) -> int:
    """The target at which that budget of waste and of worth that is tighter has grown by a part.

    Effort grows steeply with both budgets.
    """
    area, worth = problem.area, worths.total(problem)
    waste = problem.width * target - area
    spare = worths.full * target - worth
    by_area = (area + waste + max(int(waste * part), area // LEAST)) // problem.width
    by_worth = (worth + spare + max(int(spare * part), worth // LEAST)) // worths.full
    return min(by_area, by_worth)
