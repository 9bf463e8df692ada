"""Rectangles with their sides on the thread, in units of 1/160 mm."""

from __future__ import annotations

from dataclasses import dataclass


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
