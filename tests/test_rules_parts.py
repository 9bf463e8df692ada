"""The parts of the search by rules: knots and cut trees, quick fills, orders, long lays."""

from __future__ import annotations

from dataclasses import replace
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lays import GOOD
from random_lays import torn as random_torn
from rules_cases import asked
from rules_oracle import separable
from strategies import STRAIGHT

from marker import referee
from marker.cloth import Cloth, Repeat
from marker.errors import CannotLay
from marker.geometry import Rect
from marker.lay import Direction, Lay, Mode, leaves
from marker.piece import Grain, Match, Piece, Wise
from marker.solver.finish import cut, torn
from marker.solver.model import prove
from marker.solver.problem import Kind, Problem
from marker.solver.rules.better import parts, room
from marker.solver.rules.fill import fill
from marker.solver.rules.lay import lay_by_rules
from marker.solver.rules.order import part, reorder
from marker.solver.rules.question import Spot
from marker.solver.rules.read import read
from marker.solver.separate import knots, tear_apart
from marker.solver.spots import Spot as FreeSpot
from marker.units import CM

PINWHEEL = [Rect(0, 0, 4, 3), Rect(4, 0, 7, 4), Rect(3, 4, 7, 7), Rect(0, 3, 3, 7)]


def scattered(seed: int) -> list[Rect]:
    """Rectangles that don't overlap, thrown down until no more fit."""
    dice, rects = Random(seed), list[Rect]()
    for _ in range(60):
        x, y = dice.randint(0, 8), dice.randint(0, 6)
        rect = Rect(x, y, x + dice.randint(1, 4), y + dice.randint(1, 4))
        if not any(rect.overlaps(other) for other in rects):
            rects.append(rect)
    return rects


@pytest.mark.parametrize("seed", range(60))
def test_knots_are_found_just_where_a_lay_can_not_be_torn(seed: int) -> None:
    rects = scattered(seed)
    found = knots(rects)
    assert (found == ()) == separable(rects)
    for knot in found:
        core = [rects[at] for at in knot.members]
        assert not separable(core)
        for at in range(len(core)):
            assert separable(core[:at] + core[at + 1 :])


def test_a_pinwheel_is_one_knot_tied_both_ways() -> None:
    (knot,) = knots([*PINWHEEL, Rect(7, 0, 9, 7)])
    assert sorted(knot.members) == [0, 1, 2, 3]
    assert len(knot.along) == len(knot.across) == 3
    for one, two in knot.along:
        assert PINWHEEL[one].x0 < PINWHEEL[two].x1 and PINWHEEL[two].x0 < PINWHEEL[one].x1


def again(lay: Lay) -> Lay:
    """A lay with its tears worked out afresh from its placements alone."""
    tree = tear_apart(lay.cloth, lay.pieces, lay.placements)
    assert tree.rect == lay.bolt
    return torn(lay.cloth, lay.pieces, tree, lay.length, lay.bound, lay.bound_by)


@pytest.mark.parametrize("seed", range(40))
def test_random_torn_lays_are_torn_again(seed: int) -> None:
    lay = random_torn(seed)
    assert referee.findings(again(lay)) == ()


@pytest.mark.parametrize("name", GOOD)
def test_lays_made_by_hand_are_torn_with_no_more_tears(name: str) -> None:
    lay = GOOD[name]()
    made = again(lay)
    assert referee.findings(made) == ()
    assert len(made.tears) <= len(lay.tears)


def test_waste_at_the_end_stays_in_one_with_the_cloth_behind() -> None:
    # The narrow piece ends 40 cm before the wide one: torn along first, its end keeps the tail.
    cloth = Cloth("c", "linen", width=100 * CM, step=100 * CM, squaring=CM)
    pieces = [
        Piece("A", "wide", 60 * CM, 70 * CM, 1, "c"),
        Piece("B", "slim", 20 * CM, 30 * CM, 1, "c"),
    ]
    found = lay_by_rules(cloth, pieces, Mode.TEAR, iterations=5)
    assert found.tree is not None
    areas = [leaf.rect.area for leaf in leaves(found.tree) if leaf.placed is None]
    assert max(areas) >= 30 * CM * (99 - 20) * CM


def test_the_first_tear_runs_across_wherever_the_bolt_overhangs() -> None:
    cloth = Cloth("c", "linen", width=10, step=7, flaws=(Rect(90, 0, 91, 1),))
    pieces = [Piece("A", "panel", 5, 3, 2, "c")]
    found = lay_by_rules(cloth, pieces, Mode.TEAR, iterations=5)
    assert found.tree is not None and found.tree.direction is Direction.ACROSS
    exact = lay_by_rules(replace(cloth, step=5), pieces, Mode.TEAR, iterations=5)
    assert exact.tree is not None and exact.tree.direction is Direction.ALONG


@pytest.mark.parametrize("seed", range(60))
def test_quick_fills_keep_every_rule_and_can_be_torn(seed: int) -> None:
    try:
        question = read(*asked(seed))
    except CannotLay:
        return
    spots = fill(question, Random(seed), 10, None)
    if spots is not None:
        assert question.holds(spots)
        assert knots([spot.rect for spot in spots]) == ()


@pytest.mark.parametrize("seed", range(40))
def test_a_room_holds_its_pieces_and_nothing_else(seed: int) -> None:
    lay = random_torn(seed, 30)
    spots = [Spot(0, 0, placed.rect(lay.piece(placed.letter))) for placed in lay.placements]
    for draw in range(5):
        free, at = room(spots, lay.cloth.usable, Random(draw))
        assert free and all(at.holds(spot.rect) for spot in free)
        assert not any(at.overlaps(spot.rect) for spot in spots if spot not in free)


def company(wearers: int, *, checked: bool) -> tuple[Cloth, list[Piece]]:
    """Skirts for so many dancers on one bolt, on a check or with three flaws."""
    dice = Random(wearers)
    flaws = tuple(
        Rect(x * CM, y * CM, (x + 3) * CM, (y + 4) * CM)
        for x, y in ((120, 30), (333, 90), (610, 140))
    )
    cloth = Cloth(
        "c", "check", width=150 * CM, step=10 * CM, selvedge=CM,
        repeat=Repeat(12 * CM if checked else 0), flaws=() if checked else flaws,
    )  # fmt: skip
    pieces = []
    for at in range(wearers):
        long, broad = dice.randint(95, 115) * CM, dice.randint(55, 72) * CM
        hem = Match(f"hem {at}", Wise.LENGTHWISE, long - 6 * CM, 0)
        pieces += [
            Piece(f"P{at}", "panel", long, broad, 4, "c", matches=(hem,)),
            Piece(f"B{at}", "band", 80 * CM, 8 * CM, 1, "c", grain=Grain.EITHER),
            Piece(f"F{at}", "facing", 60 * CM, 17 * CM, 4, "c", grain=Grain.EITHER),
        ]
    return cloth, pieces


@pytest.mark.parametrize(("mode", "checked"), [(Mode.TEAR, True), (Mode.SHEARS, False)])
@pytest.mark.slow
def test_a_company_gets_a_good_lay_and_an_honest_bound(mode: Mode, checked: bool) -> None:
    cloth, pieces = company(4, checked=checked)
    found = lay_by_rules(cloth, pieces, mode, iterations=6)
    if found.tree is not None:
        made = torn(cloth, pieces, found.tree, found.length, found.bound, found.bound_by)
    else:
        made = cut(cloth, pieces, found.placements, found.bound, found.bound_by)
    assert referee.findings(made) == ()
    assert found.bound <= found.length <= 1.15 * found.bound


def test_a_better_order_brings_what_fits_into_the_gaps() -> None:
    # Panels of 9 at a repeat of 12 leave gaps of 3: strips of 3 laid behind them go in between.
    cloth = Cloth("c", "check", width=5, step=1, repeat=Repeat(along=12))
    hem = Match("hem", Wise.LENGTHWISE, 0, 0)
    pieces = [Piece("A", "panel", 9, 5, 3, "c", matches=(hem,)), Piece("B", "strip", 3, 5, 2, "c")]
    question = read(cloth, pieces)
    spots = sorted(fill(question, Random(0), 1, None) or [], key=lambda spot: spot.kind)
    taken = [part(question, group) for group in parts(spots)]
    found = reorder(question, taken[::-1], Random(1), 60, None, True)
    assert found is not None and question.holds(found)
    assert max(spot.rect.x1 for spot in found) == 33


def test_the_same_count_gives_the_same_lay() -> None:
    cloth, pieces = company(1, checked=False)
    one, two = (lay_by_rules(cloth, pieces, Mode.TEAR, iterations=4) for _ in range(2))
    assert one == two


SIZES = st.tuples(st.integers(1, 5), st.integers(1, 4), st.sampled_from(STRAIGHT))
EACH = settings(max_examples=8, deadline=None, derandomize=True)


def plain(sizes: list[tuple[int, int, Grain]]) -> list[Piece]:
    hem = Match("hem", Wise.LENGTHWISE, 0, 0)
    return [
        Piece(chr(ord("A") + at), "piece", a, b, 1, "c", grain=grain, matches=(hem,))
        for at, (a, b, grain) in enumerate(sizes)
    ]


def length(cloth: Cloth, pieces: list[Piece], mode: Mode = Mode.TEAR) -> int:
    found = lay_by_rules(cloth, pieces, mode, iterations=40)
    assert found.bound == found.length
    return found.length


@EACH
@given(st.lists(SIZES, min_size=2, max_size=5), st.integers(1, 3), st.integers(0, 6))
@pytest.mark.slow
def test_rules_never_shorten_and_less_never_needs_more(
    sizes: list[tuple[int, int, Grain]], repeat: int, at: int
) -> None:
    cloth, pieces = Cloth("c", "linen", width=6, step=1), plain(sizes)
    free = length(cloth, pieces)
    matched = length(replace(cloth, repeat=Repeat(along=repeat)), pieces)
    flawed = length(replace(cloth, flaws=(Rect(at, 1, at + 2, 3),)), pieces)
    one_way = length(replace(cloth, one_way=True), pieces)
    assert length(cloth, pieces, Mode.SHEARS) <= free <= min(matched, flawed, one_way)
    assert length(replace(cloth, repeat=Repeat(along=repeat)), pieces[1:]) <= matched
    assert length(replace(cloth, flaws=(Rect(at, 1, at + 2, 3),)), pieces[1:]) <= flawed


def wheel() -> tuple[Problem, list[FreeSpot]]:
    """The pinwheel's pieces, and a lay of them in two rows, 8 long."""
    problem = Problem(7, (Kind(((4, 3),), 2), Kind(((3, 4),), 2), Kind(((1, 1),), 1)))
    spots = [
        FreeSpot(0, 4, 3, 0, 0), FreeSpot(0, 4, 3, 4, 0),
        FreeSpot(1, 3, 4, 0, 3), FreeSpot(1, 3, 4, 3, 3), FreeSpot(2, 1, 1, 6, 3),
    ]  # fmt: skip
    return problem, spots


def test_free_arrangements_are_proved_and_told() -> None:
    problem, spots = wheel()
    heard: list[tuple[int, int]] = []
    found = prove(
        problem, spots, 5, until=None, effort=5, seed=0, tell=lambda *news: heard.append(news)
    )
    assert found.length == found.bound == 7
    rects = [Rect(s.x, s.y, s.x + s.a, s.y + s.b) for s in found.spots]
    assert not any(a.overlaps(b) for at, a in enumerate(rects) for b in rects[:at])
    assert all(rect.y0 >= 0 and rect.y1 <= 7 for rect in rects)
    assert heard and all(bound <= 7 <= length for length, bound in heard)


def test_equal_copies_may_lie_side_by_side() -> None:
    problem = Problem(6, (Kind(((3, 2),), 3),))
    row = [FreeSpot(0, 3, 2, 3 * at, 0) for at in range(3)]
    found = prove(problem, row, 2, until=None, effort=5, seed=0, tell=lambda *_: None)
    assert found.length == found.bound == 3


def test_a_lay_as_short_as_its_bound_is_left_alone() -> None:
    problem, spots = wheel()
    found = prove(problem, spots, 8, until=None, effort=5, seed=0, tell=lambda *_: None)
    assert found.spots == tuple(spots) and found.bound == 8


def test_out_of_time_the_bound_stays_honest() -> None:
    problem, spots = wheel()
    found = prove(problem, spots, 5, until=None, effort=1e-9, seed=0, tell=lambda *_: None)
    assert 5 <= found.bound <= 7 <= found.length <= 8
