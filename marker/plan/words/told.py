"""A line of the plan in words, and how tape readings are spelled in it."""

from __future__ import annotations

from dataclasses import dataclass

from marker.plan.words.runs import reading
from marker.units import System, Units, in_brackets, is_rounded

MOST_READINGS = 6
"""More places than this in one line are too many to tick off; the line is parted."""


@dataclass(frozen=True)
class Step:
    """What one line of the plan says; it stands for the steps `first` to `last`.

    Numbers are those of the tears; lines to heed beside them have the number nought, and
    are led in by a word. `sums` are the running sums along the bolt, one for each tear or cut
    right across it, in the order of the readings; the sheet prints them beside the step.
    """

    first: int
    last: int
    text: str
    lead: str = "first"
    sums: tuple[str, ...] = ()

    @property
    def numbers(self) -> str:
        """The steps as they are told beside the text: "4", "6 to 11", "first" or "then"."""
        if not self.first:
            return self.lead
        return f"{self.first}" if self.first == self.last else f"{self.first} to {self.last}"


def readings(values: tuple[int, ...], units: Units) -> str:
    """Tape readings in a row, the unit named once; an even row that prints exactly is told so."""
    lead, *also = (_readings(values, system) for system in units.systems)
    if also and lead.startswith("at "):
        also = [told.removeprefix("at ") for told in also]
    return in_brackets(lead, *also)


def _readings(values: tuple[int, ...], system: System) -> str:
    step = values[0]
    even = all(value == step * (index + 1) for index, value in enumerate(values))
    if even and len(values) > MOST_READINGS // 2 and not is_rounded(step, system):
        each, end = reading(step, system), reading(values[-1], system)
        return f"every {each} to {end} {system.value}"
    shown = [reading(value, system) for value in values]
    head = ", ".join(shown[:-1])
    return (f"at {head} and " if head else "at ") + f"{shown[-1]} {system.value}"
