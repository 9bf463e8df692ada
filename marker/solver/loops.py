"""Have the compiled loops of searches for straight pieces at hand before their time begins.

Where they are first used on a machine they take many seconds to compile, and every process of
those that lay wearers side by side would do it again, in the time that is theirs to search.
"""

from __future__ import annotations

from functools import cache
from random import Random
from threading import Event

from marker.lay import Mode
from marker.solver.problem import Kind, Problem

ROUNDS = 20
"""Rounds of betterment, in one of which at least a room is put together anew."""


@cache
def load(mode: Mode) -> None:
    """Load, or compile, what betters torn lays; for the shears, which start from them, more."""
    from marker.solver.bounds import by_area
    from marker.solver.shears.chains import Chains
    from marker.solver.shears.raising import Raising
    from marker.solver.shears.strip import first_lay
    from marker.solver.spots import reach
    from marker.solver.tear.greedy import shaken_lays
    from marker.solver.tear.improve import Betterment

    problem = _few()
    torn = next(shaken_lays(problem, Random(0)))
    work = Betterment(problem, by_area(problem), Random(0), torn, 1)
    for _ in range(ROUNDS):
        work.round()
    if mode is Mode.SHEARS:
        from marker.solver.shears.crowds import Crowds

        lay = first_lay(problem)
        if crowd := Crowds(problem, Random(0)).next(lay, 1):
            crowd.run(Event())
        lengths = problem.sums(0, reach(lay)).tolist()
        Chains(problem, Random(0)).next(lay, 1).run(Event())
        search = Raising(problem, Random(0), lengths, lengths[-2]).next(lengths[-1])
        if search:
            search(Event())


@cache
def load_proofs() -> None:
    """Load, or compile, what searches through all shorter lays than a torn one."""
    from marker.solver.bounds import by_area
    from marker.solver.tear.exact import exhaust
    from marker.solver.tear.packing import Purse
    from marker.solver.tear.partners import HEAVY
    from marker.solver.tear.sieve import Sieve

    problem, spent = _few(), HEAVY + 1  # as if much had been looked at: less takes no loops
    low = -(-problem.area // problem.width)
    sieve = Sieve.of(problem, by_area(problem))
    exhaust(problem, low, 2 * low, (low,), sieve, Purse(2 * HEAVY, spent=spent), lambda _: None)


def _few() -> Problem:
    """A few pieces of three sizes, whose search uses every loop."""
    return Problem(10, (Kind(((7, 6),), 3), Kind(((5, 4),), 3), Kind(((3, 3),), 3)))
