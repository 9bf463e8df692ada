"""Exact lengths: parse once, count in integers, round only in print and by name.

Every length in the project is an `int` of 1/160 mm, the coarsest unit in which
1 mm (160), 1 inch (4064) and 1/32 inch (127) are all whole numbers.
1 yard = 0.9144 m exactly (international yard and pound agreement, 1959; from memory).
"""

from __future__ import annotations

import re
from enum import StrEnum
from fractions import Fraction

from marker.errors import BadInput

MM = 160
CM = 10 * MM
METRE = 1000 * MM
INCH = 4064
FOOT = 12 * INCH
YARD = 36 * INCH
LONGEST = 1000 * METRE
"""Longer than any bolt: a larger figure is a slip of the pen, and is refused."""

UNITS = {
    "mm": MM, "cm": CM, "m": METRE,
    "in": INCH, "inch": INCH, "inches": INCH, '"': INCH, "\u2033": INCH,
    "ft": FOOT, "foot": FOOT, "feet": FOOT, "'": FOOT, "\u2032": FOOT,
    "yd": YARD, "yds": YARD, "yard": YARD, "yards": YARD,
}  # fmt: skip
METRIC = frozenset({MM, CM, METRE})
CHOICE = '"108 cm", "1080 mm", "1.08 m", "42 1/2 in", "3 ft 6 1/2 in" or "1 3/8 yd"'

VULGAR = {
    "½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
    "⅓": "1/3", "⅔": "2/3",
}  # fmt: skip
GLYPH = {Fraction(text): glyph for glyph, text in VULGAR.items()}

_NUMBER = r"(?:\d{1,12}\s+\d{1,6}/\d{1,6}|\d{1,6}/\d{1,6}|\d{0,12}\.\d{1,12}|\d{1,12}\.?)"
_TERM = re.compile(rf"\s*({_NUMBER})\s*([a-z]+|[\"'\u2032\u2033])", re.ASCII)


class System(StrEnum):
    """The measure that print is set in."""

    CM = "cm"
    IN = "in"


class Rounding(StrEnum):
    """Named roundings: what is bought or cut goes up, what is only told goes to the nearest."""

    UP = "up"
    NEAREST = "nearest"


def parse(text: str) -> int:
    """Read a length into units of 1/160 mm, to the nearest unit.

    Takes whole, decimal, fractional and mixed numbers with mm, cm, m, in, ft or yd, and
    sums of falling units of one system ("3 ft 6 1/2 in"). Raises `BadInput` with a sentence
    that shows how to write it.
    """
    if not text.strip():
        raise BadInput(f"a length is missing; write it as {CHOICE}")
    terms = _terms(text)
    scales = [scale for _, scale in terms]
    same_system = len({scale in METRIC for scale in scales}) == 1
    if not same_system or scales != sorted(set(scales), reverse=True):
        raise BadInput(f"{text!r} mixes its units; write the larger first, as in {CHOICE}")
    total = sum((number * scale for number, scale in terms), Fraction(0))
    if total > LONGEST:
        raise BadInput(f"{text!r} is longer than 1 km; no cloth is, so check the figure")
    return nearest(total)


def _terms(text: str) -> list[tuple[Fraction, int]]:
    """Split a spelled length into (number, scale) pairs; say what is wrong if it will not."""
    plain = text.strip().lower()
    for glyph, fraction in VULGAR.items():
        plain = plain.replace(glyph, f" {fraction}")
    plain = plain.strip()
    terms, at = [], 0
    while at < len(plain):
        match = _TERM.match(plain, at)
        if match is None or match[2] not in UNITS:
            raise BadInput(_complaint(text, plain))
        terms.append((_number(match[1], text), UNITS[match[2]]))
        at = match.end()
    return terms


def _number(text: str, whole: str) -> Fraction:
    try:
        return sum((Fraction(part) for part in text.split()), Fraction(0))
    except ZeroDivisionError:
        raise BadInput(f"{whole!r} divides by nothing; write it as {CHOICE}") from None


def _complaint(text: str, plain: str) -> str:
    """Say in one sentence why a spelling is not a length."""
    shown = text if len(text) <= 40 else text[:37] + "..."
    if re.fullmatch(_NUMBER, plain):
        return f"{shown!r} has no unit; write it as {CHOICE}"
    if plain.startswith("-"):
        return f"{shown!r} is negative; a length is zero or more, such as {CHOICE}"
    if re.search(r"\d,\d", plain):
        return f"{shown!r} has a comma; write a decimal point, as in {CHOICE}"
    return f"{shown!r} is not a length; write it as {CHOICE}"


def nearest(value: Fraction) -> int:
    """Round to the nearest whole number, halves up."""
    return int((value + Fraction(1, 2)) // 1)


def ceil_to(value: int, step: int) -> int:
    """Round up to the next whole multiple of `step`."""
    return -(-value // step) * step


def round_to(value: int, step: Fraction, rounding: Rounding) -> Fraction:
    """Round to a multiple of `step` (units) by a named rounding; exact result."""
    count = Fraction(value) / step
    whole = -(-count // 1) if rounding is Rounding.UP else nearest(count)
    return whole * step


def format_exact(value: int) -> str:
    """Spell a length in millimetres with every digit, so that `parse` gives it back."""
    whole, rest = divmod(value, MM)
    digits = f"{rest * 100_000 // MM:05d}".rstrip("0")
    return f"{whole}.{digits} mm" if digits else f"{whole} mm"


def format_length(
    value: int, system: System, rounding: Rounding = Rounding.NEAREST, *, fine: bool = False
) -> str:
    """Spell a cloth length: centimetres to the millimetre, inches to 1/8 (1/16 if `fine`)."""
    return f"{format_number(value, system, rounding, fine=fine)} {system.value}"


def format_number(
    value: int, system: System, rounding: Rounding = Rounding.NEAREST, *, fine: bool = False
) -> str:
    """As `format_length`, without the unit, for tables and tape marks."""
    if system is System.IN:
        step = Fraction(INCH, 16 if fine else 8)
        return _mixed(round_to(value, step, rounding) / INCH)
    tenths = int(round_to(value, Fraction(MM), rounding)) // MM
    return f"{tenths // 10}.{tenths % 10}" if tenths % 10 else f"{tenths // 10}"


def format_bought(value: int, system: System) -> str:
    """Spell a length of cloth as the shop does, rounded up: 3.40 m, or 3 5/8 yd."""
    if system is System.IN:
        return f"{_mixed(round_to(value, Fraction(YARD, 8), Rounding.UP) / YARD)} yd"
    centimetres = int(round_to(value, Fraction(CM), Rounding.UP)) // CM
    return f"{centimetres // 100}.{centimetres % 100:02d} m"


def is_rounded(value: int, system: System, *, fine: bool = False) -> bool:
    """Tell whether print in this system shows the length rounded."""
    step = Fraction(INCH, 16 if fine else 8) if system is System.IN else Fraction(MM)
    return round_to(value, step, Rounding.NEAREST) != value


def _mixed(value: Fraction) -> str:
    whole, rest = divmod(value, 1)
    if not rest:
        return f"{whole}"
    fraction = f"{rest.numerator}/{rest.denominator}"
    return f"{whole} {fraction}" if whole else fraction


def set_fractions(text: str) -> str:
    """Set the eighths, quarters and halves of a spelled length as single glyphs: 42½ in."""

    def glyph(match: re.Match[str]) -> str:
        found = GLYPH.get(Fraction(match[2]))
        if found is None:
            return match[0]
        return (match[1] or "") + found

    return re.sub(r"(?:(\d+) )?\b(\d{1,2}/\d{1,2})\b", glyph, text)
