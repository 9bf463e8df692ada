"""Small changes to a lay, one entry at a time, for tests that put a fault into a good one."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from marker.lay import Lay


def moved(lay: Lay, at: int, /, **changes: Any) -> Lay:
    """The lay with one placement changed."""
    spots = list(lay.placements)
    spots[at] = replace(spots[at], **changes)
    return replace(lay, placements=tuple(spots))


def retorn(lay: Lay, at: int, /, **changes: Any) -> Lay:
    """The lay with one tear changed."""
    all_tears = list(lay.tears)
    all_tears[at] = replace(all_tears[at], **changes)
    return replace(lay, tears=tuple(all_tears))


def recut(lay: Lay, at: int, /, **changes: Any) -> Lay:
    """The lay with one piece of its list changed."""
    pieces = list(lay.pieces)
    pieces[at] = replace(pieces[at], **changes)
    return replace(lay, pieces=tuple(pieces))


def recloth(lay: Lay, **changes: Any) -> Lay:
    """The lay on a cloth with other figures."""
    return replace(lay, cloth=replace(lay.cloth, **changes))


def swapped(lay: Lay, one: int, other: int) -> Lay:
    """The lay with two placements changed over."""
    first, second = lay.placements[one], lay.placements[other]
    lay = moved(lay, one, x=second.x, y=second.y)
    return moved(lay, other, x=first.x, y=first.y)


def without(lay: Lay, field: str, at: int) -> Lay:
    """The lay with one entry of a list left out."""
    entries = getattr(lay, field)
    return replace(lay, **{field: entries[:at] + entries[at + 1 :]})


def again(lay: Lay, field: str, at: int) -> Lay:
    """The lay with one entry of a list given twice."""
    entries = getattr(lay, field)
    return replace(lay, **{field: (*entries, entries[at])})


def regoal(lay: Lay, at: int, /, **changes: Any) -> Lay:
    """The lay with one of its goals told otherwise."""
    goals = list(lay.goals)
    goals[at] = replace(goals[at], **changes)
    return replace(lay, goals=tuple(goals))
