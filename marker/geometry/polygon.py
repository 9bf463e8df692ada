"""Polygons of whole numbers, in units of 1/160 mm: what is laid, and what the referee judges."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

from marker.errors import BadInput
from marker.geometry.rect import Rect
from marker.geometry.segments import (
    Point,
    between,
    edges,
    near_neighbours,
    near_pairs,
    told,
    touch,
    turn,
    where,
)

QUARTERS = {0: (1, 0), 90: (0, 1), 180: (-1, 0), 270: (0, -1)}
"""Cosine and sine of the turns that keep whole numbers whole."""


@dataclass(frozen=True)
class Polygon:
    """A simple polygon, counter-clockwise, in units of 1/160 mm.

    No point is repeated, none lies in line with its neighbours, and the ring neither crosses
    nor touches itself; `Polygon.of` clears away what is superfluous first. Raises `BadInput`
    where the points make no such ring.
    """

    points: tuple[Point, ...]

    def __post_init__(self) -> None:
        fault = _fault(self.points)
        if fault:
            raise BadInput(fault)

    @classmethod
    def of(cls, points: Iterable[Point]) -> Polygon:
        """The polygon through these points, either way round, superfluous points left out."""
        ring = _tidied(list(points))
        if len(ring) >= 3 and _area2(ring) < 0:
            ring.reverse()
        return cls(tuple(ring))

    @classmethod
    def of_rect(cls, rect: Rect) -> Polygon:
        """The rectangle as a polygon, from its lower left corner on."""
        return cls(((rect.x0, rect.y0), (rect.x1, rect.y0), (rect.x1, rect.y1), (rect.x0, rect.y1)))

    @classmethod
    def _known(cls, points: tuple[Point, ...]) -> Polygon:
        """A polygon known to be sound, being another one moved: nothing to prove again."""
        made = object.__new__(cls)
        object.__setattr__(made, "points", points)
        return made

    @cached_property
    def box(self) -> Rect:
        """The smallest rectangle with its sides on the thread that holds the polygon."""
        xs, ys = [x for x, _ in self.points], [y for _, y in self.points]
        return Rect(min(xs), min(ys), max(xs), max(ys))

    @cached_property
    def area2(self) -> int:
        """Twice the area, in square units."""
        return _area2(self.points)

    def shifted(self, dx: int, dy: int) -> Polygon:
        """The polygon moved by dx along the bolt and dy across it."""
        return Polygon._known(tuple((x + dx, y + dy) for x, y in self.points))

    def turned(self, degrees: int) -> Polygon:
        """The polygon turned counter-clockwise by 0, 90, 180 or 270, then set against 0, 0."""
        cos, sin = QUARTERS[degrees % 360]
        points = tuple((x * cos - y * sin, x * sin + y * cos) for x, y in self.points)
        return Polygon._known(points)._at_nought()

    def mirrored(self) -> Polygon:
        """The polygon turned over end for end (x to -x), then set against 0, 0."""
        return Polygon._known(tuple((-x, y) for x, y in reversed(self.points)))._at_nought()

    def _at_nought(self) -> Polygon:
        return self.shifted(-self.box.x0, -self.box.y0)

    def holds_point(self, x: int, y: int) -> bool:
        """Tell whether a point lies inside or on the edge."""
        return where(self.points, x, y) >= 0

    def overlaps(self, other: Polygon) -> bool:
        """Tell exactly whether the two share any cloth; touching does not count."""
        return self.box.overlaps(other.box) and _interiors_meet(self, other)


def _area2(points: Iterable[Point]) -> int:
    ring = list(points)
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in edges(ring))


def _tidied(points: list[Point]) -> list[Point]:
    """Leave out repeated points and points in line with their neighbours, spikes included."""
    ring: list[Point] = []
    for point in points:
        ring.append(point)
        while len(ring) >= 2 and _superfluous_end(ring):
            del ring[-2]
    while len(ring) >= 3:
        if not turn(ring[-2], ring[-1], ring[0]):
            ring.pop()
        elif not turn(ring[-1], ring[0], ring[1]):
            ring.pop(0)
        else:
            break
    return ring


def _superfluous_end(ring: list[Point]) -> bool:
    """Whether the last point but one says nothing that its neighbours don't."""
    if ring[-1] == ring[-2]:
        return True
    return len(ring) >= 3 and not turn(ring[-3], ring[-2], ring[-1])


def _fault(points: tuple[Point, ...]) -> str:
    """What is wrong with a ring, in one sentence; nothing where it is sound."""
    if len(points) < 3:
        return "an outline needs three corners or more that do not lie in one line"
    before = points[-2:] + points[:-2]
    for a, b, c in zip(before, points[-1:] + points[:-1], points, strict=True):
        if not turn(a, b, c):
            return (
                f"the outline's corner at {told(b)} repeats one or lies in line with its neighbours"
            )
    met = self_touch(points)
    if met:
        return f"the outline crosses or touches itself near {told(met)}"
    return "" if _area2(points) > 0 else "the outline runs clockwise"


def self_touch(points: Sequence[Point]) -> Point | None:
    """A place at which a ring crosses, touches or runs back along itself; None in a simple ring.

    No point may repeat the one before it.
    """
    ring = edges(points)
    for (a, b), (_, c) in zip(ring[-1:] + ring[:-1], ring, strict=True):
        back = (b[0] - a[0]) * (c[0] - b[0]) + (b[1] - a[1]) * (c[1] - b[1])
        if back < 0 and not turn(a, b, c):
            return b
    for i, j in near_neighbours(ring):
        if 1 < j - i < len(ring) - 1 and touch(*ring[i], *ring[j]):
            return _meeting(*ring[i], *ring[j])
    return None


def _meeting(a: Point, b: Point, c: Point, d: Point) -> Point:
    """About where two segments that touch do so, for a message."""
    way, other = (b[0] - a[0], b[1] - a[1]), (d[0] - c[0], d[1] - c[1])
    apart = way[0] * other[1] - way[1] * other[0]
    if not apart:
        return c if between(a, b, c) else a
    run = ((c[0] - a[0]) * other[1] - (c[1] - a[1]) * other[0]) / apart
    return round(a[0] + run * way[0]), round(a[1] + run * way[1])


def _interiors_meet(first: Polygon, second: Polygon) -> bool:
    """Whether two polygons whose boxes overlap share area.

    Where no two edges cross outright, the rings meet at corners of one or the other only.
    Cut there, every part of a ring lies wholly inside, outside or on the other ring, so its
    middle stands for it. Rings that share a stretch and run the same way along it have their
    cloth on the same side of it. What is left is one polygon apart from the other.
    """
    ours, theirs = edges(first.points), edges(second.points)
    near_ours = _within_reach(ours, second.box)
    near_theirs = _within_reach(theirs, first.box)
    met: tuple[dict[int, set[Point]], dict[int, set[Point]]] = ({}, {})
    for i, j in near_pairs([ours[k] for k in near_ours], [theirs[k] for k in near_theirs]):
        shared = _shared(ours[near_ours[i]], theirs[near_theirs[j]])
        if shared is None:
            return True
        if shared:
            met[0].setdefault(near_ours[i], set()).update(shared)
            met[1].setdefault(near_theirs[j], set()).update(shared)
    return _enters(ours, met[0], second) or _enters(theirs, met[1], first)


def _within_reach(segments: list[tuple[Point, Point]], box: Rect) -> list[int]:
    """Indices of the segments whose box meets this one."""
    return [
        index
        for index, (a, b) in enumerate(segments)
        if (a[0] <= box.x1 or b[0] <= box.x1)
        and (a[0] >= box.x0 or b[0] >= box.x0)
        and (a[1] <= box.y1 or b[1] <= box.y1)
        and (a[1] >= box.y0 or b[1] >= box.y0)
    ]


def _shared(ours: tuple[Point, Point], theirs: tuple[Point, Point]) -> set[Point] | None:
    """Corners at which two edges meet; None where they show at once that the interiors do."""
    (a, b), (c, d) = ours, theirs
    left_c, left_d = turn(a, b, c), turn(a, b, d)
    left_a, left_b = turn(c, d, a), turn(c, d, b)
    if left_c * left_d < 0 and left_a * left_b < 0:
        return None
    shared = {p for p, left in ((c, left_c), (d, left_d)) if not left and between(a, b, p)}
    shared |= {p for p, left in ((a, left_a), (b, left_b)) if not left and between(c, d, p)}
    if not left_c and not left_d and len(shared) > 1:
        alike = (b[0] - a[0]) * (d[0] - c[0]) + (b[1] - a[1]) * (d[1] - c[1])
        if alike > 0:
            return None
    return shared


def _enters(ring: list[tuple[Point, Point]], met: dict[int, set[Point]], other: Polygon) -> bool:
    """Whether some part of a ring, cut where it meets the other one, runs inside that one."""
    if not met:
        x, y = ring[0][0]
        return where(other.points, x, y) > 0
    for index, cuts in met.items():
        a, b = ring[index]
        stops = sorted({a, b} | cuts)
        for (x0, y0), (x1, y1) in pairwise(stops):
            if where(other.points, x0 + x1, y0 + y1, scale=2) > 0:
                return True
    return False
