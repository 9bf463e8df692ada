"""Two changes at once, where no single one makes it fit."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations

from marker.casefile.changes import Changes, Key
from marker.decide.reach.dial import SMALLER, Dial
from marker.decide.reach.losses import Losses

MOST = 150
"""So many pairs are tried."""


def pairs(dials: Sequence[Dial]) -> Iterator[Dial]:
    """Two dials that turn different keys, turned in step; first those that save cloth for sure."""
    able = (both for both in combinations(dials, 2) if not _clash(*both))
    for one, other in sorted(able, key=_hope)[:MOST]:
        yield _both(one, other)


def _hope(both: tuple[Dial, Dial]) -> tuple[int, int]:
    """How many of the two only lay pieces otherwise; what changes little comes first."""
    return sum(dial.rank < SMALLER for dial in both), sum(dial.rank for dial in both)


def _clash(one: Dial, other: Dial) -> bool:
    """Whether two dials write to one place of the file, or one within the other's."""
    return any(_within(a, b) or _within(b, a) for a in one.changes(0) for b in other.changes(0))


def _within(inner: Key, outer: Key) -> bool:
    return inner[: len(outer)] == outer


def _both(one: Dial, other: Dial) -> Dial:
    """Both turned alike, each by the same part of its way; of a row the first step is taken."""
    size = max(dial.size if dial.falls else 1 for dial in (one, other))

    def own(dial: Dial, at: int) -> int:
        return at * (dial.size - 1) // (size - 1) if dial.falls and size > 1 else 0

    def changes(at: int) -> Changes:
        return {**one.changes(own(one, at)), **other.changes(own(other, at))}

    def words(at: int) -> str:
        return f"{one.words(own(one, at))}, and {other.words(own(other, at))}"

    def lost(at: int) -> Losses:
        return *one.lost(own(one, at)), *other.lost(own(other, at))

    return Dial(f"{one.name} and {other.name}", size, changes, words, lost, one.rank + other.rank)
