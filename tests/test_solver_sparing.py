"""The sparing search: sound, seldom wrong on small lays, and far cheaper; stages of deepening."""

from __future__ import annotations

from collections import Counter
from multiprocessing import get_all_start_methods
from random import Random

import numpy as np
import pytest
from hypothesis import given, settings
from puzzles import assorted
from strategies import asks
from test_solver import Ask, oracle

from marker.solver.bounds import by_rows
from marker.solver.problem import Kind, Problem, read
from marker.solver.tear import exact
from marker.solver.tear.aside import Aside
from marker.solver.tear.block import Block
from marker.solver.tear.blocks import ROOT, enumerate_blocks
from marker.solver.tear.exact import Deepening, shortest_within
from marker.solver.tear.greedy import fill_lay, length_of, shaken_lays
from marker.solver.tear.improve import Betterment
from marker.solver.tear.packing import Purse
from marker.solver.tear.sieve import Sieve


def sieve_of(problem: Problem) -> Sieve:
    return Sieve.of(problem, by_rows(problem))


def held(bands: tuple[Block, ...]) -> Counter[int]:
    return Counter(leaf.kind for band in bands for leaf in band.leaves())


def demand(problem: Problem) -> Counter[int]:
    return Counter({at: kind.count for at, kind in enumerate(problem.kinds)})


@settings(max_examples=40, derandomize=True, deadline=None)
@given(asks())
def test_what_is_found_sparingly_is_a_lay_within_the_target(ask: Ask) -> None:
    best, scaled = oracle(ask), read(*ask)
    assert best is not None
    problem, length = scaled.problem, best // scaled.along
    tallest = max(min(a for a, _ in kind.shapes) for kind in problem.kinds)
    for target in (max(length - 1, tallest), length, length + length // 8):
        bands = shortest_within(problem, target, sieve_of(problem), Purse(10**8), 0.5)
        if bands is not None:
            assert length <= length_of(bands) <= target
            assert held(bands) == demand(problem)
            assert all(band.b <= problem.width for band in bands)


def test_sparing_finds_a_shortest_lay_with_a_part_of_the_effort() -> None:
    problem = read(*assorted(1, 18, 9)).problem
    whole, sparing = Purse(10**8), Purse(10**8)
    best = shortest_within(problem, 79170, sieve_of(problem), whole)
    found = shortest_within(problem, 79170, sieve_of(problem), sparing, 0.4)
    assert best is not None
    assert found is not None
    assert length_of(found) == length_of(best) == 79170
    assert sparing.spent * 3 < whole.spent


def test_blocks_waste_little_for_their_size() -> None:
    problem = read(*assorted(4, 15, 8)).problem
    target = by_rows(problem).bound(problem) * 21 // 20
    budget = problem.width * target - problem.area
    whole = enumerate_blocks(problem, target, sieve_of(problem), Purse(10**8))
    spared = enumerate_blocks(problem, target, sieve_of(problem), Purse(10**8), 0.4)
    assert len(spared) < len(whole)
    several = spared.join != 0
    waste = (spared.a * spared.b - spared.area)[several]
    part = np.sqrt(spared.area[several] / problem.area)
    assert (waste <= ROOT * int(0.4 * budget) * part).all()


def deepen(problem: Problem, efforts: int) -> tuple[list[int], list[int]]:
    """Lengths of the lays met and the bounds told, from a plain lay on."""
    met, bounds = [length_of(fill_lay(problem, Random(0), 0.0))], []
    worths = by_rows(problem)
    work = Deepening(
        problem, worths.bound(problem), lambda: met[-1], lambda length: length - 1,
        Sieve.of(problem, worths), Purse(efforts), bounds.append,
    )  # fmt: skip
    for bands in work.lays():
        if bands is None:
            assert work.settled
        else:
            assert held(bands) == demand(problem)
            met.append(length_of(bands))
    return met, bounds


def test_deepening_ends_with_a_proof_where_it_can() -> None:
    met, bounds = deepen(read(*assorted(6, 12, 8)).problem, 10**9)
    assert met == sorted(met, reverse=True)
    assert bounds == sorted(bounds)
    # What exhausting in earnest proves: the last lay is the shortest.
    problem = read(*assorted(6, 12, 8)).problem
    best = shortest_within(problem, met[-1], sieve_of(problem), Purse(10**9))
    assert best is not None
    assert length_of(best) == met[-1]
    assert shortest_within(problem, met[-1] - 1, sieve_of(problem), Purse(10**9)) is None


def efforts_of(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """What each search in earnest may spend from now on, as they come."""
    efforts: list[int] = []
    plain = exact.exhaust

    def spied(*ask: object) -> exact.Result:
        efforts.append(ask[5].pairs)  # type: ignore[attr-defined]
        return plain(*ask)  # type: ignore[arg-type]

    monkeypatch.setattr(exact, "exhaust", spied)
    return efforts


@pytest.mark.slow
def test_deepening_ends_with_its_purse(monkeypatch: pytest.MonkeyPatch) -> None:
    efforts = efforts_of(monkeypatch)
    deepen(read(*assorted(2, 30, 11)).problem, 3_200_000)
    first = 3_200_000 // exact.STAGES * exact.GROWTH
    assert efforts == [first * exact.GROWTH**at for at in range(len(efforts))]
    assert len(efforts) == 5


def test_what_was_found_sparingly_is_proved_with_all_effort(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    efforts = efforts_of(monkeypatch)
    deepen(read(*assorted(6, 12, 8)).problem, 10**9)
    assert efforts == [10**9]


def targets(monkeypatch: pytest.MonkeyPatch, aims: tuple[int, ...], bold: float) -> list[int]:
    """The targets of an exhaustion that finds nothing, each twice as dear as one a tenth less."""
    met: list[int] = []

    def dear(_problem: Problem, target: int, _sieve: Sieve, purse: Purse) -> None:
        purse.spend(int(1000 * 2 ** ((target - problem.area / problem.width) / 90)))
        met.append(target)

    problem = Problem(1000, (Kind(((1, 1000),), 900), Kind(((1, 1),), 1200)))
    monkeypatch.setattr(exact, "shortest_within", dear)
    sieve = sieve_of(problem)
    exact.exhaust(problem, 1010, 2000, aims, sieve, Purse(20_000), lambda _: None, bold)
    return met


def test_targets_are_raised_as_far_as_effort_lasts_and_come_to_rest_at_stops(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    free = targets(monkeypatch, (1990,), 1.0)
    stopped = targets(monkeypatch, (1011, free[1] - 1, 1990), 1.0)
    assert len(free) < 12
    assert stopped[:2] == [1010, 1011]
    assert free[1] - 1 in stopped
    assert targets(monkeypatch, (1990,), 2.0)[1] > free[1]
    assert targets(monkeypatch, (1012,), 1.0) == [1010, 1012]


@pytest.mark.skipif("fork" not in get_all_start_methods(), reason="this system can't fork")
def test_another_process_deepens_from_the_shortest_lay_it_hears_of() -> None:
    problem = read(*assorted(6, 12, 8)).problem
    worths = by_rows(problem)
    start = fill_lay(problem, Random(0), 0.0)
    aside = Aside.deepen(
        problem, Sieve.of(problem, worths), worths.bound(problem), start,
        lambda length: length - 1, Purse(10**9),
    )  # fmt: skip
    heard = []
    while news := aside.hear(wait=60):
        heard.append(news)
    aside.stop()
    bands = [news.bands for news in heard if news.bands is not None]
    assert length_of(bands[-1]) == deepen(problem, 10**9)[0][-1] < length_of(start)


def test_work_begun_afresh_with_a_longer_lay_has_room_for_it() -> None:
    problem = read(*assorted(2, 30, 11)).problem
    lays = shaken_lays(problem, Random(3))
    short, long = sorted((next(lays) for _ in range(12)), key=length_of)[::11]
    work = Betterment(problem, by_rows(problem), Random(1), short, 1, starts=iter([long]))
    room = len(work.desk.along)
    work.stuck = 10**6
    work.round()
    assert work.line is long
    assert work.best is short
    assert len(work.desk.along) > room
    work.adopt(short)
    assert work.line is long
