"""Moves of many copies at once, between the rounds of a search; all end on places they may take."""

from __future__ import annotations

from random import Random

import numpy as np

from marker.solver.nest.kernel import Flags, State, snap
from marker.solver.nest.kinds import ACROSS, ALONG
from marker.solver.nest.task import Layout, Task


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


def swap(task: Task, state: State, random: Random, length: float) -> None:
    """Let two pieces of different kinds change places, large ones sooner than small ones."""
    table = task.table
    kind, sizes = table.kind, (table.factor[: table.free] ** 4).tolist()
    p = random.choices(range(table.free), sizes)[0]
    others = np.flatnonzero(kind != kind[p])
    if len(others):
        q = random.choices(others.tolist(), [sizes[q] for q in others])[0]
        for values, size in ((state.x, table.along), (state.y, table.across)):
            a, b = size[state.s[p]] / 2, size[state.s[q]] / 2
            values[p], values[q] = values[q] + b - a, values[p] + a - b
    settle(task, state, random, length)


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
