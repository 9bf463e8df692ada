"""The pole of inaccessibility: the place in a piece that lies furthest from every edge.

A label set there stands well inside, also in a crescent, whose centroid lies outside it.
"""

from __future__ import annotations

import heapq
import math
from collections.abc import Iterator

from marker.geometry.polygon import Polygon
from marker.geometry.segments import Point, edges, where

ROOT2 = math.sqrt(2)
Segments = list[tuple[Point, Point]]


def pole(polygon: Polygon, tolerance: float = 160.0) -> tuple[int, int, float]:
    """The place x, y furthest from all edges and its distance, units.

    No place is further from every edge by more than `tolerance` (1 mm), or 1/100 of the
    breadth of the polygon's box if that is more. Squares that hold the polygon are quartered,
    the one that may hold the furthest place first; one that can't beat the best is dropped.
    A square passes on to its quarters only the edges that can be nearest to them.
    """
    box = polygon.box
    breadth = min(box.along, box.across)
    close = max(tolerance, breadth / 100)
    sides = edges(polygon.points)
    best = max((_inside(polygon, x, y, sides, 0)[0], x, y) for x, y in _starts(polygon))
    half = math.ceil(breadth / 2)
    heap: list[tuple[float, int, int, int, Segments]] = []

    def offer(x: int, y: int, half: int, sides: Segments) -> None:
        nonlocal best
        far, near = _inside(polygon, x, y, sides, half)
        best = max(best, (far, x, y))
        if far + half * ROOT2 > best[0] + close:
            heapq.heappush(heap, (-far - half * ROOT2, x, y, half, near))

    for x in range(box.x0 + half, box.x1 + half, 2 * half):
        for y in range(box.y0 + half, box.y1 + half, 2 * half):
            offer(x, y, half, sides)
    while heap:
        most, x, y, half, near = heapq.heappop(heap)
        if -most <= best[0] + close or half < 2:
            break
        part = (half + 1) // 2
        for dx in (-part, part):
            for dy in (-part, part):
                offer(x + dx, y + dy, part, near)
    return best[1], best[2], best[0]


def _starts(polygon: Polygon) -> Iterator[tuple[int, int]]:
    """First guesses: the middle of the box, and the centroid, which serves any full shape."""
    box = polygon.box
    yield (box.x0 + box.x1) // 2, (box.y0 + box.y1) // 2
    sums = [0, 0]
    for (ax, ay), (bx, by) in edges(polygon.points):
        area2 = ax * by - bx * ay
        sums[0] += (ax + bx) * area2
        sums[1] += (ay + by) * area2
    yield sums[0] // (3 * polygon.area2), sums[1] // (3 * polygon.area2)


def _inside(polygon: Polygon, x: int, y: int, sides: Segments, half: int) -> tuple[float, Segments]:
    """Distance of a place to the nearest edge, below nought outside, and the edges that may
    be nearest to any place in the square of that half side round it."""
    offs = [_off(side, x, y) for side in sides]
    least = min(offs)
    reach = least + 2.1 * half * ROOT2 + 2
    near = [side for side, off in zip(sides, offs, strict=True) if off <= reach]
    return (least if where(polygon.points, x, y) > 0 else -least), near


def _off(side: tuple[Point, Point], x: int, y: int) -> float:
    (ax, ay), (bx, by) = side
    dx, dy = bx - ax, by - ay
    part = ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy)
    part = min(1.0, max(0.0, part))
    return math.hypot(ax + part * dx - x, ay + part * dy - y)
