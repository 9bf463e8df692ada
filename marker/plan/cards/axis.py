"""Carrying sizes to paper where a drawing is not to scale: what stands close is drawn apart."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

HALVINGS = 50


@dataclass(frozen=True)
class Axis:
    """One way of a drawing: places on cloth, rising, and where each stands on paper."""

    stops: tuple[int, ...]
    places: tuple[int, ...]

    def at(self, value: int) -> int:
        """Where a place on cloth stands on paper, in even parts between two stops."""
        last = len(self.stops) - 2
        low = min(max(bisect_right(self.stops, value) - 1, 0), last)
        (a, b), (p, q) = self.stops[low : low + 2], self.places[low : low + 2]
        return p + (value - a) * (q - p) // (b - a)

    @property
    def long(self) -> int:
        """What all of it takes of the paper."""
        return self.places[-1]

    @property
    def widest(self) -> tuple[int, int]:
        """The widest gap between two stops, on paper."""
        return max(pairwise(self.places), key=lambda gap: gap[1] - gap[0])


def axis(values: Iterable[int], most: int, least: int, scale: float = 1.0) -> Axis:
    """An axis through these places, no longer than `most` on paper if that can be.

    Neighbours stand at least `least` apart; the rest is shared out by size, at no larger a
    scale than `scale` (paper to cloth).
    """
    stops = tuple(sorted(set(values)))
    gaps = [b - a for a, b in pairwise(stops)]
    low, high = 0.0, scale
    if sum(_drawn(gaps, scale, least)) > most:
        for _ in range(HALVINGS):
            middle = (low + high) / 2
            low, high = (
                (middle, high) if sum(_drawn(gaps, middle, least)) <= most else (low, middle)
            )
        scale = low
    places = [0]
    for size in _drawn(gaps, scale, least):
        places.append(places[-1] + size)
    return Axis(stops, tuple(places))


def _drawn(gaps: Sequence[int], scale: float, least: int) -> list[int]:
    return [max(least, round(gap * scale)) for gap in gaps]
