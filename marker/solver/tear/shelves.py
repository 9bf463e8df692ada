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
from marker.solver.tear.sieve import Weighed

GROUP, GROUPS = 64, 16
"""Blocks that are worth a group of their own, and groups at most."""
SAMPLE = 1024
"""Blocks by which it is settled where groups end."""
ROWS = 1024
"""Blocks whose partners are sought between two looks at the clock."""


@dataclass(frozen=True)
class Shelf:
    """Blocks of one number of pieces, and their places among all."""

    side: kernel.Side
    places: Ints

    @classmethod
    def of(cls, blocks: Columns, begin: int, end: int, weighed: Weighed) -> Shelf:
        """Put the blocks between two places, which stand in order of matched sides, on a shelf."""
        number = end - begin
        groups = max(1, min(GROUPS, number // GROUP))
        waste = blocks.waste[begin:end]
        sample = np.sort(waste[:: max(1, number // SAMPLE)])
        edges = sample[np.arange(1, groups) * len(sample) // groups]
        # Small numbers are sorted in one go.
        group = np.searchsorted(edges, waste, side="right").astype(np.uint8)
        order = np.argsort(group, kind="stable")
        start = np.unique(np.searchsorted(group[order], np.arange(groups + 1)))
        places = order + begin
        add, wastes, held = blocks.add[places], waste[order], blocks.held[places]
        side = kernel.Side(
            add,
            blocks.match[places],
            wastes,
            held,
            kernel.worths(weighed, held),
            start,
            np.minimum.reduceat(wastes, start[:-1]),
            np.minimum.reduceat(add, start[:-1]),
        )
        return cls(side, places)


def found(partners: Partners, purse: Purse) -> Iterator[tuple[Ints, Ints]]:
    """The pairs of blocks that pass, as their places. Raises `TooMany`."""
    packing, keep = partners.keep.sieve.packing, partners.keep
    with keep.sieve.arrays(keep.target) as weighed:
        top = weighed.order[0]
        breadths = weighed.rank[weighed.width - np.arange(weighed.width + 1)]
        rule = kernel.Rule(
            packing.full | packing.guard, packing.guard, keep.budget, partners.most,
            partners.widest, keep.across, keep.gap, keep.gaps,
            weighed.full[top] - weighed.gathered[breadths, top], weighed,
        )  # fmt: skip
        for one, two in _shelves(partners, weighed):
            yield from _between(one, two, rule, purse)


def _shelves(partners: Partners, weighed: Weighed) -> Iterator[tuple[Shelf, Shelf]]:
    """Pairs of shelves whose blocks together hold as many pieces as are wanted."""
    size, starts = partners.size, partners.starts
    shelves = {
        pieces: Shelf.of(partners.blocks, int(starts[pieces]), int(starts[pieces + 1]), weighed)
        for pieces in range(1, size)
        if starts[pieces] < starts[pieces + 1]
    }
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
