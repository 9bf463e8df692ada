"""Exact lengths: parse once, count in integers, round only in print and by name.

Every length in the project is an `int` of 1/160 mm, the coarsest unit in which
1 mm (160), 1 inch (4064) and 1/32 inch (127) are all whole numbers.
1 yard = 0.9144 m exactly (international yard and pound agreement, 1959; from memory).
"""

from __future__ import annotations

import re
from collections.abc import Callable
from enum import StrEnum
from fractions import Fraction

from marker.errors import BadInput

MM = 160
CM = 10 * MM
METRE = 1000 * MM
INCH = 4064
FOOT = 12 * INCH
YARD = 36 * INCH
OUNCE = Fraction(28349523125, 10**9)
"""One avoirdupois ounce in grams, exactly (yard and pound agreement, 1959; from memory)."""
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
ABOVE, SLASH, BELOW = "⁰¹²³⁴⁵⁶⁷⁸⁹", "\u2044", "₀₁₂₃₄₅₆₇₈₉"
"""What a fraction without a glyph of its own is built from: 5/16 is ⁵⁄₁₆."""
BUILT = frozenset({16, 32})
"""The parts of an inch that such fractions are of."""

_NUMBER = r"(?:\d{1,12}\s+\d{1,6}/\d{1,6}|\d{1,6}/\d{1,6}|\d{0,12}\.\d{1,12}|\d{1,12}\.?)"
_ABOVE, _BELOW = (str.maketrans("0123456789", digits) for digits in (ABOVE, BELOW))
_PLAIN = str.maketrans(ABOVE + SLASH + BELOW, "0123456789/0123456789")
_AS_BUILT = re.compile(f"[{ABOVE}]+{SLASH}[{BELOW}]+")
_TERM = re.compile(rf"\s*({_NUMBER})\s*([a-z]+|[\"'\u2032\u2033])", re.ASCII)


class System(StrEnum):
    """One measure: centimetres or inches."""

    CM = "cm"
    IN = "in"

    @property
    def lead(self) -> System:
        """The measure itself, which no other stands beside."""
        return self

    @property
    def systems(self) -> tuple[System, ...]:
        """The measure alone."""
        return (self,)


class Both(StrEnum):
    """Both measures side by side; usual sizes and steps follow the one named first."""

    CM_IN = "cm and in"
    IN_CM = "in and cm"

    @property
    def lead(self) -> System:
        """The measure that is told first."""
        return self.systems[0]

    @property
    def systems(self) -> tuple[System, ...]:
        """The two measures in their order."""
        return tuple(System(part) for part in self.value.split(" and "))


Units = System | Both
"""What print is set in: one measure, or both."""

SPELLED: dict[str, Units] = {"both": Both.CM_IN, **{each.value: each for each in (*System, *Both)}}
"""How a case file says what to print in."""


SHOP = {System.CM: "m", System.IN: "yd"}
"""What shops measure cloth in."""


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
    plain = _AS_BUILT.sub(lambda built: " " + built[0].translate(_PLAIN), plain).strip()
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


def beside(units: Units, spell: Callable[[System], str]) -> str:
    """What `spell` says in each measure: "99 cm", or "99 cm (39 in)" where both are asked for."""
    return in_brackets(*(spell(system) for system in units.systems))


def in_brackets(first: str, *others: str) -> str:
    """What is told first, and the rest in brackets behind it."""
    return f"{first} ({', '.join(others)})" if others else first


def format_length(
    value: int, units: Units, rounding: Rounding = Rounding.NEAREST, *, fine: bool = False
) -> str:
    """Spell a cloth length: centimetres to the millimetre, inches to 1/8 (1/16 if `fine`)."""
    return beside(
        units, lambda system: f"{format_number(value, system, rounding, fine=fine)} {system.value}"
    )


def format_number(
    value: int, system: System, rounding: Rounding = Rounding.NEAREST, *, fine: bool = False
) -> str:
    """As `format_length` in one measure, without the unit, for tables and tape marks."""
    told = round_to(value, Fraction(print_step(system, fine=fine)), rounding)
    if system is System.IN:
        return _mixed(told / INCH)
    tenths = int(told) // MM
    return f"{tenths // 10}.{tenths % 10}" if tenths % 10 else f"{tenths // 10}"


def format_bought(value: int, units: Units) -> str:
    """Spell a length of cloth as the shop does, rounded up: 3.40 m, or 3 5/8 yd."""
    return beside(units, lambda system: f"{format_bought_number(value, system)} {SHOP[system]}")


def format_bought_number(value: int, system: System) -> str:
    """As `format_bought` in one measure, without the unit."""
    if system is System.IN:
        return _mixed(round_to(value, Fraction(YARD, 8), Rounding.UP) / YARD)
    centimetres = int(round_to(value, Fraction(CM), Rounding.UP)) // CM
    return f"{centimetres // 100}.{centimetres % 100:02d}"


def format_mass(grams: Fraction | int, units: Units, *, coarse: bool = False) -> str:
    """Spell a mass: grams, from 1,000 on kilograms; or pounds and ounces, to a quarter ounce.

    A `coarse` one is told in kilograms or pounds alone, to a tenth. What rounds to nothing is
    told as less than the least that is told.
    """
    spell = _coarse_mass if coarse else _mass
    return beside(units, lambda system: spell(Fraction(grams), system))


def _mass(grams: Fraction, system: System) -> str:
    if system is System.IN:
        quarters = nearest(4 * grams / OUNCE)
        pounds, ounces = divmod(Fraction(quarters, 4), 16)
        told = [f"{pounds} lb"] if pounds else []
        told += [f"{_mixed(ounces)} oz"] if ounces or not (pounds or grams) else []
        return " ".join(told) or "under 1/4 oz"
    whole = nearest(grams)
    if grams and not whole:
        return "under 1 g"
    return f"{whole} g" if whole < 1000 else f"{(whole + 5) // 10 / 100:.2f} kg"


def _coarse_mass(grams: Fraction, system: System) -> str:
    unit, name = (16 * OUNCE, "lb") if system is System.IN else (Fraction(1000), "kg")
    return f"{nearest(10 * grams / unit) / 10:.1f} {name}".replace(".0 ", " ")


def is_rounded(value: int, units: Units, *, fine: bool = False) -> bool:
    """Tell whether print in these units shows the length rounded."""
    return any(value % print_step(system, fine=fine) for system in units.systems)


def print_step(system: System, *, fine: bool = False) -> int:
    """The step that print rounds to: 1 mm, or 1/8 in (1/16 if `fine`)."""
    return INCH // (16 if fine else 8) if system is System.IN else MM


def _mixed(value: Fraction) -> str:
    whole, rest = divmod(value, 1)
    if not rest:
        return f"{whole}"
    fraction = f"{rest.numerator}/{rest.denominator}"
    return f"{whole} {fraction}" if whole else fraction


def set_fractions(text: str) -> str:
    """Set the fractions of a spelled length as real ones: 42½ in, ⁵⁄₁₆ in.

    Other figures with a stroke between them, such as a day and a month, stay as they are.
    """

    def real(match: re.Match[str]) -> str:
        above, below = match[2], match[3]
        found = GLYPH.get(Fraction(int(above), int(below))) if int(below) else None
        if found is None and int(below) in BUILT and int(above) < int(below):
            found = above.translate(_ABOVE) + SLASH + below.translate(_BELOW)
        return match[0] if found is None else (match[1] or "") + found

    return re.sub(r"(?:(\d+) )?\b(\d{1,2})/(\d{1,2})\b", real, text)
