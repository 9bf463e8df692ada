"""The four goals of a lay in words: what is reached, what bounds it, and how that is known."""

from __future__ import annotations

from dataclasses import dataclass

from marker.lay import Aim, Goal, Lay, Mode
from marker.units import (
    CM,
    INCH,
    Rounding,
    System,
    Units,
    beside,
    format_bought,
    format_length,
    set_fractions,
)


@dataclass(frozen=True)
class Line:
    """One goal: its name, value and bound as print shows them, and how the bound is known."""

    name: str
    value: str
    bound: str
    how: str
    proved: bool


def goal_lines(lay: Lay, units: Units) -> tuple[Line, ...]:
    """The goals in their order; nothing for a lay that records none."""
    return tuple(_line(lay, goal, units) for goal in lay.goals)


def goals_in_short(lay: Lay) -> str:
    """Which goals are still open, for a narrow column; empty for a lay that records none."""
    left = [goal_name(lay, goal.aim) for goal in lay.goals if not goal.proved]
    if lay.goals and not left:
        return "all proved"
    return f"open: {', '.join(left)}" if left else ""


def goal_name(lay: Lay, aim: Aim) -> str:
    """What a goal is called: cuts take the place of tears where shears are used."""
    if aim is Aim.TEARS and lay.regions:
        return "tears and cuts"
    if aim is Aim.TEARS:
        return "tears" if lay.mode is Mode.TEAR else "cuts"
    return {Aim.BUY: "to buy", Aim.LENGTH: "used", Aim.REMNANT: "largest remnant"}[aim]


def _line(lay: Lay, goal: Goal, units: Units) -> Line:
    spell = {Aim.BUY: _bought, Aim.LENGTH: _length, Aim.REMNANT: area, Aim.TEARS: _count}[goal.aim]
    value, bound = spell(goal.value, units), spell(goal.bound, units)
    if goal.aim is Aim.REMNANT and not goal.value:
        value = "none"
    if goal.proved:
        bound = f"{value}, proved"
    else:
        bound = f"at {'most' if goal.aim is Aim.REMNANT else 'least'} {bound}"
    return Line(goal_name(lay, goal.aim), value, bound, goal.bound_by, goal.proved)


def _bought(value: int, units: Units) -> str:
    return set_fractions(format_bought(value, units)) if value else "nothing"


def _length(value: int, units: Units) -> str:
    return set_fractions(format_length(value, units, Rounding.UP))


def _count(value: int, _: Units) -> str:
    return str(value)


def area(value: int, units: Units) -> str:
    """An area to the nearest whole square centimetre or square inch."""
    return beside(units, lambda system: _area(value, system))


def _area(value: int, system: System) -> str:
    side = CM if system is System.CM else INCH
    return f"{(2 * value + side * side) // (2 * side * side)} {system.value}²"
