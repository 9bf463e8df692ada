"""Cubic curves as circular arcs, so that a seam allowance beside them is exact arcs too."""

from __future__ import annotations

import math

from marker.geometry.curves import NOISE, Arc, Cubic, Line, Segment, Spot, cross, minus

STRAY = 0.5
"""How far the arcs may lie off the cubic, in units: 3 thousandths of a millimetre."""


def arcs_of(cubic: Cubic, depth: int = 16) -> list[Segment]:
    """Arcs and lines that follow a cubic within `STRAY`, with its directions at every joint.

    Each part gets the pair of arcs that leaves its start and reaches its end in the curve's
    own directions, the two handles equally long; it is halved until the pair lies close.
    """
    pair = _pair(cubic)
    if depth == 0 or (pair and _follows(pair, cubic)):
        return pair or [Line(cubic.start, cubic.end, cubic.name)]
    return [
        *arcs_of(cubic.split(0.0, 0.5), depth - 1),
        *arcs_of(cubic.split(0.5, 1.0), depth - 1),
    ]


def _pair(cubic: Cubic) -> list[Segment]:
    """The two arcs; none where the curve turns back on itself."""
    out, back = cubic.direction(0), cubic.direction(1)
    alike = out[0] * back[0] + out[1] * back[1]
    way = minus(cubic.end, cubic.start)
    if alike <= 0 or math.hypot(*way) <= NOISE:
        return []
    ahead = way[0] * (out[0] + back[0]) + way[1] * (out[1] + back[1])
    square = way[0] ** 2 + way[1] ** 2
    apart = 2 * (1 - alike)
    # The root of apart d^2 + 2 ahead d = square that stays whole as the directions agree.
    handle = square / (ahead + math.sqrt(ahead * ahead + apart * square)) if ahead > 0 else 0.0
    if handle <= 0:
        return []
    joint = (
        (cubic.start[0] + cubic.end[0] + handle * (out[0] - back[0])) / 2,
        (cubic.start[1] + cubic.end[1] + handle * (out[1] - back[1])) / 2,
    )
    first = _leaving(cubic.start, out, joint, cubic.name)
    last = _leaving(cubic.end, (-back[0], -back[1]), joint, cubic.name)
    return [first, last.backwards()]


def _leaving(start: Spot, out: Spot, end: Spot, name: str) -> Segment:
    """The arc that leaves a point in a direction and reaches another; a line where it is flat."""
    way = minus(end, start)
    size = math.hypot(*way)
    bend = 2 * cross(out, way) / (size * size)
    if abs(bend) * size * size < NOISE:
        return Line(start, end, name)
    centre = start[0] - out[1] / bend, start[1] + out[0] / bend
    return Arc(start, end, centre, bend > 0, name)


def _follows(pair: list[Segment], cubic: Cubic) -> bool:
    return all(min(_off(seg, cubic.point(k / 8)) for seg in pair) <= STRAY for k in range(1, 8))


def _off(segment: Segment, spot: Spot) -> float:
    """How far a spot lies from the line or circle that a segment follows."""
    if isinstance(segment, Arc):
        return abs(math.dist(spot, segment.centre) - segment.radius)
    ahead = minus(segment.end, segment.start)
    return abs(cross(ahead, minus(spot, segment.start))) / math.hypot(*ahead)
