"""Lengths ruled out because some row across is overfull, against every way to place pieces."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from puzzles import assorted
from test_shears import least, problems

from marker.solver.model import overfull
from marker.solver.problem import Kind, Problem, read
from marker.solver.shears import free, search


def placed(problem: Problem, length: int) -> bool:
    """Whether all copies can be placed along the bolt with no row overfull, by trying all."""
    copies = [kind.shapes for kind in problem.kinds for _ in range(kind.count)]

    def goes(at: int, rows: list[int]) -> bool:
        if at == len(copies):
            return True
        for a, b in copies[at]:
            for x in range(length - a + 1):
                if all(row + b <= problem.width for row in rows[x : x + a]):
                    taken = [row + b * (x <= place < x + a) for place, row in enumerate(rows)]
                    if goes(at + 1, taken):
                        return True
        return False

    return goes(0, [0] * length)


@settings(max_examples=40, derandomize=True, deadline=None)
@given(problems(), st.integers(1, 14))
def test_a_length_is_ruled_out_just_where_no_rows_take_the_pieces(
    problem: Problem, length: int
) -> None:
    if problem.pieces <= 6:
        assert overfull(problem, length, effort=5.0, seed=0) == (not placed(problem, length))


@settings(max_examples=40, derandomize=True, deadline=None)
@given(problems())
def test_no_length_that_can_be_laid_is_ruled_out(problem: Problem) -> None:
    best = least(problem)
    assert not overfull(problem, best, effort=5.0, seed=0)
    assert not overfull(problem, best + 1, effort=5.0, seed=0)


def test_five_pieces_that_go_two_abreast_need_three_lengths() -> None:
    # By area, and by rows if they could be split, two lengths and a half would do.
    problem = Problem(7, (Kind(((4, 3),), 5),))
    ruled_out = [overfull(problem, length, effort=1.0, seed=0) for length in (8, 10, 11, 12, 13)]
    assert ruled_out == [True, True, True, False, False]


def test_what_is_not_settled_rules_nothing_out() -> None:
    problem = read(*assorted(2, 30, 11)).problem
    assert not overfull(problem, 53_054, effort=0.01, seed=0)


def test_rows_prove_what_all_else_leaves_open(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(search, "QUICK", 1000)
    monkeypatch.setattr(search, "MORE", 0)
    found = free(read(*assorted(4, 15, 8)), iterations=5)
    assert (found.bound, found.bound_by) == (found.length, search.OVERFULL)
