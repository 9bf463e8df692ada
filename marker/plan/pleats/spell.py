"""How lengths of stitches and pleats are spelled: finer than cloth, and rounded only in print."""

from __future__ import annotations

from fractions import Fraction

from marker.units import (
    CM,
    INCH,
    MM,
    System,
    Units,
    beside,
    format_length,
    nearest,
    set_fractions,
)


def near(value: Fraction | int, units: Units) -> str:
    """A length to the nearest millimetre, or 1/16 in."""
    return set_fractions(format_length(nearest(Fraction(value)), units, fine=True))


def fine(value: Fraction | int, units: Units) -> str:
    """A stitch, a pleat or a thickness: to 1/100 mm, from 1 cm on to 1/10 mm, or to 1/1000 in.

    Whole sixteenths of an inch are spelled as such.
    """
    return beside(units, lambda system: _fine(value, system))


def measured(value: Fraction | int, units: Units) -> str:
    """A fold as a tape reads it, and beside it what it is reckoned to be where that differs."""
    return beside(units, lambda system: _measured(value, system))


def _measured(value: Fraction | int, system: System) -> str:
    read, reckoned = near(value, system), _fine(value, system)
    finer = (
        reckoned if system is System.IN or value >= CM else f"{_short(Fraction(value) / CM, 3)} cm"
    )
    return read if read == finer else f"{read}, reckoned {finer}"


def _fine(value: Fraction | int, system: System) -> str:
    if system is System.IN:
        if (16 * value) % INCH == 0:
            return near(value, system)
        return f"{_short(Fraction(value) / INCH, 3)} in"
    if value < CM:
        return f"{_short(Fraction(value) / MM, 2)} mm"
    return f"{_short(Fraction(value) / CM, 2)} cm"


def _short(value: Fraction, places: int) -> str:
    """A decimal without noughts at its end."""
    return f"{float(value):.{places}f}".rstrip("0").rstrip(".")


def number(value: Fraction | float) -> str:
    """A number of pleats, to a tenth where it isn't whole."""
    return f"{float(value):.1f}".removesuffix(".0")


def unit(units: Units) -> tuple[int, str]:
    """The length of band that pleats are counted on, and its name."""
    return (INCH, "1 in") if units.lead is System.IN else (10 * CM, "10 cm")
