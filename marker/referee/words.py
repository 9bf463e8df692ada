"""How the referee spells lengths, places and names in its sentences.

A fault may be one unit wide, so lengths are spelled exactly, in millimetres. Names and
figures come from a file that anybody may have written, so both are kept short and plain.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from marker.geometry import Rect
from marker.units import LONGEST, format_exact

_PLAIN = re.compile(r"[A-Za-z0-9][A-Za-z0-9_.-]{0,39}")
_SHOWN = 8
"""Names listed in one sentence before the rest are only counted."""


def spell(value: int) -> str:
    """Spell a length of any size and sign exactly, in millimetres."""
    if abs(value) > LONGEST:
        return "more than 1 km" if value > 0 else "less than -1 km"
    return f"-{format_exact(-value)}" if value < 0 else format_exact(value)


def span(low: int, high: int) -> str:
    """Spell a stretch from one reading to another."""
    return f"{spell(low)} to {spell(high)}"


def place(rect: Rect) -> str:
    """Spell where a rectangle lies: along the cloth, then across it."""
    return f"{span(rect.x0, rect.x1)} along and {span(rect.y0, rect.y1)} across"


def figure(value: int) -> str:
    """Spell a whole number; one that fills the line is only called large."""
    if abs(value) < 10**18:
        return f"{value}"
    return "a number beyond 18 digits"


def plain(name: str) -> str:
    """Give a name as it stands, or quoted and cut short where it isn't a plain one."""
    return name if _PLAIN.fullmatch(name) else repr(name[:40])


def several(names: Sequence[str]) -> str:
    """List names in a sentence: "A-1, A-2 and B-1", or "nothing"."""
    if not names:
        return "nothing"
    shown = [plain(name) for name in names[:_SHOWN]]
    if len(names) > _SHOWN:
        shown.append(f"{len(names) - _SHOWN} more")
    return " and ".join([", ".join(shown[:-1]), shown[-1]] if shown[1:] else shown)
