"""Random small cases by the thousand: the solvers against exhaustive oracles and CP-SAT.

    python tests/nightly/cross_checks.py [--cases 10000] [--seed 0]

Five kinds of case take turns: a torn lay against all cut trees, one whose search is cut off at
once, a lay for the shears against a board filled cell by cell, another against CP-SAT in a plain
model, and a lay by rules against every place of every copy. A length that is not the optimum
where it is called proved, a bound above the optimum, or a word of the referee ends the run with
the case that did it. One line tells every hundred cases; the last one what was checked.
"""

from __future__ import annotations

import argparse
import sys
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from random import Random

sys.path.insert(0, str(Path(__file__).parents[1]))

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


def main(cases: int, seed: int) -> int:
    """Try so many cases; nought where all of them came out, else one."""
    done: Counter[str] = Counter()
    for number in range(cases):
        check = KINDS[number % len(KINDS)]
        try:
            check(seed + number)
        except AssertionError as error:
            print(f"{check.__name__} {seed + number}: {error}", file=sys.stderr)
            return 1
        done[check.__name__] += 1
        if (number + 1) % 100 == 0:
            print(f"{number + 1} of {cases}", flush=True)
    print(", ".join(f"{name} {count}" for name, count in done.items()) + ": all came out")
    return 0


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    parser.add_argument("--cases", type=int, default=10_000)
    parser.add_argument("--seed", type=int, default=0)
    asked_for = parser.parse_args()
    sys.exit(main(asked_for.cases, asked_for.seed))
