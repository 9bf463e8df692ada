"""Lays: the shortest length of cloth from which all pieces can be had, and its bound.

`solve` has straight pieces laid as a row of bands to be torn (`tear`), in any arrangement for
the shears (`shears`), or by the rules that flaws, repeats and selvedges bring (`ruled`). Pieces
of any outline, or kept apart by a margin, are nested for the shears (`nested`), cut from
regions that tears free (`mixed`), or laid on folded cloth (`folded`). `fit` asks whether a
length is enough, `settle` which cloth gives what and how strips are pieced. `finish` makes the
lay of what was found, with its four goals.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from marker.cloth import Cloth
from marker.errors import CannotLay
from marker.lay import Lay, Mode
from marker.piece import Piece
from marker.solver.finish import bounded
from marker.solver.lays import MANY, Limits, Progress, lay, needs_loops, outlined
from marker.solver.stop import listening
from marker.units import System, Units

__all__ = ["bounded", "compare", "fit", "load", "settle", "solve", "usual_mode"]


def usual_mode(cloth: Cloth, pieces: Sequence[Piece]) -> Mode:
    """Tearing where the cloth lies open and tears and some piece may be torn, else shears."""
    some = any(piece.torn and piece.outline is None for piece in pieces)
    return Mode.TEAR if cloth.tears and not cloth.folded and some else Mode.SHEARS


def load(cloth: Cloth, pieces: Sequence[Piece], mode: Mode | None = None) -> None:
    """Load what the search for these pieces needs, so that its time is its own.

    Where it goes by count there is no time to be lost, and it loads what it comes to use.
    """
    mode = mode or usual_mode(cloth, pieces)
    if outlined(cloth, pieces, mode):
        from marker.solver import nested

        nested.load()
    elif needs_loops(cloth, pieces, mode):
        from marker.solver import loops

        loops.load(mode)
        if mode is Mode.TEAR and sum(piece.count for piece in pieces) <= MANY:
            loops.load_proofs()


def solve(
    cloth: Cloth,
    pieces: Sequence[Piece],
    *,
    mode: Mode | None = None,
    seconds: float = 10.0,
    iterations: int | None = None,
    seed: int = 0,
    progress: Progress | None = None,
) -> Lay:
    """Lay pieces on a cloth: least to buy, least length, then tidy remnants.

    Without a `mode` it is the usual one, or where straight pieces would be torn and curved ones
    cut, the shorter one of both. Stops when the length is proved, else after `seconds`, or
    after `iterations` rounds of betterment where given: the clock then plays no part, and the
    same seed gives the same lay. `progress` is told the best length and the bound now and then.
    Ctrl-C during the search keeps the best lay. Raises `CannotLay` where a piece is too wide for
    the cloth, or a remnant is too short, and `BadInput` where there is nothing to lay.
    """
    limits = Limits(seconds, iterations, seed, progress)
    with listening():
        if iterations is None:
            load(cloth, pieces, mode)
        if mode is None:
            return _compared(cloth, pieces, limits)[0]
        return lay(cloth, pieces, mode, limits)


def compare(
    cloth: Cloth,
    pieces: Sequence[Piece],
    *,
    seconds: float = 10.0,
    iterations: int | None = None,
    seed: int = 0,
    progress: Progress | None = None,
) -> tuple[Lay, Lay | None]:
    """As `solve` without a mode; also the lay of the other mode, where both were laid."""
    with listening():
        if iterations is None:
            load(cloth, pieces)
        return _compared(cloth, pieces, Limits(seconds, iterations, seed, progress))


def _compared(cloth: Cloth, pieces: Sequence[Piece], limits: Limits) -> tuple[Lay, Lay | None]:
    mode = usual_mode(cloth, pieces)
    if mode is Mode.TEAR and any(piece.outline is not None for piece in pieces):
        from marker.solver.either import either

        return either(cloth, pieces, limits)
    return lay(cloth, pieces, mode, limits), None


def fit(
    cloth: Cloth,
    pieces: Sequence[Piece],
    within: int,
    *,
    mode: Mode | None = None,
    seconds: float = 10.0,
    iterations: int | None = None,
    seed: int = 0,
) -> tuple[Lay | None, bool]:
    """A lay no longer than `within` if one is found, and whether that was proved impossible."""
    limits = Limits(seconds, iterations, seed, None, within)
    try:
        with listening():
            found = lay(cloth, pieces, mode or usual_mode(cloth, pieces), limits)
    except CannotLay as error:
        return None, error.proved
    return (found, False) if found.length <= within else (None, found.bound > within)


def settle(
    cloths: Mapping[str, Cloth],
    pieces: Sequence[Piece],
    *,
    seconds: float = 10.0,
    iterations: int | None = None,
    seed: int = 0,
    progress: Progress | None = None,
    units: Units = System.CM,
) -> tuple[tuple[Piece, ...], tuple[str, ...]]:
    """Settle which cloth gives each piece, and how strips are pieced; sentences say how.

    `units` are what the sentences tell lengths in.

    Every piece that comes back is of one length and on one cloth. What curved pieces take is
    reckoned by their area. Raises `CannotLay` where the cloths can't hold them.
    """
    from marker.solver.share.out import share_out
    from marker.solver.stand_in import restored, stand_ins

    modes = {
        key: usual_mode(cloth, [p for p in pieces if key in (p.cloth, *p.also)])
        for key, cloth in cloths.items()
    }
    with listening():
        shared = share_out(
            cloths,
            stand_ins(cloths, pieces),
            modes,
            seconds=seconds,
            iterations=iterations,
            seed=seed,
            progress=progress,
            units=units,
        )
    return restored(pieces, shared.pieces), shared.sentences
