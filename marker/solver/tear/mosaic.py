"""Long lays with hardly any waste, laid by bands that waste nothing at all.

Where pieces all but fill their cloth, they were most likely torn from it, and so many of them
have a side in common. All blocks of a few pieces that fit edge to edge are built, and of those
of one length a band is chosen that comes to the full width. What pieces can do little with
others is laid first; once nothing fits without waste, a little is allowed. Then, over and over,
some bands are given up and their pieces laid anew with what was left over.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from math import isqrt
from random import Random
from time import monotonic

import numpy as np

from marker.solver.problem import Ints, Kind, Problem
from marker.solver.tear import edges
from marker.solver.tear.block import Block, beside, piece, stack
from marker.solver.tear.greedy import fill_lay, length_of, waste_of

ROWS = 100_000
"""Blocks in hand at most."""
EFFORT = 500
"""Steps that a search for one band may take."""
GIVEN_UP = 4
"""Bands that are given up at most in a round, besides wasteful ones."""
NOISE = (10, 30, 100)
"""By how much chance shakes what is laid first, in parts of 100."""
LOOSE = (20, 10, 5)
"""By what part of a middling piece's side blocks may fall short of their band, little by little."""
TRIES = 3
"""Times that what is left over is laid by the rule."""
MANY = 40
"""Bits of all that is wanted together: shaken products of it must stay within a word."""
FULL = 4
"""One part in so many of all cloth, laid without waste, promises more."""
PARTS = 64
"""Blocks side by side in a band at most."""


@dataclass(frozen=True)
class Laid:
    """Bands that fit edge to edge, the stock left of each kind, and that laid by the rule."""

    bands: tuple[Block, ...]
    stock: Ints
    rest: tuple[Block, ...]

    @property
    def lay(self) -> tuple[Block, ...]:
        """All pieces."""
        return self.bands + self.rest

    @property
    def length(self) -> int:
        """Length of it all."""
        return length_of(self.lay)


@dataclass
class Mosaic:
    """A lay of such bands under way.

    Once the clock shows `until` no more bands are sought, and all that is left is laid by the rule.
    """

    problem: Problem
    random: Random
    until: float | None = None
    laid: Laid = field(init=False)
    shapes: Ints = field(init=False)
    table: edges.Table = field(init=False)
    wants: Ints = field(init=False)

    def __post_init__(self) -> None:
        """Lay everything a first time."""
        kinds = self.problem.kinds
        stock = np.array([kind.count for kind in kinds], np.int64)
        rows = [(a, b, at) for at, kind in enumerate(kinds) for a, b in kind.shapes]
        self.shapes = np.array(rows, np.int64)
        self.table = np.zeros((ROWS, edges.COLUMNS), np.int64)
        self.wants = self._wants(stock)
        self.laid = self._lay((), stock)

    @property
    def promising(self) -> bool:
        """Whether a good part of the cloth could be laid without waste."""
        full = length_of(band for band in self.laid.bands if not waste_of(self.problem, band))
        return FULL * full * self.problem.width > self.problem.area

    def round(self) -> None:
        """Give up some bands and lay their pieces anew; keep what is no longer."""
        bands, stock = self.laid.bands, self.laid.stock.copy()
        gone = set(self.random.sample(range(len(bands)), min(len(bands), self._many())))
        for at, band in enumerate(bands):
            if waste_of(self.problem, band) and self.random.random() < 0.5:
                gone.add(at)
        for at in gone:
            for leaf in bands[at].leaves():
                stock[leaf.kind] += 1
        made = self._lay(tuple(band for at, band in enumerate(bands) if at not in gone), stock)
        if made.length <= self.laid.length:
            self.laid = made

    def rest(self) -> Problem:
        """What is left over, as a problem of its own; its kinds keep their numbers."""
        counts = self.laid.stock.tolist()
        kinds = zip(self.problem.kinds, counts, strict=True)
        return Problem(self.problem.width, tuple(Kind(kind.shapes, n) for kind, n in kinds))

    def _many(self) -> int:
        return self.random.randint(1, GIVEN_UP)

    def _wants(self, stock: Ints) -> Ints:
        """How much each kind is wanted: its area, the more the fewer blocks it is part of.

        Larger blocks count for less, since more pieces must come together.
        """
        made = edges.fill(self.table, self.shapes, stock, self.problem.width)
        held = [1] * len(stock)
        for row in self.table[:made].tolist():
            size = row[edges.SIZE]
            for kind in row[edges.KINDS : edges.KINDS + size]:
                held[kind] += 10 ** (edges.MOST - size)
        rare = [(kind.area << 32) // isqrt(n << 20)
                for kind, n in zip(self.problem.kinds, held, strict=True)]  # fmt: skip
        total = sum(n * want for n, want in zip(stock.tolist(), rare, strict=True))
        spare = max(0, total.bit_length() - MANY)
        return np.array([want >> spare for want in rare], np.int64)

    def _lay(self, kept: tuple[Block, ...], stock: Ints) -> Laid:
        """Lay band after band behind those kept, and at last by the rule what is left."""
        problem, noise = self.problem, self.random.choice(NOISE)
        made = edges.fill(self.table, self.shapes, stock, problem.width)
        ranked = np.argsort(self.table[:made, edges.A], kind="stable").astype(np.int64)
        side = isqrt(problem.area // problem.pieces)
        bands = list(kept)
        for loose in sorted({0, *(side // part for part in LOOSE)}):
            while not self._late and (band := self._band(ranked, stock, loose, noise)):
                bands.append(band)
                for leaf in band.leaves():
                    stock[leaf.kind] -= 1
        left = stock.tolist()
        tries = TRIES if any(left) else 1
        rests = [fill_lay(problem, self.random, 0.5, 5, left) for _ in range(tries)]
        return Laid(tuple(bands), stock, min(rests, key=length_of))

    @property
    def _late(self) -> bool:
        return self.until is not None and monotonic() >= self.until

    def _band(self, ranked: Ints, stock: Ints, loose: int, noise: int) -> Block | None:
        """A band of blocks that are in stock; None where nothing comes to the width."""
        chosen, state = np.zeros(PARTS, np.int64), self.random.randrange(1 << 30)
        want = edges.Want(self.problem.width, loose, noise, EFFORT)
        count = edges.best_band(self.table, ranked, stock, self.wants, want, state, chosen)
        rows = chosen[:count].tolist()
        return beside(*(self._block(row) for row in rows)) if rows else None

    def _block(self, row: int) -> Block:
        a, b, _, join, left, right, kind = self.table[row, : edges.KINDS + 1].tolist()
        if join == edges.SINGLE:
            return piece(a, b, kind)
        parts = self._block(left), self._block(right)
        return stack(*parts) if join == edges.STACK else beside(*parts)
