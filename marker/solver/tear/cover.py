"""The shortest row of bands that together hold every piece exactly once."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from marker.solver.problem import Ints, Problem
from marker.solver.tear.blocks import STACK, Table
from marker.solver.tear.packing import Packing, Purse, Words
from marker.solver.tear.partners import spans


@dataclass(frozen=True)
class Bands:
    """The blocks of a table that serve as bands, in buckets by the first kind they hold."""

    table: Table
    rows: Ints
    waste: Ints
    buckets: tuple[Ints, ...]


def bands_of(problem: Problem, packing: Packing, table: Table, budget: int) -> Bands:
    """The bands in a table whose own waste, torn off across the full width, is affordable.

    A stack is left out: it is two bands, and no longer.
    """
    waste = problem.width * table.a - table.area
    rows = np.flatnonzero((table.join != STACK) & (waste <= budget))
    rows = rows[np.argsort(waste[rows], kind="stable")]
    kept = table.take(rows)
    buckets, taken = [], np.zeros(len(rows), np.bool_)
    for kind in range(len(problem.kinds)):
        holds = packing.has(kept.held, kind) & ~taken
        buckets.append(np.flatnonzero(holds))
        taken |= holds
    return Bands(kept, rows, waste[rows], tuple(buckets))


def cover(
    problem: Problem,
    packing: Packing,
    table: Table,
    budget: int,
    purse: Purse,
) -> list[int] | None:
    """Rows of the table that hold all pieces at the least total length, within the budget.

    Pieces are covered kind by kind, so each set of bands is met in one order only. None if
    the budget does not allow a cover. Raises `TooMany` when the purse is empty.
    """
    bands = bands_of(problem, packing, table, budget)
    trail = Trail([], [])
    states = States(
        np.zeros((1, len(packing.full)), np.uint64), np.zeros(1, np.int64), np.zeros(1, np.int64)
    )
    for kind, bucket in enumerate(bands.buckets):
        whole = [states.take(bucket[:0])]
        while len(states):
            open_rows = packing.lacks(states.held, kind)
            whole.append(states.take(np.flatnonzero(~open_rows)))
            states = states.take(np.flatnonzero(open_rows))
            states = _extend(states, bands, bucket, budget, packing, trail, purse)
        states = States.joined(whole).cheapest()
    if not len(states):
        return None
    return [int(bands.rows[band]) for band in trail.back(int(states.node[0]))]


@dataclass
class Trail:
    """How each state was reached: the node before it and the band put on."""

    before: list[Ints]
    band: list[Ints]
    nodes: int = 0

    def extend(self, before: Ints, band: Ints) -> Ints:
        """Record new nodes and number them; node 0 is the bare strip."""
        self.before.append(before)
        self.band.append(band)
        numbers = np.arange(len(before)) + self.nodes + 1
        self.nodes += len(before)
        return numbers

    def back(self, node: int) -> list[int]:
        """The bands on the way to a node."""
        before, band = np.concatenate(self.before), np.concatenate(self.band)
        found = []
        while node:
            found.append(int(band[node - 1]))
            node = int(before[node - 1])
        return found[::-1]


@dataclass(frozen=True)
class States:
    """Sets of pieces covered so far, the least waste for each, and the node in the trail."""

    held: Words
    waste: Ints
    node: Ints

    def __len__(self) -> int:
        return len(self.waste)

    def take(self, rows: Ints) -> States:
        """Some of the states."""
        return States(self.held[rows], self.waste[rows], self.node[rows])

    @staticmethod
    def joined(parts: list[States]) -> States:
        """States one under the other."""
        return States(
            np.concatenate([part.held for part in parts]),
            np.concatenate([part.waste for part in parts]),
            np.concatenate([part.node for part in parts]),
        )

    def cheapest(self) -> States:
        """Of states with the same pieces keep the one of least waste."""
        order = np.lexsort((self.node, self.waste, *self.held.T))
        held = self.held[order]
        keep = np.ones(len(order), np.bool_)
        keep[1:] = (held[1:] != held[:-1]).any(axis=1)
        return self.take(order[keep])


def _extend(
    states: States,
    bands: Bands,
    bucket: Ints,
    budget: int,
    packing: Packing,
    trail: Trail,
    purse: Purse,
) -> States:
    """Put every affordable band of a bucket on every state."""
    if not len(states) or not len(bucket):
        return states.take(bucket[:0])
    ranked = bands.waste[bucket]
    end = np.searchsorted(ranked, budget - states.waste, side="right")
    found: list[States] = []
    for first, place in spans(np.zeros_like(end), end, purse):
        band = bucket[place]
        held = states.held[first] + bands.table.held[band]
        rows = np.flatnonzero(packing.fits(held))
        first, band = first[rows], band[rows]
        waste = states.waste[first] + bands.waste[band]
        node = np.arange(len(rows))
        made = States(held[rows], waste, node).cheapest()
        number = trail.extend(states.node[first[made.node]], band[made.node])
        found.append(States(made.held, made.waste, number))
    return States.joined(found).cheapest() if found else states.take(bucket[:0])
