"""The shortest lay by exhaustion: targets raised step by step until one can be met.

A target at which every lay was searched through without finding one is a bound: the lay
is longer, and no shorter than the next sum of piece sizes. A target at which lays are
found gives the shortest of all, since the search at a target is complete below it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
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

LEAST = 2000
"""Part of all worth by which a budget grows at least."""
STAGES, GROWTH = 16, 2
"""What part of all effort the first stage of deepening takes, and how it grows with each; what is
searched sparingly costs one part in as many of the rest."""
SPARED, EASED = 0.5, 1.1
"""What blocks may waste in the first stage, see `blocks.Limits`, and how that grows."""


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
    limit: int,
    sieve: Sieve,
    purse: Purse,
    raised: Callable[[int], None],
) -> Result:
    """Raise the bound from `bound` towards `best`, the length of a lay in hand.

    Ends when a shorter lay is met (it is a shortest one), when nothing of length `limit` or
    less exists, or when the purse is empty. `raised` is told every new bound.
    """
    lengths = problem.sums(0, best)
    for target in _targets(problem, sieve.measures[0], lengths, bound, min(limit, best - 1)):
        try:
            bands = shortest_within(problem, target, sieve, purse)
        except TooMany:
            break
        if bands is not None:
            return Result(bands, sum(band.a for band in bands))
        bound = int(lengths[np.searchsorted(lengths, target, side="right")])
        raised(bound)
    return Result(None, bound)


def deepened(
    problem: Problem,
    bound: int,
    shortest: Callable[[], int],
    wanted: Callable[[int], int],
    sieve: Sieve,
    purse: Purse,
    raised: Callable[[int], None],
) -> Iterator[tuple[Block, ...]]:
    """Exhaust by turns sparingly and in earnest, with more and more effort; yields shorter lays.

    `shortest` gives the length of the best lay known, `wanted` the length that is wanted most
    where a lay of some length is at hand. Ends when nothing shorter is left to be found, or with
    the purse; `raised` is told every new bound.
    """
    effort, spared = purse.pairs // STAGES, SPARED
    while effort <= purse.pairs and not purse.late:
        best = shortest()
        aim = wanted(best)
        limit = aim if bound <= aim < best else best - 1
        lengths = problem.sums(0, best)
        with suppress(TooMany):
            share = Purse(effort, purse.until)
            for target in _targets(problem, sieve.measures[0], lengths, bound, limit, 4):
                if bands := shortest_within(problem, target, sieve, share, spared):
                    yield bands
                    break
        best = shortest()
        share = Purse(effort * GROWTH, purse.until)
        result = exhaust(problem, bound, best, min(limit, best - 1), sieve, share, raised)
        bound = result.bound
        if result.bands is not None:
            yield result.bands
        if bound >= shortest():
            return
        effort, spared = effort * GROWTH, spared * EASED


def _targets(
    problem: Problem, worths: Measure, lengths: Ints, bound: int, limit: int, slow: int = 2
) -> Iterator[int]:
    """Targets to exhaust, ending at the last length within the limit.

    Effort grows steeply with the budgets of waste and of worth, so that budget of the two that
    is tighter grows by half (one part in `slow`) at a time: little is spent on targets that turn
    out too short, and little is overshot.
    """
    within = lengths[lengths <= limit]
    at = int(np.searchsorted(within, bound))
    area, worth = problem.area, worths.total(problem)
    while at < len(within):
        target = int(within[at])
        yield target
        waste = problem.width * target - area
        spare = worths.full * target - worth
        by_area = (area + waste + max(waste // slow, area // LEAST)) // problem.width
        by_worth = (worth + spare + max(spare // slow, worth // LEAST)) // worths.full
        wider = min(by_area, by_worth)
        at = max(at + 1, int(np.searchsorted(within, wider, side="right")) - 1)
