"""Lays of torn and cut pieces: regions come off by tears, and hold what shears cut."""

from __future__ import annotations

import os
import signal
from dataclasses import replace
from itertools import combinations
from threading import Thread
from time import monotonic, process_time, sleep
from typing import Any

import pytest
import shaped_lays
import shapely
from test_nested_lays import box, check, seen

from marker import referee
from marker.cloth import Cloth
from marker.decide.choices import parting
from marker.errors import CannotLay
from marker.geometry import Rect
from marker.geometry.shapes import gore, rectangle
from marker.lay import Direction, Lay, Mode, Placement
from marker.piece import Piece
from marker.solver import bounded, compare, mixed, nested, solve
from marker.solver.lays import Limits
from marker.solver.mixed import _Table
from marker.units import CM, MM, System, format_bought

ROUNDS = 2


def tear(pieces: tuple[Piece, ...], width: int = 140 * CM, **more: object) -> Lay:
    asked = shaped_lays.cloth(width, **more)
    return solve(asked, pieces, mode=Mode.TEAR, iterations=ROUNDS, seed=2)


def parts_of(lay: Lay) -> list[Rect]:
    """What the bolt is in once every tear is made, each across all of one part in hand."""
    parts = [lay.bolt]
    for step in lay.tears:
        assert step.in_hand in parts
        parts.remove(step.in_hand)
        low, high = step.falls, step.stays
        assert min(low.along, low.across, high.along, high.across) > 0
        parts += [low, high]
    return parts


def check_torn(lay: Lay) -> None:
    """Every part torn off is a piece, a region or left over; the shears' pieces lie in regions."""
    check(lay)
    known = {piece.letter: piece for piece in lay.pieces}
    parts = parts_of(lay)
    assert all(region in parts for region in lay.regions)
    within = {
        spot.id: region
        for spot in lay.placements
        for region in lay.regions
        if region.holds(spot.rect(known[spot.letter]))
    }
    torn = [spot for spot in lay.placements if spot.id not in within]
    assert all(known[spot.letter].outline is None for spot in torn)
    assert all(spot.rect(known[spot.letter]) in parts for spot in torn)
    freed = [name for step in lay.tears for name in step.frees]
    assert sorted(freed) == sorted(spot.id for spot in torn)
    left = [part for part in parts if part not in lay.regions]
    left = [part for part in left if part not in [s.rect(known[s.letter]) for s in torn]]
    rects = [cut.rect for cut in lay.offcuts]
    assert all(part in rects for part in left)
    inside = [rect for rect in rects if rect not in left]
    assert all(any(region.holds(rect) for region in lay.regions) for rect in inside)
    usable = lay.cloth.usable
    assert all(usable.y0 <= region.y0 and region.y1 <= usable.y1 for region in lay.regions)
    tears = lay.goals[-1]
    assert tears.value == len(lay.tears) + len(within)
    assert tears.bound <= tears.value


def in_region(lay: Lay, letter: str) -> list[bool]:
    piece = lay.piece(letter)
    return [
        any(region.holds(spot.rect(piece)) for region in lay.regions)
        for spot in lay.placements
        if spot.letter == letter
    ]


def test_panels_are_torn_and_gores_cut_from_a_drop() -> None:
    lay = shaped_lays.mixed()
    check_torn(lay)
    assert lay.mode is Mode.TEAR
    assert in_region(lay, "A") == [True] * 4
    assert in_region(lay, "E") == [False] * 2
    assert max(region.x1 for region in lay.regions) == lay.length
    across = [step for step in lay.tears if step.direction is Direction.ACROSS]
    assert lay.length in {step.at for step in across}
    named = [cut.rect for cut in lay.offcuts if cut.keep]
    assert any(region.holds(rect) for region in lay.regions for rect in named)


def test_bias_strips_come_out_of_the_waste_of_the_panels() -> None:
    """The panels leave 38 cm beside them, in which bias strips and yokes lie for nothing."""
    pieces = (shaped_lays.panels(3), shaped_lays.strips(), shaped_lays.yoke())
    lay = tear(pieces)
    check_torn(lay)
    assert lay.length == lay.bound == 270 * CM
    assert in_region(lay, "C") == [True] * 5
    assert all(region.y0 >= 101 * CM for region in lay.regions)


def test_pieces_may_be_lettered_with_figures() -> None:
    """As they are while strips are pieced: a region that is torn off is never taken for one."""
    named = (shaped_lays.panels(2), shaped_lays.band(), shaped_lays.gores(4))
    pieces = tuple(replace(piece, letter=f"{at}") for at, piece in enumerate(named))
    lay = tear(pieces)
    assert [region for region in lay.regions if region in parts_of(lay)] == list(lay.regions) != []


def test_what_does_not_fit_in_the_waste_goes_into_a_drop() -> None:
    many = Piece.shaped("C", "yoke", shaped_lays.yoke().outline, 24, "wool")  # type: ignore[arg-type]
    lay = tear((shaped_lays.panels(2), many))
    check_torn(lay)
    beside = [region for region in lay.regions if region.x0 < 180 * CM]
    behind = [region for region in lay.regions if region.x0 >= 180 * CM]
    assert beside
    assert behind
    outlines = [seen(spot.polygon(many)) for spot in lay.placements if spot.letter == "C"]
    assert sum(box(beside[0]).covers(outline) for outline in outlines) >= 4


def test_a_region_holds_no_more_than_fits() -> None:
    """Beside the panels two gores lie end to end; by area there were room for a third."""
    outline = gore(10 * CM, 34 * CM, 82 * CM)
    gores = Piece.shaped("A", "gore", outline, 3, "wool", folds=True)
    lay = tear((shaped_lays.panels(2), gores))
    check_torn(lay)
    assert sum(spot.x < 180 * CM for spot in lay.placements if spot.letter == "A") == 2
    assert len(lay.regions) == 2


def test_no_region_ties_a_knot_with_torn_pieces() -> None:
    """Three arms of a pinwheel are on the cloth; a fourth in the last corner would hold all."""
    side = 30 * CM
    pieces = (
        Piece("A", "arm", 2 * side, side, 2, "wool"),
        Piece("B", "arm", side, 2 * side, 1, "wool"),
        Piece.shaped("C", "sail", rectangle(side, 2 * side), 1, "wool"),
    )
    torn = (
        Placement("A", 1, 0, 0, 0),
        Placement("B", 1, 2 * side, 0, 0),
        Placement("A", 2, side, 2 * side, 0),
    )
    cloth = Cloth("wool", "wool", 3 * side, CM)
    limits = Limits(1.0, 1, 0, None)
    table = _Table(cloth, pieces, frozenset("AB"), torn, limits)
    table.fill_rooms()
    assert not table.regions
    table.add_drop(limits)
    check_torn(table.lay((1, "nothing")))
    assert table.length == 4 * side


def test_a_bound_from_elsewhere_leaves_the_cuts_as_they_are() -> None:
    lay = shaped_lays.mixed()
    raised = bounded(lay, lay.bound + 1, "another fact")
    assert raised.bound == lay.bound + 1
    assert raised.goals[-1] == lay.goals[-1]
    assert not referee.findings(raised)


def test_of_lays_alike_the_torn_one_is_taken() -> None:
    pieces = (shaped_lays.panels(), shaped_lays.gores(4), shaped_lays.yoke(), shaped_lays.band())
    lay, other = compare(shaped_lays.cloth(), pieces, iterations=ROUNDS, seed=1)
    assert other is not None
    assert (lay.length, lay.mode) == (other.length, Mode.TEAR)


def test_a_small_straight_piece_joins_the_region_where_that_is_shorter() -> None:
    """Beside one gore there is room for the band, which alone would take a drop of its own."""
    panel = Piece("E", "panel", 90 * CM, 138 * CM, 2, "wool")
    lay = tear((panel, shaped_lays.gores(1), shaped_lays.band()))
    check_torn(lay)
    assert in_region(lay, "D") == [True]
    assert in_region(lay, "E") == [False] * 2
    assert lay.length < 180 * CM + 83 * CM


def test_curved_pieces_alone_can_be_cut_from_a_torn_drop() -> None:
    lay = tear((shaped_lays.gores(3),))
    check_torn(lay)
    assert len(lay.regions) == 1


def test_kept_selvedges_and_no_squaring_need_no_tears_of_their_own() -> None:
    lay = tear((shaped_lays.gores(3), shaped_lays.panels(1)), keep_selvedges=True, squaring=0)
    check_torn(lay)
    assert lay.bolt.x0 == 0


def test_no_region_lies_on_a_flaw_that_its_pieces_touch() -> None:
    flaws = (Rect(10 * CM, 104 * CM, 14 * CM, 110 * CM), Rect(195 * CM, 30 * CM, 199 * CM, 70 * CM))
    lay = tear((shaped_lays.panels(2), shaped_lays.gores(4), shaped_lays.strips()), flaws=flaws)
    check_torn(lay)
    zones = shapely.union_all([box(flaw) for flaw in flaws])
    known = {piece.letter: piece for piece in lay.pieces}
    for spot in lay.placements:
        assert seen(spot.polygon(known[spot.letter])).intersection(zones).area == 0


def test_regions_lie_apart() -> None:
    lay = tear((shaped_lays.panels(3), shaped_lays.gores(5), shaped_lays.strips()))
    check_torn(lay)
    assert not any(one.overlaps(two) for one, two in combinations(lay.regions, 2))


def test_a_remnant_too_short_is_named() -> None:
    with pytest.raises(CannotLay, match="remnant"):
        tear((shaped_lays.panels(2), shaped_lays.gores(4)), length=200 * CM)


def test_the_same_seed_gives_the_same_lay() -> None:
    pieces = (shaped_lays.panels(2), shaped_lays.gores(4), shaped_lays.yoke())
    assert tear(pieces) == tear(pieces)


def test_the_shorter_of_both_is_taken_and_the_other_told() -> None:
    """With shears the gores reach into the corner beside the odd panel, which no tear frees."""
    pieces = (
        Piece("E", "panel", 90 * CM, 60 * CM, 1, "wool"),
        Piece("H", "panel", 40 * CM, 60 * CM, 1, "wool"),
        shaped_lays.gores(3),
    )
    lay, other = compare(shaped_lays.cloth(), pieces, iterations=20)
    assert other is not None
    check(lay)
    check_torn(other)
    assert (lay.mode, other.mode) == (Mode.SHEARS, Mode.TEAR)
    assert lay.length < other.length
    assert lay == solve(shaped_lays.cloth(), pieces, iterations=20)
    told = parting(lay, other, System.CM)
    assert told.startswith("Tearing off the straight pieces first takes ")
    assert told.endswith(": shears.")
    assert format_bought(lay.buy, System.CM) in told


def test_torn_where_shears_save_nothing() -> None:
    pieces = (shaped_lays.panels(3), shaped_lays.yoke())
    lay, other = compare(shaped_lays.cloth(), pieces, iterations=ROUNDS)
    assert (lay.mode, lay.length, other) == (Mode.TEAR, lay.bound, None)
    assert parting(lay, None, System.CM) == (
        "Tearing off the straight pieces first takes 270 cm, and nothing can be shorter: torn."
    )


def test_the_sentence_tells_what_is_bought_or_else_what_is_used() -> None:
    torn = shaped_lays.mixed()
    cut = replace(torn, mode=Mode.SHEARS)
    assert parting(torn, cut, System.CM) == (
        "Tearing off the straight pieces first takes 262.7 cm, and cutting everything with "
        "shears takes as much: torn."
    )
    assert parting(torn, replace(cut, length=torn.length - MM), System.CM) == parting(
        torn, cut, System.CM
    )
    assert parting(replace(cut, length=torn.length - 1), torn, System.CM) == (
        "Tearing off the straight pieces first takes 262.7 cm, cutting everything with shears "
        "a little less: shears."
    )
    assert parting(replace(cut, length=torn.length - 2 * CM), torn, System.CM) == (
        "Tearing off the straight pieces first takes 262.7 cm, cutting everything with shears "
        "260.7 cm, and either way 2.70 m is bought: shears."
    )
    assert parting(torn, replace(cut, length=torn.length + 20 * CM), System.CM) == (
        "Tearing off the straight pieces first takes 2.70 m to buy, cutting everything with "
        "shears 2.90 m: torn."
    )


@pytest.mark.parametrize(("saved", "mode"), [(MM, Mode.TEAR), (MM + 1, Mode.SHEARS)])
def test_torn_where_shears_save_next_to_nothing(
    saved: int, mode: Mode, monkeypatch: pytest.MonkeyPatch
) -> None:
    torn = shaped_lays.mixed()
    cut = replace(torn, mode=Mode.SHEARS, length=torn.length - saved)
    monkeypatch.setattr("marker.solver.either.lay", lambda *_: torn)
    monkeypatch.setattr("marker.solver.either.lay_nested", lambda *_: cut)
    lay, other = compare(torn.cloth, torn.pieces, iterations=1)
    assert lay.mode is mode
    assert {lay, other} == {torn, cut}


def test_nothing_is_said_of_what_was_not_searched(monkeypatch: pytest.MonkeyPatch) -> None:
    pieces = (shaped_lays.panels(2), shaped_lays.gores(4), shaped_lays.band())
    _, other = compare(shaped_lays.cloth(), pieces, iterations=1)
    assert other is not None
    monkeypatch.setattr("marker.solver.either.asked", lambda: True)
    _, other = compare(shaped_lays.cloth(), pieces, iterations=1)
    assert other is None


def test_nothing_is_weighed_where_nothing_tears() -> None:
    gored = (shaped_lays.gores(3), shaped_lays.yoke())
    lay, other = compare(shaped_lays.cloth(), gored, iterations=1)
    assert (lay.mode, other) == (Mode.SHEARS, None)
    lay, other = compare(shaped_lays.cloth(tears=False), (*gored, shaped_lays.band()), iterations=1)
    assert (lay.mode, other) == (Mode.SHEARS, None)


@pytest.mark.parametrize("mode", [None, Mode.TEAR, Mode.SHEARS])
@pytest.mark.slow
def test_an_interrupt_keeps_the_best_lay_so_far(mode: Mode | None) -> None:
    pieces = (shaped_lays.panels(3), shaped_lays.gores(11), shaped_lays.yoke(), shaped_lays.band())
    solve(shaped_lays.cloth(), pieces, mode=mode, iterations=1)
    began = monotonic()
    usual = signal.getsignal(signal.SIGINT)

    def press() -> None:
        while signal.getsignal(signal.SIGINT) is usual:  # nobody listens yet
            sleep(0.01)
        sleep(0.3)
        os.kill(os.getpid(), signal.SIGINT)

    Thread(target=press).start()
    lay = solve(shaped_lays.cloth(), pieces, mode=mode, seconds=240.0)
    assert 0.3 <= monotonic() - began < 120
    check(lay)
    again = solve(shaped_lays.cloth(), pieces, mode=mode, iterations=1)
    check(again)


@pytest.mark.parametrize("mode", [None, Mode.TEAR, Mode.SHEARS])
@pytest.mark.slow
def test_the_clock_bounds_the_whole(mode: Mode | None) -> None:
    """The seconds are kept within one on an idle machine; reckoned in work, as it may be busy."""
    pieces = (shaped_lays.panels(3), shaped_lays.gores(11), shaped_lays.yoke(), shaped_lays.band())
    solve(shaped_lays.cloth(), pieces, mode=mode, iterations=1)
    began = process_time()
    check(solve(shaped_lays.cloth(), pieces, mode=mode, seconds=0.8))
    assert process_time() - began < 2 * 0.8 + 30


def test_little_time_is_not_overdrawn_by_many_tries(monkeypatch: pytest.MonkeyPatch) -> None:
    """With no time at all one choice is tried, and no rectangle is filled but a drop laid."""
    pieces = (shaped_lays.panels(3), shaped_lays.gores(11), shaped_lays.yoke(), shaped_lays.band())
    zones: list[Rect] = []

    def spread(cloth: Cloth, copies: Any, zone: Rect, *rest: Any) -> Any:
        zones.append(zone)
        return true(cloth, copies, zone, *rest)

    true = nested.spread
    monkeypatch.setattr(nested, "spread", spread)
    check(solve(shaped_lays.cloth(), pieces, mode=Mode.TEAR, seconds=0.0))
    assert len(zones) == 2
    assert not any(zone.along for zone in zones)


def test_in_little_time_fewer_choices_are_tried_evenly_spread(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    straight = [
        Piece(letter, "panel", 30 * CM, (10 + at) * CM, 1, "wool")
        for at, letter in enumerate("PQRST")
    ]
    many: list[int] = []

    def laid(cloth: Cloth, pieces: Any, choice: frozenset[str], limits: Limits) -> _Table:
        many.append(len(choice))
        return true(cloth, pieces, choice, limits)

    true = mixed._laid
    monkeypatch.setattr(mixed, "_laid", laid)
    pieces = (*straight, shaped_lays.gores(3))
    for seconds, tried in ((0.1, [5]), (0.6, [5, 2]), (2.0, [5, 4, 3, 2, 1])):
        many.clear()
        solve(shaped_lays.cloth(), pieces, mode=Mode.TEAR, seconds=seconds)
        assert many[: len(tried)] == tried
        assert len(many) == len(tried) + 1
