"""The words a case file is written in: typed values, read once and strictly.

Every value that can't be read is told as the end of a sentence; the reader of the file puts
the file and the key before it and, where the field has a description, the remedy after it.
"""

from __future__ import annotations

import re
import unicodedata
from typing import Annotated, Any, NoReturn

from pydantic import BaseModel, ConfigDict, PlainValidator
from pydantic_core import PydanticCustomError

from marker import units
from marker.errors import BadInput

LONGEST_TEXT = 200
LONGEST_KEY = 60
_KEY = re.compile(r"[A-Za-z0-9_-]+")
_UNPRINTABLE = frozenset({"Cc", "Cs", "Cn", "Zl", "Zp"})
_TURNS_TEXT = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
"""Characters that reverse the text after them: a title could hide what it says."""


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


def _breadth(value: Any) -> int | str:
    return "full" if value == "full" else _size(value)


def text_fault(value: str) -> str:
    """What keeps a text from being printed on one line; empty if nothing does."""
    if not value.strip():
        return "the text is empty; write a name"
    if len(value) > LONGEST_TEXT:
        return f"the text has {len(value)} characters; keep it to {LONGEST_TEXT}"
    for character in value:
        if unicodedata.category(character) in _UNPRINTABLE or character in _TURNS_TEXT:
            return (
                f"the text holds the control character U+{ord(character):04X}; "
                "take it out, it can't be printed"
            )
    return ""


def _text(value: Any) -> str:
    if not isinstance(value, str):
        refuse(f"{shown(value)} is not text; put it in quotes")
    if fault := text_fault(value):
        refuse(fault)
    return value.strip()


def is_key(text: str) -> bool:
    """Tell whether a key may stand in a file name: letters, digits, - and _, up to 60."""
    return len(text) <= LONGEST_KEY and _KEY.fullmatch(text) is not None


Length = Annotated[int, PlainValidator(_length)]
"""A length of nought or more, spelled with its unit; units of 1/160 mm once read."""

Size = Annotated[int, PlainValidator(_size)]
"""A length above nought."""

Breadth = Annotated[int | str, PlainValidator(_breadth)]
"""A length above nought, or "full" for the whole usable width of the cloth."""

Text = Annotated[str, PlainValidator(_text)]
"""One line of text that can be printed, up to 200 characters."""
