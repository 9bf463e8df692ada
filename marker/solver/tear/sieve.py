"""More measures than one, to tell the blocks that no short lay holds.

A measure (see `bounds`) whose worths suit the whole lay passes many a block that would leave the
rest of the cloth too short. For such a block worths of its own are sought: those by which the
block, as a piece like others, and all that it does not hold need the most length. The same linear
program gives them, and where they rule the block out they rule out many more, so they are kept
and every block is sifted by all of them. Only some blocks, drawn by lot, are given a program.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from functools import cached_property
from random import Random
from typing import NamedTuple

import numpy as np

from marker.solver.bounds import Measure, by_duals
from marker.solver.problem import Ints, Problem
from marker.solver.program import Item, Program, Row
from marker.solver.tear.packing import Flags, Packing, Purse, Words

COST, PART = 450, 0.5
"""What a program costs in pairs looked at, for every pair of pieces, and the part of all effort
that may go into programs."""
MISSES, FEW = 8, 0.02
"""So many draws that rule out no more than this part of the blocks end the drawing."""
LEAST = 40
"""Fewer blocks than that are not worth a program."""
TRACE = 0.02
"""What is asked of a kind that a block holds all of, so that it too gets a worth."""
ROUNDS = 200
MOST = 2000
"""Rows of the programs that are kept for later ones."""


class Weighed(NamedTuple):
    """Measures as arrays, and where in packed words the number of each kind stands.

    `order` has the most telling measures first. `rank` gives for each breadth up to `width` the
    row of `gathered`, in which what the measures gather there stands side by side; `spare` is what
    a target leaves of each measure, and `hits` counts the blocks that each rules out.
    """

    width: int
    order: Ints
    rank: Ints
    gathered: Ints
    full: Ints
    spare: Ints
    worth: Ints
    word: Ints
    shift: Words
    mask: Words
    hits: Ints


@dataclass
class Sieve:
    """Measures found for blocks, the most telling first, for one problem and all its targets."""

    problem: Problem
    packing: Packing
    measures: list[Measure]
    hits: list[int]
    random: Random = field(default_factory=lambda: Random(0))
    known: list[Row] = field(default_factory=list)
    side_by_side: Ints | None = None
    filled: int = 0

    @classmethod
    def of(cls, problem: Problem, worths: Measure) -> Sieve:
        """A sieve that knows one measure yet."""
        packing = Packing.of([kind.count for kind in problem.kinds])
        return cls(problem, packing, [worths], [0])

    def passes(self, held: Words, a: Ints, b: Ints, target: int, since: int = 0) -> Ints:
        """Rows of the blocks that no measure, from number `since` on, rules out."""
        alive = np.arange(len(a))
        if len(self.measures) == since or not len(alive):
            return alive
        counts, rank = self.packing.counts(held), self._rank[self.problem.width - b]
        for at in sorted(range(since, len(self.measures)), key=lambda at: -self.hits[at]):
            good = self._good(at, counts, a, rank, target)
            self.hits[at] += len(good) - int(good.sum())
            alive, counts, a, rank = alive[good], counts[good], a[good], rank[good]
            if not len(alive):
                break
        return alive

    @contextmanager
    def arrays(self, target: int) -> Iterator[Weighed]:
        """What the compiled loop reads of the measures, the most telling first; it counts hits."""
        measures = self.measures
        order = sorted(range(len(measures)), key=lambda at: -self.hits[at])
        hits = np.zeros(len(order), np.int64)
        packing = self.packing
        yield Weighed(
            self.problem.width,
            np.array(order),
            self._rank,
            self._beside(),
            np.array([measure.full for measure in measures]),
            np.array([self._spare(measure, target) for measure in measures]),
            np.stack([measure.worth for measure in measures]),
            np.array(packing.word),
            np.array(packing.shift, np.uint64),
            np.array([(1 << bits) - 1 for bits in packing.bits], np.uint64),
            hits,
        )
        for at, more in enumerate(hits.tolist()):
            self.hits[at] += more

    def _beside(self) -> Ints:
        """What all measures gather, side by side for each breadth.

        Blocks that pass ask for all measures at one breadth: far apart in memory, that cost more
        than all else.
        """
        known, count = self.side_by_side, len(self.measures)
        if known is None or known.shape[1] < count:
            self.side_by_side = np.zeros((len(self.measures[0].gathered), 2 * count + 6), np.int64)
            self.filled = 0
        assert self.side_by_side is not None
        for at in range(self.filled, count):
            self.side_by_side[:, at] = self.measures[at].gathered
        self.filled = count
        return self.side_by_side

    def learn(self, held: Words, a: Ints, b: Ints, target: int, purse: Purse) -> Ints:
        """Seek measures for some of the blocks; gives the rows of those that still pass.

        Takes no more than a part of all effort spent.
        """
        alive, misses, cost = np.arange(len(a)), 0, COST * self.problem.pieces**2
        counts, rank = self.packing.counts(held), self._rank[self.problem.width - b]
        while misses < MISSES and len(alive) >= LEAST:
            if purse.learnt + cost > PART * (purse.spent + cost):
                break
            purse.spend(cost)
            purse.learnt += cost
            drawn = alive[self.random.randrange(len(alive))]
            measure = self._seek(counts[drawn].tolist(), (int(a[drawn]), int(b[drawn])), target)
            if measure is None:
                misses += 1
                continue
            self.measures.append(measure)
            good = self._good(-1, counts[alive], a[alive], rank[alive], target)
            gone = len(good) - int(good.sum())
            self.hits.append(gone)
            misses = misses + 1 if gone < FEW * len(alive) else max(0, misses - 1)
            alive = alive[good]
        return alive

    def _seek(self, held: Sequence[int], size: tuple[int, int], target: int) -> Measure | None:
        """Worths by which a block and what it does not hold need more than the target, if any."""
        kinds = self.problem.kinds
        items = [Item(kind.count, kind.shapes) for kind in kinds]
        wanted = [max(kind.count - n, TRACE) for kind, n in zip(kinds, held, strict=True)]
        items.append(Item(1, (size,)))
        program = Program.of(self.problem.width, items, self.known, [*wanted, 1.0])
        program.run(ROUNDS, below=target)
        self.known += [row for row in program.found if all(index < len(kinds) for index, _ in row)]
        del self.known[:-MOST]
        if program.kept <= target:
            return None
        return by_duals(self.problem, program.best[: len(kinds)].tolist())

    @cached_property
    def _rank(self) -> Ints:
        """For each breadth the place of the row that fills it best."""
        marks = np.zeros(self.problem.width + 1, np.int64)
        marks[self.measures[0].rows] = 1
        rank: Ints = np.cumsum(marks) - 1
        return rank

    def _good(self, at: int, counts: Ints, a: Ints, rank: Ints, target: int) -> Flags:
        """Which blocks miss no more of a measure's worth than the target leaves to spare.

        Worth counts in the rows through a block: it misses what they could gather without it.
        """
        measure = self.measures[at]
        missed = a * (measure.full - measure.gathered[rank])
        for kind, worth in enumerate(measure.worth.tolist()):
            if worth:
                missed -= counts[:, kind] * worth
        good: Flags = missed <= self._spare(measure, target)
        return good

    def _spare(self, measure: Measure, target: int) -> int:
        return measure.full * target - measure.total(self.problem)
