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

Sparingly, only blocks are kept whose own waste is small for their size. What a lay wastes mostly
lies spread over it, so many a short lay is still found, with far fewer pairs to look at; but what
is not found then is not proved to be missing.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np

from marker.solver.problem import Ints, Problem
from marker.solver.tear.block import Block, beside, piece, stack
from marker.solver.tear.packing import Purse, Words
from marker.solver.tear.partners import Columns, Keep, Partners
from marker.solver.tear.sieve import Sieve

if TYPE_CHECKING:
    from marker.solver.tear.shelves import Shelf

KEPT = 10
"""What keeping a block costs in pairs looked at: it is stored and sorted, and met again."""
ROOT = 1.5
"""How much more than its budget, times the root of its part of the area, a block may waste where
some are spared."""
SINGLE, STACK, BESIDE = 0, 1, 2


@dataclass(frozen=True)
class Table:
    """Blocks as columns: pieces held, sizes, their area, and how each was joined.

    For a single piece `left` is its kind; else `left` and `right` are rows of the table.
    """

    held: Words
    a: Ints
    b: Ints
    area: Ints
    join: Ints
    left: Ints
    right: Ints

    def __len__(self) -> int:
        return len(self.a)

    def take(self, rows: Ints) -> Table:
        """Some rows, in that order."""
        return Table(self.held[rows], *(column[rows] for column in self._figures()))

    def _figures(self) -> tuple[Ints, ...]:
        return self.a, self.b, self.area, self.join, self.left, self.right

    @staticmethod
    def joined(tables: list[Table]) -> Table:
        """Tables one under the other."""
        if len(tables) == 1:
            return tables[0]
        held = np.concatenate([table.held for table in tables])
        columns = zip(*(table._figures() for table in tables), strict=True)
        return Table(held, *(np.concatenate(column) for column in columns))

    def block(self, row: int) -> Block:
        """Build the block of a row."""
        if self.join[row] == SINGLE:
            return piece(int(self.a[row]), int(self.b[row]), int(self.left[row]))
        parts = self.block(int(self.left[row])), self.block(int(self.right[row]))
        return stack(*parts) if self.join[row] == STACK else beside(*parts)


@dataclass(frozen=True)
class Limits:
    """What a block must keep to: the strip, the target, and a budget of waste.

    `beside` and `behind` tell what pieces in a row leave open at best of each breadth and length.
    The sieve has budgets of its own, see there. `root`, if any, is the budget times a figure by
    which blocks are spared: one may waste inside no more than that times the root of its part of
    the area. (The first power found nothing, for want of small blocks.) `shelves` are those set up
    so far, of this one enumeration.
    """

    width: int
    target: int
    budget: int
    narrowest: int
    beside: Ints
    behind: Ints
    sieve: Sieve
    area: int
    root: float | None = None
    shelves: dict[tuple[bool, int, int], Shelf] = field(default_factory=dict)

    @classmethod
    def of(cls, problem: Problem, target: int, sieve: Sieve, spared: float | None = None) -> Limits:
        """Limits for a lay of `problem` no longer than `target`.

        With `spared` every block may waste, and force to be wasted, only that part of the budget.
        """
        budget = problem.width * target - problem.area
        if spared is not None:
            budget = int(budget * spared)
        return cls(
            problem.width,
            target,
            budget,
            problem.narrowest,
            _gaps(problem.sums(1, problem.width), problem.width),
            _gaps(problem.sums(0, target), target),
            sieve,
            problem.area,
            None if spared is None else ROOT * budget,
        )

    def sparing(self, table: Table) -> Table:
        """The blocks that waste little for their size; all, where nothing is spared."""
        if self.root is None:
            return table
        most = self.root * np.sqrt(table.area / self.area)
        return table.take(np.flatnonzero(table.a * table.b - table.area <= most))

    def keep(self, join: int) -> Keep:
        """What blocks joined one way must keep to: also waste that they force elsewhere."""
        gaps = self.behind, self.beside
        gap, gaps_ = gaps if join == STACK else gaps[::-1]
        across = join == BESIDE
        return Keep(self.budget, self.sieve, self.target, across, gap, gaps_, self.shelves)


def _gaps(sums: Ints, most: int) -> Ints:
    """What the best sum within each room up to `most` leaves open."""
    filled = np.zeros(most + 1, np.int64)
    filled[sums] = sums
    found: Ints = np.arange(most + 1) - np.maximum.accumulate(filled)
    return found


def enumerate_blocks(
    problem: Problem, target: int, sieve: Sieve, purse: Purse, spared: float | None = None
) -> Table:
    """Every undominated block within the budget of waste for `target`, in order of pieces held.

    Complete, unless `spared` leaves some out: a lay no longer than `target`, if there is one, is
    a row of bands of which each is in the table or is beaten by one that is. Raises `TooMany`
    when the purse is empty.
    """
    limits = Limits.of(problem, target, sieve, spared)
    table = _singles(problem, limits)
    stock, last = Stock.of(table, 0, 1, limits), 1
    for size in range(2, problem.pieces + 1):
        found = [
            made for join in (STACK, BESIDE) for made in _joins(stock, size, join, limits, purse)
        ]
        if found:
            made = limits.sparing(undominated(Table.joined(found)))
            known = len(sieve.measures)
            made = made.take(sieve.learn(made.held, made.a, made.b, target, purse))
            stock = stock.sifted(sieve, target, known)
            stock = stock.with_more(Stock.of(made, len(table), size, limits))
            table = Table.joined([table, made])
            last = size
        elif size >= 2 * last:
            break
    return table


def _singles(problem: Problem, limits: Limits) -> Table:
    """A block for every kind in every turn that the strip and the target allow."""
    rows = [
        (kind, a, b)
        for kind, item in enumerate(problem.kinds)
        for a, b in item.shapes
        if a <= limits.target
    ]
    kinds, a, b = np.array(rows, np.int64).reshape(-1, 3).T
    held = np.array([limits.sieve.packing.one(kind) for kind in kinds], np.uint64).reshape(
        len(rows), -1
    )
    nothing = np.zeros(len(rows), np.int64)
    table = undominated(Table(held, a, b, a * b, nothing, kinds, nothing))
    return table.take(limits.keep(STACK).rows(table.held, table.a, table.b, nothing[: len(table)]))


@dataclass(frozen=True)
class Stock:
    """The blocks that can be joined further, in order of pieces held, and their rows."""

    table: Table
    rows: Ints
    size: Ints
    waste: Ints

    @classmethod
    def of(cls, table: Table, start: int, size: int, limits: Limits) -> Stock:
        """Pick the blocks beside which something fits, from a table starting at a row."""
        inner = np.flatnonzero(table.b + limits.narrowest <= limits.width)
        kept = table.take(inner)
        sizes = np.full(len(inner), size, np.int64)
        return cls(kept, inner + start, sizes, kept.a * kept.b - kept.area)

    def sifted(self, sieve: Sieve, target: int, since: int) -> Stock:
        """This stock without the blocks that the newer measures of a sieve rule out."""
        table = self.table
        rows = sieve.passes(table.held, table.a, table.b, target, since)
        if len(rows) == len(table):
            return self
        return Stock(table.take(rows), self.rows[rows], self.size[rows], self.waste[rows])

    def with_more(self, more: Stock) -> Stock:
        """This stock and another of larger blocks."""
        return Stock(
            Table.joined([self.table, more.table]),
            np.concatenate((self.rows, more.rows)),
            np.concatenate((self.size, more.size)),
            np.concatenate((self.waste, more.waste)),
        )


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


def _joins(stock: Stock, size: int, join: int, limits: Limits, purse: Purse) -> Iterator[Table]:
    """All joins of two blocks in the stock into one of `size` pieces, one way."""
    table, firsts, seconds = stock.table, [], []
    for one, two in _partners(stock, size, join, limits).pairs(purse):
        purse.spend(KEPT * len(one))
        firsts.append(one)
        seconds.append(two)
    first, second = (np.concatenate(each) if each else stock.rows[:0] for each in (firsts, seconds))
    if not len(first):
        return
    # The order in which pairs are met depends on how they are looked for; that of blocks must not.
    order = np.argsort(first * len(table) + second)
    first, second = first[order], second[order]
    a, b = (
        (table.a[first] + table.a[second], np.maximum(table.b[first], table.b[second]))
        if join == STACK
        else (np.maximum(table.a[first], table.a[second]), table.b[first] + table.b[second])
    )
    yield Table(
        table.held[first] + table.held[second],
        a,
        b,
        table.area[first] + table.area[second],
        np.full(len(first), join, np.int64),
        stock.rows[first],
        stock.rows[second],
    )


def _partners(stock: Stock, size: int, join: int, limits: Limits) -> Partners:
    """Set out the blocks of which two may be joined into one of `size` pieces."""
    sides = stock.table.a, stock.table.b
    (add, match), most = (sides, limits.target) if join == STACK else (sides[::-1], limits.width)
    # One order serves all numbers of pieces: sorted by pieces held, then by the matched side.
    key = stock.size * (max(limits.width, limits.target) + 1) + match
    order = np.argsort(key, kind="stable")
    return Partners(
        size,
        # Columns in that order: a range of partners is then read in one run.
        Columns(add[order], match[order], stock.waste[order], stock.table.held[order]),
        np.searchsorted(stock.size, np.arange(size + 1)),
        order,
        limits.keep(join),
        most,
        # What stacks to a full breadth is two bands, not one.
        limits.width - limits.narrowest if join == STACK else limits.target,
    )
