"""The tear solver at size: puzzles torn without waste, companies, and the parts behind them.

Everything stops on counts and a seed; no test looks at the clock.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from random import Random

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from oracle import shortest as shortest_of
from puzzles import assorted, company, torn
from strategies import asks
from test_solver import Ask, oracle

from marker.cloth import Cloth
from marker.lay import Proof, prove
from marker.referee import findings
from marker.solver import solve
from marker.solver.bounds import by_area, by_columns, by_rows, refuted
from marker.solver.problem import Kind, Problem, Scaled, read
from marker.solver.tear import improve, knit
from marker.solver.tear import rows as rows_room
from marker.solver.tear import search as stages
from marker.solver.tear.block import Block, rows_across, stack
from marker.solver.tear.greedy import fill_lay, length_of, stacked_lays
from marker.solver.tear.improve import Betterment, Desk
from marker.solver.tear.limits import Limits
from marker.solver.tear.rooms import Figures, choose_room, put_back, shorten
from marker.solver.tear.rows import shortest
from marker.solver.tear.search import search
from marker.units import CM


def held(*blocks: Block) -> Counter[int]:
    return sum((block.counts() for block in blocks), Counter())


def figures_of(problem: Problem) -> Figures:
    areas = [kind.area for kind in problem.kinds]
    return Figures(areas, areas)


def quiet(length: int, bound: int) -> None:
    assert bound <= length


@pytest.mark.parametrize(("pieces", "seed"), [(17, 3), (33, 4), (49, 5), (49, 6)])
def test_a_cloth_torn_without_waste_is_proved_at_its_length(pieces: int, seed: int) -> None:
    problem = torn(1000, 1400, pieces, Random(seed))
    found = search(problem, Limits(iterations=200), 0, quiet)
    assert (length_of(found.best), found.bound) == (1400, 1400)
    assert held(*found.best) == {at: kind.count for at, kind in enumerate(problem.kinds)}


@pytest.mark.parametrize(("wearers", "seed"), [(5, 1), (8, 1), (12, 2)])
@pytest.mark.slow
def test_a_company_comes_close_to_its_bound(
    wearers: int, seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    # The length is wanted even where it saves no cutting step.
    monkeypatch.setattr(stages, "CHEAP", 1.0)
    cloth, pieces = company(wearers, seed)
    lay = solve(cloth, pieces, iterations=700)
    assert findings(lay) == ()
    assert lay.bound <= lay.length <= lay.bound * 1.01


@pytest.mark.slow
def test_the_same_seed_lays_a_company_the_same() -> None:
    cloth, pieces = company(10, 4)
    one, two = (solve(cloth, pieces, iterations=120, seed=7) for _ in range(2))
    assert one == two
    # Another seed goes another way.
    assert solve(cloth, pieces, iterations=120, seed=8).placements != one.placements


@pytest.mark.slow
def test_mixed_sizes_keep_to_the_referee(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(stages, "QUICK", 1_000_000)
    monkeypatch.setattr(stages, "BRIEF", 1_000_000)
    for seed in range(3):
        cloth, pieces = assorted(seed, 30, 11)
        lay = solve(cloth, pieces, iterations=60)
        assert findings(lay) == ()


@settings(max_examples=60, derandomize=True, deadline=None)
@given(asks(), st.integers(-30, 30))
def test_a_length_that_is_enough_ends_the_search(ask: Ask, more: int) -> None:
    best = oracle(ask)
    assert best is not None
    scaled = read(*ask)
    enough = best + more * CM
    row = shortest(scaled, 0.0, 20, 0, None, within=enough)
    assert row.bound <= best <= row.length
    # Either a lay of that length is shown, or the bound says that there is none.
    assert row.length <= enough if best <= enough else row.bound > enough


def test_bands_set_apart_count_towards_a_length_that_is_enough() -> None:
    puzzle = torn(1000, 1400, 17, Random(3))
    scaled = Scaled(Problem(1000, (Kind(((50, 1000),), 2), *puzzle.kinds)), 1, 1)
    # One unit less than the first lay that comes to hand, bands and all.
    enough = 100 + length_of(fill_lay(puzzle, Random(0), 0.0)) - 1
    assert shortest(scaled, 0.0, 50, 0, None, within=enough).length <= enough
    assert shortest(scaled, 0.0, 50, 0, None, within=1499).bound == 1500
    assert 1500 < shortest(scaled, 0.0, 50, 0, None, within=9000).length <= 9000


def test_bands_set_apart_count_towards_a_step(monkeypatch: pytest.MonkeyPatch) -> None:
    # 100 of bands and a rest of 40: in units of the cloth, 2 to a scaled one, that is 280.
    given_on: list[Limits] = []
    whole = stages.search

    def spy(problem: Problem, limits: Limits, *more: object) -> object:
        given_on.append(limits)
        return whole(problem, limits, *more)  # type: ignore[arg-type]

    monkeypatch.setattr(rows_room, "search", spy)
    kinds = Kind(((50, 1000),), 2), Kind(((40, 300),), 3), Kind(((40, 100),), 1)
    shortest(Scaled(Problem(1000, kinds), 2, 1), 0.0, 0, 0, None, less=lambda length: length - 60)
    assert given_on[0].wanted(40) == 40 - 30


@settings(max_examples=60, derandomize=True, deadline=None)
@given(asks())
@pytest.mark.slow
def test_no_cutting_step_is_left_to_save(ask: Ask) -> None:
    cloth, best = ask[0], oracle(ask)
    assert best is not None

    def less(length: int) -> int:
        return cloth.longest_lay(cloth.buy(length) - cloth.step)

    row = shortest(read(*ask), 0.0, 20, 0, None, less=less)
    assert row.bound <= best <= row.length
    assert cloth.buy(row.length) == cloth.buy(best)
    assert prove(cloth, row.length, row.bound) is not Proof.OPEN


@pytest.mark.parametrize(("seed", "steps"), [(6, 1), (12, 1), (17, 0)])
def test_a_step_is_searched_before_the_length(
    seed: int, steps: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    # The exhaustion aims at what one step less holds; where the bound already rules that out
    # (the last case), at any shorter lay.
    cloth, pieces = assorted(seed, 12, 8)
    scaled = read(cloth, pieces)
    seen: list[int] = []
    whole = stages.exhaust

    def spy(problem: Problem, bound: int, best: int, aims: list[int], *more: object) -> object:
        bought, aimed = (cloth.buy(length * scaled.along) for length in (best, aims[-1]))
        seen.append((bought - aimed) // cloth.step)
        return whole(problem, bound, best, aims, *more)  # type: ignore[arg-type]

    def less(length: int) -> int:
        return cloth.longest_lay(cloth.buy(length) - cloth.step)

    monkeypatch.setattr(stages, "exhaust", spy)
    row = shortest(scaled, 0.0, 0, 0, None, less=less)
    assert seen[0] == steps
    assert row.bound == row.length


@pytest.mark.parametrize(("seed", "spent"), [(3, 20), (5, 80)])
@pytest.mark.slow
def test_effort_is_cut_down_once_no_step_and_little_length_can_be_saved(
    seed: int, spent: int
) -> None:
    cloth, pieces = company(10, seed)
    rounds = []
    for shop in (None, lambda _: 0):
        scaled = read(cloth, pieces)
        found = search(scaled.problem, Limits(iterations=80, less=shop), 0, quiet)
        close = length_of(found.best) <= 1.005 * found.bound
        assert found.bound < length_of(found.best)
        assert close == (spent == 20)
        rounds.append(found.rounds)
    assert rounds == [80, spent]


@pytest.mark.slow
def test_a_search_that_is_stuck_begins_afresh(monkeypatch: pytest.MonkeyPatch) -> None:
    problem = read(*assorted(2, 30, 11)).problem
    starts: list[int] = []

    def spied(*ask: Problem | Random) -> Iterator[tuple[Block, ...]]:
        for lay in stacked_lays(*ask):  # type: ignore[arg-type]
            starts.append(length_of(lay))
            yield lay

    monkeypatch.setattr(stages, "stacked_lays", spied)
    monkeypatch.setattr(stages, "BRIEF", 0)
    monkeypatch.setattr(stages, "QUICK", 0)
    drawn, lengths = [], []
    for stuck in (10**9, 40, 40):
        monkeypatch.setattr(improve, "STUCK", stuck)
        starts.clear()
        lengths.append(length_of(search(problem, Limits(iterations=600), 0, quiet).best))
        drawn.append(len(starts))
    assert drawn[0] == stages.STACKED_LAYS < drawn[1] == drawn[2]
    # A start afresh is longer than the best, which is kept.
    assert lengths[1] == lengths[2] < min(starts)


def test_a_lay_that_needs_no_proof_is_only_bettered(monkeypatch: pytest.MonkeyPatch) -> None:
    scaled = read(*assorted(2, 30, 11))

    def never(*_: object) -> None:
        raise AssertionError

    monkeypatch.setattr(stages, "exhaust", never)
    row = shortest(scaled, 0.0, None, 0, None, proving=False)
    assert row.bound < row.length
    with pytest.raises(AssertionError):
        shortest(scaled, 0.0, None, 0, None)


def test_five_half_breadths_are_three_deep() -> None:
    # Two abreast: rows say 2 1/2 lengths. But one of two columns holds three of them.
    problem = Problem(100, (Kind(((40, 50),), 5), Kind(((3, 10),), 12)))
    rows = by_rows(problem)
    assert rows.bound(problem) == 104
    assert by_columns(problem, rows, 104, 136) == 120


@settings(max_examples=80, derandomize=True, deadline=None)
@given(asks())
def test_rows_and_columns_never_pass_the_oracle(ask: Ask) -> None:
    best, scaled = oracle(ask), read(*ask)
    assert best is not None
    problem, upper = (
        scaled.problem,
        sum(max(a for a, _ in kind.shapes) * kind.count for kind in scaled.problem.kinds),
    )
    rows = by_rows(problem)
    both = by_columns(problem, rows, rows.bound(problem), upper)
    assert both * scaled.along <= best


@pytest.mark.slow
@settings(max_examples=150, derandomize=True, deadline=None)
@given(asks(), st.randoms(use_true_random=False))
def test_no_weights_refute_a_length_that_can_be_laid(ask: Ask, random: Random) -> None:
    best, scaled = oracle(ask), read(*ask)
    assert best is not None
    problem = scaled.problem
    lengths = problem.sums(0, best // scaled.along)
    weights = [[random.randint(0, 9) ** 2 for _ in kind.shapes] for kind in problem.kinds]
    assert not refuted(problem, by_rows(problem), lengths, weights)


def test_sizes_for_weights_refute_just_what_is_too_short() -> None:
    problem = torn(61, 83, 12, Random(4))
    sizes = [[a for a, _ in kind.shapes] for kind in problem.kinds]
    rows = by_rows(problem)
    assert not refuted(problem, rows, problem.sums(0, 83), sizes)
    assert refuted(problem, rows, problem.sums(0, 81), sizes)


def test_known_rows_spare_the_program_its_rounds() -> None:
    problem = read(*company(12, 2)).problem
    random, known = Random(0), []
    for band in (band for shake in (0.0, 0.5, 1.0) for band in fill_lay(problem, random, shake)):
        for row in rows_across(band):
            shapes = [(part.kind, (part.a, part.b)) for part in row]
            known.append(
                [(kind, problem.kinds[kind].shapes.index(shape)) for kind, shape in shapes]
            )
    area, few = by_area(problem).bound(problem), by_rows(problem, rounds=20).bound(problem)
    # Cut short, it never falls behind area by more than the rounding of its worths.
    assert area - 1 <= few < by_rows(problem, known, rounds=20).bound(problem)


def knitted(width: int, length: int, sizes: list[tuple[int, int]], waste: int = 1 << 40) -> int:
    """How many pieces the compiled loop gets into a room that may waste so much."""
    count = len(sizes)
    shapes = np.array([(a, b, 0, 0) for a, b in sizes], np.int64)
    figures = np.array([(a * b, 1, 1 << 2 * at) for at, (a, b) in enumerate(sizes)], np.int64)
    desk = Desk.of(width, length)
    nothing = np.zeros(1, np.int64)
    want = knit.Want(
        length, width, waste, count, nothing, nothing, desk.across, desk.along,
        desk.slots, desk.blocks,
    )  # fmt: skip
    spare, guard = sum(3 << 2 * at for at in range(count)), sum(2 << 2 * at for at in range(count))
    best, made, whole = knit.knit(want, shapes, np.ones(count, np.int64), figures, spare, guard)
    assert whole
    for row in desk.blocks[:made].tolist():
        area = sum(a * b for at, (a, b) in enumerate(sizes) if row[knit.HELD] >> 2 * at & 1)
        assert row[knit.WASTE] == row[knit.A] * row[knit.B] - area
        assert knit.ROOT * row[knit.WASTE] ** 2 * length * width <= waste**2 * area
    return int(desk.blocks[best, knit.VALUE])


def test_the_compiled_loop_agrees_with_the_oracle() -> None:
    random = Random(2)
    for _ in range(60):
        width = random.randint(20, 150)
        sizes = [(random.randint(1, 90), random.randint(1, width)) for _ in range(5)]
        best = shortest_of(width, [(size,) for size in sizes])
        assert best is not None
        assert knitted(width, best, sizes) == 5
        assert knitted(width, best - 1, sizes) < 5
        # With no more waste than there is some blocks are left out, but what is found is right.
        least = width * best - sum(a * b for a, b in sizes)
        assert knitted(width, best, sizes, least) <= 5


def test_rooms_are_put_back_with_every_piece_in_its_cloth() -> None:
    random = Random(3)
    problem = torn(300, 500, 40, random)
    figures, row = figures_of(problem), fill_lay(problem, random, 1.0)
    length = length_of(row) + 20
    for _ in range(300):
        room = choose_room(row, length, problem.width, 9, figures, random)
        inside, most = stack(*room.blocks), max(block.b for block in room.blocks)
        assert room.a >= max(block.a for block in room.blocks)
        assert room.b >= most
        again = put_back(row, room, inside if inside.a <= room.a else None)
        assert length_of(again) <= length
        assert all(band.b <= problem.width for band in again)
        gone = held(*row) - held(*again)
        assert gone == (Counter() if inside.a <= room.a else held(inside))


def test_a_lay_is_shortened_by_what_is_worth_least() -> None:
    random = Random(5)
    problem = torn(300, 500, 40, random)
    figures, row = figures_of(problem), stack(*fill_lay(problem, random, 1.0))
    for most in range(row.a, 0, -17):
        left, out = shorten(row, most, figures, random)
        kept = [left] if left else []
        assert all(block.a <= most for block in kept)
        assert held(*kept, *out) == held(row)
    # One unit too long: a single strip behind the others goes, not a band.
    strip, tall = Block(3, 10, 0), Block(8, 10, 1)
    lay = stack(tall, strip)
    small = Problem(10, (Kind(((3, 10),), 1), Kind(((8, 10),), 1)))
    assert shorten(lay, 10, figures_of(small), random) == (tall, [strip])


def test_betterment_never_loses_a_piece_and_meets_a_length_that_is_wanted() -> None:
    problem = torn(700, 900, 24, Random(8))
    start = fill_lay(problem, Random(0), 0.0)
    work = Betterment(problem, by_rows(problem), Random(1), start, 900, lambda _: 950)
    demand = {at: kind.count for at, kind in enumerate(problem.kinds)}
    assert work.target == 950
    for _ in range(400):
        work.round()
        pool = Counter({kind: n for kind, n in enumerate(work.pool) if n})
        assert held(*work.row) + pool == demand
        assert length_of(work.row) <= work.target
        assert held(*work.best) == demand
    assert length_of(work.best) < length_of(start)


def test_cloth_of_a_kind_is_made_again_from_its_seed() -> None:
    assert company(3, 1) == company(3, 1)
    assert isinstance(assorted(1)[0], Cloth)
    assert sum(piece.count for piece in assorted(4, 30, 11)[1]) == 30
