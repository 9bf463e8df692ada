"""Paper that slanted words take: a box turned about its middle. Page units of 1/100 mm."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from marker.geometry.segments import edges
from marker.plan.drawing.page import Box, Point


@dataclass(frozen=True)
class Slab:
    """A box of a width and height about `at`, turned by `angle` degrees.

    The angle runs counter-clockwise as it is seen, so at 90 words read from below upwards.
    """

    at: Point
    width: int
    height: int
    angle: int = 0

    def point(self, dx: float, dy: float) -> Point:
        """A place `dx` to the right of the middle and `dy` below it, before the turn."""
        cos, sin = turned(self.angle)
        return (
            round(self.at[0] + dx * cos + dy * sin),
            round(self.at[1] - dx * sin + dy * cos),
        )

    @cached_property
    def corners(self) -> tuple[Point, ...]:
        """The four corners in order."""
        x, y = self.width / 2, self.height / 2
        return self.point(-x, -y), self.point(x, -y), self.point(x, y), self.point(-x, y)

    @cached_property
    def box(self) -> Box:
        """The upright box round it."""
        if not self.angle:
            left, top = self.at[0] - self.width // 2, self.at[1] - self.height // 2
            return Box(left, top, left + self.width, top + self.height)
        xs, ys = [x for x, _ in self.corners], [y for _, y in self.corners]
        return Box(min(xs), min(ys), max(xs), max(ys))

    def grown(self, by: int) -> Slab:
        """The slab with every side pushed out by `by`."""
        return Slab(self.at, self.width + 2 * by, self.height + 2 * by, self.angle)


def turned(angle: int) -> tuple[float, float]:
    """Cosine and sine of an angle in degrees, exact for quarter turns."""
    exact = {0: (1.0, 0.0), 90: (0.0, 1.0), 180: (-1.0, 0.0), 270: (0.0, -1.0)}
    found = exact.get(angle % 360)
    return found or (math.cos(math.radians(angle)), math.sin(math.radians(angle)))


def corners(area: Box | Slab) -> tuple[Point, ...]:
    """The corners of a box or a slab, in order round it."""
    if isinstance(area, Slab):
        return area.corners
    return (area.x0, area.y0), (area.x1, area.y0), (area.x1, area.y1), (area.x0, area.y1)


def meet(a: Sequence[Point], b: Sequence[Point]) -> bool:
    """Whether two convex rings, or a ring and the two ends of a line, share any paper.

    Touching does not count. They are apart where a line along an edge of one has the other
    beyond it (separating axes).
    """
    return not _parted(a, b) and not _parted(b, a)


def _parted(ring: Sequence[Point], other: Sequence[Point]) -> bool:
    for (x0, y0), (x1, y1) in edges(ring):
        nx, ny = y0 - y1, x1 - x0
        if not nx and not ny:
            continue
        ours = [nx * x + ny * y for x, y in ring]
        theirs = [nx * x + ny * y for x, y in other]
        if min(ours) >= max(theirs) or max(ours) <= min(theirs):
            return True
    return False
