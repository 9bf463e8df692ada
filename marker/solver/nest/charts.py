"""Lattices that charts are made of, compiled: for every two outlines the depths of their bite."""

from __future__ import annotations

import numpy as np

from marker.solver.nest.kernel import (
    Chart,
    Floats,
    Ints,
    Singles,
    Table,
    clearance,
    compiled,
)

PARTS = 10
"""Steps of the lattice across the lesser side of an outline."""
CELLS = 8192
"""About how many places a chart has, at the most, on cloth that pieces cover by `FULL`."""
FULL = 0.8
ROOM = 1_000_000
"""Places of all lattices together, at the most, where a few a lattice don't exceed that."""
COARSER = 1.25


def pitches(sizes: Floats, gaps: Floats, movable: int, area: float) -> Floats:
    """The step of the lattice of each outline that may move, in units; `area` is all copies'."""
    strip = area / FULL
    pitch: Floats = np.maximum(sizes[:movable].min(axis=1) / PARTS, np.sqrt(strip / CELLS))
    few = 25 * len(sizes) * movable
    while (_spans(sizes, gaps, pitch).prod(axis=2)).sum() > max(ROOM, few):
        pitch = pitch * COARSER
    return pitch


def chart_of(
    edges: Singles, start: Ints, end: Ints, sizes: Floats, gaps: Floats, pitch: Floats
) -> Chart:
    """Lay the lattices of all outlines t against all s that may move; `gaps` are those of t."""
    spans = _spans(sizes, gaps, pitch)
    wide, high = spans[:, :, 0].copy(), spans[:, :, 1].copy()
    ends = np.cumsum(wide * high).reshape(wide.shape)
    cells = np.zeros(int(ends[-1, -1]), np.float32)
    chart = Chart(cells, ends - wide * high, wide, high, pitch, gaps)
    _fill(chart, edges, start, end, sizes)
    return chart


def _spans(sizes: Floats, gaps: Floats, pitch: Floats) -> Ints:
    """Places along and across of each lattice."""
    both = sizes[:, None, :] + sizes[None, : len(pitch), :] + 2 * gaps[:, None, None]
    return np.floor(both / pitch[None, :, None]).astype(np.int64) + 2


@compiled()
def _fill(chart: Chart, edges: Singles, start: Ints, end: Ints, sizes: Floats) -> None:
    """Write the depths of all lattices."""
    for t in range(sizes.shape[0]):
        gap = chart.gaps[t]
        for s in range(chart.pitch.shape[0]):
            pitch, at = chart.pitch[s], chart.at[t, s]
            a, b, flip = (t, s, 1.0) if t <= s else (s, t, -1.0)
            for j in range(chart.high[t, s]):
                dy = np.float32(flip * (j * pitch - sizes[s, 1] - gap))
                for i in range(chart.wide[t, s]):
                    dx = np.float32(flip * (i * pitch - sizes[s, 0] - gap))
                    apart = clearance(edges, start[a, b], end[a, b], dx, dy)
                    chart.cells[at] = max(0.0, gap - float(apart))
                    at += 1


@compiled(forceinline=True)
def _add(onto: Singles, into: int, cells: Singles, at: int, many: int, price: np.float32) -> None:
    """Add a row; numbers without a sign let the loop fill vector registers at once."""
    a, b = np.uint64(into), np.uint64(at)
    for i in range(np.uint64(many)):
        onto[a + i] += price * cells[b + i]


@compiled()
def add_lattice(
    tab: Table, onto: Singles, grid: tuple[float, float, int, int],
    s: int, t: int, x: float, y: float, price: float,
) -> None:  # fmt: skip
    """Add what outline s bites into a copy that lies as t at (x, y), row by row.

    `grid`: where the first place of s is, and how many there are along and across.
    """
    x0, y0, nx, ny = grid
    cells, pitch, gap = tab.chart.cells, tab.chart.pitch[s], tab.chart.gaps[t]
    w, h = tab.chart.wide[t, s], tab.chart.high[t, s]
    ox = int(np.floor((x - tab.along[s] - gap - x0) / pitch + 0.5))
    oy = int(np.floor((y - tab.across[s] - gap - y0) / pitch + 0.5))
    i0, i1 = max(0, ox), min(nx, ox + w)
    if i0 < i1:
        for j in range(max(0, oy), min(ny, oy + h)):
            at = tab.chart.at[t, s] + (j - oy) * w - ox
            _add(onto, j * nx + i0, cells, at + i0, i1 - i0, np.float32(price))
