"""Outlines for the geometry tests: random ones, close points along them, shapely's view."""

from __future__ import annotations

import math
import random

import shapely
from hypothesis import strategies as st

from marker.errors import BadInput
from marker.geometry import Arc, Cubic, Line, Outline, Polygon
from marker.geometry.curves import Segment, Spot


def dense(outline: Outline, per_segment: int = 200) -> list[Spot]:
    """Points of the true outline, close together."""
    spots = []
    for segment in outline.segments:
        for k in range(per_segment):
            part = k / per_segment
            on = isinstance(segment, Cubic)
            spots.append(segment.point(part) if on else segment.at(part * segment.length))
    return spots


def seen(polygon: Polygon) -> shapely.Polygon:
    return shapely.Polygon(polygon.points)


def shape(outline: Outline, per_segment: int = 200) -> shapely.Polygon:
    return shapely.Polygon(dense(outline, per_segment))


def _between(draw: random.Random, a: Spot, b: Spot) -> Segment:
    far = math.dist(a, b)
    kind = draw.random()
    if kind < 0.3:
        return Line(a, b)
    if kind < 0.65:
        return Arc.reaching(a, b, far * draw.uniform(0.55, 3), draw.random() < 0.5)
    (ax, ay), (bx, by) = a, b
    off = [draw.uniform(-0.5, 0.5) * far for _ in range(4)]
    first = ax + (bx - ax) / 3 + off[0], ay + (by - ay) / 3 + off[1]
    second = bx + (ax - bx) / 3 + off[2], by + (ay - by) / 3 + off[3]
    return Cubic(a, first, second, b)


def blob(seed: int, size: float) -> Outline | None:
    """A random outline of three to eight segments about a centre; None where it crosses itself."""
    draw = random.Random(seed)
    count = draw.randint(3, 8)
    spots = []
    for k in range(count):
        angle = math.tau * (k + 0.6 * draw.random()) / count
        reach = size * draw.uniform(0.4, 1)
        spots.append((reach * math.cos(angle), reach * math.sin(angle)))
    try:
        return Outline.of(
            _between(draw, a, b) for a, b in zip(spots, spots[1:] + spots[:1], strict=True)
        )
    except BadInput:
        return None


SIZES = (2_000.0, 20_000.0, 200_000.0)
"""1 cm to 1 m."""


@st.composite
def blobs(draw: st.DrawFn) -> Outline:
    size = draw(st.sampled_from(SIZES))
    seed = draw(st.integers(0, 100_000))
    found = blob(seed, size)
    while found is None:
        seed += 100_001
        found = blob(seed, size)
    return found


def ring(seed: int, size: int) -> Polygon:
    """A random polygon of three to eight corners on a coarse grid, so that many touch."""
    draw = random.Random(seed)
    while True:
        count = draw.randint(3, 8)
        points = [(draw.randint(0, size), draw.randint(0, size)) for _ in range(count)]
        if draw.random() < 0.8:
            x, y = (sum(p[k] for p in points) / count for k in (0, 1))
            points.sort(key=lambda p: math.atan2(p[1] - y, p[0] - x))
        try:
            return Polygon.of(points)
        except BadInput:
            continue


def star(lot: random.Random, corners: int, size: int) -> Polygon:
    """An outline with its corners around a middle, some of them far in."""
    points = []
    for at in range(corners):
        angle = 2 * math.pi * (at + lot.uniform(0, 0.9)) / corners
        reach = lot.uniform(0.3, 1) * size
        points.append((round(reach * math.cos(angle)), round(reach * math.sin(angle))))
    return Polygon.of(points).turned(0)
