"""Whose piece is whose: in a case for several wearers a piece's letter is that of its wearer."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable
from decimal import Decimal
from typing import Any

from marker.lay import Lay
from marker.piece import Piece
from marker.plan.drawing.lettering import clean
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


def shared(record: Record) -> tuple[Lay, ...]:
    """The lays of cloths of which several wearers are known to take something."""
    many = Counter(one.cloth for one in record.alone)
    return tuple(lay for lay in record.lays if many[lay.cloth.key] > 1)


def saved_data(record: Record, lay: Lay) -> dict[str, Any]:
    """A cloth's lay against those of each wearer alone, as plain data: lengths in units, costs."""
    each = [one for one in record.alone if one.cloth == lay.cloth.key]
    price = lay.cloth.price
    found: dict[str, Any] = {
        "cloth": lay.cloth.key,
        "buy": lay.buy,
        "lay_length": lay.length,
        "alone": {
            one.letter: {"buy": one.buy, "lay_length": one.length, "bound": one.bound}
            for one in each
        },
        "alone_buy": sum(one.buy for one in each),
        "alone_lay_length": sum(one.length for one in each),
    }
    if price and not lay.cloth.length:
        cost = sum((price.cost(one.buy) for one in each), Decimal(0))
        found |= {
            "cost": f"{price.cost(lay.buy):.2f}",
            "alone_cost": f"{cost:.2f}",
            "saved_cost": f"{cost - price.cost(lay.buy):.2f}",
            "currency": price.currency,
        }
    return found


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
