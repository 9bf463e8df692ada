"""Curves to straight edges, always outwards: what is drawn round a shape holds the shape.

On a bulge the edges are tangents, in a hollow they are chords; so they never cut into the
cloth of the piece, and each carries how far it strays at most. All in units of 1/160 mm.
"""

from __future__ import annotations

import math
from itertools import pairwise

from marker.errors import BadInput
from marker.geometry.curves import NOISE, Arc, Cubic, Line, Segment, Spot, cross, minus, roots

Corner = tuple[float, float, float]
"""A point, and how far the edge that leaves it strays from the shape at most."""

MOST_CHORDS = 100_000
"""A sound outline has far fewer, even one as large as a field or of 50,000 short edges."""
TURN = math.cos(math.radians(80))
"""A cubic is cut finer until each part turns by less than this."""


def straightened(segments: tuple[Segment, ...], stray: float) -> list[Corner]:
    """The corners of a closed line round a counter-clockwise outline, `stray` off it at most."""
    corners: list[Corner] = []
    for segment in segments:
        if isinstance(segment, Line):
            corners.append((*segment.start, 0.0))
        elif isinstance(segment, Arc):
            corners += _round_arc(segment, stray)
        else:
            corners += _round_cubic(segment, stray)
    return corners


def chords(segments: tuple[Segment, ...], stray: float) -> list[Spot]:
    """Points of the outline itself, so close that no chord strays further from it than `stray`.

    Raises `BadInput` where curves without end would take more than 100,000.
    """
    if sum(_about(segment, stray) for segment in segments) > MOST_CHORDS:
        raise BadInput("the outline has too many long curves to be checked; simplify it")
    spots: list[Spot] = []
    for segment in segments:
        if isinstance(segment, Line):
            spots.append(segment.start)
        elif isinstance(segment, Arc):
            spots += [(x, y) for x, y, _ in _in_hollow(segment, stray)]
        else:
            spots += [spot for part in _parts(segment) for spot in _chords(part, stray, 30)]
    return spots


def _about(segment: Segment, stray: float) -> float:
    """About how many chords a segment takes, told before any is drawn.

    A curve cut into n equal parts strays by its greatest second derivative / 8 n^2 at most.
    """
    if isinstance(segment, Line):
        return 1.0
    if isinstance(segment, Arc):
        return 1 + abs(segment.sweep) * math.sqrt(segment.radius / (8 * stray))
    spots = (segment.start, segment.first, segment.second, segment.end)
    bends = (
        math.dist((a[0] + c[0], a[1] + c[1]), (2 * b[0], 2 * b[1]))
        for a, b, c in (spots[:3], spots[1:])
    )
    return 1 + math.sqrt(6 * max(bends) / (8 * stray))


def _round_arc(arc: Arc, stray: float) -> list[Corner]:
    """An arc that bulges is drawn round by tangents, a hollow one by chords."""
    if not arc.ccw:
        return _in_hollow(arc, stray)
    widest = 2 * math.acos(arc.radius / (arc.radius + stray))
    count = math.ceil(arc.sweep / min(widest, math.pi / 2))
    step = arc.sweep / count
    reach = arc.radius / math.cos(step / 2)
    off = reach - arc.radius
    tops = (arc.spoke(arc.first_angle + (k + 0.5) * step, reach) for k in range(count))
    return [(*arc.start, off), *((x, y, off) for x, y in tops)]


def _in_hollow(arc: Arc, stray: float) -> list[Corner]:
    """Chords of an arc; their middles lie furthest off."""
    widest = 2 * math.acos(max(0.0, 1 - stray / arc.radius))
    count = math.ceil(abs(arc.sweep) / min(widest, math.pi / 2))
    step = arc.sweep / count
    off = arc.radius * (1 - math.cos(step / 2))
    rest = (arc.spoke(arc.first_angle + k * step, arc.radius) for k in range(1, count))
    return [(*arc.start, off), *((x, y, off) for x, y in rest)]


def _bends(cubic: Cubic) -> list[float]:
    """Parameters at which a cubic changes from left to right, or stands still."""
    a, b, c = (
        minus(cubic.first, cubic.start),
        minus(cubic.second, cubic.first),
        minus(cubic.end, cubic.second),
    )
    bend = minus(b, a)
    second = minus(minus(c, b), bend)
    # B' x B'' over 18, with B' = a + 2 bend t + second t^2.
    return roots(cross(bend, second), cross(a, second), cross(a, bend))


def _parts(cubic: Cubic) -> list[Cubic]:
    """A cubic cut where it bends over, so that each part bends one way only."""
    stops = [0.0, *_bends(cubic), 1.0]
    return [cubic.split(low, high) for low, high in pairwise(stops)]


def _round_cubic(cubic: Cubic, stray: float) -> list[Corner]:
    return [corner for part in _parts(cubic) for corner in _round_part(part, stray, 30)]


def _round_part(part: Cubic, stray: float, depth: int) -> list[Corner]:
    """Draw round a part that bends one way only, halving it until the edges lie close enough."""
    corners = _one_step(part)
    if depth and (corners is None or corners[0][2] > stray):
        return [c for half in _halves(part) for c in _round_part(half, stray, depth - 1)]
    return corners or [(*part.start, 0.0)]


def _one_step(part: Cubic) -> list[Corner] | None:
    """A chord in a hollow, two tangents on a bulge; None where it turns too far for either."""
    out, back = part.direction(0), part.direction(1)
    if _turns_far(out, back):
        return None
    turned = cross(out, back)
    if turned <= 1e-12:
        return [(*part.start, _height(part))]
    run = cross(minus(part.end, part.start), back) / turned
    top = part.start[0] + out[0] * run, part.start[1] + out[1] * run
    off = min(math.dist(top, part.point(k / 8)) for k in range(1, 8))
    return [(*part.start, off), (*top, off)]


def _turns_far(out: Spot, back: Spot) -> bool:
    return out[0] * back[0] + out[1] * back[1] < TURN


def _halves(cubic: Cubic) -> tuple[Cubic, Cubic]:
    return cubic.split(0.0, 0.5), cubic.split(0.5, 1.0)


def _height(part: Cubic) -> float:
    """How far a part strays from its chord at most: 3/4 of its further control point."""
    ahead = minus(part.end, part.start)
    size = math.hypot(*ahead)
    if size <= NOISE:
        return max(math.dist(part.start, part.first), math.dist(part.start, part.second))
    return 0.75 * max(
        abs(cross(ahead, minus(spot, part.start))) / size for spot in (part.first, part.second)
    )


def _chords(part: Cubic, stray: float, depth: int) -> list[Spot]:
    """Starts of the chords of a part that bends one way only."""
    if depth and (_turns_far(part.direction(0), part.direction(1)) or _height(part) > stray):
        return [spot for half in _halves(part) for spot in _chords(half, stray, depth - 1)]
    return [part.start]
