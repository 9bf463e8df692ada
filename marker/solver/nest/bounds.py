"""Lengths that no nest undercuts, all exact."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import pairwise

from marker.geometry import Polygon, Rect
from marker.geometry.segments import Point, edges
from marker.solver.nest.frame import Frame
from marker.solver.nest.inrow import in_a_row, side_by_side
from marker.solver.nest.kinds import ALONG, NestKind
from marker.solver.nest.nearest import Band, past_flaws

AREA = "the area of the pieces"
LONGEST = "the longest piece"
PLACED = "the piece that ends last even where it ends soonest"
WIDEST = "the widest pieces, which all cross the middle of the cloth"
LINED = "the pieces that all cross one line along the cloth"
ROW = "the pieces that all cross one line along the cloth, in their best order"
PAIR = "the two pieces that can least lie beside each other"
REPEAT = "the repeat, in which matched points must fall alike"
FEW = 4
"""So many pieces are looked at two by two."""
PARTS = 6
"""Lines through a pinned piece at which it is measured."""

Bound = tuple[int, str]
Side = tuple[Point, Point]


def least_length(
    kinds: Sequence[NestKind],
    width: int,
    *,
    margin: int = 0,
    flaws: Sequence[Rect] = (),
    repeat: tuple[int, int] = (0, 0),
) -> Bound:
    """The best of the bounds, and in words where it comes from; `CannotLay` as in `nest`."""
    return least_of(Frame.framed(kinds, width, margin, flaws, repeat))


def least_of(frame: Frame) -> Bound:
    """The same for a frame."""
    kinds, width = frame.kinds, frame.width
    area = -(-sum(kind.area2 for kind in kinds) // (2 * width))
    found = [_soonest(frame), (area, AREA), *_by_lines(frame)]
    if frame.copies <= FEW:
        found.append((side_by_side(frame), PAIR))
    found.append((in_a_row(frame), ROW))
    best = max(found, key=lambda bound: bound[0])
    return _by_repeat(frame, best)


def _soonest(frame: Frame) -> Bound:
    """Where the piece ends that can only end last, flaws in mind."""
    kinds = [frame.ways(k) for k in range(len(frame.kinds))]
    best = max(min(_end(frame, s) for s in ways) for ways in kinds)
    longest = max(min(frame.outlines[s].box.along for s in ways) for ways in kinds)
    return best, LONGEST if best == longest else PLACED


def _end(frame: Frame, s: int) -> int:
    """Where an outline ends at the soonest."""
    low = int(frame.ground.low[ALONG, s])
    if frame.flaws:
        low = past_flaws(frame.outlines[s], frame.band(s), frame.flaws, low)
    return low + frame.outlines[s].box.along


def _by_repeat(frame: Frame, best: Bound) -> Bound:
    """The best bound raised to the least length at which phases leave each kind a place."""
    low = best[0]
    if not frame.ground.sets or frame.ground.phases(low) is not None:
        return best
    high = 2 * low
    while frame.ground.phases(high) is None:
        low, high = high, 2 * high
    while high - low > 1:
        middle = (low + high) // 2
        if frame.ground.phases(middle) is None:
            low = middle
        else:
            high = middle
    return high, REPEAT


def _by_lines(frame: Frame) -> Iterator[Bound]:
    """What pieces take of lines along the cloth: pieces lie apart, so on a line end to end."""
    middle = Fraction(frame.width, 2)
    yield _taken(frame, middle), WIDEST
    for line in sorted(_lines(frame)):
        yield _taken(frame, line), LINED


def _lines(frame: Frame) -> set[Fraction]:
    """Lines that pinned pieces cross; between whole units, so that no edge lies on one."""
    return {
        Fraction(2 * rule.across[0] + 1, 2) + (kind.shapes[s].box.across - 1) * at // PARTS
        for kind in frame.kinds
        for s, rule in enumerate(kind.rules)
        if rule.across is not None and rule.across[0] == rule.across[1]
        for at in range(PARTS + 1)
    }


def _taken(frame: Frame, line: Fraction) -> int:
    """The least that all copies together take of a line, wherever they lie."""
    total = Fraction(0)
    for k, kind in enumerate(frame.kinds):
        total += kind.count * min(
            _chord(frame.outlines[s], line, frame.band(s)) for s in frame.ways(k)
        )
    return -(-total.numerator // total.denominator)


def _chord(shape: Polygon, line: Fraction, band: Band) -> Fraction:
    """The least chord of the heights that can come to lie on a line.

    Between two corners' heights the chord's length runs straight, so its least value lies at
    a corner's height, from above or below, or at an end of the range.
    """
    low, high = line - band.high, line - band.low
    if low <= 0 or high >= shape.box.across:
        return Fraction(0)
    return min(
        _length(sides, y)
        for y0, y1, sides in _slices(shape)
        if y0 <= high and y1 >= low
        for y in (max(low, Fraction(y0)), min(high, Fraction(y1)))
    )


def _slices(shape: Polygon) -> Iterator[tuple[int, int, list[Side]]]:
    """The outline between the heights of one corner and the next: the edges that cross there."""
    sides = sorted(
        (side for side in edges(shape.points) if side[0][1] != side[1][1]),
        key=lambda side: min(side[0][1], side[1][1]),
        reverse=True,
    )
    crossing: list[Side] = []
    for y0, y1 in pairwise(sorted({y for _, y in shape.points})):
        crossing = [side for side in crossing if max(side[0][1], side[1][1]) > y0]
        while sides and min(sides[-1][0][1], sides[-1][1][1]) == y0:
            crossing.append(sides.pop())
        yield y0, y1, crossing


def _length(sides: Sequence[Side], y: Fraction) -> Fraction:
    """Length of the cross-section at a height, of the edges that cross it."""
    total = Fraction(0)
    for (ax, ay), (bx, by) in sides:
        x = ax + Fraction(bx - ax) * (y - ay) / (by - ay)
        total += x if by > ay else -x
    return total
