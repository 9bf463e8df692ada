"""What is changed about a nest that stands still, and when a hand goes on from another's lay."""

from __future__ import annotations

from dataclasses import replace
from random import Random

import pytest
from outlines import star

from marker.solver.nest import NestKind, crew, hand, moves
from marker.solver.nest.bounds import least_of
from marker.solver.nest.frame import Frame
from marker.solver.nest.kernel import State
from marker.solver.nest.starts import Start
from marker.solver.nest.task import Task

WIDTH, LENGTH = 1500, 1800.0


def begun(*, turns: bool = True) -> tuple[Task, State]:
    """Stars of three kinds that may be turned half round, or not, as they lie at first."""
    shapes = [star(random, 7, 500) for random in map(Random, range(3))]
    kinds = [
        NestKind(count, (shape, shape.turned(180)) if turns else (shape,))
        for count, shape in zip((2, 3, 1), shapes, strict=True)
    ]
    task = Task.of(Frame.framed(kinds, WIDTH))
    first = min(Start.of(task, None).layouts, key=lambda layout: layout.length)
    return task, task.state(first, 1)


def middles(task: Task, state: State) -> list[tuple[float, float]]:
    """The middles of the boxes of all copies, rounded."""
    x = state.x + task.table.along[state.s] / 2
    y = state.y + task.table.across[state.s] / 2
    return [(round(a, 3), round(b, 3)) for a, b in zip(x.tolist(), y.tolist(), strict=True)]


@pytest.mark.parametrize("way", moves.CHANGES)
def test_every_change_leaves_all_copies_on_the_cloth(
    way: moves.Change, monkeypatch: pytest.MonkeyPatch
) -> None:
    task, state = begun()
    monkeypatch.setattr(moves, "CHANGES", (way,))
    monkeypatch.setattr(moves, "OFTEN", (1,))
    random, table, changed = Random(0), task.table, 0
    for _ in range(30):
        before = state.x.tolist(), state.y.tolist(), state.s.tolist()
        moves.change(task, state, random, LENGTH)
        changed += before != (state.x.tolist(), state.y.tolist(), state.s.tolist())
        first, many = table.first[table.kind], table.many[table.kind]
        assert ((first <= state.s) & (state.s < first + many)).all()
        assert (state.x >= 0).all()
        assert (state.x + table.along[state.s] <= LENGTH + 0.01).all()
        assert (state.y >= 0).all()
        assert (state.y + table.across[state.s] <= WIDTH + 0.01).all()
    assert changed >= 10


def test_pieces_are_turned_where_they_lie() -> None:
    task, state = begun()
    before, lain = middles(task, state), state.s.copy()
    moves._turn(task.table, state, Random(3), LENGTH)
    assert middles(task, state) == before
    assert 1 <= (state.s != lain).sum() <= max(moves.TURNED)


def test_where_none_may_be_turned_one_is_thrown_elsewhere() -> None:
    task, state = begun(turns=False)
    before = middles(task, state)
    moves._turn(task.table, state, Random(3), LENGTH)
    assert sum(a != b for a, b in zip(before, middles(task, state), strict=True)) == 1


@pytest.mark.parametrize("way", [moves._swap, moves._swap_alike])
def test_two_of_different_kinds_change_places(way: moves.Change) -> None:
    task, state = begun()
    for seed in range(10):
        before = middles(task, state)
        way(task.table, state, Random(seed), LENGTH)
        after = middles(task, state)
        moved = [p for p in range(len(before)) if before[p] != after[p]]
        assert len(moved) == 2
        assert task.table.kind[moved[0]] != task.table.kind[moved[1]]
        assert sorted(before) == sorted(after)


def test_pieces_of_one_stretch_are_thrown_about_in_it() -> None:
    task, state = begun()
    moved = 0
    for seed in range(20):
        before = middles(task, state)
        moves._scramble(task.table, state, Random(seed), LENGTH)
        after = middles(task, state)
        gone = [a[0] for a, b in zip(before, after, strict=True) if a != b]
        moved += len(gone)
        if gone:
            assert max(gone) - min(gone) <= LENGTH * max(moves.STRETCHES)
    assert moved > 0


@pytest.mark.parametrize(("longer", "follows"), [(1.004, False), (1.006, True)])
def test_a_hand_far_behind_goes_on_from_the_best_lay(longer: float, follows: bool) -> None:
    task, _ = begun()
    both = crew.Crew(task, least_of(task)[0], 0, None, Start.of(task, None))
    ahead, behind = both.hands
    behind.best = replace(ahead.best, length=ahead.best.length * longer)
    behind.misses.append((1.0, behind.best))
    both._catch_up()
    assert (behind.best is ahead.best) == follows
    assert bool(behind.misses) != follows
    assert not follows or behind.length < ahead.best.length


def test_pressing_that_no_longer_helps_ends() -> None:
    task, _ = begun()
    first = min(Start.of(task, None).layouts, key=lambda layout: layout.length)
    pressed = hand.Hand(task, first, least_of(task)[0], 0, afresh=False)
    pressed.press(first)
    pressed.shrink = hand.LEAST_SHRINK
    for misses in range(1, hand.PRESSES + 1):
        assert pressed.pressing
        pressed._miss()
        assert pressed.shrink == (hand.SHRINK if misses == hand.PRESSES else hand.LEAST_SHRINK)
    assert not pressed.pressing
