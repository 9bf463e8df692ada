"""How near outlines can come, never overstated: what bounds rest on.

No-fit polygons are made a little too small, by more than rounding can have made them too
large. Whatever moves they leave open, all the true ones are among these; the least of them,
rounded up to a whole unit, is then no further than pieces at whole places come.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import ceil

import pyclipper

from marker.geometry import Polygon, Rect
from marker.geometry.segments import Point
from marker.solver.nest.nofit import FINE, sums

LEAVE = FINE // 32
"""What no-fit polygons lose at their edge, in the sums' own fineness."""
ARC = FINE / 64
"""How far chords may cut into arcs around corners where a margin is kept."""
KNOWN = 4000
"""Answers on two outlines that are kept: a plan asks for the same bound again and again."""
Path = Sequence[Point]


@dataclass(frozen=True)
class Band:
    """The heights, least and greatest, that an outline or a move across the cloth can have."""

    low: int
    high: int


def _barred(standing: Polygon, moving: Polygon, margin: int) -> list[Path]:
    """Less than the moves that are barred to `moving`, in the sums' own fineness."""
    offset = pyclipper.PyclipperOffset(2.0, ARC)
    join = pyclipper.JT_ROUND if margin else pyclipper.JT_MITER
    offset.AddPaths(sums(standing, moving), join, pyclipper.ET_CLOSEDPOLYGON)
    return list(offset.Execute(margin * FINE - LEAVE))


def _open(barred: Iterable[Path], x0: int, x1: int, band: Band) -> list[Path]:
    """The stretches of moves from x0 to x1 that nothing bars, as rings around them."""
    low, high = band.low * FINE - LEAVE, band.high * FINE + LEAVE
    left, right = x0 * FINE, x1 * FINE
    cut = pyclipper.Pyclipper()
    cut.AddPath(
        [(left, low), (right, low), (right, high), (left, high)], pyclipper.PT_SUBJECT, True
    )
    paths = list(barred)
    if paths:
        cut.AddPaths(paths, pyclipper.PT_CLIP, True)
    return list(cut.Execute(pyclipper.CT_DIFFERENCE, pyclipper.PFT_NONZERO, pyclipper.PFT_NONZERO))


def _least(ring: Path) -> int:
    return ceil(min(x for x, _ in ring) / FINE)


@lru_cache(maxsize=KNOWN)
def beyond(standing: Polygon, moving: Polygon, band: Band, margin: int) -> int | None:
    """The least move along at which `moving` comes after `standing`, on a line that both cross.

    None where the two can pass one another, so that neither has to come after the other.
    """
    far = standing.box.along + moving.box.along + margin + 2
    found: list[int] = []
    for ring in _open(_barred(standing, moving, margin), -far, far, band):
        xs = [x for x, _ in ring]
        before = min(xs) <= -far * FINE
        if before and max(xs) >= far * FINE:
            return None
        if not before:
            found.append(_least(ring))
    return min(found)


@lru_cache(maxsize=KNOWN)
def apart_least(standing: Polygon, moving: Polygon, band: Band, margin: int) -> int:
    """The least move along, nought or more, at which the two can lie."""
    far = standing.box.along + margin + 2
    return min(map(_least, _open(_barred(standing, moving, margin), 0, far, band)))


def past_flaws(outline: Polygon, band: Band, flaws: Sequence[Rect], low: int) -> int:
    """The least x, from `low` on, at which an outline can lie clear of all flaws."""
    barred = [
        [(x + flaw.x0 * FINE, y + flaw.y0 * FINE) for x, y in ring]
        for flaw in flaws
        for ring in _barred(Polygon.of_rect(Rect(0, 0, flaw.along, flaw.across)), outline, 0)
    ]
    far = max(low, *(flaw.x1 for flaw in flaws)) + 2
    return min(map(_least, _open(barred, low, far, band)))
