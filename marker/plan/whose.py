"""Whose piece is whose: in a case for several wearers a piece's letter is that of its wearer."""

from __future__ import annotations

import re
from collections.abc import Iterable

from marker.lay import Lay
from marker.piece import Piece
from marker.plan.lettering import clean
from marker.record import Record

NOBODY = "nobody in particular"
_NUMBERED = re.compile(r"([A-Z]+)[0-9]+")


def initial(letter: str) -> str:
    """The letter of the wearer in "A3"; empty where letters run through the whole case."""
    found = _NUMBERED.fullmatch(letter)
    return found[1] if found else ""


def wearers(record: Record) -> dict[str, str]:
    """Every wearer's name by her letter, in order; empty where there is but one."""
    return _names(record, record.lays)


def wearers_on(record: Record, lay: Lay) -> dict[str, str]:
    """Those of them who have a piece on one cloth."""
    return _names(record, (lay,))


def company(record: Record) -> bool:
    """Whether letters tell wearers apart: each piece is numbered under its wearer's letter."""
    pieces = [piece for lay in record.lays for piece in lay.pieces]
    return len({initial(piece.letter) for piece in pieces} - {""}) > 1 and _sorted_out(pieces)


def _sorted_out(pieces: Iterable[Piece]) -> bool:
    """Whether every letter stands for one wearer."""
    whose: dict[str, str] = {}
    return all(
        (found := initial(piece.letter)) and whose.setdefault(found, piece.wearer) == piece.wearer
        for piece in pieces
    )


def _names(record: Record, lays: Iterable[Lay]) -> dict[str, str]:
    if not company(record):
        return {}
    found = {
        initial(piece.letter): clean(piece.wearer) or NOBODY for lay in lays for piece in lay.pieces
    }
    return dict(sorted(found.items(), key=lambda one: (len(one[0]), one[0])))
