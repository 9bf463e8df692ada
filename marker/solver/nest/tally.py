"""Charts of what a copy would cost all over the cloth, compiled: one look for the best regions.

The chart of a copy is the sum of lattices, each moved to where another copy lies and multiplied
by its price: whole registers are added where each look at a no-fit polygon would walk its edges.
Most prices are what the sizes of two copies make them, and most copies lie still. So the sum by
sizes alone is kept for each outline; a chart brings it up to date and adds what prices are above
that. It is coarse by half a step of the lattice: the spots that it names are looked at closely.
"""

from __future__ import annotations

import numpy as np

from marker.solver.nest.charts import add_lattice
from marker.solver.nest.kernel import (
    FAR,
    Floats,
    Singles,
    State,
    Table,
    Tally,
    Work,
    compiled,
    copy_row,
    draw,
    lesser,
)

LANES = 192
"""Places that are passed over together where none of them is among the least."""
CLOSE = 2
"""Places no further apart than this are of one region."""
SLIGHT = 0.05
"""Part by which a price may be wrong in a chart."""


@compiled()
def begin(tab: Table, st: State, tally: Tally, length: float) -> None:
    """Lay out the places of each outline on a length of cloth, where they begin by lot.

    An outline has none where it is matched to a repeat, or where there is no room left.
    """
    at = 0
    for s in range(tab.chart.pitch.shape[0]):
        low_x, most_x = tab.low[0, s], min(tab.high[0, s], length - tab.along[s])
        low_y, most_y = tab.low[1, s], tab.high[1, s]
        pitch, nx, ny = tab.chart.pitch[s], 0, 0
        if most_x >= low_x and most_y >= low_y and st.open[s]:
            nx, ny = int((most_x - low_x) / pitch) + 1, int((most_y - low_y) / pitch) + 1
        free = at + nx * ny <= tally.sums.shape[0]
        tally.at[s] = at if free and tab.step[0, s] == 0.0 and tab.step[1, s] == 0.0 else -1
        tally.wide[s], tally.high[s] = nx, ny
        if nx * ny > 0 and tally.at[s] >= 0:
            tally.origin[s, 0] = low_x + draw(st.luck) * (most_x - low_x - (nx - 1) * pitch)
            tally.origin[s, 1] = low_y + draw(st.luck) * (most_y - low_y - (ny - 1) * pitch)
            tally.seen[s, :, 2] = -1.0
            tally.sums[at : at + nx * ny] = 0.0
            at += nx * ny


@compiled()
def lay_chart(tab: Table, st: State, work: Work, p: int, s: int) -> int:
    """Sum up what p as outline s costs at the places of s, into work.chart; how many these are."""
    tally, own = work.tally, tab.factor[p]
    nx, ny = tally.wide[s], tally.high[s]
    grid = tally.origin[s, 0], tally.origin[s, 1], nx, ny
    sums, seen = tally.sums[tally.at[s] : tally.at[s] + nx * ny], tally.seen[s]
    for q in range(st.x.shape[0]):
        x, y, t = st.x[q], st.y[q], st.s[q]
        if seen[q, 0] == x and seen[q, 1] == y and seen[q, 2] == t:
            continue
        if seen[q, 2] >= 0.0:
            was = int(seen[q, 2])
            add_lattice(tab, sums, grid, s, was, seen[q, 0], seen[q, 1], -tab.factor[q])
        add_lattice(tab, sums, grid, s, t, x, y, tab.factor[q])
        seen[q, 0], seen[q, 1], seen[q, 2] = x, y, t
    chart, part = work.chart, np.float32(own)
    for k in range(nx * ny):
        chart[k] = part * sums[k]
    for q in range(st.x.shape[0]):
        usual = own * tab.factor[q]
        beyond = (st.price[p, q] if q != p else 0.0) - usual
        if abs(beyond) > SLIGHT * usual:
            add_lattice(tab, chart, grid, s, st.s[q], st.x[q], st.y[q], beyond)
    places: int = nx * ny
    return places


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
def charted(tab: Table, st: State, work: Work, p: int, limit: float) -> int:
    """Note the best regions for p into work.spots: outline, x, y, about what it costs.

    Gives how many there are, below a limit; -1 where a way in which p may lie has no places
    laid out.
    """
    first, many = tab.first[tab.kind[p]], tab.many[tab.kind[p]]
    spots, tally, found = work.spots, work.tally, 0
    for s in range(first, first + many):
        if tally.at[s] < 0:
            return -1
        if tally.wide[s] == 0:
            continue
        places, pitch = lay_chart(tab, st, work, p, s), tab.chart.pitch[s]
        found = keep_least(work.chart[:places], tally.wide[s], s, limit, spots, found)
        for m in range(found):
            if spots[m, 0] == s:  # from here on by its place, and no neighbour of other ways
                spots[m, 1] = tally.origin[s, 0] + spots[m, 1] * pitch
                spots[m, 2] = tally.origin[s, 1] + spots[m, 2] * pitch
                spots[m, 0] = -1.0 - s
    for m in range(found):
        spots[m, 0] = -1.0 - spots[m, 0]
    return found
