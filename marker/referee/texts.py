"""Can every text of a record be printed, on a terminal and in a drawing?"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from typing import Any

from marker.record import Record
from marker.signs import spelled, unprintable

_MOST = 20
"""Texts told of one by one; the rest tell nothing new."""


def text_faults(record: Record) -> Iterator[str]:
    """Texts, wherever they stand, that hold a sign which can't be printed on one line."""
    told = 0
    for place, text in _texts("the record", record):
        if sign := unprintable(text):
            told += 1
            if told > _MOST:
                yield "More texts hold signs that can't be printed."
                return
            yield f"{place} holds {spelled(sign)}, which can't be printed."


def _texts(place: str, value: Any) -> Iterator[tuple[str, str]]:
    """Every text within a value, and what it is of."""
    if isinstance(value, str):
        yield place, value
    elif isinstance(value, tuple):
        for one in value:
            yield from _texts(place, one)
    elif is_dataclass(value):
        for each in fields(value):
            name = f"The {each.name} of a {type(value).__name__.lower()}"
            yield from _texts(name, getattr(value, each.name))
