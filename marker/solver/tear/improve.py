"""Betterment of a lay: aim at a shorter length, and make room for what is left over.

The bands that a target length has room for are kept, the pieces of the others wait in a pool. A
round takes a part of the lay into a few blocks (see `rooms`), adds some pieces from the pool, and
puts together the most valuable block that fits in the same room (see `knit`). What did not find
room goes to the pool; an empty pool is a shorter lay. Value is what a piece is worth in the
bound, and a little area: what is hard to lay counts for more than what fits in anywhere.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from random import Random

import numpy as np

from marker.lay import Direction
from marker.solver.bounds import Measure
from marker.solver.problem import Ints, Problem, Shape
from marker.solver.tear import knit
from marker.solver.tear.block import Block, beside, piece, stack
from marker.solver.tear.greedy import fill_lay, length_of
from marker.solver.tear.packing import WORD, Words
from marker.solver.tear.rooms import Figures, Room, choose_room, put_back, shorten, take_apart

VALUE = 1 << 20
"""Value of a unit of length across the whole cloth."""
AREA_PART = 0.1
BLOCKS, MOST_BLOCKS = 11.0, 24.0
"""Blocks that a room is taken into, to begin with and at most."""
TABLES = (400, 400, 1600, 6400)
"""Blocks that may be put together of them in a round: few for many rounds, many for good ones."""
PATIENCE, ROUNDS_EACH, MORE = 150.0, 1.0, 1.02
"""Rounds without a gain before another target is tried: in all, or for each piece if those are
more; and by how much that grows each time."""
FIRST_STEP = 0.5
"""The first target and the furthest, as a part of the way to the bound."""
FROM_POOL = (1, 1, 2, 2, 3, 4)
"""Pieces of the pool that are tried in a room."""
TOLERANCE = 0.3
"""By how much the pool may at most grow beyond its least, as a part of a middling piece."""
LOOSE = 200
"""A room may waste as much as it does, and one part in so many of its pieces."""
COMPLETE = 200
"""Every so many rounds the pool is laid behind the row as it is."""
STUCK = 1200
"""Rounds without a shorter lay after which a middling one is begun afresh, and next time gone on
with: a few pieces can hold each other fast."""


@dataclass(frozen=True)
class Desk:
    """Arrays that the compiled loop works in, made once."""

    across: Words
    along: Words
    slots: Ints
    blocks: Ints

    @classmethod
    def of(cls, width: int, length: int) -> Desk:
        """A desk for rooms up to these sizes."""
        words = max(width, length) // 64 + 2
        return cls(
            np.zeros(words, np.uint64),
            np.zeros(words, np.uint64),
            np.zeros(knit.SLOTS, np.int64),
            np.zeros((max(TABLES), knit.COLUMNS), np.int64),
        )


@dataclass(frozen=True)
class Group:
    """Blocks of one size, or pieces of one kind, that are put together again."""

    shapes: tuple[Shape, ...]
    area: int
    value: int
    blocks: list[Block]


@dataclass
class Betterment:
    """A lay under betterment: the row that fits the target, the pool, and the best lay met.

    `waiting` is the value of the pool, `least` the least that it has been at this target. `wanted`
    gives the length that is wanted most where a lay of some length is at hand. With `starts` the
    work begins afresh with one of them where it is stuck; `line` is the best since it last began.
    """

    problem: Problem
    worths: Measure
    random: Random
    best: tuple[Block, ...]
    bound: int
    wanted: Callable[[int], int] | None = None
    starts: Iterator[tuple[Block, ...]] | None = None
    line: tuple[Block, ...] = field(init=False)
    figures: Figures = field(init=False)
    gathered: Ints = field(init=False)
    desk: Desk = field(init=False)
    row: tuple[Block, ...] = ()
    pool: list[int] = field(default_factory=list)
    target: int = 0
    waiting: int = 0
    least: int = 0
    step: float = FIRST_STEP
    patience: float = field(init=False)
    idle: int = 0
    stuck: int = 0
    afresh: bool = False
    many: dict[int, float] = field(default_factory=lambda: dict.fromkeys(TABLES, BLOCKS))

    def __post_init__(self) -> None:
        """Set up values, and aim at a first target."""
        problem, worths = self.problem, self.worths
        by_worth = VALUE * (1 - AREA_PART) / worths.full
        by_area = VALUE * AREA_PART / problem.width
        # Never nought: a pool without value must be a pool without pieces.
        values = [
            max(1, int(worth * by_worth + kind.area * by_area))
            for worth, kind in zip(worths.worth.tolist(), problem.kinds, strict=True)
        ]
        self.figures = Figures([kind.area for kind in problem.kinds], values)
        gathered = worths.gathered * by_worth + worths.rows * by_area
        self.gathered = np.ceil(gathered).astype(np.int64)
        self._begin(self.best)

    def _begin(self, bands: tuple[Block, ...]) -> None:
        """Begin with a lay, of whatever length."""
        # Another lay may be longer, and the compiled loop never looks where an array ends.
        self.desk = Desk.of(self.problem.width, length_of(bands))
        self.line, self.step, self.stuck = bands, FIRST_STEP, 0
        self.patience = max(PATIENCE, ROUNDS_EACH * self.problem.pieces)
        self._aim()

    def round(self) -> None:
        """Take a part of the lay apart and put it together better; aim anew when that is stuck."""
        self.idle += 1
        self.stuck += 1
        if self._relay():
            self.waiting = self._value_of_pool()
        if not self.waiting:
            self._shorten(self.row)
            self._aim()
        elif self.waiting < self.least:
            self.least, self.idle = self.waiting, 0
            self._complete()
        elif self.idle % COMPLETE == 0:
            self._complete()
        if self.starts is not None and self.stuck >= STUCK:
            self.afresh = not self.afresh
            self._begin(next(self.starts) if self.afresh else self.best)
        elif self.idle > self.patience:
            self._aim_nearer()

    def adopt(self, bands: tuple[Block, ...]) -> None:
        """Take over a shorter lay found elsewhere; go on from it, unless just begun afresh."""
        if length_of(bands) < length_of(self.best):
            self.best = bands
            if not self.afresh:
                self.line, self.stuck = bands, 0
                self._aim()

    def _shorten(self, bands: tuple[Block, ...]) -> None:
        """Keep a lay that is shorter than those since the work began, and perhaps than all."""
        self.line = bands
        if length_of(bands) < length_of(self.best):
            self.best, self.stuck = bands, 0

    def _aim(self) -> None:
        """Aim at a length between the bound and the best, and keep the bands that it holds."""
        length = length_of(self.line)
        self.target = max(self.bound, length - max(1, int((length - self.bound) * self.step)))
        wanted = self.wanted(length) if self.wanted else 0
        often = self.step == FIRST_STEP or self.random.random() < 0.5
        if self.bound <= wanted < length and often:
            self.target = wanted
        self.idle = 0
        self.pool = [0] * len(self.problem.kinds)
        left, out = shorten(stack(*self.line), self.target, self.figures, self.random)
        for block in out:
            self._to_pool(block)
        row = () if left is None else left.parts if left.direction is Direction.ACROSS else (left,)
        self.row = row
        self.waiting = self.least = self._value_of_pool()

    def _value_of_pool(self) -> int:
        values = self.figures.values
        return sum(n * value for n, value in zip(self.pool, values, strict=True) if n)

    def _aim_nearer(self) -> None:
        """Aim at another target, oftener a near one; little by little with more patience."""
        self.step = FIRST_STEP * self.random.random() * self.random.random()
        self.patience *= MORE
        self._aim()

    def _complete(self) -> None:
        """Lay the pool behind the row: it may be a shorter lay than the best all the same."""
        rest = fill_lay(self.problem, self.random, 0.5, 5, self.pool)
        if length_of(self.row) + length_of(rest) < length_of(self.line):
            self._shorten(self.row + rest)

    def _to_pool(self, block: Block, times: int = 1) -> None:
        for leaf in block.leaves():
            self.pool[leaf.kind] += times

    def _relay(self) -> bool:
        """Put a room together anew, unless the pool would grow by too much; whether it was."""
        random = self.random
        table = random.choice(TABLES)
        most = max(4, int(self.many[table]) + random.choice((-1, 0, 1)))
        wanted = min(random.choice(FROM_POOL), most // 2)
        width = self.problem.width
        room = choose_room(self.row, self.target, width, most - wanted, self.figures, random)
        blocks = take_apart(room.blocks, most - wanted, self.figures, random)
        groups = self._groups(blocks, self._from_pool(wanted, room))
        made = self._knit(groups, room, blocks, table)
        if made is None:
            return False
        old = sum(self.figures.of(block)[1] for block in blocks)
        mean = self.problem.area * VALUE // (width * self.problem.pieces)
        allowed = self.least + mean * TOLERANCE * random.random() * random.random()
        if self.waiting + old - self.figures.of(made)[1] > allowed:
            return False
        for block in blocks:
            self._to_pool(block)
        self._to_pool(made, -1)
        self.row = put_back(self.row, room, made)
        return True

    def _from_pool(self, wanted: int, room: Room) -> list[Block]:
        """Some pieces of the pool that fit the room; the more value waits, the likelier."""
        stock = {kind: number for kind, number in enumerate(self.pool) if number}
        shapes = {
            kind: [
                (a, b) for a, b in self.problem.kinds[kind].shapes if a <= room.a and b <= room.b
            ]
            for kind in stock
        }
        found: list[Block] = []
        while len(found) < wanted:
            fit = [kind for kind, number in stock.items() if number and shapes[kind]]
            if not fit:
                break
            weights = [stock[kind] * (self.figures.values[kind] + 1) for kind in fit]
            kind = self.random.choices(fit, weights)[0]
            stock[kind] -= 1
            found.append(piece(*shapes[kind][0], kind))
        return found

    def _groups(self, blocks: Sequence[Block], added: Sequence[Block]) -> list[Group]:
        groups: dict[tuple[tuple[Shape, ...], int, int], Group] = {}
        for block in (*added, *blocks):
            kinds = self.problem.kinds
            shapes = ((block.a, block.b),) if block.parts else kinds[block.kind].shapes
            area, value, _ = self.figures.of(block)
            group = groups.setdefault((shapes, area, value), Group(shapes, area, value, []))
            group.blocks.append(block)
        return list(groups.values())

    def _knit(
        self, groups: Sequence[Group], room: Room, blocks: Sequence[Block], table: int
    ) -> Block | None:
        """The most valuable block of these groups in the room; None if none is worth having."""
        shapes = np.zeros((len(groups), 4), np.int64)
        count = np.array([len(group.blocks) for group in groups], np.int64)
        figures = np.zeros((len(groups), 3), np.int64)
        noise = self.random.choice((0.0, 0.0, 0.03, 0.1))
        at, spare, guard = 0, 0, 0
        shaken: dict[tuple[tuple[Shape, ...], int, int], int] = {}
        for index, group in enumerate(groups):
            flat = [side for shape in group.shapes for side in shape]
            shapes[index, : len(flat)] = flat
            value = int(group.value * (1 + noise * (self.random.random() - 0.5)))
            shaken[group.shapes, group.area, group.value] = value
            bits = len(group.blocks).bit_length()
            if at + bits >= WORD:
                return None
            figures[index] = group.area, value, 1 << at
            spare |= (len(group.blocks) | 1 << bits) << at
            at += bits + 1
            guard |= 1 << (at - 1)
        held = self._groups(blocks, ())
        area = sum(group.area * len(group.blocks) for group in held)
        value = sum(shaken[g.shapes, g.area, g.value] * len(g.blocks) for g in held)
        rows, desk = self.worths.rows, self.desk
        full = int(self.gathered[np.searchsorted(rows, room.b, side="right") - 1])
        want = knit.Want(
            room.a, room.b, room.a * room.b - area + area // LOOSE, room.a * full - value,
            rows, self.gathered, desk.across, desk.along, desk.slots, desk.blocks[:table],
        )  # fmt: skip
        best, made, whole = knit.knit(want, shapes, count, figures, spare, guard)
        # As many blocks as the table can just hold all that they give.
        change = -0.1 if not whole else 0.02 if made < table // 2 else 0.0
        self.many[table] = min(MOST_BLOCKS, max(5.0, self.many[table] + change))
        if best < 0:
            return None
        return self._build(int(best), [list(group.blocks) for group in groups])

    def _build(self, row: int, waiting: list[list[Block]]) -> Block:
        """The block of a row of the table, with the true blocks in it."""
        a, b, _, _, _, join, left, right, _ = self.desk.blocks[row].tolist()
        if join == knit.SINGLE:
            # Those that lay there already stand last, and are taken first.
            true = waiting[left].pop()
            return true if true.parts else piece(a, b, true.kind)
        parts = self._build(left, waiting), self._build(right, waiting)
        return stack(*parts) if join == knit.STACK else beside(*parts)
