"""Beams of lays: whole, no longer than they aim at, and close to the bound at thirty pieces."""

from __future__ import annotations

from random import Random
from threading import Event

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from puzzles import assorted
from puzzles import torn as torn_puzzle
from shears_oracle import shortest
from test_shears import judge, problems

from marker.solver.bounds import by_rows
from marker.solver.problem import Problem, Scaled, read
from marker.solver.shears import beam, free, search
from marker.solver.shears.beams import Beam, Beams
from marker.solver.shears.exhaust import Target
from marker.solver.spots import reach

pytestmark = pytest.mark.slow  # the compiled loop takes some seconds to make


def plain(problem: Problem, length: int, *, turned: bool = False) -> Beam:
    """A middling beam for a length."""
    return Beam(Target(problem, length, turned), (1.0, 1.0), 0.0, 0.03, 3, 60, 30, 1)


@settings(max_examples=25, derandomize=True, deadline=None)
@given(problems(), st.booleans(), st.integers(0, 3))
def test_what_a_beam_meets_is_a_whole_lay_as_short_as_asked(
    problem: Problem, turned: bool, more: int
) -> None:
    best = shortest(problem.width, [(kind.shapes, kind.count) for kind in problem.kinds])
    found = plain(problem, best + more, turned=turned).run(Event())
    if found:
        judge(Scaled(problem, 1, 1), found)
        assert reach(found) <= best + more
    else:
        # A beam passes over the few lays that need a hole before a piece further on.
        assert more < 2
    assert plain(problem, best - 1, turned=turned).run(Event()) == ()


@pytest.mark.parametrize("turned", [False, True])
def test_a_cloth_torn_without_waste_is_put_together_again(turned: bool) -> None:
    for seed in range(6):
        problem = torn_puzzle(120, 150, 14, Random(seed))
        found = plain(problem, 150, turned=turned).run(Event())
        judge(Scaled(problem, 1, 1), found)
        assert reach(found) == 150


def test_only_the_best_of_alike_lays_and_of_a_share_are_kept() -> None:
    store = plain(torn_puzzle(10, 10, 3, Random(0)), 10)._store()
    store.number[0] = 0
    front, mark = np.zeros((2, beam.MOST_STEPS + 4), np.int64), np.zeros(5, np.int64)
    front[0, 1], mark[beam.STEPS] = 10, 1
    kinds = store.left.shape[2]
    for value in range(200):
        front[1, 0] = value
        few, many = (np.full(kinds, value % sets, np.int64) for sets in (5, 200))
        beam._keep(store, 0, front, mark, few, float(value), 2)
        beam._keep(store, 2, front, mark, many, float(value), 2)
    # Five sets of pieces, forty lays of each, of which the two worth most are kept; and two
    # hundred sets, of which a share holds sixty.
    assert sorted(store.value[0, : store.number[0]].tolist()) == list(range(190, 200))
    assert store.number[2] == store.value.shape[1] == 60
    assert sorted(store.value[2].tolist()) == list(range(140, 200))
    # The very same lay is kept once only.
    for _ in range(3):
        front[1, 0] = 777
        beam._keep(store, 1, front, mark, np.zeros(kinds, np.int64), 1.0, 2)
    assert store.number[1] == 1


def test_beams_aim_below_the_best_both_ways_and_grow_broader_until_there_is_a_gain() -> None:
    beams = Beams(read(*assorted(2, 30, 11)).problem, Random(1))

    def drawn(best: int, many: int) -> int:
        made = [each for _ in range(many) if (each := beams.next(best, 52_500))]
        assert all(52_500 <= each.target.length < best for each in made)
        assert {each.target.turned for each in made} == {False, True}
        return max(each.breadth for each in made)

    first, later = drawn(54_000, 20), drawn(54_000, 60)
    assert later >= 2 * first
    assert drawn(54_000, 1000) <= 1000
    assert drawn(53_000, 20) == first


def test_thirty_pieces_come_close_to_the_bound() -> None:
    # Without beams 10 s left with 1.86 to 2.60 % above the bound after 10 s.
    problem = read(*assorted(0, 30, 11)).problem
    length = by_rows(problem).bound(problem) * 1020 // 1000
    beams = Beams(problem, Random(3))
    found = []
    for _ in range(10):
        made = beams._drawn(beams._target(length, turned=False))
        met = made.run(Event())
        assert met == made.run(Event())
        if met:
            judge(Scaled(problem, 1, 1), met)
            found.append(reach(met))
    assert found
    assert max(found) <= length


def test_by_count_beams_come_in_with_many_iterations(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(search, "PROVABLE", 0)
    monkeypatch.setattr(search, "QUICK", 0)
    monkeypatch.setattr(search, "MORE", 0)
    monkeypatch.setattr(search.Search, "_anneal", lambda *_: None)
    ran: list[Beam] = []
    run = Beam.run
    monkeypatch.setattr(Beam, "run", lambda self, stop: ran.append(self) or run(self, stop))
    problem = read(*assorted(2, 30, 11)).problem
    monkeypatch.setattr(search, "BEAM_ROUNDS", 3)
    found = [free(Scaled(problem, 1, 1), iterations=6, seed=3) for _ in range(2)]
    assert len(ran) == 4
    assert found[0] == found[1]
    judge(Scaled(problem, 1, 1), found[0].spots)
    free(Scaled(problem, 1, 1), iterations=2)
    assert len(ran) == 4
