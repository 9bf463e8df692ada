"""Raising the bound by constraint programming: lengths above it, each ruled out or met by itself.

How long a length takes can't be told beforehand. So a longer one is asked for after each that is
ruled out, and a shorter one where the time was not enough.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from dataclasses import dataclass, field
from threading import Event
from time import monotonic

from marker.solver.model import Limits, held
from marker.solver.problem import Problem
from marker.solver.shears.strip import Spots, pushed

EFFORT = 0.5
"""Given to the first length, where no clock runs."""
FAILURES = 2
"""How often that may not be enough; time is of more use to shorter lays then."""
STEP, WIDER, NARROWER = 0.0055, 1.5, 0.3
"""How far above the bound the first length is, in parts of it, and how that changes."""
LEAVE = 2.0
"""Seconds that a search gets to end in once it is told to."""


@dataclass(frozen=True)
class Ruled:
    """What came of asking for a length: whether it is ruled out, or a lay that was met."""

    length: int
    out: bool
    spots: Spots
    effort: float


@dataclass
class Ruling:
    """The bound on its way up; `lengths` are all that a lay may have, ascending.

    `aim` is a length to be ruled out first; longer ones wait for that. One is asked for at a time,
    each for so many `seconds`. Ends at the clock time `until`, or where no clock runs after
    the effort `most`.
    """

    problem: Problem
    lengths: list[int]
    bound: int
    until: float | None
    seconds: float
    most: float | None
    aim: int = 0
    failures: int = 0
    step: float = STEP
    spent: float = 0.0
    under_way: Asked | None = None

    def next(self, best: int) -> Asked | None:
        """The next length to ask for; None while one is asked for, and where none is left."""
        over = self.failures >= FAILURES or (self.most is not None and self.spent >= self.most)
        length = self.target(best)
        if self.under_way or over or length is None:
            return None
        effort = None if self.most is None else min(EFFORT, self.most - self.spent)
        self.under_way = Asked(self.problem, length, self.seconds, self.until, effort)
        return self.under_way

    def target(self, best: int) -> int | None:
        """A length from the bound up to below the best one."""
        end, at = bisect_left(self.lengths, best), bisect_left(self.lengths, self.bound)
        if at >= end:
            return None
        chosen = min(end - 1, bisect_right(self.lengths, int(self.bound * (1 + self.step))) - 1)
        if self.bound <= self.aim < self.lengths[chosen]:
            chosen = bisect_right(self.lengths, self.aim) - 1
        return self.lengths[max(at, chosen)]

    def settle(self, ruled: Ruled) -> None:
        """Take in what came of a length."""
        self.under_way = None
        self.spent += ruled.effort
        if ruled.out:
            after = bisect_right(self.lengths, ruled.length)
            self.bound = self.lengths[min(after, len(self.lengths) - 1)]
            self.step *= WIDER
        elif not ruled.spots:
            self.step *= NARROWER
            self.failures += 1

    def leave(self) -> None:
        """Wait until a search no longer wanted has ended: it must not outlast the program."""
        if self.under_way:
            self.under_way.leave()


@dataclass
class Asked:
    """One length asked for."""

    problem: Problem
    length: int
    seconds: float
    until: float | None
    effort: float | None
    begun: Event = field(default_factory=Event)
    ended: Event = field(default_factory=Event)

    def run(self, stop: Event) -> Ruled:
        """Ask, until the time or effort is over or `stop` is set."""
        self.begun.set()
        try:
            until = self.until and min(self.until, monotonic() + self.seconds)
            spots, out = held(self.problem, self.length, Limits(until, self.effort, 0, stop))
        finally:
            self.ended.set()
        return Ruled(self.length, out, pushed(spots), self.effort or 0.0)

    def leave(self) -> None:
        """Wait a little for the end."""
        if self.begun.is_set():
            self.ended.wait(LEAVE)
