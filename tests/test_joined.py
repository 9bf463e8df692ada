"""Lays joined end to end are lays again, by every rule that cloth and pieces bring."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import pytest
import shaped_lays

from marker import referee
from marker.cloth import Cloth, Repeat
from marker.errors import CannotLay
from marker.geometry import Rect
from marker.lay import Lay, Mode
from marker.piece import AtSelvedge, Grain, Match, Piece, Side, Wise
from marker.solver import solve
from marker.solver.joined import AREA, PART, joined
from marker.units import CM

BOLT = Cloth("wool", "grey wool", 140 * CM, 10 * CM, selvedge=CM, squaring=2 * CM)


def panel(letter: str, length: int, count: int = 3, breadth: int = 60, **more: object) -> Piece:
    fields = {"garment": letter, **more}
    return Piece(letter, "panel", length * CM, breadth * CM, count, "wool", **fields)  # type: ignore[arg-type]


def lays_of(cloth: Cloth, sets: Sequence[tuple[Piece, ...]], **more: object) -> list[Lay]:
    return [solve(cloth, pieces, iterations=2, **more) for pieces in sets]  # type: ignore[arg-type]


def check(cloth: Cloth, lays: Sequence[Lay], gap: int = 0) -> Lay:
    row = joined(cloth, lays)
    assert referee.findings(row) == ()
    assert row.length == sum(lay.length for lay in lays) + gap * (len(lays) - 1)
    assert row.buy <= sum(lay.buy for lay in lays)
    assert len(row.placements) == sum(len(lay.placements) for lay in lays)
    return row


THREE = [
    (panel("A1", 90), panel("A2", 70, 1, 8, grain=Grain.EITHER)),
    (panel("B1", 101), panel("B2", 30, 2, 20)),
    (panel("C1", 84, 4, 40),),
]


FEW = [(panel("A1", 90, 2),), (panel("B1", 101, 1), panel("B2", 30, 1, 20))]


@pytest.mark.parametrize(
    "cloth",
    [
        BOLT,
        replace(BOLT, keep_selvedges=True, squaring=0),
        replace(BOLT, one_way=True),
        replace(BOLT, torn_edge=CM // 2, least_strip=9 * CM),
        replace(BOLT, tears=False),
    ],
    ids=["trimmed", "selvedges kept", "one way", "cut in part", "cut"],
)
def test_straight_lays_are_joined_and_squared_once(cloth: Cloth) -> None:
    row = check(cloth, lays_of(cloth, THREE if cloth.tears else FEW))
    assert row.mode is (Mode.TEAR if cloth.tears else Mode.SHEARS)
    squared = [tear for tear in row.tears if tear.at == 0]
    assert len(squared) == (1 if cloth.squaring and cloth.tears else 0)


def test_shears_keep_their_margin_between_lays() -> None:
    cloth = replace(BOLT, tears=False, margin=CM)
    check(cloth, lays_of(cloth, FEW), gap=CM)


def test_matched_sets_of_several_wearers_need_not_agree() -> None:
    def matched(letter: str, length: int) -> Piece:
        stripe = Match(letter, Wise.LENGTHWISE, length * CM, 0)
        return panel(letter, length, matches=(stripe,))

    cloth = replace(BOLT, repeat=Repeat(along=25 * CM))
    check(cloth, lays_of(cloth, [(matched("A1", 91),), (matched("B1", 87),)]))


def test_edges_at_a_selvedge_stay_there() -> None:
    wish = (AtSelvedge(Side.LOW, CM),)
    sets = [(panel("A1", 91, 2, selvedges=wish),), (panel("B1", 87, 3, selvedges=wish),)]
    check(BOLT, lays_of(BOLT, sets))


def shaped(piece: Piece, letter: str) -> Piece:
    return replace(piece, letter=letter, garment=letter)


def test_curved_lays_are_joined() -> None:
    cloth = shaped_lays.cloth(tears=False)
    sets = [(shaped(shaped_lays.gores(5), "A1"),), (shaped(shaped_lays.yoke(), "B1"),)]
    row = check(cloth, lays_of(cloth, sets))
    assert row.mode is Mode.SHEARS and not row.tears


def test_lays_torn_and_cut_make_one_that_is_torn_first() -> None:
    cloth = shaped_lays.cloth()
    torn = solve(cloth, (panel("A1", 90), shaped(shaped_lays.gores(3), "A2")), mode=Mode.TEAR,
                 iterations=1)  # fmt: skip
    cut = solve(cloth, (shaped(shaped_lays.yoke(), "B1"),), mode=Mode.SHEARS, iterations=1)
    for lays in ([torn, cut], [cut, torn]):
        row = check(cloth, lays)
        assert row.mode is Mode.TEAR and len(row.regions) == len(torn.regions) + 1


def test_folded_lays_keep_the_image_of_a_lone_copy_empty() -> None:
    cloth = shaped_lays.cloth(folded=True)
    sets = [
        (shaped(shaped_lays.gores(3, folds=False), "A1"),),
        (shaped(shaped_lays.yoke(), "B1"), panel("B2", 40, 1, 20)),
    ]
    row = check(cloth, lays_of(cloth, sets))
    assert row.shaped


def test_flaws_are_passed_where_each_lay_begins_behind_the_last() -> None:
    cloth = replace(BOLT, flaws=(Rect(150 * CM, 20 * CM, 160 * CM, 60 * CM),))
    first = solve(cloth, (panel("C1", 84, 2),), iterations=2)
    left = Rect(max(0, 150 * CM - first.length), 20 * CM, 160 * CM - first.length, 60 * CM)
    second = solve(replace(cloth, flaws=(left,)), THREE[0], iterations=2)
    assert first.length < 150 * CM
    check(cloth, [first, second])
    blind = solve(replace(cloth, flaws=()), THREE[0], iterations=2)
    assert referee.findings(joined(cloth, [first, blind]))


def test_a_remnant_too_short_for_the_row_is_told() -> None:
    cloth = replace(BOLT, length=400 * CM)
    lays = lays_of(cloth, THREE)
    assert all(lay.length < 300 * CM for lay in lays)
    with pytest.raises(CannotLay, match="remnant"):
        joined(cloth, lays)


def test_what_bounds_the_row_is_the_area_or_one_lay_alone() -> None:
    assert joined(BOLT, lays_of(BOLT, THREE)).bound_by == AREA
    narrow = [(panel("A1", 90, 4, 71),), (panel("B1", 20, 1, 8),)]
    row = joined(BOLT, lays_of(BOLT, narrow))
    assert (row.bound, row.bound_by) == (360 * CM, PART)
