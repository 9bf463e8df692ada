"""Which pairs of blocks can be joined at all: the inner loop of the enumeration.

Two engines give the same pairs: array operations, which need no warming up, and for a search that
has grown long the compiled loop in `kernel`, led by `shelves`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np

from marker.solver.problem import Ints
from marker.solver.stop import whole
from marker.solver.tear.packing import Flags, Purse, Words
from marker.solver.tear.sieve import Sieve

if TYPE_CHECKING:
    from marker.solver.tear.shelves import Shelf

CHUNK = 1 << 15
"""Pairs at a time: so many that their columns stay in the processor's cache."""
HEAVY = 3_000_000
"""Pairs looked at before the compiled engine is worth its loading (half a second)."""


@dataclass(frozen=True)
class Columns:
    """The side that a join adds up, the side that it matches, waste inside, pieces held."""

    add: Ints
    match: Ints
    waste: Ints
    held: Words

    def between(self, begin: int, end: int) -> Columns:
        """Those from one place up to another."""
        part = slice(begin, end)
        return Columns(self.add[part], self.match[part], self.waste[part], self.held[part])


@dataclass(frozen=True)
class Keep:
    """What a joined block must keep to: a budget of waste, the demand, and a sieve at a target.

    `gap` is what pieces in a row leave open at best of each room that the added sides leave,
    `gaps` the same for the matched ones. `across` is set where the sides across add up. `shelves`
    keeps those already set up, see there.
    """

    budget: int
    sieve: Sieve
    target: int
    across: bool
    gap: Ints
    gaps: Ints
    shelves: dict[tuple[bool, int, int], Shelf] = field(default_factory=dict)

    def rows(self, held: Words, add: Ints, match: Ints, waste: Ints) -> Ints:
        """Which of the joined blocks, of the demand, may lie in a lay."""
        lost = waste + add * self.gaps[len(self.gaps) - 1 - match]
        lost += match * self.gap[len(self.gap) - 1 - add]
        rows = np.flatnonzero(lost <= self.budget)
        a, b = (match, add) if self.across else (add, match)
        return rows[self.sieve.passes(held[rows], a[rows], b[rows], self.target)]


@dataclass(frozen=True)
class Partners:
    """Blocks among which pairs of `size` pieces are sought, in order of pieces and matched side.

    Those of n pieces stand from place `starts[n]` up to `starts[n + 1]`; `order` gives their rows
    of the stock. A pair passes if its waste, with that of the unequal matched sides, is within the
    budget, its added sides come to `most` at most, no matched side is over `widest`, the demand
    holds for its pieces, and `keep` does not rule out the block that they make.
    """

    size: int
    blocks: Columns
    starts: Ints
    order: Ints
    keep: Keep
    most: int
    widest: int

    def pairs(self, purse: Purse) -> Iterator[tuple[Ints, Ints]]:
        """The pairs that pass, each once, as rows of the stock. Raises `TooMany`."""
        engine = self._compiled if purse.spent > HEAVY else self._arrays
        for one, two in engine(purse):
            first, second = self.order[one], self.order[two]
            # Of as many pieces the one that was made first comes first, whichever way they met.
            swap = self._alike(one) & (first > second)
            yield np.where(swap, second, first), np.where(swap, first, second)

    def _alike(self, one: Ints) -> Flags:
        """Which blocks are joined with blocks of as many pieces."""
        first = len(self.order) if self.size % 2 else self.starts[self.size // 2]
        alike: Flags = one >= first
        return alike

    def _arrays(self, purse: Purse) -> Iterator[tuple[Ints, Ints]]:
        blocks = self.blocks
        for one, two in spans(*self._ranges(), purse):
            more, step = blocks.add[two], blocks.match[one] - blocks.match[two]
            lost = np.where(step > 0, step * more, -step * blocks.add[one])
            lost += blocks.waste[one] + blocks.waste[two]
            good = (lost <= self.keep.budget) & (blocks.add[one] + more <= self.most)
            good &= np.maximum(blocks.match[one], blocks.match[two]) <= self.widest
            good &= ~self._alike(one) | (one <= two)
            rows = np.flatnonzero(good)
            one, two, lost = one[rows], two[rows], lost[rows]
            held = blocks.held[one] + blocks.held[two]
            rows = np.flatnonzero(self.keep.sieve.packing.fits(held))
            one, two, lost, held = one[rows], two[rows], lost[rows], held[rows]
            match = np.maximum(blocks.match[one], blocks.match[two])
            rows = self.keep.rows(held, blocks.add[one] + blocks.add[two], match, lost)
            yield one[rows], two[rows]

    def _ranges(self) -> tuple[Ints, Ints]:
        """For each block of few pieces the places between which partners match it well enough."""
        blocks, size, starts = self.blocks, self.size, self.starts
        pieces = np.repeat(np.arange(size), np.diff(starts))
        span = max(self.most, int(blocks.match.max(initial=0))) + 1
        ranked = pieces * span + blocks.match
        least = np.full(size, span, np.int64)
        np.minimum.at(least, pieces, blocks.add)
        few = int(starts[size // 2 + 1])
        match, other = blocks.match[:few], size - pieces[:few]
        spare = self.keep.budget - blocks.waste[:few]
        low = np.maximum(match - spare // least[other], 0)
        high = np.minimum(match + spare // blocks.add[:few], span - 1)
        return (
            np.searchsorted(ranked, other * span + low, side="left"),
            np.searchsorted(ranked, other * span + high, side="right"),
        )

    def _compiled(self, purse: Purse) -> Iterator[tuple[Ints, Ints]]:
        with whole():
            from marker.solver.tear.shelves import found

        yield from found(self, purse)


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
