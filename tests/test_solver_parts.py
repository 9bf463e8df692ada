"""Parts of the tear solver by themselves, and the published sets of rectangles."""

from __future__ import annotations

import argparse
from collections import Counter
from collections.abc import Sequence
from itertools import islice
from pathlib import Path
from random import Random

import numpy as np
import pytest
from bench.run import measure
from puzzles import assorted, company, published, torn

from marker.referee import findings
from marker.solver import solve
from marker.solver.bounds import by_area, by_rows
from marker.solver.problem import Kind, Problem, reachable, read, set_apart
from marker.solver.tear import partners
from marker.solver.tear.blocks import Table, enumerate_blocks
from marker.solver.tear.cover import cover
from marker.solver.tear.greedy import length_of, shaken_lays, stacked_lays
from marker.solver.tear.packing import Packing, Purse, TooMany, Words
from marker.solver.tear.sieve import Sieve

SETS = Path(__file__).parents[2] / "shared" / "benchmarks" / "rectangles"
absent = pytest.mark.skipif(not SETS.is_dir(), reason="../shared/benchmarks is not here")


def enumerated(problem: Problem, target: int) -> Table:
    return enumerate_blocks(problem, target, Sieve.of(problem, by_rows(problem)), Purse(10**9))


def weigh(packing: Packing, packed: Words, weights: Sequence[int]) -> list[int]:
    """Weights of the pieces that each row holds, added up, field by field."""
    fields = list(zip(packing.word, packing.shift, packing.bits, weights, strict=True))
    return [
        sum((int(row[word]) >> shift & (1 << bits) - 1) * w for word, shift, bits, w in fields)
        for row in packed
    ]


def test_reachable_sums_count_copies_and_choose_one_size_of_each() -> None:
    assert list(reachable([((3, 5), 2, 20)])) == [0, 3, 5, 6, 8, 10]
    assert list(reachable([((3,), 1, 9), ((4,), 3, 9)])) == [0, 3, 4, 7, 8]


def test_packed_counts_see_an_overrun_in_any_word() -> None:
    counts = [1, 3, 2] * 20
    packing = Packing.of(counts)
    assert len(packing.full) > 1
    for kind, count in enumerate(counts):
        rows = np.array([packing.one(kind) * np.uint64(n) for n in range(2 * count + 1)])
        assert list(packing.fits(rows)) == [n <= count for n in range(2 * count + 1)]
        assert list(packing.lacks(rows[: count + 1], kind)) == [n < count for n in range(count + 1)]
        assert weigh(packing, rows[: count + 1], range(60)) == [n * kind for n in range(count + 1)]


def test_what_lies_alone_is_set_apart_until_nothing_more_does() -> None:
    # Beside 90 of 100 only the strip of 8 fits; beside 60 the other strips do not.
    problem = Problem(
        100, (Kind(((50, 95),), 2), Kind(((40, 90),), 1), Kind(((9, 8),), 1), Kind(((7, 50),), 2))
    )
    alone, rest = set_apart(problem)
    assert alone == (0,)
    assert [kind.shapes for kind in rest.kinds] == [((40, 90),), ((9, 8),), ((7, 50),)]
    turnable = Problem(100, (Kind(((95, 20), (20, 95)), 1), Kind(((9, 30),), 1)))
    assert set_apart(turnable)[0] == ()


def test_rows_bound_pieces_that_cannot_lie_abreast() -> None:
    # Two of 60 never share a row of 100, so their lengths add up; area says far less.
    problem = Problem(100, (Kind(((50, 60),), 3), Kind(((10, 30),), 2)))
    assert by_area(problem).bound(problem) == 107
    assert by_rows(problem).bound(problem) == 150


def test_a_measure_never_says_more_than_a_lay_without_waste() -> None:
    for seed in range(40):
        problem = torn(61, 83, 12, Random(seed))
        measure = by_rows(problem)
        assert measure.bound(problem) == 83
        assert measure.total(problem) <= measure.full * 83


@pytest.mark.slow
@pytest.mark.parametrize(
    ("problem", "target"),
    [(torn(1200, 1500, 36, Random(5)), 1501), (read(*assorted(4, 30, 11)).problem, 130_900)],
)
def test_both_engines_give_the_same_table(
    problem: Problem, target: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    tables, hits = [], []
    # They look at other numbers of pairs, which is what learning goes by.
    monkeypatch.setattr(Sieve, "learn", lambda _, held, *_more: np.arange(len(held)))
    for heavy in (10**12, -1):
        monkeypatch.setattr(partners, "HEAVY", heavy)
        sieve = Sieve.of(problem, by_area(problem))
        for rounds in (3, 400):
            sieve.measures.append(by_rows(problem, rounds=rounds))
            sieve.hits.append(0)
        tables.append(enumerate_blocks(problem, target, sieve, Purse(10**9)))
        hits.append(sieve.hits)
    plain, compiled = tables
    assert len(plain) > len(problem.kinds)
    assert (plain.held == compiled.held).all()
    for column in ("a", "b", "area", "join", "left", "right"):
        assert (getattr(plain, column) == getattr(compiled, column)).all()
    # What two rules bar is counted by the one that is looked at first.
    assert sum(hits[0]) <= sum(hits[1])
    assert sum(hits[0]) > 0 or problem.pieces == 36


@pytest.mark.parametrize("pieces", [17, 25, 33])
def test_a_cloth_torn_without_waste_is_put_together_again(pieces: int) -> None:
    problem = torn(1200, 1500, pieces, Random(pieces))
    table = enumerated(problem, 1500)
    packing = Packing.of([kind.count for kind in problem.kinds])
    rows = cover(problem, packing, table, 0, Purse(10**8))
    assert rows is not None
    bands = [table.block(row) for row in rows]
    assert sum(band.a for band in bands) == 1500
    held = sum((band.counts() for band in bands), start=bands[0].counts() - bands[0].counts())
    assert held == {at: kind.count for at, kind in enumerate(problem.kinds)}


def test_an_empty_purse_stops_the_enumeration() -> None:
    problem = torn(60, 90, 14, Random(1))
    sieve = Sieve.of(problem, by_rows(problem))
    with pytest.raises(TooMany):
        enumerate_blocks(problem, 95, sieve, Purse(10))
    with pytest.raises(TooMany):
        enumerate_blocks(problem, 95, sieve, Purse(10**9, until=0.0))
    with pytest.raises(TooMany):
        enumerate_blocks(problem, 95, sieve, Purse(10**9, heed=lambda: True))


@absent
@pytest.mark.parametrize(
    ("name", "optimum"),
    # Burke, Kendall and Whitwell, Oper. Res. 52 (2004), N1 and N2; Hopper and Turton, EJOR
    # 128 (2001): these tear at the optimum.
    [("bkw1", 40), ("bkw2", 50), ("c1_1", 20), ("c1_3", 20), ("c3_3", 30)],
)
def test_published_sets_that_tear_at_their_optimum(name: str, optimum: int) -> None:
    cloth, pieces = published(SETS / f"{name}.json")
    lay = solve(cloth, pieces, iterations=0)
    assert findings(lay) == ()
    assert (lay.length // 160, lay.bound // 160) == (optimum, optimum)


@absent
@pytest.mark.parametrize("name", ["n1a", "t1a"])
def test_published_sets_that_cannot_be_torn_at_their_optimum(
    name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    # Hopper, PhD thesis, Cardiff 2000: fills 200 x 200, but no torn lay does.
    monkeypatch.setattr("marker.solver.tear.search.QUICK", 3_000_000)
    cloth, pieces = published(SETS / f"{name}.json")
    lay = solve(cloth, pieces, iterations=0)
    assert lay.length >= lay.bound > 200 * 160


@absent
def test_the_bench_tells_one_set() -> None:
    asked = argparse.Namespace(mode="tear", seconds=5.0, rounds=None, seed=0)
    told = measure(SETS / "bkw1.json", asked)
    assert told.pop("seconds")
    assert told.pop("processor")
    assert told == {
        "name": "bkw1", "mode": "tear", "length": 40, "bound": 40,
        "proved": True, "density": 100.0, "checked": True,
    }  # fmt: skip


def test_a_stack_may_leave_just_room_for_the_narrowest_strip() -> None:
    problem = Problem(100, (Kind(((50, 92),), 1), Kind(((40, 92),), 1), Kind(((90, 8),), 1)))
    packing = Packing.of([1, 1, 1])
    rows = cover(problem, packing, enumerated(problem, 90), 0, Purse(1000))
    assert rows is not None
    assert len(rows) == 1


def test_bands_that_begin_with_a_stack_hold_all_pieces() -> None:
    for seed in range(6):
        problem = read(*company(8, seed)).problem
        for bands in islice(stacked_lays(problem, Random(seed)), 10):
            held = sum((band.counts() for band in bands), start=Counter[int]())
            assert held == {at: kind.count for at, kind in enumerate(problem.kinds)}
            assert all(band.b <= problem.width for band in bands)


def test_stacks_find_what_bands_of_one_lead_miss() -> None:
    # Eight wearers, some without waste: lays of one lead a band are at least a per cent over.
    problem = read(*company(8, 1)).problem
    rows = by_rows(problem).bound(problem)
    plain = min(map(length_of, islice(shaken_lays(problem, Random(0)), 16)))
    stacks = min(map(length_of, islice(stacked_lays(problem, Random(0)), 32)))
    assert stacks < plain
    assert stacks <= rows * 1.001
