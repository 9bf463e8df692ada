"""Lays to begin from: in a row, each where it ends soonest, or moved apart on ample cloth."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from random import Random

import numpy as np

from marker.errors import CannotLay
from marker.solver.nest.greedy import lay_first
from marker.solver.nest.ground import ENDLESS
from marker.solver.nest.hand import SAMPLES, WEIGHTS
from marker.solver.nest.kernel import Floats, Ints
from marker.solver.nest.kinds import ACROSS, ALONG, NestSpot
from marker.solver.nest.moves import scatter
from marker.solver.nest.rounds import separate
from marker.solver.nest.task import Layout, Task
from marker.solver.nest.tighten import whole_nest

PHASES = 6
"""Places of the matched sets in the repeat from which a first nest is tried."""
SCATTERS, PATIENCE = 5, 2000
"""How often, and for how many rounds, copies are moved apart on ample cloth."""


def row(task: Task) -> list[NestSpot] | None:
    """All copies one after another along the cloth, past every flaw; those with an end first.

    None where one would lie further along than it may.
    """
    ground, table, x = task.ground, task.table, 0
    base, keeps = ground.bases(task.phases())
    found: list[NestSpot] = []
    for p in _order(task, by_area=False).tolist():
        first = int(table.first[table.kind[p]])
        ways = {
            s: _clear(task, s, base, x)
            for s in range(first, first + int(table.many[table.kind[p]]))
            if keeps[s]
        }
        s = next((s for s, place in ways.items() if place <= ground.high[ALONG, s]), None)
        if s is None:
            return None
        x, y = ways[s], _next(task, s, ACROSS, base, 0)
        found.append(NestSpot(*task.origins[s], x, y))
        x += task.outlines[s].box.along + task.margin
    return sorted(found)


def _next(task: Task, s: int, axis: int, base: Floats, least: int) -> int:
    """The first place of an outline from `least` on."""
    least, step = max(least, int(task.ground.low[axis, s])), int(task.ground.step[axis, s])
    return least + (int(base[axis, s]) - least) % step if step else least


def _clear(task: Task, s: int, base: Floats, x: int) -> int:
    """The first x from here on at which an outline lies beside no flaw."""
    x, along = _next(task, s, ALONG, base, x), task.outlines[s].box.along
    for flaw in sorted(task.flaws):
        if flaw.x0 < x + along and flaw.x1 > x:
            x = _next(task, s, ALONG, base, flaw.x1)
    return x


def _order(task: Task, by_area: bool) -> Ints:
    """Copies, those that may lie only so far along first, then as they come or by their area."""
    ground, table = task.ground, task.table
    ends = np.full(len(table.first), 0.0)
    np.maximum.at(ends, list(ground.owners), ground.high[ALONG])
    areas = np.array([kind.shapes[0].area2 for kind in task.kinds], float)
    keys = (-areas[table.kind] if by_area else table.kind, np.minimum(ends, ENDLESS)[table.kind])
    return np.lexsort(keys)


def greedy(task: Task) -> Layout | None:
    """Each copy laid where it ends soonest, large ones first; None where one finds no place."""
    random = Random(0)
    choices = [task.phases()]
    if task.ground.sets:
        choices += [task.phases(random) for _ in range(PHASES - 1)]
    best = min((_laid(task, phase) for phase in choices), key=lambda layout: layout.length)
    return best if best.length < ENDLESS else None


def _laid(task: Task, phase: Floats) -> Layout:
    state = task.state(_nowhere(task, phase), 0)
    beyond = float(max((flaw.x1 for flaw in task.flaws), default=0))
    length = lay_first(task.table, state, task.work(), _order(task, by_area=True), beyond)
    free = task.table.free
    return Layout(length, state.x[:free], state.y[:free], state.s[:free], phase)


def _nowhere(task: Task, phase: Floats) -> Layout:
    table = task.table
    none = np.zeros(table.free)
    return Layout(0.0, none, none, table.first[table.kind], phase)


def moved_apart(task: Task) -> Layout | None:
    """Copies thrown on to ample cloth and moved apart; None where that fails."""
    table, ground, random = task.table, task.ground, Random(0)
    ends = np.where(ground.high[ALONG] < ENDLESS, ground.high[ALONG], 0.0) + ground.along
    length = float(ends.max() + 2 * (ground.along.max() + task.margin) * table.free)
    for _ in range(SCATTERS):
        state, work = task.state(_nowhere(task, task.phases(random)), 1), task.work()
        scatter(task, state, random, length)
        mark = np.array([np.inf, 0.0, float(PATIENCE)])
        if separate(table, state, work, length, PATIENCE, SAMPLES, WEIGHTS, mark) == 1:
            free = table.free
            end = float((state.x + table.along[state.s])[:free].max())
            return Layout(end, state.x[:free], state.y[:free], state.s[:free], state.phase)
    return None


@dataclass(frozen=True)
class Start:
    """What a search begins from: nests at whole places, judged sound, and layouts."""

    sure: list[list[NestSpot]]
    layouts: list[Layout]

    @classmethod
    def of(cls, task: Task, given: Sequence[NestSpot] | None) -> Start:
        """Make them; raises `CannotLay` where none is found."""
        rowed = row(task)
        sure = [] if rowed is None else [rowed]
        if given is not None and task.holds(given):
            sure.append(sorted(given))
        laid = greedy(task) or (moved_apart(task) if not sure else None)
        if not sure:
            whole = None if laid is None else whole_nest(task, laid)
            if whole is None:
                raise CannotLay("no room was found for the pieces that may lie only so far along")
            sure.append(whole)
        layouts = [task.layout(spots) for spots in sure]
        return cls(sure, layouts if laid is None else [*layouts, laid])
