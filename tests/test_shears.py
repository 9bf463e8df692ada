"""The search for free lays against a board filled cell by cell, published sets, and itself."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Callable, Sequence
from itertools import pairwise
from pathlib import Path
from random import Random
from threading import Event
from time import monotonic, process_time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from puzzles import assorted, company
from puzzles import torn as torn_puzzle
from shears_oracle import shortest

from marker.solver.bounds import by_rows
from marker.solver.problem import Kind, Problem, Scaled, read
from marker.solver.shears import Free, free, search, tree
from marker.solver.shears.chains import Chains, Relaying
from marker.solver.shears.crew import done_by
from marker.solver.shears.exhaust import Exhaustion, Target
from marker.solver.shears.raising import Raising
from marker.solver.shears.strip import bands, first_lay, joined, pushed, rows_of
from marker.solver.spots import Spot, reach

SETS = Path(__file__).parents[2] / "shared" / "benchmarks" / "rectangles"


@st.composite
def problems(draw: st.DrawFn) -> Problem:
    """A strip 3 to 7 across with up to seven small pieces, some of which may turn."""
    width = draw(st.integers(3, 7))
    counts: Counter[tuple[tuple[int, int], ...]] = Counter()
    for _ in range(draw(st.integers(1, 4))):
        a, b = draw(st.integers(1, 5)), draw(st.integers(1, width))
        turns = draw(st.booleans()) and a <= width
        counts[tuple(sorted({(a, b), (b, a)} if turns else {(a, b)}))] += draw(st.integers(1, 2))
    kinds = sorted((Kind(shapes, count) for shapes, count in counts.items()), key=lambda k: -k.area)
    problem = Problem(width, tuple(kinds))
    return Problem(int(problem.sums_across()[-1]), problem.kinds)


def least(problem: Problem) -> int:
    return shortest(problem.width, [(kind.shapes, kind.count) for kind in problem.kinds])


def judge(scaled: Scaled, spots: Sequence[Spot]) -> None:
    """All copies are there, in shapes they may have, on the cloth, and none lies on another."""
    problem, u, v = scaled.problem, scaled.along, scaled.across
    counts = {at: kind.count for at, kind in enumerate(problem.kinds)}
    assert Counter(spot.kind for spot in spots) == counts
    for at, one in enumerate(spots):
        assert any((one.a, one.b) == (a * u, b * v) for a, b in problem.kinds[one.kind].shapes)
        assert one.x >= 0
        assert 0 <= one.y <= problem.width * v - one.b
        for two in spots[:at]:
            apart = one.x >= two.x + two.a or two.x >= one.x + one.a
            assert apart or one.y >= two.y + two.b or two.y >= one.y + one.b


def lay(problem: Problem, **more: object) -> Free:
    """Search by count alone, and judge what comes."""
    found = free(Scaled(problem, 1, 1), iterations=3, **more)  # type: ignore[arg-type]
    judge(Scaled(problem, 1, 1), found.spots)
    assert found.bound <= found.length
    return found


@settings(max_examples=60, derandomize=True, deadline=None)
@given(problems())
def test_small_lays_are_the_shortest_of_all(problem: Problem) -> None:
    found = lay(problem)
    assert found.length == found.bound == least(problem)


@settings(max_examples=60, derandomize=True, deadline=None)
@given(problems(), st.booleans(), st.sampled_from((0.0, 0.5)))
def test_a_length_is_met_or_ruled_out_rightly(problem: Problem, turned: bool, noise: float) -> None:
    best = least(problem)
    for length in range(max(1, best - 2), best + 2):
        target = Target(problem, length, turned)
        if target.hopeless:
            assert length < best
            continue
        work = Exhaustion(target, Random(length), noise)
        # In slices, so that going on is tried too.
        while work.run(7) == tree.TIRED:
            pass
        assert work.outcome == (tree.FOUND if length >= best else tree.EXHAUSTED)
        if work.outcome == tree.FOUND:
            assert reach(work.spots()) <= length
            judge(Scaled(problem, 1, 1), work.spots())


@pytest.mark.parametrize(
    ("skyline", "pieces", "length", "outcome"),
    [
        # The piece 4 across stands at the far edge of its step, a hole of 1 x 3 before it that
        # the other piece closes from the wall of 3 on: all the waste there may be.
        ([(0, 3, 0), (2, 0, 0)], [(4, 4), (1, 3)], 4, tree.FOUND),
        ([(0, 3, 0), (2, 0, 0)], [(4, 4), (2, 3)], 4, tree.EXHAUSTED),
        # Nothing fits the step of 2, which is closed at the lower wall: 4 is all the waste.
        ([(0, 2, 0), (3, 0, 0), (5, 4, 0)], [(2, 5), (1, 3), (1, 4)], 5, tree.FOUND),
        ([(0, 2, 0), (3, 0, 0), (5, 4, 0)], [(2, 5), (2, 3)], 5, tree.EXHAUSTED),
        # On a piece just as broad a shorter one is not laid: the other order is tried elsewhere.
        ([(0, 3, 3)], [(2, 7)], 5, tree.EXHAUSTED),
        ([(0, 3, 3)], [(3, 7)], 6, tree.FOUND),
        ([(0, 3, 3)], [(2, 6)], 5, tree.FOUND),
        # Nor a narrower one beside a piece just as long.
        ([(0, 3, 3), (5, 0, 0)], [(3, 2)], 3, tree.EXHAUSTED),
        ([(0, 3, 3), (3, 0, 0)], [(3, 4)], 3, tree.FOUND),
        ([(0, 3, 3), (5, 0, 0)], [(2, 2)], 3, tree.FOUND),
    ],
)
def test_a_skyline_is_gone_on_with_in_every_way_that_counts(
    skyline: list[tuple[int, int, int]], pieces: list[tuple[int, int]], length: int, outcome: int
) -> None:
    # Steps are (begin, height, length of the piece that alone makes it, or 0), 7 across.
    counts = Counter((shape,) for shape in pieces)
    kinds = tuple(Kind(shapes, count) for shapes, count in sorted(counts.items(), reverse=True))
    work = Exhaustion(Target(Problem(7, kinds), length), Random(0))
    for at, step in enumerate(skyline):
        work.fronts[0, :, at] = step
    work.fronts[0, 0, len(skyline)] = 7
    work.marks[0, tree.STEPS] = len(skyline)
    assert work.run(1000) == outcome


@settings(max_examples=60, derandomize=True, deadline=None)
@given(problems())
def test_bounds_without_search_never_pass_the_oracle(problem: Problem) -> None:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(search, "QUICK", 0)
        found = free(Scaled(problem, 1, 1), iterations=0)
    assert found.bound <= least(problem) <= found.length


def test_columns_bound_what_rows_do_not() -> None:
    # Area and rows ask for 6. But a column 6 long holds the four alone or two threes, and
    # 5 + 3 x 2 / 2 = 8 is more than the width of 7.
    problem = Problem(7, (Kind(((4, 5),), 1), Kind(((3, 2),), 3)))
    assert least(problem) == 7
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(search, "QUICK", 0)
        together = free(Scaled(problem, 1, 1), iterations=0)
        patch.setattr(search, "by_columns", lambda _, __, bound, *___: bound)
        alone = free(Scaled(problem, 1, 1), iterations=0)
    assert (together.bound, together.bound_by) == (7, search.BOTH)
    assert (alone.bound, alone.bound_by) == (7, search.COLUMNS)


def test_rows_and_columns_weighed_together_bound_what_neither_does() -> None:
    # Beside every row in which it fits well a piece finds no column that does.
    problem = read(*assorted(0, 30, 11)).problem
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(search, "QUICK", 0)
        found = free(Scaled(problem, 1, 1), iterations=0)
    assert found.bound_by == search.BOTH
    assert found.bound > by_rows(problem).bound(problem)


def test_pieces_of_a_full_breadth_are_set_apart_and_sizes_scaled_back() -> None:
    problem = Problem(6, (Kind(((4, 6),), 2), Kind(((3, 3),), 2), Kind(((2, 2), (2, 2)), 1)))
    scaled = Scaled(problem, 10, 7)
    found = free(scaled, iterations=1)
    judge(scaled, found.spots)
    assert found.length == found.bound == 10 * (8 + 3 + 2)
    alone = free(Scaled(Problem(6, (Kind(((4, 6), (6, 4)), 2),)), 10, 7), iterations=1)
    assert (alone.length, alone.bound) == (80, 80)


@pytest.mark.slow
def test_a_lay_in_hand_is_never_made_longer(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(search, "PROVABLE", 0)
    monkeypatch.setattr(search, "QUICK", 40_000)
    monkeypatch.setattr(search, "MORE", 0)
    problem = read(*assorted(5, 25, 10)).problem
    first = lay(problem)
    start = free(Scaled(problem, 1, 1), iterations=12, seed=4)
    again = lay(problem, start=start.spots, seed=9)
    assert again.length <= start.length <= first_length(problem)
    assert first.length <= first_length(problem)
    # What is no lay of these pieces is not taken for one.
    short = lay(problem, start=start.spots[1:])
    assert short.length == first.length


def first_length(problem: Problem) -> int:
    return reach(first_lay(problem))


@settings(max_examples=40, derandomize=True, deadline=None)
@given(st.integers(0, 10_000))
def test_pushing_and_parting_keep_a_lay_whole(seed: int) -> None:
    problem = read(*company(3, seed % 7)).problem
    random = Random(seed)
    spread = joined(
        [[Spot(s.kind, s.a, s.b, s.x + 7, s.y)] for s in random.sample(*_sampled(problem))]
    )
    close = pushed(spread)
    judge(Scaled(problem, 1, 1), close)
    assert reach(close) <= reach(spread)
    rows = rows_of(problem, close)
    assert {kind for row in rows for kind, _ in row} == set(range(len(problem.kinds)))
    for row in rows:
        assert sum(problem.kinds[kind].shapes[shape][1] for kind, shape in row) <= problem.width
    judge(Scaled(problem, 1, 1), joined(bands(close)))
    assert reach(joined(bands(close))) <= reach(close)


def _sampled(problem: Problem) -> tuple[list[Spot], int]:
    spots = list(first_lay(problem))
    return spots, len(spots)


def test_a_length_to_keep_within_ends_the_search() -> None:
    problem = read(*assorted(3, 30, 11)).problem
    easy = reach(first_lay(problem))
    assert lay(problem, within=easy).spots == pushed(first_lay(problem))
    refused = lay(problem, within=problem.area // problem.width - 1)
    assert refused.bound >= problem.area // problem.width


def test_a_cutting_step_less_is_ruled_out_first() -> None:
    problem = Problem(10, (Kind(((4, 5),), 3), Kind(((3, 5),), 2)))
    work = Raising(problem, Random(0), list(range(1, 40)), bound=9, ruled_out=1)
    assert work.target(30) == 9
    wide = Raising(problem, Random(0), list(range(1, 40)), bound=20, ruled_out=1)
    assert wide.target(40) == 25
    wide.aim = 22
    assert wide.target(40) == 22
    wide.aim = 12
    assert wide.target(40) == 25
    told: list[tuple[int, int]] = []
    found = free(
        Scaled(problem, 1, 1),
        steps=lambda length: -(-length // 5) * 5,
        iterations=1,
        progress=lambda length, bound: told.append((length, bound)),
    )
    assert found.length == found.bound == least(problem)
    assert all(one[0] >= two[0] and one[1] <= two[1] for one, two in pairwise(told))


def test_the_same_seed_gives_the_same_lay() -> None:
    problem = read(*company(4, 2)).problem
    one, two = (free(Scaled(problem, 1, 1), iterations=4, seed=3) for _ in range(2))
    assert one == two


def test_long_lays_are_bettered_in_parts() -> None:
    problem = read(*company(16, 1)).problem
    assert problem.pieces > search.FEW
    work = Relaying(problem, Random(1))
    work.begin(first_lay(problem))
    before = reach(work.spots)
    for _ in range(12):
        relay = work.next()
        assert relay is not None
        work.settle(*relay.run(Event()))
    judge(Scaled(problem, 1, 1), work.spots)
    assert reach(work.spots) < before
    assert not work.busy


def test_annealing_betters_an_order() -> None:
    problem = torn_puzzle(100, 100, 20, Random(2))
    chains = Chains(problem, Random(0))
    best = first_lay(problem)
    lengths = []
    for _ in range(10):
        found = chains.next(best, 100).run(Event())
        judge(Scaled(problem, 1, 1), found)
        best = min(best, found, key=reach)
        lengths.append(reach(best))
    assert lengths[-1] < reach(first_lay(problem))
    assert lengths[-1] <= 110


def test_ctrl_c_keeps_the_best_lay_and_its_bound() -> None:
    problem = read(*assorted(2, 20, 9)).problem
    told: list[tuple[int, int]] = []

    def stop(length: int, bound: int) -> None:
        told.append((length, bound))
        if len(told) == 2:
            raise KeyboardInterrupt

    found = free(Scaled(problem, 1, 1), iterations=30, progress=stop)
    judge(Scaled(problem, 1, 1), found.spots)
    assert told[-1] == (found.length, found.bound)
    assert len(told) == 2


@pytest.mark.slow
def test_the_time_given_is_kept() -> None:
    problem = read(*assorted(11, 40, 20)).problem
    Chains(problem, Random(0)).next(first_lay(problem), 0).run(Event())  # compiled by now
    began = process_time()
    found = free(Scaled(problem, 1, 1), seconds=1.5)
    # On a machine that does nothing else the limit is kept within 0.2 s; a search that looks at
    # no clock would do far more work than this, which any machine keeps.
    assert process_time() - began < 20
    judge(Scaled(problem, 1, 1), found.spots)


def test_work_shared_between_hands_comes_back_whole() -> None:
    jobs: list[Callable[[Event], int]] = [lambda _, n=n: n * n for n in range(20)]  # type: ignore[misc]
    assert list(done_by(iter(jobs), 1, None)) == [n * n for n in range(20)]
    assert sorted(done_by(iter(jobs), 2, monotonic() + 60)) == [n * n for n in range(20)]

    def broken(_: Event) -> int:
        raise ValueError("broken")

    with pytest.raises(ValueError, match="broken"):
        list(done_by(iter([broken]), 2, monotonic() + 60))
    held = done_by(iter([lambda stop: stop.wait(240)] * 2), 2, monotonic() + 0.2)
    began = monotonic()
    assert list(held) == []
    assert monotonic() - began < 120


@pytest.mark.parametrize("name", ["bkw1", "bkw2", "c1_1", "c1_3", "n1a", "n1b"])
def test_published_optima_are_found_and_proved(name: str) -> None:
    # C1: Hopper and Turton, EJOR 128 (2001); N1, N2: Burke, Kendall and Whitwell, Oper. Res.
    # 52 (2004); n1: Hopper, PhD thesis, Cardiff 2000. n1a and n1b can't be torn at 200.
    file = SETS / f"{name}.json"
    if not file.exists():
        pytest.skip("the published sets are not in ../shared/benchmarks")
    data = json.loads(file.read_text(encoding="utf-8"))
    counts: Counter[tuple[tuple[int, int], ...]] = Counter()
    for item in data["pieces"]:
        counts[((item["length"], item["width"]),)] += item["count"]
    problem = Problem(data["width"], tuple(Kind(shapes, n) for shapes, n in counts.items()))
    found = lay(problem)
    assert found.length == found.bound == data["optimum"]
