"""Lays of any outlines with shears: what each must keep, judged by another library."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from itertools import combinations
from math import cos, pi, sin
from time import sleep
from typing import Any

import pytest
import shaped_lays
import shapely

from marker import referee
from marker.cloth import Cloth, Repeat
from marker.errors import BadInput, CannotLay
from marker.geometry import Polygon, Rect
from marker.geometry.shapes import circle_panel
from marker.lay import USEFUL, Aim, Lay, Mode
from marker.piece import AtSelvedge, Grain, Match, Piece, Side, Wise
from marker.solver import nested, solve
from marker.solver.coarse import around, coarser
from marker.solver.empty import empty_rectangles
from marker.solver.nest import NestKind, nearest
from marker.solver.nest.bounds import least_length
from marker.units import CM, METRE, MM

OPEN = (
    shaped_lays.gored,
    shaped_lays.one_way,
    shaped_lays.bias,
    shaped_lays.circle,
    shaped_lays.spaced,
    shaped_lays.straight,
)


def seen(polygon: Polygon) -> shapely.Polygon:
    return shapely.Polygon(polygon.points)


def box(rect: Rect) -> shapely.Polygon:
    return shapely.box(rect.x0, rect.y0, rect.x1, rect.y1)


def check(lay: Lay) -> None:
    """What any lay of outlines must keep, whatever its cloth."""
    cloth = lay.cloth
    known = {piece.letter: piece for piece in lay.pieces}
    assert Counter(spot.letter for spot in lay.placements) == {
        piece.letter: piece.count for piece in lay.pieces
    }
    assert len({spot.id for spot in lay.placements}) == len(lay.placements)
    outlines = [seen(spot.polygon(known[spot.letter])) for spot in lay.placements]
    usable = shapely.box(0, cloth.usable.y0, lay.length, cloth.usable.y1)
    for spot, outline in zip(lay.placements, outlines, strict=True):
        piece = known[spot.letter]
        assert usable.covers(outline)
        assert not any(outline.intersection(box(flaw)).area for flaw in cloth.flaws)
        assert spot.flip == (spot.copy > piece.count - piece.mirrored)
        if piece.outline is not None:
            assert (spot.turn, spot.flip) in piece.ways(cloth.one_way)
    for one, two in combinations(outlines, 2):
        assert one.intersection(two).area < 1
        assert one.distance(two) >= cloth.margin - 1e-6
    assert max(outline.bounds[2] for outline in outlines) == lay.length
    assert lay.bound <= lay.length
    assert not referee.findings(lay)
    check_left(lay, outlines)


def check_left(lay: Lay, outlines: list[shapely.Polygon]) -> None:
    left = [box(cut.rect) for cut in lay.offcuts]
    assert all(box(lay.bolt).covers(rect) for rect in left)
    assert not any(rect.intersection(outline).area for rect in left for outline in outlines)
    assert not any(one.intersection(two).area for one, two in combinations(left, 2))
    areas = [cut.rect.area for cut in lay.offcuts]
    assert areas == sorted(areas, reverse=True)


@pytest.mark.parametrize("lay", OPEN, ids=lambda lay: lay.__name__)
def test_every_lay_is_sound(lay: Callable[[], Lay]) -> None:
    check(lay())


@pytest.mark.parametrize("lay", OPEN, ids=lambda lay: lay.__name__)
def test_goals_are_told_as_they_are(lay: Callable[[], Lay]) -> None:
    found = lay()
    buy, length, remnant, tears = found.goals
    assert (buy.value, length.value, length.bound) == (found.buy, found.length, found.bound)
    assert remnant.value == max((cut.rect.area for cut in found.offcuts if cut.keep), default=0)
    assert remnant.value <= remnant.bound
    assert (tears.aim, tears.value, tears.proved) == (Aim.TEARS, len(found.placements), True)


def test_the_same_seed_gives_the_same_lay() -> None:
    again = solve(
        shaped_lays.cloth(),
        (shaped_lays.gores(), shaped_lays.band()),
        mode=Mode.SHEARS,
        iterations=shaped_lays.ROUNDS,
        seed=1,
    )
    assert again == shaped_lays.gored()


def test_gores_lie_head_to_tail() -> None:
    """Turned about, a gore's narrow end lies beside the next one's wide end."""
    either = shaped_lays.gored()
    one_way = solve(
        shaped_lays.cloth(one_way=True),
        (shaped_lays.gores(), shaped_lays.band()),
        mode=Mode.SHEARS,
        iterations=shaped_lays.ROUNDS,
        seed=1,
    )
    assert {spot.turn for spot in either.placements} >= {0, 180}
    assert {spot.turn for spot in one_way.placements if spot.letter == "A"} == {0}
    assert either.length < one_way.length


def test_the_first_copies_lie_as_drawn_and_the_last_are_turned_over() -> None:
    yokes = [spot for spot in shaped_lays.bias().placements if spot.letter == "B"]
    assert {(spot.copy, spot.flip) for spot in yokes} == {(1, False), (2, True)}


def test_bias_pieces_lie_at_45_degrees() -> None:
    turns = {spot.turn for spot in shaped_lays.bias().placements if spot.letter == "C"}
    assert turns <= {45, 135, 225, 315}


def test_a_piece_too_wide_is_named_with_its_least_width() -> None:
    narrow = shaped_lays.cloth(40 * CM)
    with pytest.raises(CannotLay, match=r"piece A \(gore\) needs 41.8 cm across.*38 cm of usable"):
        solve(narrow, (shaped_lays.gores(),), mode=Mode.SHEARS, iterations=1)


def test_a_bias_piece_may_be_too_wide_on_the_bias_alone() -> None:
    narrow = shaped_lays.cloth(36 * CM)
    lying = replace(shaped_lays.strips(), grain=Grain.ALONG)
    check(solve(narrow, (lying,), iterations=1))
    with pytest.raises(CannotLay, match=r"piece C \(binding\)"):
        solve(narrow, (shaped_lays.strips(),), iterations=1)


def test_a_remnant_too_short_is_named() -> None:
    short = shaped_lays.cloth(length=75 * CM)
    with pytest.raises(CannotLay, match=r"the remnant gives 73 cm"):
        solve(short, (shaped_lays.gores(1),), mode=Mode.SHEARS, iterations=1)


def test_a_remnant_that_is_enough_stays_as_long_as_it_is() -> None:
    lay = solve(shaped_lays.cloth(length=METRE), (shaped_lays.gores(2),), iterations=2)
    check(lay)
    assert (lay.buy, lay.bolt.x1) == (0, 98 * CM)


def test_the_widest_panels_are_proved_shortest() -> None:
    """A quarter circle 92 cm deep fills 1 m of cloth: two can't lie beside one another."""
    panel = circle_panel(0.001 * CM, 92 * CM, 0.25, 1)
    piece = Piece.shaped("A", "quarter", panel, 1, "wool", grain=Grain.ALONG)
    lay = solve(Cloth("wool", "wool", 140 * CM, CM), (piece,), iterations=1)
    assert lay.length == lay.bound == piece.length


def disc(radius: int) -> Polygon:
    corners = [(0, 1), (2, 0), (4, 1), (5, 3), (4, 5), (2, 6), (0, 5), (-1, 3)]
    return Polygon.of((x * radius // 3, y * radius // 3) for x, y in corners)


@pytest.mark.parametrize("shift", [(0, 0), (7 * CM + 3, 11 * CM + 5), (31 * CM, 0)])
def test_empty_rectangles_reach_from_outline_to_outline(shift: tuple[int, int]) -> None:
    zone = Rect(0, 0, 100 * CM, 60 * CM)
    outline = disc(18 * CM).shifted(6 * CM + shift[0], shift[1])
    found = empty_rectangles(zone, [outline], USEFUL, 99)
    assert found
    blocked = seen(outline)
    for at, rect in enumerate(found):
        room = [blocked, *(box(other) for other in found if other != rect)]
        assert zone.holds(rect)
        assert all(box(rect).intersection(other).area == 0 for other in room)
        assert at == 0 or rect.area <= found[at - 1].area
        assert min(rect.along, rect.across) >= USEFUL
        for side in (
            Rect(rect.x0 - MM, rect.y0, rect.x1, rect.y1),
            Rect(rect.x0, rect.y0 - MM, rect.x1, rect.y1),
            Rect(rect.x0, rect.y0, rect.x1 + MM, rect.y1),
            Rect(rect.x0, rect.y0, rect.x1, rect.y1 + MM),
        ):
            more = box(side)
            assert not zone.holds(side) or any(more.intersection(other).area for other in room)


def test_the_largest_empty_rectangle_is_near_the_best_there_is() -> None:
    """Beside a wedge the best rectangle has half its height: (1 - t) x t is most at 1/2."""
    side = 60 * CM
    wedge = Polygon.of([(0, 0), (side, 0), (0, side)])
    best = empty_rectangles(Rect(0, 0, side, side), [wedge], USEFUL, 99)[0]
    assert best.area >= 0.99 * side * side / 4


def test_shapes_that_leave_nothing_leave_no_rectangle() -> None:
    zone = Rect(0, 0, 50 * CM, 50 * CM)
    assert not empty_rectangles(zone, [Polygon.of_rect(Rect(0, 0, 50 * CM, 41 * CM))], USEFUL, 99)
    left = empty_rectangles(zone, [Polygon.of_rect(Rect(0, 0, 50 * CM, 40 * CM))], USEFUL, 99)
    assert left == (Rect(0, 40 * CM, 50 * CM, 50 * CM),)


CURVED = [*shaped_lays.half_circle(), shaped_lays.gores()]


@pytest.mark.parametrize("piece", CURVED, ids=lambda piece: piece.name)
@pytest.mark.parametrize("turn", [0, 45, 270])
def test_a_coarse_outline_holds_the_true_one(piece: Piece, turn: int) -> None:
    fine = piece.laid(turn)
    coarse = around(fine, MM)
    assert len(coarse.points) <= 0.6 * len(fine.points)
    assert coarse.box == fine.box
    assert all(coarse.holds_point(x, y) for x, y in fine.points)
    assert seen(coarse).buffer(1e-6).covers(seen(fine))
    assert seen(coarse).hausdorff_distance(seen(fine)) <= MM + 3


def test_few_corners_are_left_as_they_are() -> None:
    kinds = [NestKind(2, (shaped_lays.yoke().laid(turn),)) for turn in (0, 180)]
    assert coarser(kinds) == kinds
    fine = [NestKind(1, (piece.laid(turn),)) for piece in CURVED for turn in (0, 90, 180)]
    assert sum(len(kind.shapes[0].points) for kind in coarser(fine)) < 300


def jagged(corners: int, depth: int) -> Polygon:
    """A round piece of which every other corner is a hollow one."""
    ring = [(20 * CM - at % 2 * depth, pi * at / corners) for at in range(2 * corners)]
    star = Polygon.of((round(r * cos(a)), round(r * sin(a))) for r, a in ring)
    return star.shifted(-star.box.x0, -star.box.y0)


@pytest.mark.parametrize(("depth", "loss"), [(4 * MM, 5 * MM), (4 * CM, 4 * CM)])
def test_jagged_outlines_are_made_coarse_enough_for_a_search_to_start(
    depth: int, loss: int
) -> None:
    """As far as it takes: the deepest jags are left out altogether, and what holds them is laid."""
    fine = jagged(100, depth)
    (kind,) = coarser([NestKind(2, (fine,))])
    (coarse,) = kind.shapes
    assert len(coarse.points) ** 2 <= 30_000
    assert coarse.box == fine.box
    assert seen(coarse).buffer(1e-6).covers(seen(fine))
    assert seen(coarse).hausdorff_distance(seen(fine)) <= loss + 3
    # A piece beside it with few corners keeps them.
    ell = Polygon.of((x * CM, y * CM) for x, y in [(0, 0), (9, 0), (9, 4), (4, 4), (4, 9), (0, 9)])
    assert coarser([NestKind(2, (fine,)), NestKind(1, (ell,))])[1].shapes == (ell,)


@pytest.mark.parametrize("one_way", [False, True])
def test_matched_hems_fall_in_one_place_of_the_repeat(one_way: bool) -> None:
    """All hems lie whole repeats of 12 cm apart, and the flounce's edge with them."""
    cloth = shaped_lays.cloth(repeat=Repeat(12 * CM), one_way=one_way)
    match = (Match("hem", Wise.LENGTHWISE, 80 * CM, 0),)
    flounce = Piece("D", "flounce", 20 * CM, 90 * CM, 2, "wool",
                    matches=(Match("hem", Wise.LENGTHWISE, 5 * CM, 0),))  # fmt: skip
    gores = shaped_lays.gores(5, matches=match)
    at = gores.matches[0].u
    lay = solve(cloth, (gores, flounce), mode=Mode.SHEARS, iterations=3)
    check(lay)
    hems = {(spot.x + at) % (12 * CM) for spot in lay.placements if spot.letter == "A"}
    assert len(hems) == 1
    assert {(spot.x + 5 * CM) % (12 * CM) for spot in lay.placements if spot.letter == "D"} == hems


def test_matched_sides_fall_in_one_place_of_a_crosswise_repeat() -> None:
    cloth = shaped_lays.cloth(repeat=Repeat(0, 7 * CM))
    match = (Match("side", Wise.CROSSWISE, 0, 14 * CM),)
    lay = solve(cloth, (shaped_lays.gores(3, matches=match),), mode=Mode.SHEARS, iterations=3)
    check(lay)
    assert len({spot.y % (7 * CM) for spot in lay.placements}) == 1


def test_edges_lie_at_the_selvedge() -> None:
    """Both fronts have their straight edge at a selvedge, one at each, head to tail or not."""
    wanted = (AtSelvedge(Side.LOW, CM),)
    pieces = (replace(shaped_lays.yoke(), selvedges=wanted), shaped_lays.gores(3))
    lay = solve(shaped_lays.cloth(), pieces, mode=Mode.SHEARS, iterations=3)
    check(lay)
    facing = replace(shaped_lays.band(), selvedges=wanted, grain=Grain.ALONG, count=3)
    lay = solve(shaped_lays.cloth(), (facing, shaped_lays.gores(3)), mode=Mode.SHEARS, iterations=3)
    check(lay)


def test_a_bias_piece_has_no_edge_for_the_selvedge() -> None:
    wanted = replace(shaped_lays.strips(), selvedges=(AtSelvedge(Side.LOW),))
    with pytest.raises(CannotLay, match="wants a selvedge at its low"):
        solve(shaped_lays.cloth(), (wanted,), iterations=1)


def test_one_point_to_match_each_way_is_what_a_nest_keeps() -> None:
    twice = (Match("hem", Wise.LENGTHWISE, 0, 0), Match("waist", Wise.LENGTHWISE, 5, 0))
    with pytest.raises(BadInput, match="several points to match lengthwise"):
        solve(
            shaped_lays.cloth(repeat=Repeat(7)),
            (shaped_lays.gores(2, matches=twice),),
            iterations=1,
        )


def test_rectangles_with_a_margin_are_laid_as_well_as_without() -> None:
    """Four of 49 cm by 24 cm, a margin of 1 cm between, fill 99 cm by 49 cm to the millimetre."""
    cloth = Cloth("wool", "wool", 49 * CM, CM, tears=False, margin=CM)
    piece = Piece("A", "pocket", 49 * CM, 24 * CM, 4, "wool")
    lay = solve(cloth, (piece,), iterations=2)
    assert not referee.findings(lay)
    assert lay.length == 99 * CM
    spaced = shaped_lays.cloth(tears=False, margin=MM)
    pieces = tuple(
        Piece(chr(ord("A") + at), "part", (31 + 7 * at) * CM, (17 + 3 * at) * CM, 2, "wool",
              grain=Grain.EITHER)
        for at in range(3)
    )  # fmt: skip
    close = solve(replace(spaced, margin=0), pieces, iterations=1)
    apart = solve(spaced, pieces, iterations=1)
    assert not referee.findings(apart)
    assert close.length < apart.length <= 1.03 * close.length


def test_kernels_are_loaded_for_outlines_alone_and_first_of_all(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """First use may compile for ten seconds, in which a search of two would find nothing."""
    calls: list[str] = []
    found = nested.nest

    def search(*asked: Any, **more: Any) -> Any:
        calls.append("nest")
        return found(*asked, **more)

    monkeypatch.setattr(nested, "load", lambda: calls.append("load"))
    monkeypatch.setattr(nested, "nest", search)
    solve(shaped_lays.cloth(), (shaped_lays.band(),), iterations=1)
    assert not calls
    solve(shaped_lays.cloth(), (shaped_lays.yoke(),), iterations=1)
    assert calls == ["nest"]  # by count there is no time to be lost
    solve(shaped_lays.cloth(), (shaped_lays.yoke(),), seconds=0.1)
    assert calls == ["nest", "load", "nest"]


def test_a_bound_is_reckoned_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Each way and mode of a plan asks for it."""
    asked: list[Any] = []

    def barred(*pair: Any) -> Any:
        asked.append(pair)
        return true(*pair)

    true = nearest._barred
    nearest.beyond.cache_clear()
    monkeypatch.setattr(nearest, "_barred", barred)
    panel = Polygon.of((x * CM, y * CM) for x, y in [(0, 0), (60, 10), (60, 70), (0, 80)])
    kinds = [NestKind(3, (panel, panel.turned(180)))]
    first = least_length(kinds, 100 * CM)
    assert asked
    asked.clear()
    assert least_length(kinds, 100 * CM) == first
    assert not asked


def test_making_outlines_coarse_is_paid_from_the_seconds(monkeypatch: pytest.MonkeyPatch) -> None:
    given: list[float] = []

    def nest(*asked: Any, seconds: float, **more: Any) -> Any:
        given.append(seconds)
        return true(*asked, seconds=0.0, **more)

    def slow(kinds: Any) -> Any:
        sleep(0.2)
        return coarser(kinds)

    true = nested.nest
    nested.load()
    monkeypatch.setattr(nested, "nest", nest)
    monkeypatch.setattr(nested, "coarser", slow)
    solve(shaped_lays.cloth(), (shaped_lays.gores(2),), mode=Mode.SHEARS, seconds=5.0)
    assert given[0] <= 4.8
