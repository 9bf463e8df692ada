"""Signs that can't be printed: no drawing holds them, and no terminal gets them raw.

A name comes from a file that anybody may have written. A control character in it can move the
cursor, change colours or hide a line, and makes an SVG no XML; and some signs turn the text after
them about, so that it says something else than it seems to.
"""

from __future__ import annotations

import unicodedata

_UNPRINTABLE = frozenset({"Cc", "Cs", "Cn", "Zl", "Zp"})
_TURNS_TEXT = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")


def unprintable(text: str) -> str:
    """The first sign of a text that can't be printed on a line; empty where all can."""
    return next((sign for sign in text if _is_unprintable(sign)), "")


def spelled(sign: str) -> str:
    """A sign by its number, as U+0007."""
    return f"U+{ord(sign):04X}"


def harmless(text: str) -> str:
    """The text with every such sign spelled out, as \\x1b."""
    if not unprintable(text):
        return text
    return "".join(ascii(sign)[1:-1] if _is_unprintable(sign) else sign for sign in text)


def _is_unprintable(sign: str) -> bool:
    return unicodedata.category(sign) in _UNPRINTABLE or sign in _TURNS_TEXT
