"""Blocks that are alike put into groups, compiled: what rules out a group is asked but once."""

from __future__ import annotations

import numpy as np

from marker.solver.compiled import compiled
from marker.solver.problem import Ints
from marker.solver.program import Floats


@compiled()
def _widest(figures: Floats, rows: Ints) -> tuple[int, float]:
    """The figure that differs most among some rows, and its mean; -1 where none differs."""
    number, columns = len(rows), figures.shape[1]
    sums, squares = np.zeros(columns), np.zeros(columns)
    for row in rows:
        for column in range(columns):
            figure = figures[row, column]
            sums[column] += figure
            squares[column] += figure * figure
    most, widest = 0.0, -1
    for column in range(columns):
        spread = squares[column] * number - sums[column] * sums[column]
        if spread > most:
            most, widest = spread, column
    return widest, sums[widest] / number


@compiled()
def _split(figures: Floats, rows: Ints, column: int, mean: float, above: Ints) -> int:
    """Put the rows that are no greater than the mean first, all in their order; gives how many."""
    first, last = 0, 0
    for row in rows:
        if figures[row, column] <= mean:
            rows[first] = row
            first += 1
        else:
            above[last] = row
            last += 1
    rows[first:] = above[:last]
    return first


@compiled()
def parted(figures: Floats, most: int) -> tuple[Ints, Ints]:
    """Part rows into groups of at most so many that are alike: their order, and where each begins.

    A group that is too large is parted at the mean of the figure that differs most in it, so all
    should be of one scale; one in which nothing differs is left as large as it is. Rows keep
    their order within a group.
    """
    number = len(figures)
    order, above = np.arange(number), np.empty(number, np.int64)
    start, groups = np.zeros(number + 1, np.int64), 0
    ends, depth = np.empty(number + 1, np.int64), 1
    low, ends[0] = 0, number
    while depth:
        high = ends[depth - 1]
        column = -1
        if high - low > most:
            column, mean = _widest(figures, order[low:high])
        first = 0
        if column >= 0:
            first = _split(figures, order[low:high], column, mean, above)
        if 0 < first < high - low:
            ends[depth] = low + first
            depth += 1
            continue
        groups += 1
        start[groups] = low = high
        depth -= 1
    return order, start[: groups + 1]


@compiled()
def least(figures: Ints, start: Ints) -> Ints:
    """The least of each column in each group."""
    found = figures[start[:-1]]
    for group in range(len(start) - 1):
        for row in range(start[group], start[group + 1]):
            found[group] = np.minimum(found[group], figures[row])
    return found


@compiled()
def most(figures: Ints, start: Ints) -> Ints:
    """The most of each column in each group."""
    return -least(-figures, start)
