"""Laying pieces on a skyline in a given order, and annealing that order: the compiled part.

The skyline is the front of a lay that grows from the squared end: `front[0]` holds where each
step begins across the cloth, `front[1]` how far along it stands. Two rules lay an order.
`LOWEST` takes the pieces one by one, each to where it lies nearest the squared end. A window
of 1 or more fills the hindmost step with the best fitting of the next so many pieces that
fit (after the best fit of Burke, Kendall and Whitwell, Oper. Res. 52, 2004, and the scores
of Leung, Zhang and Sim, EJOR 215, 2011; from memory). Both were needed: the first finds the
best lays of few pieces, the second those of many.

Compiled by numba, which takes seconds the first time and is kept on disk; only searches
that are under way load this module.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from marker.solver.compiled import compiled
from marker.solver.problem import Ints

Floats = NDArray[np.float64]
LOWEST = 0
"""The rule that lays pieces in strict order, each as near the squared end as it can be."""
FAR = 1 << 60
TURN, SWAP = 0.2, 0.6
"""Of all changes to the order, the part that turns a piece, and those that turn or swap."""


@compiled(nogil=True)
def cover(front: Ints, steps: int, y: int, b: int, top: int) -> int:
    """Raise the skyline to `top` from y to y + b; gives the new number of steps."""
    end = y + b
    i = 0
    while front[0, i + 1] <= y:
        i += 1
    j = i
    while front[0, j + 1] < end:
        j += 1
    low, high = front[0, i] < y, front[0, j + 1] > end
    behind = front[1, j]
    shift = low + high - (j - i)
    if shift > 0:
        for q in range(steps, j, -1):
            _copy(front, q, q + shift)
    elif shift < 0:
        for q in range(j + 1, steps + 1):
            _copy(front, q, q + shift)
    at = i + low
    front[0, at] = y
    front[1, at] = top
    if high:
        front[0, at + 1] = end
        front[1, at + 1] = behind
    return level(front, max(0, i - 1), steps + shift)


@compiled(nogil=True)
def _copy(front: Ints, step: int, at: int) -> None:
    front[0, at] = front[0, step]
    front[1, at] = front[1, step]


@compiled(nogil=True)
def level(front: Ints, first: int, steps: int) -> int:
    """Join neighbouring steps of one height, from the step `first` on."""
    at = first
    for q in range(first + 1, steps):
        if front[1, q] != front[1, at]:
            at += 1
            _copy(front, q, at)
    front[0, at + 1] = front[0, steps]
    return at + 1


@compiled(nogil=True)
def _lowest_place(front: Ints, steps: int, width: int, b: int) -> tuple[int, int]:
    """The (x, y) nearest the squared end at which a piece `b` across can lie."""
    best_x, best_y = FAR, 0
    for i in range(steps):
        y = front[0, i]
        if y + b <= width:
            x, j = front[1, i], i
            while front[0, j + 1] < y + b:
                j += 1
                x = max(x, front[1, j])
            if x < best_x:
                best_x, best_y = x, y
        y = front[0, i + 1] - b
        if y >= 0:
            x, j = front[1, i], i
            while front[0, j] > y:
                j -= 1
                x = max(x, front[1, j])
            if x < best_x:
                best_x, best_y = x, y
    return best_x, best_y


@compiled(nogil=True)
def _lay_lowest(order: Ints, width: int, shapes: Ints, cap: int, front: Ints, out: Ints) -> int:
    length, steps = 0, 1
    for t in range(len(order)):
        a, b = shapes[order[t], 0], shapes[order[t], 1]
        x, y = _lowest_place(front, steps, width, b)
        length = max(length, x + a)
        if length > cap:
            return int(length)
        out[0, t], out[1, t], out[2, t] = order[t], x, y
        steps = cover(front, steps, y, b, x + a)
    return int(length)


@compiled(nogil=True)
def _score(a: int, b: int, gap: int, x: int, low: int, high: int) -> int:
    """How well a piece fits a gap between walls that end at `low` and `high`."""
    top = x + a
    if b == gap:
        if top in (low, high):
            return 6
        return 5 if top < low else 4
    if top == high:
        return 3
    return 2 if top == low else 0


@compiled(nogil=True)
def _choose(
    order: Ints, follows: Ints, seen: Ints, shapes: Ints, stamp: int, window: int, gap: Ints
) -> tuple[int, int, int]:
    """The best fitting of the next pieces: its place in the order, the one before, its score.

    `gap` is (breadth, x, nearer wall, further wall). `follows` leads through the pieces not
    laid yet; its last entry leads to the first.
    """
    n = len(order)
    best, found, before = -1, -1, n
    last, at, looked = n, follows[n], 0
    while at < n and looked < window and best < 6:
        shape = order[at]
        if seen[shape] != stamp:
            seen[shape] = stamp
            if shapes[shape, 1] <= gap[0]:
                looked += 1
                score = _score(shapes[shape, 0], shapes[shape, 1], gap[0], gap[1], gap[2], gap[3])
                if score > best:
                    best, found, before = score, at, last
        last = at
        at = follows[at]
    return found, before, best


@compiled(nogil=True)
def _lay_fitting(
    order: Ints,
    shapes: Ints,
    cap: int,
    front: Ints,
    out: Ints,
    follows: Ints,
    seen: Ints,
    window: int,
) -> int:
    n = len(order)
    length, steps, laid, stamp = 0, 1, 0, 0
    for t in range(n):
        follows[t] = t + 1
    follows[n] = 0
    for shape in range(len(seen)):
        seen[shape] = -1
    gap = np.empty(4, np.int64)
    while laid < n:
        lo = 0
        for q in range(1, steps):
            if front[1, q] < front[1, lo]:
                lo = q
        y, x = front[0, lo], front[1, lo]
        before = front[1, lo - 1] if lo > 0 else FAR
        after = front[1, lo + 1] if lo + 1 < steps else FAR
        gap[0], gap[1] = front[0, lo + 1] - y, x
        gap[2], gap[3] = min(before, after), max(before, after)
        stamp += 1
        at, last, score = _choose(order, follows, seen, shapes, stamp, window, gap)
        if at < 0:
            steps = cover(front, steps, y, gap[0], gap[2])
            continue
        follows[last] = follows[at]
        a, b = shapes[order[at], 0], shapes[order[at], 1]
        length = max(length, x + a)
        if length > cap:
            return int(length)
        # Beside the further wall, or the nearer one where the piece ends level with it.
        if (before >= after) == (score == 2):
            y += gap[0] - b
        out[0, laid], out[1, laid], out[2, laid] = order[at], x, y
        laid += 1
        steps = cover(front, steps, y, b, x + a)
    return int(length)


@compiled(nogil=True)
def lay(
    order: Ints,
    width: int,
    shapes: Ints,
    cap: int,
    front: Ints,
    out: Ints,
    follows: Ints,
    seen: Ints,
    window: int,
) -> int:
    """Lay an order of shapes; gives the length, or one above `cap` as soon as that is passed.

    `out` takes rows of shape, x and y; `front` (2 by 2n + 5), `follows` (n + 1) and `seen`
    (a place a shape) are room to work in.
    """
    front[0, 0], front[0, 1], front[1, 0] = 0, width, 0
    if window == LOWEST:
        return _lay_lowest(order, width, shapes, cap, front, out)
    return _lay_fitting(order, shapes, cap, front, out, follows, seen, window)


@compiled(nogil=True)
def _change(order: Ints, other: Ints) -> bool:
    """Turn one piece, swap two, or move one elsewhere; False where nothing was changed."""
    i, j = np.random.randint(len(order)), np.random.randint(len(order))
    way = np.random.random()
    if way < TURN and other[order[i]] != order[i]:
        order[i] = other[order[i]]
        return True
    if order[i] == order[j]:
        return False
    moved = order[i]
    if way < SWAP:
        order[i] = order[j]
    elif i < j:
        for q in range(i, j):
            order[q] = order[q + 1]
    else:
        for q in range(i, j, -1):
            order[q] = order[q - 1]
    order[j] = moved
    return True


@compiled(nogil=True)
def _take(order: Ints, copy: Ints) -> None:
    for t in range(len(order)):
        copy[t] = order[t]


@compiled(nogil=True)
def anneal(
    order: Ints,
    best: Ints,
    width: int,
    shapes: Ints,
    other: Ints,
    window: int,
    heat: Floats,
    span: Ints,
    goal: int,
    seed: int,
) -> int:
    """Go on with annealing an order; gives the length that `best`, the best order, reaches.

    `heat` is (first, last) in units of length, `span` (changes made, changes to make now,
    changes in all). Ends early where `goal` is reached. The same seed gives the same end.
    """
    np.random.seed(seed)
    n = len(order)
    front, out = np.zeros((2, 2 * n + 5), np.int64), np.zeros((3, n), np.int64)
    follows, seen = np.zeros(n + 1, np.int64), np.zeros(len(shapes), np.int64)
    least = lay(best, width, shapes, FAR, front, out, follows, seen, window)
    length = lay(order, width, shapes, FAR, front, out, follows, seen, window)
    kept = order.copy()
    for step in range(span[0], span[0] + span[1]):
        if least <= goal:
            break
        if not _change(order, other):
            continue
        warmth = heat[0] * (heat[1] / heat[0]) ** (step / span[2])
        cap = int(length - warmth * math.log(1.0 - np.random.random()))
        longer = lay(order, width, shapes, cap, front, out, follows, seen, window)
        if longer > cap:
            _take(kept, order)
            continue
        length = longer
        _take(order, kept)
        if length < least:
            least = length
            _take(order, best)
    return least
