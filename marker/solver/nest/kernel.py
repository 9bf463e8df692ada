"""The compiled heart of the nest: bites between outlines, the best spot, moving all apart.

Everything is plain loops over flat tables, as numba compiles them. Only sums in a fixed
order are used and nothing is contracted, so that every machine gets the same figures.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, NamedTuple, TypeVar

import numba
import numpy as np
import numpy.typing as npt
from numba.extending import intrinsic

Floats = npt.NDArray[np.float64]
Singles = npt.NDArray[np.float32]
Ints = npt.NDArray[np.int64]
Words = npt.NDArray[np.uint64]
Function = TypeVar("Function", bound=Callable[..., Any])

FLAGS = ("nnan", "ninf", "nsz")
NOUGHT, ONE, FAR = np.float32(0), np.float32(1), np.float32(3e38)
SLIGHT = 0.5
"""Bites no deeper than this, in units, are left to the program that finds whole places."""
FINE = 0.25
"""Steps, in units, at which the way down to a best spot ends."""
KEPT = 3
"""How many of the spots tried are looked at closely."""


class Table(NamedTuple):
    """What stays as it is during a search; lengths in units.

    `edges`, `start` and `end` are the no-fit polygons; `along`, `across` the box sizes of the
    outlines; outlines of kind k are first[k] and the many[k] - 1 that follow. `factor` is a
    copy's part in the worth of a bite. Copies before `free` may move and keep `gap` from each
    other; those after it stay and are given `gap_fixed`.
    """

    edges: Singles
    start: Ints
    end: Ints
    along: Floats
    across: Floats
    first: Ints
    many: Ints
    kind: Ints
    factor: Floats
    gap: float
    gap_fixed: float
    free: int
    width: float


class State(NamedTuple):
    """Where each copy lies, its outline, what its bites cost, and the luck to come.

    `x1` and `y1` are where its box ends; `measure` brings them up to date.
    """

    x: Floats
    y: Floats
    x1: Floats
    y1: Floats
    s: Ints
    price: Floats
    luck: Words


class Work(NamedTuple):
    """Room for the search's notes.

    `top` holds spots as rows of outline, x, y, cost; `pairs` those that bite, how `deep`;
    `best` the x, y and outline of each copy where the sum of all bites was least.
    """

    near: Ints
    order: Ints
    pairs: Ints
    deep: Floats
    hurt: Floats
    top: Floats
    best: Floats


def compiled(**options: Any) -> Callable[[Function], Function]:
    """Compile a function on first use, kept on disk where some folder can be written."""

    def decorate(function: Function) -> Function:
        try:
            made = numba.njit(cache=True, error_model="numpy", **options)(function)
        except RuntimeError:  # there is no such folder
            made = numba.njit(error_model="numpy", **options)(function)
        return made  # type: ignore[no-any-return]

    return decorate


def _lesser(_context: Any, a: Any, b: Any) -> Any:
    def build(_to: Any, code: Any, _types: Any, args: Any) -> Any:
        return code.select(code.fcmp_ordered("<", *args, flags=FLAGS), *args, flags=FLAGS)

    return a(a, b), build


def _greater(_context: Any, a: Any, b: Any) -> Any:
    def build(_to: Any, code: Any, _types: Any, args: Any) -> Any:
        return code.select(code.fcmp_ordered(">", *args, flags=FLAGS), *args, flags=FLAGS)

    return a(a, b), build


def _wound(_context: Any, turns: Any, y0: Any, y1: Any, y: Any, side: Any) -> Any:
    def build(_to: Any, code: Any, _types: Any, args: Any) -> Any:
        turns, y0, y1, y, side = args
        nought, one, less = (side.type(value) for value in (0.0, 1.0, -1.0))
        low, high = code.fcmp_ordered("<=", y0, y), code.fcmp_ordered("<=", y1, y)
        left = code.fcmp_ordered(">", side, nought)
        up = code.and_(code.and_(low, code.not_(high)), left)
        down = code.and_(code.and_(code.not_(low), high), code.not_(left))
        step = code.select(down, less, nought, flags=FLAGS)
        step = code.select(up, one, step, flags=FLAGS)
        return code.fadd(turns, step, flags=("reassoc", *FLAGS))

    return turns(turns, y0, y1, y, side), build


# Written so that the loop below fills vector registers: plain comparisons keep it from that.
lesser: Any = intrinsic(_lesser)
greater: Any = intrinsic(_greater)
wound: Any = intrinsic(_wound)


@compiled(fastmath=set(FLAGS))
def clearance(edges: Singles, a: int, b: int, px: np.float32, py: np.float32) -> Any:
    """Distance of a point from the edge of a no-fit polygon, below nought inside it."""
    xs, ys, us, vs = edges[0, a:b], edges[1, a:b], edges[2, a:b], edges[3, a:b]
    inverse, nexts = edges[4, a:b], edges[5, a:b]
    best, turns = FAR, NOUGHT
    for k in range(xs.shape[0]):
        x, y = px - xs[k], py - ys[k]
        part = lesser(greater((x * us[k] + y * vs[k]) * inverse[k], NOUGHT), ONE)
        rx, ry = x - part * us[k], y - part * vs[k]
        best = lesser(rx * rx + ry * ry, best)
        turns = wound(turns, ys[k], nexts[k], py, us[k] * y - vs[k] * x)
    apart = np.sqrt(best)
    return apart if turns == NOUGHT else -apart


@compiled(forceinline=True)
def bite(tab: Table, s: int, t: int, dx: float, dy: float, gap: float) -> float:
    """How far outline t, moved (dx, dy) from s, must go to keep the gap."""
    if (
        dx >= tab.along[s] + gap
        or dx <= -tab.along[t] - gap
        or dy >= tab.across[s] + gap
        or dy <= -tab.across[t] - gap
    ):
        return 0.0
    if s > t:
        s, t, dx, dy = t, s, -dx, -dy
    apart = clearance(tab.edges, tab.start[s, t], tab.end[s, t], np.float32(dx), np.float32(dy))
    return max(0.0, gap - float(apart))


@compiled(forceinline=True)
def draw(luck: Words) -> float:
    """A number from 0 to under 1, by lot (splitmix64; Steele, Lea and Flood, 2014)."""
    luck[0] += np.uint64(0x9E3779B97F4A7C15)
    z = luck[0]
    z = (z ^ (z >> np.uint64(30))) * np.uint64(0xBF58476D1CE4E5B9)
    z = (z ^ (z >> np.uint64(27))) * np.uint64(0x94D049BB133111EB)
    z = z ^ (z >> np.uint64(31))
    return float(z >> np.uint64(11)) * (1.0 / 9007199254740992.0)


@compiled()
def gather(
    tab: Table, st: State, near: Ints, p: int, s: int, x0: float, y0: float, x1: float, y1: float
) -> int:
    """Note the copies that p, as outline s somewhere from (x0, y0) to (x1, y1), could bite."""
    found = 0
    x1 += tab.along[s] + tab.gap
    y1 += tab.across[s] + tab.gap
    x0 -= tab.gap
    y0 -= tab.gap
    for q in range(st.x.shape[0]):
        meets = (st.x[q] < x1) & (st.x1[q] > x0) & (st.y[q] < y1) & (st.y1[q] > y0) & (q != p)
        near[found] = q
        found += int(meets)
    return found


@compiled(forceinline=True)
def cost(
    tab: Table, st: State, near: Ints, p: int, s: int, x: float, y: float, limit: float
) -> float:
    """Weighed bites of p as outline s at (x, y) into `near`; no end of it once past a limit."""
    total = 0.0
    for q in near:
        gap = tab.gap if q < tab.free else tab.gap_fixed
        deep = bite(tab, st.s[q], s, x - st.x[q], y - st.y[q], gap)
        if deep > 0.0:
            total += deep * st.price[p, q]
            if total >= limit:
                return np.inf
    return total


@compiled()
def descend(
    tab: Table,
    st: State,
    room: Ints,
    p: int,
    spot: Floats,
    length: float,
    step: float,
    least: float,
) -> None:
    """Move a spot downhill, by steps in a direction drawn by lot, as long as cost is saved."""
    s, x, y, best = int(spot[0]), spot[1], spot[2], spot[3]
    reach, step_x, step_y = 6 * step, step, step
    x0, x1 = max(0.0, x - reach), min(length - tab.along[s], x + reach)
    y0, y1 = max(0.0, y - reach), min(tab.width - tab.across[s], y + reach)
    near = room[: gather(tab, st, room, p, s, x0, y0, x1, y1)]
    while max(step_x, step_y) > least and best > 0.0:
        way = int(draw(st.luck) * 4)
        ux = 0.0 if way == 1 else step_x
        uy = 0.0 if way == 0 else (-step_y if way == 3 else step_y)
        grow = 0.5
        for sign in (1.0, -1.0):
            tx, ty = min(max(x + sign * ux, x0), x1), min(max(y + sign * uy, y0), y1)
            if tx == x and ty == y:
                continue
            now = cost(tab, st, near, p, s, tx, ty, best)
            if now < best:
                x, y, best, grow = tx, ty, now, 1.1
                break
        step_x *= 1.0 if way == 1 else grow
        step_y *= 1.0 if way == 0 else grow
    spot[1], spot[2], spot[3] = x, y, best


@compiled()
def sample(
    tab: Table, st: State, work: Work, p: int, s: int, length: float,
    x: float, y: float, reach: float, tries: int,
) -> None:  # fmt: skip
    """Try spots about (x, y) by lot; the best of all come into work.top, in order."""
    top, w, h = work.top, tab.along[s], tab.across[s]
    most_x, most_y = length - w, tab.width - h
    if most_x < 0.0 or most_y < 0.0:
        return
    x0, x1 = min(max(0.0, x - reach * w), most_x), max(0.0, min(most_x, x + reach * w))
    y0, y1 = min(max(0.0, y - reach * h), most_y), max(0.0, min(most_y, y + reach * h))
    near = work.near[: gather(tab, st, work.near, p, s, x0, y0, x1, y1)]
    for _ in range(tries):
        tx, ty = x0 + draw(st.luck) * (x1 - x0), y0 + draw(st.luck) * (y1 - y0)
        now = cost(tab, st, near, p, s, tx, ty, top[KEPT - 1, 3])
        if now >= top[KEPT - 1, 3]:
            continue
        i = KEPT - 1
        while i > 0 and top[i - 1, 3] > now:
            top[i] = top[i - 1]
            i -= 1
        top[i, 0], top[i, 1], top[i, 2], top[i, 3] = s, tx, ty, now


@compiled()
def best_spot(
    tab: Table, st: State, work: Work, p: int, length: float, now: float, plan: Ints
) -> None:
    """Look for a spot that costs less than `now`; the best comes into work.top[0].

    `plan`: windows anywhere, tries in each, windows about the spot at hand, tries in each.
    """
    top, here = work.top, st.s[p]
    top[:, 3] = now
    first, many = tab.first[tab.kind[p]], tab.many[tab.kind[p]]
    for _ in range(plan[0]):
        s = first + int(draw(st.luck) * many)
        x, y = draw(st.luck) * (length - tab.along[s]), draw(st.luck) * (tab.width - tab.across[s])
        sample(tab, st, work, p, s, length, x, y, 0.5, plan[1])
    for window in range(plan[2]):
        s = here if window == 0 else first + int(draw(st.luck) * many)
        x = st.x[p] + (tab.along[here] - tab.along[s]) / 2
        y = st.y[p] + (tab.across[here] - tab.across[s]) / 2
        sample(tab, st, work, p, s, length, x, y, 0.25, plan[3])
    best = 0
    for i in range(KEPT):
        if top[i, 3] < now:
            s = int(top[i, 0])
            step = 0.1 * min(tab.along[s], tab.across[s])
            descend(tab, st, work.near, p, top[i], length, step, 0.1 * step)
            if top[i, 3] < top[best, 3]:
                best = i
    part = 0.01
    if top[best, 3] >= now:
        top[best, 0], top[best, 1], top[best, 2], top[best, 3] = here, st.x[p], st.y[p], now
        part = 0.05
    s = int(top[best, 0])
    step = part * min(tab.along[s], tab.across[s])
    descend(tab, st, work.near, p, top[best], length, step, FINE)
    top[0] = top[best]


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
        for q in work.near[: gather(tab, st, work.near, p, s, x, y, x, y)]:
            if q < p:
                continue
            gap = tab.gap if q < tab.free else tab.gap_fixed
            deep = bite(tab, st.s[q], s, x - st.x[q], y - st.y[q], gap)
            if deep > SLIGHT:
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
