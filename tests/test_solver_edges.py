"""Bands without waste, and betterment by two processes: long torn lays, part by part.

Everything stops on counts and a seed; no test looks at the clock.
"""

from __future__ import annotations

from collections import Counter
from itertools import combinations
from multiprocessing import get_all_start_methods
from random import Random
from time import monotonic

import numpy as np
import pytest
from puzzles import company, torn

from marker.solver.bounds import by_area
from marker.solver.problem import Kind, Problem, read, set_apart
from marker.solver.tear import edges
from marker.solver.tear import search as stages
from marker.solver.tear.aside import Aside
from marker.solver.tear.block import Block
from marker.solver.tear.greedy import fill_lay, length_of, waste_of
from marker.solver.tear.improve import Betterment
from marker.solver.tear.limits import Limits
from marker.solver.tear.mosaic import Mosaic
from marker.solver.tear.search import search

WIDTH = 40


def quiet(length: int, bound: int) -> None:
    assert bound <= length


def few(random: Random, kinds: int = 6) -> Problem:
    """Small kinds whose sides often agree, up to two copies of each, some that may turn."""
    made = []
    for _ in range(kinds):
        a, b = random.randint(2, 6), random.randint(2, 6)
        shapes = ((a, b), (b, a)) if a != b and random.random() < 0.3 else ((a, b),)
        made.append(Kind(shapes, random.randint(1, 2)))
    return Problem(WIDTH, tuple(made))


def filled(problem: Problem, rows: int = 50_000) -> edges.Table:
    table = np.zeros((rows, edges.COLUMNS), np.int64)
    shapes = [(a, b, at) for at, kind in enumerate(problem.kinds) for a, b in kind.shapes]
    stock = np.array([kind.count for kind in problem.kinds], np.int64)
    return table[: edges.fill(table, np.array(shapes, np.int64), stock, problem.width)]


def without_waste(problem: Problem) -> set[tuple[int, int, tuple[int, ...]]]:
    """Sizes and pieces of all blocks of few pieces that waste nothing, by plain closure."""
    found = {
        (a, b, (at,)) for at, kind in enumerate(problem.kinds) for a, b in kind.shapes
    }  # fmt: skip
    for _ in range(edges.MOST - 1):
        for (a, b, one), (a2, b2, two) in combinations(sorted(found) * 2, 2):
            held = tuple(sorted(one + two))
            enough = all(n <= problem.kinds[kind].count for kind, n in Counter(held).items())
            if len(held) <= edges.MOST and enough:
                found |= {(a, b + b2, held)} if a == a2 and b + b2 <= problem.width else set()
                found |= {(a + a2, b, held)} if b == b2 else set()
    return found


@pytest.mark.slow
def test_every_block_without_waste_is_filled_in() -> None:
    random = Random(1)
    for _ in range(6):
        problem = few(random)
        table = filled(problem).tolist()
        made = {
            (row[edges.A], row[edges.B], tuple(row[edges.KINDS : edges.KINDS + row[edges.SIZE]]))
            for row in table
        }
        assert made == without_waste(problem)
        for a, b, held in made:
            assert a * b == sum(problem.kinds[kind].area for kind in held)


def test_a_table_that_is_full_ends_the_filling() -> None:
    problem = few(Random(2))
    whole = filled(problem)
    assert len(filled(problem, 20)) == 20 < len(whole)
    assert (filled(problem, 20) == whole[:20]).all()


def fits(problem: Problem, held: list[int]) -> bool:
    return all(n <= problem.kinds[kind].count for kind, n in Counter(held).items())


@pytest.mark.slow
@pytest.mark.parametrize("loose", [0, 3])
def test_a_span_is_found_just_where_there_is_one(loose: int) -> None:
    random, seen = Random(3), Counter[bool]()
    for _ in range(150):
        problem = few(random, 5)
        table, width = filled(problem), random.randint(6, 30)
        rows = np.array(random.sample(range(len(table)), min(9, len(table))), np.int64)
        stock = np.array([kind.count for kind in problem.kinds], np.int64)
        chosen = np.zeros(9, np.int64)
        want = edges.Want(width, loose, 0, 10**6)
        count = edges.span(table, rows, stock, want, chosen)
        taken = [table[rows[at]].tolist() for at in chosen[:count]]
        sums = {
            sum(table[row, edges.B] for row in part)
            for size in range(1, len(rows) + 1)
            for part in combinations(rows.tolist(), size)
        }
        # What pieces taken twice over would fill is all that may keep a band from a breadth.
        aim = max((total for total in sums if total <= width), default=0)
        there = any(
            sum(table[row, edges.B] for row in part) == aim
            and fits(problem, [k for row in part for k in pieces_of(table[row].tolist())])
            for size in range(1, len(rows) + 1)
            for part in combinations(rows.tolist(), size)
        )
        assert (count > 0) == (there and aim >= width - loose)
        if count:
            assert sum(row[edges.B] for row in taken) == aim
            assert fits(problem, [kind for row in taken for kind in pieces_of(row)])
        seen[count > 0] += 1
    assert min(seen[True], seen[False]) > 10


def pieces_of(row: list[int]) -> list[int]:
    return row[edges.KINDS : edges.KINDS + row[edges.SIZE]]


def held(bands: tuple[Block, ...]) -> Counter[int]:
    return sum((band.counts() for band in bands), Counter())


@pytest.mark.slow
def test_a_mosaic_keeps_every_piece_and_never_grows() -> None:
    problem = torn(200, 400, 197, Random(2))
    demand = {at: kind.count for at, kind in enumerate(problem.kinds)}
    work = Mosaic(problem, Random(0))
    assert work.promising
    first = length = work.laid.length
    for _ in range(25):
        work.round()
        assert held(work.laid.lay) == demand
        assert all(band.b <= problem.width for band in work.laid.lay)
        assert work.laid.length <= length
        length = work.laid.length
        left = {at: kind.count for at, kind in enumerate(work.rest().kinds) if kind.count}
        assert held(work.laid.rest) == left
    assert length < first
    assert any(waste_of(problem, band) == 0 for band in work.laid.bands)


def test_a_mosaic_out_of_time_lays_all_by_the_rule() -> None:
    problem = torn(200, 400, 197, Random(2))
    work = Mosaic(problem, Random(0), until=0.0)
    assert work.laid.bands == () and not work.promising
    assert held(work.laid.lay) == {at: kind.count for at, kind in enumerate(problem.kinds)}


@pytest.mark.slow
def test_cloth_that_was_not_torn_without_waste_promises_no_mosaic() -> None:
    _, problem = set_apart(read(*company(10, 5)).problem)
    assert not Mosaic(problem, Random(0)).promising


@pytest.mark.slow
def test_a_long_cloth_torn_without_waste_comes_close_and_alike_each_time(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(stages, "BRIEF", 1)
    problem = torn(200, 400, 150, Random(2))
    one, two = (search(problem, Limits(iterations=60), 0, quiet) for _ in range(2))
    assert one.best == two.best
    assert 400 <= length_of(one.best) <= 424
    assert held(one.best) == {at: kind.count for at, kind in enumerate(problem.kinds)}


@pytest.mark.slow
@pytest.mark.skipif("fork" not in get_all_start_methods(), reason="this system can't fork")
def test_another_process_betters_a_lay_and_takes_over_a_shorter_one() -> None:
    problem = torn(300, 500, 60, Random(4))
    start = fill_lay(problem, Random(0), 0.0)
    work = Betterment(problem, by_area(problem), Random(1), start, 500)
    until = monotonic() + 200
    aside = Aside.better(work, until)
    try:
        news = aside.hear(wait=200)
        assert news is not None
        assert news.bands is not None
        assert length_of(news.bands) < length_of(start)
        assert held(news.bands) == {at: kind.count for at, kind in enumerate(problem.kinds)}
        # With a shortest lay handed over there is nothing left to better, and it ends.
        shortest = search(problem, Limits(iterations=300), 0, quiet).best
        assert length_of(shortest) == 500
        aside.tell(shortest)
        while aside.hear(wait=200):
            pass
        # Within its time: else it would end as well, but with the clock.
        assert monotonic() < until
        aside.process.join()
        assert aside.process.exitcode == 0
    finally:
        aside.stop()


def test_only_a_shorter_lay_is_taken_over() -> None:
    problem = torn(300, 500, 40, Random(4))
    start, other = (fill_lay(problem, Random(seed), 0.5) for seed in (0, 3))
    short, long = sorted((start, other), key=length_of)
    assert length_of(short) < length_of(long)
    work = Betterment(problem, by_area(problem), Random(1), short, 500)
    work.adopt(long)
    assert work.best is short
    work = Betterment(problem, by_area(problem), Random(1), long, 500)
    work.adopt(short)
    assert work.best is short
    assert work.target < length_of(short)
