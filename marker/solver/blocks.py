"""Every block worth having, put together from smaller ones, within a budget of waste.

A lay of target length T on a strip of width W wastes W * T - area, and no more. So a block
is kept only if the waste inside it, and the waste that it forces beside and behind it,
stay within that budget; and of blocks with the same pieces only those that no other beats
in both sizes. Waste forced beside a block: a row across the cloth through the block is
filled by it and by pieces side by side, whose sizes add up to one of a few sums; what the
best sum leaves open is lost along the whole block. Likewise behind it along the bolt. The
two losses lie in different places, so they add.

A block beside which nothing fits is a band: it is not joined further here, since a lay is
a row of bands and `cover` puts those together.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from marker.solver.block import Block, beside, piece, stack
from marker.solver.bounds import Measure
from marker.solver.packing import Packing, Purse, Words
from marker.solver.problem import Ints, Problem

CHUNK = 1 << 19
NOTHING = np.zeros(0, np.int64)
SINGLE, STACK, BESIDE = 0, 1, 2


@dataclass(frozen=True)
class Table:
    """Blocks as columns: pieces held, sizes, their area and worth, and how each was joined.

    For a single piece `left` is its kind; else `left` and `right` are rows of the table.
    """

    held: Words
    a: Ints
    b: Ints
    area: Ints
    worth: Ints
    join: Ints
    left: Ints
    right: Ints

    def __len__(self) -> int:
        return len(self.a)

    def take(self, rows: Ints) -> Table:
        """Some rows, in that order."""
        return Table(*(column[rows] for column in self._columns()))

    def _columns(self) -> tuple[Words, *tuple[Ints, ...]]:
        columns = self.a, self.b, self.area, self.worth, self.join, self.left, self.right
        return self.held, *columns

    @staticmethod
    def joined(tables: list[Table]) -> Table:
        """Tables one under the other."""
        columns = zip(*(table._columns() for table in tables), strict=True)
        return Table(*(np.concatenate(column) for column in columns))

    def block(self, row: int) -> Block:
        """Build the block of a row."""
        if self.join[row] == SINGLE:
            return piece(int(self.a[row]), int(self.b[row]), int(self.left[row]))
        parts = self.block(int(self.left[row])), self.block(int(self.right[row]))
        return stack(*parts) if self.join[row] == STACK else beside(*parts)


@dataclass(frozen=True)
class Limits:
    """What a block must keep to: the strip, the target, and a budget of waste and of worth.

    The second budget is that of `worths` (see `bounds`): the worth that the rows of a lay
    of the target length could still gather beyond that of all pieces.
    """

    width: int
    target: int
    budget: int
    narrowest: int
    rows: Ints
    columns: Ints
    worths: Measure
    spare: int

    @classmethod
    def of(cls, problem: Problem, target: int, worths: Measure) -> Limits:
        """Limits for a lay of `problem` no longer than `target`."""
        return cls(
            problem.width,
            target,
            problem.width * target - problem.area,
            problem.narrowest,
            problem.sums(1, problem.width),
            problem.sums(0, target),
            worths,
            worths.full * target - worths.total(problem),
        )

    def keeps(self, table: Table) -> Table:
        """Drop the blocks that cost more waste or worth than there is to spare.

        Waste counts inside the block, beside it and behind it; worth in the rows through it.
        """
        a, b = table.a, table.b
        beside = _gap(self.rows, self.width - b)
        behind = _gap(self.columns, self.target - a)
        lost = a * b - table.area + a * beside + b * behind
        missed = a * (self.worths.full - self.worths.within(self.width - b)) - table.worth
        return table.take(np.flatnonzero((lost <= self.budget) & (missed <= self.spare)))


def _gap(sums: Ints, room: Ints) -> Ints:
    """What the best sum within each room leaves open."""
    found: Ints = room - sums[np.searchsorted(sums, room, side="right") - 1]
    return found


def enumerate_blocks(
    problem: Problem, packing: Packing, target: int, worths: Measure, purse: Purse
) -> Table:
    """Every undominated block within the budget of waste for `target`.

    Complete: a lay no longer than `target`, if there is one, is a row of bands of which
    each is in the table or is beaten by one that is. Raises `TooMany` when the purse is
    empty.
    """
    limits = Limits.of(problem, target, worths)
    tables = [limits.keeps(_singles(problem, packing, worths, limits))]
    levels = [Level.of(tables[0], 0, limits)]
    done = len(tables[0])
    for size in range(2, problem.pieces + 1):
        found: list[Table] = []
        for small in range(1, size // 2 + 1):
            if size - small <= len(levels):
                pair = levels[small - 1], levels[size - small - 1]
                found += _joins(*pair, limits, packing, purse)
        table = undominated(Table.joined(found)) if found else tables[0].take(NOTHING)
        tables.append(table)
        levels.append(Level.of(table, done, limits))
        done += len(table)
        if not any(len(level) for level in levels[size // 2 :]):
            break
    return Table.joined(tables)


def _singles(problem: Problem, packing: Packing, worths: Measure, limits: Limits) -> Table:
    """A block for every kind in every turn that the strip and the target allow."""
    rows = [
        (kind, a, b)
        for kind, item in enumerate(problem.kinds)
        for a, b in item.shapes
        if a <= limits.target
    ]
    kinds, a, b = np.array(rows, np.int64).reshape(-1, 3).T
    held = np.array([packing.one(kind) for kind in kinds], np.uint64).reshape(len(rows), -1)
    nothing = np.zeros(len(rows), np.int64)
    return undominated(Table(held, a, b, a * b, worths.worth[kinds], nothing, kinds, nothing))


@dataclass(frozen=True)
class Level:
    """The blocks of one number of pieces that can be joined further, and their rows."""

    table: Table
    rows: Ints
    waste: Ints

    @classmethod
    def of(cls, table: Table, start: int, limits: Limits) -> Level:
        """Pick the joinable blocks of a table that starts at row `start` of the whole."""
        open_rows = np.flatnonzero(table.b + limits.narrowest <= limits.width)
        kept = table.take(open_rows)
        return cls(kept, open_rows + start, kept.a * kept.b - kept.area)

    def __len__(self) -> int:
        return len(self.rows)


def undominated(table: Table) -> Table:
    """Of blocks with the same pieces keep those that no other beats in both sizes."""
    order = np.lexsort((table.b, table.a, *table.held.T))
    held, b = table.held[order], table.b[order]
    new = np.ones(len(order), np.int64)
    new[1:] = (held[1:] != held[:-1]).any(axis=1)
    group = np.cumsum(new)
    # Lowering each group below all earlier ones lets one running minimum serve them all.
    sunk = b - group * (int(b.max(initial=0)) + 1)
    best = np.minimum.accumulate(sunk)
    keep = np.ones(len(order), np.bool_)
    keep[1:] = sunk[1:] < best[:-1]
    return table.take(order[keep])


def _joins(
    low: Level, high: Level, limits: Limits, packing: Packing, purse: Purse
) -> Iterator[Table]:
    """All joins of a block from one level with a block from another, both ways."""
    if not len(low) or not len(high):
        return
    for join in (STACK, BESIDE):
        for first, second in _matches(low, high, join, limits, purse):
            held = low.table.held[first] + high.table.held[second]
            fits = np.flatnonzero(packing.fits(held))
            first, second = first[fits], second[fits]
            one, two = low.table.take(first), high.table.take(second)
            if join == STACK:
                a, b = one.a + two.a, np.maximum(one.b, two.b)
            else:
                a, b = np.maximum(one.a, two.a), one.b + two.b
            made = Table(
                held[fits],
                a,
                b,
                one.area + two.area,
                one.worth + two.worth,
                np.full(len(a), join, np.int64),
                low.rows[first],
                high.rows[second],
            )
            kept = limits.keeps(made)
            if len(kept):
                yield undominated(kept)


def _matches(
    low: Level, high: Level, join: int, limits: Limits, purse: Purse
) -> Iterator[tuple[Ints, Ints]]:
    """Pairs whose summed sides fit and whose unequal sides waste no more than there is.

    The second block is looked up in order of the side that is matched: a narrower one
    wastes at least its least length, a wider one the first block's length.
    """
    one, two = low.table, high.table
    if join == STACK:
        add_one, add_two, match_one, match_two, most = one.a, two.a, one.b, two.b, limits.target
    else:
        add_one, add_two, match_one, match_two, most = one.b, two.b, one.a, two.a, limits.width
    order = np.argsort(match_two, kind="stable")
    ranked = match_two[order]
    spare = limits.budget - low.waste
    begin = np.searchsorted(ranked, match_one - spare // add_two.min(), side="left")
    end = np.searchsorted(ranked, match_one + spare // add_one, side="right")
    for first, second in spans(begin, end, purse):
        second = order[second]
        step = match_one[first] - match_two[second]
        lost = np.where(step > 0, step * add_two[second], -step * add_one[first])
        good = lost + low.waste[first] + high.waste[second] <= limits.budget
        good &= add_one[first] + add_two[second] <= most
        if low is high:
            good &= first <= second
        if join == STACK:
            # What stacks to a full breadth is two bands, not one.
            widest = np.maximum(match_one[first], match_two[second])
            good &= widest + limits.narrowest <= limits.width
        rows = np.flatnonzero(good)
        yield first[rows], second[rows]


def spans(begin: Ints, end: Ints, purse: Purse) -> Iterator[tuple[Ints, Ints]]:
    """Spread ranges [begin, end) into pairs (row, place), a bounded number at a time."""
    sizes = np.maximum(end - begin, 0)
    ends = np.cumsum(sizes)
    row = 0
    while row < len(sizes):
        base = ends[row - 1] if row else 0
        stop = max(row + 1, int(np.searchsorted(ends, base + CHUNK, side="right")))
        part = sizes[row:stop]
        total = int(part.sum())
        purse.spend(total)
        first = np.repeat(np.arange(row, stop), part)
        starts = np.cumsum(part) - part
        second = np.arange(total) - np.repeat(starts - begin[row:stop], part)
        yield first, second
        row = stop
