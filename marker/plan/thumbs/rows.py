"""A long cloth drawn in rows: where it is broken, and what of a drawing lies in one row."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from marker.plan.drawing.page import Box, Point
from marker.plan.drawing.verbs import Disc, Drawing, Field, Mark, Path, Words

LATEST = 3
"""A row may end before it is full, by up to one part in so many, if no piece is broken there."""

Window = tuple[int, int]
"""From where to where along the page a row shows the cloth."""


def windows(width: int, room: int, clear: Sequence[int]) -> tuple[Window, ...]:
    """The rows of a cloth so wide on the page, none over `room`.

    `clear` are the places where no piece would be broken; a row ends at one if it can.
    """
    found: list[Window] = []
    start = 0
    while width - start > room:
        full = start + room
        end = max((at for at in clear if full - room // LATEST <= at <= full), default=full)
        found.append((start, end))
        start = end
    return (*found, (start, width))


def part(drawing: Drawing, window: Window) -> Drawing:
    """What of a drawing lies between two places along the page, moved to begin at nought."""
    shown = Drawing()
    for marks, kept in ((drawing.ground, shown.ground), (drawing.over, shown.over)):
        for mark in marks:
            kept += [one.moved(-window[0], 0) for one in _clipped(mark, window)]
    return shown


def _clipped(mark: Mark, window: Window) -> Iterator[Mark]:
    low, high = window
    if isinstance(mark, Path):
        if mark.closed:
            runs = tuple(run for run in (clip_ring(run, window) for run in mark.runs) if run)
        else:
            runs = tuple(part for run in mark.runs for part in clip_run(run, window))
        if runs:
            yield Path(runs, mark.weight, mark.colour, mark.dash, mark.closed, mark.fill)
    elif isinstance(mark, Field):
        box = mark.box
        cut = Box(max(box.x0, low), box.y0, min(box.x1, high), box.y1)
        if cut.width > 0:
            yield Field(cut, mark.fill, mark.weight, mark.colour, mark.radius)
    elif low <= _middle(mark) <= high:
        yield mark


def _middle(mark: Disc | Words) -> int:
    return mark.at[0] if isinstance(mark, Disc) else mark.box.middle[0]


def clip_run(run: Sequence[Point], window: Window) -> Iterator[tuple[Point, ...]]:
    """The stretches of a broken line that lie in a row."""
    low, high = window
    found: list[Point] = []
    for a, b in pairwise(run):
        if max(a[0], b[0]) < low or min(a[0], b[0]) > high:
            kept = None
        else:
            kept = _held(a, b, window), _held(b, a, window)
        if kept is None or (found and found[-1] != kept[0]):
            if len(found) > 1:
                yield tuple(found)
            found = []
        if kept:
            found += kept if not found else kept[1:]
    if len(found) > 1:
        yield tuple(found)


def _held(at: Point, other: Point, window: Window) -> Point:
    """An end of a line, drawn in to the row along the line."""
    x = min(max(at[0], window[0]), window[1])
    if x == at[0]:
        return at
    return x, at[1] + round((other[1] - at[1]) * (x - at[0]) / (other[0] - at[0]))


def clip_ring(ring: Sequence[Point], window: Window) -> tuple[Point, ...]:
    """The part of a ring that lies in a row (half-plane by half-plane, Sutherland and Hodgman)."""
    for limit, sign in ((window[0], 1), (window[1], -1)):
        kept: list[Point] = []
        for a, b in zip(ring, (*ring[1:], *ring[:1]), strict=True):
            inside = sign * (a[0] - limit) >= 0
            if inside:
                kept.append(a)
            if inside != (sign * (b[0] - limit) >= 0):
                kept.append((limit, a[1] + round((b[1] - a[1]) * (limit - a[0]) / (b[0] - a[0]))))
        ring = kept
    return tuple(ring)
