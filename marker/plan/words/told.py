"""A line of the plan in words, and how tape readings are spelled in it."""

from __future__ import annotations

from dataclasses import dataclass

from marker.plan.words.runs import reading
from marker.units import System, is_rounded

MOST_READINGS = 6
"""More places than this in one line are too many to tick off; the line is parted."""


@dataclass(frozen=True)
class Step:
    """What one line of the plan says; it stands for the steps `first` to `last`.

    Numbers are those of the tears; lines to heed beside them have the number nought, and
    are led in by a word.
    """

    first: int
    last: int
    text: str
    lead: str = "first"

    @property
    def numbers(self) -> str:
        """The steps as they are told beside the text: "4", "6 to 11", "first" or "then"."""
        if not self.first:
            return self.lead
        return f"{self.first}" if self.first == self.last else f"{self.first} to {self.last}"


def readings(values: tuple[int, ...], units: System) -> str:
    """Tape readings in a row, the unit named once; an even row that prints exactly is told so."""
    step = values[0]
    even = all(value == step * (index + 1) for index, value in enumerate(values))
    if even and len(values) > MOST_READINGS // 2 and not is_rounded(step, units):
        each, end = reading(step, units), reading(values[-1], units)
        return f"every {each} to {end} {units.value}"
    shown = [reading(value, units) for value in values]
    head = ", ".join(shown[:-1])
    return (f"at {head} and " if head else "at ") + f"{shown[-1]} {units.value}"
