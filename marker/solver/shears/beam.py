"""Many lays of a given length grown side by side on skylines, the best kept: the compiled part.

A lay grows from the squared end as in `tree`: the hindmost step of its skyline takes a piece at
one of its ends, or is closed at the height of the lower wall. Lays under way are compared with
those that have as much of the cloth behind their skylines, for which that cloth is parted into
shares: of each share only so many lays are kept, and of those only a few that have laid the
very same pieces. What is kept is what leaves most to spare: by how much the rows and columns
still open can gather more than the pieces left are worth, by each measure that `tree` gives up by;
and what has laid large pieces, since small ones find room anywhere.

(A beam search, bounded in its breadth at every depth; the rows' worths guide it to lays whose
waste lies where the linear program has it.)
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from marker.solver.compiled import compiled
from marker.solver.problem import Ints
from marker.solver.shears.skyline import Floats, cover
from marker.solver.shears.tree import CLOSE, Words, columns, hindmost, rows, wall

Small = NDArray[np.int32]
STEPS, PARENT, SHAPE, X, Y = range(5)
"""Columns of a lay's mark: its steps, where in `history` it came from, and the last piece laid."""
MOST_STEPS = 44
"""Skylines of more steps than that are given up."""
REFUTED = -1e300
"""Worth of a lay that can't be gone on with."""
OFTEN = 3
"""How many times the lays kept may be gone on with in one share, where small pieces stay in it."""
PRIME, BASIS = np.uint64(1099511628211), np.uint64(1469598103934665603)
"""Of the FNV hash (from memory)."""


class Task(NamedTuple):
    """What is laid, and how lays are valued.

    `far` is the length to be met; `worth` per kind and measure, first those by rows `across`, then
    those by columns `along`, whose tables are by breadth and by length. A lay is worth what it has
    to spare by each measure times its `guide`, `large` for every copy laid of a kind, and up to
    `noise` by chance.
    """

    width: int
    far: int
    shapes: Ints
    worth: Ints
    across: Ints
    along: Ints
    guide: Floats
    large: Floats
    noise: float
    alike: int
    """So many lays of the very same pieces are kept in a share."""


class Store(NamedTuple):
    """The lays under way: by share and place, their skylines, marks, pieces left and worths.

    `same` tells lays of the same pieces, `met` all lays ever kept; `number` and `worst` are of a
    share. `history` is of lays gone on with: where each came from, and the piece laid.
    """

    fronts: Small
    marks: Small
    left: Small
    value: Floats
    same: Words
    met: Words
    number: Ints
    worst: Ints
    history: Small


@compiled(nogil=True)
def _mixed(code: np.uint64, value: int) -> np.uint64:
    code = (code ^ np.uint64(value)) * PRIME
    return code ^ (code >> np.uint64(29))


@compiled(nogil=True, inline="always")
def _worth_of(task: Task, front: Ints, steps: int, need: Ints) -> float:
    """What a lay has to spare by all measures; REFUTED where the pieces left can't be held."""
    value, at = 0.0, 0
    for table in range(len(task.across)):
        spare = rows(front, steps, task.far, task.across[table]) - need[at]
        if spare < 0:
            return REFUTED
        value += spare * task.guide[at]
        at += 1
    for table in range(len(task.along)):
        spare = columns(front, steps, task.along[table]) - need[at]
        if spare < 0:
            return REFUTED
        value += spare * task.guide[at]
        at += 1
    return value


@compiled(nogil=True)
def _newly_met(met: Words, code: np.uint64) -> bool:
    """Whether a lay is met for the first time; where the table is crowded it counts as new."""
    slot = np.int64(code & np.uint64(len(met) - 1))
    for _ in range(32):
        if met[slot] == code:
            return False
        if met[slot] == 0:
            met[slot] = code
            return True
        slot = (slot + 1) & (len(met) - 1)
    return True


@compiled(nogil=True)
def _place_in(store: Store, share: int, value: float, same: np.uint64, alike: int) -> int:
    """The place for a lay of some worth in a share, or -1 where better ones hold them all."""
    number = store.number[share]
    like, least = 0, -1
    for at in range(number):
        if store.same[share, at] == same:
            like += 1
            if least < 0 or store.value[share, at] < store.value[share, least]:
                least = at
    if like >= alike:
        return least if value > store.value[share, least] else -1
    if number < store.value.shape[1]:
        store.number[share] += 1
        return int(number)
    return int(store.worst[share])


@compiled(nogil=True, inline="always")
def _full(store: Store, share: int, value: float) -> bool:
    """Whether a share holds better lays alone."""
    full = store.number[share] == store.value.shape[1]
    return bool(full and value <= store.value[share, store.worst[share]])


@compiled(nogil=True)
def _keep(
    store: Store, share: int, front: Ints, mark: Ints, left: Ints, value: float, alike: int
) -> None:
    """Keep a lay if it is new, and among the best of its share."""
    code = BASIS
    for kind in range(len(left)):
        code = _mixed(code, left[kind])
    same = code
    for step in range(mark[STEPS]):
        code = _mixed(_mixed(code, front[0, step]), front[1, step])
    if not _newly_met(store.met, max(code, np.uint64(1))):
        return
    at = _place_in(store, share, value, same, alike)
    if at < 0:
        return
    for step in range(mark[STEPS] + 1):
        store.fronts[share, at, 0, step] = front[0, step]
        store.fronts[share, at, 1, step] = front[1, step]
    for column in range(len(mark)):
        store.marks[share, at, column] = mark[column]
    for kind in range(len(left)):
        store.left[share, at, kind] = left[kind]
    store.value[share, at], store.same[share, at] = value, same
    if store.number[share] == store.value.shape[1]:
        store.worst[share] = np.argmin(store.value[share])


@compiled(nogil=True, inline="always")
def _share_of(task: Task, front: Ints, steps: int, shares: int) -> int:
    """The share that a lay falls into, by the cloth behind its skyline."""
    behind = 0
    for step in range(steps):
        behind += (front[0, step + 1] - front[0, step]) * front[1, step]
    return int(min(shares - 1, behind * shares // (task.width * task.far)))


@compiled(nogil=True, inline="always")
def _lies(task: Task, now: Ints, steps: int, low: int, shape: int, end: int, mark: Ints) -> int:
    """Write where a shape lies on the step `low`, at its near end or the other, into `mark`.

    Gives how far along it ends; nought where it doesn't fit, or would lie there just the same at
    the near end. CLOSE closes the step.
    """
    x, y, room = now[1, low], now[0, low], now[0, low + 1] - now[0, low]
    mark[SHAPE], mark[X], mark[Y] = shape, x, y
    if shape == CLOSE:
        top = wall(now, steps, low, task.far)
        return 0 if end == 1 or top == task.far else int(top)
    a, b = task.shapes[shape, 0], task.shapes[shape, 1]
    if b > room or x + a > task.far:
        return 0
    if end == 1:
        if b == room or steps == 1:
            return 0
        mark[Y] = y + room - b
    return int(x + a)


@compiled(nogil=True)
def _take(task: Task, left: Ints, need: Ints, kind: int, copies: int) -> None:
    """Take copies of a kind from what is left, or put them back where fewer than none."""
    left[kind] -= copies
    for table in range(len(need)):
        need[table] -= copies * task.worth[kind, table]


@compiled(nogil=True, inline="always")
def _go_on(task: Task, store: Store, now: Ints, steps: int, left: Ints, source: int) -> bool:
    """Keep what may follow from a lay; whether one is whole, which is then last in `history`."""
    need = np.zeros(task.worth.shape[1], np.int64)
    large, pieces = 0.0, 0
    for kind in range(len(left)):
        large -= left[kind] * task.large[kind]
        pieces += left[kind]
        need += left[kind] * task.worth[kind]
    low = hindmost(now, steps)
    mark, after = np.zeros(5, np.int64), np.empty_like(now)
    mark[PARENT] = source
    for option in range(2 * len(task.shapes) + 2):
        shape, end = option // 2 - 1, option % 2
        kind = -1 if shape == CLOSE else task.shapes[shape, 2]
        if kind >= 0 and left[kind] == 0:
            continue
        top = _lies(task, now, steps, low, shape, end, mark)
        if top == 0:
            continue
        for step in range(steps + 1):
            after[0, step], after[1, step] = now[0, step], now[1, step]
        b = now[0, low + 1] - now[0, low] if shape == CLOSE else task.shapes[shape, 1]
        mark[STEPS] = cover(after, steps, mark[Y], b, top)
        if kind < 0:
            _weigh(task, store, after, mark, left, need, large)
            continue
        if pieces == 1:
            store.history[source + 1] = mark[PARENT:]
            return True
        _take(task, left, need, kind, 1)
        _weigh(task, store, after, mark, left, need, large + task.large[kind])
        _take(task, left, need, kind, -1)
    return False


@compiled(nogil=True, inline="always")
def _weigh(
    task: Task, store: Store, front: Ints, mark: Ints, left: Ints, need: Ints, large: float
) -> None:
    """Keep a lay if it is worth more than others of its share."""
    if mark[STEPS] > MOST_STEPS:
        return
    value = _worth_of(task, front, mark[STEPS], need)
    if value == REFUTED:
        return
    value += large + task.noise * np.random.random()
    share = _share_of(task, front, mark[STEPS], len(store.number))
    if not _full(store, share, value):
        _keep(store, share, front, mark, left, value, task.alike)


@compiled(nogil=True)
def grow(task: Task, store: Store, seed: int) -> int:
    """Grow lays from the first one of the first share on; gives the place of a whole one.

    The place is one of `history`; -1 where none is met. The same seed gives the same end.
    """
    np.random.seed(seed)
    front, left = np.zeros((2, MOST_STEPS + 4), np.int64), np.zeros(len(task.worth), np.int64)
    place = 0
    for share in range(len(store.number)):
        most = min(len(store.history) - 1, place + OFTEN * store.value.shape[1])
        while store.number[share] > 0 and place < most:
            store.number[share] -= 1
            at = store.number[share]
            mark = store.marks[share, at]
            front[:, : mark[STEPS] + 1] = store.fronts[share, at, :, : mark[STEPS] + 1]
            left[:] = store.left[share, at]
            store.history[place] = mark[PARENT:]
            if _go_on(task, store, front, int(mark[STEPS]), left, place):
                return place + 1
            place += 1
    return -1
