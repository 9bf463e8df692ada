"""Lays: the shortest length of cloth from which all pieces can be had, and its bound.

`solve` reads the pieces into small whole numbers (`problem`) and has them searched: a row of
bands to be torn (`tear`), or any arrangement for the shears. `fit` asks whether a length is
enough, `settle` which cloth gives what and how strips are pieced. `finish` makes the lay of
what was found, with the bounds on all four goals.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from marker.cloth import Cloth
from marker.lay import Lay
from marker.piece import Piece
from marker.solver.finish import torn
from marker.solver.problem import read
from marker.solver.tear.remnant import largest_remnant
from marker.solver.tear.rows import shortest

__all__ = ["fit", "settle", "solve"]

Progress = Callable[[int, int], None]


def solve(
    cloth: Cloth,
    pieces: Sequence[Piece],
    *,
    seconds: float = 10.0,
    iterations: int | None = None,
    seed: int = 0,
    progress: Progress | None = None,
) -> Lay:
    """Lay pieces on a cloth for tearing: least to buy, least length, then tidy remnants.

    Stops when the length is proved, else after `seconds`, or after `iterations` rounds of
    betterment where given: the clock then plays no part, and the same seed gives the same
    lay. `progress` is told the best length and the bound now and then. Ctrl-C during the
    search keeps the best lay. Raises `CannotLay` where a piece is too wide for the cloth,
    `BadInput` where there is nothing to lay.
    """
    scaled = read(cloth, pieces)
    row = shortest(scaled, seconds, iterations, seed, progress)
    tree = largest_remnant(cloth, pieces, row.bands)
    return torn(cloth, pieces, tree, row.length, row.bound, row.bound_by)


def fit(
    cloth: Cloth,
    pieces: Sequence[Piece],
    within: int,
    *,
    seconds: float = 10.0,
    iterations: int | None = None,
    seed: int = 0,
) -> tuple[Lay | None, bool]:
    """A lay no longer than `within` if one is found, and whether that was proved impossible."""
    lay = solve(cloth, pieces, seconds=seconds, iterations=iterations, seed=seed)
    return (lay, False) if lay.length <= within else (None, lay.bound > within)


def settle(
    cloths: Mapping[str, Cloth],
    pieces: Sequence[Piece],
    *,
    seconds: float = 10.0,
    iterations: int | None = None,
    seed: int = 0,
    progress: Progress | None = None,
) -> tuple[tuple[Piece, ...], tuple[str, ...]]:
    """Settle which cloth gives each piece, and how strips are pieced."""
    raise NotImplementedError
