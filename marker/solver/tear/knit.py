"""The best block of a few smaller ones within a room, compiled: the inner loop of betterment.

Compiling takes some seconds the first time and is kept on disk; loading takes half a second.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from marker.solver.compiled import compiled
from marker.solver.problem import Ints
from marker.solver.tear.packing import Words

SLOTS = 1 << 14
"""Places in the table of multisets met; a power of two, well above the blocks kept."""
A, B, HELD, WASTE, VALUE, JOIN, LEFT, RIGHT, NEXT = range(9)
"""Columns of the table of blocks; NEXT is another block of the same pieces."""
COLUMNS = 9
SINGLE, STACK, BESIDE = 0, 1, 2
ROOT = 2
"""A block may leave open inside what the room may, times the root of its part of the room's area
divided by this: what a room leaves open mostly lies spread over it."""
Table = NDArray[np.int64]


@compiled()
def _mark(words: Words, shapes: Table, axis: int, count: Ints, limit: int) -> None:
    """Mark in the bits of `words` all sums of sizes up to `limit`; axis 0 along, 1 across."""
    words[: limit // 64 + 1] = 0
    words[0] = 1
    reach = 0
    for kind in range(len(count)):
        for _ in range(count[kind]):
            reach = min(limit, reach + max(shapes[kind, axis], shapes[kind, axis + 2]))
            for at in range(reach // 64, -1, -1):
                found = words[at]
                for size in (shapes[kind, axis], shapes[kind, axis + 2]):
                    back, shift = size // 64, np.uint64(size % 64)
                    if size and at >= back:
                        found |= words[at - back] << shift
                        if shift and at > back:
                            found |= words[at - back - 1] >> (np.uint64(64) - shift)
                words[at] = found


@compiled()
def _gap(words: Words, room: int) -> int:
    """What the best of the marked sums within a room leaves open."""
    at = room // 64
    off = np.uint64(63 - room % 64)
    word = words[at] << off >> off
    while word == 0:
        at -= 1
        word = words[at]
    top = 0
    for step in (32, 16, 8, 4, 2, 1):
        if word >> np.uint64(step) != 0:
            word >>= np.uint64(step)
            top += step
    left: int = room - (at * 64 + top)
    return left


@compiled()
def _gathers(rows: Ints, gathered: Ints, breadth: int) -> int:
    """The most value that a row of a breadth gathers per unit of length."""
    low, high = 0, len(rows)
    while high - low > 1:
        middle = (low + high) // 2
        if rows[middle] <= breadth:
            low = middle
        else:
            high = middle
    most: int = gathered[low]
    return most


class Want(NamedTuple):
    """A room a by b, what it may miss, and the arrays that the loop reads and works in.

    `waste` and `value` bound what the room may leave open or fail to gather; `rows` and
    `gathered` are those of a measure; `across` and `along` take up the marked sums, `slots` the
    table of multisets, `blocks` the blocks made.
    """

    a: int
    b: int
    waste: int
    value: int
    rows: Ints
    gathered: Ints
    across: Words
    along: Words
    slots: Ints
    blocks: Table


@compiled()
def _keep(want: Want, new: Ints, made: int) -> int:
    """Put a block into the table unless it misses too much or is beaten; gives the new length."""
    a, b, held = new[A], new[B], new[HELD]
    if a > want.a or b > want.b or new[WASTE] > want.waste:
        return made
    # Squared, and in floating point: whole numbers would overflow.
    most = float(want.waste) * float(want.waste) * float(a * b - new[WASTE])
    if ROOT * float(new[WASTE]) * float(new[WASTE]) * float(want.a * want.b) > most:
        return made
    lost = new[WASTE] + a * _gap(want.across, want.b - b) + b * _gap(want.along, want.a - a)
    if lost > want.waste:
        return made
    full = _gathers(want.rows, want.gathered, want.b)
    if a * (full - _gathers(want.rows, want.gathered, want.b - b)) - new[VALUE] > want.value:
        return made
    slots, blocks = want.slots, want.blocks
    slot = (held * 0x9E3779B1 >> 9) & (SLOTS - 1)
    while slots[slot] >= 0 and blocks[slots[slot], HELD] != held:
        slot = (slot + 1) & (SLOTS - 1)
    like = slots[slot]
    while like >= 0:
        if blocks[like, A] <= a and blocks[like, B] <= b:
            return made
        like = blocks[like, NEXT]
    new[NEXT] = slots[slot]
    for column in range(COLUMNS):
        blocks[made, column] = new[column]
    slots[slot] = made
    return made + 1


@compiled()
def _join(want: Want, row: int, other: int, new: Ints, made: int) -> int:
    """Join two blocks of the table both ways."""
    blocks = want.blocks
    new[HELD] = blocks[row, HELD] + blocks[other, HELD]
    new[VALUE] = blocks[row, VALUE] + blocks[other, VALUE]
    new[LEFT], new[RIGHT] = row, other
    inside = new[WASTE] = blocks[row, WASTE] + blocks[other, WASTE]
    a1, b1, a2, b2 = blocks[row, A], blocks[row, B], blocks[other, A], blocks[other, B]
    if a1 + a2 <= want.a:
        new[A], new[B], new[JOIN] = a1 + a2, max(b1, b2), STACK
        new[WASTE] = inside + _step(b1, a1, b2, a2)
        made = _keep(want, new, made)
    if b1 + b2 <= want.b and made < len(blocks):
        new[A], new[B], new[JOIN] = max(a1, a2), b1 + b2, BESIDE
        new[WASTE] = inside + _step(a1, b1, a2, b2)
        made = _keep(want, new, made)
    return made


@compiled()
def _step(matched: int, added: int, matched2: int, added2: int) -> int:
    """What lies open where two blocks of unequal sides meet."""
    less = matched2 - matched
    return less * added if less > 0 else -less * added2


@compiled()
def _singles(want: Want, shapes: Table, figures: Table, new: Ints) -> int:
    """Begin the table with the kinds themselves, in every turn."""
    made = 0
    for kind in range(len(shapes)):
        for turn in range(2):
            a, b = shapes[kind, 2 * turn], shapes[kind, 2 * turn + 1]
            if a:
                new[A], new[B], new[HELD], new[VALUE] = a, b, figures[kind, 2], figures[kind, 1]
                new[WASTE] = a * b - figures[kind, 0]
                new[JOIN], new[LEFT], new[RIGHT] = SINGLE, kind, turn
                made = _keep(want, new, made)
    return made


@compiled()
def _best(blocks: Table, made: int) -> int:
    """The block of most value, and of those the smallest; -1 where there is none."""
    best, least = -1, 0
    for at in range(made):
        size = blocks[at, A] * blocks[at, B]
        if (
            best < 0
            or blocks[at, VALUE] > blocks[best, VALUE]
            or (blocks[at, VALUE] == blocks[best, VALUE] and size < least)
        ):
            best, least = at, size
    return best


@compiled()
def knit(
    want: Want, shapes: Table, count: Ints, figures: Table, spare: int, guard: int
) -> tuple[int, int, bool]:
    """Put blocks together; gives the place of the best one (or -1), how many, and if all.

    A kind has two `shapes` (a, b, a, b; the second nought where it may not turn) and `figures`:
    its area, its value, and one piece of it packed. `spare` is the demand, packed, with its
    `guard` bits set. The best block is that of most value, and then the smallest.
    """
    _mark(want.across, shapes, 1, count, want.b)
    _mark(want.along, shapes, 0, count, want.a)
    want.slots[:] = -1
    new = np.zeros(COLUMNS, np.int64)
    made = _singles(want, shapes, figures, new)
    blocks, row = want.blocks, 0
    # Apart from the table, so that a run over all blocks stays in the processor's cache.
    held = np.empty(len(blocks), np.int64)
    while row < made:
        held[row] = blocks[row, HELD]
        left = spare - held[row]
        a, b = blocks[row, A], blocks[row, B]
        for other in range(row + 1):
            if (left - held[other]) & guard != guard:
                continue
            a2, b2 = blocks[other, A], blocks[other, B]
            inside = blocks[row, WASTE] + blocks[other, WASTE]
            # Most pairs fail here; only the others are worth a call.
            if (a + a2 <= want.a and inside + _step(b, a, b2, a2) <= want.waste) or (
                b + b2 <= want.b and inside + _step(a, b, a2, b2) <= want.waste
            ):
                made = _join(want, row, other, new, made)
                if made == len(blocks):
                    return _best(blocks, made), made, False
        row += 1
    return _best(blocks, made), made, True
