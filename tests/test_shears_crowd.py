"""Crowding: where a piece pays least, lays pressed out of near misses; and lengths ruled out."""

from __future__ import annotations

from random import Random
from threading import Event

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from puzzles import assorted
from puzzles import torn as torn_puzzle
from test_shears import judge, least, problems

from marker.solver.bounds import by_rows
from marker.solver.model import Limits, held
from marker.solver.problem import Problem, Scaled, read
from marker.solver.shears import crowd, free, search
from marker.solver.shears.crowds import STRIKES, Crowds, Line, Table, Tried
from marker.solver.shears.ruling import FAILURES, Ruled, Ruling
from marker.solver.shears.strip import Spots, first_lay, pushed
from marker.solver.spots import reach

pytestmark = pytest.mark.slow  # the loop takes longest to compile


def thrown(problem: Problem, length: int, seed: int) -> tuple[Table, crowd.Crowd]:
    """Pieces anywhere on a cloth, at the prices of their sizes."""
    crowds = Crowds(problem, Random(seed))
    made = crowds.table.laid(crowds._thrown(length))
    crowd._begin(crowds.table.pieces, made, np.float32(length))
    return crowds.table, made


def pays(made: crowd.Crowd, p: int, x: int, y: int, a: int, b: int) -> float:
    """What a piece would pay, told in other words than in the loop."""
    total = 0.0
    for q in range(len(made.x)):
        along = min(x + a, made.x[q] + made.a[q]) - max(x, made.x[q])
        across = min(y + b, made.y[q] + made.b[q]) - max(y, made.y[q])
        if q != p and along > 0 and across > 0:
            ways = (
                x + a - made.x[q],
                made.x[q] + made.a[q] - x,
                y + b - made.y[q],
                made.y[q] + made.b[q] - y,
            )
            total += float(made.price[p, q]) * float(min(ways))
    return total


def test_a_piece_goes_where_it_pays_least_of_all_places() -> None:
    for seed in range(12):
        problem = torn_puzzle(14, 12, 12, Random(seed))
        table, made = thrown(problem, 12, seed)
        for p in range(len(table.kinds)):
            now = pays(made, p, *(int(v[p]) for v in (made.x, made.y, made.a, made.b)))
            anywhere = min(
                pays(made, p, x, y, a, b)
                for a, b in problem.kinds[table.kinds[p]].shapes
                for x in range(12 - a + 1)
                for y in range(14 - b + 1)
            )
            crowd._move(table.pieces, made, table.room(), p, np.float32(12))
            then = pays(made, p, *(int(v[p]) for v in (made.x, made.y, made.a, made.b)))
            assert then == pytest.approx(min(now, anywhere), abs=1e-4)


@settings(max_examples=100, derandomize=True, deadline=None)
@given(problems(), st.integers(0, 1000))
def test_what_is_pressed_is_a_lay_whatever_bit_before(problem: Problem, seed: int) -> None:
    table, made = thrown(problem, reach(first_lay(problem)), seed)
    room = table.room()
    room.order[:] = np.arange(len(room.order))
    length = crowd.press(made, room, np.float32(problem.width), np.float32(1000))
    if length < 1000:
        spots = table.spots(np.array([*room.pressed, made.shape]))
        judge(Scaled(problem, 1, 1), spots)
        assert reach(spots) == length


def test_near_misses_are_pressed_into_lays() -> None:
    # A bite of 1 along the cloth, and of 1 across where there is room for it.
    problem = torn_puzzle(10, 10, 3, Random(1))
    table = Table.of(problem)
    places = table.places(pushed(first_lay(problem)))
    made = table.laid(places)
    made.x[:] = np.maximum(made.x - 1, 0)
    room = table.room()
    room.order[:] = np.arange(len(room.order))
    length = crowd.press(made, room, np.float32(10), np.float32(1000))
    assert length == reach(first_lay(problem))
    # None is made that is no shorter than asked.
    assert crowd.press(made, room, np.float32(10), np.float32(length - 1)) == length - 1


@settings(max_examples=40, derandomize=True, deadline=None)
@given(problems())
def test_crowding_meets_the_shortest_of_small_lays_and_never_less(problem: Problem) -> None:
    crowds, best, found = Crowds(problem, Random(3)), least(problem), first_lay(problem)
    for _ in range(60):
        if reach(found) == best:
            break
        tried = crowds.next(found, best).run(Event())  # type: ignore[union-attr]
        crowds.settle(tried)
        if tried.spots:
            judge(Scaled(problem, 1, 1), tried.spots)
            assert best <= reach(tried.spots) < reach(found)
            found = tried.spots
    assert reach(found) == best


def crowded(problem: Problem, tries: int, seed: int) -> Spots:
    """The best lay after so many tries."""
    crowds, best = Crowds(problem, Random(seed)), first_lay(problem)
    goal = by_rows(problem).bound(problem)
    for _ in range(tries):
        tried = crowds.next(best, goal).run(Event())  # type: ignore[union-attr]
        crowds.settle(tried)
        best = tried.spots or best
    return best


def test_thirty_pieces_come_close_to_the_bound_and_by_seed_alone() -> None:
    # Annealing left 1.9 to 2.6 % after 10 s; these tries take some tenths of one.
    problem = read(*assorted(0, 30, 11)).problem
    found = crowded(problem, 40, 1)
    judge(Scaled(problem, 1, 1), found)
    assert reach(found) <= by_rows(problem).bound(problem) * 1.03
    assert found == crowded(problem, 40, 1)


def test_a_line_goes_on_from_its_nearest_miss_and_ends() -> None:
    problem = read(*assorted(2, 30, 11)).problem
    crowds, best = Crowds(problem, Random(1)), first_lay(problem)
    first = crowds.next(best, 0)
    assert first is not None
    line, near, far = first.line, first.places.copy(), first.places.copy()
    for bites, places in ((5.0, near), (9.0, far)):
        crowds.settle(Tried(line, bites, places))
    assert line.places is near
    for tries in range(2, STRIKES + 3):
        crowds.idle = crowds.idle[-1:]
        following = crowds.next(best, 0)
        assert following is not None
        assert (following.line is line) == (tries < STRIKES)
        crowds.settle(Tried(following.line, 9.0, far))
    # One that met a lay has done its work, and so have all once there is a shorter one.
    crowds.idle = []
    crowds.settle(Tried(Line(near), 0.0, near, best))
    assert not crowds.idle
    crowds.idle = [line]
    following = crowds.next(crowded(problem, 5, 1), 0)
    assert following is not None
    assert following.line is not line
    assert not crowds.idle


@settings(max_examples=25, derandomize=True, deadline=None)
@given(problems())
def test_one_length_is_met_or_ruled_out_rightly(problem: Problem) -> None:
    best = least(problem)
    spots, out = held(problem, best, Limits(None, 5.0))
    judge(Scaled(problem, 1, 1), spots)
    assert reach(spots) <= best
    assert not out
    if best > max(min(a for a, _ in kind.shapes) for kind in problem.kinds):
        assert held(problem, best - 1, Limits(None, 5.0)) == ((), True)


def test_lengths_asked_for_go_up_with_each_that_is_ruled_out_and_down_else() -> None:
    problem = read(*assorted(2, 30, 11)).problem
    work = Ruling(problem, list(range(10_000, 30_000)), 10_000, None, 1.0, 100.0)
    first = work.next(30_000)
    assert first is not None
    assert 10_040 < first.length <= 10_060
    assert work.next(30_000) is None  # one at a time
    work.settle(Ruled(first.length, True, (), 1.0))
    assert work.bound == first.length + 1
    second = work.next(30_000)
    assert second is not None
    assert second.length > first.length + 40
    for _ in range(FAILURES):
        work.settle(Ruled(second.length, False, (), 1.0))
        assert work.target(30_000) < second.length  # type: ignore[operator]
    assert work.next(30_000) is None
    assert work.bound == first.length + 1
    # Never the best one, and first of all one that saves a cutting step.
    work.failures = 0
    assert work.target(work.bound) is None
    assert work.target(work.bound + 1) == work.bound
    work.step, work.aim = 1.0, 11_000
    assert work.target(30_000) == 11_000


def test_middling_lays_are_bounded_by_ruling_out_and_come_out_alike(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(search, "SMALL", 0)
    monkeypatch.setattr(search, "QUICK", 0)
    monkeypatch.setattr(search, "MORE", 0)
    problem = read(*assorted(5, 9, 6)).problem
    found = [free(Scaled(problem, 1, 1), iterations=20, seed=3) for _ in range(2)]
    assert found[0] == found[1]
    judge(Scaled(problem, 1, 1), found[0].spots)
    assert (found[0].bound, found[0].bound_by) == (found[0].length, search.RULED_OUT)
