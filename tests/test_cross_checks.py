"""The tear solver and the referee against independent libraries.

OR-Tools CP-SAT packs the same rectangles without the rule that tears run edge to edge, so its
optimum is a bound on every torn lay; shapely unites the placed pieces and measures them.
"""

from __future__ import annotations

from itertools import combinations
from random import Random

import pytest
from ortools.sat.python import cp_model
from shapely import box, unary_union

from marker import referee
from marker.cloth import Cloth
from marker.lay import Lay, Proof
from marker.piece import Grain, Piece
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


def shortest_with_shears(pieces: list[Piece]) -> int:
    """The optimum of the free arrangement, in units, by CP-SAT on whole centimetres."""
    model = cp_model.CpModel()
    most = sum(max(piece.length, piece.breadth) for piece in pieces) // CM
    length = model.new_int_var(0, most, "length")
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
            sizes.append((model.new_interval_var(start, size, end, ""), end))
        along.append(sizes[0][0])
        across.append(sizes[1][0])
        model.add(sizes[0][1] <= length)
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
