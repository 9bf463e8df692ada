"""The shortest free lay in true units, from the search in scaled ones."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from random import Random
from time import monotonic

from marker.solver.problem import Problem, Scaled, set_apart
from marker.solver.shears.search import Search
from marker.solver.shears.strip import Spots, counted, pushed, renamed, shifted
from marker.solver.spots import Spot, reach

ALONE = "every piece takes a full breadth of the cloth to itself"


@dataclass(frozen=True)
class Free:
    """A lay in units of 1/160 mm, a length that none undercuts, and how that was found."""

    spots: Spots
    bound: int
    bound_by: str

    @property
    def length(self) -> int:
        """Length of the lay."""
        return reach(self.spots)


def free(
    scaled: Scaled,
    *,
    start: Sequence[Spot] = (),
    within: int | None = None,
    steps: Callable[[int], int] | None = None,
    seconds: float = 10.0,
    iterations: int | None = None,
    seed: int = 0,
    progress: Callable[[int, int], None] | None = None,
) -> Free:
    """Search the shortest lay of all pieces in any arrangement, for the shears.

    `start` is a lay in hand in scaled units (as one for tearing, which shears can cut too):
    what is found is never longer. `within` (1/160 mm) ends the search as soon as a lay no
    longer than that is found or proved impossible; `steps` tells the length to buy for a
    length used, so that saving a cutting step is ruled out before anything finer. Stops when
    the length is proved, else after `seconds`, or after `iterations` rounds where given: the
    clock then plays no part, and the same seed gives the same lay. `progress` is told the
    best length and the bound now and then (1/160 mm). Ctrl-C keeps the best lay.
    """
    problem = scaled.problem
    alone, rest = set_apart(problem)
    fixed = sum(min(problem.kinds[k].shapes)[0] * problem.kinds[k].count for k in alone)
    if not rest.kinds:
        bands = _placed(problem, alone, 0)
        return Free(_true(bands, scaled), fixed * scaled.along, ALONE)
    left = [index for index in range(len(problem.kinds)) if index not in alone]

    def true(length: int) -> int:
        return (fixed + length) * scaled.along

    def tell(length: int, bound: int) -> None:
        if progress is not None:
            progress(true(length), true(bound))

    search = Search(
        rest,
        Random(seed),
        None if iterations is not None else monotonic() + seconds,
        iterations,
        tell,
        best=_rest_of(problem, rest, left, start),
        within=None if within is None else within // scaled.along - fixed,
        step_below=None if steps is None else lambda best: _step_below(steps, true, best),
    )
    search.run()
    lay = pushed(search.best)
    spots = (*renamed(lay, dict(enumerate(left))), *_placed(problem, alone, reach(lay)))
    return Free(_true(spots, scaled), true(search.bound), search.bound_by)


def _step_below(steps: Callable[[int], int], true: Callable[[int], int], best: int) -> int:
    """The longest length for which a cutting step less is bought than for the best."""
    least = steps(true(best))
    return bisect_left(range(best), least, key=lambda length: steps(true(length))) - 1


def _rest_of(problem: Problem, rest: Problem, left: Sequence[int], start: Sequence[Spot]) -> Spots:
    """A lay in hand without the pieces set apart: nothing lay beside them, so it closes up.

    Empty where the lay is none of this problem.
    """
    if not start or not counted(problem, start):
        return ()
    kinds = {kind: at for at, kind in enumerate(left)}
    gone = [spot for spot in start if spot.kind not in kinds]
    kept = (
        replace(spot, x=spot.x - sum(other.a for other in gone if other.x < spot.x))
        for spot in start
        if spot.kind in kinds
    )
    lay = pushed(renamed(kept, kinds))
    return lay if all(spot.y + spot.b <= rest.width for spot in lay) else ()


def _placed(problem: Problem, alone: Sequence[int], begin: int) -> Spots:
    """The pieces set apart, one behind the other from `begin` on."""
    spots: list[Spot] = []
    for index in alone:
        a, b = min(problem.kinds[index].shapes)
        for _ in range(problem.kinds[index].count):
            spots += shifted([Spot(index, a, b, 0, 0)], begin)
            begin += a
    return tuple(spots)


def _true(spots: Sequence[Spot], scaled: Scaled) -> Spots:
    u, v = scaled.along, scaled.across
    return tuple(Spot(s.kind, s.a * u, s.b * v, s.x * u, s.y * v) for s in spots)
