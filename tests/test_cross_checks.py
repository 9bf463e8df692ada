"""The solvers and the referee against independent libraries.

Small cases by the hundred go against exhaustive oracles; a nightly run has thousands of them.
OR-Tools CP-SAT, in a plain model of this file's own, packs the same rectangles without the rule
that tears run edge to edge: its optimum is that of lays for shears, with and without flaws and
repeats, and bounds every torn lay. shapely unites the placed pieces and measures them.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from itertools import combinations
from random import Random
from types import ModuleType

import oracle_checks
import pytest
import rules_oracle
import shears_oracle
from oracle_checks import KINDS, judged
from ortools.sat.python import cp_model
from shapely import box, unary_union

from marker import referee
from marker.cloth import Cloth, Repeat
from marker.geometry import Rect
from marker.lay import Lay, Mode, Proof
from marker.piece import Grain, Match, Piece, Wise
from marker.solver import solve
from marker.units import CM

CLOTH = Cloth("main", "linen", width=20 * CM, step=CM)


def pieces_of(seed: int) -> list[Piece]:
    """Four to six pieces that do not divide the cloth evenly; some may turn."""
    random = Random(seed)
    return [
        Piece(
            chr(ord("A") + index), "piece", random.randint(3, 14) * CM, random.randint(3, 14) * CM,
            count=1, cloth="main", grain=random.choice((Grain.ALONG, Grain.EITHER)),
        )
        for index in range(random.randint(4, 6))
    ]  # fmt: skip


def shortest_with_shears(
    pieces: list[Piece], repeat: int = 0, flaw: tuple[int, int, int, int] | None = None
) -> int:
    """The optimum of the free arrangement, in units, by CP-SAT on whole centimetres.

    With a repeat all pieces start in one place of it, or, all of them half a turn round, end
    in one; a flaw is a piece that lies still.
    """
    model = cp_model.CpModel()
    most = sum(max(piece.length, piece.breadth) for piece in pieces) // CM + 10 * len(pieces)
    length = model.new_int_var(0, most, "length")
    phase = model.new_int_var(0, max(repeat - 1, 0), "phase")
    round_about = model.new_bool_var("half a turn round")
    along, across = [], []
    for piece in pieces:
        turned = model.new_bool_var("turned")
        if piece.grain is Grain.ALONG:
            model.add(turned == 0)
        a, b = piece.length // CM, piece.breadth // CM
        sizes = []
        for base, other, limit in ((a, b, most), (b, a, 20)):
            start, end = model.new_int_var(0, limit, ""), model.new_int_var(0, limit, "")
            size = model.new_int_var(min(a, b), max(a, b), "")
            model.add(size == base + (other - base) * turned)
            sizes.append((model.new_interval_var(start, size, end, ""), end, start))
        if repeat:
            times = model.new_int_var(0, most, "times")
            _, end, start = sizes[0]
            model.add(start == repeat * times + phase).only_enforce_if(~round_about)
            model.add(end == repeat * times + phase).only_enforce_if(round_about)
        along.append(sizes[0][0])
        across.append(sizes[1][0])
        model.add(sizes[0][1] <= length)
    if flaw is not None:
        x0, y0, x1, y1 = flaw
        along.append(model.new_interval_var(x0, x1 - x0, x1, "flaw"))
        across.append(model.new_interval_var(y0, y1 - y0, y1, "flaw"))
    model.add_no_overlap_2d(along, across)
    model.minimize(length)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 1
    assert solver.solve(model) == cp_model.OPTIMAL
    return int(solver.objective_value) * CM


@pytest.fixture(scope="module", params=range(12))
def solved(request: pytest.FixtureRequest) -> tuple[list[Piece], Lay]:
    """A random case and its torn lay."""
    pieces = pieces_of(request.param)
    return pieces, solve(CLOTH, pieces, iterations=50)


def test_a_torn_lay_is_no_shorter_than_shears_allow(solved: tuple[list[Piece], Lay]) -> None:
    pieces, lay = solved
    assert lay.proof is Proof.LENGTH
    assert lay.length >= shortest_with_shears(pieces)


@pytest.mark.parametrize("seed", range(12))
def test_a_lay_for_shears_is_as_short_as_the_plain_model_says(seed: int) -> None:
    pieces = pieces_of(seed)
    lay = solve(CLOTH, pieces, mode=Mode.SHEARS, iterations=50)
    assert referee.findings(lay) == ()
    assert lay.proof is Proof.LENGTH
    assert lay.length == shortest_with_shears(pieces)


@pytest.mark.parametrize("seed", range(8))
@pytest.mark.slow
def test_so_are_lays_by_rules(seed: int) -> None:
    hem = Match("hem", Wise.LENGTHWISE, 0, 0)
    pieces = [replace(piece, matches=(hem,), grain=Grain.ALONG) for piece in pieces_of(seed)]
    flaw = Rect(4 * CM, 6 * CM, 7 * CM, 9 * CM)
    cloth = replace(CLOTH, repeat=Repeat(along=3 * CM), flaws=(flaw,))
    lay = solve(cloth, pieces, mode=Mode.SHEARS, iterations=50)
    assert referee.findings(lay) == ()
    assert lay.proof is Proof.LENGTH
    assert lay.length == shortest_with_shears(pieces, repeat=3, flaw=(4, 6, 7, 9))


def test_the_pieces_lie_apart_for_shapely_too(solved: tuple[list[Piece], Lay]) -> None:
    _, lay = solved
    assert referee.findings(lay) == ()
    rects = [placed.rect(lay.piece(placed.letter)) for placed in lay.placements]
    boxes = [box(rect.x0, rect.y0, rect.x1, rect.y1) for rect in rects]
    assert unary_union(boxes).area == pytest.approx(lay.used)
    for (one, first), (two, second) in combinations(zip(rects, boxes, strict=True), 2):
        assert one.overlaps(two) == (first.intersection(second).area > 0)


def test_some_cases_need_more_for_tearing() -> None:
    # Five pieces round a pinwheel fill 7 x 7 for shears; no tear runs through edge to edge.
    wheel = Cloth("main", "linen", width=7 * CM, step=CM)
    sizes = ((4, 3), (3, 4), (4, 3), (3, 4), (1, 1))
    pieces = [
        Piece("ABCDE"[index], "sail", a * CM, b * CM, 1, "main")
        for index, (a, b) in enumerate(sizes)
    ]
    lay = solve(wheel, pieces, iterations=50)
    assert lay.proof is Proof.LENGTH
    assert lay.length > 7 * CM
    assert solve(wheel, pieces, mode=Mode.SHEARS, iterations=50).length == 7 * CM


@pytest.mark.parametrize("check", KINDS, ids=lambda check: check.__name__)
def test_small_cases_come_out_as_slow_oracles_say(check: Callable[[int], object]) -> None:
    for seed in range(10_000, 10_000 + 60):
        try:
            check(seed)
        except Exception as error:
            pytest.fail(f"{check.__name__}({seed}): {error!r}")


SEED = 2
"""Of a case that can be laid, of every kind."""
ORACLES: dict[str, tuple[ModuleType, str]] = {
    "torn": (oracle_checks, "optimum"),
    "cut_off": (oracle_checks, "optimum"),
    "cut_free": (shears_oracle, "shortest"),
    "by_model": (oracle_checks, "shortest_with_shears"),
    "by_rules": (rules_oracle, "shortest"),
}
"""Where each kind of check asks for the optimum."""


@pytest.mark.parametrize("check", KINDS, ids=lambda check: check.__name__)
def test_a_bound_one_unit_above_the_optimum_is_caught(
    check: Callable[[int], object], monkeypatch: pytest.MonkeyPatch
) -> None:
    where, name = ORACLES[check.__name__]
    true = getattr(where, name)

    def one_less(*asked: object) -> int | None:
        best: int | None = true(*asked)
        return None if best is None else best - 1

    check(SEED)
    monkeypatch.setattr(where, name, one_less)
    with pytest.raises(AssertionError):
        check(SEED)


def test_every_kind_of_lie_is_caught() -> None:
    lay = solve(CLOTH, pieces_of(0), iterations=50)
    judged(lay, lay.length)
    below = replace(lay, bound=1)
    assert lay.bound == lay.length
    for lie, best, says in (
        (replace(lay, proof=Proof.OPEN), lay.length - 1, False),  # a bound above the optimum
        (lay, lay.length + 1, False),  # shorter than can be
        (replace(below, proof=Proof.OPEN), lay.length - 1, True),  # not the optimum, though it must
        (below, lay.length - 1, False),  # called proved, and not the optimum
        (lay, None, False),  # a lay of what can't be laid
    ):
        with pytest.raises(AssertionError):
            judged(lie, best, proved=says)
