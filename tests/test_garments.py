"""The straight skirt: every formula of the trade, and what each piece carries."""

from __future__ import annotations

import pytest
from example_cases import case_of, draft_of, drafts_of, piece_of
from hypothesis import given, settings
from hypothesis import strategies as st

from marker.errors import BadInput
from marker.garments import registry
from marker.garments.order import Draft, Order, Spec
from marker.garments.registry import garment, recipes
from marker.garments.straight_skirt import StraightSkirt
from marker.piece import Grain, MarkKind
from marker.record import TurnDown
from marker.units import CM, INCH, MM, YARD, System, format_bought, parse


def fault(units: str = "in", more: str = "", **parts: str) -> str:
    with pytest.raises(BadInput) as raised:
        drafts_of(units, more, **parts)
    told = str(raised.value)
    assert told.startswith("a.toml: ") and "\n" not in told
    return told


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


# --- lengths that differ ----------------------------------------------------------------

UNEVEN = 'waist = "26 in"\nfront = "38 in"\nside = "38 1/2 in"\nback = "39 in"'


def test_panels_are_cut_to_the_longest_and_turned_down_deeper_elsewhere() -> None:
    draft = draft_of("in", wearer=UNEVEN)
    assert piece_of(draft, "panel").length == parse("42 1/2 in")
    assert draft.garment.turn_downs == (
        TurnDown("front", 38 * INCH, parse("3 1/2 in")),
        TurnDown("side", parse("38 1/2 in"), 3 * INCH),
        TurnDown("back", 39 * INCH, parse("2 1/2 in")),
    )
    for row in draft.garment.turn_downs:
        assert row.finished + row.depth + INCH == draft.garment.cut_length
    folds = [m for m in piece_of(draft, "panel").marks if m.kind is MarkKind.FOLD]
    assert [(m.name, m.u0) for m in folds] == [
        ("fold of the turn-down (front)", parse("3 1/2 in")),
        ("fold of the turn-down (side)", 3 * INCH),
        ("fold of the turn-down (back)", parse("2 1/2 in")),
    ]


def test_a_place_without_a_measure_takes_the_length() -> None:
    told = draft_of("in", wearer='waist = "26 in"\nlength = "39 in"\nfront = "38 in"').garment
    assert [row.finished for row in told.turn_downs] == [38 * INCH, 39 * INCH, 39 * INCH]


def test_level_lengths_give_one_row() -> None:
    assert draft_of("in").garment.turn_downs == (
        TurnDown("all round", 39 * INCH, parse("2 1/2 in")),
    )


def test_a_stroke_gathered_top_is_not_turned_down() -> None:
    draft = draft_of(
        "in", wearer=UNEVEN, garment='top = "stroke gathered"\ntake_up = "1 in"\nseam = "1/2 in"'
    )
    assert draft.garment.turn_downs == ()
    assert draft.garment.cut_length == parse("40 1/2 in")  # 39 + seam + 1
    assert "Take the top into the band by: front 1 1/2 in, side 1 in, back 1/2 in." in (
        draft.garment.advice
    )
    assert "turn_down is given, but a stroke gathered top has none" in fault(
        garment='top = "stroke gathered"\nturn_down = "2 in"'
    )


def test_a_garment_may_be_shorter_than_the_wearer_s_length() -> None:
    told = draft_of("in", garment='shorter = "3 in"\nturn_down = "2 in"\ntake_up = "1 in"').garment
    assert told.cut_length == 39 * INCH
    assert "garment.skirt.shorter is 39 in, which leaves nothing" in fault(
        garment='shorter = "39 in"'
    )


# --- marks --------------------------------------------------------------------------------


def test_the_panel_carries_its_marks() -> None:
    draft = draft_of("in", more='[garment.skirt.opening]\nlength = "11 in"\n')
    panel = piece_of(draft, "panel")
    marks = {(m.kind, m.u0, m.v0, m.u1, m.v1) for m in panel.marks}
    length, width, seam = panel.length, panel.breadth, INCH // 2
    fold, opening = parse("2 1/2 in"), parse("13 1/2 in")
    assert marks == {
        (MarkKind.SEAM, 0, seam, length, seam),
        (MarkKind.SEAM, 0, width - seam, length, width - seam),
        (MarkKind.FOLD, fold, 0, fold, width),
        (MarkKind.HEM, length - INCH, 0, length - INCH, width),
        (MarkKind.NOTCH, opening, 0, opening, seam),
        (MarkKind.NOTCH, opening, width - seam, opening, width),
    }
    assert (panel.edges.start, panel.edges.end, panel.edges.low) == ("waist", "hem", "seam")
    assert (panel.grain, panel.up) == (Grain.ALONG, "length")


def test_the_opening_is_measured_where_its_seam_lies() -> None:
    depths = {"front": "3 1/2 in", "side": "3 in", "back": "2 1/2 in"}
    for place, depth in depths.items():
        more = f'[garment.skirt.opening]\nat = "{place}"\nlength = "11 in"\n'
        panel = piece_of(draft_of("in", more, wearer=UNEVEN), "panel")
        notch = next(m for m in panel.marks if m.kind is MarkKind.NOTCH)
        assert notch.u0 == parse(depth) + 11 * INCH


def test_every_mark_lies_on_its_piece() -> None:
    more = (
        '[garment.skirt.facing]\n[garment.skirt.opening]\nplacket = "strip"\n'
        '[cloth.lawn]\nwidth = "36 in"\n'
    )
    band = 'lining = "lawn"'
    names = set()
    for piece in draft_of("in", more, band=band, garment="").pieces:
        names.add(piece.name)
        for mark in piece.marks:
            assert 0 <= mark.u0 <= mark.u1 <= piece.length
            assert 0 <= mark.v0 <= mark.v1 <= piece.breadth
    assert names == {"panel", "facing strip", "band", "band lining", "placket strip"}


# --- bands, tapes, plackets, bindings -----------------------------------------------------


def test_the_band_of_common_practice() -> None:
    # waist 26 + 1 seam + 3 underlap = 30 in long, 3 in wide (common practice, no source)
    band = piece_of(draft_of("in"), "band")
    assert (band.length, band.breadth) == (30 * INCH, 3 * INCH)
    assert (band.grain, band.up) == (Grain.EITHER, "breadth")
    (notch,) = [m for m in band.marks if m.kind is MarkKind.NOTCH]
    assert notch.u0 == parse("26 1/2 in")
    (fold,) = [m for m in band.marks if m.kind is MarkKind.FOLD]
    assert fold.v0 == parse("1 1/2 in")


def test_ease_lengthens_the_band_and_what_the_skirt_is_drawn_into() -> None:
    draft = draft_of("in", band='width = "1 in"\nunderlap = "3 in"\nease = "1 in"')
    assert piece_of(draft, "band").length == 31 * INCH
    assert draft.garment.drawn == 27 * INCH


def test_a_lined_band_is_cut_single_with_a_lining_of_its_size() -> None:
    more = '[cloth.lawn]\nwidth = "36 in"\n'
    draft = draft_of("in", more, band='width = "1 in"\nunderlap = "3 in"\nlining = "lawn"')
    band, lining = piece_of(draft, "band"), piece_of(draft, "band lining")
    assert (band.length, band.breadth, band.cloth) == (30 * INCH, 2 * INCH, "main")
    assert (lining.length, lining.breadth, lining.cloth) == (30 * INCH, 2 * INCH, "lawn")
    assert not [m for m in band.marks if m.kind is MarkKind.FOLD]


def test_a_tape_takes_the_place_of_the_band() -> None:
    tape = '[garment.skirt.tape]\ntie = "24 in"\n'
    draft = draft_of("in", tape, band="")
    assert [piece.name for piece in draft.pieces] == ["panel"]
    (item,) = draft.garment.notions
    assert (item.name, item.length) == ("waist tape", 26 * INCH + 2 * 24 * INCH)
    assert "band and tape are both given" in fault(more=tape)


def test_binding_goes_round_the_hem_and_laps() -> None:
    draft = draft_of("in", '[garment.skirt.binding]\nlap = "1 in"\nwidth = "1/2 in"\n')
    (item,) = draft.garment.notions
    assert (item.name, item.length) == ("hem binding, 1/2 in wide", 130 * INCH)


def test_a_placket_strip_runs_down_and_up() -> None:
    more = '[garment.skirt.opening]\nlength = "11 in"\nplacket = "strip"\nwidth = "1 in"\n'
    piece = piece_of(draft_of("in", more), "placket strip")
    assert (piece.length, piece.breadth, piece.up) == (23 * INCH, 3 * INCH, "length")
    assert "opening.width is for a placket strip" in fault(
        more='[garment.skirt.opening]\nwidth = "1 in"\n'
    )


def test_an_opening_as_long_as_the_skirt_is_refused() -> None:
    assert "garment.skirt.opening.length is 39 in, as long as the skirt itself" in fault(
        more='[garment.skirt.opening]\nlength = "39 in"\n'
    )


# --- facings ------------------------------------------------------------------------------

TRADE_HEM = 'count = 3\nwidth = "43 in"'
"""126 in round with seams of 1/2 in."""


def test_three_strips_across_the_cloth_face_the_hem_and_two_do_not() -> None:
    # common practice, no source
    facing = '[garment.skirt.facing]\nlie = "across"\n'
    strips = piece_of(draft_of("in", facing, panels=TRADE_HEM), "facing strip")
    assert draft_of("in", panels=TRADE_HEM).garment.round_hem == 126 * INCH
    assert (strips.count, strips.length) == (3, 43 * INCH)
    told = fault(more=facing + "strips = 2\n", panels=TRADE_HEM)
    assert "garment.skirt.facing.strips is 2, and each would be 64 in long across" in told


def test_a_facing_takes_the_hem_s_seam_and_its_own_finish() -> None:
    facing = '[garment.skirt.facing]\ndepth = "7 in"\ntop = "1/4 in"\n'
    draft = draft_of("in", facing, garment='seam = "1/2 in"')
    assert draft.garment.cut_length == parse("42 in")  # 39 + 2 1/2 + the seam
    strips = piece_of(draft, "facing strip")
    assert strips.breadth == parse("7 3/4 in")
    assert (strips.edges.low, strips.edges.high, strips.up) == ("hem", "top", "breadth")
    hem = next(m for m in strips.marks if m.kind is MarkKind.HEM)
    assert (hem.v0, hem.u1) == (INCH // 2, strips.length)


@settings(max_examples=80)
@given(
    st.integers(40, 160),
    st.integers(1, 8),
    st.integers(1, 30),
    st.sampled_from(["along", "across", "either"]),
    st.sampled_from(["cm", "in"]),
)
def test_the_fewest_strips_that_close_round_the_hem(
    width: int, count: int, seam_mm: int, lie: str, units: str
) -> None:
    seam = seam_mm * MM
    draft = draft_of(
        units,
        wearer='waist = "20 cm"\nlength = "90 cm"',
        cloth=f'width = "{width} cm"',
        garment=f'seam = "{seam_mm} mm"\nturn_down = "6 cm"',
        panels=f"count = {count}",
        band='width = "2 cm"\nunderlap = "0 cm"',
        more=f'[garment.skirt.facing]\nlie = "{lie}"\n',
    )
    strips = piece_of(draft, "facing strip")
    limit = draft.garment.cut_length if lie == "along" else width * CM
    needed = draft.garment.round_hem + 2 * seam
    assert strips.count * strips.length - 2 * seam * (strips.count - 1) >= needed
    assert strips.length <= limit
    fewer = strips.count - 1
    assert fewer == 0 or fewer * limit - 2 * seam * (fewer - 1) < needed
    step = INCH // 8 if units == "in" else MM
    assert strips.length % step == 0 or strips.length == limit
    assert strips.grain is Grain(lie)


def test_hems() -> None:
    assert draft_of("in", garment='hem = "none"').garment.cut_length == parse("41 1/2 in")
    assert draft_of("in", garment='hem = "own hem"').garment.cut_length == parse("43 1/2 in")
    assert "facing strip" in [p.name for p in draft_of("in", garment='hem = "facing"').pieces]
    bare = piece_of(draft_of("in", garment='hem = "none"'), "panel")
    assert not [m for m in bare.marks if m.kind is MarkKind.HEM]
    facing = "[garment.skirt.facing]\n"
    assert 'hem is "none", but there is a facing too' in fault(more=facing, garment='hem = "none"')
    assert 'take_up is given, but hem is "none"' in fault(garment='hem = "none"\ntake_up = "1 in"')


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


def test_strips_that_do_not_fit_their_cloth() -> None:
    more = '[cloth.tape]\nwidth = "4 in"\n'
    assert "band: the band of 30 in by 3 in doesn't lie within" in fault(
        more=more, band='cloth = "tape"\nwidth = "1 in"\nunderlap = "3 in"\nlie = "across"'
    )
    assert "facing: strips of at most 1 in are all seam" in fault(
        more='[garment.skirt.facing]\ncloth = "ribbon"\n[cloth.ribbon]\nwidth = "1 in"\n'
    )
    assert "facing.cloth names the cloth 'silk', but the file has only: main" in fault(
        more='[garment.skirt.facing]\ncloth = "silk"\n'
    )


# --- advice: common practice, no source ---------------------------------------------------------


def test_heavy_and_scant_skirts_are_told() -> None:
    heavy = draft_of("in", panels="count = 4").garment.advice
    assert heavy == ("The hem goes 172 in round; over 4 yd a skirt grows heavy.",)
    scant = draft_of("cm", panels='round = "1.79 m"').garment.advice
    assert scant[0].endswith("under 1.80 m a skirt hangs like a petticoat.")
    assert draft_of("cm", panels='round = "3.60 m"\ncount = 5').garment.advice == ()


def test_a_short_opening_is_told() -> None:
    def advice(length: str) -> tuple[str, ...]:
        return draft_of("in", f'[garment.skirt.opening]\nlength = "{length}"\n').garment.advice

    assert advice("9 7/8 in")[0].startswith("The opening of 9 7/8 in is short; 10 in")
    assert advice("10 in") == ()


def test_joins_that_miss_the_seams_are_told() -> None:
    def told(strips: int) -> bool:
        more = f"[garment.skirt.facing]\nstrips = {strips}\n"
        return any("joins do not all meet" in said for said in draft_of("in", more).garment.advice)

    assert told(4) and told(5)
    assert not told(3) and not told(6)


def test_an_unusual_facing_is_told() -> None:
    def advice(depth: str) -> tuple[str, ...]:
        more = f'[garment.skirt.facing]\ndepth = "{depth}"\n'
        return draft_of("in", more).garment.advice

    assert advice("5 in") == advice("10 in") == ()
    assert "mostly 5 in to 10 in" in advice("4 7/8 in")[0]
    assert "mostly 5 in to 10 in" in advice("10 1/8 in")[0]


def test_sizes_that_print_rounded_are_told_exactly() -> None:
    advice = draft_of("cm", wearer='waist = "26 in"\nlength = "39 in"').garment.advice
    assert advice == (
        "Sizes that print rounded to the millimetre, exactly: panel 1070.6 mm, band 760.4 mm.",
    )


# --- the registry -----------------------------------------------------------------------------


def test_recipes_register_themselves() -> None:
    assert recipes()["straight skirt"] is StraightSkirt


def test_a_new_garment_is_one_class(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(registry, "_RECIPES", {})

    @garment("sash")
    class Sash(Spec):
        def drafts(self, order: Order) -> tuple[Draft, ...]:
            raise order.fault("kind: a sash is not drafted here")

    assert {"sash": Sash} == registry._RECIPES
