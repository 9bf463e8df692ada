"""Which pairs of blocks can be joined at all: the inner loop of the enumeration.

Two engines give the same pairs in the same order: array operations, which need no warming
up, and for a search that has grown long the compiled loop in `kernel`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from marker.solver.problem import Ints
from marker.solver.stop import whole
from marker.solver.tear.packing import Flags, Purse, Words
from marker.solver.tear.sieve import Sieve

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


@dataclass(frozen=True)
class Keep:
    """What a joined block must keep to: a budget of waste, the demand, and a sieve at a target.

    `gap` is what pieces in a row leave open at best of each room that the added sides leave,
    `gaps` the same for the matched ones. `across` is set where the sides across add up.
    """

    budget: int
    sieve: Sieve
    target: int
    across: bool
    gap: Ints
    gaps: Ints

    def rows(self, held: Words, add: Ints, match: Ints, waste: Ints) -> Ints:
        """Which of the joined blocks, of the demand, may lie in a lay."""
        lost = waste + add * self.gaps[len(self.gaps) - 1 - match]
        lost += match * self.gap[len(self.gap) - 1 - add]
        rows = np.flatnonzero(lost <= self.budget)
        a, b = (match, add) if self.across else (add, match)
        return rows[self.sieve.passes(held[rows], a[rows], b[rows], self.target)]


@dataclass(frozen=True)
class Partners:
    """For each block of `one` a range of blocks of `two` that may be joined with it.

    A pair passes if its waste, with that of the unequal matched sides, is within the budget, its
    added sides come to `most` at most, no matched side is over `widest`, the demand holds for its
    pieces, and `keep` does not rule out the block that they make. `order` gives rows of the stock
    for rows of `two`; rows of `one` are its first rows. `twice` marks rows whose pairs are met
    both ways round.
    """

    begin: Ints
    end: Ints
    order: Ints
    twice: Flags
    one: Columns
    two: Columns
    keep: Keep
    most: int
    widest: int

    def pairs(self, purse: Purse) -> Iterator[tuple[Ints, Ints]]:
        """The pairs that pass, each once, as rows of the stock. Raises `TooMany`."""
        engine = self._compiled if purse.spent > HEAVY else self._arrays
        for first, place in engine(purse):
            second = self.order[place]
            once = np.flatnonzero(~self.twice[first] | (first <= second))
            yield first[once], second[once]

    def _arrays(self, purse: Purse) -> Iterator[tuple[Ints, Ints]]:
        one, two = self.one, self.two
        for first, place in spans(self.begin, self.end, purse):
            more, step = two.add[place], one.match[first] - two.match[place]
            lost = np.where(step > 0, step * more, -step * one.add[first])
            lost += one.waste[first] + two.waste[place]
            good = (lost <= self.keep.budget) & (one.add[first] + more <= self.most)
            good &= np.maximum(one.match[first], two.match[place]) <= self.widest
            rows = np.flatnonzero(good)
            first, place, lost = first[rows], place[rows], lost[rows]
            held = one.held[first] + two.held[place]
            rows = np.flatnonzero(self.keep.sieve.packing.fits(held))
            first, place, lost, held = first[rows], place[rows], lost[rows], held[rows]
            match = np.maximum(one.match[first], two.match[place])
            rows = self.keep.rows(held, one.add[first] + two.add[place], match, lost)
            yield first[rows], place[rows]

    def _compiled(self, purse: Purse) -> Iterator[tuple[Ints, Ints]]:
        with whole():
            from marker.solver.tear import kernel

        one, two, keep = self.one, self.two, self.keep
        packing = keep.sieve.packing
        purse.spend(int(np.maximum(self.end - self.begin, 0).sum()))
        first, second = np.empty(CHUNK, np.int64), np.empty(CHUNK, np.int64)
        with keep.sieve.arrays(keep.target) as weighed:
            sifting = kernel.Sifting(keep.across, keep.gap, keep.gaps, weighed)
            row, place = 0, 0
            while row < len(self.begin):
                found, row, place = kernel.pairs(
                    self.begin, self.end,
                    one.add, one.match, one.waste, one.held,
                    two.add, two.match, two.waste, two.held,
                    packing.full | packing.guard, packing.guard,
                    keep.budget, self.most, self.widest,
                    row, place, first, second, sifting,
                )  # fmt: skip
                purse.spend(0)
                yield first[:found].copy(), second[:found].copy()


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
