"""What a torn edge is given over, part by part, and pieces that may not be torn."""

from __future__ import annotations

from dataclasses import replace

import pytest
from example_cases import case_of, draft_of, drafts_of, fault, piece_of
from hypothesis import given, settings
from hypothesis import strategies as st

from marker.garments.allowance import grow
from marker.piece import Edges, Grain, Mark, MarkKind, Match, Piece, Pieced, Wise
from marker.units import CM, INCH, MM, parse

RIPPLES = 'width = "114 cm"\nselvedge = "1 cm"\ntorn_edge = "2 mm"'
KEPT = RIPPLES + '\nselvedges = "kept"'
ALL = '[garment.skirt.facing]\n[garment.skirt.opening]\nplacket = "strip"\n'
TWICE = 4 * MM


def sizes(**cloth: str) -> dict[str, tuple[int, int]]:
    draft = draft_of("cm", ALL, panels='count = 3\nwidth = "74 cm"', **cloth)
    return {piece.name: (piece.length, piece.breadth) for piece in draft.pieces}


def test_every_piece_is_torn_larger_at_both_ends_and_both_sides() -> None:
    plain = sizes(cloth='width = "114 cm"\nselvedge = "1 cm"')
    torn = sizes(cloth=RIPPLES)
    assert set(torn) == {"panel", "facing strip", "band", "placket strip"}
    # panels of a given width, so that nothing hangs on the width of the cloth
    assert torn == {name: (a + TWICE, b + TWICE) for name, (a, b) in plain.items()}


def test_nothing_is_torn_larger_where_nothing_is_torn() -> None:
    assert sizes(cloth=RIPPLES + "\ntears = false") == sizes(
        cloth='width = "114 cm"\nselvedge = "1 cm"'
    )


def test_the_garment_reckons_without_the_allowance() -> None:
    draft = draft_of("cm", ALL, cloth=RIPPLES, panels='count = 3\nwidth = "74 cm"')
    assert draft.garment.round_hem == 3 * parse("71.5 cm")
    assert draft.garment.drawn == 66 * CM
    assert draft.garment.turn_downs[0].depth == 6 * CM
    # 100 + 6 + 2, and 2 mm at either end of the panel as it is torn
    assert draft.garment.cut_length == 108 * CM
    assert piece_of(draft, "panel").length == parse("108.4 cm")


def test_a_full_breadth_is_the_usable_width_as_torn() -> None:
    draft = draft_of("cm", cloth=RIPPLES)
    assert piece_of(draft, "panel").breadth == 112 * CM
    assert draft.garment.round_hem == 3 * (112 * CM - TWICE - parse("2.5 cm"))


def test_a_full_breadth_with_kept_selvedges_has_no_torn_sides() -> None:
    draft = draft_of("cm", cloth=KEPT)
    panel = piece_of(draft, "panel")
    assert (panel.length, panel.breadth) == (108 * CM + TWICE, 114 * CM)
    assert draft.garment.round_hem == 3 * (114 * CM - parse("2.5 cm"))
    seams = {mark.v0 for mark in panel.marks if mark.name == "seam"}
    assert seams == {parse("1.25 cm"), 114 * CM - parse("1.25 cm")}
    narrow = piece_of(draft_of("cm", cloth=KEPT, panels='count = 3\nwidth = "1 m"'), "panel")
    assert narrow.breadth == 100 * CM + TWICE


def test_between_a_full_breadth_and_less_the_whole_width_is_taken() -> None:
    # 113.8 cm would be 114.2 torn on both sides; the cloth gives 114, selvedge to selvedge
    panel = piece_of(draft_of("cm", cloth=KEPT, panels='count = 3\nwidth = "113.8 cm"'), "panel")
    assert panel.breadth == 114 * CM
    assert [m.v0 for m in panel.marks if m.name == "seam"] == [
        MM + parse("1.25 cm"), 114 * CM - MM - parse("1.25 cm"),
    ]  # fmt: skip
    told = fault("cm", cloth=RIPPLES, panels='count = 3\nwidth = "111.8 cm"')
    assert "panels.width is 111.8 cm, wider than the 111.6 cm that the cloth 'main' gives" in told


def test_a_wanted_round_is_reached_beside_the_allowance() -> None:
    # 111.6 less two seams goes 109.1: 327.3 in three breadths, and no further
    draft = draft_of("cm", cloth=RIPPLES, panels='round = "327.3 cm"')
    assert (draft.garment.panels, piece_of(draft, "panel").breadth) == (3, 112 * CM)
    assert draft_of("cm", cloth=RIPPLES, panels='round = "327.4 cm"').garment.panels == 4


def test_an_open_width_grows_all_its_drafts() -> None:
    draft = draft_of("cm", cloth=RIPPLES, panels='count = 3\nwidth = ["1 m", "full"]')
    flex = draft.flex
    assert flex and (flex.low, flex.high) == (100 * CM, 112 * CM - TWICE)
    assert piece_of(draft, "panel").breadth == 100 * CM + TWICE
    assert piece_of(flex.at(flex.high), "panel").breadth == 112 * CM


def test_railroaded_panels_that_fit_only_without_the_allowance() -> None:
    panels = 'count = 3\nlie = "across"'
    cloth = 'width = "110 cm"\nselvedge = "9 mm"\ntorn_edge = "2 mm"'
    told = fault("cm", cloth=cloth, panels=panels)
    assert "the cut length of 108 cm is more than the 107.8 cm that the cloth" in told
    (draft,) = drafts_of("cm", cloth=cloth.replace("9 mm", "8 mm"), panels=panels)
    assert piece_of(draft, "panel").length == 108 * CM + TWICE
    # from selvedge to selvedge no end is torn
    kept = 'width = "108 cm"\nselvedge = "8 mm"\nselvedges = "kept"\ntorn_edge = "2 mm"'
    (draft,) = drafts_of("cm", cloth=kept, panels=panels)
    assert piece_of(draft, "panel").length == 108 * CM


def test_the_longest_strip_across_leaves_room_for_its_torn_ends() -> None:
    facing = '[garment.skirt.facing]\nlie = "across"\n'
    # 3 x 109.1 = 327.3 round: a strip of 111.6 covers 109.1 once its joins are taken up
    strips = piece_of(draft_of("cm", facing, cloth=RIPPLES), "facing strip")
    assert (strips.count, strips.length) == (3, 112 * CM)
    kept = piece_of(draft_of("cm", facing, cloth=KEPT), "facing strip")
    assert (kept.count, kept.length) == (3, 114 * CM)
    told = fault("cm", facing + "strips = 2\n", cloth=RIPPLES)
    assert "each would be 166.2 cm long across the cloth 'main', which gives 111.6 cm" in told
    either = '[garment.skirt.facing]\nlie = "either"\n'
    strips = piece_of(draft_of("cm", either, cloth=KEPT), "facing strip")
    assert strips.count == 4  # lying along, its ends are torn: 113.6 - 2.5 cover 111.1 of 111.5


def test_marks_keep_their_place_and_run_out_to_the_torn_edge() -> None:
    piece = Piece(
        letter="", name="strip", length=500, breadth=100, count=1, cloth="main",
        edges=Edges(),
        marks=(
            Mark(MarkKind.SEAM, "seam", 0, 10, 500, 10),
            Mark(MarkKind.FOLD, "fold", 60, 0, 60, 100),
            Mark(MarkKind.NOTCH, "notch", 70, 90, 70, 100),
        ),
        matches=(Match("hem", Wise.LENGTHWISE, 500, 0), Match("seams", Wise.CROSSWISE, 0, -7)),
    )  # fmt: skip
    cloth = case_of("cm", cloth='width = "1 m"\ntorn_edge = "0.05 mm"').cloths["main"]
    grown = grow(piece, (cloth,))  # by 8 units at every edge
    assert (grown.length, grown.breadth) == (516, 116)
    assert [(m.u0, m.v0, m.u1, m.v1) for m in grown.marks] == [
        (0, 18, 516, 18), (68, 0, 68, 116), (78, 98, 78, 116),
    ]  # fmt: skip
    assert [(m.u, m.v) for m in grown.matches] == [(508, 8), (8, 1)]


def test_matched_hems_and_seams_are_those_of_the_sewn_panel() -> None:
    cloth = RIPPLES + '\nrepeat = { along = "12 cm", across = "8 cm" }'
    draft = draft_of("cm", cloth=cloth, panels='count = 3\nwidth = "74.5 cm"\nmatch = "both"')
    hem, seams = piece_of(draft, "panel").matches
    assert (hem.u, seams.v) == (108 * CM + 2 * MM, parse("1.25 cm") + 2 * MM)


@settings(max_examples=40)
@given(st.integers(1, 60), st.integers(2, 6), st.sampled_from(["along", "across", "either"]))
def test_joined_strips_still_close_once_their_torn_ends_are_taken_off(
    tenths: int, count: int, lie: str
) -> None:
    draft = draft_of(
        "cm",
        f'[garment.skirt.facing]\nlie = "{lie}"\n',
        cloth=f'width = "140 cm"\ntorn_edge = "{tenths / 10} mm"',
        panels=f'count = {count}\nwidth = "60 cm"',
    )
    strips = piece_of(draft, "facing strip")
    over, seam = tenths * MM // 10, parse("1.25 cm")
    sewn = strips.count * (strips.length - 2 * over) - 2 * seam * (strips.count - 1)
    assert sewn >= draft.garment.round_hem + 2 * seam


def test_each_segment_of_a_free_strip_has_two_torn_ends() -> None:
    strip = Piece(
        letter="", name="strip", length=5000, breadth=100, count=1, cloth="main",
        grain=Grain.ACROSS, pieced=Pieced("strip", 5000, 20, 300, 9, pitch=700),
    )  # fmt: skip
    assert strip.pieced
    for kept in ("", 'selvedges = "kept"\n'):
        cloth = case_of("cm", cloth=f'width = "1 m"\n{kept}torn_edge = "0.05 mm"').cloths["main"]
        grown = grow(strip, (cloth,))
        # k segments lose 16 each: S - 16 k - 40 (k - 1) >= 5000 is S - 56 (k - 1) >= 5016
        assert grown.pieced == Pieced("strip", 5016, 28, 316, 9, pitch=700)
        assert grown.length == grown.pieced.total
        # and that the whole would lie from selvedge to selvedge says nothing of its segments
        long = replace(strip, length=159_999, pieced=replace(strip.pieced, total=159_999))
        assert grow(long, (cloth,)).length == 160_015


# --- told on the sheet ----------------------------------------------------------------------


def test_the_sheet_is_told_of_the_allowance() -> None:
    draft = draft_of("cm", ALL, cloth=RIPPLES, panels='count = 3\nwidth = "74 cm"')
    said = (
        "Torn edges have 0.2 cm over for the threads that a tear loses or ripples (panel, facing "
        "strip, band, placket strip): measure seams, turn-downs and hems from 0.2 cm inside them."
    )
    assert said in draft.garment.advice
    odd = draft_of("in", cloth='width = "45 in"\ntorn_edge = "1/16 in"').garment.advice
    assert odd[0].startswith("Torn edges have 1/16 in over")
    odd = draft_of("in", cloth='width = "45 in"\ntorn_edge = "2 mm"').garment.advice
    assert odd[0].startswith("Torn edges have 2 mm over")


def test_each_allowance_is_told_with_its_pieces() -> None:
    more = '[garment.skirt.facing]\ncloth = "lawn"\n[cloth.lawn]\nwidth = "90 cm"\n'
    advice = draft_of("cm", more + 'torn_edge = "3 mm"', cloth=RIPPLES).garment.advice
    told = [said for said in advice if said.startswith("Torn edges")]
    assert [said.split("ripples ")[1].split(":")[0] for said in told] == [
        "(panel, band)", "(facing strip)",
    ]  # fmt: skip
    only = draft_of("cm", more, cloth=RIPPLES + "\ntears = false").garment.advice
    assert not [said for said in only if said.startswith("Torn edges")]


# --- not to be torn ---------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("part", "names"),
    [
        ("panels", {"panel"}),
        ("facing", {"facing strip"}),
        ("band", {"band", "band lining"}),
        ("opening", {"placket strip"}),
    ],
)
def test_a_part_that_may_not_be_torn(part: str, names: set[str]) -> None:
    more = {
        "facing": "[garment.skirt.facing]\n",
        "opening": '[garment.skirt.opening]\nplacket = "strip"\n',
        "cloth": '[cloth.lawn]\nwidth = "90 cm"\n',
    }
    parts = {"panels": 'count = 3\nwidth = "74 cm"\n', "band": 'lining = "lawn"\n'}
    for where in (more, parts):
        if part in where:
            where[part] += "torn = false\n"
    draft = draft_of("cm", "".join(more.values()), cloth=RIPPLES, **parts)
    assert {piece.name for piece in draft.pieces if not piece.torn} == names
    sizes = {piece.name: piece.breadth for piece in draft.pieces}
    untorn = sizes["panel"] == 74 * CM
    assert untorn == (part == "panels")  # no torn edge, no allowance


def test_a_full_breadth_not_torn_is_the_usable_width() -> None:
    draft = draft_of("cm", cloth=RIPPLES, panels="count = 3\ntorn = false")
    assert draft.garment.round_hem == 3 * (112 * CM - parse("2.5 cm"))


def test_a_turned_placket_is_no_piece_to_tear() -> None:
    told = fault("in", "[garment.skirt.opening]\ntorn = false\n")
    assert 'opening.torn is for a placket strip; write opening.placket = "strip"' in told
    assert "panels.torn is 'no', not true or false; give false where no edge" in fault(
        panels='count = 3\ntorn = "no"'
    )


def test_inches_grow_as_centimetres_do() -> None:
    draft = draft_of("in", cloth='width = "45 in"\nselvedge = "1/2 in"\ntorn_edge = "1/16 in"')
    assert piece_of(draft, "panel").length == parse("42 5/8 in")
    assert draft.garment.round_hem == 3 * (44 * INCH - INCH // 8 - INCH)
