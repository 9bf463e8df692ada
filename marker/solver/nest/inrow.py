"""Bounds from pieces two by two: those that must come one after another, and those of a few."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from math import prod

from marker.geometry import Polygon
from marker.geometry.segments import edges
from marker.solver.nest.frame import Frame
from marker.solver.nest.kinds import ALONG
from marker.solver.nest.nearest import Band, apart_least, beyond

MANY = 10_000
"""So many choices of copies and outlines are still gone through."""
WORK = 20_000
"""So many pairs of edges are combined, over all pairs of outlines, in a part of a second."""


def _between(frame: Frame, s: int, t: int) -> Band:
    """How far across outline t can lie from outline s."""
    first, second = frame.band(s), frame.band(t)
    return Band(second.low - first.high, second.high - first.low)


def _matched(frame: Frame, s: int, t: int, least: int) -> int:
    """The least move along, no less than this, that a set which both are in allows."""
    places = {k: at for k, axis, at in frame.ground.members[s] if axis == ALONG}
    for k, axis, at in frame.ground.members[t]:
        if axis == ALONG and k in places:
            least += (places[k] - at - least) % frame.ground.repeat[ALONG]
    return least


def side_by_side(frame: Frame) -> int:
    """The greatest length that any two copies need for themselves."""
    count, best = len(frame.kinds), 0
    if not _quick(frame, range(len(frame.outlines))):
        return 0
    for k in range(count):
        for other in range(k, count):
            if k != other or frame.kinds[k].count > 1:
                best = max(best, min(
                    _pair(frame, s, t) for s in frame.ways(k) for t in frame.ways(other)
                ))  # fmt: skip
    return best


def _quick(frame: Frame, ways: Sequence[int]) -> bool:
    return sum(len(frame.outlines[s].points) for s in ways) ** 2 <= WORK


def _is_single(outline: Polygon) -> bool:
    """Whether every line along the cloth meets the outline in one stretch, if at all."""
    rises = [by > ay for (_, ay), (_, by) in edges(outline.points) if ay != by]
    return sum(a != b for a, b in zip(rises, rises[1:] + rises[:1], strict=True)) == 2


def _pair(frame: Frame, s: int, t: int) -> int:
    """The least length of two outlines, either of them the one that begins later."""
    return min(
        max(
            frame.outlines[a].box.along,
            _matched(frame, a, b, apart_least(
                frame.outlines[a], frame.outlines[b], _between(frame, a, b), frame.margin
            )) + frame.outlines[b].box.along,
        )
        for a, b in ((s, t), (t, s))
    )  # fmt: skip


def in_a_row(frame: Frame) -> int:
    """The least length of pieces that all cross one line, in their best order; nought for none.

    On the line each piece comes after another, no nearer than these two can come. Which of two
    comes after the other is plain only where all lines along the cloth meet them in one stretch.
    """
    lines = {Fraction(frame.width, 2)}
    lines |= {Fraction(2 * frame.band(s).low + 1, 2) for s in range(len(frame.outlines))}
    crossing = {tuple(k for k in range(len(frame.kinds)) if _crosses(frame, k, y)) for y in lines}
    return max((_row(frame, kinds) for kinds in crossing if kinds), default=0)


def _crosses(frame: Frame, k: int, line: Fraction) -> bool:
    return all(
        _is_single(frame.outlines[s]) and band.high < line < band.low + frame.outlines[s].box.across
        for s in frame.ways(k)
        for band in (frame.band(s),)
    )


def _row(frame: Frame, kinds: Sequence[int]) -> int:
    ways = [s for k in kinds for s in frame.ways(k)]
    counts = tuple(frame.kinds[k].count for k in kinds)
    if (
        sum(counts) < 2
        or not _quick(frame, ways)
        or len(ways) * prod(count + 1 for count in counts) > MANY
    ):
        return 0
    gaps: dict[tuple[int, int], int] = {}
    for s in ways:
        for t in ways:
            band = _between(frame, s, t)
            gap = beyond(frame.outlines[s], frame.outlines[t], band, frame.margin)
            if gap is None:
                return 0
            gaps[s, t] = _matched(frame, s, t, gap)
    sizes = {s: frame.outlines[s].box.along for s in ways}
    owners = {s: kinds.index(frame.origins[s][0]) for s in ways}
    return _Order(gaps, sizes, owners).length(counts)


@dataclass
class _Order:
    """The best order of copies in a row, by how near each can come after each."""

    gaps: dict[tuple[int, int], int]
    sizes: dict[int, int]
    owners: dict[int, int]
    known: dict[tuple[tuple[int, ...], int], int] = field(default_factory=dict)

    def length(self, counts: tuple[int, ...]) -> int:
        """The least length of all copies."""
        return min(
            self._after(self._less(counts, self.owners[s]), s)
            for s in self.sizes
            if counts[self.owners[s]]
        )

    @staticmethod
    def _less(counts: tuple[int, ...], at: int) -> tuple[int, ...]:
        return (*counts[:at], counts[at] - 1, *counts[at + 1 :])

    def _after(self, left: tuple[int, ...], s: int) -> int:
        """How far from the beginning of s the furthest of it and of those left ends, at least."""
        key = left, s
        if key not in self.known:
            self.known[key] = max(
                self.sizes[s],
                min(
                    (
                        self.gaps[s, t] + self._after(self._less(left, self.owners[t]), t)
                        for t in self.sizes
                        if left[self.owners[t]]
                    ),
                    default=0,
                ),
            )
        return self.known[key]
