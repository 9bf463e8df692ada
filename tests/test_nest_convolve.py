"""Convolutions held against another library: how often they wind is what two outlines share."""

from __future__ import annotations

from random import Random

import numpy as np
import pyclipper
import pytest
import shapely
from outlines import ring, star

from marker.geometry import Polygon
from marker.geometry.segments import edges
from marker.solver.nest.convolve import convolution
from marker.solver.nest.nofit import FINE, sums


def pairs(seed: int, count: int) -> list[tuple[Polygon, Polygon]]:
    """Pairs of outlines by lot, many of them on a grid so coarse that edges run alike."""
    lot = Random(seed)
    shapes = [Polygon.of([(0, 0), (6, 0), (6, 2), (4, 2), (4, 4), (6, 4), (6, 6), (0, 6)])]
    shapes += [ring(lot.randrange(9999), 6).turned(0) for _ in range(count // 2)]
    shapes += [star(lot, lot.randint(4, 9), 12) for _ in range(count // 2)]
    return [(lot.choice(shapes), lot.choice(shapes)) for _ in range(count)]


def walks(standing: Polygon, moving: Polygon) -> list[list[tuple[int, int]]]:
    first, second = np.array(standing.points), -np.array(moving.points)
    corners, ends, _ = convolution(first, second)
    return [[(x, y) for x, y in walk.tolist()] for walk in np.split(corners, ends[:-1])]


def winding(walk: list[tuple[int, int]], x: float, y: float) -> int:
    """How often a walk goes round a place that none of its edges meets, to the left."""
    turns = 0
    for (ax, ay), (bx, by) in edges(walk):
        if (ay > y) != (by > y):
            left = (bx - ax) * (y - ay) - (by - ay) * (x - ax) > 0
            turns += (1 if left else 0) if by > ay else (0 if left else -1)
    return turns


def test_walks_wind_as_often_as_there_are_parts_that_two_outlines_share() -> None:
    lot, seen = Random(3), [0, 0, 0]
    for standing, moving in pairs(1, 60):
        found = walks(standing, moving)
        for _ in range(20):
            # nowhere near a line between whole places, so that nothing just touches
            x = lot.randint(-moving.box.x1, standing.box.x1) + 0.3183
            y = lot.randint(-moving.box.y1, standing.box.y1) + 0.3679
            placed = shapely.Polygon([(a + x, b + y) for a, b in moving.points])
            shared = shapely.get_parts(shapely.Polygon(standing.points).intersection(placed))
            parts = sum(part.area > 0 for part in shared)
            assert sum(winding(walk, x, y) for walk in found) == parts, (standing, moving, x, y)
            seen[min(parts, 2)] += 1
    assert min(seen) > 10


def swept(standing: Polygon, moving: Polygon) -> shapely.Geometry:
    """The same sum by sweeping one outline along the other, and what lies deep inside."""
    turned = [(-x * FINE, -y * FINE) for x, y in moving.points]
    fixed = [(x * FINE, y * FINE) for x, y in standing.points]
    union = pyclipper.Pyclipper()
    union.AddPaths(pyclipper.MinkowskiSum(turned, fixed, True), pyclipper.PT_SUBJECT, True)
    for way, (dx, dy) in ((fixed, turned[0]), (turned, fixed[0])):
        union.AddPath([(x + dx, y + dy) for x, y in way], pyclipper.PT_CLIP, True)
    filled = pyclipper.PFT_NONZERO
    return region(union.Execute(pyclipper.CT_UNION, filled, filled))


def region(rings: list[list[tuple[int, int]]]) -> shapely.Geometry:
    """Rings around cloth, and around holes the other way, as one region."""
    outside = [shapely.Polygon(r) for r in rings if pyclipper.Area(r) > 0]
    holes = [shapely.Polygon(r) for r in rings if pyclipper.Area(r) < 0]
    return shapely.union_all(outside).difference(shapely.union_all(holes))


@pytest.mark.parametrize("seed", range(4))
def test_sums_are_those_of_sweeping_one_outline_along_the_other(seed: int) -> None:
    for standing, moving in pairs(seed, 30):
        found, other = region(sums(standing, moving)), swept(standing, moving)
        # no more than a rounded corner or two apart, of `FINE` parts to the unit
        assert found.symmetric_difference(other).area <= 2 * found.length


def test_the_walk_of_convex_outlines_is_their_sum() -> None:
    square = Polygon.of([(0, 0), (4, 0), (4, 4), (0, 4)])
    slope = Polygon.of([(0, 0), (3, 0), (0, 3)])
    corners, ends, convex = convolution(np.array(square.points), np.array(slope.points))
    assert convex
    assert len(ends) == 1
    around = shapely.Polygon(corners.tolist())
    assert around.equals(shapely.Polygon([(0, 0), (7, 0), (7, 4), (4, 7), (0, 7)]))
    bent = np.array([(0, 0), (4, 0), (4, 4), (2, 1)])
    assert not convolution(np.array(square.points), bent)[2]
