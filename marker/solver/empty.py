"""Empty rectangles among outlines: what shears leave that is worth naming. Exact integers.

The largest is sought on a grid of lines and then let out, side by side, until an outline stops
it. A cell of the grid counts as empty only where no outline reaches into it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from marker.geometry import Polygon, Rect
from marker.geometry.segments import edges
from marker.units import CM

Cells = NDArray[np.bool_]
Whole = NDArray[np.int64]
Sides = Whole
"""Edges of outlines as rows of x, y, x, y: as they run, or the end with the lesser x first."""
FINE, MOST = 2 * CM, 300
"""How far apart the lines stand, unless there would be too many along the cloth."""


def empty_rectangles(
    zone: Rect, outlines: Sequence[Polygon], least: int, most: int
) -> tuple[Rect, ...]:
    """Rectangles of a zone that no outline reaches into, apart, the largest one first.

    There are `most` at most. No side is under `least`, which is no less than the grid is fine.
    Each is as large as the grid finds it; another lay of lines might find a slightly larger one.
    """
    sides = _sides(outlines)
    grid = _Grid(zone, [outline.box for outline in outlines], sides)
    found: list[Rect] = []
    while ranked := grid.ranked(least):
        if len(found) >= most and max(map(grid.grown, ranked)) < _by_area(found)[most - 1].area:
            break
        for cells in ranked:
            # What is far smaller waits until it is known what the large ones leave of others.
            if 2 * cells.area < ranked[0].area or any(cells.overlaps(rect) for rect in found):
                continue
            rect = _let_out(cells, zone, sides)
            found.append(rect)
            sides = np.concatenate((sides, _sides([Polygon.of_rect(rect)])))
            grid.take(rect)
    return tuple(_by_area(found)[:most])


def _by_area(found: Iterable[Rect]) -> list[Rect]:
    return sorted(found, key=lambda rect: (-rect.area, rect))


def _sides(outlines: Sequence[Polygon]) -> Sides:
    rows = [(*a, *b) for outline in outlines for a, b in edges(outline.points)]
    return np.array(rows, np.int64).reshape(-1, 4)


def _forward(sides: Sides) -> Sides:
    """Sides with the end first that has the lesser x."""
    return np.where(sides[:, :1] > sides[:, 2:3], sides[:, [2, 3, 0, 1]], sides)


def _spans(sides: Sides, x0: Whole | int, x1: Whole | int) -> tuple[Whole, Whole]:
    """Least and greatest y of forward sides from x0 to x1, rounded outwards to whole numbers."""
    ax, ay, bx, by = sides.T
    upright, run = ax == bx, np.maximum(bx - ax, 1)
    rises = [(by - ay) * (x - ax) for x in (np.maximum(x0, ax), np.minimum(x1, bx))]
    least = ay + np.minimum(*(rise // run for rise in rises))
    greatest = ay + np.maximum(*(-(-rise // run) for rise in rises))
    return (
        np.where(upright, np.minimum(ay, by), least),
        np.where(upright, np.maximum(ay, by), greatest),
    )


class _Grid:
    """Cells between lines at the outlines' boxes and evenly between; which ones are empty."""

    def __init__(self, zone: Rect, boxes: Sequence[Rect], sides: Sides) -> None:
        self.step = max(FINE, zone.along // MOST)
        self.xs = _lines(
            zone.x0, zone.x1, self.step, (x for box in boxes for x in (box.x0, box.x1))
        )
        self.ys = _lines(zone.y0, zone.y1, FINE, (y for box in boxes for y in (box.y0, box.y1)))
        self.free: Cells = np.ones((max(0, len(self.xs) - 1), max(0, len(self.ys) - 1)), np.bool_)
        if self.free.size:
            self.free = ~(self._crossed(_forward(sides)) | self._within(sides))

    def _by_column(self, sides: Sides) -> tuple[Whole, Whole]:
        """The number of every forward side and of every column that it meets, as pairs."""
        first = np.maximum(0, np.searchsorted(self.xs, sides[:, 0], side="right") - 1)
        last = np.minimum(len(self.free), np.searchsorted(self.xs, sides[:, 2], side="left"))
        many = np.maximum(0, last - first)
        at = np.repeat(np.arange(len(sides)), many)
        return at, np.arange(len(at)) - np.repeat(np.cumsum(many) - many - first, many)

    def _summed(self, column: Whole, row: Whole, many: Whole | int) -> Whole:
        """For every cell the sum of what is noted in its column up to it."""
        notes = np.zeros((self.free.shape[0], self.free.shape[1] + 1), np.int64)
        np.add.at(notes, (column, row), many)
        sums: Whole = notes.cumsum(axis=1)[:, :-1]
        return sums

    def _crossed(self, sides: Sides) -> Cells:
        """The cells into which a forward side reaches."""
        at, column = self._by_column(sides)
        low, high = _spans(sides[at], self.xs[column], self.xs[column + 1])
        first = np.maximum(0, np.searchsorted(self.ys, low, side="right") - 1)
        last = np.maximum(first, np.searchsorted(self.ys[:-1], high, side="left"))
        reached: Cells = self._summed(column, first, 1) > self._summed(column, last, 1)
        return reached

    def _within(self, sides: Sides) -> Cells:
        """The cells whose middle lies in an outline; that tells of all that no side crosses."""
        forward = _forward(sides)
        at, column = self._by_column(forward)
        middle = (self.xs[column] + self.xs[column + 1]) / 2
        ax, ay, bx, by = forward[at].T
        met = (ax <= middle) & (middle < bx)
        height = ay + (by - ay) * (middle - ax) / np.maximum(bx - ax, 1)
        row = np.searchsorted((self.ys[1:] + self.ys[:-1]) / 2, height, side="right")
        # outlines run counter-clockwise: above a side that runs forward is cloth of theirs
        ways = np.where(sides[at, 0] < sides[at, 2], 1, -1)
        covered: Cells = self._summed(column[met], row[met], ways[met]) != 0
        return covered

    def take(self, rect: Rect) -> None:
        """Take every cell into which a rectangle reaches."""
        first = int(np.searchsorted(self.xs, rect.x0, side="right")) - 1
        last = int(np.searchsorted(self.xs, rect.x1, side="left"))
        for column in range(first, last):
            low = int(np.searchsorted(self.ys, rect.y0, side="right")) - 1
            high = int(np.searchsorted(self.ys, rect.y1, side="left"))
            self.free[column, max(0, low) : max(0, high)] = False

    def ranked(self, least: int) -> list[Rect]:
        """All widest rectangles of empty cells with no side under `least`, the largest first."""
        found = []
        begins = np.zeros(self.free.shape[1], np.int64)
        for column in range(len(self.free)):
            # Where the empty run that reaches this column's far line begins, for each row.
            begins[~self.free[column]] = column + 1
            end = int(self.xs[column + 1])
            along = end - self.xs[begins]
            along[along < least] = 0
            if column + 1 < len(self.free) and self.free[column + 1][along > 0].all():
                continue  # all of it goes on
            found += [
                Rect(end - run, low, end, high)
                for low, high, run in _runs(self.ys, along)
                if high - low >= least
            ]
        return _by_area(found)

    def grown(self, cells: Rect) -> int:
        """More than the area of such a widest rectangle once it is let out.

        The next column, or row, has a cell into which something reaches, so no side passes it.
        """
        return (cells.along + 2 * self.step) * (cells.across + 2 * FINE)


def _lines(low: int, high: int, step: int, marks: Iterable[int]) -> NDArray[np.int64]:
    lines = {low, high, *range(low, high, step), *(mark for mark in marks if low < mark < high)}
    return np.array(sorted(lines) if low < high else [low], np.int64)


def _runs(ys: NDArray[np.int64], along: NDArray[np.int64]) -> Iterator[tuple[int, int, int]]:
    """Every widest stretch of rows whose empty runs all reach so far: low, high, how far."""
    stack: list[tuple[int, int]] = []
    at = np.flatnonzero(np.diff(along, prepend=-1))  # most rows go on like the one before
    lows, runs = ys[at].tolist(), along[at].tolist()
    for low, run in [*zip(lows, runs, strict=True), (int(ys[-1]), 0)]:
        start = low
        while stack and stack[-1][1] >= run:
            start, reached = stack.pop()
            if reached > run:
                yield start, low, reached
        if run:
            stack.append((start, run))


def _let_out(rect: Rect, zone: Rect, sides: Sides) -> Rect:
    """An empty rectangle with each side in turn moved outwards as far as it goes."""
    x0, x1 = _reach(rect, zone, sides)
    swapped = Rect(rect.y0, x0, rect.y1, x1), Rect(zone.y0, zone.x0, zone.y1, zone.x1)
    y0, y1 = _reach(*swapped, sides[:, [1, 0, 3, 2]])
    return Rect(x0, y0, x1, y1)


def _reach(rect: Rect, zone: Rect, sides: Sides) -> tuple[int, int]:
    """How far an empty rectangle goes along before an outline beside it begins."""
    a, b = sides[:, 1], sides[:, 3]
    beside = sides[(np.maximum(a, b) > rect.y0) & (np.minimum(a, b) < rect.y1)]
    # By y, so that a column is a stretch of heights.
    least, greatest = _spans(_forward(beside[:, [1, 0, 3, 2]]), rect.y0, rect.y1)
    after = least >= rect.x1
    return (
        int(greatest[~after].max(initial=zone.x0)),
        int(least[after].min(initial=zone.x1)),
    )
