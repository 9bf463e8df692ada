"""Rounds of moves, compiled: every copy that bites goes where it costs least."""

from __future__ import annotations

import numpy as np

from marker.solver.nest.kernel import (
    Floats,
    Ints,
    State,
    Table,
    Work,
    bite,
    compiled,
    cost,
    draw,
    gather,
    slight,
)
from marker.solver.nest.spots import best_spot
from marker.solver.nest.tally import begin


@compiled()
def measure(tab: Table, st: State, work: Work) -> tuple[float, int]:
    """The sum of all bites, and how many pairs bite; these and what hurts each are noted."""
    hurt, pairs = work.hurt, work.pairs
    total, found = 0.0, 0
    hurt[:] = 0.0
    for p in range(st.x.shape[0]):
        st.x1[p] = st.x[p] + tab.along[st.s[p]]
        st.y1[p] = st.y[p] + tab.across[st.s[p]]
    for p in range(tab.free):
        s, x, y = st.s[p], st.x[p], st.y[p]
        x1, y1 = st.x1[p] + tab.gap, st.y1[p] + tab.gap
        for q in range(p + 1, st.x.shape[0]):
            if not (
                (st.x[q] < x1)
                & (st.x1[q] + tab.gap > x)
                & (st.y[q] < y1)
                & (st.y1[q] + tab.gap > y)
            ):
                continue
            gap = tab.gap if q < tab.free else tab.gap_fixed
            deep = bite(tab, st.s[q], s, x - st.x[q], y - st.y[q], gap)
            if deep > slight(tab, s, st.s[q]):
                deep *= tab.factor[p] * tab.factor[q]
                hurt[p] += deep
                hurt[q] += deep
                total += deep
                if found < pairs.shape[0]:
                    pairs[found, 0], pairs[found, 1] = p, q
                    work.deep[found] = deep
                    found += 1
    return total, found


@compiled()
def reweigh(tab: Table, st: State, work: Work, found: int, weights: Floats) -> None:
    """Let prices of bites grow, the worst one's most, and all others go back.

    `weights`: least and greatest growth, and what others are multiplied by, down to 1.
    """
    worst = work.deep[:found].max()
    for i in range(found):
        p, q = work.pairs[i, 0], work.pairs[i, 1]
        grown = weights[0] + (weights[1] - weights[0]) * work.deep[i] / worst
        st.price[p, q] *= grown / weights[2]
        st.price[q, p] = st.price[p, q]
    for p in range(st.x.shape[0]):
        for q in range(st.x.shape[0]):
            st.price[p, q] = max(tab.factor[p] * tab.factor[q], st.price[p, q] * weights[2])


@compiled()
def move_all(tab: Table, st: State, work: Work, length: float, plan: Ints) -> None:
    """Move every copy that bites, in an order drawn by lot, where it costs less."""
    count = 0
    for p in range(tab.free):
        if work.hurt[p] > 0.0:
            work.order[count] = p
            count += 1
    for i in range(count - 1, 0, -1):
        j = int(draw(st.luck) * (i + 1))
        work.order[i], work.order[j] = work.order[j], work.order[i]
    for p in work.order[:count]:
        s, x, y = st.s[p], st.x[p], st.y[p]
        near = work.near[: gather(tab, st, work.near, p, s, x, y, x, y)]
        now = cost(tab, st, near, p, s, x, y, np.inf)
        if now > 0.0:
            best_spot(tab, st, work, p, length, now, plan)
            if work.top[0, 3] < now:
                s, x, y = int(work.top[0, 0]), work.top[0, 1], work.top[0, 2]
                st.s[p], st.x[p], st.y[p] = s, x, y
                st.x1[p], st.y1[p] = x + tab.along[s], y + tab.across[s]


@compiled(nogil=True)
def separate(
    tab: Table, st: State, work: Work, length: float, rounds: int,
    plan: Ints, weights: Floats, mark: Floats,
) -> int:  # fmt: skip
    """Move copies apart for some rounds: 1 when all are, 2 when it no longer gets better.

    `mark`: least sum of bites so far, rounds since it fell, and how many of those to bear.
    """
    begin(tab, st, work.tally, length)
    total, found = measure(tab, st, work)
    for _ in range(rounds):
        if total <= 0.0:
            return 1
        reweigh(tab, st, work, found, weights)
        move_all(tab, st, work, length, plan)
        total, found = measure(tab, st, work)
        mark[1] += 1.0
        if total < mark[0]:
            if total < 0.98 * mark[0]:
                mark[1] = 0.0
            mark[0] = total
            work.best[0], work.best[1], work.best[2] = st.x, st.y, st.s
        if mark[1] > mark[2]:
            return 2
    return 1 if total <= 0.0 else 0
