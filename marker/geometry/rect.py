"""Rectangles with their sides on the thread, in units of 1/160 mm."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

MOST_HOLES = 50
"""Cloth with more holes than this is worth nothing: nobody would look for what lies between."""


@dataclass(frozen=True, slots=True, order=True)
class Rect:
    """A rectangle of cloth: x0 <= x <= x1 along the bolt, y0 <= y <= y1 across it."""

    x0: int
    y0: int
    x1: int
    y1: int

    @property
    def along(self) -> int:
        """Size along the bolt (warp)."""
        return self.x1 - self.x0

    @property
    def across(self) -> int:
        """Size across the bolt (weft)."""
        return self.y1 - self.y0

    @property
    def area(self) -> int:
        """Area in square units."""
        return self.along * self.across

    def holds(self, other: Rect) -> bool:
        """Tell whether `other` lies wholly inside, edges allowed to touch."""
        return (
            self.x0 <= other.x0
            and self.y0 <= other.y0
            and other.x1 <= self.x1
            and other.y1 <= self.y1
        )

    def overlaps(self, other: Rect) -> bool:
        """Tell whether the two share any cloth; touching edges do not count."""
        return (
            self.x0 < other.x1 and other.x0 < self.x1 and self.y0 < other.y1 and other.y0 < self.y1
        )

    def clear_of(self, holes: Iterable[Rect], least: int) -> Rect | None:
        """The largest rectangle inside that no hole reaches into, no side of it under `least`.

        None where there is none, or there are over `MOST_HOLES` to look for one between. A
        largest one can be let out until each side lies at a side of this one or of a hole, so
        every pair of such places along is tried, and between them every gap left across.
        """
        met = [hole for hole in holes if hole.overlaps(self)]
        if len(met) > MOST_HOLES:
            return None
        ends = {self.x0, self.x1, *(x for hole in met for x in (hole.x0, hole.x1))}
        places = sorted(x for x in ends if self.x0 <= x <= self.x1)
        found: list[Rect] = []
        for at, low in enumerate(places):
            for high in places[at + 1 :]:
                if high - low < least:
                    continue
                start = self.y0
                between = sorted((h.y0, h.y1) for h in met if h.x0 < high and low < h.x1)
                for begins, ends_at in [*between, (self.y1, self.y1)]:
                    if min(begins, self.y1) - start >= least:
                        found.append(Rect(low, start, high, min(begins, self.y1)))
                    start = max(start, ends_at)
        return max(found, key=lambda rect: (rect.area, -rect.x0, -rect.y0), default=None)
