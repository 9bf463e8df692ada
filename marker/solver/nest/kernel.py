"""The compiled ground of the nest: flat tables, and what one outline bites into another.

Everything that is compiled is plain loops over flat tables. Only sums in a fixed order are
used and nothing is contracted, so that every machine gets the same figures.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, NamedTuple, TypeVar

import numpy as np
import numpy.typing as npt
from numba.extending import intrinsic

from marker.solver.compiled import compiled as compiled_as_all

Floats = npt.NDArray[np.float64]
Singles = npt.NDArray[np.float32]
Ints = npt.NDArray[np.int64]
Words = npt.NDArray[np.uint64]
Flags = npt.NDArray[np.bool_]
Function = TypeVar("Function", bound=Callable[..., Any])

FLAGS = ("nnan", "ninf", "nsz")
NOUGHT, ONE, FAR = np.float32(0), np.float32(1), np.float32(3e38)
FUZZ = 1e-3
"""Units by which a place may miss the one that a rule asks for, until it is made whole."""
SLIGHT, SLIGHTEST = 0.5, 0.02
"""Bites no deeper than this, in units, are left to the program that finds whole places; the
lesser one goes for copies that it can't move against each other."""


class Chart(NamedTuple):
    """Lattices of how deep outline s bites into t.

    In `cells` from at[t, s] on come high[t, s] rows of wide[t, s] places, pitch[s] apart; the
    first of them has s lie before and below t by its own size and by gaps[t].
    """

    cells: Singles
    at: Ints
    wide: Ints
    high: Ints
    pitch: Floats
    gaps: Floats


class Table(NamedTuple):
    """What stays as it is during a search; lengths in units.

    `edges`, `start` and `end` are the no-fit polygons; `along`, `across` the box sizes of the
    outlines; outlines of kind k are first[k] and the many[k] - 1 that follow. `factor` is a
    copy's part in the worth of a bite. Copies before `free` may move and keep `gap` from each
    other; those after it stay and are given `gap_fixed`. The 0, 0 of an outline lies from
    `low` to `high`; rows are x, y. Where `step` is not nought it lies a whole number of steps
    from the state's `base`. It is `fixed` where that leaves it no play. `disc` holds the middle
    and radius of a circle within each no-fit polygon of outlines s <= t.
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
    low: Floats
    high: Floats
    step: Floats
    fixed: Flags
    disc: Floats
    chart: Chart


class State(NamedTuple):
    """Where each copy lies, its outline, what its bites cost, and the luck to come.

    `x1` and `y1` are where its box ends; `measure` brings them up to date. `phase` is where
    in the repeat each set of matched points falls, `base` what that makes of the places of
    each outline, and `open` tells which outlines have a place at all.
    """

    x: Floats
    y: Floats
    x1: Floats
    y1: Floats
    s: Ints
    price: Floats
    luck: Words
    phase: Floats
    base: Floats
    open: Flags


class Tally(NamedTuple):
    """What all copies together cost each outline, with no price but their sizes.

    In `sums` from at[s] on come high[s] rows of wide[s] places, a pitch apart, the first of them
    at origin[s]; at[s] is below nought where s has none. seen[s, q] is the x, y and outline as
    which copy q is in the sum; that outline is below nought where it is not in it yet.
    """

    sums: Singles
    at: Ints
    wide: Ints
    high: Ints
    origin: Floats
    seen: Floats


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
    rows: Floats
    move: Floats
    best: Floats
    spots: Floats
    chart: Singles
    away: Singles
    tally: Tally


def compiled(**options: Any) -> Callable[[Function], Function]:
    """Compile as all solvers' loops are, with figures divided by nought as numpy has it."""
    return compiled_as_all(error_model="numpy", **options)


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


@compiled(fastmath=set(FLAGS))
def clearances(
    edges: Singles, a: int, b: int, px: np.float32, py: np.float32, away: Singles
) -> Any:
    """The same, with the square of the distance from each edge written to `away`."""
    xs, ys, us, vs = edges[0, a:b], edges[1, a:b], edges[2, a:b], edges[3, a:b]
    inverse, nexts = edges[4, a:b], edges[5, a:b]
    best, turns = FAR, NOUGHT
    for k in range(xs.shape[0]):
        x, y = px - xs[k], py - ys[k]
        part = lesser(greater((x * us[k] + y * vs[k]) * inverse[k], NOUGHT), ONE)
        rx, ry = x - part * us[k], y - part * vs[k]
        square = rx * rx + ry * ry
        away[k] = square
        best = lesser(square, best)
        turns = wound(turns, ys[k], nexts[k], py, us[k] * y - vs[k] * x)
    apart = np.sqrt(best)
    return apart if turns == NOUGHT else -apart


@compiled(forceinline=True)
def meets(tab: Table, s: int, t: int, dx: float, dy: float, gap: float) -> bool:
    """Whether the boxes of outline s and of t, moved (dx, dy) from it, lie within the gap."""
    near: bool = (
        dx < tab.along[s] + gap
        and dx > -tab.along[t] - gap
        and dy < tab.across[s] + gap
        and dy > -tab.across[t] - gap
    )
    return near


@compiled(forceinline=True)
def bite(tab: Table, s: int, t: int, dx: float, dy: float, gap: float) -> float:
    """How far outline t, moved (dx, dy) from s, must go to keep the gap."""
    if not meets(tab, s, t, dx, dy, gap):
        return 0.0
    if s > t:
        s, t, dx, dy = t, s, -dx, -dy
    apart = clearance(tab.edges, tab.start[s, t], tab.end[s, t], np.float32(dx), np.float32(dy))
    return max(0.0, gap - float(apart))


@compiled(forceinline=True)
def slight(tab: Table, s: int, t: int) -> float:
    """The deepest bite of two outlines that is of no account."""
    return SLIGHTEST if tab.fixed[s] and tab.fixed[t] else SLIGHT


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
def snap(v: float, low: float, high: float, base: float, step: float) -> float:
    """The place nearest to v, of those from low to high that lie whole steps from a base.

    Not a number where there is none.
    """
    if step == 0.0:
        return min(max(v, low), high) if low <= high else np.nan
    v = base + np.floor((v - base) / step + 0.5) * step
    if v < low - FUZZ:
        v += np.ceil((low - FUZZ - v) / step) * step
    if v > high + FUZZ:
        v -= np.ceil((v - high - FUZZ) / step) * step
    return v if v >= low - FUZZ else np.nan


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
    """Weighed bites of p as outline s at (x, y) into `near`; no end of it once past a limit.

    The disc of a pair says how deep a bite is at least; that is mostly enough to be past it.
    """
    total = 0.0
    for q in near:
        gap = tab.gap if q < tab.free else tab.gap_fixed
        a, b, dx, dy = st.s[q], s, x - st.x[q], y - st.y[q]
        if not meets(tab, a, b, dx, dy, gap):
            continue
        if a > b:
            a, b, dx, dy = b, a, -dx, -dy
        price = st.price[p, q]
        ox, oy = dx - tab.disc[a, b, 0], dy - tab.disc[a, b, 1]
        sure = tab.disc[a, b, 2] + gap - np.sqrt(ox * ox + oy * oy)
        if sure > 0.0 and total + sure * price >= limit:
            return np.inf
        apart = clearance(tab.edges, tab.start[a, b], tab.end[a, b], np.float32(dx), np.float32(dy))
        deep = gap - float(apart)
        if deep > 0.0:
            total += deep * price
            if total >= limit:
                return np.inf
    return total


@compiled(forceinline=True)
def copy_row(rows: Floats, at: int, of: int) -> None:
    """Put one row of a table in place of another.

    Number by number: as slices it would be compiled with the words of an error that can't be.
    """
    for k in range(rows.shape[1]):
        rows[at, k] = rows[of, k]
