"""The linear program of rows: how few units of length hold all items, if lengths could be split.

Every unit of length of the cloth carries one row of pieces side by side. The program mixes rows
so that each kind is met along all its length (the fractional cutting stock problem; Gilmore and
Gomory, Operations Research 9, 1961; from memory). Its dual values are what `bounds` wants: the
worth of a copy of each kind, where no row across the cloth gathers more than 1. Floating point
throughout: nothing here is trusted, `bounds` makes it exact. Only sums in a fixed order are used,
so that every machine gets the same figures.

Rows are found by a knapsack over a grid. Duals that jump about bring useless rows, so the
knapsack is asked at a point between the best duals so far and the newest ones.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from time import monotonic

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Row = Sequence[tuple[int, int]]
"""Pieces side by side: the item and the way in which it lies, of each."""
GRID = 16_384
"""Cells of the knapsack; a larger capacity is measured on a coarser grid."""
SMOOTH = 0.7
EPSILON, CLOSE = 1e-9, 2e-5
PIVOTS = 64
"""Pivots after which the inverse of the basis is computed afresh."""


@dataclass(frozen=True)
class Item:
    """Copies of one kind; in each way it may lie it takes a size of a row, over a span of rows."""

    count: int
    ways: tuple[tuple[float, int], ...]


@dataclass(frozen=True)
class Knapsack:
    """Finds the fullest row: which items side by side within the capacity are worth most."""

    capacity: int
    steps: tuple[tuple[int, tuple[int, ...]], ...]
    table: Floats

    @classmethod
    def of(cls, capacity: int, items: Sequence[Item]) -> Knapsack:
        """Set up the grid. Sizes are rounded down to it, so no row is overlooked."""
        grain = -(-capacity // GRID)
        steps: list[tuple[int, tuple[int, ...]]] = []
        for index, item in enumerate(items):
            cells = tuple(size // grain for _, size in item.ways)
            copies = min(item.count, capacity // grain // max(1, min(cells)))
            steps += [(index, cells)] * copies
        cells_across = capacity // grain
        return cls(cells_across, tuple(steps), np.zeros((len(steps) + 1, cells_across + 1)))

    def fullest(self, weights: Sequence[Sequence[float]]) -> list[tuple[int, int]]:
        """The (item, way) of each in a row worth most; `weights` per item and way."""
        table, room = self.table, self.capacity + 1
        for at, (index, cells) in enumerate(self.steps):
            before, after = table[at], table[at + 1]
            after[:] = before
            for weight, size in zip(weights[index], cells, strict=True):
                if size < room:
                    np.maximum(after[size:], before[: room - size] + weight, out=after[size:])
        return self._trace(weights)

    def _trace(self, weights: Sequence[Sequence[float]]) -> list[tuple[int, int]]:
        found, at = [], self.capacity
        for step in range(len(self.steps) - 1, -1, -1):
            value = self.table[step + 1, at]
            if value == self.table[step, at]:
                continue
            index, cells = self.steps[step]
            for way, size in enumerate(cells):
                if size <= at and self.table[step, at - size] + weights[index][way] == value:
                    found.append((index, way))
                    at -= size
                    break
        return found


@dataclass
class Program:
    """The program under way: rows known so far, a basis of them, and the best duals met.

    `length` is the value from above, what the rows known so far need; `kept`, the value from
    below, belongs to the duals `best`.
    """

    items: Sequence[Item]
    knapsack: Knapsack
    demand: Floats
    rows: Floats
    basis: list[int]
    inverse: Floats
    amounts: Floats
    best: Floats
    kept: float
    pivots: int = 0
    seen: set[bytes] = field(default_factory=set)
    found: list[Row] = field(default_factory=list)

    @classmethod
    def of(
        cls,
        capacity: int,
        items: Sequence[Item],
        known: Iterable[Row] = (),
        wanted: Sequence[float] = (),
    ) -> Program:
        """Begin with rows of one kind alone, the known ones at hand, and area for worth.

        Of each item so much is `wanted`, by default all copies.
        """
        single = np.zeros((len(items), len(items)))
        for at, item in enumerate(items):
            # No more copies side by side than there are.
            span, size = min(item.ways, key=lambda way: way[1])
            single[at, at] = min(item.count, capacity // size) / span
        columns = {column.tobytes(): column for column in (_column(items, row) for row in known)}
        demand = np.array(wanted or [item.count for item in items], float)
        # The program may be cut short, but its answer is never worse than area.
        area = [min(span * size for span, size in item.ways) / capacity for item in items]
        best = np.array(area, float)
        return cls(
            items,
            Knapsack.of(capacity, items),
            demand,
            np.column_stack((single, *columns.values())),
            list(range(len(items))),
            np.diag(1 / single.diagonal()),
            demand / single.diagonal(),
            best,
            float((best * demand).sum()),
            seen=set(columns),
        )

    @property
    def length(self) -> float:
        """What the rows known so far need."""
        return float(self.amounts.sum())

    def run(
        self,
        rounds: int,
        until: float | None = None,
        over: float | None = None,
        below: float = 0.0,
    ) -> None:
        """Go on for so many rounds, or until that clock time.

        With `over` it ends as soon as it is known whether the value passes that; with `below`
        once the value can't, for it is no use then.
        """
        for _ in range(rounds):
            try:
                while self.pivot():
                    pass
            except ZeroDivisionError:
                break
            if self.length <= below:
                break
            if over is not None and (self.kept > over or self.length <= over):
                break
            if not self.price() or (until is not None and monotonic() > until):
                break

    def price(self) -> bool:
        """Look for a row that pays at smoothed duals, else at the newest; False if none does."""
        duals = np.maximum(self.inverse.sum(axis=0), 0.0)
        between = SMOOTH * self.best + (1 - SMOOTH) * duals
        for asked in (between, duals):
            row, column, value = self._fullest(asked)
            kept = float((asked * self.demand).sum()) / value
            if kept > self.kept:
                self.best, self.kept = np.array(asked / value, np.float64), kept
            pays = float((duals * column).sum()) > 1 + EPSILON
            if pays and column.tobytes() not in self.seen:
                self.seen.add(column.tobytes())
                self.found.append(row)
                self.rows = np.hstack((self.rows, column[:, None]))
                return True
            if self.length - self.kept <= CLOSE * self.kept:
                return False
        return False

    def pivot(self) -> bool:
        """Bring the row that pays best into the basis; False where none pays."""
        # No matrix products: a library's threads cost more than they bring, and sum as they like.
        duals = self.inverse.sum(axis=0)
        paid = (duals[:, None] * self.rows).sum(axis=0)
        enter = int(np.argmax(paid))
        if paid[enter] <= 1 + EPSILON:
            return False
        change = (self.inverse * self.rows[:, enter]).sum(axis=1)
        ratio = np.where(change > 1e-11, self.amounts / np.where(change > 1e-11, change, 1), np.inf)
        leave = int(np.argmin(ratio))
        if not np.isfinite(ratio[leave]):
            return False
        self.basis[leave] = enter
        self.pivots += 1
        if self.pivots % PIVOTS == 0:
            self.inverse = _inverse(self.rows[:, self.basis])
        else:
            _eliminate(self.inverse, change, leave)
        self.amounts = (self.inverse * self.demand).sum(axis=1)
        return True

    def _fullest(self, duals: Floats) -> tuple[Row, Floats, float]:
        """The row worth most by these duals, also as copies per unit of length, and its worth."""
        weights = [
            [float(dual) / span for span, _ in item.ways]
            for dual, item in zip(duals, self.items, strict=True)
        ]
        row = self.knapsack.fullest(weights)
        return row, _column(self.items, row), sum(weights[index][way] for index, way in row)


def _column(items: Sequence[Item], row: Row) -> Floats:
    """A row as copies of each item per unit of length."""
    column = np.zeros(len(items))
    for index, way in row:
        column[index] += 1 / items[index].ways[way][0]
    return column


def _eliminate(inverse: Floats, change: Floats, leave: int) -> None:
    """Bring an inverse up to date when a basis takes a new column in the place `leave`."""
    row = inverse[leave] / change[leave]
    inverse -= change[:, None] * row
    inverse[leave] = row


def _inverse(matrix: Floats) -> Floats:
    """The inverse of a matrix, column after column. Raises `ZeroDivisionError` without one."""
    found, size = np.eye(len(matrix)), len(matrix)
    order: list[int] = []
    for at in range(size):
        change = (found * matrix[:, at]).sum(axis=1)
        free = np.abs(change)
        free[order] = 0.0
        pivot = int(np.argmax(free))
        if free[pivot] < 1e-12:
            raise ZeroDivisionError
        _eliminate(found, change, pivot)
        order.append(pivot)
    return found[order]


def worths(
    capacity: int,
    items: Sequence[Item],
    known: Iterable[Row] = (),
    *,
    rounds: int,
    until: float | None = None,
    over: float | None = None,
) -> tuple[list[float], float]:
    """Worth of a copy of each item, the best met in so many rounds or until that clock time.

    Also gives the value: what all items are worth. With `over` the search ends as soon as it is
    known whether the value passes that.
    """
    program = Program.of(capacity, items, known)
    program.run(rounds, until, over)
    return program.best.tolist(), program.kept
