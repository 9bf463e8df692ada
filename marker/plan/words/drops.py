"""Where a lay for shears can be cut right across, and what each drop between holds."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from marker.geometry import Rect
from marker.lay import Lay, Placement

Laid = tuple[Placement, Rect]
"""A copy, and the cloth that it takes: its own, or the box of a shaped one."""


@dataclass(frozen=True)
class Drop:
    """Cloth from selvedge to selvedge between two clear lines, and the copies that lie in it."""

    rect: Rect
    held: tuple[Laid, ...]


def copies(lay: Lay) -> tuple[Laid, ...]:
    """Every copy with its cloth, in the order of the lay."""
    pieces = {piece.letter: piece for piece in lay.pieces}
    return tuple((spot, spot.rect(pieces[spot.letter])) for spot in lay.placements)


def clear_lines(lay: Lay) -> tuple[int, ...]:
    """Every x at a piece's edge where a line right across meets no piece and no remnant."""
    rects = [rect for _, rect in copies(lay)]
    whole = rects + [offcut.rect for offcut in lay.offcuts if offcut.keep]
    edges = {x for rect in rects for x in (rect.x0, rect.x1)} | {0}
    inside = sorted(x for x in edges if lay.bolt.x0 < x < lay.bolt.x1)
    return tuple(x for x in inside if not any(rect.x0 < x < rect.x1 for rect in whole))


def drops(lay: Lay) -> tuple[Drop, ...]:
    """The bolt parted at every clear line, from the free end on."""
    laid, bolt = copies(lay), lay.bolt
    return tuple(
        Drop(
            Rect(low, bolt.y0, high, bolt.y1),
            tuple((spot, rect) for spot, rect in laid if low <= rect.x0 < high),
        )
        for low, high in pairwise((bolt.x0, *clear_lines(lay), bolt.x1))
    )
