"""Blocks of one number of pieces on shelves, in groups that are alike, for the compiled pair check.

Most pairs of blocks hold more pieces of some kind than there are, waste too much together or miss
too much of a measure. In a group pieces, waste and sides differ little, so that most of a block's
partners are ruled out a group at a time.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from marker.solver.problem import Ints
from marker.solver.tear import groups, kernel
from marker.solver.tear.packing import Purse
from marker.solver.tear.partners import CHUNK, Partners
from marker.solver.tear.sieve import Weighed

GROUP = 64
"""Blocks in a group, where it may be of use."""
ADDED, MATCHED = 3.0, 2.0
"""How much it counts, where groups are made, that sides differ, in parts of the most; that numbers
of pieces or waste differ, in parts of all, counts once."""
TELLING = 8
"""Measures by which the worth of every block on a shelf is kept."""
ROWS = 1024
"""Blocks whose partners are sought between two looks at the clock."""


@dataclass(frozen=True)
class Shelf:
    """Blocks of one number of pieces, and their places among all."""

    side: kernel.Side
    places: Ints

    @classmethod
    def of(cls, partners: Partners, begin: int, end: int) -> Shelf:
        """Put the blocks between two places, which stand in order of matched sides, on a shelf."""
        packing, blocks = partners.keep.sieve.packing, partners.blocks.between(begin, end)
        counts, waste, add, match = (
            packing.counts(blocks.held), blocks.waste, blocks.add, blocks.match
        )  # fmt: skip
        figures = np.column_stack(
            (
                counts / packing.counts(packing.full[None]),
                waste / max(1, partners.keep.budget),
                add * (ADDED / partners.most),
                match * (MATCHED / max(1, partners.widest)),
            )
        )
        order, start = groups.parted(figures, _size(partners.keep.budget, add, match))
        held, waste, add, match = blocks.held[order], waste[order], add[order], match[order]
        least = groups.least(counts[order], start)
        # Which measures tell most changes, so worths are put in later.
        nothing = np.empty((0, 0), np.int64)
        side = kernel.Side(
            add,
            match,
            waste,
            held,
            nothing,
            nothing,
            start,
            np.minimum.reduceat(waste, start[:-1]),
            np.minimum.reduceat(add, start[:-1]),
            match[start[:-1]],
            match[start[1:] - 1],
            packing.packed(least),
        )
        return cls(side, order)


def _size(budget: int, add: Ints, match: Ints) -> int:
    """How many blocks go into a group: all, where next to nothing may be wasted.

    Matched sides then differ so little that few partners come in question, which are found
    sooner in one row of blocks than in many.
    """
    number, span = len(add), int(match[-1] - match[0]) + 1
    reach = min(span, 2 * budget * number // int(add.sum()))
    return max(GROUP, GROUP * span // (2 * reach + 1))


def found(partners: Partners, purse: Purse) -> Iterator[tuple[Ints, Ints]]:
    """The pairs of blocks that pass, as their places. Raises `TooMany`."""
    packing, keep = partners.keep.sieve.packing, partners.keep
    with keep.sieve.arrays(keep.target) as weighed:
        top = weighed.order[:TELLING]
        rule = kernel.Rule(
            packing.full | packing.guard, packing.guard, keep.budget, partners.most,
            partners.widest, keep.across, keep.gap, keep.gaps,
            weighed.full[top] - weighed.gathered[:, top], weighed.rank[::-1].copy(),
            weighed.spare[top], weighed,
        )  # fmt: skip
        for one, two in _shelves(partners, weighed):
            yield from _between(one, two, rule, purse)


def _shelves(partners: Partners, weighed: Weighed) -> Iterator[tuple[Shelf, Shelf]]:
    """Pairs of shelves whose blocks together hold as many pieces as are wanted."""
    size, starts, kept = partners.size, partners.starts, partners.keep.shelves
    shelves = {}
    for pieces in range(1, size):
        begin, end = int(starts[pieces]), int(starts[pieces + 1])
        if begin == end:
            continue
        # Blocks are only ever taken off a shelf: where as many stand on it, they are the same.
        key = partners.keep.across, pieces, end - begin
        if key not in kept:
            kept[key] = Shelf.of(partners, begin, end)
        shelf = kept[key]
        side = shelf.side
        worth = kernel.worths(weighed, side.held, min(TELLING, len(weighed.order)))
        worthy = groups.most(worth, side.start)
        shelves[pieces] = Shelf(side._replace(worth=worth, worthy=worthy), shelf.places + begin)
    for pieces in range(1, size // 2 + 1):
        if pieces in shelves and size - pieces in shelves:
            yield shelves[pieces], shelves[size - pieces]


def _between(
    one: Shelf, two: Shelf, rule: kernel.Rule, purse: Purse
) -> Iterator[tuple[Ints, Ints]]:
    """The pairs that pass of blocks on one shelf with those on another, or on the same."""
    room = CHUNK + len(two.places)
    first, second = np.empty(room, np.int64), np.empty(room, np.int64)
    row = 0
    while row < len(one.places):
        last = min(row + ROWS, len(one.places))
        number, row, looked = kernel.pairs(
            one.side, two.side, one is two, rule, row, last, first, second
        )
        purse.spend(looked)
        yield one.places[first[:number]], two.places[second[:number]]
