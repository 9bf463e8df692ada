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


SIXTEENTHS = ("", "¹⁄₁₆", "⅛", "³⁄₁₆", "¼", "⁵⁄₁₆", "⅜", "⁷⁄₁₆", "½", "⁹⁄₁₆", "⅝", "¹¹⁄₁₆", "¾",
              "¹³⁄₁₆", "⅞", "¹⁵⁄₁₆")  # fmt: skip


def near(length: Fraction | int, system: str) -> str:
    """A pleat or a place on the band: to the nearest millimetre, or 1/16 in; without its unit."""
    step = Fraction(160) if system == "cm" else Fraction(254)
    number = int(length / step + Fraction(1, 2))
    if system == "cm":
        return counted(number, system)
    whole, rest = divmod(number, 16)
    return (f"{whole}" if whole or not rest else "") + SIXTEENTHS[rest]


def stitch(length: Fraction | int, system: str) -> str:
    """A stitch with its unit: to 1/100 mm, from 1 cm on to 1/10 mm, or to 1/1000 in."""
    if system == "in":
        if (16 * length) % 4064 == 0:
            return f"{near(length, system)} in"
        return f"{_short(Fraction(length) / 4064, 3)} in"
    return f"{_short(Fraction(length) / 160, 2)} mm" if length < 1600 else (
        f"{_short(Fraction(length) / 1600, 2)} cm"
    )  # fmt: skip


def _short(value: Fraction, places: int) -> str:
    return f"{float(value):.{places}f}".rstrip("0").rstrip(".")


def mass(grams: Fraction, system: str) -> str:
    """A mass with its unit: grams and kilograms, or pounds and quarters of an ounce."""
    if system == "in":
        quarters = int(4 * grams / Fraction("28.349523125") + Fraction(1, 2))
        pounds, rest = divmod(quarters, 64)
        whole, part = divmod(rest, 4)
        ounces = (f"{whole}" if whole or not part else "") + ("", "¼", "½", "¾")[part]
        told = [f"{pounds} lb"] * bool(pounds) + [f"{ounces} oz"] * bool(rest)
        return " ".join(told) or ("under ¼ oz" if grams else "0 oz")
    whole = int(grams + Fraction(1, 2))
    if grams and not whole:
        return "under 1 g"
    return f"{whole} g" if whole < 1000 else f"{(whole + 5) // 10 / 100:.2f} kg"
