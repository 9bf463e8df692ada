"""Panels of a straight skirt: every formula of the trade, and which way they lie."""

from __future__ import annotations

import pytest
from example_cases import case_of, draft_of, drafts_of, fault, piece_of
from hypothesis import given, settings
from hypothesis import strategies as st

from marker.piece import Grain
from marker.units import CM, INCH, MM, YARD, System, format_bought, parse


def bought(cloth: str, units: str, length: int) -> str:
    made = case_of(units, cloth=cloth).cloths["main"]
    return format_bought(made.buy(length), System(units))


# --- panels: common practice, no source -------------------------------------------------


def test_waist_to_ankle_and_turn_down_and_hem_make_the_panel() -> None:
    assert piece_of(draft_of("in"), "panel").length == parse("42 1/2 in")
    assert piece_of(draft_of("cm"), "panel").length == 108 * CM


def test_three_panels_need_more_than_is_often_advised() -> None:
    panel = piece_of(draft_of("in"), "panel")
    need = panel.length * panel.count
    assert need == parse("127 1/2 in") == parse("3 1/2 yd") + parse("1 1/2 in")
    assert bought('width = "45 in"', "in", need) == "3 5/8 yd"
    panel = piece_of(draft_of("cm"), "panel")
    assert bought('width = "114 cm"', "cm", panel.length * panel.count) == "3.30 m"


def test_three_panels_and_a_band_torn_across() -> None:
    for units, need, buy in (("in", "130 1/2 in", "3 5/8 yd"), ("cm", "331.5 cm", "3.40 m")):
        draft = draft_of(units)
        panel, band = piece_of(draft, "panel"), piece_of(draft, "band")
        assert band.length <= panel.breadth
        total = panel.length * 3 + band.breadth
        assert total == parse(need)
        assert bought('width = "45 in"', units, total) == buy


def test_two_panels_on_wide_cloth_and_a_band_torn_across() -> None:
    for units, need, buy in (("in", "88 in", "2 1/2 yd"), ("cm", "223.5 cm", "2.30 m")):
        draft = draft_of(units, panels="count = 2", cloth='width = "54 in"')
        panel, band = piece_of(draft, "panel"), piece_of(draft, "band")
        total = panel.length * 2 + band.breadth
        assert total == parse(need)
        assert bought('width = "54 in"', units, total) == buy


def around(width: int, count: int) -> int:
    cloth = f'width = "{width} in"'
    return draft_of("in", cloth=cloth, panels=f"count = {count}").garment.round_hem


def test_three_breadths_go_about_126_inches_round() -> None:
    # of cloth 42 to 45 in wide; common practice, no source
    assert around(42, 3) <= 126 * INCH <= around(45, 3)
    assert (around(42, 3), around(45, 3)) == (123 * INCH, 132 * INCH)


def test_two_wide_breadths_go_about_100_to_110_inches_round() -> None:
    # of cloth 50 to 55 in wide; common practice, no source
    assert (around(50, 2), around(55, 2)) == (98 * INCH, 108 * INCH)


def test_kinne_and_cooley_three_lengths_and_a_ruffle() -> None:
    # Kinne and Cooley, Clothing and Health, 1916, lesson 12: length + 4 in for hem and
    # finishing, three lengths, and a yard for the ruffle; 32 in finished gives 4 yd
    draft = draft_of(
        "in",
        wearer='waist = "26 in"\nlength = "32 in"',
        garment='turn_down = "2 in"\ntake_up = "2 in"',
    )
    panel = piece_of(draft, "panel")
    assert panel.length * panel.count == 108 * INCH
    assert panel.length * panel.count + YARD == 4 * YARD


def test_round_hem_and_fulness() -> None:
    told = draft_of("in").garment
    assert told.round_hem == 3 * (44 - 1) * INCH  # C = n (w - 2s), selvedges trimmed
    assert told.drawn == 26 * INCH
    assert told.fulness == pytest.approx(129 / 26)


def test_selvedges_kept_leave_the_whole_width() -> None:
    draft = draft_of("in", cloth='width = "45 in"\nselvedge = "1/2 in"\nselvedges = "kept"')
    assert piece_of(draft, "panel").breadth == 45 * INCH
    wide = 'width = "45 in"\nselvedge = "5/8 in"\nselvedges = "kept"'
    assert "garment.skirt.seam is 1/2 in, but the cloth 'main' keeps selvedges of 5/8 in" in fault(
        cloth=wide
    )
    assert draft_of("in", cloth=wide, garment="selvedge_shows = true").garment.panels == 3


def test_a_washed_cloth_is_narrower() -> None:
    draft = draft_of("cm", cloth='width = "150 cm"\nshrinkage = { weft = "2 %" }')
    assert piece_of(draft, "panel").breadth == 147 * CM


def test_a_wanted_round_takes_the_fewest_breadths() -> None:
    draft = draft_of("cm", panels='round = "3.20 m"')
    panel = piece_of(draft, "panel")
    # 112 cm usable less two seams goes 109.5: three breadths, 106 2/3 + 2.5, up to the mm
    assert (panel.count, panel.breadth) == (3, 1092 * MM)
    assert draft.garment.round_hem == 3 * 1067 * MM
    just = draft_of("cm", panels='round = "219 cm"')
    assert (just.garment.panels, just.garment.round_hem) == (2, 219 * CM)
    told = fault("cm", panels='round = "3.20 m"\ncount = 2')
    assert "panels.count is 2, and 2 full breadths go only 219 cm round, not 320 cm" in told


@settings(max_examples=60)
@given(st.integers(30, 900), st.integers(60, 300), st.integers(0, 30))
def test_a_wanted_round_is_reached_and_one_breadth_less_would_not(
    around: int, width: int, seam_mm: int
) -> None:
    seam = max(seam_mm, 1) * MM
    draft = draft_of(
        "cm",
        wearer='waist = "20 cm"\nlength = "90 cm"',
        cloth=f'width = "{width} cm"',
        garment=f'seam = "{max(seam_mm, 1)} mm"',
        panels=f'round = "{around} cm"',
        band='underlap = "0 cm"',
    )
    panel = piece_of(draft, "panel")
    assert draft.garment.round_hem == panel.count * (panel.breadth - 2 * seam) >= around * CM
    assert panel.breadth <= width * CM
    assert (panel.count - 1) * (width * CM - 2 * seam) < around * CM


# --- which way the panels lie -----------------------------------------------------------------


def test_railroaded_panels_are_one_piece_across_the_bolt() -> None:
    (draft,) = drafts_of("cm", panels='round = "3 m"\nlie = "across"')
    panel = piece_of(draft, "panel")
    assert (panel.count, panel.length, panel.breadth) == (1, 108 * CM, parse("302.5 cm"))
    assert (panel.grain, panel.up) == (Grain.ACROSS, "length")
    assert (draft.garment.panels, draft.garment.round_hem) == (1, 300 * CM)


def test_railroaded_breadths_go_as_far_round_as_breadths_along() -> None:
    along, across = drafts_of("cm", panels='count = 3\nlie = "either"')
    assert (along.way, across.way) == ("panels along the bolt", "panels railroaded")
    assert along.garment.round_hem == across.garment.round_hem
    assert [piece_of(d, "panel").count for d in (along, across)] == [3, 1]


def test_panels_too_long_to_lie_across() -> None:
    cloth = 'width = "108 cm"\nselvedge = "1 cm"'
    told = fault("cm", cloth=cloth, panels='count = 3\nlie = "across"')
    assert "panels.lie can't be across: the cut length of 108 cm is more than the 106 cm" in told
    draft = draft_of("cm", cloth=cloth, panels='count = 3\nlie = "either"')
    assert draft.garment.advice[-1].startswith("The panels can't be railroaded: the cut length")


def test_one_way_cloth_keeps_its_panels_along() -> None:
    cloth = 'width = "150 cm"\none_way = true'
    assert "has an up and a down along the bolt" in fault(
        "cm", cloth=cloth, panels='count = 3\nlie = "across"'
    )
    assert piece_of(draft_of("cm", cloth=cloth, panels='count = 3\nlie = "either"'), "panel")
    assert "band.lie is 'along', but the cloth 'main' has an up and a down" in fault(
        "cm", cloth=cloth, band='lie = "along"'
    )


def test_panels_wider_than_the_cloth() -> None:
    told = fault(panels='count = 2\nwidth = "50 in"')
    assert "panels.width is 50 in, wider than the 44 in that the cloth 'main' gives" in told
    (draft,) = drafts_of("in", panels='count = 2\nwidth = "50 in"\nlie = "either"')
    assert draft.way == "panels railroaded"


@pytest.mark.parametrize(
    ("panels", "said"),
    [
        ("", "panels.count is missing; give how many"),
        ('width = "40 in"\nround = "3 yd"', "panels has both width and round"),
        ('count = 3\nwidth = "1 in"', "panels.width is 1 in, and two seams of 1/2 in leave"),
        ('count = 1\nwidth = "20 in"', "panels go 19 in round, less than the 26 in"),
        ('count = 1\nwidth = "1 in"\nlie = "across"', "panels.width is 1 in, and two seams"),
    ],
)
def test_panels_that_can_not_be(panels: str, said: str) -> None:
    assert f"garment.skirt.{said}" in fault(panels=panels)


def test_more_panels_than_any_skirt_has() -> None:
    told = fault(cloth='width = "20 in"', panels='round = "1000 m"')
    assert "panels.round takes 2073 panels; 1000 are the most" in told
