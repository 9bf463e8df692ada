"""What of a lay is laid afresh in a round of betterment, and what is kept as it is."""

from __future__ import annotations

from collections.abc import Sequence
from random import Random

from marker.geometry import Rect
from marker.solver.rules.model import box
from marker.solver.rules.question import Spot
from marker.solver.separate import clusters

FREE = 10
"""Copies that one round of betterment lays afresh."""
UNIT = 6
"""A part of a lay of so few pieces is not parted any further along the cloth's length."""


def parts(spots: Sequence[Spot], most: int = UNIT) -> list[tuple[Spot, ...]]:
    """A lay parted along free lines, until no part holds more than `most` pieces, or none does."""
    rects = [spot.rect for spot in spots]
    for axis in (0, 1):
        groups = clusters(rects, range(len(rects)), axis)
        if len(groups) > 1 and (len(spots) > most or axis == 0):
            return [part for group in groups for part in parts([spots[at] for at in group], most)]
    return [tuple(spots)]


def window(spots: Sequence[Spot], random: Random) -> tuple[list[Spot], list[tuple[Spot, ...]]]:
    """Spots to lay afresh, out of parts picked at random or close together, and what is kept."""
    all_parts = parts(spots)
    picked = random.sample(all_parts, len(all_parts))
    if random.random() < 0.6:
        at = box(picked[0])
        picked.sort(key=lambda spots: abs(box(spots).x0 - at.x0))
    free: list[Spot] = []
    kept: list[tuple[Spot, ...]] = []
    for each in picked:
        if not free or len(free) + len(each) <= FREE:
            free += each
        else:
            kept.append(each)
    kept.sort(key=box)
    return free, _together(kept) if random.random() < 0.7 else kept


def _together(kept: Sequence[tuple[Spot, ...]]) -> list[tuple[Spot, ...]]:
    """Kept parts joined where one follows the other without a gap: a smaller model."""
    joined: list[tuple[Spot, ...]] = []
    for spots in kept:
        rect = box(spots)
        for at, other in enumerate(joined):
            last = box(other)
            if last.x1 == rect.x0 and (last.y0, last.y1) == (rect.y0, rect.y1):
                joined[at] = (*other, *spots)
                break
        else:
            joined.append(spots)
    return joined


def room(spots: Sequence[Spot], whole: Rect, random: Random) -> tuple[list[Spot], Rect]:
    """Pieces that lie together, and the room about them that nothing else reaches into.

    The lay is parted again and again along free lines, and at some depth a run of parts side by
    side is taken that has enough pieces to gain by, and few enough to lay afresh.
    """
    at, axis = Rect(0, whole.y0, box(spots).x1, whole.y1), 0
    group, unparted = list(spots), 0
    while unparted < 2:
        rects = [spot.rect for spot in group]
        groups = [[group[at] for at in each] for each in clusters(rects, range(len(rects)), axis)]
        if len(groups) > 1:
            unparted = 0
            first = random.randrange(len(groups))
            taken = groups[first]
            if len(taken) <= FREE:
                return _run(groups, first, at, axis)
            at, group = _slice(groups, first, first, at, axis), taken
        else:
            unparted += 1
        axis = 1 - axis
    return group, at


def _run(
    groups: Sequence[Sequence[Spot]], first: int, at: Rect, axis: int
) -> tuple[list[Spot], Rect]:
    """A run of groups from the first on, as many as may be laid afresh together."""
    free, last = list(groups[first]), first
    while last + 1 < len(groups) and len(free) + len(groups[last + 1]) <= FREE:
        last += 1
        free += groups[last]
    return free, _slice(groups, first, last, at, axis)


def _slice(groups: Sequence[Sequence[Spot]], first: int, last: int, at: Rect, axis: int) -> Rect:
    """The part of a room from where the group before ends to where the group behind begins."""
    if axis == 0:
        low = box(groups[first - 1]).x1 if first else at.x0
        high = box(groups[last + 1]).x0 if last + 1 < len(groups) else at.x1
        return Rect(low, at.y0, high, at.y1)
    low = box(groups[first - 1]).y1 if first else at.y0
    high = box(groups[last + 1]).y0 if last + 1 < len(groups) else at.y1
    return Rect(at.x0, low, at.x1, high)
