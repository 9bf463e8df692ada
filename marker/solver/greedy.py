"""A lay at once: bands filled by hand's rule, many times over with the rule shaken."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from random import Random

from marker.solver.block import Block, beside, piece, stack
from marker.solver.problem import Problem


@dataclass
class Filler:
    """Fills rectangles from a stock of pieces; what it lays leaves the stock."""

    problem: Problem
    stock: list[int]
    random: Random
    shake: float

    def __post_init__(self) -> None:
        self.shapes = [
            (a * b, a, b, kind)
            for kind, item in enumerate(self.problem.kinds)
            for a, b in item.shapes
        ]

    def band(self) -> Block:
        """Start a band with a long piece and fill its breadth."""
        lead = max(
            (shape for shape in self.shapes if self.stock[shape[3]]),
            key=lambda shape: (shape[1] * self._shaken(), shape[2]),
        )
        _, a, b, kind = lead
        self.stock[kind] -= 1
        first = piece(a, b, kind)
        rest = self.fill(a, self.problem.width - b)
        return beside(first, rest) if rest else first

    def fill(self, a: int, b: int) -> Block | None:
        """Fill a rectangle with a piece in the corner, what lies behind it, and beside it."""
        best, chosen = 0.0, None
        for area, long, wide, kind in self.shapes:
            if long <= a and wide <= b and self.stock[kind]:
                snug = area * (1.0 + (long == a) * 0.5 + (wide == b) * 0.5) * self._shaken()
                if snug > best:
                    best, chosen = snug, (long, wide, kind)
        if chosen is None:
            return None
        long, wide, kind = chosen
        self.stock[kind] -= 1
        first = piece(long, wide, kind)
        # The tear that leaves the larger rectangle whole comes first.
        if max((a - long) * b, long * (b - wide)) > max(a * (b - wide), (a - long) * wide):
            row = _with(beside, first, self.fill(long, b - wide))
            return _with(stack, row, self.fill(a - long, b))
        row = _with(stack, first, self.fill(a - long, wide))
        return _with(beside, row, self.fill(a, b - wide))

    def _shaken(self) -> float:
        return 1.0 + self.shake * (self.random.random() - 0.5)


def _with(join: Callable[..., Block], first: Block, rest: Block | None) -> Block:
    return join(first, rest) if rest else first


def fill_lay(problem: Problem, random: Random, shake: float) -> tuple[Block, ...]:
    """One lay by the rule; `shake` from 0 (the plain rule) up."""
    filler = Filler(problem, [kind.count for kind in problem.kinds], random, shake)
    bands = []
    while any(filler.stock):
        bands.append(filler.band())
    return tuple(bands)


def greedy(problem: Problem, random: Random, tries: int) -> tuple[Block, ...]:
    """The shortest of some lays by the rule."""
    best = fill_lay(problem, random, 0.0)
    for _ in range(tries - 1):
        other = fill_lay(problem, random, random.choice((0.2, 0.5, 1.0)))
        if length_of(other) < length_of(best):
            best = other
    return best


def length_of(bands: tuple[Block, ...]) -> int:
    """Length of a row of bands."""
    return sum(band.a for band in bands)
