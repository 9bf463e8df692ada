"""Empty rectangles among outlines: what shears leave that is worth naming. Exact integers.

The largest is sought on a grid of lines and then let out, side by side, until an outline stops
it. A cell of the grid counts as empty only where no outline reaches into it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from marker.geometry import Polygon, Rect
from marker.geometry.segments import Point, edges
from marker.units import CM

Cells = NDArray[np.bool_]
FINE, MOST = 2 * CM, 300
"""How far apart the lines stand, unless there would be too many along the cloth."""


def empty_rectangles(zone: Rect, outlines: Sequence[Polygon], least: int) -> tuple[Rect, ...]:
    """Rectangles of a zone that no outline reaches into, apart, the largest one first.

    No side is under `least`, which is no less than the grid is fine. Each is as large as the
    grid finds it; another lay of lines might find a slightly larger one.
    """
    grid = _Grid(zone, outlines)
    blocks = list(outlines)
    found: list[Rect] = []
    while ranked := grid.ranked(least):
        for cells in ranked:
            # What is far smaller waits until it is known what the large ones leave of others.
            if 2 * cells.area < ranked[0].area or any(cells.overlaps(rect) for rect in found):
                continue
            rect = _let_out(cells, zone, blocks)
            found.append(rect)
            blocks.append(Polygon.of_rect(rect))
            grid.take(rect)
    return tuple(sorted(found, key=lambda rect: (-rect.area, rect)))


class _Grid:
    """Cells between lines at the outlines' boxes and evenly between; which ones are empty."""

    def __init__(self, zone: Rect, outlines: Sequence[Polygon]) -> None:
        step = max(FINE, zone.along // MOST)
        boxes = [outline.box for outline in outlines]
        self.xs = _lines(zone.x0, zone.x1, step, (x for box in boxes for x in (box.x0, box.x1)))
        self.ys = _lines(zone.y0, zone.y1, FINE, (y for box in boxes for y in (box.y0, box.y1)))
        self.free: Cells = np.ones((max(0, len(self.xs) - 1), max(0, len(self.ys) - 1)), np.bool_)
        for outline in outlines:
            self._mark(outline)

    def _mark(self, outline: Polygon) -> None:
        """Take the cells into which an outline reaches.

        A cell that none of its edges crosses lies wholly within or without, as its middle does.
        """
        crossed: list[list[float]] = [[] for _ in range(len(self.free))]
        ring = outline.points
        for one, two in edges(ring):
            a, b = min(one, two), max(one, two)
            first = max(0, int(np.searchsorted(self.xs, a[0], side="right")) - 1)
            last = min(len(self.free), int(np.searchsorted(self.xs, b[0], side="left")))
            for column in range(first, last):
                x0, x1 = int(self.xs[column]), int(self.xs[column + 1])
                self._block(column, *_span(a, b, x0, x1))
                middle = (x0 + x1) / 2
                if a[0] <= middle < b[0]:
                    crossed[column].append(a[1] + (b[1] - a[1]) * (middle - a[0]) / (b[0] - a[0]))
        centres = (self.ys[1:] + self.ys[:-1]) / 2
        for column, heights in enumerate(crossed):
            inside = np.searchsorted(np.sort(np.array(heights)), centres) % 2 == 1
            self.free[column, inside] = False

    def _block(self, column: int, low: int, high: int) -> None:
        first = int(np.searchsorted(self.ys, low, side="right")) - 1
        last = int(np.searchsorted(self.ys, high, side="left"))
        self.free[column, max(0, first) : max(0, last)] = False

    def take(self, rect: Rect) -> None:
        """Take every cell into which a rectangle reaches."""
        first = int(np.searchsorted(self.xs, rect.x0, side="right")) - 1
        last = int(np.searchsorted(self.xs, rect.x1, side="left"))
        for column in range(first, last):
            self._block(column, rect.y0, rect.y1)

    def ranked(self, least: int) -> list[Rect]:
        """All widest rectangles of empty cells with no side under `least`, the largest first."""
        found = []
        begins = np.zeros(self.free.shape[1], np.int64)
        for column in range(len(self.free)):
            # Where the empty run that reaches this column's far line begins, for each row.
            begins[~self.free[column]] = column + 1
            end = int(self.xs[column + 1])
            along = end - self.xs[begins]
            if column + 1 < len(self.free) and self.free[column + 1][along > 0].all():
                continue  # all of it goes on
            found += [
                Rect(end - run, low, end, high)
                for low, high, run in _runs(self.ys, along)
                if min(run, high - low) >= least
            ]
        return sorted(found, key=lambda rect: (-rect.area, rect))


def _lines(low: int, high: int, step: int, marks: Iterable[int]) -> NDArray[np.int64]:
    lines = {low, high, *range(low, high, step), *(mark for mark in marks if low < mark < high)}
    return np.array(sorted(lines) if low < high else [low], np.int64)


def _span(a: Point, b: Point, x0: int, x1: int) -> tuple[int, int]:
    """Least and greatest y of an edge, a before b in x, within a column; rounded outwards."""
    if a[0] == b[0]:
        return min(a[1], b[1]), max(a[1], b[1])
    ends = [_at(a, b, max(x0, a[0])), _at(a, b, min(x1, b[0]))]
    return min(low for low, _ in ends), max(high for _, high in ends)


def _at(a: Point, b: Point, x: int) -> tuple[int, int]:
    """Whole numbers just below and above the y at which a line passes x."""
    rise, run = (b[1] - a[1]) * (x - a[0]), b[0] - a[0]
    return a[1] + rise // run, a[1] - (-rise // run)


def _runs(ys: NDArray[np.int64], along: NDArray[np.int64]) -> Iterator[tuple[int, int, int]]:
    """Every widest stretch of rows whose empty runs all reach so far: low, high, how far."""
    stack: list[tuple[int, int]] = []
    for low, run in [*zip(ys[:-1].tolist(), along.tolist(), strict=True), (int(ys[-1]), 0)]:
        start = low
        while stack and stack[-1][1] >= run:
            start, reached = stack.pop()
            if reached > run:
                yield start, low, reached
        if run:
            stack.append((start, run))


def _let_out(rect: Rect, zone: Rect, outlines: Sequence[Polygon]) -> Rect:
    """An empty rectangle with each side in turn moved outwards as far as it goes."""
    x0, x1 = _reach(rect, zone, ((outline.box, outline.points) for outline in outlines))
    swapped = ((_swapped(outline.box), [(y, x) for x, y in outline.points]) for outline in outlines
               if outline.box.x0 < x1 and x0 < outline.box.x1)  # fmt: skip
    y0, y1 = _reach(_swapped(Rect(x0, rect.y0, x1, rect.y1)), _swapped(zone), swapped)
    return Rect(x0, y0, x1, y1)


def _swapped(rect: Rect) -> Rect:
    return Rect(rect.y0, rect.x0, rect.y1, rect.x1)


def _reach(
    rect: Rect, zone: Rect, rings: Iterable[tuple[Rect, Sequence[Point]]]
) -> tuple[int, int]:
    """How far an empty rectangle goes along before an outline beside it begins.

    Only rings whose box lies beside it, nearer than what stops it already, are walked.
    """
    low, high = zone.x0, zone.x1
    for box, ring in rings:
        if box.y1 <= rect.y0 or box.y0 >= rect.y1 or box.x1 <= low or box.x0 >= high:
            continue
        for one, two in edges(ring):
            if max(one[1], two[1]) <= rect.y0 or min(one[1], two[1]) >= rect.y1:
                continue
            # By y, so that a column is a stretch of heights.
            a, b = sorted(((one[1], one[0]), (two[1], two[0])))
            least, greatest = _span(a, b, rect.y0, rect.y1)
            if least >= rect.x1:
                high = min(high, least)
            else:
                low = max(low, greatest)
    return low, high
