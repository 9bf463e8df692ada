"""The four goals with their bounds, and the steps that are cut along a thread."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from strategies import asks

from marker.cloth import Cloth, Repeat
from marker.errors import CannotLay
from marker.geometry import Rect
from marker.lay import Aim, Direction, Lay, Proof, Tear
from marker.piece import Match, Piece, Wise
from marker.referee import findings
from marker.solver import bounded, solve
from marker.solver.goals import least_tears, useful
from marker.solver.threads import mark_cuts
from marker.units import CM, MM

PANEL = Piece("A", "panel", 80 * CM, 50 * CM, 2, "c")


def cloth(**changes: object) -> Cloth:
    base: dict[str, object] = {"key": "c", "name": "Cloth", "width": 100 * CM, "step": 10 * CM}
    return Cloth(**(base | changes))  # type: ignore[arg-type]


def lay(*pieces: Piece, **changes: object) -> Lay:
    return solve(cloth(**changes), pieces, iterations=5)


@given(asks())
@settings(max_examples=40, deadline=None, derandomize=True)
def test_no_goal_is_beyond_its_bound(ask: tuple[Cloth, tuple[Piece, ...]]) -> None:
    found = solve(ask[0], ask[1], iterations=3)
    assert [goal.aim for goal in found.goals] == list(Aim)
    buy, length, remnant, tears = found.goals
    assert (buy.value, length.value, tears.value) == (found.buy, found.length, len(found.tears))
    for goal in (buy, length, tears):
        assert goal.bound <= goal.value
    assert remnant.bound >= remnant.value


def test_two_panels_abreast_reach_every_bound() -> None:
    # 80 cm of a 100 cm cloth: one tear parts the panels, and nothing at all is left over
    found = lay(PANEL)
    assert [(goal.value, goal.bound) for goal in found.goals] == [
        (80 * CM, 80 * CM), (80 * CM, 80 * CM), (0, 0), (1, 1),
    ]  # fmt: skip


def test_squaring_and_selvedges_add_their_tears() -> None:
    # squaring strip, two selvedges, two panels: five parts, four tears; the shop's end is
    # no part of its own in the bound, though here it is torn off
    found = lay(PANEL, squaring=2 * CM, selvedge=CM, width=102 * CM)
    assert least_tears(found) == 4
    assert found.goals[3].value == 5


def test_the_remnant_bound_counts_what_lies_beside_the_narrowest_piece() -> None:
    # One piece 90 x 10 on a cloth 100 wide and 90 long: 90 x 90 are left beside it
    found = lay(Piece("A", "strip", 90 * CM, 10 * CM, 1, "c"))
    assert found.goals[2].value == found.goals[2].bound == (90 * CM) ** 2


def test_no_remnant_is_wider_than_what_the_narrowest_piece_leaves() -> None:
    # 9100 cm2 are left over of 100 x 100, but a rectangle beside the strip is 90 across
    strip = Piece("A", "strip", 90 * CM, 10 * CM, 1, "c")
    found = lay(strip, step=102 * CM, squaring=2 * CM)
    assert found.goals[2].value == found.goals[2].bound == 100 * CM * 90 * CM


def test_a_repeat_may_leave_a_gap_that_pushing_together_would_close() -> None:
    # Two panels 150 long in a 160 repeat, each as wide as the cloth: 10 cm stay empty between
    match = Match("hem", Wise.LENGTHWISE)
    panel = Piece("A", "panel", 150 * CM, 100 * CM, 2, "c", matches=(match,))
    found = lay(panel, repeat=Repeat(160 * CM), step=310 * CM)
    assert found.length == found.bound == 310 * CM
    assert found.goals[2].value == found.goals[2].bound == 10 * CM * 100 * CM


def test_squaring_is_one_of_the_straight_cuts() -> None:
    # off the squared end, between the panels, and off the shop's end
    found = lay(PANEL, tears=False, squaring=2 * CM)
    assert found.goals[3].value == 3
    assert not findings(found)


def test_an_offcut_is_useful_from_ten_centimetres_within_the_usable_cloth() -> None:
    trimmed = cloth(selvedge=CM, squaring=2 * CM)
    assert useful(trimmed, Rect(0, 0, 10 * CM, 11 * CM)) == (10 * CM) ** 2
    assert useful(trimmed, Rect(0, 0, 10 * CM, 11 * CM - 1)) == 0
    assert useful(trimmed, Rect(-2 * CM, 5 * CM, 8 * CM, 50 * CM)) == 0


def test_a_remnant_too_short_is_told_with_what_is_needed_at_least() -> None:
    with pytest.raises(CannotLay, match=r"need 80 cm of it at least, and the remnant gives 70 cm"):
        lay(PANEL, length=72 * CM, squaring=2 * CM)


def test_a_remnant_that_is_long_enough_is_used_as_it_is() -> None:
    found = lay(PANEL, length=90 * CM, squaring=2 * CM)
    assert (found.buy, found.length, found.bolt.x1) == (0, 80 * CM, 88 * CM)


def test_a_better_bound_from_elsewhere_is_taken_and_a_worse_one_left() -> None:
    found = replace(lay(PANEL), bound=70 * CM, proof=Proof.OPEN)
    better = bounded(found, 80 * CM, "told")
    assert (better.bound, better.bound_by, better.proof) == (80 * CM, "told", Proof.LENGTH)
    assert [goal.bound for goal in better.goals[:2]] == [80 * CM, 80 * CM]
    assert bounded(better, 70 * CM, "less") == better


# --- cut along a thread ---------------------------------------------------------------------


def test_strips_narrower_than_the_least_are_cut() -> None:
    strips = Piece("A", "strip", 80 * CM, 3 * CM, 2, "c")
    assert all(t.cut for t in lay(strips, width=6 * CM, least_strip=4 * CM).tears)
    assert not any(t.cut for t in lay(strips, width=6 * CM, least_strip=3 * CM).tears)


def test_squaring_and_bare_selvedges_are_torn_however_narrow() -> None:
    found = lay(PANEL, squaring=2 * CM, selvedge=CM, width=102 * CM, least_strip=4 * CM)
    assert not any(t.cut for t in found.tears)


def test_only_the_edges_of_a_piece_not_to_be_torn_are_cut() -> None:
    spared = replace(PANEL, letter="B", length=60 * CM, count=1, torn=False)
    found = lay(replace(PANEL, count=3), spared)
    rects = {s.id: s.rect(found.piece(s.letter)) for s in found.placements}
    own = rects["B-1"]
    for tear in found.tears:
        edges = (own.x0, own.x1) if tear.direction is Direction.ACROSS else (own.y0, own.y1)
        assert tear.cut == (tear.in_hand.holds(own) and tear.at in edges)
    assert {t.cut for t in found.tears} == {True, False}


def test_a_tear_away_from_the_spared_piece_is_torn() -> None:
    spared = replace(PANEL, count=1, torn=False)
    hand = Rect(0, 50 * CM, 80 * CM, 100 * CM)
    tear = Tear(1, hand, Direction.ALONG, 60 * CM, ())
    placed = solve(cloth(), [spared], iterations=1).placements
    (marked,) = mark_cuts(cloth(least_strip=5 * MM), [spared], placements=placed, tears=[tear])
    assert not marked.cut
