"""The finished outline of one gore, its waist level or sloping."""

from __future__ import annotations

import math

from marker.geometry import Arc, Line, Outline
from marker.geometry.curves import Segment, Spot, cross, minus
from marker.geometry.shapes import FLAT, gore

CLOSE = 1e-3
"""A top is drawn to its width within this, in units."""
ROUNDS = 50


def gore_outline(top: float, hem: float, low: float, middle: float, high: float) -> Outline:
    """A gore whose top measures `top` and whose hem measures `hem`, units.

    `low`, `middle` and `high` are its lengths from waist to hem along either seam and down the
    middle. Where they are one, it is a sector of a ring; else the hem and the seams are those of
    one, and the top is the arc through all three. The hem is no narrower than the top.
    """
    if low == middle == high:
        return gore(top, hem, middle)
    level = top
    # A sloping top is a little longer than a level one: narrow the sector till it measures `top`.
    for _ in range(ROUNDS):
        made = _sloping(level, hem, (low, middle, high))
        over = made.edge("start").length - top
        if abs(over) <= CLOSE:
            break
        level -= over
    return made


def _sloping(level: float, hem: float, lengths: tuple[float, float, float]) -> Outline:
    """The sector that measures `level` where it is as long as its middle, its top sloping."""
    low, middle, high = lengths
    angle = (hem - level) / middle
    if abs(hem * angle) / 8 < FLAT:
        far = max(lengths)
        spots = [(far - low, 0.0), (far - middle, hem / 2), (far - high, hem)]
        ends = (far, 0.0), (far, hem)
        across: Segment = Line(*ends, "end")
    else:
        radius = middle * hem / (hem - level)

        def on(length: float, side: float) -> Spot:
            reach, turn = radius - length, side * angle / 2
            return reach * math.cos(turn) - radius, reach * math.sin(turn)

        spots = [on(low, -1), on(middle, 0), on(high, 1)]
        ends = on(0, -1), on(0, 1)
        across = Arc(*ends, (-radius, 0.0), True, "end")
    ring: tuple[Segment, ...] = (
        Line(spots[0], ends[0], "low"),
        across,
        Line(ends[1], spots[2], "high"),
        _through(spots[2], spots[1], spots[0], "start"),
    )
    return Outline(ring).at_nought()


def _through(start: Spot, middle: Spot, end: Spot, name: str) -> Segment:
    """The arc through three places, or the line where they lie on one."""
    a, b = minus(middle, start), minus(end, start)
    turns = cross(a, b)
    if abs(turns) <= FLAT * math.hypot(*b):
        return Line(start, end, name)
    aa, bb = a[0] ** 2 + a[1] ** 2, b[0] ** 2 + b[1] ** 2
    centre = (
        start[0] + (b[1] * aa - a[1] * bb) / (2 * turns),
        start[1] + (a[0] * bb - b[0] * aa) / (2 * turns),
    )
    return Arc(start, end, centre, turns > 0, name)
