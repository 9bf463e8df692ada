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

HALF = 0.5
"""Part of the time that the torn lay gets; the other, which starts from it, has the rest."""


def either(cloth: Cloth, pieces: Sequence[Piece], limits: Limits) -> tuple[Lay, Lay | None]:
    """The shorter of both lays, and the other one; torn where neither is shorter.

    There is no other one where the torn lay is proved shortest, or one of both can't be made.
    Raises `CannotLay` where neither can.
    """
    began = monotonic()
    try:
        torn = lay(cloth, pieces, Mode.TEAR, replace(limits, seconds=HALF * limits.seconds))
    except CannotLay:
        return lay(cloth, pieces, Mode.SHEARS, limits.left(began)), None
    if torn.length == torn.bound:
        return torn, None
    try:
        cut = lay_nested(cloth, pieces, limits.left(began), torn.placements)
    except CannotLay:
        return torn, None
    if (cut.buy, cut.length) < (torn.buy, torn.length):
        return cut, torn
    return torn, cut
