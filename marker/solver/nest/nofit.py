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
from marker.geometry.segments import Point
from marker.solver.nest.convolve import convolution
from marker.solver.nest.kernel import Floats, Ints, Singles, compiled

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


def no_fit(standing: Polygon, moving: Polygon) -> list[Floats]:
    """The rings of a no-fit polygon, rows of x and y: counter-clockwise, and clockwise as holes."""
    clean = pyclipper.CleanPolygons(sums(standing, moving), FINE * SLIVER)
    rings = [np.array(ring, np.int64) for ring in clean if len(ring) > 2]
    return [_units(ring) for ring in rings if _is_wide(ring)]


def sums(standing: Polygon, moving: Polygon) -> list[Ring]:
    """The same made finer by `FINE`, and nothing rounded away but to that."""
    corners, ends, convex = convolution(_rows(standing), -_rows(moving))
    fine, last = (corners * FINE).tolist(), ends.tolist()
    walks = [fine[since:until] for since, until in zip([0, *last], last, strict=False)]
    if convex:
        return walks
    union = pyclipper.Pyclipper()
    union.AddPaths(walks, pyclipper.PT_SUBJECT, True)
    return list(union.Execute(pyclipper.CT_UNION, pyclipper.PFT_NONZERO, pyclipper.PFT_NONZERO))


@lru_cache(maxsize=KNOWN)
def _rows(outline: Polygon) -> Ints:
    return np.array(outline.points, np.int64)


@compiled()
def _is_wide(ring: Ints) -> bool:
    """Whether a ring is more than a sliver that rounding left between parts of the sum."""
    area = around = 0
    for k in range(len(ring)):
        a, b = ring[k - 1] - ring[0], ring[k] - ring[0]
        area += a[0] * b[1] - a[1] * b[0]
        around += abs(b[0] - a[0]) + abs(b[1] - a[1])
    return abs(area) > 2 * FINE * SLIVER * around


@compiled()
def _units(ring: Ints) -> Floats:
    """Corners in units again; those of whole outlines mostly lie at whole places."""
    found = ring / FINE
    for k in range(len(ring)):
        for axis in range(2):
            whole = np.rint(found[k, axis])
            if abs(found[k, axis] - whole) * FINE <= WHOLE:
                found[k, axis] = whole
    return found


def tables(outlines: Sequence[Polygon]) -> NoFits:
    """All no-fit polygons of these outlines, as the kernel reads them."""
    count = len(outlines)
    # an outline comes more than once where it may lie in several zones
    firsts: dict[Polygon, int] = {}
    same = [firsts.setdefault(outline, at) for at, outline in enumerate(outlines)]
    start, end = np.zeros((count, count), np.int64), np.zeros((count, count), np.int64)
    blocks: list[Singles] = []
    known: dict[tuple[int, int], tuple[int, int]] = {}
    at = 0
    for s in range(count):
        for t in range(s, count):
            key = same[s], same[t]
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
    rings = no_fit(standing, moving)
    corners = sum(len(ring) for ring in rings)
    block = np.zeros((6, corners + -corners % LANES), np.float32)
    at = 0
    for ring in rings:
        _write(block, at, ring)
        at += len(ring)
    # padded with edges of no length at a corner
    block[0, at:], block[1, at:], block[5, at:] = (rings[-1][0, axis] for axis in (0, 1, 1))
    return block


@compiled()
def _write(block: Singles, at: int, ring: Floats) -> None:
    """Write the edges of a ring into the columns of a block."""
    for k in range(len(ring)):
        a, b = ring[k - 1], ring[k]
        along, across = b[0] - a[0], b[1] - a[1]
        squared = along * along + across * across
        block[0, at + k], block[1, at + k] = a[0], a[1]
        block[2, at + k], block[3, at + k] = along, across
        block[4, at + k] = 1.0 / squared if squared > 0.0 else 0.0
        block[5, at + k] = b[1]
