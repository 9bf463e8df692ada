"""Random small cases, each laid by the solvers and by a slow way that shares nothing with them.

A check takes a seed and fails where a length is called proved and isn't the optimum, where a
bound lies above the optimum, or where the referee has a word to say. There are five kinds: a torn
lay against all cut trees, one whose search is cut off at once, a lay for the shears against a
board filled cell by cell, another against CP-SAT in a plain model, and a lay by rules against
every place of every copy.
"""

from __future__ import annotations

from collections.abc import Callable
from random import Random

import rules_oracle
import shears_oracle
from rules_cases import MOST, asked
from small_cases import Ask, optimum, rectangles, shortest_with_shears, strips

from marker import referee
from marker.cloth import Cloth
from marker.errors import CannotLay
from marker.lay import Lay, Mode, Proof
from marker.solver import solve
from marker.solver.problem import Scaled
from marker.solver.shears import free
from marker.units import CM

BOARD = Cloth("main", "linen", width=20 * CM, step=CM)


def judged(lay: Lay, best: int | None, proved: bool = True) -> None:
    """The referee passes a lay; bound <= optimum <= length, and a proof means the optimum."""
    assert referee.findings(lay) == (), referee.findings(lay)
    assert best is not None, "a lay was found of what can't be laid"
    assert lay.bound <= best <= lay.length, (lay.bound, best, lay.length)
    assert lay.proof is not Proof.LENGTH or lay.length == best, (lay.length, best)
    assert not proved or lay.length == best, (lay.length, best)


def torn(seed: int) -> Ask:
    """A torn lay, searched through."""
    cloth, pieces = rectangles(Random(seed))
    judged(solve(cloth, pieces, iterations=20), optimum(cloth, pieces))
    return cloth, pieces


def cut_off(seed: int) -> Ask:
    """A torn lay whose search ends before it began."""
    cloth, pieces = rectangles(Random(seed))
    judged(solve(cloth, pieces, iterations=0), optimum(cloth, pieces), proved=False)
    return cloth, pieces


def cut_free(seed: int) -> object:
    """A lay for the shears on a strip a few cells wide."""
    problem = strips(Random(seed))
    best = shears_oracle.shortest(problem.width, [(k.shapes, k.count) for k in problem.kinds])
    found = free(Scaled(problem, 1, 1), iterations=3)
    assert found.bound == found.length == best, (found.bound, found.length, best)
    return problem


def by_model(seed: int) -> Ask:
    """A lay for the shears against CP-SAT."""
    pieces = tuple(rectangles(Random(seed), BOARD, CM)[1])
    lay = solve(BOARD, pieces, mode=Mode.SHEARS, iterations=50)
    judged(lay, shortest_with_shears(BOARD, pieces))
    return BOARD, pieces


def by_rules(seed: int) -> Ask:
    """A lay that keeps repeats, flaws, selvedges and a remnant's end."""
    cloth, pieces = asked(seed)
    mode = Random(seed).choice(list(Mode))
    best = rules_oracle.shortest(cloth, pieces, mode, cloth.length or MOST)
    try:
        lay = solve(cloth, pieces, mode=mode, iterations=20)
    except CannotLay:
        assert best is None, f"{best} was not found"
    else:
        if best is not None or lay.length <= (cloth.length or MOST):
            judged(lay, best)
    return cloth, tuple(pieces)


KINDS: tuple[Callable[[int], object], ...] = (torn, cut_off, cut_free, by_model, by_rules)
