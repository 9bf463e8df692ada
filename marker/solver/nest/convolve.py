"""The convolution of two rings, compiled: closed walks that wind around their Minkowski sum.

While the first ring turns at a corner, the edges of the second that have one of the directions
it turns through are walked from there, backwards where it turns to the right; and the other
way round. Around every place the walks wind just as often as the first ring's cloth and the
second's, turned half round and moved there, share separate parts: never less than nought, and
nought only outside the sum (Guibas, Ramshaw and Stolfi, FOCS 1983; from memory). That takes
little more than as many edges as both rings have, where sweeping one along the other takes
the product. All in whole numbers.
"""

from __future__ import annotations

import numpy as np

from marker.solver.nest.kernel import Ints, compiled


@compiled()
def _cross(ax: int, ay: int, bx: int, by: int) -> int:
    return ax * by - ay * bx


@compiled()
def _turning(ring: Ints, other: Ints, late: bool) -> Ints:
    """Rows of corner of a ring, edge of the other that it turns past, and 1 to the left, else -1.

    Where directions are alike, the edges that come `late` are passed after those of the ring.
    """
    n, m = len(ring), len(other)
    found = np.empty((n * m, 3), np.int64)
    many = 0
    for i in range(n):
        a, b, c = ring[i - 1], ring[i], ring[(i + 1) % n]
        low = b[0] - a[0], b[1] - a[1]
        high = c[0] - b[0], c[1] - b[1]
        way = 1
        if _cross(low[0], low[1], high[0], high[1]) < 0:
            low, high, way = high, low, -1
        for j in range(m):
            x, y = other[(j + 1) % m, 0] - other[j, 0], other[(j + 1) % m, 1] - other[j, 1]
            since, until = _cross(low[0], low[1], x, y), _cross(x, y, high[0], high[1])
            if (since >= 0 and until > 0) if late else (since > 0 and until >= 0):
                found[many] = i, j, way
                many += 1
    return found[:many]


@compiled()
def _bulges(ring: Ints) -> bool:
    """Whether a ring turns to the left at every corner."""
    for i in range(len(ring)):
        before, after = ring[i - 1] - ring[i - 2], ring[i] - ring[i - 1]
        if before[0] * after[1] < before[1] * after[0]:
            return False
    return True


@compiled()
def convolution(first: Ints, second: Ints) -> tuple[Ints, Ints, bool]:
    """The walks' corners, rows of x and y, where each walk ends among them, and if it is convex.

    Rings are rows of corners, counter-clockwise, with no corner in line with its neighbours.
    Of convex ones there is a single walk, which is the sum.
    """
    n, m = len(first), len(second)
    ours, theirs = _turning(first, second, True), _turning(second, first, False)
    steps = _steps(ours, theirs, n, m)
    count = len(steps)
    leaving, after = np.full((n, m), -1), np.empty(count, np.int64)
    for k in range(count):
        after[k] = leaving[steps[k, 0], steps[k, 1]]
        leaving[steps[k, 0], steps[k, 1]] = k
    corners, ends = np.empty((count, 2), np.int64), np.empty(count, np.int64)
    done = walks = 0
    for k in range(count):
        began = done
        i, j = steps[k, 0], steps[k, 1]
        # As many steps come to a pair of corners as leave it, so a walk ends where it began.
        while leaving[i, j] >= 0:
            step = leaving[i, j]
            leaving[i, j] = after[step]
            i, j = steps[step, 2], steps[step, 3]
            corners[done] = first[i] + second[j]
            done += 1
        if done > began:
            ends[walks] = done
            walks += 1
    return corners, ends[:walks], _bulges(first) and _bulges(second)


@compiled()
def _steps(ours: Ints, theirs: Ints, n: int, m: int) -> Ints:
    """From which corner of the first ring and of the second each step leads to which."""
    steps = np.empty((len(ours) + len(theirs), 4), np.int64)
    for k in range(len(steps)):
        if k < len(ours):
            i, j, way = ours[k]
            steps[k] = i, j, i, (j + 1) % m
        else:
            j, i, way = theirs[k - len(ours)]
            steps[k] = i, j, (i + 1) % n, j
        if way < 0:
            steps[k] = steps[k, 2], steps[k, 3], steps[k, 0], steps[k, 1]
    return steps
