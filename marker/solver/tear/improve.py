"""Betterment of a long lay: a few bands at a time are taken apart and laid again, exactly.

A round takes one to four bands, breaks them into a dozen blocks or fewer (compound blocks
that waste nothing stay whole as long as they can), and looks for a shorter row of bands
that holds the same blocks, by the enumeration that proves small lays. The budget of waste
is what these bands waste now, and so it is small and the search short.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, replace
from random import Random

import numpy as np

from marker.solver.bounds import Measure
from marker.solver.problem import Kind, Problem, Shape
from marker.solver.tear.block import Block
from marker.solver.tear.exact import shortest_within
from marker.solver.tear.greedy import fill_lay, length_of, waste_of
from marker.solver.tear.packing import Purse, TooMany

MOST_BLOCKS = 11
EFFORT = 1_500_000
PATIENCE = 60


@dataclass
class Betterment:
    """A lay under betterment, and rounds since it last grew shorter.

    When many rounds bring nothing, some bands are filled afresh by the greedy rule, which
    may lengthen the lay for a while; if nothing comes of that, the best lay is taken up again.
    """

    problem: Problem
    worths: Measure
    random: Random
    best: tuple[Block, ...]
    until: float | None = None
    row: tuple[Block, ...] = ()
    idle: int = 0

    def round(self) -> None:
        """Lay a few bands of the row again, shorter; or shake the row when it is stuck."""
        if self.idle >= PATIENCE or not self.row:
            self.row = self._shaken(self.best)
            self.idle = 0
        chosen = _choose(self.problem, self.row, self.random)
        blocks = _take_apart([self.row[index] for index in chosen], self.random)
        most = sum(self.row[index].a for index in chosen) - 1
        found = repack(self.problem, self.worths, blocks, most, Purse(EFFORT, self.until))
        self.idle += 1
        if found is not None:
            self._take(tuple(found), chosen)
            self.idle = 0

    def _take(self, found: tuple[Block, ...], chosen: set[int]) -> None:
        kept = tuple(band for index, band in enumerate(self.row) if index not in chosen)
        self.row = kept + found
        if length_of(self.row) < length_of(self.best):
            self.best = self.row

    def _shaken(self, row: tuple[Block, ...]) -> tuple[Block, ...]:
        """The row with some bands filled afresh: the tightest refill of a few."""
        if self.random.random() < 0.25:
            return fill_lay(self.problem, self.random, 1.0, 10)
        count = min(len(row), self.random.choice((2, 3, 4, 6)))
        chosen = set(self.random.sample(range(len(row)), count))
        stock = [0] * len(self.problem.kinds)
        for index in chosen:
            for kind, number in row[index].counts().items():
                stock[kind] += number
        kept = tuple(band for index, band in enumerate(row) if index not in chosen)
        refills = (fill_lay(self.problem, self.random, 1.0, 3, stock) for _ in range(10))
        return kept + min(refills, key=length_of)


def repack(
    problem: Problem, worths: Measure, blocks: Sequence[Block], most: int, purse: Purse
) -> list[Block] | None:
    """A shortest row of bands of these blocks, if one of length `most` or less is met."""
    groups: dict[tuple[tuple[Shape, ...], int], list[Block]] = defaultdict(list)
    for block in blocks:
        shapes = ((block.a, block.b),) if block.parts else problem.kinds[block.kind].shapes
        worth = sum(int(worths.worth[leaf.kind]) for leaf in block.leaves())
        groups[shapes, worth].append(block)
    ranked = sorted(groups.items(), key=lambda item: -item[0][0][0][0] * item[0][0][0][1])
    kinds = tuple(Kind(shapes, len(members)) for (shapes, _), members in ranked)
    sub = Problem(problem.width, kinds)
    measure = replace(worths, worth=np.array([worth for (_, worth), _ in ranked], np.int64))
    lengths = sub.sums(0, most)
    target = int(lengths[-1])
    if measure.bound(sub) > target or -(-sub.area // sub.width) > target:
        return None
    try:
        row = shortest_within(sub, target, measure, purse)
    except TooMany:
        return None
    if row is None:
        return None
    waiting = [list(members) for _, members in ranked]
    return [_put_back(band, waiting) for band in row]


def _put_back(block: Block, waiting: list[list[Block]]) -> Block:
    """A block of the small problem with the true blocks in the places of its pieces."""
    if block.parts:
        parts = tuple(_put_back(part, waiting) for part in block.parts)
        return replace(block, parts=parts)
    true = waiting[block.kind].pop()
    return true if true.parts else replace(block, kind=true.kind)


def _choose(problem: Problem, bands: Sequence[Block], random: Random) -> set[int]:
    """One to four bands; those that waste more are likelier."""
    count = min(len(bands), random.choice((1, 2, 2, 2, 3, 3, 4)))
    chosen: set[int] = set()
    loss = [waste_of(problem, band) ** 0.5 + 1.0 for band in bands]
    while len(chosen) < count:
        chosen.update(random.choices(range(len(bands)), loss))
    return chosen


def _take_apart(bands: Sequence[Block], random: Random) -> list[Block]:
    """Break bands into blocks, the most wasteful first, until they are many enough."""
    blocks = [part for band in bands for part in (band.parts or (band,))]
    most = random.choice((MOST_BLOCKS - 2, MOST_BLOCKS - 1, MOST_BLOCKS))
    while True:
        room = most - len(blocks)
        open_blocks = [block for block in blocks if block.parts and len(block.parts) <= room + 1]
        if not open_blocks:
            return blocks
        broken = max(open_blocks, key=lambda block: (_waste(block), random.random()))
        blocks.remove(broken)
        blocks += broken.parts


def _waste(block: Block) -> int:
    return block.a * block.b - sum(leaf.a * leaf.b for leaf in block.leaves())
