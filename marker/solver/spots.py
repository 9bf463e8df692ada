"""Where rectangles lie, in the small whole numbers of a problem: what free searches find."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True)
class Spot:
    """One copy of a kind, `a` along and `b` across, its lower left corner at (x, y)."""

    kind: int
    a: int
    b: int
    x: int
    y: int


def reach(spots: Iterable[Spot]) -> int:
    """The length of a lay: where its furthest piece ends."""
    return max(spot.x + spot.a for spot in spots)
