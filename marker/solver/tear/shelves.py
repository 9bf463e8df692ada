"""Blocks of one number of pieces on shelves, in groups by their waste, for the compiled pair check.

What two blocks waste together must stay within the budget, and most blocks waste much. So the
partners of a block are sought group by group, from those that waste little on: the narrower are
the ranges in which matched sides may differ, and what is left of the groups wastes too much.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from marker.solver.problem import Ints
from marker.solver.tear import kernel
from marker.solver.tear.packing import Purse
from marker.solver.tear.partners import CHUNK, Columns, Partners

GROUP, GROUPS = 64, 16
"""Blocks that are worth a group of their own, and groups at most."""
ROWS = 1024
"""Blocks whose partners are sought in one go."""


@dataclass(frozen=True)
class Shelf:
    """Blocks of one number of pieces, and their places among all."""

    side: kernel.Side
    places: Ints

    @classmethod
    def of(cls, blocks: Columns, begin: int, end: int) -> Shelf:
        """Put the blocks between two places, which stand in order of matched sides, on a shelf."""
        number = end - begin
        groups = max(1, min(GROUPS, number // GROUP))
        waste = blocks.waste[begin:end]
        rank = np.empty(number, np.int64)
        rank[np.argsort(waste, kind="stable")] = np.arange(number)
        group = rank * groups // max(1, number)
        order = np.argsort(group, kind="stable")
        start = np.searchsorted(group[order], np.arange(groups + 1))
        places = order + begin
        add, wastes = blocks.add[places], waste[order]
        side = kernel.Side(
            add,
            blocks.match[places],
            wastes,
            blocks.held[places],
            start,
            np.minimum.reduceat(wastes, start[:-1]),
            np.minimum.reduceat(add, start[:-1]),
        )
        return cls(side, places)


def found(partners: Partners, purse: Purse) -> Iterator[tuple[Ints, Ints]]:
    """The pairs of blocks that pass, as their places. Raises `TooMany`."""
    size, starts, keep = partners.size, partners.starts, partners.keep
    packing = keep.sieve.packing
    shelves = {
        pieces: Shelf.of(partners.blocks, int(starts[pieces]), int(starts[pieces + 1]))
        for pieces in range(1, size)
        if starts[pieces] < starts[pieces + 1]
    }
    with keep.sieve.arrays(keep.target) as weighed:
        rule = kernel.Rule(
            packing.full | packing.guard, packing.guard, keep.budget, partners.most,
            partners.widest, keep.across, keep.gap, keep.gaps, weighed,
        )  # fmt: skip
        for pieces in range(1, size // 2 + 1):
            if pieces in shelves and size - pieces in shelves:
                yield from _between(shelves[pieces], shelves[size - pieces], rule, purse)


def _between(
    one: Shelf, two: Shelf, rule: kernel.Rule, purse: Purse
) -> Iterator[tuple[Ints, Ints]]:
    """The pairs of blocks on two shelves, or on one if they are the same, that pass."""
    room = CHUNK + len(two.places)
    first, second = np.empty(room, np.int64), np.empty(room, np.int64)
    row = 0
    while row < len(one.places):
        last = min(row + ROWS, len(one.places))
        number, row, looked = kernel.pairs(
            one.side, two.side, one is two, rule, row, last, first, second, rule.weighed.hits
        )
        purse.spend(looked)
        yield one.places[first[:number]], two.places[second[:number]]
