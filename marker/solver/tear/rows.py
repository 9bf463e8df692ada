"""The shortest row of bands for all pieces, in true units, from the search in scaled ones."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from random import Random
from time import monotonic

from marker.solver.problem import Problem, Scaled, set_apart
from marker.solver.tear.block import Block, piece
from marker.solver.tear.limits import Limits
from marker.solver.tear.search import Search, search

ALONE = "every piece takes a full breadth of the cloth to itself"


@dataclass(frozen=True)
class Row:
    """A row of bands in units of 1/160 mm, and what bounds its length."""

    bands: tuple[Block, ...]
    bound: int
    bound_by: str

    @property
    def length(self) -> int:
        """Length of all bands together."""
        return sum(band.a for band in self.bands)


def shortest(
    scaled: Scaled,
    seconds: float,
    iterations: int | None,
    seed: int,
    progress: Callable[[int, int], None] | None,
    *,
    within: int | None = None,
    less: Callable[[int], int] | None = None,
    proving: bool = True,
) -> Row:
    """Search the shortest row; what lies alone across the cloth is set apart first.

    Both lengths are in units of 1/160 mm. With `within` the search ends as soon as a row of that
    length or less is found, or none can be. `less` gives, for the length of a row, the longest
    row that one cutting step less would hold: whether there is one is searched first. Without
    `proving` all the time goes into shorter rows where bounds take long.
    """
    problem = scaled.problem
    alone, rest = set_apart(problem)
    bands = [band for index in alone for band in _alone(problem, index)]
    fixed = sum(band.a for band in bands)
    if not rest.kinds:
        true = tuple(_scale(band, scaled) for band in bands)
        return Row(true, fixed * scaled.along, ALONE)

    def tell(length: int, bound: int) -> None:
        if progress is not None:
            progress((fixed + length) * scaled.along, (fixed + bound) * scaled.along)

    def one_less(length: int) -> int:
        return (
            0 if less is None else less((fixed + length) * scaled.along)
        ) // scaled.along - fixed

    limits = Limits(
        None if iterations is not None else monotonic() + seconds,
        iterations,
        None if within is None else within // scaled.along - fixed,
        None if less is None else one_less,
        proving,
    )
    found = search(rest, limits, seed, tell)
    left = [index for index in range(len(problem.kinds)) if index not in alone]
    bands += [_rename(band, left) for band in found.best]
    return Row(
        tuple(_scale(band, scaled) for band in bands),
        (fixed + found.bound) * scaled.along,
        found.bound_by,
    )


def at_once(scaled: Scaled) -> bool:
    """Whether quick lays alone meet their bound, so that none of the long searches is needed."""
    _, rest = set_apart(scaled.problem)
    if not rest.kinds:
        return True
    begun = Search(rest, Random(0), Limits(iterations=0), lambda *_: None)
    begun.begin()
    return begun.done


def _alone(problem: Problem, index: int) -> list[Block]:
    kind = problem.kinds[index]
    return [piece(*min(kind.shapes), index)] * kind.count


def _rename(block: Block, kinds: Sequence[int]) -> Block:
    parts = tuple(_rename(part, kinds) for part in block.parts)
    return replace(block, kind=kinds[block.kind] if not parts else -1, parts=parts)


def _scale(block: Block, scaled: Scaled) -> Block:
    parts = tuple(_scale(part, scaled) for part in block.parts)
    return replace(block, a=block.a * scaled.along, b=block.b * scaled.across, parts=parts)
