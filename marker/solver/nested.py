"""Lays of any outlines, cut wholly with shears: pieces become kinds of a nest, and come back."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from decimal import Decimal
from functools import cache
from operator import itemgetter
from time import monotonic

from marker.cloth import Cloth
from marker.geometry import Polygon, Rect
from marker.lay import Lay, Mode, Placement
from marker.piece import Piece
from marker.solver.bounds import ROWS, by_rows
from marker.solver.coarse import coarser
from marker.solver.copies import Copies, copies_of, moved, placements, spots_of
from marker.solver.finish import cut, cut_out
from marker.solver.lays import Limits, lay
from marker.solver.nest import NestKind, NestSpot, nest
from marker.solver.nest.bounds import least_length
from marker.solver.problem import check, read
from marker.solver.stop import BRIEF
from marker.units import CM

ROUNDS = 100
"""Rounds of moves in a nest that stand for one round of betterment."""
STRAIGHT = 0.5
"""Part of the time for rectangles alone to be laid edge to edge."""


@cache
def load() -> None:
    """Have the search's kernels loaded, or compiled where they are first used on a machine.

    That takes some seconds once, which the time for a search should not pay for.
    """
    corners = [(0, 0), (3, 0), (3, 1), (1, 1), (1, 2), (0, 2)]
    ell = Polygon.of((x * CM, y * CM) for x, y in corners)
    nest([NestKind(2, (ell, ell.turned(180)))], 4 * CM, iterations=1)


def lay_nested(
    cloth: Cloth,
    pieces: Sequence[Piece],
    limits: Limits,
    start: Sequence[Placement] = (),
) -> Lay:
    """The lay of pieces of any outline by shears alone, on cloth laid open.

    It starts from any lay of the same pieces. Raises `CannotLay` where a piece is too wide for
    the cloth or can't lie on it as it must, or a remnant is too short.
    """
    began = monotonic()
    check(cloth, pieces)
    copies = copies_of(cloth, pieces)
    floor = bound(cloth, pieces, cloth.margin)
    if limits.within is not None and floor[0] > limits.within:
        # It is refuted, and any lay will do.
        limits = replace(limits, seconds=BRIEF, iterations=limits.iterations and 1)
    if not start and all(piece.outline is None for piece in pieces):
        start = _edge_to_edge(cloth, pieces, limits)
    first = tuple(spots_of(copies, start))
    spots = spread(cloth, copies, cloth.usable, limits.left(began), first)
    return finished(cloth, pieces, placements(copies, spots), *floor)


def _edge_to_edge(cloth: Cloth, pieces: Sequence[Piece], limits: Limits) -> Sequence[Placement]:
    """Rectangles with the margin behind and above each of them, laid edge to edge.

    Such lays hold all that keep the margin but where corners lie askew, and their search knows
    rectangles better. None where a rule says where a piece lies.
    """
    if cloth.flaws or any(piece.selvedges or piece.matches for piece in pieces):
        return ()
    wide = replace(
        cloth, width=cloth.laid_width + cloth.margin, weft_shrinkage=Decimal(0), margin=0, length=0
    )
    grown = [
        replace(p, length=p.length + cloth.margin, breadth=p.breadth + cloth.margin)
        for p in pieces
    ]  # fmt: skip
    part = replace(limits, seconds=STRAIGHT * limits.seconds, within=None, progress=None)
    return lay(wide, grown, Mode.SHEARS, part).placements


def spread(
    cloth: Cloth,
    copies: Sequence[Copies],
    zone: Rect,
    limits: Limits,
    start: Sequence[NestSpot] = (),
) -> tuple[NestSpot, ...]:
    """Where copies lie if a zone of cloth, from its first x on, is as long as they take.

    Spots, those to start from too, are on the cloth; their kinds are places in `copies`.
    """
    began = monotonic()
    kinds = coarser([each.kind for each in copies])
    found = nest(
        kinds,
        zone.across,
        margin=cloth.margin,
        flaws=tuple(flaws_in(cloth, zone)),
        repeat=(cloth.repeat.along, cloth.repeat.across),
        seconds=limits.left(began).seconds,
        iterations=None if limits.iterations is None else ROUNDS * limits.iterations,
        seed=limits.seed,
        progress=limits.progress,
        start=moved(start, -zone.x0, -zone.y0) or None,
    )
    return moved(found.spots, zone.x0, zone.y0)


def flaws_in(cloth: Cloth, zone: Rect) -> Iterator[Rect]:
    """The flaws in a zone, from its lower left corner."""
    for flaw in cloth.flaws:
        x, y = max(0, flaw.x0 - zone.x0), max(0, flaw.y0 - zone.y0)
        rect = Rect(x, y, flaw.x1 - zone.x0, min(flaw.y1, zone.y1) - zone.y0)
        if rect.along > 0 and rect.across > 0:
            yield rect


def finished(
    cloth: Cloth,
    pieces: Sequence[Piece],
    placed: Sequence[Placement],
    bound: int,
    bound_by: str,
    spoilt: Sequence[Polygon] = (),
) -> Lay:
    """The finished lay; of rectangles alone all that is left falls into rectangles too.

    What is `spoilt` is cut through with the pieces.
    """
    shaped = any(piece.outline is not None for piece in pieces)
    return (cut_out if shaped else cut)(cloth, pieces, placed, bound, bound_by, spoilt)


def bound(cloth: Cloth, pieces: Sequence[Piece], margin: int = 0) -> tuple[int, str]:
    """What no lay undercuts, and where that comes from: all outlines, or the rectangles alone.

    What must match is left out of account, since a torn lay may turn matched pieces round.
    The margin counts where all is cut with shears.
    """
    free = [replace(piece, matches=()) for piece in pieces]
    found = least_length(
        [each.kind for each in copies_of(cloth, free)],
        cloth.usable.across,
        margin=margin,
        flaws=tuple(flaws_in(cloth, cloth.usable)),
    )
    straight = [piece for piece in pieces if piece.outline is None]
    if straight:
        scaled = read(cloth, straight)
        rows = by_rows(scaled.problem).bound(scaled.problem) * scaled.along
        found = max(found, (rows, f"{ROWS}, of the straight pieces alone"), key=itemgetter(0))
    return found
