"""Circles within no-fit polygons: how deep a bite is at least, with no look at the edges."""

from __future__ import annotations

import numpy as np

from marker.solver.nest.kernel import Floats, Ints, Singles, clearance, compiled

GRID, FINER, LEVELS = 12, 6, 6
"""Points tried to a side of a box, to one within it, and boxes one within the other."""


@compiled()
def _deepest(
    edges: Singles, a: int, b: int, grid: int,
    x: float, y: float, along: float, across: float, out: Floats,
) -> None:  # fmt: skip
    """Note the deepest of the points tried in a box around (x, y): its place and its depth."""
    for i in range(grid):
        for j in range(grid):
            px, py = x + along * ((i + 0.5) / grid - 0.5), y + across * ((j + 0.5) / grid - 0.5)
            deep = -float(clearance(edges, a, b, np.float32(px), np.float32(py)))
            if deep > out[2]:
                out[0], out[1], out[2] = px, py, deep


@compiled()
def discs(edges: Singles, start: Ints, end: Ints, sizes: Floats) -> Floats:
    """Rows of middle and radius, for outlines s <= t; nowhere near the greatest circle need be."""
    count = sizes.shape[0]
    found = np.zeros((count, count, 3))
    for s in range(count):
        for t in range(s, count):
            out = found[s, t]
            along, across = sizes[s, 0] + sizes[t, 0], sizes[s, 1] + sizes[t, 1]
            x, y = (sizes[s, 0] - sizes[t, 0]) / 2, (sizes[s, 1] - sizes[t, 1]) / 2
            for level in range(LEVELS):
                grid = FINER if level else GRID
                _deepest(edges, start[s, t], end[s, t], grid, x, y, along, across, out)
                x, y, along, across = out[0], out[1], along / 3, across / 3
    return found
