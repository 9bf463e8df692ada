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

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from marker.solver.problem import Ints, Problem
from marker.solver.program import Item, Row, worths

FINE, ROOM = 28, 60
"""Bits behind the point in a weight, and the bits that no sum of worths may outgrow."""
ROUNDS = 400
"""Rows that the linear program may look for, where no clock stops it."""
COLUMNS, OVER, SLIGHT = 150, 1e-7, 1e-6
"""Columns that it may look for at each length, and how far a value must pass 1 to count."""
AREA = "the area of the pieces, in rows that pieces side by side can fill"
TALLEST = "the longest piece"
ROWS = "the fullest rows that fit across the cloth"
BOTH = "the fullest rows across the cloth and columns along it"


@dataclass(frozen=True)
class Measure:
    """Worth of a copy of each kind, and the most worth a row of each breadth can gather.

    `gathered[i]` belongs to breadths from `rows[i]` up to the next; whole numbers. `weights`, per
    kind and shape, are what a piece brings to every row that meets it.
    """

    worth: Ints
    rows: Ints
    gathered: Ints
    weights: tuple[tuple[int, ...], ...] = ()

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


def by_area(problem: Problem) -> Measure:
    """The measure whose worth is area."""
    rows = problem.sums(1, problem.width)
    return Measure(np.array([kind.area for kind in problem.kinds], np.int64), rows, rows)


def by_rows(
    problem: Problem, known: Iterable[Row] = (), rounds: int = ROUNDS, until: float | None = None
) -> Measure:
    """The measure of the best worths found by the linear program, exact once rounded.

    `known` rows, as met in lays at hand, spare the program most of its `rounds`; it gives what
    it has at the clock time `until`.
    """
    items = [Item(kind.count, kind.shapes) for kind in problem.kinds]
    duals, _ = worths(problem.width, items, known, rounds=rounds, until=until)
    return by_duals(problem, duals)


def by_duals(problem: Problem, duals: Sequence[float]) -> Measure:
    """The measure of these worths, one a kind, made exact; any worths give a sound one."""
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
    rows = problem.sums(1, problem.width)
    gathered = gather(problem, 1, rows, weights)
    return Measure(np.array(worth, np.int64), rows, gathered, tuple(map(tuple, weights)))


def gather(problem: Problem, axis: int, sums: Ints, weights: Sequence[Sequence[int]]) -> Ints:
    """The most weight in a row within each of the sums; `weights` per kind and shape.

    Rows run across with axis 1; with axis 0 they are columns of pieces along the bolt.
    """
    best = np.zeros(len(sums), np.int64)
    for kind, each in zip(problem.kinds, weights, strict=True):
        if not any(each):
            continue
        sizes = [shape[axis] for shape in kind.shapes]
        froms = [(np.searchsorted(sums, sums - size, side="right") - 1) for size in sizes]
        for _ in range(min(kind.count, int(sums[-1]) // min(sizes))):
            after = best.copy()
            for weight, came in zip(each, froms, strict=True):
                first = int(np.searchsorted(came, 0))
                np.maximum(after[first:], best[came[first:]] + weight, out=after[first:])
            if np.array_equal(after, best):
                break
            best = after
    return best


def by_columns(
    problem: Problem, measure: Measure, bound: int, best: int, until: float | None = None
) -> int:
    """A least length above `bound`, if columns along the bolt give one; below or at `best`.

    In a lay of length T the pieces that a line along the bolt meets come to T at most. Give a
    piece the breadth that it takes up in its rows by `measure`, and ask how few columns of
    length T hold all pieces, if breadths could be split: more than there is, and no such lay
    exists. (Rows and columns may be weighed together, since both weigh single pieces and keep
    every set that fits in a line within the whole: the conservative scales of Fekete and
    Schepers, Mathematical Methods of Operations Research 60, 2004; from memory.)
    """
    lengths = np.union1d(problem.sums(0, best), [best])
    low, high = int(np.searchsorted(lengths, bound)), len(lengths) - 1
    at, found = low, None
    while at < high:
        weights = _column_weights(problem, measure, int(lengths[at]), until)
        if weights is None:
            high = at
        else:
            low, found = at + 1, weights
        middle = (int(lengths[low]) + int(lengths[high])) // 2
        at = max(low, int(np.searchsorted(lengths, middle)))
        at = min(at, high - 1) if low < high else high
    if found is None or not refuted(problem, measure, lengths[:low], found):
        return bound
    return int(lengths[low])


def _column_weights(
    problem: Problem, measure: Measure, length: int, until: float | None
) -> list[list[int]] | None:
    """Weights of kinds and shapes in columns that refute a length; None if none are found."""
    items, places = [], []
    for place, (kind, each) in enumerate(zip(problem.kinds, measure.weights, strict=True)):
        spans = [weight / measure.full for weight in each]
        ways = [(span, a) for span, (a, _) in zip(spans, kind.shapes, strict=True) if a <= length]
        # What is worth next to nothing in its rows can't fill a column.
        if min(spans) > SLIGHT and ways:
            items.append(Item(kind.count, tuple(ways)))
            places.append(place)
    duals, value = worths(length, items, rounds=COLUMNS, until=until, over=1 + OVER)
    if value <= 1 + OVER:
        return None
    weights = [[0] * len(kind.shapes) for kind in problem.kinds]
    for place, dual in zip(places, duals, strict=True):
        weights[place] = [
            int(np.ceil(dual * measure.full / weight * (1 << FINE)))
            for weight in measure.weights[place]
        ]
    return weights


def refuted(
    problem: Problem, measure: Measure, lengths: Ints, weights: Sequence[Sequence[int]]
) -> bool:
    """Whether these weights prove that no lay of the last of the lengths exists.

    `weights` are of kinds and shapes in columns along the bolt; whole numbers, and so exact.
    """
    columns = int(gather(problem, 0, lengths, weights)[-1])
    held = sum(
        kind.count * min(row * column for row, column in zip(by_row, by_column, strict=True))
        for kind, by_row, by_column in zip(problem.kinds, measure.weights, weights, strict=True)
    )
    return held > columns * measure.full
