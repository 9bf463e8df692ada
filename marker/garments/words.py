"""The words a case file is written in: typed values, read once and strictly.

Every value that can't be read is told as the end of a sentence; the reader of the file puts
the file and the key before it and, where the field has a description, the remedy after it.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date, time
from fractions import Fraction
from typing import Annotated, Any, NoReturn

from pydantic import BaseModel, ConfigDict, PlainValidator
from pydantic_core import PydanticCustomError

from marker import units
from marker.errors import BadInput
from marker.signs import spelled, unprintable

LONGEST_TEXT = 200
LONGEST_KEY = 60
MOST_STRIPS = 1000
SPAN = 'such as ["66 cm", "74 cm"]'
MOST_TIMES = 20
_KEY = re.compile(r"[A-Za-z0-9_-]+")
_TIMES = re.compile(r"(\d{1,3})(?:\.(\d{1,6})|\s+(\d{1,3})/(\d{1,3}))?", re.ASCII)


class Strict(BaseModel):
    """A table of a case file: no key but those it knows, no value of another type."""

    model_config = ConfigDict(extra="forbid", frozen=True, strict=True)


def refuse(text: str) -> NoReturn:
    """Refuse a value from inside a validator; `text` is the whole complaint."""
    raise PydanticCustomError("said", "{text}", {"text": text})


def shown(value: object) -> str:
    """A value as a message shows it: on one line, and short."""
    try:
        text = str(value).lower() if isinstance(value, bool) else repr(value)
        if isinstance(value, date | time):  # a datetime is a date
            text = value.isoformat()
    except ValueError:  # a whole number of more digits than Python will print
        text = "a very long number"
    return text if len(text) <= 60 else text[:57] + "..."


def _length(value: Any) -> int:
    if isinstance(value, bool) or not isinstance(value, str | int | float):
        refuse(f"{shown(value)} is not a length; write it as {units.CHOICE}")
    try:
        text = value if isinstance(value, str) else shown(value)
        return units.parse(text)
    except BadInput as error:
        refuse(str(error))


def _size(value: Any) -> int:
    length = _length(value)
    if length == 0:
        refuse(f"{shown(value)} is nothing; give a length above nought")
    return length


def _span(value: Any) -> tuple[int, int]:
    """Two places, the nearer first."""
    if not isinstance(value, list) or len(value) != 2:
        refuse(f"{shown(value)} is not a stretch; write where it begins and ends, {SPAN}")
    begins, ends = (_length(end) for end in value)
    if begins >= ends:
        refuse(f"{shown(value)} does not run onwards; write the smaller figure first, {SPAN}")
    return begins, ends


def _breadth(value: Any) -> int | str | tuple[int, int | str]:
    if not isinstance(value, list):
        return _width(value)
    if len(value) != 2:
        refuse(f"{shown(value)} is not a width; write one, or the least and the greatest, {SPAN}")
    low, high = _size(value[0]), "full" if value[1] == "full" else _size(value[1])
    if isinstance(high, int) and low > high:
        refuse(f"{shown(value)} runs backwards; write the smaller width first, {SPAN}")
    return low, high


def _width(value: Any) -> int | str:
    return "full" if value == "full" else _size(value)


def _strips(value: Any) -> int | str:
    if value == "free":
        return "free"
    if isinstance(value, bool) or not isinstance(value, int) or not 1 <= value <= MOST_STRIPS:
        refuse(
            f"{shown(value)} is not a number of strips; write a whole number from 1 to "
            f'{MOST_STRIPS}, or "free" where their number and lengths are open'
        )
    return value


def _counts(value: Any) -> tuple[int, ...]:
    found = tuple(value) if isinstance(value, list) else (value,)
    for count in found:
        if isinstance(count, bool) or not isinstance(count, int) or not 1 <= count <= MOST_STRIPS:
            refuse(
                f"{shown(count)} is not a number of strips; write a whole number from 1 to "
                f"{MOST_STRIPS}, or a list of them to compare"
            )
    if not found or len(set(found)) < len(found):
        refuse(f"{shown(value)} is empty or names one twice; name each once")
    return found


def _times(value: Any) -> Fraction:
    number = isinstance(value, str | int | float) and not isinstance(value, bool)
    text = value if isinstance(value, str) else shown(value)
    match = _TIMES.fullmatch(text.strip()) if number else None
    times = Fraction(0)
    if match and int(match[4] or 1):
        times = int(match[1]) + (
            Fraction(int(match[3]), int(match[4])) if match[3] else Fraction(f"0.{match[2] or 0}")
        )
    if not 1 <= times <= MOST_TIMES:
        refuse(
            f"{shown(value)} is not how many times as long it is; write a number from 1 to "
            f'{MOST_TIMES}, such as 1.5 or "1 1/2"'
        )
    return times


def text_fault(value: str) -> str:
    """What keeps a text from being printed on one line; empty if nothing does."""
    if not value.strip():
        return "the text is empty; write a name"
    if len(value) > LONGEST_TEXT:
        return f"the text has {len(value)} characters; keep it to {LONGEST_TEXT}"
    if sign := unprintable(value):
        told = f"the text holds the control character {spelled(sign)}"
        return f"{told}; take it out, it can't be printed"
    return ""


def _text(value: Any) -> str:
    if not isinstance(value, str):
        refuse(f"{shown(value)} is not text; put it in quotes")
    if fault := text_fault(value):
        refuse(fault)
    return value.strip()


def _texts(value: Any) -> tuple[str, ...]:
    if not isinstance(value, list):
        return (_text(value),)
    found = tuple(_text(entry) for entry in value)
    if not found or len(set(found)) < len(found):
        refuse(f"{shown(value)} is empty or names one twice; name each once")
    return found


def picks(*words: str) -> Callable[[Any], tuple[str, ...]]:
    """A validator of one of these words, or of a list of several different ones to compare."""
    known = ", ".join(f'"{word}"' for word in words)

    def check(value: Any) -> tuple[str, ...]:
        found = tuple(value) if isinstance(value, list) else (value,)
        for word in found:
            if word not in words:
                refuse(f"{shown(word)} is not among the ways; write one of {known}, or a list")
        if not found or len(set(found)) < len(found):
            refuse(f"{shown(value)} is empty or names one twice; name each once")
        return found

    return check


def is_key(text: str) -> bool:
    """Tell whether a key may stand in a file name: letters, digits, - and _, up to 60."""
    return len(text) <= LONGEST_KEY and _KEY.fullmatch(text) is not None


Length = Annotated[int, PlainValidator(_length)]
"""A length of nought or more, spelled with its unit; units of 1/160 mm once read."""

Size = Annotated[int, PlainValidator(_size)]
"""A length above nought."""

Span = Annotated[tuple[int, int], PlainValidator(_span)]
"""A stretch from one length to a greater one, as a list of two."""

Width = Annotated[int | str, PlainValidator(_width)]
"""A length above nought, or "full" for the whole usable width of the cloth."""

Breadth = Annotated[int | str | tuple[int, int | str], PlainValidator(_breadth)]
"""A length above nought, or "full" for the whole usable width of the cloth; or a list of the
least and the greatest, the greatest of which may be "full"."""

Strips = Annotated[int | str, PlainValidator(_strips)]
"""A number of strips from 1 to 1000, or "free"."""

Counts = Annotated[tuple[int, ...], PlainValidator(_counts)]
"""A number of strips from 1 to 1000, or a list of several different ones to compare."""

Times = Annotated[Fraction, PlainValidator(_times)]
"""How many times as long one edge is as another: 1.5, or "1 1/2"; from 1 to 20."""

Text = Annotated[str, PlainValidator(_text)]
"""One line of text that can be printed, up to 200 characters."""

Texts = Annotated[tuple[str, ...], PlainValidator(_texts)]
"""One text, or a list of several different ones."""
