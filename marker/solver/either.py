"""Tear the straight pieces off first, or cut everything with shears: whichever is shorter."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from time import monotonic

from marker.cloth import Cloth
from marker.errors import CannotLay
from marker.lay import Lay, Mode
from marker.piece import Piece
from marker.solver.lays import Limits, lay
from marker.solver.nested import lay_nested
from marker.solver.stop import asked
from marker.units import MM

THIRD = 0.3
"""Part of the time that each of both lays gets; the rest goes into the shorter one."""
TIE = MM
"""So little that shears save is lost on the table: then the straight pieces are torn."""


def either(cloth: Cloth, pieces: Sequence[Piece], limits: Limits) -> tuple[Lay, Lay | None]:
    """The shorter of both lays, and the other one; torn where shears save next to nothing.

    There is no other one where the torn lay is proved shortest, one of both can't be made, or
    the user has asked to stop: then one was hardly searched, and nothing is said of it.
    Raises `CannotLay` where neither can.
    """
    began = monotonic()
    part = replace(limits, seconds=THIRD * limits.seconds)
    try:
        torn = lay(cloth, pieces, Mode.TEAR, part)
    except CannotLay:
        return lay(cloth, pieces, Mode.SHEARS, limits.left(began)), None
    if torn.length == torn.bound:
        return torn, None
    try:
        cut = lay_nested(cloth, pieces, part.now, torn.placements)
    except CannotLay:
        return torn, None
    # By count both have had all they get.
    more = limits.iterations is None and cut.length > cut.bound
    if _shorter(cut, torn):
        if more:
            cut = lay_nested(cloth, pieces, limits.left(began), cut.placements)
    elif more:
        torn = min(lay(cloth, pieces, Mode.TEAR, limits.left(began)), torn, key=_reaches)
    best, other = (cut, torn) if _shorter(cut, torn) else (torn, cut)
    return best, None if asked() else other


def _shorter(cut: Lay, torn: Lay) -> bool:
    """Whether shears save a step of what is bought, or some length worth the cutting."""
    return cut.buy < torn.buy or (cut.buy == torn.buy and cut.length < torn.length - TIE)


def _reaches(found: Lay) -> tuple[int, int]:
    return found.buy, found.length
