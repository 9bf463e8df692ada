"""A lay at once: bands filled by hand's rule, many times over with the rule shaken."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from random import Random

from marker.solver.problem import Problem
from marker.solver.tear.block import Block, beside, piece, stack

STACKED = (1, 1, 2, 2, 3, 4, 6)
"""Of how many pieces one behind the other a band may begin."""
ALIKE = 0.97
"""What stands behind another at the beginning of a band is at least so much of its breadth."""


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

    def band(self, deep: int = 1) -> Block:
        """Start a band with a long piece, or some `deep` of nearly its breadth, and fill the rest.

        Where a stack begins the band, long strips fit beside it from end to end.
        """
        lead = max(
            (shape for shape in self.shapes if self.stock[shape[3]]),
            key=lambda shape: (shape[1] * self._shaken(), shape[2]),
        )
        first, breadth = self._take(lead), lead[2]
        for _ in range(1, deep):
            like = [
                shape
                for shape in self.shapes
                if self.stock[shape[3]] and ALIKE * breadth <= shape[2] <= breadth
            ]
            if not like:
                break
            chosen = max(like, key=lambda shape: shape[0] * self._shaken())
            first = stack(first, self._take(chosen))
        rest = self.fill(first.a, self.problem.width - breadth)
        return beside(first, rest) if rest else first

    def _take(self, shape: tuple[int, int, int, int]) -> Block:
        _, a, b, kind = shape
        self.stock[kind] -= 1
        return piece(a, b, kind)

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


def fill_lay(
    problem: Problem,
    random: Random,
    shake: float,
    tries: int = 1,
    stock: Sequence[int] | None = None,
    deep: Sequence[int] = (1,),
) -> tuple[Block, ...]:
    """A row of bands by the rule, each the tightest of some; `shake` from 0 (the plain rule) up.

    Holds the pieces of `stock`, by default all. Each band begins with as many as chance draws
    from `deep`, one behind the other.
    """
    stock = [kind.count for kind in problem.kinds] if stock is None else list(stock)
    bands = []
    while any(stock):
        made = []
        for _ in range(tries):
            filler = Filler(problem, stock.copy(), random, shake)
            begun = random.choice(deep) if len(deep) > 1 else deep[0]
            made.append((filler.band(begun), filler.stock))
        band, stock = min(made, key=lambda item: waste_of(problem, item[0]) / item[0].a)
        bands.append(band)
    return tuple(bands)


def shaken_lays(problem: Problem, random: Random) -> Iterator[tuple[Block, ...]]:
    """Lays by the plain rule and then by the rule shaken, without end."""
    yield fill_lay(problem, random, 0.0)
    while True:
        yield _shaken_lay(problem, random, (1,))


def stacked_lays(problem: Problem, random: Random) -> Iterator[tuple[Block, ...]]:
    """Lays by the rule shaken of which many a band begins with a stack, without end."""
    while True:
        yield _shaken_lay(problem, random, STACKED)


def _shaken_lay(problem: Problem, random: Random, deep: Sequence[int]) -> tuple[Block, ...]:
    shake, each = random.choice((0.2, 0.5, 1.0, 1.5)), random.choice((1, 3, 10))
    return fill_lay(problem, random, shake, each, deep=deep)


def length_of(bands: Iterable[Block]) -> int:
    """Length of a row of bands."""
    return sum(band.a for band in bands)


def waste_of(problem: Problem, band: Block) -> int:
    """What a band leaves of the cloth across which it is torn."""
    return problem.width * band.a - sum(leaf.a * leaf.b for leaf in band.leaves())
