"""Lays met by crowding: pieces put on less cloth than the best lay takes, and moved apart."""

from __future__ import annotations

from dataclasses import dataclass, field
from random import Random
from threading import Event

import numpy as np

from marker.solver.problem import Ints, Problem
from marker.solver.shears import crowd
from marker.solver.shears.crowd import Singles
from marker.solver.shears.strip import Sizes, Spots, pushed
from marker.solver.spots import reach

SHRINK, FAR = 0.002, 0.25
"""Part of the best length that a try aims to save, or by lot up to that part of what lies above the
goal, if that is more: what is still poor is soon far shorter."""
ROUNDS, PATIENCE = 1000, 100
"""Rounds of moves in a try at most, and how many it goes on without its bites getting less."""
STRIKES = 20
"""Tries that a line of them has: each changes the nearest miss of the line so far."""
FROM_BEST = 0.5
"""How often a line begins from the best lay rather than with pieces thrown on the cloth by lot."""
LONGEST = 1 << 22
"""Up to that length and width, in scaled steps, sums of places are exact as single floats."""
POWER = 0.25
"""Of a piece's area: its part in the worth of a bite. Large pieces should settle first."""


@dataclass(frozen=True)
class Table:
    """The copies of a problem one by one, as the compiled loop takes them."""

    sizes: Sizes
    kinds: Ints
    pieces: crowd.Pieces

    @classmethod
    def of(cls, problem: Problem) -> Table:
        """Every copy by itself, those of a kind together."""
        sizes = Sizes.of(problem)
        kinds = np.repeat(np.arange(len(problem.kinds)), sizes.counts)
        areas = np.array([float(problem.kinds[kind].area) for kind in kinds])
        pieces = crowd.Pieces(
            float(problem.width),
            np.ascontiguousarray(sizes.shapes[:, :2], np.float32),
            sizes.order,
            np.bincount(sizes.shapes[:, 2])[kinds],
            ((areas / areas.max()) ** POWER).astype(np.float32),
        )
        return cls(sizes, kinds, pieces)

    def places(self, spots: Spots) -> Singles:
        """The x, y and shape of every copy in a lay."""
        shapes = {tuple(row): at for at, row in enumerate(self.sizes.shapes.tolist())}
        ranked = sorted(spots, key=lambda spot: spot.kind)
        rows = [(spot.x, spot.y, shapes[spot.a, spot.b, spot.kind]) for spot in ranked]
        return np.array(rows, np.float32).T.copy()

    def spots(self, places: Singles) -> Spots:
        """The lay that these places are."""
        return tuple(self.sizes.spot(int(shape), x, y) for x, y, shape in places.T)

    def laid(self, places: Singles) -> crowd.Crowd:
        """The copies where they lie, with room for their prices."""
        n = len(self.kinds)
        shape = places[2].astype(np.int64)
        a, b = (np.ascontiguousarray(self.pieces.sizes[shape, axis]) for axis in (0, 1))
        price = np.zeros((n, n), np.float32)
        return crowd.Crowd(places[0].copy(), places[1].copy(), a, b, shape, price, places.copy())

    def room(self) -> crowd.Room:
        """Room for the loop to work in."""
        n = len(self.kinds)
        reach, way, pressed = (np.zeros((rows, n), np.float32) for rows in (5, 4, 2))
        ys, place, hurt = (np.zeros(size, np.float32) for size in (2 * n + 3, 2, n))
        return crowd.Room(reach, way, ys, place, hurt, np.zeros(n, np.int64), pressed)


@dataclass
class Line:
    """Tries that follow from each other: the nearest miss so far, and how many there were."""

    places: Singles
    bites: float = np.inf
    tries: int = 0


@dataclass(frozen=True)
class Tried:
    """What came of a try: the least sum of bites, where, and the lay where there are none."""

    line: Line
    bites: float
    places: Singles
    spots: Spots = ()


@dataclass(frozen=True)
class Try:
    """Pieces to be moved apart on a length, to be run anywhere: it holds nothing others change."""

    table: Table
    line: Line
    places: Singles
    length: int
    best: int
    seed: int

    def run(self, stop: Event) -> Tried:
        """Move them apart, unless `stop` is set."""
        if stop.is_set():
            return Tried(self.line, np.inf, self.places)
        table = self.table
        made = table.laid(self.places)
        bites = crowd.separate(
            table.pieces, made, table.room(), self.length, self.best, ROUNDS, PATIENCE, self.seed
        )
        spots = pushed(table.spots(made.least)) if bites == 0 else ()
        return Tried(self.line, bites, made.least, spots)


@dataclass
class Crowds:
    """Lines of tries at ever shorter lengths; `drawn` counts the tries.

    `best` is the length to be bettered, `idle` are the lines that none is at work on.
    """

    problem: Problem
    random: Random
    drawn: int = 0
    best: int = 0
    idle: list[Line] = field(default_factory=list)
    table: Table = field(init=False)

    def __post_init__(self) -> None:
        self.table = Table.of(self.problem)

    def next(self, best: Spots, goal: int) -> Try | None:
        """The next try, at a length from `goal` to below the best; None for cloth too large."""
        length = reach(best)
        if max(length, self.problem.width) > LONGEST:
            return None
        part = FAR * self.random.random() * (length - goal)
        shorter = max(goal, length - max(1, int(SHRINK * length), int(part)))
        if length != self.best:
            # Mostly one more can be saved in the same way.
            self.best, self.idle = length, [Line(self._cut(best, length, shorter))]
        line = self.idle.pop() if self.idle else self._begun(best, shorter)
        places = self._swapped(line.places) if line.tries else line.places
        self.drawn += 1
        return Try(self.table, line, places, shorter, length, self.random.randrange(1 << 30))

    def settle(self, tried: Tried) -> None:
        """Take in what came of a try: its line goes on from the nearest miss."""
        line = tried.line
        line.tries += 1
        if tried.bites < line.bites:
            line.bites, line.places = tried.bites, tried.places
        if line.tries < STRIKES and not tried.spots:
            self.idle.append(line)

    def _begun(self, best: Spots, length: int) -> Line:
        """A new line of tries."""
        if self.random.random() < FROM_BEST:
            return Line(self._swapped(self._cut(best, reach(best), length)))
        return Line(self._thrown(length))

    def _thrown(self, length: int) -> Singles:
        """All pieces anywhere on the cloth."""
        pieces, random = self.table.pieces, self.random
        shape = [
            first + random.randrange(many)
            for first, many in zip(pieces.first.tolist(), pieces.many.tolist(), strict=True)
        ]
        sizes = pieces.sizes[shape].tolist()
        x = [int(random.random() * max(0.0, length - a)) for a, _ in sizes]
        y = [int(random.random() * (pieces.width - b)) for _, b in sizes]
        return np.array([x, y, shape], np.float32)

    def _cut(self, best: Spots, length: int, shorter: int) -> Singles:
        """Take a strip out of the cloth at a place drawn by lot."""
        places = self.table.places(best)
        at = self.random.random() * length
        middle = places[0] + self.table.pieces.sizes[places[2].astype(np.int64), 0] / 2
        places[0] -= np.where(middle > at, np.float32(length - shorter), np.float32(0))
        return places

    def _swapped(self, places: Singles) -> Singles:
        """Let two pieces of different kinds change places, large ones sooner than small ones."""
        table, places = self.table, places.copy()
        worth = (table.pieces.factor.astype(float) ** (1 / POWER)).tolist()
        one = self.random.choices(range(len(worth)), worth)[0]
        others = np.flatnonzero(table.kinds != table.kinds[one]).tolist()
        if not others:
            return places
        two = self.random.choices(others, [worth[other] for other in others])[0]
        shapes = places[2].astype(np.int64)
        for axis in (0, 1):
            more = table.pieces.sizes[shapes[one], axis] - table.pieces.sizes[shapes[two], axis]
            half = np.float32(int(more) // 2)
            places[axis, one], places[axis, two] = (
                places[axis, two] - half,
                places[axis, one] + half,
            )
        return places
