"""Which scraps share a page of the sheet, each drawn half as high as the paper."""

from __future__ import annotations

from marker.lay import Lay
from marker.record import Record
from marker.units import METRE

LONGEST = 3 * METRE // 2
"""A longer remnant is given a page of its own."""
MOST_PIECES = 12


def pairs(record: Record) -> tuple[tuple[Lay, Lay], ...]:
    """The small scraps that follow each other, two by two: their drawings share a page."""
    found: list[tuple[Lay, Lay]] = []
    waiting: Lay | None = None
    for lay in record.lays:
        if not _is_small(lay):
            waiting = None
        elif waiting is None:
            waiting = lay
        else:
            found.append((waiting, lay))
            waiting = None
    return tuple(found)


def _is_small(lay: Lay) -> bool:
    return 0 < lay.cloth.length <= LONGEST and len(lay.placements) <= MOST_PIECES
