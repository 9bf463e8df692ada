"""Lower bounds on the length, and the weights behind them that prune the search.

Any straight row across the cloth meets every copy of a piece at most once. Give each kind
a worth; a piece of length `a` then brings worth / a to every row that meets it. If no row
can gather more than `full`, a lay needs at least (worth of all pieces) / full of length.
Worth = area gives the area bound, already sharper than plain area, since `full` counts
only widths that rows fill. The best worths solve a linear program, the fractional cutting
stock problem (Gilmore and Gomory, Operations Research 9, 1961; from memory): they are dual
feasible functions made to measure. The program runs in floating point and is not trusted:
the worths are rounded to whole numbers and the fullest row is found anew, exactly.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from marker.solver.problem import Ints, Problem

FINE, ROOM = 28, 60
"""Bits behind the point in a weight, and the bits that no sum of worths may outgrow."""
ROUNDS, WORK = 120, 6000
Floats = NDArray[np.float64]
AREA = "the area of the pieces, in rows that pieces side by side can fill"
TALLEST = "the longest piece"
ROWS = "the fullest rows that fit across the cloth"


@dataclass(frozen=True)
class Measure:
    """Worth of a copy of each kind, and the most worth a row of each breadth can gather.

    `gathered[i]` belongs to breadths from `rows[i]` up to the next; whole numbers.
    """

    worth: Ints
    rows: Ints
    gathered: Ints

    @property
    def full(self) -> int:
        """The most that a row across the whole width gathers."""
        return int(self.gathered[-1])

    def total(self, problem: Problem) -> int:
        """Worth of all pieces."""
        return sum(int(w) * k.count for w, k in zip(self.worth, problem.kinds, strict=True))

    def within(self, breadth: Ints) -> Ints:
        """The most worth a row of each breadth gathers."""
        found: Ints = self.gathered[np.searchsorted(self.rows, breadth, side="right") - 1]
        return found

    def bound(self, problem: Problem) -> int:
        """The least length that holds the worth of all pieces."""
        return -(-self.total(problem) // self.full)


@dataclass(frozen=True)
class Rows:
    """Rows of pieces side by side: all the breadths they fill, and the copies to choose from."""

    problem: Problem
    sums: Ints

    @classmethod
    def of(cls, problem: Problem) -> Rows:
        """The rows across the cloth of a problem."""
        return cls(problem, problem.sums(1, problem.width))

    def gather(self, weights: list[list[int]]) -> Ints:
        """The most weight in a row of each breadth; `weights` per kind and shape."""
        best, _ = self._fill(weights, np.int64)
        return best.astype(np.int64)

    def fullest(self, weights: list[list[float]]) -> list[tuple[int, int]]:
        """The (kind, shape) of each piece in a heaviest row across the width."""
        _, steps = self._fill(weights, np.float64)
        at, found = len(self.sums) - 1, []
        for kind, choice in reversed(steps):
            shape = int(choice[at])
            if shape:
                found.append((kind, shape - 1))
                b = self.problem.kinds[kind].shapes[shape - 1][1]
                at = int(np.searchsorted(self.sums, self.sums[at] - b, side="right")) - 1
        return found

    def _fill(
        self,
        weights: list[list[int]] | list[list[float]],
        number: type[np.int64] | type[np.float64],
    ) -> tuple[NDArray[np.int64 | np.float64], list[tuple[int, NDArray[np.int8]]]]:
        best = np.zeros(len(self.sums), number)
        steps = []
        for kind, item in enumerate(self.problem.kinds):
            froms = [
                (np.searchsorted(self.sums, self.sums - b, side="right") - 1)
                for _, b in item.shapes
            ]
            for _ in range(min(item.count, self.problem.width // min(b for _, b in item.shapes))):
                choice = np.zeros(len(self.sums), np.int8)
                after = best.copy()
                for shape, came in enumerate(froms):
                    first = int(np.searchsorted(came, 0))
                    offer = best[came[first:]] + weights[kind][shape]
                    better = offer > after[first:]
                    after[first:][better] = offer[better]
                    choice[first:][better] = shape + 1
                if not choice.any():
                    break
                best = after
                steps.append((kind, choice))
        return best, steps


def by_area(problem: Problem) -> Measure:
    """The measure whose worth is area."""
    rows = problem.sums(1, problem.width)
    return Measure(np.array([kind.area for kind in problem.kinds], np.int64), rows, rows)


def by_rows(problem: Problem) -> Measure:
    """The measure of the best worths found by the linear program, exact once rounded."""
    rows = Rows.of(problem)
    duals = _program(problem, rows)
    longest = sum(max(a for a, _ in kind.shapes) * kind.count for kind in problem.kinds)
    scale = 1 << max(1, min(FINE, ROOM - longest.bit_length()))
    # Rounded up per row, so that what a piece brings to its rows never falls below its worth.
    weights = [
        [int(np.ceil(dual / a * scale)) for a, _ in kind.shapes]
        for dual, kind in zip(duals, problem.kinds, strict=True)
    ]
    worth = [
        min(weight * a for weight, (a, _) in zip(each, kind.shapes, strict=True))
        for each, kind in zip(weights, problem.kinds, strict=True)
    ]
    return Measure(np.array(worth, np.int64), rows.sums, rows.gather(weights))


def _program(problem: Problem, rows: Rows) -> list[float]:
    """Worths of the fractional program: rows are added as columns while one still pays."""
    kinds = problem.kinds
    demand = np.array([kind.count for kind in kinds], float)
    basis = np.zeros((len(kinds), len(kinds)))
    for index, kind in enumerate(kinds):
        # Rows of one kind alone; no more copies side by side than there are.
        a, b = min(kind.shapes, key=lambda shape: shape[1])
        basis[index, index] = min(kind.count, problem.width // b) / a
    # Worth = area to begin with: the program may be cut short, but never ends below that.
    best = np.array([kind.area for kind in kinds], float) / float(rows.sums[-1])
    kept = float(best @ demand)
    for _ in range(min(ROUNDS, WORK // len(kinds))):
        try:
            inverse = np.linalg.inv(basis)
        except np.linalg.LinAlgError:
            break
        duals = np.maximum(inverse.sum(axis=0), 0.0)
        column, value = _fullest_row(problem, rows, duals)
        if float(duals @ demand) / value > kept:
            best, kept = duals / value, float(duals @ demand) / value
        if value <= 1 + 1e-9:
            break
        amounts, change = inverse @ demand, inverse @ column
        ratio = np.where(change > 1e-12, amounts / np.where(change > 1e-12, change, 1), np.inf)
        basis[:, int(np.argmin(ratio))] = column
    return [float(dual) for dual in best]


def _fullest_row(problem: Problem, rows: Rows, duals: Floats) -> tuple[Floats, float]:
    """The row worth most by these duals, as copies per unit of length, and its worth."""
    kinds = problem.kinds
    weights = [
        [float(dual) / a for a, _ in kind.shapes] for dual, kind in zip(duals, kinds, strict=True)
    ]
    column, value = np.zeros(len(kinds)), 0.0
    for index, shape in rows.fullest(weights):
        column[index] += 1 / kinds[index].shapes[shape][0]
        value += weights[index][shape]
    return column, value
