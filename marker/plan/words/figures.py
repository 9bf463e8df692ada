"""Lengths as the sheet prints them, with a star behind those that print rounds."""

from __future__ import annotations

from marker.lay import Lay
from marker.plan.words import phrases as words
from marker.units import CM, YARD, Rounding, System, format_length, is_rounded, set_fractions

STAR = "*"
"""Stands behind a figure that print shows rounded."""


class Figures:
    """Lengths as print shows them; remembers whether one was rounded."""

    def __init__(self, units: System) -> None:
        self.units = units
        self.rounded = False

    def up(self, value: int) -> str:
        """A length that is bought or cut: never printed short."""
        return self._set(value, Rounding.UP)

    def near(self, value: int) -> str:
        """A length that is only told."""
        return self._set(value, Rounding.NEAREST)

    def size(self, length: int, breadth: int) -> str:
        """A cut size, the unit named once."""
        first = self.up(length).replace(f" {self.units.value}", "")
        return f"{first} × {self.up(breadth)}"

    def bought(self, lay: Lay) -> str:
        """A length as the shop measures it."""
        grid = CM if self.units is System.CM else YARD // 8
        return self._star(words.buy(lay, self.units), lay.buy % grid != 0)

    def note(self) -> str:
        """What the mark behind a rounded figure means; empty if none was rounded."""
        if not self.rounded:
            return ""
        step = "1 mm" if self.units is System.CM else "⅛ in"
        return f"{STAR} rounded in print to {step}; what is bought or cut is rounded up."

    def _set(self, value: int, rounding: Rounding) -> str:
        text = set_fractions(format_length(value, self.units, rounding))
        return self._star(text, is_rounded(value, self.units))

    def _star(self, text: str, rounded: bool) -> str:
        self.rounded = self.rounded or rounded
        return set_fractions(text) + (STAR if rounded else "")
