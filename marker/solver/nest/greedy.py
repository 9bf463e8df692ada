"""A first nest without search, compiled: each copy where it ends soonest, large ones first."""

from __future__ import annotations

import numpy as np

from marker.solver.nest.kernel import (
    SLIGHT,
    Floats,
    Ints,
    State,
    Table,
    Work,
    compiled,
    cost,
    gather,
)

AWAY = -1e15
"""Where copies lie that are not laid yet."""
LOOK = 3.0
"""How far back from the end gaps are looked for, in lengths of the copy."""


@compiled()
def _try(
    tab: Table, st: State, work: Work, p: int, s: int, x: float, y: float, best: Floats
) -> None:
    """Note a place if p ends sooner there than at the best so far, and bites nothing."""
    end = x + tab.along[s]
    if x < 0.0 or not 0.0 <= y <= tab.width - tab.across[s] or (end, y) >= (best[3], best[2]):
        return
    near = work.near[: gather(tab, st, work.near, p, s, x, y, x, y)]
    allowed = SLIGHT * tab.factor[p] * tab.factor.min()
    if cost(tab, st, near, p, s, x, y, allowed) < allowed:
        best[0], best[1], best[2], best[3] = s, x, y, end


@compiled()
def _against(tab: Table, st: State, work: Work, p: int, s: int, q: int, best: Floats) -> None:
    """Try places where p as outline s touches q: at corners, and at the cloth's edges."""
    t, gap = st.s[q], tab.gap if q < tab.free else tab.gap_fixed
    a, b, flip = (t, s, 1.0) if t <= s else (s, t, -1.0)
    highest = tab.width - tab.across[s]
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
        for wall in (0.0, highest):
            if (y - wall) * (y + v - wall) < 0.0:
                slant = gap * np.hypot(u, v) / abs(v)
                _try(tab, st, work, p, s, x + (wall - y) / v * u + slant, wall, best)
        if x * (x + u) < 0.0:
            slant = gap * np.hypot(u, v) / abs(u)
            middle = y - x / u * v
            _try(tab, st, work, p, s, 0.0, middle + slant, best)
            _try(tab, st, work, p, s, 0.0, middle - slant, best)


@compiled(nogil=True)
def lay_first(tab: Table, st: State, work: Work, order: Ints, sure: float) -> float:
    """Lay the copies in this order, each where it ends soonest; gives the length.

    One that finds no place begins at `sure`, past all flaws, or where the longest ends.
    """
    best = np.zeros(4)
    st.x[: tab.free] = AWAY
    st.x1[: tab.free] = AWAY
    end = 0.0
    for p in order:
        first, many = tab.first[tab.kind[p]], tab.many[tab.kind[p]]
        best[3] = np.inf
        for s in range(first, first + many):
            back = end - LOOK * tab.along[s]
            _try(tab, st, work, p, s, 0.0, 0.0, best)
            _try(tab, st, work, p, s, 0.0, tab.width - tab.across[s], best)
            for q in range(st.x.shape[0]):
                if st.x[q] > AWAY and st.x[q] + tab.along[st.s[q]] >= back:
                    _against(tab, st, work, p, s, q, best)
        if best[3] == np.inf:
            best[0], best[1], best[2] = first, max(end + tab.gap, sure), 0.0
            best[3] = best[1] + tab.along[first]
        st.s[p], st.x[p], st.y[p] = int(best[0]), best[1], best[2]
        st.x1[p], st.y1[p] = best[3], best[2] + tab.across[st.s[p]]
        end = max(end, best[3])
    return end
