"""A first nest without search, compiled: each copy where it ends soonest, large ones first."""

from __future__ import annotations

import numpy as np

from marker.solver.nest.kernel import (
    FUZZ,
    SLIGHT,
    SLIGHTEST,
    Floats,
    Ints,
    State,
    Table,
    Work,
    compiled,
    cost,
    gather,
    snap,
)

AWAY = -1e15
"""Where copies lie that are not laid yet."""
LOOK = 3.0
"""How far back from the end gaps are looked for, in lengths of the copy."""


@compiled()
def _try(
    tab: Table, st: State, work: Work, p: int, s: int, x: float, y: float, best: Floats
) -> None:
    """Note a place if p ends sooner there than at the best so far, and bites nothing.

    A matched copy is moved on to the next place along the cloth that is its own.
    """
    if tab.step[0, s] > 0.0:
        x = st.base[0, s] + np.ceil((x - FUZZ - st.base[0, s]) / tab.step[0, s]) * tab.step[0, s]
    if (
        tab.step[1, s] > 0.0
        and abs(y - snap(y, tab.low[1, s], tab.high[1, s], st.base[1, s], tab.step[1, s])) > FUZZ
    ):
        return
    end = x + tab.along[s]
    if (
        not tab.low[0, s] <= x <= tab.high[0, s]
        or not tab.low[1, s] <= y <= tab.high[1, s]
        or (end, y) >= (best[3], best[2])
    ):
        return
    near = work.near[: gather(tab, st, work.near, p, s, x, y, x, y)]
    allowed = SLIGHTEST if tab.fixed[s] else SLIGHT
    allowed *= tab.factor[p] * tab.factor.min()
    if cost(tab, st, near, p, s, x, y, allowed) < allowed:
        best[0], best[1], best[2], best[3] = s, x, y, end


@compiled()
def _levels(tab: Table, st: State, s: int) -> tuple[float, float, float]:
    """The heights at which an outline may have to lie: first, step and last."""
    low, high, step = tab.low[1, s], tab.high[1, s], tab.step[1, s]
    if step == 0.0:
        return low, max(high - low, 1.0), high
    return snap(low, low, high, st.base[1, s], step), step, high + FUZZ


@compiled()
def _against(tab: Table, st: State, work: Work, p: int, s: int, q: int, best: Floats) -> None:
    """Try places where p as outline s touches q: at corners, at its limits, at matched heights."""
    t, gap = st.s[q], tab.gap if q < tab.free else tab.gap_fixed
    a, b, flip = (t, s, 1.0) if t <= s else (s, t, -1.0)
    lowest, step, highest = _levels(tab, st, s)
    left = tab.low[0, s]
    for k in range(tab.start[a, b], tab.end[a, b]):
        x, y = st.x[q] + flip * tab.edges[0, k], st.y[q] + flip * tab.edges[1, k]
        u, v = flip * float(tab.edges[2, k]), flip * float(tab.edges[3, k])
        for ox in (-gap, gap):
            for oy in (-gap, gap):
                _try(tab, st, work, p, s, x + ox, y + oy, best)
                if gap == 0.0:
                    break
            if gap == 0.0:
                break
        wall = lowest + max(0.0, np.ceil((min(y, y + v) - lowest) / step)) * step
        while wall <= min(highest, max(y, y + v)):
            if (y - wall) * (y + v - wall) < 0.0:
                slant = gap * np.hypot(u, v) / abs(v)
                _try(tab, st, work, p, s, x + (wall - y) / v * u + slant, wall, best)
            wall += step
        if (x - left) * (x + u - left) < 0.0:
            slant = gap * np.hypot(u, v) / abs(u)
            middle = y + (left - x) / u * v
            _try(tab, st, work, p, s, left, middle + slant, best)
            _try(tab, st, work, p, s, left, middle - slant, best)


@compiled(nogil=True)
def lay_first(tab: Table, st: State, work: Work, order: Ints, sure: float) -> float:
    """Lay the copies in this order, each where it ends soonest; gives the length.

    One that finds no place begins at `sure`, past all flaws, or where the longest ends. The
    length has no end where that is further than it may lie.
    """
    best = np.zeros(4)
    st.x[: tab.free] = AWAY
    st.x1[: tab.free] = AWAY
    end = 0.0
    for p in order:
        first, many = tab.first[tab.kind[p]], tab.many[tab.kind[p]]
        best[3] = np.inf
        for s in range(first, first + many):
            if not st.open[s]:
                continue
            back = end - LOOK * tab.along[s]
            wall, step, highest = _levels(tab, st, s)
            while wall <= highest:
                _try(tab, st, work, p, s, tab.low[0, s], wall, best)
                wall += step
            for q in range(st.x.shape[0]):
                if st.x[q] > AWAY and st.x[q] + tab.along[st.s[q]] >= back:
                    _against(tab, st, work, p, s, q, best)
        for s in range(first, first + many):
            if best[3] == np.inf and st.open[s]:
                x = max(end + tab.gap, sure, tab.low[0, s])
                _try(tab, st, work, p, s, x, _levels(tab, st, s)[0], best)
        if best[3] == np.inf:
            return np.inf
        st.s[p], st.x[p], st.y[p] = int(best[0]), best[1], best[2]
        st.x1[p], st.y1[p] = best[3], best[2] + tab.across[st.s[p]]
        end = max(end, best[3])
    return end
