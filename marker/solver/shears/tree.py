"""Going through all lays of a given length, piece by piece on a skyline: the compiled part.

What is searched is the lay with the least sum of x, and of those the least sum of y, among
all lays that fit the target length. In it every piece touches something towards the squared
end and something towards the near selvedge; no piece fits a hole nearer the squared end, or
as near and nearer the selvedge; of two pieces that make one rectangle the shorter (narrower)
comes first. Its pieces are laid in order of x, then y. So the hindmost step of the skyline,
the nearest to the selvedge where there are several, takes its first piece

* at its near end; or
* further on, with a hole before it. Then the piece is stopped by one that is laid later and
  hangs over the hole from the wall before it; the wall is lower than the piece's end, and the
  hole is closed at the wall's height; or
* nowhere, and the step is closed at the height of the lower wall.

Every hole is waste. A state is given up when what is left of the target can't hold what is
left of the pieces: whatever a table says a row of a breadth can gather at most, over all rows
between the steps of the skyline, and the same for columns. Where the target is small, the
tables are joined by the sums of sizes that the pieces left can still make.

Rows of a state: `mark` (see the constants), `front` (begin, height, and the length of the
piece that alone makes the step, or 0), `need` (area, then worth by each table).
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from marker.solver.compiled import compiled
from marker.solver.problem import Ints

Words = NDArray[np.uint64]
STEPS, OPTION, PLACE, TAKEN, X, Y, SPARE = range(7)
"""Columns of `mark`; SPARE is the waste that the state may still make."""
NEW, CLOSE, OVER = -1, -1, -2
"""No option tried yet; close the step; nothing more to try."""
FOUND, EXHAUSTED, TIRED = 1, 0, 2


@compiled(nogil=True)
def _shift_in(sums: Words, before: Words, words: int, size: int) -> bool:
    """Add `size` to every sum of `before`; whether that made new ones."""
    step, bits = size >> 6, np.uint64(size & 63)
    rest = np.uint64(64) - bits
    changed = False
    for i in range(words - 1, step - 1, -1):
        moved = before[i - step] << bits
        if bits > 0 and i > step:
            moved |= before[i - step - 1] >> rest
        if moved & ~sums[i]:
            sums[i] |= moved
            changed = True
    return changed


@compiled(nogil=True)
def _sums_left(
    shapes: Ints, axis: int, counts: Ints, longest: int, sums: Words, before: Words
) -> None:
    """Write into `sums` a bit for every sum of sizes left on an axis, up to the longest."""
    words = (longest >> 6) + 1
    sums[:words] = np.uint64(0)
    sums[0] = np.uint64(1)
    at = 0
    while at < len(shapes):
        end = at + 1
        while end < len(shapes) and shapes[end, 2] == shapes[at, 2]:
            end += 1
        for _ in range(counts[shapes[at, 2]]):
            before[:words] = sums[:words]
            changed = False
            for shape in range(at, end):
                if _shift_in(sums, before, words, shapes[shape, axis]):
                    changed = True
            if not changed:
                break
        at = end


@compiled(nogil=True)
def _fullest(
    shapes: Ints, axis: int, counts: Ints, table: Ints, sums: Words, before: Words
) -> None:
    """Write into `table` the greatest sum of sizes left on an axis up to each length."""
    _sums_left(shapes, axis, counts, len(table) - 1, sums, before)
    best = 0
    for length in range(len(table)):
        if (sums[length >> 6] >> np.uint64(length & 63)) & np.uint64(1):
            best = length
        table[length] = best


@compiled(nogil=True)
def columns(front: Ints, steps: int, table: Ints) -> int:
    """What all columns above the skyline gather at most; the table ends at the target."""
    held = 0
    for i in range(steps):
        held += (front[0, i + 1] - front[0, i]) * table[len(table) - 1 - front[1, i]]
    return held


@compiled(nogil=True)
def _row(front: Ints, steps: int, height: int, table: Ints) -> int:
    """What the row at a height gathers at most, between steps that are higher."""
    held, i = 0, 0
    while i < steps:
        if front[1, i] > height:
            i += 1
            continue
        begin = front[0, i]
        while i < steps and front[1, i] <= height:
            i += 1
        held += table[front[0, i] - begin]
    return held


@compiled(nogil=True)
def hindmost(front: Ints, steps: int) -> int:
    """The lowest step, of several the first."""
    low = 0
    for i in range(1, steps):
        if front[1, i] < front[1, low]:
            low = i
    return low


@compiled(nogil=True)
def rows(front: Ints, steps: int, target: int, table: Ints) -> int:
    """What all rows above the skyline gather at most."""
    held = 0
    height = front[1, hindmost(front, steps)]
    while height < target:
        upper = target
        for i in range(steps):
            if height < front[1, i] < upper:
                upper = front[1, i]
        held += _row(front, steps, height, table) * (upper - height)
        height = upper
    return held


@compiled(nogil=True)
def _may_hold(
    front: Ints,
    steps: int,
    need: Ints,
    shapes: Ints,
    counts: Ints,
    across: Ints,
    along: Ints,
    exact: bool,
    sums: Words,
    before: Words,
) -> bool:
    """Whether no table rules the state out. The last row of each set is for exact sums."""
    target = along.shape[1] - 1
    if exact:
        _fullest(shapes, 0, counts, along[-1], sums, before)
        if columns(front, steps, along[-1]) < need[0]:
            return False
        _fullest(shapes, 1, counts, across[-1], sums, before)
        if rows(front, steps, target, across[-1]) < need[0]:
            return False
    at = 1
    for table in range(len(across) - 1):
        if rows(front, steps, target, across[table]) < need[at]:
            return False
        at += 1
    for table in range(len(along) - 1):
        if columns(front, steps, along[table]) < need[at]:
            return False
        at += 1
    return True


@compiled(nogil=True)
def _hole(shapes: Ints, counts: Ints, a: int, b: int) -> bool:
    """Whether a hole of this size would be filled by some piece that is left."""
    for shape in range(len(shapes)):
        if counts[shapes[shape, 2]] > 0 and shapes[shape, 0] <= a and shapes[shape, 1] <= b:
            return True
    return False


@compiled(nogil=True)
def _stands(front: Ints, low: int, target: int, a: int, b: int, y: int) -> bool:
    """Whether a piece may be the first on the step `low`, at y."""
    x = front[1, low]
    end = front[0, low + 1]
    if y + b > end or x + a > target:
        return False
    if y > front[0, low]:
        return bool(x + a > front[1, low - 1])
    if b == end - y and front[2, low] > a:
        return False
    level = low > 0 and front[1, low - 1] == x + a and front[2, low - 1] == a
    return not (level and y - front[0, low - 1] > b)


@compiled(nogil=True)
def _first_beyond(normal: Ints, begin: int) -> int:
    """The index of the first sum above `begin`."""
    low, high = 0, len(normal)
    while low < high:
        middle = (low + high) // 2
        if normal[middle] <= begin:
            low = middle + 1
        else:
            high = middle
    return low


@compiled(nogil=True)
def _next_place(front: Ints, low: int, mark: Ints, shapes: Ints, counts: Ints, normal: Ints) -> int:
    """The next place for the first piece on a step: an index into `normal`, or CLOSE."""
    if low == 0:
        return CLOSE
    begin, deep = front[0, low], front[1, low - 1] - front[1, low]
    place = mark[PLACE] + 1
    if mark[PLACE] == 0:
        place = _first_beyond(normal, begin)
    if place >= len(normal):
        return CLOSE
    gap = normal[place] - begin
    if normal[place] >= front[0, low + 1] or gap * deep > mark[SPARE]:
        return CLOSE
    return CLOSE if _hole(shapes, counts, deep, gap) else place


@compiled(nogil=True)
def wall(front: Ints, steps: int, low: int, target: int) -> int:
    """The height of the lower of the two walls beside a step; the cloth's edge has no end."""
    before = front[1, low - 1] if low > 0 else target
    after = front[1, low + 1] if low + 1 < steps else target
    return int(min(before, after))


@compiled(nogil=True)
def _choose(
    front: Ints,
    low: int,
    mark: Ints,
    shapes: Ints,
    counts: Ints,
    order: Ints,
    normal: Ints,
    target: int,
) -> int:
    """The next option at a state: a shape, its place in `mark`; or CLOSE; or OVER."""
    while mark[PLACE] != OVER:
        if mark[PLACE] == CLOSE:
            mark[PLACE] = OVER
            gap = front[0, low + 1] - front[0, low]
            deep = wall(front, mark[STEPS], low, target) - front[1, low]
            closed = gap * deep <= mark[SPARE] and not _hole(shapes, counts, deep, gap)
            return CLOSE if closed else OVER
        y = normal[mark[PLACE]] if mark[PLACE] > 0 else front[0, low]
        while mark[OPTION] < len(order):
            shape = order[mark[OPTION]]
            mark[OPTION] += 1
            if counts[shapes[shape, 2]] > 0 and _stands(
                front, low, target, shapes[shape, 0], shapes[shape, 1], y
            ):
                mark[Y] = y
                return int(shape)
        mark[OPTION] = 0
        mark[PLACE] = _next_place(front, low, mark, shapes, counts, normal)
    return OVER


@compiled(nogil=True)
def _grow(
    front: Ints, after: Ints, steps: int, low: int, shape: int, y: int, shapes: Ints, target: int
) -> int:
    """Write the skyline that follows from an option into `after`; gives its steps."""
    for q in range(low + 1):
        _copy(front, q, after, q)
    at = low
    if shape == CLOSE:
        after[1, at] = wall(front, steps, low, target)
        after[2, at] = 0
    else:
        if y > front[0, low]:
            after[1, at] = front[1, low - 1]
            after[2, at] = 0
            at += 1
        a, b = shapes[shape, 0], shapes[shape, 1]
        after[0, at] = y
        after[1, at] = front[1, low] + a
        after[2, at] = a
        if y + b < front[0, low + 1]:
            at += 1
            after[0, at] = y + b
            after[1, at] = front[1, low]
            after[2, at] = 0
    for q in range(low + 1, steps + 1):
        at += 1
        _copy(front, q, after, at)
    return _level(after, at)


@compiled(nogil=True)
def _copy(front: Ints, step: int, after: Ints, at: int) -> None:
    for row in range(3):
        after[row, at] = front[row, step]


@compiled(nogil=True)
def _level(front: Ints, steps: int) -> int:
    at = 0
    for q in range(1, steps):
        if front[1, q] == front[1, at]:
            front[2, at] = 0
        else:
            at += 1
            _copy(front, q, front, at)
    front[0, at + 1] = front[0, steps]
    return at + 1


@compiled(nogil=True)
def _open(front: Ints, mark: Ints, need: Ints, target: int) -> None:
    """Make a state ready for its options."""
    mark[OPTION], mark[PLACE] = 0, 0
    free = 0
    for i in range(mark[STEPS]):
        free += (front[0, i + 1] - front[0, i]) * (target - front[1, i])
    mark[SPARE] = free - need[0]


@compiled(nogil=True)
def _spend(need: Ints, after: Ints, shape: int, worth: Ints, shapes: Ints, counts: Ints) -> None:
    """Write what is needed after an option into `after`, and take its piece."""
    for i in range(len(need)):
        after[i] = need[i]
    if shape == CLOSE:
        return
    kind = shapes[shape, 2]
    counts[kind] -= 1
    for i in range(len(need)):
        after[i] -= worth[kind, i]


@compiled(nogil=True)
def explore(
    fronts: Ints,
    marks: Ints,
    needs: Ints,
    worth: Ints,
    shapes: Ints,
    counts: Ints,
    order: Ints,
    normal: Ints,
    across: Ints,
    along: Ints,
    exact: bool,
    depth: int,
    effort: int,
) -> tuple[int, int]:
    """Go on from the state at `depth` through so many new ones; gives the outcome and depth.

    FOUND: the options taken down to that depth are a lay. EXHAUSTED: there is none.
    """
    target = along.shape[1] - 1
    words = (max(target, across.shape[1]) >> 6) + 1
    sums, before = np.zeros(words, np.uint64), np.zeros(words, np.uint64)
    while effort > 0:
        front, mark, need = fronts[depth], marks[depth], needs[depth]
        if mark[OPTION] == NEW:
            if need[0] == 0:
                return FOUND, depth
            effort -= 1
            _open(front, mark, need, target)
            if mark[SPARE] < 0 or not _may_hold(
                front, mark[STEPS], need, shapes, counts, across, along, exact, sums, before
            ):
                mark[PLACE] = OVER
        elif mark[TAKEN] >= 0:
            counts[shapes[mark[TAKEN], 2]] += 1
        low = hindmost(front, mark[STEPS])
        mark[TAKEN] = shape = _choose(front, low, mark, shapes, counts, order, normal, target)
        if shape == OVER:
            if depth == 0:
                return EXHAUSTED, 0
            depth -= 1
            continue
        depth += 1
        marks[depth, STEPS] = _grow(
            front, fronts[depth], mark[STEPS], low, shape, mark[Y], shapes, target
        )
        marks[depth, OPTION] = NEW
        mark[X] = front[1, low]
        _spend(need, needs[depth], shape, worth, shapes, counts)
    return TIRED, depth
