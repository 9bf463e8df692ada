"""No-fit polygons: how far apart two outlines must lie, in flat tables for the kernel.

Of a standing outline A and a moving one B, the no-fit polygon holds the moves d at which
B + d and A share cloth: the Minkowski sum of A and -B. Its edge is where they touch. The
sums are made in whole numbers, finer than the unit, and only steer the search.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import pyclipper

from marker.geometry import Polygon
from marker.geometry.segments import Point, edges
from marker.solver.nest.kernel import Floats, Ints, Singles

LANES = 8
"""Edges of a no-fit polygon are padded to a multiple of this, for whole vector registers."""
FINE = 256
"""How much finer than a unit the sums are made."""
SLIVER = 0.05
"""Slits narrower than this, in units, are rounding's."""
WHOLE = 2
"""Parts of a unit, of `FINE`, within which a corner is taken for one at a whole place."""
KNOWN = 2000
"""Blocks of pairs that are kept from one nest to the next, some kilobytes each."""
Ring = Sequence[Point]
Corner = tuple[float, float]


@dataclass(frozen=True)
class NoFits:
    """The no-fit polygons of every two outlines, first <= second, as edges one after another.

    Edge columns: x, y, dx, dy, 1 / length squared, y of the next corner. Those of outlines
    s <= t are edges[:, start[s, t] : end[s, t]]; of (t, s) they are the same turned half round.
    """

    edges: Singles
    start: Ints
    end: Ints
    sizes: Floats
    """Box sizes of the outlines: along, across."""


def no_fit(standing: Polygon, moving: Polygon) -> list[list[Corner]]:
    """The rings of a no-fit polygon: counter-clockwise outside, clockwise around holes."""
    if _convex(standing) and _convex(moving):
        return [[(float(x), float(y)) for x, y in _merged(standing.points, _turned(moving))]]
    clean = pyclipper.CleanPolygons(sums(standing, moving), FINE * SLIVER)
    return [[(_unit(x), _unit(y)) for x, y in ring] for ring in clean if _is_wide(ring)]


def _unit(fine: int) -> float:
    """A length in units again; corners of whole outlines mostly lie at whole places."""
    whole = round(fine / FINE)
    return float(whole) if abs(fine - whole * FINE) <= WHOLE else fine / FINE


def _turned(outline: Polygon) -> list[Point]:
    return [(-x, -y) for x, y in outline.points]


def sums(standing: Polygon, moving: Polygon) -> list[Ring]:
    """The same made finer by `FINE`, and nothing rounded away but to that."""
    turned = _turned(moving)
    if _convex(standing) and _convex(moving):
        return [_finer(_merged(standing.points, turned))]
    fixed, swept = _finer(standing.points), _finer(turned)
    union = pyclipper.Pyclipper()
    union.AddPaths(pyclipper.MinkowskiSum(swept, fixed, True), pyclipper.PT_SUBJECT, True)
    # The sum above sweeps one outline along the other and leaves out what lies deep inside.
    for ring, (dx, dy) in ((fixed, swept[0]), (swept, fixed[0])):
        union.AddPath([(x + dx, y + dy) for x, y in ring], pyclipper.PT_CLIP, True)
    return list(union.Execute(pyclipper.CT_UNION, pyclipper.PFT_NONZERO, pyclipper.PFT_NONZERO))


def _finer(ring: Ring) -> list[Point]:
    return [(x * FINE, y * FINE) for x, y in ring]


def _is_wide(ring: Ring) -> bool:
    """Whether a ring is more than a sliver that rounding left between parts of the sum."""
    if len(ring) < 3:
        return False
    around = sum(abs(bx - ax) + abs(by - ay) for (ax, ay), (bx, by) in edges(ring))
    return bool(abs(pyclipper.Area(ring)) > FINE * SLIVER * around)


def _convex(polygon: Polygon) -> bool:
    ring = edges(polygon.points)
    turned = ring[1:] + ring[:1]
    return all(
        (b[0] - a[0]) * (d[1] - c[1]) > (b[1] - a[1]) * (d[0] - c[0])
        for (a, b), (c, d) in zip(ring, turned, strict=True)
    )


def _merged(first: Ring, second: Ring) -> list[Point]:
    """The Minkowski sum of two convex rings: their edges, sorted by direction."""
    rings = [_from_lowest(first), _from_lowest(second)]
    at = [0, 0]
    sides = [edges(ring) for ring in rings]
    x, y = rings[0][0][0] + rings[1][0][0], rings[0][0][1] + rings[1][0][1]
    found: list[Point] = []
    while at[0] < len(sides[0]) or at[1] < len(sides[1]):
        found.append((x, y))
        steps = [_step(sides[i], at[i]) for i in (0, 1)]
        (ax, ay), (bx, by) = steps
        cross = ax * by - ay * bx
        if at[1] == len(sides[1]) or (at[0] < len(sides[0]) and cross >= 0):
            x, y, at[0] = x + ax, y + ay, at[0] + 1
            if cross == 0 and at[1] < len(sides[1]) and ax * bx + ay * by > 0:
                x, y, at[1] = x + bx, y + by, at[1] + 1
        else:
            x, y, at[1] = x + bx, y + by, at[1] + 1
    return found


def _from_lowest(ring: Ring) -> list[Point]:
    start = min(range(len(ring)), key=lambda i: (ring[i][1], ring[i][0]))
    return [*ring[start:], *ring[:start]]


def _step(sides: Sequence[tuple[Point, Point]], at: int) -> Point:
    if at == len(sides):
        return 0, 0
    (ax, ay), (bx, by) = sides[at]
    return bx - ax, by - ay


def tables(outlines: Sequence[Polygon]) -> NoFits:
    """All no-fit polygons of these outlines, as the kernel reads them."""
    count = len(outlines)
    start, end = np.zeros((count, count), np.int64), np.zeros((count, count), np.int64)
    blocks: list[Singles] = []
    known: dict[tuple[Ring, Ring], tuple[int, int]] = {}
    at = 0
    for s in range(count):
        for t in range(s, count):
            # an outline comes more than once where it may lie in several zones
            key = outlines[s].points, outlines[t].points
            if key not in known:
                block = _pair(outlines[s], outlines[t])
                known[key] = at, at + block.shape[1]
                blocks.append(block)
                at += block.shape[1]
            start[s, t], end[s, t] = known[key]
    sizes = np.array([(p.box.along, p.box.across) for p in outlines], np.float64)
    return NoFits(np.ascontiguousarray(np.concatenate(blocks, axis=1)), start, end, sizes)


@lru_cache(maxsize=KNOWN)
def _pair(standing: Polygon, moving: Polygon) -> Singles:
    """The block of two outlines; a plan asks for the same ones again and again."""
    return _block(no_fit(standing, moving))


def _block(rings: Sequence[Sequence[Corner]]) -> Singles:
    """The edges of some rings as columns, padded with edges of no length at a corner."""
    pairs = [(a, b) for ring in rings for a, b in zip(ring, (*ring[1:], ring[0]), strict=True)]
    pairs += [(pairs[-1][1], pairs[-1][1])] * (-len(pairs) % LANES)
    ends = np.array(pairs, np.float64)
    along = ends[:, 1] - ends[:, 0]
    squared = (along**2).sum(axis=1)
    inverse = np.where(squared > 0, 1 / np.where(squared > 0, squared, 1), 0)
    return np.stack(
        (ends[:, 0, 0], ends[:, 0, 1], along[:, 0], along[:, 1], inverse, ends[:, 1, 1])
    ).astype(np.float32)
