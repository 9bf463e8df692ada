"""Panels that match: hems and stripes in one phase, edges at a selvedge, a border at the hem."""

from __future__ import annotations

from itertools import pairwise

import pytest
from example_cases import draft_of, drafts_of, fault, piece_of
from hypothesis import given, settings
from hypothesis import strategies as st

from marker.garments.order import Draft
from marker.lay import Placement
from marker.piece import AtSelvedge, MarkKind, Match, Piece, Side, Wise
from marker.units import CM, MM, parse

CHECK = 'width = "114 cm"\nselvedge = "1 cm"\nrepeat = { along = "12 cm", across = "8 cm" }'
SEAM = parse("1.25 cm")


def panels_of(draft: Draft) -> list[Piece]:
    return [piece for piece in draft.pieces if piece.name.startswith("panel")]


def crosswise(piece: Piece) -> Match:
    (found,) = [match for match in piece.matches if match.wise is Wise.CROSSWISE]
    return found


# --- lengthwise -----------------------------------------------------------------------------


def test_all_hem_edges_fall_in_one_place_of_the_lengthwise_repeat() -> None:
    draft = draft_of("cm", cloth=CHECK, panels='count = 3\nmatch = "lengthwise"')
    (panel,) = panels_of(draft)
    assert panel.count == 3
    assert panel.matches == (Match("skirt/hem", Wise.LENGTHWISE, u=108 * CM, v=0),)
    assert draft.garment.advice == ()
    assert not piece_of(draft, "band").matches


def test_each_garment_matches_for_itself() -> None:
    names = {
        match.name
        for key in ("skirt", "coat")
        for match in panels_of(
            draft_of(
                "cm",
                cloth=CHECK,
                garment=f'name = "{key}"',
                panels='count = 3\nmatch = "lengthwise"',
            )
        )[0].matches
    }
    assert names == {"skirt/hem"}  # named for the table, not for what the sheet calls it


def test_an_open_width_may_match_lengthwise() -> None:
    panels = 'count = 3\nwidth = ["66 cm", "74 cm"]\nmatch = "lengthwise"'
    flex = draft_of("cm", cloth=CHECK, panels=panels).flex
    assert flex and panels_of(flex.at(74 * CM))[0].matches[0].u == 108 * CM


# --- crosswise ------------------------------------------------------------------------------


def test_panels_of_whole_repeats_from_seam_to_seam_are_one_piece() -> None:
    # 74.5 - 2.5 = 72 cm = 9 repeats of 8 cm
    draft = draft_of("cm", cloth=CHECK, panels='count = 3\nwidth = "74.5 cm"\nmatch = "crosswise"')
    (panel,) = panels_of(draft)
    assert (panel.name, panel.count) == ("panel", 3)
    assert panel.matches == (Match("skirt/seams", Wise.CROSSWISE, u=0, v=SEAM),)
    assert draft.garment.advice == ("The pattern goes on over every seam, all the way round.",)


def test_other_panels_fall_behind_by_their_pitch_one_after_another() -> None:
    # 70 - 2.5 = 67.5 cm = 8 repeats of 8 cm and 3.5 cm; three times that are 10.5, 2.5 over
    draft = draft_of("cm", cloth=CHECK, panels='count = 3\nwidth = "70 cm"\nmatch = "both"')
    panels = panels_of(draft)
    assert [(p.name, p.count) for p in panels] == [("panel 1", 1), ("panel 2", 1), ("panel 3", 1)]
    assert [crosswise(p).v for p in panels] == [SEAM, SEAM - 35 * MM, SEAM - 70 * MM]
    assert {p.matches[0] for p in panels} == {Match("skirt/hem", Wise.LENGTHWISE, 108 * CM, 0)}
    assert draft.garment.advice == (
        "The pattern goes on over every seam but the one with the opening, where it is 2.5 cm "
        "out. Sew the panels in the order of their numbers.",
    )
    assert draft.garment.panels == 3 and draft.garment.round_hem == parse("202.5 cm")


def test_numbered_panels_may_still_close_all_round() -> None:
    # 76.5 - 2.5 = 74 = 9 repeats and 2 cm; four times 2 cm are a repeat
    draft = draft_of("cm", cloth=CHECK, panels='count = 4\nwidth = "76.5 cm"\nmatch = "crosswise"')
    assert [crosswise(p).v for p in panels_of(draft)] == [SEAM - k * 2 * CM for k in range(4)]
    assert draft.garment.advice == (
        "The pattern goes on over every seam, all the way round. "
        "Sew the panels in the order of their numbers.",
    )


def test_a_single_panel_meets_itself_at_its_seam() -> None:
    # 109.5 = 13 repeats and 5.5 cm: 2.5 short of the next
    draft = draft_of("cm", cloth=CHECK, panels='count = 1\nmatch = "crosswise"')
    assert panels_of(draft)[0].name == "panel"
    assert draft.garment.advice[-1].endswith("the one with the opening, where it is 2.5 cm out.")


def test_numbered_panels_say_what_they_are_sewn_to() -> None:
    draft = draft_of("cm", cloth=CHECK, panels='count = 3\nwidth = "70 cm"\nmatch = "crosswise"')
    sides = [(p.edges.low, p.edges.high) for p in panels_of(draft)]
    assert sides == [
        ("opening", "to panel 2"), ("to panel 1", "to panel 3"), ("to panel 2", "opening"),
    ]  # fmt: skip
    notches = [[m.v1 for m in p.marks if m.kind is MarkKind.NOTCH] for p in panels_of(draft)]
    assert notches == [[SEAM], [], [70 * CM]]
    assert {(p.edges.start, p.edges.end) for p in panels_of(draft)} == {("waist", "hem")}
    even = draft_of("cm", cloth=CHECK, panels='count = 3\nwidth = "74.5 cm"\nmatch = "crosswise"')
    assert sum(m.kind is MarkKind.NOTCH for m in panels_of(even)[0].marks) == 2


@settings(max_examples=60)
@given(
    st.integers(2, 8),
    st.integers(300, 1100),
    st.integers(20, 300),
    st.integers(0, 400),
    st.booleans(),
)
def test_the_pattern_goes_on_over_every_seam_but_the_last(
    count: int, width: int, repeat: int, phase: int, torn: bool
) -> None:
    """Lay each panel so that its match point falls in the phase: then every seam matches."""
    edge = 'torn_edge = "2 mm"\n' if torn else ""
    draft = draft_of(
        "cm",
        cloth=f'width = "114 cm"\n{edge}repeat = {{ across = "{repeat} mm" }}',
        wearer='waist = "20 cm"\nlength = "100 cm"',
        band='underlap = "0 cm"',
        panels=f'count = {count}\nwidth = "{width} mm"\nmatch = "crosswise"',
    )
    seams: list[tuple[int, int]] = []  # the phase at the low and the high seam line of each panel
    for piece in panels_of(draft):
        y = phase * MM - crosswise(piece).v  # any y that puts the match point in the phase
        spot = Placement("A", 1, 0, y, 0)
        low, high = sorted(
            spot.to_cloth(piece, 0, m.v0)[1] for m in piece.marks if m.name == "seam"
        )
        seams += [(low % (repeat * MM), high % (repeat * MM))] * piece.count
    assert len(seams) == count
    assert all(before[1] == after[0] for before, after in pairwise(seams))
    closes = seams[-1][1] == seams[0][0]
    assert ("all the way round" in draft.garment.advice[-1 - torn]) == closes


# --- what can't match -----------------------------------------------------------------------


@pytest.mark.parametrize(
    ("repeat", "panels", "said"),
    [
        (
            'repeat = { across = "8 cm" }',
            'count = 3\nmatch = "both"',
            "panels.match is 'both', but the cloth 'main' has no lengthwise repeat; give repeat = "
            '{ along = "12 cm" } for it, or take panels.match out',
        ),
        (
            'repeat = { along = "8 cm" }',
            'count = 3\nmatch = "crosswise"',
            "panels.match is 'crosswise', but the cloth 'main' has no crosswise repeat; give",
        ),
        ("", 'count = 3\nmatch = "lengthwise"', "panels.match is 'lengthwise', but the cloth"),
        ("", 'count = 3\nmatch = "stripes"', "panels.match is 'stripes'; write 'lengthwise',"),
        (
            'repeat = { across = "8 cm" }',
            'count = 3\nwidth = ["66 cm", "74 cm"]\nmatch = "crosswise"',
            "panels.match is 'crosswise', and where the stripes fall in the seams hangs on",
        ),
        (
            'repeat = { along = "8 cm" }',
            'count = 3\nlie = "across"\nmatch = "lengthwise"',
            "panels.lie can't be across: their pattern is to match from panel to panel",
        ),
    ],
)
def test_what_can_not_match(repeat: str, panels: str, said: str) -> None:
    told = fault("cm", cloth=f'width = "114 cm"\n{repeat}', panels=panels)
    assert f"garment.skirt.{said}" in told


def test_matched_panels_are_not_railroaded() -> None:
    draft = draft_of("cm", cloth=CHECK, panels='count = 3\nlie = "either"\nmatch = "lengthwise"')
    assert draft.way == "panels along the bolt"
    assert draft.garment.advice == (
        "The panels can't be railroaded: their pattern is to match from panel to panel.",
    )


# --- edges at a selvedge --------------------------------------------------------------------

KEPT = 'width = "114 cm"\nselvedge = "1 cm"\nselvedges = "kept"'


def test_side_edges_at_a_kept_selvedge() -> None:
    one = draft_of("cm", cloth=KEPT, panels='count = 3\nwidth = "57 cm"\nselvedge = "one"')
    assert panels_of(one)[0].selvedges == (AtSelvedge(Side.EITHER_SIDE, 0),)
    both = draft_of("cm", cloth=KEPT, panels='count = 3\nselvedge = "both"')
    assert panels_of(both)[0].selvedges == (AtSelvedge(Side.LOW, 0), AtSelvedge(Side.HIGH, 0))
    assert panels_of(draft_of("cm", cloth=KEPT))[0].selvedges == ()


def test_a_border_lies_at_the_hem_of_railroaded_panels() -> None:
    (draft,) = drafts_of(
        "cm", cloth='width = "150 cm"', panels='round = "3 m"\nlie = "across"\nborder = "2 cm"'
    )
    assert panels_of(draft)[0].selvedges == (AtSelvedge(Side.END, 2 * CM),)
    (draft,) = drafts_of(
        "cm", cloth='width = "150 cm"', panels='round = "3 m"\nlie = "across"\nborder = "0 cm"'
    )
    assert panels_of(draft)[0].selvedges == (AtSelvedge(Side.END, 0),)


@pytest.mark.parametrize(
    ("cloth", "panels", "said"),
    [
        (
            'width = "114 cm"\nselvedge = "1 cm"',
            'count = 3\nselvedge = "one"',
            "panels.selvedge is 'one', but the cloth 'main' has its selvedges trimmed; write "
            'selvedges = "kept" for it',
        ),
        (
            KEPT,
            'count = 3\nwidth = "1 m"\nselvedge = "both"',
            'panels.selvedge is "both", which takes full breadths; write panels.width = "full"',
        ),
        (
            KEPT,
            'count = 3\nwidth = ["1 m", "full"]\nselvedge = "both"',
            'panels.selvedge is "both", which takes full breadths',
        ),
        (
            KEPT,
            'count = 3\nlie = "across"\nselvedge = "one"',
            "panels.lie can't be across: their side edges are to lie at a selvedge",
        ),
        (KEPT, 'count = 3\nselvedge = "none"', "panels.selvedge is 'none'; write 'one' or 'both'"),
        (
            KEPT,
            'count = 3\nborder = "2 cm"',
            "panels.border is for panels with their hem along a selvedge; write panels.lie",
        ),
        (KEPT, 'count = 3\nlie = "either"\nborder = "2 cm"', "panels.border is for panels with"),
        (KEPT, "count = 3\nborder = true", "panels.border: true is not a length"),
    ],
)
def test_selvedges_that_can_not_be_had(cloth: str, panels: str, said: str) -> None:
    assert f"garment.skirt.{said}" in fault("cm", cloth=cloth, panels=panels)
