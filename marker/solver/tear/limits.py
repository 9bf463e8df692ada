"""When a search for torn lays ends."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass


@dataclass(frozen=True)
class Limits:
    """When a search ends, besides at the shortest lay.

    `until` is a clock time, `iterations` a number of rounds of betterment. With `within` it ends
    at a lay of that length or less, or when there is none. `less` gives the longest lay that one
    cutting step less holds than a lay of some length: that is searched before shorter lays that
    save no step, and once no step and little length can be saved only what `CHEAP` leaves is
    spent. Where the clock runs and proofs are of no use, lays that take long to exhaust are only
    bettered.
    """

    until: float | None = None
    iterations: int | None = None
    within: int | None = None
    less: Callable[[int], int] | None = None
    proving: bool = True

    def wanted(self, length: int) -> int:
        """The length wanted most when a lay of some length is at hand; nought if none is."""
        if self.within is not None:
            return self.within
        return self.less(length) if self.less else 0
