"""The search for a short row of bands and the bound on it: quick lay, exhaustion, betterment."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from copy import copy
from dataclasses import dataclass, field, replace
from itertools import chain, islice
from random import Random
from time import monotonic
from typing import TYPE_CHECKING

import numpy as np

from marker.solver.bounds import AREA, BOTH, ROWS, TALLEST, Measure, by_area, by_columns, by_rows
from marker.solver.problem import Problem
from marker.solver.program import Row
from marker.solver.stop import keeping_best, whole
from marker.solver.tear.aside import HEARD, Aside, News, spare_core
from marker.solver.tear.block import Block, rows_across
from marker.solver.tear.exact import BOLD, CLOSE, exhaust, stops
from marker.solver.tear.greedy import length_of, shaken_lays, stacked_lays
from marker.solver.tear.limits import Limits
from marker.solver.tear.packing import Purse
from marker.solver.tear.sieve import Sieve

if TYPE_CHECKING:
    from marker.solver.tear.improve import Betterment
    from marker.solver.tear.mosaic import Mosaic

EXHAUSTED = "every shorter length was searched through"
LAYS, STACKED_LAYS = 16, 12
"""Quick lays made before anything else, and more of bands that begin with stacks; their rows
start the linear program."""
SMALL, MIDDLING = 20, 48
"""Up to so many pieces a lay is exhausted in earnest, after a little or some betterment."""
LONG, QUICK, BRIEF = 5_000_000_000, 300_000_000, 10_000_000
"""Pairs of blocks that the exhaustion may look at: a minute of work, some seconds, part of one."""
TIGHT, NONE, MANY = 0.002, 0.0002, 100
"""A larger lay is exhausted at first only if its bound leaves less than this part as waste. If
that is next to none it is laid edge to edge, and exhausted for longer up to so many pieces."""
BETTERED = 3000
"""Rounds of betterment before a middling lay is exhausted in earnest."""
MOSAIC = 0.3
"""Part of what is left of time and effort that goes into bands without waste."""
CHEAP = 0.25
"""Part of what is left that goes into a length `CLOSE` to the bound that saves no cutting step."""


@dataclass
class Search:
    """A search under way: the best lay so far, the bound, and what is left of the time."""

    problem: Problem
    random: Random
    limits: Limits
    tell: Callable[[int, int], None]
    best: tuple[Block, ...] = ()
    bound: int = 0
    bound_by: str = AREA
    rounds: int = 0
    eased: bool = False
    settled: bool = False
    worths: Measure = field(init=False)
    sieve: Sieve = field(init=False)

    @property
    def done(self) -> bool:
        """Whether nothing more is to be found: nothing shorter exists, or enough is known."""
        length, within = length_of(self.best), self.limits.within
        enough = within is not None and (length <= within or self.bound > within)
        return enough or self.bound == length

    def run(self) -> None:
        """Search until proved or out of time; Ctrl-C ends it and keeps what was found."""
        lays = self._first_lay()
        with keeping_best():
            self._begin(lays)
            self._deepen()

    def begin(self) -> None:
        """Make quick lays and bound them: that takes a moment, and no compiled loop."""
        self._begin(self._first_lay())

    def _first_lay(self) -> Iterator[tuple[Block, ...]]:
        """Have a lay and a bound of some kind, which Ctrl-C must find; gives more quick lays."""
        lays = shaken_lays(self.problem, self.random)
        self.best = next(lays)
        self.bound = -(-self.problem.area // self.problem.width)
        return lays

    def _begin(self, lays: Iterator[tuple[Block, ...]]) -> None:
        self.tell(length_of(self.best), self.bound)
        if not self.done:
            self._first_bound(self._quick_lays(lays))
            self.tell(length_of(self.best), self.bound)

    def _deepen(self) -> None:
        """Exhaustion and betterment by turns, each with more effort than before."""
        if self.done:
            return
        if self.problem.pieces > MIDDLING:
            self._deepen_long()
            return
        if self._only_bettered:
            self._improve(None, 1.0)
            return
        self._exhaust(BRIEF, 0.15)
        with self._exhausted_aside(True) as aside:
            if aside:
                self._improve(None, 1.0, aside)
            else:
                self._improve(BETTERED if self.problem.pieces > SMALL else BETTERED // 10, 0.15)
        self._exhaust(QUICK, 0.5)
        self._improve(None, 1.0)

    @property
    def _only_bettered(self) -> bool:
        limits = self.limits
        return not limits.proving and limits.until is not None and self.problem.pieces > SMALL

    def _deepen_long(self) -> None:
        """The same with a long lay: only one with hardly any waste may be worth exhausting."""
        if self._leaves(TIGHT):
            self._exhaust(BRIEF, 0.05)
        if self._leaves(NONE):
            earnest = self.problem.pieces <= MANY
            with self._exhausted_aside(earnest) as aside:
                self._lay_edge_to_edge(aside)
                if aside:
                    self._improve(None, 1.0, aside)
            if earnest:
                self._exhaust(QUICK, 0.5)
        self._improve(None, 1.0)

    def _lay_edge_to_edge(self, aside: Aside | None) -> None:
        """Lay bands without waste, as many as there are, and better what they leave over."""
        if self.done or self.limits.iterations == 0 or self._late:
            return
        with whole():
            from marker.solver.tear.mosaic import Mosaic

        self._ease()
        work = Mosaic(self.problem, self.random, self._part_of_time(MOSAIC))
        if not work.promising:
            return
        self._shorten(work.laid.lay)
        for _ in self._rounds(MOSAIC, aside):
            work.round()
            self._shorten(work.laid.lay)
        self._better_rest(work, aside)

    def _better_rest(self, work: Mosaic, aside: Aside | None) -> None:
        """Better what bands without waste leave over by itself."""
        from marker.solver.tear.improve import Betterment

        rest = work.rest()
        if self.done or not rest.area:
            return
        low = -(-rest.area // rest.width)
        after = Betterment(rest, by_area(rest), self.random, work.laid.rest, low)
        for _ in self._rounds(MOSAIC / 2, aside):
            if length_of(after.best) == low:
                break
            after.round()
            self._shorten(work.laid.bands + after.best)

    def _rounds(self, part: float, aside: Aside | None) -> Iterator[None]:
        """Rounds of a stage, each counted, until a part of the time or number left has gone."""
        until, most = self._part_of_time(part), self.limits.iterations
        last = None if most is None else self.rounds + int((most - self.rounds) * part)
        while not self.done and not self._spent(until) and (last is None or self.rounds < last):
            self.rounds += 1
            yield
            self._listen(aside)

    @contextmanager
    def _exhausted_aside(self, wanted: bool) -> Iterator[Aside | None]:
        """Another process that exhausts what is shorter, if that is wanted and there is a core."""
        length, limits = length_of(self.best), self.limits
        if not wanted or self.done or limits.until is None or not spare_core():
            yield None
            return
        purse = Purse(LONG, limits.until)
        if self._leaves(NONE):
            # What wastes next to nothing is soon searched through: nothing is spared.
            aim = limits.wanted(length)
            aims = (aim, length - 1) if aim < length else (length - 1,)
            aside = Aside.start(self.problem, self.sieve, self.bound, length, aims, purse)
        else:
            aside = Aside.deepen(
                self.problem, self.sieve, self.bound, self.best, limits.wanted, purse
            )
        try:
            yield aside
        finally:
            aside.stop()

    def _listen(self, aside: Aside | None) -> None:
        if aside and self.rounds % HEARD == 0:
            self._hear(aside)

    def _hear(self, aside: Aside) -> None:
        while news := aside.hear():
            self._take(news)

    def _take(self, news: News) -> None:
        """Take over what the other process has proved or met."""
        if news.bands is not None:
            self._shorten(news.bands)
        self._raise(news.bound)
        self.settled |= news.settled
        self._ease()

    def _shorten(self, bands: tuple[Block, ...]) -> None:
        """Take over a lay if it is shorter than the best."""
        if length_of(bands) < length_of(self.best):
            self.best = bands
            self.tell(length_of(bands), self.bound)
            self._ease()

    def _leaves(self, part: float) -> bool:
        """Whether the bound leaves no more than a part of the cloth as waste."""
        return self.problem.area > (1 - part) * self.problem.width * self.bound

    def _quick_lays(self, lays: Iterator[tuple[Block, ...]]) -> list[Row]:
        """Keep the best of some quick lays, and gather the rows of pieces that they are made of."""
        known: dict[tuple[tuple[int, int], ...], None] = {}
        until = self._part_of_time(0.1)
        stacked = stacked_lays(self.problem, copy(self.random))
        for lay in chain((self.best,), islice(lays, LAYS), islice(stacked, STACKED_LAYS)):
            self.best = min(self.best, lay, key=length_of)
            for band in lay:
                for row in rows_across(band):
                    known[tuple(sorted(self._place(part) for part in row))] = None
            if until is not None and monotonic() > until:
                break
        return list(known)

    def _place(self, part: Block) -> tuple[int, int]:
        return part.kind, self.problem.kinds[part.kind].shapes.index((part.a, part.b))

    def _first_bound(self, known: list[Row]) -> None:
        """The best of the bounds that need no search, raised to a sum of piece sizes."""
        self.worths = by_rows(self.problem, known, until=self._part_of_time(0.15))
        self.sieve = Sieve.of(self.problem, self.worths)
        area, rows = by_area(self.problem).bound(self.problem), self.worths.bound(self.problem)
        tallest = max(min(a for a, _ in kind.shapes) for kind in self.problem.kinds)
        self.bound = max(area, rows, tallest)
        reason = {rows: ROWS, tallest: TALLEST, area: AREA}
        self.bound_by = reason[self.bound]
        lengths = self.problem.sums(0, length_of(self.best))
        self.bound = int(lengths[np.searchsorted(lengths, self.bound)])
        until, length = self._part_of_time(0.1), length_of(self.best)
        self._raise(by_columns(self.problem, self.worths, self.bound, length, until), BOTH)

    def _exhaust(self, effort: int, part: float) -> None:
        """Search every length up to the one wanted most, and then every one below the best."""
        until = self._part_of_time(part)
        while not self.done:
            self._ease()
            length = length_of(self.best)
            wanted = self.limits.wanted(length)
            limit = wanted if self.bound <= wanted < length else length - 1
            purse = Purse(int(effort * CHEAP) if self.eased else effort, until)
            result = exhaust(
                self.problem, self.bound, length, (limit,), self.sieve, purse, self._raise
            )
            if result.bands is not None:
                self.best = result.bands
            self._raise(result.bound)
            if self.bound <= limit:
                return

    def _improve(self, rounds: int | None, part: float, aside: Aside | None = None) -> None:
        """Better the lay for so many rounds (None: all that are left) or a part of the time."""
        if self.done or self.limits.iterations == 0 or self._late:
            return
        # Loading the compiled loop takes half a second, so only a search that needs it does.
        from marker.solver.tear.improve import Betterment

        self._ease()
        work = Betterment(
            self.problem, self.worths, self.random, self.best, self.bound, self.limits.wanted,
            self._starts(self.random),
        )  # fmt: skip
        last, until = self.rounds + (rounds or 0), self._part_of_time(part)
        with self._bettered_aside(work, aside) as aside:
            while not self.done and not (rounds and self.rounds >= last) and not self._spent(until):
                if aside and self.settled:
                    self._prove(aside)
                else:
                    self._better(work, aside)

    def _prove(self, aside: Aside) -> None:
        """Exhaust boldly what the other process goes about step by step."""
        length, limits = length_of(self.best), self.limits

        def heed() -> bool:
            """Whether what the other process has told ends this: the end may come nearer too."""
            self._hear(aside)
            return self.done or self._late or length_of(self.best) < length

        # What saves a step the other one comes to first.
        aims = stops(length, limits.wanted)[1:]
        purse = Purse(LONG, limits.until, heed=heed)
        result = exhaust(
            self.problem, self.bound, length, aims, self.sieve, purse, self._raise, BOLD
        )
        if result.bands is not None:
            self._shorten(result.bands)
        self._raise(result.bound)
        self._ease()
        self.settled = False
        self._hear(aside)

    def _starts(self, random: Random) -> Iterator[tuple[Block, ...]] | None:
        """Lays to begin afresh with, for a middling lay."""
        if self.problem.pieces > MIDDLING:
            return None
        return stacked_lays(self.problem, copy(random))

    def _better(self, work: Betterment, aside: Aside | None) -> None:
        """One round of betterment; what it brings is told, and what came from aside taken over."""
        work.round()
        self.rounds += 1
        if aside and length_of(work.best) < length_of(self.best):
            aside.tell(work.best)
        self._shorten(work.best)
        self._listen(aside)
        work.adopt(self.best)
        work.bound = self.bound

    @contextmanager
    def _bettered_aside(self, work: Betterment, aside: Aside | None) -> Iterator[Aside | None]:
        """Another process that betters a long lay too, by other chances, if none is under way."""
        until = self.limits.until
        alone = self.problem.pieces <= MIDDLING and not self._only_bettered
        if aside or until is None or alone or not spare_core():
            yield aside
            return
        chances = Random(self.random.randrange(1 << 30))
        aside = Aside.better(replace(work, random=chances, starts=self._starts(chances)), until)
        try:
            yield aside
        finally:
            aside.stop()

    def _spent(self, until: float | None) -> bool:
        most, end = self.limits.iterations, self.limits.until
        if most is not None:
            return self.rounds >= most
        # The end may have come nearer since `until` was set.
        return end is not None and monotonic() >= min(end, until or end)

    @property
    def _late(self) -> bool:
        """Whether the clock runs, and has run out."""
        return self.limits.until is not None and self._spent(None)

    def _ease(self) -> None:
        """Once no step can be saved, cut down what is spent on the length alone if it is close."""
        less, limits, length = self.limits.less, self.limits, length_of(self.best)
        if self.eased or less is None or self.bound <= less(length) or length > CLOSE * self.bound:
            return
        self.eased = True
        until, most = self._part_of_time(CHEAP), limits.iterations
        if most is not None:
            most = self.rounds + int((most - self.rounds) * CHEAP)
        self.limits = replace(limits, until=until, iterations=most)

    def _part_of_time(self, part: float) -> float | None:
        """The clock time at which a part of the time that is left has gone."""
        now = monotonic()
        until = self.limits.until
        return None if until is None else now + part * max(0.0, until - now)

    def _raise(self, bound: int, reason: str = EXHAUSTED) -> None:
        if bound > self.bound:
            self.bound, self.bound_by = bound, reason
        self.tell(length_of(self.best), self.bound)


def search(problem: Problem, limits: Limits, seed: int, tell: Callable[[int, int], None]) -> Search:
    """Run a search to its limits; with a number of iterations the clock is not looked at."""
    found = Search(problem, Random(seed), limits, tell)
    found.run()
    return found
