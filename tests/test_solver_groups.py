"""Groups of blocks that are alike: whole, within their size, in order, and none astray."""

from __future__ import annotations

from itertools import pairwise
from random import Random

import numpy as np
import pytest

from marker.solver.tear import groups
from marker.solver.tear.packing import Packing


def figures_of(rows: int) -> np.ndarray:
    random = Random(rows)
    return np.array([[random.randrange(9), random.random() * 4] for _ in range(rows)])


@pytest.mark.parametrize("rows", [1, 5, 64, 65, 900])
def test_every_row_is_in_one_group_of_no_more_than_asked_and_keeps_its_order(rows: int) -> None:
    order, start = groups.parted(figures_of(rows), 64)
    assert sorted(order.tolist()) == list(range(rows))
    assert start[0] == 0
    assert start[-1] == rows
    sizes = np.diff(start)
    assert sizes.min() > 0
    assert sizes.max() <= 64
    for low, high in pairwise(start):
        assert (np.diff(order[low:high]) > 0).all()


def test_rows_of_a_group_are_more_alike_than_all() -> None:
    figures = figures_of(900)
    order, start = groups.parted(figures, 64)
    within = [figures[order[low:high]].var(axis=0).sum() for low, high in pairwise(start)]
    assert max(within) < figures.var(axis=0).sum() / 4


def test_rows_that_do_not_differ_stay_one_group_however_many() -> None:
    order, start = groups.parted(np.full((200, 3), 0.1), 64)
    assert order.tolist() == list(range(200))
    assert start.tolist() == [0, 200]


def test_the_least_and_the_most_of_each_group() -> None:
    figures = np.array([[3, 9], [1, 10], [7, -2], [5, 5]])
    start = np.array([0, 2, 4])
    assert groups.least(figures, start).tolist() == [[1, 9], [5, -2]]
    assert groups.most(figures, start).tolist() == [[3, 10], [7, 5]]


def test_counts_are_packed_as_they_are_unpacked() -> None:
    demand = [5, 1, 300, 7] * 9
    packing = Packing.of(demand)
    assert len(packing.full) > 1
    random = Random(0)
    counts = np.array([[random.randint(0, most) for most in demand] for _ in range(20)])
    assert (packing.counts(packing.packed(counts)) == counts).all()
    assert (packing.packed(np.array([demand])) == packing.full).all()
