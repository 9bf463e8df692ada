"""Panels whose width is left open: the bounds, the round hem, and all that follows it."""

from __future__ import annotations

from dataclasses import replace

import pytest
from example_cases import draft_of, drafts_of, fault, piece_of
from hypothesis import given, settings
from hypothesis import strategies as st

from marker.garments.order import Flex
from marker.units import CM, INCH, MM, parse

FACED = '[garment.skirt.facing]\n[garment.skirt.binding]\nlap = "2 cm"\n'


def flex_of(units: str = "cm", more: str = "", **parts: str) -> Flex:
    flex = draft_of(units, more, **parts).flex
    assert flex is not None
    return flex


def test_a_width_from_and_to_makes_the_panels_flex() -> None:
    draft = draft_of("cm", panels='count = 4\nwidth = ["66 cm", "74 cm"]')
    flex = draft.flex
    assert flex and (flex.low, flex.high, flex.step) == (66 * CM, 74 * CM, MM)
    assert piece_of(draft, "panel").breadth == 66 * CM
    inches = flex_of("in", panels='count = 3\nwidth = ["30 in", "40 in"]')
    assert (inches.low, inches.high, inches.step) == (30 * INCH, 40 * INCH, INCH // 8)


def test_the_draft_is_the_one_at_the_least_width() -> None:
    draft = draft_of("cm", FACED, panels='count = 4\nwidth = ["66 cm", "74 cm"]')
    assert draft.flex and draft.flex.at(66 * CM) == replace(draft, flex=None)


def test_all_that_follows_the_round_hem_is_let_out_with_it() -> None:
    flex = flex_of("cm", FACED, panels='count = 4\nwidth = ["66 cm", "74 cm"]')
    for width in (66 * CM, 70 * CM + 3 * MM, 74 * CM):
        at = flex.at(width)
        around = 4 * (width - 2 * parse("1.25 cm"))
        assert at.flex is None and at.garment.round_hem == around
        assert piece_of(at, "panel").breadth == width
        notches = {m.v1 for m in piece_of(at, "panel").marks if m.name.startswith("opening")}
        assert notches == {parse("1.25 cm"), width}
        strips = piece_of(at, "facing strip")
        joined = strips.length * strips.count - 2 * parse("1.25 cm") * (strips.count - 1)
        # four strips or three, all equal, round up by less than a millimetre each
        assert 0 <= joined - (around + 2 * parse("1.25 cm")) < strips.count * MM
        assert at.garment.notions[-1].length == around + 2 * CM


@pytest.mark.parametrize("lie", ["along", "across"])
def test_equal_bounds_equal_a_fixed_width(lie: str) -> None:
    given = f'count = 3\nlie = "{lie}"\nwidth = '
    fixed = drafts_of("cm", FACED, panels=given + '"70 cm"')
    assert drafts_of("cm", FACED, panels=given + '["70 cm", "70 cm"]') == fixed
    assert fixed[0].flex is None


def test_the_greatest_may_be_a_full_breadth() -> None:
    # 114 cm wide, two selvedges of 1 cm
    assert flex_of(panels='count = 3\nwidth = ["1 m", "full"]').high == 112 * CM
    full = drafts_of("cm", panels='count = 3\nwidth = "full"')
    assert drafts_of("cm", panels='count = 3\nwidth = ["112 cm", "full"]') == full


def test_the_round_hems_bound_an_open_width() -> None:
    # four panels: round 4 w - 10 cm; 2.60 m takes w = 67.5, 2.80 m allows w = 72.5
    flex = flex_of(
        panels='count = 4\nwidth = ["66 cm", "74 cm"]\nround = "2.60 m"\nmost_round = "2.80 m"'
    )
    assert (flex.low, flex.high) == (parse("67.5 cm"), parse("72.5 cm"))
    # up to the millimetre for the least, and down to it for the greatest
    flex = flex_of(
        panels='count = 4\nwidth = ["66 cm", "74 cm"]\nround = "260.1 cm"\nmost_round = "280.3 cm"'
    )
    assert (flex.low, flex.high) == (parse("67.6 cm"), parse("72.5 cm"))
    assert flex.at(flex.low).garment.round_hem >= parse("260.1 cm")
    assert flex.at(flex.high).garment.round_hem <= parse("280.3 cm")


def test_no_rounding_goes_past_the_greatest_round_hem() -> None:
    # 100.01 + 2.5 up to the mm would go 100.1 round
    draft = draft_of("cm", panels='count = 1\nround = "100.01 cm"\nmost_round = "100.05 cm"')
    assert draft.garment.round_hem == parse("100.05 cm")


def test_two_round_hems_leave_the_width_open_between_them() -> None:
    flex = flex_of(panels='round = "3.20 m"\nmost_round = "3.27 m"')
    # three breadths of 112 go 328.5 round: 106 2/3 + 2.5 up to the mm, 109 + 2.5
    assert (flex.low, flex.high) == (1092 * MM, parse("111.5 cm"))
    wide = flex_of(panels='round = "3.20 m"\nmost_round = "5 m"')
    assert wide.high == 112 * CM


def test_fewest_panels_reach_the_round_hem_at_the_greatest_width() -> None:
    # one goes 71.5 round at most: 3.00 m takes five
    draft = draft_of("cm", panels='width = ["66 cm", "74 cm"]\nround = "3.00 m"')
    assert draft.garment.panels == 5
    assert draft.flex and draft.flex.low == 66 * CM  # 5 x 63.5 is more than 3.00 m already
    assert draft.garment.round_hem == parse("317.5 cm")


def test_a_bound_that_leaves_one_width_is_that_width() -> None:
    draft = draft_of(
        "cm", panels='count = 4\nwidth = ["66 cm", "74 cm"]\nround = "286 cm"'
    )  # 4 x 71.5
    assert draft.flex is None and piece_of(draft, "panel").breadth == 74 * CM


def test_railroaded_panels_flex_as_one_piece() -> None:
    (draft,) = drafts_of("cm", panels='count = 3\nwidth = ["1 m", "110 cm"]\nlie = "across"')
    flex = draft.flex
    # 3 x 97.5 and 3 x 107.5 round, and one seam
    assert flex and (flex.low, flex.high) == (295 * CM, 325 * CM)
    assert flex.at(300 * CM).garment.round_hem == parse("297.5 cm")
    (draft,) = drafts_of("cm", panels='round = "3 m"\nmost_round = "3.10 m"\nlie = "across"')
    assert draft.flex and (draft.flex.low, draft.flex.high) == (
        parse("302.5 cm"),
        parse("312.5 cm"),
    )


@settings(max_examples=60)
@given(
    st.integers(2, 6), st.integers(600, 900), st.integers(0, 200), st.integers(0, 200),
    st.sampled_from(["along", "either"]),
)  # fmt: skip
def test_no_part_of_a_narrower_draft_is_larger(
    count: int, low: int, more: int, part: int, lie: str
) -> None:
    high = low + more
    draft = draft_of(
        "cm",
        f'[garment.skirt.facing]\nlie = "{lie}"\n',
        panels=f'count = {count}\nwidth = ["{low} mm", "{high} mm"]',
    )
    if draft.flex is None:
        assert low == high
        return
    narrow = draft.flex.at((low + part % more) * MM if more else low * MM)
    for small, large in zip(narrow.pieces, draft.flex.at(high * MM).pieces, strict=True):
        assert (small.name, small.count, small.cloth) == (large.name, large.count, large.cloth)
        assert small.length <= large.length and small.breadth <= large.breadth


@pytest.mark.parametrize(
    ("panels", "said"),
    [
        (
            'count = 3\nwidth = ["74 cm", "66 cm"]',
            "panels.width: ['74 cm', '66 cm'] runs backwards",
        ),
        ('count = 3\nwidth = ["74 cm"]', "panels.width: ['74 cm'] is not a width; write one, or"),
        ("count = 3\nwidth = []", "panels.width: [] is not a width"),
        ('count = 3\nwidth = ["full", "74 cm"]', "panels.width: 'full' is not a length"),
        ('count = 3\nwidth = ["0 cm", "74 cm"]', "panels.width: '0 cm' is nothing"),
        ('count = 3\nwidth = [66, "74 cm"]', "panels.width: '66' has no unit"),
        (
            'count = 3\nwidth = ["66 cm", "113 cm"]',
            "panels.width goes up to 113 cm, wider than the",
        ),
        (
            'count = 3\nwidth = ["113 cm", "full"]',
            "panels.width begins at 113 cm, wider than the 112 cm of a full breadth",
        ),
        (
            'count = 40\nwidth = ["2.5 cm", "full"]',
            "panels.width begins at 2.5 cm, and two seams of 1.3 cm leave nothing of it",
        ),
        ('width = ["66 cm", "74 cm"]', "panels.count is missing; give how many panels"),
        (
            'count = 3\nwidth = ["66 cm", "74 cm"]\nround = "3 m"',
            "panels.count is 3, and 3 panels of the greatest width go only 214.5 cm round, "
            "not 300 cm; give more panels",
        ),
        (
            'count = 3\nwidth = ["66 cm", "74 cm"]\nmost_round = "1.90 m"',
            "panels.most_round is 190 cm, but 3 of the narrowest panels, 66 cm wide, go 190.5 cm",
        ),
        (
            'count = 3\nwidth = ["66 cm", "74 cm"]\nround = "2 m"\nmost_round = "1.99 m"',
            "panels.most_round is 199 cm, less than the 200 cm of panels.round",
        ),
        (
            'count = 3\nround = "2 m"\nmost_round = "2 m"',
            "panels.most_round is 200 cm, and so near to panels.round that no width of 3 panels",
        ),
        (
            'count = 3\nwidth = "66 cm"\nmost_round = "3 m"',
            "panels.most_round is for panels whose width is left open",
        ),
        ('count = 3\nmost_round = "3 m"', "panels.most_round is for panels whose width is left"),
        ('count = 3\nwidth = "66 cm"\nround = "1.5 m"', "panels has both width and round"),
        ('count = 3\nwidth = ["20 cm", "74 cm"]', "panels go 52.5 cm round, less than the 66 cm"),
    ],
)
def test_open_widths_that_can_not_be(panels: str, said: str) -> None:
    assert f"garment.skirt.{said}" in fault("cm", panels=panels)


def test_what_only_the_widest_can_not_have_is_refused_at_once() -> None:
    # half of 3 x 107.5 and two seams is 163.75; half of 3 x 97.5 and two seams 148.75
    told = fault(
        "cm",
        '[garment.skirt.facing]\nlie = "across"\nstrips = 2\n',
        cloth='width = "150 cm"',
        panels='count = 3\nwidth = ["1 m", "110 cm"]',
    )
    assert "facing.strips is 2, and each would be 163.8 cm long across the cloth 'main'" in told
    fits = '[garment.skirt.facing]\nlie = "across"\nstrips = 2\n'
    assert draft_of("cm", fits, cloth='width = "150 cm"', panels='count = 3\nwidth = "1 m"')
