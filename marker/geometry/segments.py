"""Exact questions about points and straight segments, all in whole numbers."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from marker.errors import BadInput
from marker.units import MM

Point = tuple[int, int]
MOST_WORK = 10_000_000
"""Comparisons, a second or two's worth, after which an outline is given up as a tangle."""
PAIR_WORK = 30
"""What a pair handed out for a closer look counts for in comparisons."""


def told(point: tuple[float, float]) -> str:
    """A point in words, to the tenth of a millimetre: "12.5, 40 mm"."""
    x, y = (f"{value / MM:.1f}".removesuffix(".0") for value in point)
    return f"{x}, {y} mm"


def turn(a: Point, b: Point, c: Point) -> int:
    """Twice the signed area of the triangle a, b, c: above nought where c lies left of a to b."""
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def between(a: Point, b: Point, c: Point) -> bool:
    """Tell whether c, known to be in line with a and b, lies from a to b, ends counted."""
    return min(a[0], b[0]) <= c[0] <= max(a[0], b[0]) and min(a[1], b[1]) <= c[1] <= max(a[1], b[1])


def touch(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Tell whether the segments a to b and c to d share any point, ends counted."""
    left_c, left_d = turn(a, b, c), turn(a, b, d)
    left_a, left_b = turn(c, d, a), turn(c, d, b)
    return (
        (left_c * left_d < 0 and left_a * left_b < 0)
        or (not left_c and between(a, b, c))
        or (not left_d and between(a, b, d))
        or (not left_a and between(c, d, a))
        or (not left_b and between(c, d, b))
    )


def edges(points: Sequence[Point]) -> list[tuple[Point, Point]]:
    """The closed ring's segments in order; segment i runs from point i to the next."""
    return [*pairwise(points), (points[-1], points[0])]


def near_pairs(
    first: Sequence[tuple[Point, Point]], second: Sequence[tuple[Point, Point]]
) -> Iterator[tuple[int, int]]:
    """Index pairs of segments, one from each list, whose boxes share a point.

    A sweep along x keeps only the segments that the line at hand meets.
    """
    spans = [
        (min(a[0], b[0]), max(a[0], b[0]), min(a[1], b[1]), max(a[1], b[1]), side, index)
        for side, segments in enumerate((first, second))
        for index, (a, b) in enumerate(segments)
    ]
    spans.sort()
    active: tuple[list[tuple[int, ...]], list[tuple[int, ...]]] = ([], [])
    for span in spans:
        x0, _, y0, y1, side, index = span
        others = [other for other in active[1 - side] if other[1] >= x0]
        active[1 - side][:] = others
        for other in others:
            if other[2] <= y1 and y0 <= other[3]:
                yield (index, other[5]) if side == 0 else (other[5], index)
        active[side].append(span)


def near_neighbours(segments: Sequence[tuple[Point, Point]]) -> Iterator[tuple[int, int]]:
    """Index pairs i < j within one list of segments whose boxes share a point.

    Raises `BadInput` where far too many lie one beside another to be compared in good time.
    """
    spans = sorted(
        (min(a[0], b[0]), max(a[0], b[0]), min(a[1], b[1]), max(a[1], b[1]), index)
        for index, (a, b) in enumerate(segments)
    )
    active: list[tuple[int, ...]] = []
    work = 0
    for span in spans:
        x0, _, y0, y1, index = span
        active = [other for other in active if other[1] >= x0]
        work += len(active)
        if work > MOST_WORK:
            raise BadInput("the outline runs to and fro too often to be checked; simplify it")
        for other in active:
            if other[2] <= y1 and y0 <= other[3]:
                work += PAIR_WORK
                yield (index, other[4]) if index < other[4] else (other[4], index)
        active.append(span)


def where(points: Sequence[Point], x: int, y: int, scale: int = 1) -> int:
    """Where the point (x, y) / scale lies: 1 inside the ring, 0 on its edge, -1 outside.

    A ray to the right is crossed an odd number of times from inside; each edge counts its
    lower end and not its upper one, so a vertex on the ray is counted once.
    """
    inside = False
    ax, ay = points[-1][0] * scale, points[-1][1] * scale
    for point in points:
        bx, by = point[0] * scale, point[1] * scale
        if (ay > y) != (by > y):
            side = (bx - ax) * (y - ay) - (by - ay) * (x - ax)
            if side == 0:
                return 0
            inside ^= (side > 0) == (by > ay)
        elif ay == y == by:
            if min(ax, bx) <= x <= max(ax, bx):
                return 0
        elif (bx, by) == (x, y):
            return 0
        ax, ay = bx, by
    return 1 if inside else -1
