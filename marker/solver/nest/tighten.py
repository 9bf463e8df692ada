"""Compaction by a linear program, and the way from the search's fractions to whole units.

Around where two pieces lie, the moves that keep them apart are hemmed in by a few
half-planes; within them all pieces move at once, to the least length. Half-planes along the
threads are kept exactly by rounding down, for both pieces round down alike; on the others
the program leaves what rounding may take.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from time import monotonic

import numpy as np
from ortools.linear_solver import pywraplp

from marker.solver.nest.corridors import planes
from marker.solver.nest.judge import clashes
from marker.solver.nest.kernel import Floats, State, Table
from marker.solver.nest.kinds import NestSpot
from marker.solver.nest.task import Layout, Task

PULL = 1e-4
"""Worth of moving a piece towards the squared end, beside the length."""
NEAR = (0.0002, 0.002, 0.02)
"""How far pieces may move, against the cloth's width, when they are brought to whole places."""
ROUNDS = 8
TRIES = 20
SLIGHT = 0.02
"""What the program may miss a whole number by, in units."""


def compact(task: Task, state: State, reach: float, rounds: int = ROUNDS) -> float | None:
    """Move the pieces together, no further than `reach` a round; the length, None if stuck."""
    length = None
    for _ in range(rounds):
        found = _program(task, state, reach, {})
        if found is None or (length is not None and found > length - 1):
            return length if found is None else found
        length = found
    return length


def whole_nest(task: Task, layout: Layout, until: float | None = None) -> list[NestSpot] | None:
    """A nest at whole places as near to a layout as can be, judged sound; None if none is found.

    `until` is the time by the clock after which nothing more is tried.
    """
    for near in NEAR:
        spots = to_units(task, layout, near * task.width, until)
        if spots is not None:
            return spots
    return None


def to_units(
    task: Task, layout: Layout, reach: float, until: float | None = None
) -> list[NestSpot] | None:
    """Whole places near those of a layout, judged sound; None where none are found.

    Two outlines that mesh without play lie a whole number of units apart anyway, so the
    program leaves room for rounding only between those that rounding was seen to push
    together.
    """
    state = task.state(layout, 0)
    room: dict[tuple[int, int], float] = {}
    for _ in range(TRIES):
        if until is not None and monotonic() > until:
            return None
        found = task.state(layout, 0)
        if _program(task, found, reach, room) is None:
            return None
        free = task.table.free
        found.phase[:] = np.floor(found.phase + SLIGHT)
        task.ground.follow(found, free)
        xs, ys = (np.floor(v[:free] + SLIGHT).astype(int).tolist() for v in (found.x, found.y))
        spots = task.spots(xs, ys, state.s[:free].tolist())
        pairs = list(clashes(task.placed(spots), task.margin, task.flaws))
        if not pairs:
            return spots if task.holds(spots) else None
        for pair in pairs:
            room[pair] = room.get(pair, 0.0) + 0.5
    return None


def _program(
    task: Task, state: State, reach: float, room: Mapping[tuple[int, int], float]
) -> float | None:
    """Solve for the least length and move the pieces there; None where there is no way."""
    table = task.table
    solver = pywraplp.Solver.CreateSolver("GLOP")
    length = solver.NumVar(0, solver.infinity(), "")
    xs, ys = _places(solver, length, table, state, reach)
    phases = _phases(solver, task, state, (xs, ys), reach)
    for p, q, nx, ny, least in half_planes(table, state, reach):
        if nx and ny:
            least += room.get((p, q), 0.0)
        if q >= table.free:
            least -= nx * state.x[q] + ny * state.y[q]
        row = solver.RowConstraint(float(least), solver.infinity(), "")
        row.SetCoefficient(xs[p], -nx)
        row.SetCoefficient(ys[p], -ny)
        if q < table.free:
            row.SetCoefficient(xs[q], nx)
            row.SetCoefficient(ys[q], ny)
    solver.Minimize(length + PULL * solver.Sum(xs))
    if solver.Solve() != solver.OPTIMAL:
        return None
    state.x[: table.free] = [x.solution_value() for x in xs]
    state.y[: table.free] = [y.solution_value() for y in ys]
    for k, phase in phases.items():
        state.phase[k] = phase.solution_value()
    task.ground.follow(state, table.free)
    return float(length.solution_value())


def _places(
    solver: pywraplp.Solver, length: pywraplp.Variable, table: Table, state: State, reach: float
) -> tuple[list[pywraplp.Variable], list[pywraplp.Variable]]:
    """A variable for each piece's x and y; every piece ends before the length does."""
    xs, ys = [], []
    for p in range(table.free):
        x, y, s = float(state.x[p]), float(state.y[p]), state.s[p]
        (low_x, low_y), (high_x, high_y) = table.low[:, s].tolist(), table.high[:, s].tolist()
        xs.append(solver.NumVar(max(low_x, x - reach), min(high_x, x + reach), ""))
        ys.append(solver.NumVar(max(low_y, y - reach), min(high_y, y + reach), ""))
        row = solver.RowConstraint(float(table.along[s]), solver.infinity(), "")
        row.SetCoefficient(length, 1.0)
        row.SetCoefficient(xs[-1], -1.0)
    return xs, ys


def _phases(
    solver: pywraplp.Solver,
    task: Task,
    state: State,
    places: tuple[list[pywraplp.Variable], list[pywraplp.Variable]],
    reach: float,
) -> dict[int, pywraplp.Variable]:
    """A variable for the phase of each set, with which all its copies move as one."""
    found: dict[int, pywraplp.Variable] = {}
    for p in range(task.table.free if task.ground.sets else 0):
        for k, axis, beyond in task.ground.tie(state, p):
            if k not in found:
                phase = float(state.phase[k])
                found[k] = solver.NumVar(phase - reach, phase + reach, "")
            row = solver.RowConstraint(float(beyond), float(beyond), "")
            row.SetCoefficient(places[axis][p], 1.0)
            row.SetCoefficient(found[k], -1.0)
    return found


def half_planes(
    table: Table, state: State, reach: float
) -> Sequence[tuple[int, int, float, float, float]]:
    """Rows (p, q, nx, ny, c): copies p and q keep apart where n . (q - p) >= c."""
    corners = int((table.end - table.start).max())
    cut = np.zeros((corners + 1, 6))
    out: Floats = np.zeros((64 * len(state.x) + 64, 5))
    while (rows := planes(table, state, reach, cut, out)) == len(out):
        out = np.zeros((2 * len(out), 5))
    return [(int(p), int(q), nx, ny, c) for p, q, nx, ny, c in out[:rows].tolist()]
