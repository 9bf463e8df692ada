"""The endless line or the whole circle that a segment runs on, and where two of them meet."""

from __future__ import annotations

import math

from marker.geometry.curves import NOISE, Arc, Line, Spot, cross, minus, unit

Drawn = Line | Arc


def meetings(first: Drawn, second: Drawn) -> list[Spot]:
    """The points, two at most, at which the carriers of two segments meet."""
    if isinstance(first, Line) and isinstance(second, Line):
        return _two_lines(first, second)
    if isinstance(first, Line) and isinstance(second, Arc):
        return _line_and_circle(first, second)
    if isinstance(first, Arc) and isinstance(second, Line):
        return _line_and_circle(second, first)
    assert isinstance(first, Arc) and isinstance(second, Arc)
    return _two_circles(first, second)


def _two_lines(first: Line, second: Line) -> list[Spot]:
    a, b = first.heading(0), second.heading(0)
    apart = cross(a, b)
    if abs(apart) <= 1e-12:
        return []
    run = cross(minus(second.start, first.start), b) / apart
    return [(first.start[0] + run * a[0], first.start[1] + run * a[1])]


def _line_and_circle(line: Line, arc: Arc) -> list[Spot]:
    along = line.heading(0)
    off = minus(line.start, arc.centre)
    foot = -(off[0] * along[0] + off[1] * along[1])
    under = arc.radius**2 - cross(along, off) ** 2
    if under < -NOISE * arc.radius:
        return []
    half = math.sqrt(max(under, 0.0))
    return [
        (line.start[0] + run * along[0], line.start[1] + run * along[1])
        for run in (foot - half, foot + half)
    ]


def _two_circles(first: Arc, second: Arc) -> list[Spot]:
    way = minus(second.centre, first.centre)
    apart = math.hypot(*way)
    if apart <= NOISE:
        return []
    foot = (apart**2 + first.radius**2 - second.radius**2) / (2 * apart)
    under = first.radius**2 - foot**2
    if under < -NOISE * first.radius:
        return []
    half = math.sqrt(max(under, 0.0))
    x, y = unit(way)
    return [
        (first.centre[0] + foot * x - side * y, first.centre[1] + foot * y + side * x)
        for side in (-half, half)
    ]


def place_on(segment: Drawn, spot: Spot, near: float) -> float:
    """The length along a segment's carrier at which a spot lies, from the segment's start.

    On a circle, the place nearest to the length `near`.
    """
    if isinstance(segment, Line):
        along, way = segment.heading(0), minus(spot, segment.start)
        return along[0] * way[0] + along[1] * way[1]
    angle = math.atan2(spot[1] - segment.centre[1], spot[0] - segment.centre[0])
    place = (angle - segment.first_angle) * segment.radius * (1 if segment.ccw else -1)
    whole = math.tau * segment.radius
    return place + round((near - place) / whole) * whole


def cut(segment: Drawn, low: float, high: float) -> Drawn:
    """The part of a segment's carrier between two lengths, which may lie beyond its ends."""
    start = segment.start if low == 0 else segment.at(low)
    end = segment.end if high == segment.length else segment.at(high)
    if isinstance(segment, Line):
        return Line(start, end, segment.name)
    return Arc(start, end, segment.centre, segment.ccw, segment.name)
