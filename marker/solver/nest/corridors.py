"""Half-planes that hem in the moves of a pair and keep it apart, compiled like the kernel.

The free moves about the one at hand are not convex. Half-planes are chosen one by one along
the edge of the no-fit polygon nearest to it, until none of the edge within reach is left
among them; so their overlap is free of it.
"""

from __future__ import annotations

import numpy as np

from marker.solver.nest.kernel import Floats, State, Table, compiled, copy_row

TIE = 1e-6
SLIVER = 1e-3
"""Units by which an edge may stick out of a half-plane and still count as behind it."""


@compiled()
def _within(tab: Table, s: int, t: int, px: float, py: float, reach: float, cut: Floats) -> bool:
    """Copy the edges within reach, clipped, into rows of `cut`; row 0 is for their count.

    A row: corner, direction, and the part of the edge from the one to the other. Tells
    whether (px, py) lies inside.
    """
    turns, count = 0, 0
    for k in range(tab.start[s, t], tab.end[s, t]):
        x, y = float(tab.edges[0, k]), float(tab.edges[1, k])
        u, v, end = float(tab.edges[2, k]), float(tab.edges[3, k]), float(tab.edges[5, k])
        side = u * (py - y) - v * (px - x)
        if y <= py < end and side > 0:
            turns += 1
        elif end <= py < y and side <= 0:
            turns -= 1
        low, high = _clip(x - px, u, reach, 0.0, 1.0)
        low, high = _clip(y - py, v, reach, low, high)
        if low < high and (u != 0.0 or v != 0.0):
            count += 1
            cut[count, 0], cut[count, 1], cut[count, 2], cut[count, 3] = x, y, u, v
            cut[count, 4], cut[count, 5] = low, high
    cut[0, 0] = count
    return turns != 0


@compiled()
def _clip(base: float, step: float, reach: float, low: float, high: float) -> tuple[float, float]:
    """The part of low to high in which base + part * step is less than reach from nought."""
    if step == 0.0:
        return (low, high) if abs(base) < reach else (1.0, 0.0)
    first, last = (-reach - base) / step, (reach - base) / step
    return max(low, min(first, last)), min(high, max(first, last))


@compiled()
def _nearest(cut: Floats, px: float, py: float) -> tuple[int, float, float, float, float]:
    """The nearest edge, of two equally near the one that (px, py) lies further ahead of.

    With it, the nearest point, the distance, and how far ahead of its line (px, py) lies.
    """
    found, qx, qy, best, lead = 0, 0.0, 0.0, np.inf, -np.inf
    for k in range(1, int(cut[0, 0]) + 1):
        x, y, u, v = px - cut[k, 0], py - cut[k, 1], cut[k, 2], cut[k, 3]
        size = np.sqrt(u * u + v * v)
        part = min(max((x * u + y * v) / (size * size), cut[k, 4]), cut[k, 5])
        away, ahead = np.hypot(x - part * u, y - part * v), (v * x - u * y) / size
        if away < best - TIE or (away < best + TIE and ahead > lead):
            found, best, lead = k, away, ahead
            qx, qy = cut[k, 0] + part * u, cut[k, 1] + part * v
    return found, qx, qy, best, lead


@compiled()
def _cut_off(cut: Floats, gone: int, nx: float, ny: float, c: float) -> None:
    """Keep only what lies ahead of the line n . z = c; edge `gone` lies on it."""
    kept = 0
    for k in range(1, int(cut[0, 0]) + 1):
        base = nx * cut[k, 0] + ny * cut[k, 1] - c
        step = nx * cut[k, 2] + ny * cut[k, 3]
        e, f = base + cut[k, 4] * step, base + cut[k, 5] * step
        if k == gone or (e <= SLIVER and f <= SLIVER):
            continue
        if e < 0.0:
            cut[k, 4] = -base / step
        elif f < 0.0:
            cut[k, 5] = -base / step
        kept += 1
        copy_row(cut, kept, k)
    cut[0, 0] = kept


@compiled()
def _corridor(
    tab: Table, s: int, t: int, dx: float, dy: float, gap: float, reach: float,
    cut: Floats, out: Floats,
) -> int:  # fmt: skip
    """Write half-planes n . d >= c for a move d from s to t, now (dx, dy); gives how many."""
    flip = 1.0 if s <= t else -1.0
    if s > t:
        s, t = t, s
    px, py = flip * dx, flip * dy
    inside = _within(tab, s, t, px, py, reach, cut)
    found = 0
    while cut[0, 0] > 0 and found < out.shape[0]:
        k, qx, qy, away, ahead = _nearest(cut, px, py)
        size = np.hypot(cut[k, 2], cut[k, 3])
        nx, ny = cut[k, 3] / size, -cut[k, 2] / size
        if ahead < 0.0 and away > 1.0 and not (inside and found == 0):
            # seen from behind: the way to it is barred at its nearest point
            nx, ny = (px - qx) / away, (py - qy) / away
        c = nx * qx + ny * qy
        out[found, 2], out[found, 3], out[found, 4] = flip * nx, flip * ny, c + gap
        found += 1
        _cut_off(cut, k, nx, ny, c)
    return found


@compiled(nogil=True)
def planes(tab: Table, st: State, reach: float, cut: Floats, out: Floats) -> int:
    """Write rows (p, q, nx, ny, c) that ask n . (q - p) >= c; gives how many.

    They hold for moves of each copy by up to `reach` along and across; `out` is full where
    as many come back as it has rows.
    """
    rows = 0
    for p in range(tab.free):
        for q in range(p + 1, st.x.shape[0]):
            gap = tab.gap if q < tab.free else tab.gap_fixed
            s, t, far = st.s[p], st.s[q], gap + 2 * reach
            dx, dy = st.x[q] - st.x[p], st.y[q] - st.y[p]
            if -tab.along[t] - far < dx < tab.along[s] + far and (
                -tab.across[t] - far < dy < tab.across[s] + far
            ):
                found = _corridor(tab, s, t, dx, dy, gap, far, cut, out[rows:])
                for i in range(rows, rows + found):
                    out[i, 0], out[i, 1] = p, q
                rows += found
    return rows
