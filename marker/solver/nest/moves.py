"""Moves of many copies at once, between the rounds of a search; all end on places they may take."""

from __future__ import annotations

from collections.abc import Callable
from random import Random

import numpy as np

from marker.solver.nest.kernel import Flags, Ints, State, Table, snap
from marker.solver.nest.kinds import ACROSS, ALONG
from marker.solver.nest.task import Layout, Task

Change = Callable[[Table, State, Random, float], None]
"""What is changed of a lay on a length of cloth; copies need not end on places they may take."""
TURNED = (1, 2, 4)
"""How many pieces are turned at once."""
STRETCHES = (0.1, 0.2, 0.3)
"""Parts of the cloth in which pieces are thrown about."""
ALIKE = 3.0
"""How much sooner two of about one size change places than two that differ."""


def put(state: State, layout: Layout, task: Task) -> None:
    """Lay the copies as in a layout."""
    free = task.table.free
    state.x[:free], state.y[:free], state.s[:free] = layout.x, layout.y, layout.s
    state.phase[:] = layout.phase
    task.ground.refresh(state)


def scatter(task: Task, state: State, random: Random, length: float) -> None:
    """Throw the copies by lot on to a length of cloth."""
    table = task.table
    for p in range(table.free):
        s = state.s[p]
        state.x[p] = random.random() * (length - table.along[s])
        state.y[p] = random.random() * (table.width - table.across[s])
    settle(task, state, random, length)


def shift(task: Task, state: State, random: Random, length: float) -> None:
    """Throw matched sets to other places in the repeat, by lot, and their copies after them."""
    if task.ground.sets and (phase := task.ground.phases(length, random)) is not None:
        state.phase[:] = phase
        task.ground.refresh(state)
        settle(task, state, random, length)


def cut(task: Task, state: State, random: Random, length: float, shorter: float) -> None:
    """Take a strip out of the cloth at a place drawn by lot."""
    free = task.table.free
    middle = state.x[:free] + task.table.along[state.s[:free]] / 2
    at = random.random() * length
    state.x[:free] -= np.where(middle > at, length - shorter, 0.0)
    settle(task, state, random, shorter)


def change(task: Task, state: State, random: Random, length: float) -> None:
    """Change something about a lay that stands still, in one of a few ways drawn by lot."""
    random.choices(CHANGES, OFTEN)[0](task.table, state, random, length)
    settle(task, state, random, length)


def _turn(table: Table, state: State, random: Random, length: float) -> None:
    """Turn a few pieces where they lie; where none may be turned, throw one elsewhere."""
    may = np.flatnonzero(table.many[table.kind] > 1)
    if not len(may):
        _toss(table, state, random, length)
        return
    for _ in range(random.choice(TURNED)):
        p = _large(table, random, may)
        first, many = table.first[table.kind[p]], table.many[table.kind[p]]
        was = state.s[p]
        now = first + (was - first + 1 + random.randrange(many - 1)) % many
        state.x[p] += (table.along[was] - table.along[now]) / 2
        state.y[p] += (table.across[was] - table.across[now]) / 2
        state.s[p] = now


def _toss(table: Table, state: State, random: Random, length: float) -> None:
    """Throw one piece somewhere else."""
    _throw(table, state, random, _large(table, random, _all(table)), (0.0, length))


def _scramble(table: Table, state: State, random: Random, length: float) -> None:
    """Throw the pieces of a stretch of the cloth about in it."""
    middles = state.x[: table.free] + table.along[state.s[: table.free]] / 2
    reach = length * random.choice(STRETCHES)
    low = random.random() * (length - reach)
    high = low + reach
    for p in np.flatnonzero((middles >= low) & (middles <= high)).tolist():
        _throw(table, state, random, p, (low, high))


def _swap(table: Table, state: State, random: Random, _length: float, alike: float = 0.0) -> None:
    """Let two pieces of different kinds change places, large ones sooner than small ones.

    `alike`: the power of their sizes' quotient by which two of one size do sooner.
    """
    p = _large(table, random, _all(table))
    others = np.flatnonzero(table.kind != table.kind[p])
    if not len(others):
        return
    sizes = table.factor**4
    if alike:
        quotient = sizes[others] / sizes[p]
        weights = np.minimum(quotient, 1 / quotient) ** alike
        q = int(random.choices(others.tolist(), weights.tolist())[0])
    else:
        q = _large(table, random, others)
    for values, size in ((state.x, table.along), (state.y, table.across)):
        a, b = size[state.s[p]] / 2, size[state.s[q]] / 2
        values[p], values[q] = values[q] + b - a, values[p] + a - b


def _swap_alike(table: Table, state: State, random: Random, length: float) -> None:
    """Let two pieces of about one size change places."""
    _swap(table, state, random, length, ALIKE)


CHANGES: tuple[Change, ...] = (_turn, _toss, _scramble, _swap, _swap_alike)
OFTEN = (3, 2, 2, 2, 1)
"""How often each way to change a lay is drawn: turning brought most."""


def _all(table: Table) -> Ints:
    return np.arange(table.free)


def _large(table: Table, random: Random, of: Ints) -> int:
    """One of some copies by lot, large ones sooner than small ones."""
    return int(random.choices(of.tolist(), (table.factor[of] ** 4).tolist())[0])


def _throw(table: Table, state: State, random: Random, p: int, within: tuple[float, float]) -> None:
    """Throw a copy somewhere into a stretch of the cloth."""
    low, high = within
    s = state.s[p]
    state.x[p] = low + random.random() * max(0.0, high - low - table.along[s])
    state.y[p] = random.random() * (table.width - table.across[s])


def settle(task: Task, state: State, random: Random, length: float) -> None:
    """Bring every copy on to a place within the length, as another outline where it must be."""
    table, free = task.table, task.table.free
    fits = _fits(task, state, random, length)
    for p in np.flatnonzero(~fits[state.s[:free]]):
        first, many = table.first[table.kind[p]], table.many[table.kind[p]]
        ways = range(first, first + many)
        state.s[p] = min(ways, key=lambda way: (not fits[way], float(table.along[way])))
    s = state.s[:free]
    high = np.minimum(table.high[ALONG, s], length - table.along[s])
    state.x[:free] = np.clip(state.x[:free], table.low[ALONG, s], np.maximum(high, table.low[0, s]))
    state.y[:free] = np.clip(state.y[:free], table.low[ACROSS, s], table.high[ACROSS, s])
    for axis, values in ((ALONG, state.x), (ACROSS, state.y)):
        highest = high if axis == ALONG else table.high[ACROSS, s]
        for at in np.flatnonzero(table.step[axis, s]).tolist():
            t = s[at]
            place = snap(
                values[at],
                table.low[axis, t],
                highest[at],
                state.base[axis, t],
                table.step[axis, t],
            )
            values[at] = values[at] if np.isnan(place) else place


def _fits(task: Task, state: State, random: Random, length: float) -> Flags:
    """Which outlines have a place, in phases that leave each kind one where there are such."""
    ground = task.ground
    if not ground.sets:
        return np.asarray(ground.low[ALONG] + ground.along <= length)
    fits = ground.fits(state, length)
    if len({owner for owner, good in zip(ground.owners, fits, strict=True) if good}) < len(
        task.kinds
    ):
        phase = ground.phases(length, random)
        if phase is not None:
            state.phase[:] = phase
            ground.refresh(state)
            fits = ground.fits(state, length)
    return fits
