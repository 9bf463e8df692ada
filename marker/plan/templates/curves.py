"""The cut line of a template as PDF and SVG know curves: straight lines and cubics.

Both draw circular arcs as cubics in the end, so that is done here, where it can be told how
far off they are.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

from marker.geometry.curves import Arc, Cubic, Line, Segment, Spot, minus, roots

STRAY = 0.1
"""How far a cubic may lie off its arc, in units of 1/160 mm: 0.6 microns."""
QUARTER = 2.8e-4
"""A cubic over a quarter of a circle strays from it by less than this part of its radius."""


def cubics(segments: Sequence[Segment]) -> Iterator[Line | Cubic]:
    """The same run of lines and curves without arcs."""
    for segment in segments:
        if isinstance(segment, Arc):
            yield from _bent(segment)
        else:
            yield segment


def _bent(arc: Arc) -> Iterator[Cubic]:
    """Cubics along an arc, which leave its ends and touch it there.

    How far one strays falls with the sixth power of its angle.
    """
    sweep, radius = arc.sweep, arc.radius
    most = math.pi / 2 * min(1.0, (STRAY / (QUARTER * radius)) ** (1 / 6))
    count = math.ceil(abs(sweep) / most)
    step = sweep / count
    reach = 4 / 3 * math.tan(step / 4)
    for k in range(count):
        angle = arc.first_angle + k * step
        start = arc.start if k == 0 else arc.spoke(angle, radius)
        end = arc.end if k == count - 1 else arc.spoke(angle + step, radius)
        (ax, ay), (bx, by) = minus(start, arc.centre), minus(end, arc.centre)
        first = start[0] - ay * reach, start[1] + ax * reach
        second = end[0] + by * reach, end[1] - bx * reach
        yield Cubic(start, first, second, end, arc.name)


def path_data(runs: Sequence[Sequence[Segment]]) -> str:
    """The runs as SVG path data, each from its first start, to 1/16000 mm; a ring is closed."""
    return " ".join(_run(run) for run in runs)


def _run(run: Sequence[Segment]) -> str:
    parts = [f"M {_spot(run[0].start)}"]
    for segment in cubics(run):
        if isinstance(segment, Cubic):
            spots = segment.first, segment.second, segment.end
            parts.append("C " + " ".join(map(_spot, spots)))
        else:
            parts.append(f"L {_spot(segment.end)}")
    if run[0].start == run[-1].end:
        parts.append("Z")
    return " ".join(parts)


def _spot(spot: Spot) -> str:
    return " ".join(f"{value:.2f}".rstrip("0").rstrip(".") for value in spot).replace("-0 ", "0 ")


def below(segments: Sequence[Segment], level: float) -> list[list[Segment]]:
    """What of a ring lies at v <= level, as open runs from the level back to it.

    The ring is parted where it crosses the level; a ring that never rises above it comes back
    whole.
    """
    parts = [part for segment in segments for part in _parted(segment, level)]
    kept = [_middle(part)[1] <= level for part in parts]
    if all(kept):
        return [parts]
    # Begin with a run's first part, so that none is torn by the ring's own start.
    first = next(i for i, so in enumerate(kept) if so and not kept[i - 1])
    runs: list[list[Segment]] = []
    before = False
    for i in range(len(parts)):
        at = (first + i) % len(parts)
        if kept[at]:
            if not before:
                runs.append([])
            runs[-1].append(parts[at])
        before = kept[at]
    return runs


def _middle(segment: Segment) -> Spot:
    return segment.at(segment.length / 2)


def _parted(segment: Segment, level: float) -> list[Segment]:
    """A segment cut where it crosses a level."""
    if isinstance(segment, Cubic):
        stops = [0.0, *_crossings(segment, level), 1.0]
        return [segment.split(a, b) for a, b in pairwise(stops)]
    cuts = [segment.at(length) for length in _lengths(segment, level)]
    spots = [segment.start, *cuts, segment.end]
    pairs = pairwise(spots)
    if isinstance(segment, Line):
        return [Line(a, b, segment.name) for a, b in pairs]
    return [Arc(a, b, segment.centre, segment.ccw, segment.name) for a, b in pairs]


def _lengths(segment: Line | Arc, level: float) -> list[float]:
    """Where along a line or an arc it crosses a level, its ends left out."""
    long = segment.length
    if isinstance(segment, Line):
        rise = segment.end[1] - segment.start[1]
        found = [(level - segment.start[1]) / rise * long] if rise else []
    else:
        high = (level - segment.centre[1]) / segment.radius
        if abs(high) >= 1:
            return []
        lift = math.asin(high)
        way = 1 if segment.sweep > 0 else -1
        turns = (way * (angle - segment.first_angle) % math.tau for angle in (lift, math.pi - lift))
        found = sorted(turn * segment.radius for turn in turns)
    return [length for length in found if CLOSE < length < long - CLOSE]


CLOSE = 1e-3
"""A crossing this near the end of a segment, in units, is its end."""


def _crossings(cubic: Cubic, level: float) -> list[float]:
    """Parameters at which a cubic crosses a level, by halving between its tops."""
    stops = sorted({0.0, 1.0, *_tops(cubic)})
    found = []
    for low, high in pairwise(stops):
        a, b = cubic.point(low)[1] - level, cubic.point(high)[1] - level
        if a * b >= 0:
            continue
        for _ in range(60):
            middle = (low + high) / 2
            if (cubic.point(middle)[1] - level) * a > 0:
                low = middle
            else:
                high = middle
        found.append((low + high) / 2)
    return [t for t in found if 1e-9 < t < 1 - 1e-9]


def _tops(cubic: Cubic) -> list[float]:
    """Parameters at which a cubic runs level."""
    a, b, c, d = cubic.start[1], cubic.first[1], cubic.second[1], cubic.end[1]
    return roots(d - c - 2 * (c - b) + b - a, 2 * (c - b - (b - a)), b - a)
