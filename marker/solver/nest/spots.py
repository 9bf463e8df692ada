"""Where a copy lies best, compiled: spots tried by lot, and the way down to the best of them.

The way down goes by models: near a spot every bite grows and shrinks along a straight slope,
so the least of their sum lies where two lines cross, and is found without another look at
the no-fit polygons.
"""

from __future__ import annotations

import numpy as np

from marker.solver.nest.kernel import (
    Floats,
    Ints,
    Singles,
    State,
    Table,
    Work,
    clearances,
    compiled,
    copy_row,
    cost,
    draw,
    gather,
    snap,
)
from marker.solver.nest.tally import charted

FINE = 0.25
"""Reach, in units, at which the way down to a best spot ends."""
KEPT, WORSE = 3, 4.0
"""How many of the spots tried are looked at closely, and how many times as much as the one at
hand they may cost before: the way down from them is often long."""
LIKELY = 2.0
"""The same for a place of a chart."""
PLAY, LITTLE = 0.15, 0.05
"""How far the first step down may go, against an outline's lesser side, and one from a spot
that has been gone down from before."""
TIE = 1e-6
ROUGH = 0.05
"""Units by which a quick measure of the way to an edge may be wrong."""


@compiled()
def slope(
    edges: Singles, a: int, b: int, px: float, py: float, far: float, away: Singles
) -> tuple[float, float, float]:
    """Clearance of a point from a no-fit polygon, and the way in which it grows fastest.

    From a clearance of `far` on the way is of no account. Only edges that may be the nearest,
    as the quick measure of `away` tells, are looked at closely.
    """
    apart = float(clearances(edges, a, b, np.float32(px), np.float32(py), away))
    if apart >= far:
        return apart, 0.0, 0.0
    bar = np.float32((abs(apart) + ROUGH) * (abs(apart) + ROUGH))
    best, nx, ny, ahead = np.inf, 0.0, 0.0, 0.0
    for i in range(b - a):
        if away[i] > bar:
            continue
        k = a + i
        u, v = float(edges[2, k]), float(edges[3, k])
        if u == 0.0 and v == 0.0:
            continue
        x, y = px - edges[0, k], py - edges[1, k]
        part = min(max((x * u + y * v) * edges[4, k], 0.0), 1.0)
        rx, ry = x - part * u, y - part * v
        near = rx * rx + ry * ry
        if near >= best + TIE:
            continue
        side = abs(v * x - u * y) / np.sqrt(u * u + v * v)
        if near < best - TIE or side > ahead:
            best, ahead = near, side
            if near > 1.0:
                nx, ny = rx, ry
            else:
                nx, ny = (v, -u) if apart > 0.0 else (-v, u)
    size = np.sqrt(nx * nx + ny * ny)
    if apart < 0.0:
        size = -size
    return apart, nx / size, ny / size


@compiled()
def model(
    tab: Table,
    st: State,
    near: Ints,
    rows: Floats,
    away: Singles,
    p: int,
    s: int,
    x: float,
    y: float,
    reach: float,
) -> int:
    """Write what p as outline s at (x, y) costs nearby, as rows n, least, price; how many.

    A move d costs price * (least - n . d) of each row where that is above nought.
    """
    found = 0
    for q in near:
        t, dx, dy = st.s[q], x - st.x[q], y - st.y[q]
        gap = tab.gap if q < tab.free else tab.gap_fixed
        far = gap + 2 * reach
        if (
            dx >= tab.along[t] + far
            or dx <= -tab.along[s] - far
            or dy >= tab.across[t] + far
            or dy <= -tab.across[s] - far
        ):
            continue
        if t <= s:
            apart, nx, ny = slope(tab.edges, tab.start[t, s], tab.end[t, s], dx, dy, far, away)
        else:
            apart, nx, ny = slope(tab.edges, tab.start[s, t], tab.end[s, t], -dx, -dy, far, away)
            nx, ny = -nx, -ny
        if apart < far and found < rows.shape[0]:
            rows[found, 0], rows[found, 1] = nx, ny
            rows[found, 2], rows[found, 3] = gap - apart, st.price[p, q]
            found += 1
    return found


@compiled(forceinline=True)
def consider(rows: Floats, found: int, dx: float, dy: float, best: Floats) -> None:
    """Note a move if it costs least in the model, the shorter of two that cost alike."""
    total = 1e-6 * (abs(dx) + abs(dy))
    for i in range(found):
        total += rows[i, 3] * max(0.0, rows[i, 2] - rows[i, 0] * dx - rows[i, 1] * dy)
        if total >= best[2]:
            return
    best[0], best[1], best[2] = dx, dy, total


@compiled()
def best_move(
    rows: Floats, found: int, x0: float, y0: float, x1: float, y1: float, best: Floats
) -> None:
    """The least of the model within a box: it lies where two of its lines cross."""
    best[2] = np.inf
    for x in (x0, x1):
        for y in (y0, y1):
            consider(rows, found, x, y, best)
    for i in range(found):
        nx, ny, c = rows[i, 0], rows[i, 1], rows[i, 2]
        consider(rows, found, min(max(c * nx, x0), x1), min(max(c * ny, y0), y1), best)
        for x in (x0, x1):
            if abs(ny) > TIE and y0 <= (c - nx * x) / ny <= y1:
                consider(rows, found, x, (c - nx * x) / ny, best)
        for y in (y0, y1):
            if abs(nx) > TIE and x0 <= (c - ny * y) / nx <= x1:
                consider(rows, found, (c - ny * y) / nx, y, best)
        for j in range(i):
            det = nx * rows[j, 1] - ny * rows[j, 0]
            det = det if abs(det) > TIE else np.inf
            x = (c * rows[j, 1] - ny * rows[j, 2]) / det
            y = (nx * rows[j, 2] - c * rows[j, 0]) / det
            if x0 <= x <= x1 and y0 <= y <= y1:
                consider(rows, found, x, y, best)


@compiled()
def settle(
    tab: Table, st: State, work: Work, p: int, spot: Floats, length: float, reach: float, steps: int
) -> None:
    """Move a spot downhill: each step to the least of a model that holds within reach."""
    s, x, y, best = int(spot[0]), spot[1], spot[2], spot[3]
    low_x, most_x = tab.low[0, s], min(tab.high[0, s], length - tab.along[s])
    low_y, most_y = tab.low[1, s], tab.high[1, s]
    if tab.step[0, s] > 0.0:
        low_x = most_x = x
    if tab.step[1, s] > 0.0:
        low_y = most_y = y
    far = 2 * reach
    near = work.near[: gather(tab, st, work.near, p, s, x - far, y - far, x + far, y + far)]
    move, rows = work.move, work.rows
    x_far, y_far = x, y
    fresh, found = True, 0
    for _ in range(steps):
        if best <= 0.0 or reach < FINE:
            break
        if fresh:
            found = model(tab, st, near, rows, work.away, p, s, x, y, reach)
        best_move(
            rows, found,
            max(-reach, low_x - x, x_far - far - x), max(-reach, low_y - y, y_far - far - y),
            min(reach, most_x - x, x_far + far - x), min(reach, most_y - y, y_far + far - y), move,
        )  # fmt: skip
        hoped = best - move[2]
        if hoped <= 1e-3 * best:
            break
        now = cost(tab, st, near, p, s, x + move[0], y + move[1], best)
        fresh = now < best
        if not fresh:
            reach *= 0.35
            continue
        if best - now < 0.5 * hoped:
            reach *= 0.5
        x, y, best = x + move[0], y + move[1], now
    spot[1], spot[2], spot[3] = min(max(low_x, x), most_x), min(max(low_y, y), most_y), best


@compiled(forceinline=True)
def look(
    tab: Table, st: State, near: Ints, p: int, s: int, x: float, y: float, top: Floats
) -> None:
    """See what a spot costs, and keep it if it is one of the best."""
    now = cost(tab, st, near, p, s, x, y, top[KEPT - 1, 3])
    if now < top[KEPT - 1, 3]:
        i = KEPT - 1
        while i > 0 and top[i - 1, 3] > now:
            copy_row(top, i, i - 1)
            i -= 1
        top[i, 0], top[i, 1], top[i, 2], top[i, 3] = s, x, y, now


@compiled()
def sample(
    tab: Table, st: State, work: Work, p: int, s: int, length: float,
    x: float, y: float, reach: float, tries: int,
) -> None:  # fmt: skip
    """Try spots about (x, y) by lot; the best of all come into work.top, in order."""
    top, w, h = work.top, tab.along[s], tab.across[s]
    low_x, most_x = tab.low[0, s], min(tab.high[0, s], length - w)
    low_y, most_y = tab.low[1, s], tab.high[1, s]
    if most_x < low_x or most_y < low_y or not st.open[s]:
        return
    step_x, step_y = tab.step[0, s], tab.step[1, s]
    if np.isnan(snap(x, low_x, most_x, st.base[0, s], step_x)):
        return
    x0, x1 = min(max(low_x, x - reach * w), most_x), max(low_x, min(most_x, x + reach * w))
    y0, y1 = min(max(low_y, y - reach * h), most_y), max(low_y, min(most_y, y + reach * h))
    found = gather(tab, st, work.near, p, s, x0 - step_x, y0 - step_y, x1 + step_x, y1 + step_y)
    near = work.near[:found]
    for _ in range(tries):
        tx, ty = x0 + draw(st.luck) * (x1 - x0), y0 + draw(st.luck) * (y1 - y0)
        if step_x > 0.0:
            tx = snap(tx, low_x, most_x, st.base[0, s], step_x)
        if step_y > 0.0:
            ty = snap(ty, low_y, most_y, st.base[1, s], step_y)
        look(tab, st, near, p, s, tx, ty, top)


@compiled()
def anywhere(tab: Table, st: State, work: Work, p: int, length: float, plan: Ints) -> None:
    """Try spots in windows of the cloth drawn by lot."""
    first, many = tab.first[tab.kind[p]], tab.many[tab.kind[p]]
    for _ in range(plan[0]):
        s = first + int(draw(st.luck) * many)
        most_x = min(tab.high[0, s], length - tab.along[s])
        x = tab.low[0, s] + draw(st.luck) * (most_x - tab.low[0, s])
        y = tab.low[1, s] + draw(st.luck) * (tab.high[1, s] - tab.low[1, s])
        sample(tab, st, work, p, s, length, x, y, 0.5, plan[1])


@compiled()
def about(
    tab: Table, st: State, work: Work, p: int, length: float, windows: int, tries: int
) -> None:
    """Try spots about the one at hand, at first as the outline that lies there."""
    first, many, here = tab.first[tab.kind[p]], tab.many[tab.kind[p]], st.s[p]
    for window in range(windows):
        s = here if window == 0 else first + int(draw(st.luck) * many)
        x = st.x[p] + (tab.along[here] - tab.along[s]) / 2
        y = st.y[p] + (tab.across[here] - tab.across[s]) / 2
        sample(tab, st, work, p, s, length, x, y, 0.25, tries)


@compiled()
def best_spot(
    tab: Table, st: State, work: Work, p: int, length: float, now: float, plan: Ints
) -> None:
    """Look for a spot that costs less than `now`; the best comes into work.top[0].

    `plan`: windows anywhere, tries in each, windows about the spot at hand, tries in each,
    steps down from a good spot and from the best; then windows about the spot at hand where
    a chart stands in for those anywhere.
    """
    top, here, spots = work.top, st.s[p], work.spots
    top[:, 3] = WORSE * now
    found = charted(tab, st, work, p, LIKELY * now)
    if found < 0:
        anywhere(tab, st, work, p, length, plan)
    for m in range(found):
        s, x, y = int(spots[m, 0]), spots[m, 1], spots[m, 2]
        look(tab, st, work.near[: gather(tab, st, work.near, p, s, x, y, x, y)], p, s, x, y, top)
    about(tab, st, work, p, length, plan[2] if found < 0 else plan[6], plan[3])
    best = 0
    for i in range(KEPT):
        if top[i, 3] < WORSE * now:
            s = int(top[i, 0])
            settle(
                tab, st, work, p, top[i], length, PLAY * min(tab.along[s], tab.across[s]), plan[4]
            )
            if top[i, 3] < top[best, 3]:
                best = i
    part = LITTLE
    if top[best, 3] >= now:
        top[best, 0], top[best, 1], top[best, 2], top[best, 3] = here, st.x[p], st.y[p], now
        part = PLAY
    s = int(top[best, 0])
    settle(tab, st, work, p, top[best], length, part * min(tab.along[s], tab.across[s]), plan[5])
    copy_row(top, 0, best)
