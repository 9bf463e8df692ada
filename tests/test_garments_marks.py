"""Lengths that differ, and the marks that every piece carries."""

from __future__ import annotations

from example_cases import draft_of, fault, piece_of

from marker.piece import Grain, MarkKind
from marker.record import TurnDown
from marker.units import INCH, parse

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
    marks = {(m.kind, m.u0, m.v0, m.u1, m.v1) for m in panel.marks if m.kind is not MarkKind.CHALK}
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
