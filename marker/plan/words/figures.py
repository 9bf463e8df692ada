"""Lengths as the sheet prints them, with a star behind those that print rounds."""

from __future__ import annotations

from marker.lay import Lay
from marker.plan.words import phrases as words
from marker.units import (
    CM,
    YARD,
    Rounding,
    System,
    Units,
    beside,
    format_length,
    in_brackets,
    is_rounded,
    set_fractions,
)

STAR = "*"
"""Stands behind a figure that print shows rounded."""
STEPS = {System.CM: "1 mm", System.IN: "⅛ in"}
SHOP_STEPS = {System.CM: CM, System.IN: YARD // 8}
"""What lengths to buy are printed to."""


def step_words(units: Units) -> str:
    """What readings are rounded to, in a sentence."""
    said = {System.CM: "millimetre", System.IN: "⅛ in"}
    return " or ".join(said[system] for system in units.systems)


class Figures:
    """Lengths as print shows them; remembers whether one was rounded."""

    def __init__(self, units: Units) -> None:
        self.units = units
        self.rounded = False

    def up(self, value: int) -> str:
        """A length that is bought or cut: never printed short."""
        return self._set(value, Rounding.UP)

    def near(self, value: int) -> str:
        """A length that is only told."""
        return self._set(value, Rounding.NEAREST)

    def number(self, value: int, system: System) -> str:
        """A length that is only told, in one measure and without its unit."""
        return self._bare(self._one(value, system, Rounding.NEAREST), system)

    def each(self, value: int) -> tuple[str, ...]:
        """A cut size or a tape reading in every measure told, without its units."""
        return tuple(
            self._bare(self._one(value, system, Rounding.UP), system)
            for system in self.units.systems
        )

    def numbers(self, value: int) -> str:
        """The same in one line: "99", or "99 (39)"."""
        return in_brackets(*self.each(value))

    def size(self, length: int, breadth: int) -> str:
        """A cut size, the unit named once; where both measures are told, each on its own line."""
        return "\n".join(self._size(length, breadth, system) for system in self.units.systems)

    def _size(self, length: int, breadth: int, system: System) -> str:
        first = self._bare(self._one(length, system, Rounding.UP), system)
        return f"{first} × {self._one(breadth, system, Rounding.UP)}"

    def _bare(self, text: str, system: System) -> str:
        """A spelled length without its unit; the star of a rounded one stands behind the figure."""
        return text.replace(f" {system.value}", "")

    def bought(self, lay: Lay) -> str:
        """A length as the shop measures it."""
        return beside(
            self.units,
            lambda system: self._star(words.buy(lay, system), lay.buy % SHOP_STEPS[system] != 0),
        )

    def note(self) -> str:
        """What the mark behind a rounded figure means; empty if none was rounded."""
        if not self.rounded:
            return ""
        step = " or ".join(STEPS[system] for system in self.units.systems)
        return f"{STAR} rounded in print to {step}; what is bought or cut is rounded up."

    def _set(self, value: int, rounding: Rounding) -> str:
        return beside(self.units, lambda system: self._one(value, system, rounding))

    def _one(self, value: int, system: System, rounding: Rounding) -> str:
        text = set_fractions(format_length(value, system, rounding))
        return self._star(text, is_rounded(value, system))

    def _star(self, text: str, rounded: bool) -> str:
        self.rounded = self.rounded or rounded
        return set_fractions(text) + (STAR if rounded else "")
