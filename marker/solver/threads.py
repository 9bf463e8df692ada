"""Which steps of a torn lay are cut with shears along a thread instead of torn.

A strip too narrow to tear stretches and curls, or gives no hold; a piece that is not to be
torn has every edge cut. The step runs from edge to edge just the same.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from marker.cloth import Cloth
from marker.geometry import Rect
from marker.lay import Direction, Placement, Tear
from marker.piece import Piece


def mark_cuts(
    cloth: Cloth, pieces: Sequence[Piece], placements: Sequence[Placement], tears: Sequence[Tear]
) -> tuple[Tear, ...]:
    """The same tears, those that must be cut marked so."""
    known = {piece.letter: piece for piece in pieces}
    spared = [spot.rect(known[spot.letter]) for spot in placements if not known[spot.letter].torn]
    return tuple(
        replace(tear, cut=_too_narrow(cloth, tear) or any(_edge_on(tear, rect) for rect in spared))
        for tear in tears
    )


def _too_narrow(cloth: Cloth, tear: Tear) -> bool:
    across = tear.direction is Direction.ACROSS
    return any(
        (side.along if across else side.across) < cloth.least_strip and not _bare(cloth, side)
        for side in (tear.falls, tear.stays)
    )


def _bare(cloth: Cloth, rect: Rect) -> bool:
    """Whether a part is nothing but squaring strip or selvedge, torn off however narrow."""
    usable = cloth.usable
    return rect.x1 <= 0 or rect.y1 <= usable.y0 or rect.y0 >= usable.y1


def _edge_on(tear: Tear, rect: Rect) -> bool:
    """Whether a piece within the part in hand has an edge on the tear's line."""
    if not tear.in_hand.holds(rect):
        return False
    edges = (rect.x0, rect.x1) if tear.direction is Direction.ACROSS else (rect.y0, rect.y1)
    return tear.at in edges
