"""The search for a short free lay and the bound on it, in stages that each may close it."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from os import cpu_count
from random import Random
from threading import Event
from time import monotonic
from typing import TYPE_CHECKING

from marker.solver.bounds import AREA, BOTH, ROWS, TALLEST, by_area, by_columns, by_rows
from marker.solver.problem import Problem
from marker.solver.shears.crew import done_by
from marker.solver.shears.strip import Spots, first_lay, rows_of, swapped
from marker.solver.spots import reach
from marker.solver.stop import keeping_best, whole

if TYPE_CHECKING:
    # They load the compiled loop, or constraint programming.
    from marker.solver.shears.crowds import Tried
    from marker.solver.shears.ruling import Ruled

EXHAUSTED = "every shorter length was searched through"
RULED_OUT = "constraint programming rules out every shorter length"
OVERFULL = "at every shorter length some row across is overfull, wherever pieces lie"
COLUMNS = "the fullest columns that fit along the cloth"
HANDS = min(2, cpu_count() or 1)
FEW = 60
"""Up to so many pieces lays are bettered as a whole and searched through, more in parts."""
PROVABLE = 45
"""More pieces than that are too many for constraint programming."""
TIGHT = 0.002
"""Waste in parts of the area up to which a search of the skyline is tried at length."""
SMALL = 20
"""Up to so many pieces constraint programming mostly proves, if it is given the time."""
LP, BRIEF, SHORT, LONG, MOST = 0.4, 0.05, 0.08, 0.5, 0.9
"""Parts of the time left that a stage may take at most."""
RULING = 0.25
"""Part of the time left for each length to be ruled out by constraint programming."""
TRIES = 4
"""Tries of crowding that an iteration counts for, where no clock runs."""
QUICK, MORE = 400_000, 40_000
"""States gone through at first where no clock runs, and for each iteration besides."""
FLAT, FLAT_EFFORT = 0.2, 0.1
"""Part of the time left for ruling lengths out by rows alone, and the effort for each."""
EFFORT, MOST_EFFORT = 0.1, 20.0
"""Effort of constraint programming for each iteration, and the most, where no clock runs."""


@dataclass
class Search:
    """A search under way: the best lay so far, the bound, and what is left of the time.

    `within` ends it as soon as a lay no longer is found or ruled out; `step_below` gives the
    longest length that saves a cutting step on the one it is told, to be ruled out first.
    """

    problem: Problem
    random: Random
    until: float | None
    iterations: int | None
    tell: Callable[[int, int], None]
    best: Spots = ()
    within: int | None = None
    step_below: Callable[[int], int] | None = None
    bound: int = 0
    bound_by: str = AREA

    @property
    def length(self) -> int:
        """Length of the best lay."""
        return reach(self.best)

    @property
    def done(self) -> bool:
        """Whether nothing shorter exists, or what was asked is answered."""
        if self.within is not None and (self.length <= self.within or self.bound > self.within):
            return True
        return self.bound >= self.length

    def run(self) -> None:
        """Search until proved or out of time; Ctrl-C ends it and keeps what was found."""
        if not self.best:
            self.best = first_lay(self.problem)
        # A bound of some kind must stand from the first moment that Ctrl-C can end the search.
        self.bound = -(-self.problem.area // self.problem.width)
        with keeping_best():
            few = (self._quick, self._columns, self._try, self._overfull, self._prove)
            for stage in (self._measure, *(few if self.problem.pieces <= FEW else ())):
                if not self.done:
                    stage()
            self._improve()

    def _measure(self) -> None:
        """The bounds that need no search."""
        kinds = self.problem.kinds
        self._raise(by_area(self.problem).bound(self.problem), AREA)
        self._raise(max(min(a for a, _ in kind.shapes) for kind in kinds), TALLEST)
        known = rows_of(self.problem, self.best)
        rows = by_rows(self.problem, known, until=self._part_of_time(LP))
        self._raise(rows.bound(self.problem), ROWS)
        until = self._part_of_time(LP / 4)
        self._raise(by_columns(self.problem, rows, self.bound, self.length, until), BOTH)
        self.tell(self.length, self.bound)

    def _columns(self) -> None:
        """The same for columns: the shortest length at which the width would do for them."""
        if self.problem.pieces > SMALL:
            return
        until = self._part_of_time(0.1)
        lengths = [s for s in self._lengths() if self.bound <= s]
        low, high = 0, len(lengths) - 1
        while low < high and (until is None or monotonic() < until):
            middle = (low + high) // 2
            strip = swapped(self.problem, lengths[middle])
            if any(not kind.shapes for kind in strip.kinds) or (
                by_rows(strip, until=until).bound(strip) > self.problem.width
            ):
                low = middle + 1
            else:
                high = middle
        self._raise(lengths[low], COLUMNS)

    def _quick(self) -> None:
        """A short while of annealing."""
        if self.until is None:
            self._anneal(0.0, min(5, self.iterations or 0))
        else:
            self._anneal(min(1.0, BRIEF * self._left()), 0)

    def _try(self) -> None:
        """Search lays through at the lengths from the bound upwards; at length where it pays."""
        spare = self.bound * self.problem.width - self.problem.area
        tight = spare <= TIGHT * self.problem.area
        if self.problem.pieces > SMALL and not tight and self.until is not None:
            return
        part = (LONG if tight else SHORT) * self._left()
        # numba is only loaded here, where a search is under way
        from marker.solver.shears.raising import Raising
        from marker.solver.shears.raising import Tried as Searched

        work = Raising(
            self.problem, self.random, self._lengths(), self.bound, self._part_of_time(0.3)
        )
        effort = QUICK + MORE * (self.iterations or 0)

        def jobs() -> Iterator[Callable[[Event], Searched]]:
            while not self.done and (self.until is not None or work.spent < effort):
                work.aim = self.step_below(self.length) if self.step_below else 0
                job = work.next(self.length)
                if job is None:
                    return
                yield job

        for tried in done_by(jobs(), HANDS, self._after(part)):
            work.settle(tried)
            self._take(tried.spots)
            self._raise(work.bound, EXHAUSTED)
            self.tell(self.length, self.bound)
            if self.done:
                return

    def _overfull(self) -> None:
        """Rule lengths out at which rows across can't take all pieces, each in one place."""
        if self.problem.pieces > SMALL or self.iterations == 0:
            return
        with whole():
            from marker.solver.model import overfull

        until = self._part_of_time(FLAT)
        while not self.done and (until is None or monotonic() < until):
            if not overfull(self.problem, self.bound, effort=FLAT_EFFORT, seed=0):
                return
            self._raise(self.bound + 1, OVERFULL)
            self.tell(self.length, self.bound)

    def _prove(self) -> None:
        """Let constraint programming shorten the lay and raise the bound."""
        if self.problem.pieces > PROVABLE or self.iterations == 0:
            return
        if self.problem.pieces > SMALL:
            self._rule_out()
            return
        with whole():
            from marker.solver.model import prove

        counted = self.iterations is not None
        proved = prove(
            self.problem,
            self.best,
            self.bound,
            until=self._part_of_time(MOST),
            effort=min(MOST_EFFORT, EFFORT * (self.iterations or 0)) if counted else None,
            seed=self.random.randrange(1 << 20),
            tell=self.tell,
        )
        self._take(proved.spots)
        self._raise(proved.bound, RULED_OUT)
        self.tell(self.length, self.bound)
        if proved.stopped:
            raise KeyboardInterrupt

    def _rule_out(self) -> None:
        """Let one hand rule lengths out by constraint programming for a while; all others crowd.

        Where no clock runs the crowding is left for later.
        """
        with whole():
            from marker.solver.shears.crowds import Crowds
            from marker.solver.shears.ruling import Ruled, Ruling

        crowds = Crowds(self.problem, self.random)
        most = None if self.until else min(MOST_EFFORT, EFFORT * (self.iterations or 0))
        seconds = RULING * self._left()
        work = Ruling(self.problem, self._lengths(), self.bound, self.until, seconds, most)

        def jobs() -> Iterator[Callable[[Event], Ruled | Tried]]:
            while not self.done:
                work.aim = self.step_below(self.length) if self.step_below else 0
                job = work.next(self.length) or (self.until and crowds.next(self.best, self._goal))
                if not job:
                    return
                yield job.run

        try:
            for found in done_by(jobs(), max(HANDS, 2), self.until):
                if isinstance(found, Ruled):
                    work.settle(found)
                    self._raise(work.bound, RULED_OUT)
                    self.tell(self.length, self.bound)
                else:
                    crowds.settle(found)
                self._take(found.spots)
                if self.done:
                    return
        finally:
            work.leave()

    def _improve(self) -> None:
        """Better the lay until the time is up: as a whole, or in parts where it is long."""
        left = 0.0 if self.until is None else self._left()
        if self.problem.pieces > FEW:
            self._relay(left, self.iterations or 0)
            self._anneal(left, self.iterations or 0)
        else:
            self._crowd(left, self.iterations or 0)

    def _crowd(self, seconds: float, rounds: int) -> None:
        """Try pieces on less cloth, where no clock runs so many times for each of the rounds."""
        from marker.solver.shears.crowds import Crowds

        crowds = Crowds(self.problem, self.random)

        def jobs() -> Iterator[Callable[[Event], Tried]]:
            while not self.done and (self.until is not None or crowds.drawn < TRIES * rounds):
                made = crowds.next(self.best, self._goal)
                if made is None:
                    return
                yield made.run

        for found in done_by(jobs(), HANDS, self._after(seconds)):
            crowds.settle(found)
            self._take(found.spots)
            if self.done:
                return

    def _anneal(self, seconds: float, rounds: int) -> None:
        from marker.solver.shears.chains import Chains

        chains = Chains(self.problem, self.random)

        def jobs() -> Iterator[Callable[[Event], Spots]]:
            while not self.done and (self.until is not None or chains.drawn < rounds):
                yield chains.next(self.best, self._goal).run

        for found in done_by(jobs(), HANDS, self._after(seconds)):
            self._take(found)
            if self.done:
                return

    def _relay(self, seconds: float, rounds: int) -> None:
        from marker.solver.shears.chains import Relay, Relaying

        work = Relaying(self.problem, self.random)
        work.begin(self.best)
        drawn = 0

        def jobs() -> Iterator[Callable[[Event], tuple[Relay, Spots]]]:
            nonlocal drawn
            while not self.done and (self.until is not None or drawn < rounds):
                relay = work.next()
                if relay is None:
                    return
                drawn += 1
                yield relay.run

        for relay, found in done_by(jobs(), HANDS, self._after(seconds)):
            if work.settle(relay, found):
                self._take(work.spots)
            if self.done:
                return

    @property
    def _goal(self) -> int:
        return self.bound if self.within is None else max(self.bound, self.within)

    def _take(self, spots: Spots) -> None:
        if spots and reach(spots) < self.length:
            self.best = spots
            self.tell(self.length, self.bound)

    def _raise(self, bound: int, reason: str) -> None:
        """Raise the bound to the next length that pieces in a row can make."""
        if bound > self.bound or self.bound_by == AREA == reason:
            lengths = self._lengths()
            self.bound = lengths[min(bisect_left(lengths, bound), len(lengths) - 1)]
            self.bound_by = reason

    def _lengths(self) -> list[int]:
        """All lengths that a lay pushed together may have, up to the best known."""
        return [int(s) for s in self.problem.sums(0, self.length)]

    def _left(self) -> float:
        return 0.0 if self.until is None else max(0.0, self.until - monotonic())

    def _after(self, seconds: float) -> float | None:
        return None if self.until is None else min(self.until, monotonic() + seconds)

    def _part_of_time(self, part: float) -> float | None:
        return self._after(part * self._left())
