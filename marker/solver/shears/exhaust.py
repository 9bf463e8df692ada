"""Search a lay of a given length through, or prove that there is none, in slices of effort.

One target can be searched along the cloth or, with the axes changed about, across it, and its
pieces tried in many orders; some find a lay at once where others take for ever. So several
searches are started, each with twice the effort of the one before.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property
from random import Random

import numpy as np

from marker.solver.bounds import Measure, by_area, by_duals, by_rows
from marker.solver.problem import Ints, Problem
from marker.solver.shears import tree
from marker.solver.shears.strip import Sizes, Spots, swapped
from marker.solver.spots import Spot

EXACT = 1024
"""Up to that width and length the sums of the sizes left are kept exactly at every state."""
Worths = tuple[float, ...]
WIDEST = 500_000
"""Wider or longer strips in scaled steps would make the tables too large."""


@dataclass(frozen=True)
class Target:
    """A length to be met, and all that its searches share. `turned` lays along the other axis.

    `worths` of the kinds in rows across and in columns along the cloth, known from another length,
    spare this one the search for the best.
    """

    problem: Problem
    length: int
    turned: bool = False
    until: float | None = None
    worths: tuple[Worths, Worths] | None = None

    @cached_property
    def strip(self) -> Problem:
        """The problem as it is searched: its width across, its length `far` along."""
        return swapped(self.problem, self.length) if self.turned else self.problem

    @property
    def far(self) -> int:
        """The length to be met by the strip that is searched."""
        return self.problem.width if self.turned else self.length

    @cached_property
    def sizes(self) -> Sizes:
        """The shapes that fit the target."""
        return Sizes.of(swapped(swapped(self.strip, self.far), self.strip.width))

    @cached_property
    def measures(self) -> tuple[tuple[Measure, ...], tuple[Measure, ...]]:
        """Bounds on what rows across and columns along can gather."""
        columns = swapped(self.strip, self.far)
        if self.worths is None:
            best = by_rows(self.strip, until=self.until), by_rows(columns, until=self.until)
        else:
            first, second = self.worths[:: -1 if self.turned else 1]
            best = by_duals(self.strip, first), by_duals(columns, second)
        return (by_area(self.strip), best[0]), (by_area(columns), best[1])

    @cached_property
    def tables(self) -> tuple[Ints, Ints]:
        """The measures by breadth and by length, each with a row of its own for exact sums."""
        rows, columns = self.measures
        return _tables(rows, self.strip.width), _tables(columns, self.far)

    @cached_property
    def worth(self) -> Ints:
        """For each kind its area, then its worth by each measure."""
        rows, columns = self.measures
        area = np.array([kind.area for kind in self.strip.kinds], np.int64)
        return np.stack([area, *(measure.worth for measure in (*rows, *columns))], axis=1)

    @property
    def hopeless(self) -> bool:
        """Whether no lay can meet it: a piece is too long for it."""
        return len(set(self.sizes.shapes[:, 2].tolist())) < len(self.problem.kinds)


def _tables(measures: tuple[Measure, ...], length: int) -> Ints:
    breadths = np.arange(length + 1)
    exact = np.zeros(length + 1, np.int64)
    return np.stack([*(measure.within(breadths) for measure in measures), exact])


@dataclass
class Exhaustion:
    """One search of one target, which can be gone on with; `noise` mixes the order of trial."""

    target: Target
    random: Random
    noise: float = 0.0
    depth: int = 0
    outcome: int = tree.TIRED
    left: Ints = field(init=False)

    def __post_init__(self) -> None:
        strip, sizes = self.target.strip, self.target.sizes
        n = strip.pieces
        states = 3 * n + 4
        self.left = sizes.counts.copy()
        self.fronts = np.zeros((states, 3, n + 4), np.int64)
        self.marks = np.full((states, 7), tree.NEW, np.int64)
        self.needs = np.zeros((states, self.target.worth.shape[1]), np.int64)
        self.fronts[0, 0, 1] = strip.width
        self.marks[0, tree.STEPS] = 1
        self.needs[0] = self.left @ self.target.worth
        self.normal = strip.sums(1, strip.width)
        keys = [
            a * b * self.random.uniform(1.0, 1.0 + self.noise) for a, b, _ in sizes.shapes.tolist()
        ]
        self.order = np.array(sorted(range(len(keys)), key=lambda at: -keys[at]), np.int64)
        across, along = self.target.tables
        self.exact = max(across.shape[1], along.shape[1]) <= EXACT
        # Exact sums are written into the tables, so each search then has its own.
        self.tables = (across.copy(), along.copy()) if self.exact else (across, along)

    def run(self, effort: int) -> int:
        """Go on through so many states; gives `tree.FOUND`, `EXHAUSTED` or `TIRED`."""
        across, along = self.tables
        self.outcome, self.depth = tree.explore(
            self.fronts,
            self.marks,
            self.needs,
            self.target.worth,
            self.target.sizes.shapes,
            self.left,
            self.order,
            self.normal,
            across,
            along,
            self.exact,
            self.depth,
            effort,
        )
        return self.outcome

    def spots(self) -> Spots:
        """The lay that was found."""
        taken = self.marks[: self.depth]
        lay = (
            self.target.sizes.spot(mark[tree.TAKEN], mark[tree.X], mark[tree.Y])
            for mark in taken
            if mark[tree.TAKEN] >= 0
        )
        if not self.target.turned:
            return tuple(lay)
        return tuple(Spot(spot.kind, spot.b, spot.a, spot.y, spot.x) for spot in lay)
