"""Free arrangement of rectangles by constraint programming: the one module that uses OR-Tools.

CP-SAT is told the same thing in three ways, since each prunes where the others are blind: no
two rectangles overlap, no row or column across the strip is overfull (two cumulatives), and
of any two pieces one lies left, right, below or above the other. The last is what proves:
without it cases of 15 pieces of mixed measure were left open after 10 s that are closed in 2 s.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from itertools import combinations
from math import ceil
from os import cpu_count
from queue import Empty, SimpleQueue
from threading import Thread
from time import monotonic
from typing import Any

from ortools.sat.python import cp_model

from marker.solver.problem import Kind, Problem
from marker.solver.spots import Spot, reach

MOST_PAIRS = 1500
"""So many pairs of pieces are told apart one by one; more would drown the search."""
FEW_SUMS = 400
"""Positions are held to sums of sizes only where those are so few: long lists choke CP-SAT."""
Tell = Callable[[int, int], None]


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


@dataclass(frozen=True)
class Limits:
    """When a search ends: at a clock time, or after an effort that is the same on any machine."""

    until: float | None
    effort: float | None
    seed: int = 0


@dataclass(frozen=True)
class Outcome:
    """What CP-SAT says: the best values of the variables asked for, its bound, and its end."""

    values: tuple[int, ...] | None
    bound: int
    closed: bool
    """Whether nothing is left to search: the values are best, or there are none at all."""
    stopped: bool


class _Watch(cp_model.CpSolverSolutionCallback):
    """Passes every better solution on to the thread that waits for it."""

    def __init__(self, asked: Sequence[Any], news: SimpleQueue[Any]) -> None:
        super().__init__()
        self.asked, self.news = asked, news

    def on_solution_callback(self) -> None:
        """Called by the solver, in its own thread."""
        values = tuple(int(self.value(variable)) for variable in self.asked)
        self.news.put((values, self.best_objective_bound))


def run(
    model: cp_model.CpModel,
    asked: Sequence[Any],
    limits: Limits,
    hear: Callable[[tuple[int, ...], float], None],
) -> Outcome:
    """Solve in a thread of its own, so that Ctrl-C reaches this one and keeps the best.

    With an effort one worker searches, and comes to the same end on any machine.
    """
    solver = cp_model.CpSolver()
    settings = solver.parameters
    settings.random_seed = limits.seed
    settings.num_workers = 1 if limits.effort is not None else max(2, cpu_count() or 1)
    if limits.effort is not None:
        settings.max_deterministic_time = limits.effort
    elif limits.until is not None:
        settings.max_time_in_seconds = max(0.01, limits.until - monotonic())
    news: SimpleQueue[Any] = SimpleQueue()
    ends: list[Any] = []

    def work() -> None:
        try:
            ends.append(solver.solve(model, _Watch(asked, news)))
        finally:
            news.put(None)

    thread = Thread(target=work, daemon=True)
    thread.start()
    stopped = _listen(news, solver, hear)
    thread.join()
    status = ends[0] if ends else cp_model.UNKNOWN
    found = status in (cp_model.OPTIMAL, cp_model.FEASIBLE)
    return Outcome(
        tuple(int(solver.value(variable)) for variable in asked) if found else None,
        ceil(solver.best_objective_bound - 1e-6) if ends else 0,
        status in (cp_model.OPTIMAL, cp_model.INFEASIBLE),
        stopped,
    )


def _listen(
    news: SimpleQueue[Any],
    solver: cp_model.CpSolver,
    hear: Callable[[tuple[int, ...], float], None],
) -> bool:
    """Pass solutions on until the search is over, and tell whether Ctrl-C ended it."""
    stopped = False
    while True:
        try:
            # Waiting without end would keep Ctrl-C out on some systems.
            heard = news.get(timeout=0.5)
            if heard is None:
                return stopped
            hear(*heard)
        except Empty:
            continue
        except KeyboardInterrupt:
            stopped = True
            solver.stop_search()


@dataclass
class _Copy:
    """The variables of one copy: where it lies, its sizes, and whether it is turned."""

    kind: int
    x: Any
    y: Any
    a: Any
    b: Any
    turned: Any


@dataclass
class _Strip:
    """The model of a strip packing; one method a rule."""

    problem: Problem
    best: tuple[Spot, ...]
    bound: int
    model: cp_model.CpModel = field(default_factory=cp_model.CpModel)
    copies: list[_Copy] = field(default_factory=list)
    length: Any = None

    def build(self) -> None:
        """All rules, and the lay in hand as a hint."""
        most = reach(self.best)
        sums = [value for value in self.problem.sums(0, most).tolist() if value >= self.bound]
        self.length = self.model.new_int_var_from_domain(_values(sums), "length")
        self.model.add_hint(self.length, most)
        waiting = sorted(self.best, key=lambda spot: (spot.kind, spot.x, spot.y))
        for spot in waiting:
            self._copy(spot, most)
        self._apart()
        self._mirrored()
        self.model.minimize(self.length)

    def _copy(self, hint: Spot, most: int) -> None:
        model, kind = self.model, self.problem.kinds[hint.kind]
        x, y = self._position(kind, 0, most), self._position(kind, 1, self.problem.width)
        a, b = kind.shapes[0]
        turned: Any = 0
        if len(kind.shapes) > 1:
            other_a, other_b = kind.shapes[1]
            turned = model.new_bool_var("")
            model.add_hint(turned, (hint.a, hint.b) != (a, b))
            size_a, size_b = a + (other_a - a) * turned, b + (other_b - b) * turned
        else:
            size_a, size_b = a, b
        model.add_hint(x, hint.x)
        model.add_hint(y, hint.y)
        model.add(x + size_a <= self.length)
        model.add(y + size_b <= self.problem.width)
        copy = _Copy(hint.kind, x, y, size_a, size_b, turned)
        if self.copies and self.copies[-1].kind == hint.kind:
            self._in_order(self.copies[-1], copy)
        self.copies.append(copy)

    def _position(self, kind: Kind, axis: int, most: int) -> Any:
        """Where a copy may start: in a lay pushed to the near corner, at a sum of sizes."""
        last = most - min(shape[axis] for shape in kind.shapes)
        sums = self.problem.sums(axis, last).tolist()
        domain = _values(sums) if len(sums) <= FEW_SUMS else cp_model.Domain(0, last)
        return self.model.new_int_var_from_domain(domain, "")

    def _in_order(self, one: _Copy, two: _Copy) -> None:
        """Equal copies may change places, so they are numbered by x, then by y."""
        model = self.model
        behind = model.new_bool_var("")
        model.add(one.x <= two.x)
        model.add(one.x < two.x).only_enforce_if(behind)
        model.add(one.y <= two.y).only_enforce_if(~behind)

    def _apart(self) -> None:
        """No two pieces share cloth: told by area, by rows and columns, and by pairs."""
        model = self.model
        along, across, sizes = [], [], []
        for copy in self.copies:
            for index, (a, b) in enumerate(self.problem.kinds[copy.kind].shapes):
                if isinstance(copy.turned, int):
                    along.append(model.new_fixed_size_interval_var(copy.x, a, ""))
                    across.append(model.new_fixed_size_interval_var(copy.y, b, ""))
                else:
                    so = copy.turned if index else ~copy.turned
                    along.append(model.new_optional_fixed_size_interval_var(copy.x, a, so, ""))
                    across.append(model.new_optional_fixed_size_interval_var(copy.y, b, so, ""))
                sizes.append((a, b))
        model.add_no_overlap_2d(along, across)
        model.add_cumulative(along, [b for _, b in sizes], self.problem.width)
        model.add_cumulative(across, [a for a, _ in sizes], self.length)
        if len(self.copies) * (len(self.copies) - 1) // 2 <= MOST_PAIRS:
            for one, two in combinations(self.copies, 2):
                self._beside(one, two)

    def _beside(self, one: _Copy, two: _Copy) -> None:
        model = self.model
        before, after, below, above = (model.new_bool_var("") for _ in range(4))
        model.add(one.x + one.a <= two.x).only_enforce_if(before)
        model.add(two.x + two.a <= one.x).only_enforce_if(after)
        model.add(one.y + one.b <= two.y).only_enforce_if(below)
        model.add(two.y + two.b <= one.y).only_enforce_if(above)
        model.add_bool_or(before, after, below, above)
        model.add_at_most_one(before, after)
        model.add_at_most_one(below, above)
        if one.kind == two.kind:
            model.add(after == 0)

    def _mirrored(self) -> None:
        """A lay and its mirror images are one: the first kind lies in the near half, on average.

        Pushing a lay to the near corner afterwards only lowers positions, so this and the
        sums of sizes hold together.
        """
        firsts = [copy for copy in self.copies if copy.kind == self.copies[0].kind]
        middle = sum(2 * copy.x + copy.a for copy in firsts)
        self.model.add(middle <= len(firsts) * self.length)
        middle = sum(2 * copy.y + copy.b for copy in firsts)
        self.model.add(middle <= len(firsts) * self.problem.width)

    def asked(self) -> list[Any]:
        """The variables that tell a lay."""
        return [v for copy in self.copies for v in (copy.x, copy.y, copy.turned)]

    def spots(self, values: Sequence[int]) -> tuple[Spot, ...]:
        """The lay told by those variables."""
        found = []
        for at, copy in enumerate(self.copies):
            x, y, turned = values[3 * at : 3 * at + 3]
            a, b = self.problem.kinds[copy.kind].shapes[turned]
            found.append(Spot(copy.kind, a, b, x, y))
        return tuple(found)


def _values(values: Sequence[int]) -> cp_model.Domain:
    return cp_model.Domain.from_values(values)


def prove(
    problem: Problem,
    best: Sequence[Spot],
    bound: int,
    *,
    until: float | None,
    effort: float | None,
    seed: int,
    tell: Tell,
) -> Proved:
    """Shorten a lay by free arrangement and raise its bound, until they meet or time is out.

    `best` is a lay of all copies, `bound` a length that no lay undercuts, both scaled as the
    problem is. `until` is a `monotonic` clock time; with an `effort` (CP-SAT's own measure,
    about seconds of one core) the clock plays no part and the result is the same on every
    machine. `tell` hears the length and the bound now and then. Ctrl-C keeps the best.
    """
    found = Proved(tuple(best), bound)
    if found.bound >= found.length:
        return found
    strip = _Strip(problem, found.spots, bound)
    strip.build()

    def hear(values: tuple[int, ...], low: float) -> None:
        tell(reach(strip.spots(values)), max(bound, ceil(low - 1e-6)))

    outcome = run(strip.model, strip.asked(), Limits(until, effort, seed), hear)
    spots = found.spots if outcome.values is None else strip.spots(outcome.values)
    length = min(reach(spots), found.length)
    proved = length if outcome.closed and outcome.values is not None else outcome.bound
    sums = problem.sums(0, length)
    proved = max(bound, int(sums[sums >= min(proved, length)][0]))
    return Proved(
        spots if reach(spots) < found.length else found.spots, min(proved, length), outcome.stopped
    )
