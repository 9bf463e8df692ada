"""How print ought to spell lengths, reckoned anew: nothing here comes from the program.

A length is in units of 1/160 mm; print rounds it to a millimetre or an eighth of an inch.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from fractions import Fraction

GLYPHS = {"¼": "1/4", "½": "1/2", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
UNITS = {"cm": 1600, "in": 4064}
STEP = {"cm": 160, "in": 508}
"""What lengths are printed to."""
SHOP = {"cm": ("m", 1600, 100), "in": ("yd", 36 * 508, 8)}
"""What cloth is sold by: its name, the step it is told to, and how many make one."""
EIGHTHS = ("", "⅛", "¼", "⅜", "½", "⅝", "¾", "⅞")


def counted(number: int, system: str) -> str:
    """So many millimetres, or eighths of an inch, as print shows them."""
    if system == "cm":
        return f"{number // 10}.{number % 10}".removesuffix(".0")
    whole, rest = divmod(number, 8)
    return (f"{whole}" if whole or not rest else "") + EIGHTHS[rest]


def up(length: int, system: str) -> str:
    """A length that is cut or read off the tape."""
    return counted(-(-length // STEP[system]), system)


def down(length: int, system: str) -> str:
    """A length that is left."""
    return counted(length // STEP[system], system)


def bought(length: int, system: str) -> str:
    """A length as the shop is asked for it, with its unit."""
    unit, step, many = SHOP[system]
    whole, rest = divmod(-(-length // step), many)
    if system == "cm":
        return f"{whole}.{rest:02d} {unit}"
    return (f"{whole}" if whole or not rest else "") + EIGHTHS[rest] + f" {unit}"


def both_ways(lengths: Iterable[int], systems: Iterable[str]) -> set[str]:
    """All spellings of some lengths."""
    return {spell(at, s) for at in lengths for s in systems for spell in (up, down)}


def value(figure: str, unit: int) -> Fraction:
    """A figure's length, `unit` being that of its measure."""
    whole = re.match(r"\d*(?:\.\d+)?", figure)
    assert whole is not None
    part = figure[whole.end() :]
    return (Fraction(whole[0] or 0) + Fraction(GLYPHS.get(part, part) or 0)) * unit
