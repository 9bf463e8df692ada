"""The door to constraint programming: the one module that uses CP-SAT, and its plainest use.

`run` solves any model built by `Arrangement`; `prove` lays rectangles with nothing else asked, and
`overfull` asks still less of them.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from math import ceil
from os import cpu_count
from threading import Event, Thread
from time import monotonic
from typing import Any

from ortools.sat.python import cp_model

from marker.solver.arrangement import Arrangement, Choice, Span, Var
from marker.solver.problem import Kind, Problem
from marker.solver.spots import Spot, reach
from marker.solver.stop import asked

LATE = 0.5
"""Seconds over its time after which a search is stopped from here."""
LOOK = 0.1
"""Seconds between two looks at whether a search is still wanted."""
FEW = 18
"""So few pieces are gone about with all work put into proof."""
FEW_SUMS = 400
"""Positions are held to sums of sizes only where those are so few: long lists choke CP-SAT."""


@dataclass(frozen=True)
class Limits:
    """When a search ends: at a clock time, or after an effort that is the same on any machine.

    Beside other work it has but one core, and ends as well when the event `stop` is set.
    """

    until: float | None
    effort: float | None
    seed: int = 0
    stop: Event | None = None


@dataclass(frozen=True)
class Outcome:
    """What CP-SAT says: the best values of the variables asked for, its bound, and its end."""

    values: tuple[int, ...] | None
    bound: int
    closed: bool
    """Whether nothing is left to search: the values are best, or there are none at all."""
    stopped: bool
    """Whether Ctrl-C ended the search."""
    effort: float
    """What it took, in CP-SAT's own measure: about seconds of one core."""


Hear = Callable[[tuple[int, ...], int], bool]
"""Told the values of a better solution and the bound; answers whether to go on."""


class _Watch(cp_model.CpSolverSolutionCallback):
    """Lets every better solution be heard, and ends the search where that is enough.

    It is heard within the search, not in the waiting thread: so one worker that is stopped
    always stops at the same place.
    """

    def __init__(self, asked: Sequence[Var], hear: Hear) -> None:
        super().__init__()
        self.asked, self.hear = asked, hear
        self.fault: Exception | None = None

    def on_solution_callback(self) -> None:
        """Called by the solver, in its own thread."""
        values = tuple(int(self.value(variable)) for variable in self.asked)
        try:
            going = self.hear(values, ceil(self.best_objective_bound - 1e-6))
        except Exception as fault:  # the solver's own code must not be crossed by an exception
            self.fault, going = fault, False
        if not going:
            self.stop_search()


def run(
    model: cp_model.CpModel,
    asked: Sequence[Var],
    limits: Limits,
    hear: Hear,
    *,
    proving: bool = False,
) -> Outcome:
    """Solve in a thread of its own, so that Ctrl-C reaches this one and keeps the best.

    With an effort one worker searches, and comes to the same end on any machine. With
    `proving` all work goes into closing the search: few pieces are proved in a half to a tenth
    of the time so, but better lays of many are found sooner by the usual mixture.
    """
    solver = cp_model.CpSolver()
    _set(solver.parameters, limits, proving)
    watch = _Watch(asked, hear)
    ends: list[Any] = []
    done = Event()

    def work() -> None:
        try:
            ends.append(solver.solve(model, watch))
        finally:
            done.set()

    Thread(target=work, daemon=True).start()
    stopped = _wait(done, solver, None if limits.effort is not None else limits.until, limits.stop)
    if watch.fault is not None:
        raise watch.fault
    status = ends[0]
    found = status in (cp_model.OPTIMAL, cp_model.FEASIBLE)
    open_end = status in (cp_model.FEASIBLE, cp_model.UNKNOWN)
    return Outcome(
        tuple(int(solver.value(variable)) for variable in asked) if found else None,
        ceil(solver.best_objective_bound - 1e-6) if found or open_end else 0,
        not open_end,
        stopped,
        solver.response_proto.deterministic_time,
    )


def _set(settings: Any, limits: Limits, proving: bool) -> None:
    """Time or effort, and who searches: more workers than cores don't help."""
    settings.catch_sigint_signal = False  # Ctrl-C is ours to take
    settings.random_seed = limits.seed
    settings.num_workers = 1
    if proving:
        settings.linearization_level = 0
    if limits.effort is not None:
        settings.max_deterministic_time = max(limits.effort, 1e-3)
        return
    if limits.until is not None:
        settings.max_time_in_seconds = max(0.01, limits.until - monotonic())
    if limits.stop is not None:
        return
    settings.num_workers = max(2, cpu_count() or 1)
    if proving and settings.num_workers < 4:
        # Of few workers none is spared for betterment alone: two that prove, and share clauses.
        firm = type(settings)()
        firm.name, firm.linearization_level = "firm", 0
        firm.use_energetic_reasoning_in_no_overlap_2d = True
        settings.subsolver_params.extend([firm])
        settings.subsolvers.extend(["no_lp", "firm"])


def _wait(
    done: Event, solver: cp_model.CpSolver, until: float | None, stop: Event | None = None
) -> bool:
    """Wait for a search to end, and tell whether Ctrl-C ended it.

    The library goes by the clock on the wall, which may be put back; so it is stopped when it is
    well over `until`, a `monotonic` clock time.
    """
    stopped = False
    while not done.is_set():
        try:
            # Waiting without end would keep Ctrl-C out on some systems.
            if not done.wait(timeout=LOOK) and asked():
                stopped = True
                solver.stop_search()
            if stop is not None and stop.is_set():
                solver.stop_search()
            if until is not None and monotonic() > until + LATE:
                solver.stop_search()
        except KeyboardInterrupt:
            stopped = True
            solver.stop_search()
    return stopped


def arrangement() -> Arrangement:
    """An empty arrangement for CP-SAT."""
    return Arrangement(cp_model.CpModel(), cp_model.Domain.from_intervals)


@dataclass(frozen=True)
class Proved:
    """The shortest lay found, and a length that none undercuts; `stopped` by Ctrl-C."""

    spots: tuple[Spot, ...]
    bound: int
    stopped: bool = False

    @property
    def length(self) -> int:
        """Length of the lay."""
        return reach(self.spots)


def prove(
    problem: Problem,
    best: Sequence[Spot],
    bound: int,
    *,
    until: float | None,
    effort: float | None,
    seed: int,
    tell: Callable[[int, int], None],
) -> Proved:
    """Shorten a lay by free arrangement and raise its bound, until they meet or time is out.

    `best` is a lay of all copies, `bound` a length that no lay undercuts, both scaled as the
    problem is. `until` is a `monotonic` clock time; with an `effort` (CP-SAT's own measure,
    about seconds of one core) the clock plays no part and the result is the same on every
    machine. `tell` hears the length and the bound now and then. Ctrl-C keeps the best.
    """
    length = reach(best)
    if bound >= length:
        return Proved(tuple(best), bound)
    hints = sorted(best, key=lambda spot: (spot.kind, spot.x, spot.y))
    strip = _strip(problem, hints, bound)

    def spots(values: Sequence[int]) -> tuple[Spot, ...]:
        told = zip(hints, values[0::3], values[1::3], values[2::3], strict=True)
        return tuple(
            Spot(hint.kind, *problem.kinds[hint.kind].shapes[way], x, y) for hint, x, y, way in told
        )

    def hear(values: tuple[int, ...], low: int) -> bool:
        tell(reach(spots(values)), max(bound, low))
        return True

    few = len(best) <= FEW
    limits = Limits(until, effort, seed)
    outcome = run(strip.model, strip.asked(), limits, hear, proving=few)
    found = tuple(best)
    if outcome.values is not None and reach(spots(outcome.values)) < length:
        found = spots(outcome.values)
    low = reach(found) if outcome.closed else max(bound, outcome.bound)
    return Proved(found, min(_raised(problem, low, reach(found)), reach(found)), outcome.stopped)


def held(problem: Problem, length: int, limits: Limits) -> tuple[tuple[Spot, ...], bool]:
    """A lay of some length, if one is met, and whether it is proved that there is none.

    To ask for one length settles far more in the same time than to ask for the least.
    """
    made = arrangement()
    made.sheet(problem.width, [(length, length)])
    kinds = [index for index, kind in enumerate(problem.kinds) for _ in range(kind.count)]
    for index in kinds:
        made.copy(index, _choices(problem, problem.kinds[index], length))
    made.apart()
    made.mirrored([copy for copy in made.copies if copy.kind == 0])
    outcome = run(made.model, made.asked(), limits, lambda *_: False)
    if outcome.values is None:
        return (), outcome.closed
    told = zip(kinds, outcome.values[0::3], outcome.values[1::3], outcome.values[2::3], strict=True)
    shapes = [kind.shapes for kind in problem.kinds]
    return tuple(Spot(kind, *shapes[kind][way], x, y) for kind, x, y, way in told), False


def overfull(problem: Problem, length: int, *, effort: float, seed: int) -> bool:
    """Whether it is proved that at a length some row across is overfull, wherever pieces lie.

    Asks less than a lay: each piece keeps its place along the bolt, but not across, so rows may
    shift their pieces from one unit of length to the next. What even that rules out is often ruled
    out at once. `length` is scaled as the problem is; `effort` is CP-SAT's own measure. Raises
    `KeyboardInterrupt` where Ctrl-C ended it.
    """
    made = arrangement()
    made.sheet(problem.width, [(length, length)])
    for index, kind in enumerate(problem.kinds):
        choices = [replace(way, ys=((0, 0),)) for way in _choices(problem, kind, length)]
        for _ in range(kind.count):
            made.copy(index, choices)
    made.apart(flat=True)
    made.mirrored([copy for copy in made.copies if copy.kind == 0])
    outcome = run(made.model, [], Limits(None, effort, seed), lambda *_: False)
    if outcome.stopped:
        raise KeyboardInterrupt
    return outcome.closed and outcome.values is None


def _raised(problem: Problem, bound: int, length: int) -> int:
    """A bound raised to the next sum of sizes: a lay pushed together ends at one."""
    sums = problem.sums(0, length)
    return int(sums[sums >= bound][0])


def _strip(problem: Problem, hints: Sequence[Spot], bound: int) -> Arrangement:
    """The model of a strip packing: copies by kind, and the lay in hand to start from."""
    made, most = arrangement(), reach(hints)
    sums = [int(value) for value in problem.sums(0, most) if value >= bound]
    sheet = made.sheet(problem.width, [(value, value) for value in sums])
    for hint in hints:
        kind = problem.kinds[hint.kind]
        made.copy(hint.kind, _choices(problem, kind, most))
    made.apart()
    made.mirrored([copy for copy in made.copies if copy.kind == hints[0].kind])
    ways = [problem.kinds[hint.kind].shapes.index((hint.a, hint.b)) for hint in hints]
    made.hint({at: (hint.x, hint.y, ways[at]) for at, hint in enumerate(hints)})
    made.model.add_hint(sheet.length, most)
    made.model.minimize(sheet.length)
    return made


def _choices(problem: Problem, kind: Kind, most: int) -> list[Choice]:
    """The ways to lie: in a lay pushed to the near corner all starts are sums of sizes."""

    def starts(axis: int, last: int) -> tuple[Span, ...]:
        sums = problem.sums(axis, last).tolist() if last >= 0 else []
        return tuple((v, v) for v in sums) if len(sums) <= FEW_SUMS else ((0, last),)

    return [
        Choice(a, b, starts(0, most - a) or ((0, 0),), starts(1, problem.width - b))
        for a, b in kind.shapes
    ]
