"""Charts of what a copy would cost all over the cloth, compiled: one look for the best regions.

For every two outlines the depths of their no-fit polygon are kept on a lattice. The chart of a
copy is the sum of such lattices, each moved to where the other copy lies and multiplied by its
price: whole registers are added where each look at a no-fit polygon would walk its edges. A
chart is coarse by half a step of the lattice, so the spots that it names are looked at closely.
"""

from __future__ import annotations

import numpy as np

from marker.solver.nest.kernel import (
    FAR,
    Chart,
    Floats,
    Ints,
    Singles,
    State,
    Table,
    Work,
    clearance,
    compiled,
    copy_row,
    draw,
    lesser,
)

PARTS = 10
"""Steps of the lattice across the lesser side of an outline."""
CELLS = 8192
"""About how many places a chart has, at the most, on cloth that pieces cover by `FULL`."""
FULL = 0.8
MAP = 5 * CELLS
"""Places of a chart for which there is room: cloth is longer at first."""
ROOM = 1_000_000
"""Places of all lattices together, at the most, where a few a lattice don't exceed that."""
COARSER = 1.25
LANES = 32
"""Places that are looked at together."""
CLOSE = 2
"""Places no further apart than this are of one region."""


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
def lay_chart(
    tab: Table, st: State, chart: Singles, p: int, s: int, x0: float, y0: float, nx: int, ny: int
) -> None:
    """Sum up what p as outline s costs at nx by ny places from (x0, y0) on, row by row."""
    chart[: nx * ny] = 0.0
    cells, pitch = tab.chart.cells, tab.chart.pitch[s]
    for q in range(st.x.shape[0]):
        t = st.s[q]
        gap = tab.chart.gaps[t]
        w, h = tab.chart.wide[t, s], tab.chart.high[t, s]
        ox = int(np.floor((st.x[q] - tab.along[s] - gap - x0) / pitch + 0.5))
        oy = int(np.floor((st.y[q] - tab.across[s] - gap - y0) / pitch + 0.5))
        i0, i1 = max(0, ox), min(nx, ox + w)
        if q == p or i0 >= i1:
            continue
        price = np.float32(st.price[p, q])
        for j in range(max(0, oy), min(ny, oy + h)):
            at = tab.chart.at[t, s] + (j - oy) * w - ox
            _add(chart, j * nx + i0, cells, at + i0, i1 - i0, price)


@compiled(forceinline=True)
def _keep(spots: Floats, found: int, s: int, i: int, j: int, now: float) -> int:
    """Keep a place among the least found, in order, the lesser of two of one region."""
    at = -1
    for m in range(found):
        if spots[m, 0] == s and abs(spots[m, 1] - i) <= CLOSE and abs(spots[m, 2] - j) <= CLOSE:
            at = m
            break
    if at >= 0 and spots[at, 3] <= now:
        return found
    if at < 0:
        found = min(found + 1, spots.shape[0])
        at = found - 1
    while at > 0 and spots[at - 1, 3] > now:
        copy_row(spots, at, at - 1)
        at -= 1
    spots[at, 0], spots[at, 1], spots[at, 2], spots[at, 3] = s, i, j, now
    return found


@compiled()
def keep_least(chart: Singles, nx: int, s: int, limit: float, spots: Floats, found: int) -> int:
    """Add the least places of a chart, below a limit, to those found; gives how many there are.

    Rows of `spots`: outline, place along, place across, cost; the least first.
    """
    most = spots.shape[0]
    for base in range(0, chart.shape[0], LANES):
        part = chart[base : min(base + LANES, chart.shape[0])]
        least = FAR
        for k in range(part.shape[0]):
            least = lesser(part[k], least)
        bar = limit if found < most else min(limit, spots[found - 1, 3])
        if least < bar:
            for k in range(part.shape[0]):
                now = float(part[k])
                if now < bar:
                    j, i = divmod(base + k, nx)
                    found = _keep(spots, found, s, i, j, now)
                    bar = limit if found < most else min(limit, spots[found - 1, 3])
    return found


@compiled()
def charted(tab: Table, st: State, work: Work, p: int, length: float, limit: float) -> int:
    """Note the best regions for p into work.spots: outline, x, y, about what it costs.

    Gives how many there are, below a limit; -1 where a way in which p may lie has no chart,
    for it is matched to a repeat, or the cloth is too long. Where a lattice begins is drawn
    by lot.
    """
    first, many = tab.first[tab.kind[p]], tab.many[tab.kind[p]]
    spots, found = work.spots, 0
    for s in range(first, first + many):
        low_x, most_x = tab.low[0, s], min(tab.high[0, s], length - tab.along[s])
        low_y, most_y = tab.low[1, s], tab.high[1, s]
        if most_x < low_x or most_y < low_y or not st.open[s]:
            continue
        pitch = tab.chart.pitch[s]
        nx, ny = int((most_x - low_x) / pitch) + 1, int((most_y - low_y) / pitch) + 1
        if tab.step[0, s] > 0.0 or tab.step[1, s] > 0.0 or nx * ny > work.chart.shape[0]:
            return -1
        x0 = low_x + draw(st.luck) * (most_x - low_x - (nx - 1) * pitch)
        y0 = low_y + draw(st.luck) * (most_y - low_y - (ny - 1) * pitch)
        lay_chart(tab, st, work.chart, p, s, x0, y0, nx, ny)
        found = keep_least(work.chart[: nx * ny], nx, s, limit, spots, found)
        for m in range(found):
            if spots[m, 0] == s:  # from here on by its place, and no neighbour of other ways
                spots[m, 1], spots[m, 2] = x0 + spots[m, 1] * pitch, y0 + spots[m, 2] * pitch
                spots[m, 0] = -1.0 - s
    for m in range(found):
        spots[m, 0] = -1.0 - spots[m, 0]
    return found
