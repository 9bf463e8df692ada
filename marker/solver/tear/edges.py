"""Bands whose parts meet edge to edge without waste, compiled: the inner loops of `mosaic`.

Compiling takes some seconds the first time and is kept on disk; loading takes half a second.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from marker.solver.compiled import compiled
from marker.solver.problem import Ints
from marker.solver.tear.packing import Words

MOST = 4
"""Pieces in a block at most."""
A, B, SIZE, JOIN, LEFT, RIGHT, KINDS = range(7)
"""Columns of the table of blocks; from KINDS on the kinds of the pieces, ascending."""
COLUMNS = KINDS + MOST
SINGLE, STACK, BESIDE = 0, 1, 2
BEST = 600
"""Blocks of one length that are tried for a band, the most wanted first."""
Table = NDArray[np.int64]


class Want(NamedTuple):
    """The width of the cloth, by how much a band may fall short, chance in 100, and effort."""

    width: int
    loose: int
    noise: int
    effort: int


@compiled()
def _merge(blocks: Table, row: int, other: int, stock: Ints, new: Ints) -> bool:
    """Write the kinds of two blocks into a third; whether the stock holds them all."""
    size, more = blocks[row, SIZE], blocks[other, SIZE]
    i, j, run = 0, 0, 0
    for at in range(KINDS, KINDS + size + more):
        if j >= more or (i < size and blocks[row, KINDS + i] <= blocks[other, KINDS + j]):
            new[at] = blocks[row, KINDS + i]
            i += 1
        else:
            new[at] = blocks[other, KINDS + j]
            j += 1
        run = run + 1 if at > KINDS and new[at] == new[at - 1] else 1
        if run > stock[new[at]]:
            return False
    return True


@compiled()
def _join(blocks: Table, row: int, other: int, stock: Ints, width: int, made: int) -> int:
    """Join two blocks along each side that they have in common."""
    for join in (STACK, BESIDE):
        if made == len(blocks):
            return made
        add, match = (A, B) if join == STACK else (B, A)
        if blocks[row, match] != blocks[other, match]:
            continue
        if join == BESIDE and blocks[row, B] + blocks[other, B] > width:
            continue
        if _merge(blocks, row, other, stock, blocks[made]):
            blocks[made, add] = blocks[row, add] + blocks[other, add]
            blocks[made, match] = blocks[row, match]
            blocks[made, SIZE] = blocks[row, SIZE] + blocks[other, SIZE]
            blocks[made, JOIN], blocks[made, LEFT], blocks[made, RIGHT] = join, row, other
            made += 1
    return made


@compiled()
def fill(blocks: Table, shapes: Ints, stock: Ints, width: int) -> int:
    """Write all blocks without waste of few pieces of a stock into the table; how many.

    `shapes` are rows (a, b, kind). What the table can't hold is left out.
    """
    made = 0
    ends = np.zeros(MOST + 1, np.int64)
    for shape in range(len(shapes)):
        if stock[shapes[shape, 2]] > 0 and made < len(blocks):
            blocks[made, A], blocks[made, B], blocks[made, SIZE] = (
                shapes[shape, 0],
                shapes[shape, 1],
                1,
            )
            blocks[made, JOIN], blocks[made, LEFT], blocks[made, RIGHT] = SINGLE, 0, 0
            blocks[made, KINDS] = shapes[shape, 2]
            made += 1
    ends[1] = made
    for size in range(2, MOST + 1):
        for one in range(1, size // 2 + 1):
            two = size - one
            for row in range(ends[one - 1], ends[one]):
                for other in range(max(ends[two - 1], row), ends[two]):
                    if (
                        blocks[row, A] == blocks[other, A] or blocks[row, B] == blocks[other, B]
                    ) and made < len(blocks):
                        made = _join(blocks, row, other, stock, width, made)
        ends[size] = made
    return made


@compiled()
def _take(blocks: Table, row: int, stock: Ints, sign: int) -> bool:
    """Take the pieces of a block out of the stock (-1), or give them back; if it held them."""
    enough = True
    for at in range(KINDS, KINDS + blocks[row, SIZE]):
        stock[blocks[row, at]] += sign
        enough = enough and stock[blocks[row, at]] >= 0
    return enough


@compiled()
def _reach(blocks: Table, rows: Ints, width: int) -> Words:
    """For each of the rows a bit for every breadth that it and those behind it can add up to."""
    words = width // 64 + 1
    reach = np.zeros((len(rows) + 1, words), np.uint64)
    reach[len(rows), 0] = 1
    for at in range(len(rows) - 1, -1, -1):
        size = blocks[rows[at], B]
        back, shift = size // 64, np.uint64(size % 64)
        for word in range(words):
            found = reach[at + 1, word]
            if word >= back:
                found |= reach[at + 1, word - back] << shift
            if shift > 0 and word > back:
                found |= reach[at + 1, word - back - 1] >> (np.uint64(64) - shift)
            reach[at, word] = found
    return reach


@compiled()
def _has(reach: Words, at: int, breadth: int) -> bool:
    return bool(reach[at, breadth // 64] >> np.uint64(breadth % 64) & np.uint64(1))


@compiled()
def span(blocks: Table, rows: Ints, stock: Ints, want: Want, chosen: Ints) -> int:
    """Choose blocks that fill the width side by side, each within the stock; how many, or 0.

    As much of the width as may be is left open only where all blocks come to no more. The
    earlier in `rows`, the sooner a block is taken.
    """
    reach = _reach(blocks, rows, want.width)
    rest = want.width
    while not _has(reach, 0, rest):
        rest -= 1
        if rest < want.width - want.loose:
            return 0
    left = stock.copy()
    depth, at, effort = 0, 0, want.effort
    while effort > 0 and rest > 0:
        effort -= 1
        found = -1
        while at < len(rows) and depth < len(chosen) and _has(reach, at, rest):
            size = blocks[rows[at], B]
            if size <= rest and _has(reach, at + 1, rest - size):
                if _take(blocks, rows[at], left, -1):
                    found = at
                    break
                _take(blocks, rows[at], left, 1)
            at += 1
        if found >= 0:
            chosen[depth] = found
            depth += 1
            rest -= blocks[rows[found], B]
            at = found + 1
        elif depth == 0:
            return 0
        else:
            depth -= 1
            at = chosen[depth]
            _take(blocks, rows[at], left, 1)
            rest += blocks[rows[at], B]
            at += 1
    return depth if rest == 0 else 0


@compiled()
def _within(blocks: Table, row: int, stock: Ints) -> bool:
    enough = _take(blocks, row, stock, -1)
    _take(blocks, row, stock, 1)
    return enough


@compiled()
def _wanted(blocks: Table, row: int, wants: Ints) -> int:
    """How much the pieces of a block are wanted in all."""
    total = 0
    for at in range(KINDS, KINDS + blocks[row, SIZE]):
        total += wants[blocks[row, at]]
    return total


@compiled()
def _mixed(state: int) -> int:
    """The next number of a plain row of random ones, below 2**31."""
    return (state * 1103515245 + 12345) & 0x7FFFFFFF


@compiled()
def _ranked(
    blocks: Table, some: Ints, length: int, wants: Ints, noise: int, state: int
) -> tuple[Ints, int]:
    """The blocks most wanted for the cloth that they take in a band of a length, by chance."""
    keys = np.zeros(len(some), np.int64)
    for at in range(len(some)):
        state = _mixed(state)
        shaken = 1000 + noise * ((state >> 8) % 2001 - 1000) // 100
        each = _wanted(blocks, some[at], wants) * 256 // (length * blocks[some[at], B])
        keys[at] = -each * shaken
    return some[np.argsort(keys, kind="mergesort")][:BEST], state


@compiled()
def _there(blocks: Table, ranked: Ints, stock: Ints) -> Ints:
    """Those of the rows whose pieces are all in stock."""
    there, many = np.zeros(len(ranked), np.int64), 0
    for row in ranked:
        if _within(blocks, row, stock):
            there[many] = row
            many += 1
    return there[:many]


@compiled()
def _all_wanted(blocks: Table, rows: Ints, wants: Ints) -> int:
    total = 0
    for row in rows:
        total += _wanted(blocks, row, wants)
    return total


@compiled()
def best_band(
    blocks: Table, ranked: Ints, stock: Ints, wants: Ints, want: Want, state: int, chosen: Ints
) -> int:
    """The band whose pieces are wanted most for its cloth; how many blocks stand in it.

    `ranked` are the rows of the table by length; the rows chosen are written into `chosen`.
    `wants` are per kind. Blocks may fall short of the band's length, and all together of its
    breadth, as much as `want` allows. `state` begins a row of random numbers.
    """
    best, value = 0, -1
    picked = np.zeros(len(chosen), np.int64)
    there = _there(blocks, ranked, stock)
    begin, end = 0, 0
    while end < len(there):
        length = blocks[there[end], A]
        while end < len(there) and blocks[there[end], A] == length:
            end += 1
        while blocks[there[begin], A] < length - want.loose:
            begin += 1
        rows, state = _ranked(blocks, there[begin:end], length, wants, want.noise, state)
        count = span(blocks, rows, stock, want, picked)
        if count == 0:
            continue
        taken = rows[picked[:count]]
        state = _mixed(state)
        shaken = 900 + (state >> 8) % 201
        each = _all_wanted(blocks, taken, wants) * 256 // (length * want.width) * shaken
        if each > value:
            best, value = count, each
            chosen[:count] = taken
    return best
