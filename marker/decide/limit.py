"""One limit of time for a whole command, shared out over the questions that it asks.

A question that is answered early leaves its time to those after it. None gets less than a
floor, so with very little time the last ones aren't asked at all: better a few answers that
were looked for than many that were not. By count there is no clock, and everything is asked.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from math import inf
from time import monotonic
from typing import TypeVar

from marker.casefile import Case
from marker.decide.abreast import Told, abreast
from marker.errors import MarkerError
from marker.solver import load
from marker.solver.cores import cores

T = TypeVar("T")
R = TypeVar("R")

LEAST = 0.3
"""Seconds that a question gets at least, if it is asked at all."""


@dataclass(frozen=True)
class Limit:
    """Questions may be begun `until` a time of the monotonic clock; `seconds` is the whole."""

    seconds: float
    until: float

    @staticmethod
    def of(seconds: float, iterations: int | None) -> Limit:
        """So much from now on; none where `iterations` are counted."""
        return Limit(seconds, inf if iterations else monotonic() + seconds)

    @property
    def left(self) -> float:
        """Seconds that are left, none below nought; by count the whole, again and again."""
        return self.seconds if self.until == inf else max(0.0, self.until - monotonic())

    @property
    def over(self) -> bool:
        """Whether the time is out."""
        return self.until != inf and monotonic() >= self.until

    def part(self, part: float) -> Limit:
        """Some of what is left, from now on; what isn't used of it stays with the whole."""
        if self.until == inf:
            return self
        return Limit(part * self.left, monotonic() + part * self.left)

    def shared(
        self, job: Callable[[T, float], R], tasks: Sequence[T], told: Told | None = None
    ) -> list[R | MarkerError | None]:
        """`abreast` within the limit: `job` is told for how many seconds it may search.

        None stands for tasks that were not begun, for want of time or since the user stopped.
        """
        many = len(tasks)
        hands = min(cores(), many)

        def timed(numbered: tuple[int, T]) -> R:
            before, task = numbered
            return job(task, self._share(many - before, hands))

        return abreast(timed, list(enumerate(tasks)), told, self.until)

    def _share(self, tasks: int, hands: int) -> float:
        """Seconds for the first of so many tasks that the hands take up in turn."""
        if self.until == inf:
            return self.seconds
        return max(LEAST, min(1.0, hands / tasks) * self.left)


def made_ready(cases: Iterable[Case]) -> None:
    """Load once what searches for outlines need, so that not every process does in its time."""
    for case in cases:
        for piece in (p for order in case.orders for d in order.drafts() for p in d.pieces):
            if piece.outline is not None:
                load(case.cloths[piece.cloth], (piece,))
                return


def used(case: Case) -> int:
    """How many cloths its pieces may come from, each of which a plan searches by itself."""
    pieces = (p for order in case.orders for d in order.drafts() for p in d.pieces)
    return len({key for piece in pieces for key in (piece.cloth, *piece.also)}) or 1
