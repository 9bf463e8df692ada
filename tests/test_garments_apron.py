"""Aprons: breadths, band and ties, pocket and bib, square corners and round ones."""

from __future__ import annotations

import math

import pytest
from example_cases import draft_of, drafts_of, fault, piece_of
from hypothesis import given, settings
from hypothesis import strategies as st

from marker.garments.order import Draft
from marker.piece import Grain, Mark, MarkKind, Piece
from marker.units import INCH, parse


def keyed(keys: str, **parts: str) -> dict[str, str]:
    """The parts of a case for an apron; its own panels stand among the keys."""
    cloth = 'width = "36 in"'
    return {"garment": f'kind = "apron"\n{keys}', "band": "", "panels": "", "cloth": cloth, **parts}


def apron(keys: str = "", **parts: str) -> Draft:
    return draft_of("in", **keyed(keys, **parts))


def refused(keys: str, **parts: str) -> str:
    return fault(**keyed(keys, **parts))


def marks(piece: Piece, kind: MarkKind) -> list[Mark]:
    return [mark for mark in piece.marks if mark.kind is kind]


# --- breadths -----------------------------------------------------------------------------


def test_an_apron_of_one_breadth() -> None:
    draft = apron('length = "30 in"')
    panel = piece_of(draft, "panel")
    assert (panel.length, panel.breadth) == (parse("32 1/2 in"), 36 * INCH)  # 30 + 1/2 + 2
    told = draft.garment
    assert told.round_hem == parse("34 3/4 in")  # a hem of 5/8 in at either side
    assert told.drawn == 13 * INCH  # half the waist
    assert (told.panels, told.opening, told.turn_downs) == (1, 0, ())
    assert {m.u0 for m in marks(panel, MarkKind.SEAM)} == {INCH // 2}
    assert {(m.name, m.u0, m.v0) for m in marks(panel, MarkKind.HEM)} == {
        ("hem line", 0, parse("5/8 in")),
        ("hem line", 0, 36 * INCH - parse("5/8 in")),
        ("hem line", parse("30 1/2 in"), 0),
    }


def test_its_length_is_the_wearer_s_unless_it_has_its_own() -> None:
    lengths = 'waist = "26 in"\nfront = "38 in"\nside = "39 in"\nback = "39 in"'
    (figure,) = apron('shorter = "9 in"', wearer=lengths).garment.figures
    assert figure.length == 30 * INCH
    assert "length and shorter are both given" in refused('shorter = "9 in"\nlength = "30 in"')


@settings(max_examples=60, derandomize=True)
@given(st.integers(1, 6), st.integers(12, 36), st.integers(0, 6), st.integers(1, 6))
def test_breadths_sewn_side_by_side_and_hemmed_measure_what_is_told(
    count: int, width: int, sides: int, seam: int
) -> None:
    draft = apron(
        f'sides = "{sides}/8 in"\nseam = "{seam}/8 in"\ndrawn = "9 in"',
        panels=f'count = {count}\nwidth = "{width} in"',
    )
    panels = [piece for piece in draft.pieces if piece.edges.end == "hem"]
    assert sum(piece.count for piece in panels) == count
    taken = {"side": sides * INCH // 8, "seam": seam * INCH // 8}
    sewn = sum(
        piece.count * (piece.breadth - taken[piece.edges.low] - taken[piece.edges.high])
        for piece in panels
    )
    assert draft.garment.round_hem == sewn
    outer = [edge for piece in panels for edge in (piece.edges.low, piece.edges.high)]
    assert outer.count("side") == 2
    for piece in panels:
        lines = {m.name: m.v0 for m in piece.marks if m.u0 == 0 and m.v0 == m.v1}
        if taken[piece.edges.low] and piece.edges.low != piece.edges.high:
            name = {"side": "hem line", "seam": "seam"}[piece.edges.low]
            assert lines[name] == taken[piece.edges.low]


def test_full_breadths_keep_their_selvedges_at_the_sides() -> None:
    cloth = 'width = "36 in"\nselvedge = "3/8 in"\nselvedges = "kept"'
    draft = apron(cloth=cloth)
    assert draft.garment.round_hem == 36 * INCH
    assert [m.name for m in marks(piece_of(draft, "panel"), MarkKind.HEM)] == ["hem line"]
    asked = apron('sides = "1/2 in"', cloth=cloth)
    assert asked.garment.round_hem == 35 * INCH
    wide = cloth.replace("3/8", "3/4")
    assert apron(cloth=wide).garment.round_hem == 36 * INCH
    told = refused("", panels="count = 2", cloth=wide)
    assert "keeps selvedges of 3/4 in, which would show" in told
    # An apron has no key with which they may show.
    assert told.endswith('give a wider seam, or selvedges = "trimmed"')


def test_tucks_above_the_hem() -> None:
    keys = 'length = "30 in"\ntucks = { depth = "1/4 in", gap = "1 in", count = 3, above = "2 in" }'
    draft = apron(keys)
    panel = piece_of(draft, "panel")
    assert panel.length == 34 * INCH
    hem = 32 * INCH
    assert [hem - m.u0 for m in marks(panel, MarkKind.FOLD)] == [
        parse(f"{x} in") for x in ("2 1/4", "3 3/4", "5 1/4")
    ]


# --- round corners ------------------------------------------------------------------------


def test_round_corners_are_arcs_with_one_hem_round_them() -> None:
    draft = apron('length = "30 in"\ncorners = "round"\nradius = "6 in"\ntake_up = "1/2 in"')
    panel = piece_of(draft, "panel")
    assert (panel.length, panel.breadth) == (31 * INCH, 36 * INCH)
    assert panel.folds
    assert panel.outline is not None
    hem = panel.outline.edge("end")
    assert hem.length == pytest.approx(2 * math.pi / 2 * 6.5 * INCH + (36 - 13) * INCH)
    lost = (4 - math.pi) / 2 * (6.5 * INCH) ** 2
    assert panel.outline.area == pytest.approx(31 * 36 * INCH**2 - lost)
    assert draft.garment.round_hem == 35 * INCH
    # 2 x 1/2 in x a quarter turn, twice
    assert draft.garment.advice == (
        "Round the two corners the cut edge is 3 1/8 in longer than the place its hem is sewn to; "
        "draw it up on a thread and press it before it is sewn down.",
    )


def test_of_several_breadths_the_outer_two_are_a_pair() -> None:
    keys = 'length = "30 in"\ncorners = "round"\nradius = "6 in"\ntake_up = "1 in"'
    draft = apron(keys, panels="count = 3")
    side, middle = piece_of(draft, "side panel"), piece_of(draft, "middle panel")
    assert (side.count, side.mirrored, side.folds, middle.count) == (2, 1, False, 1)
    assert (
        (side.length, side.breadth)
        == (middle.length, middle.breadth)
        == (parse("31 1/2 in"), 36 * INCH)
    )
    assert side.outline is not None
    lost = (4 - math.pi) / 4 * (7 * INCH) ** 2
    assert side.outline.area == pytest.approx(31.5 * 36 * INCH**2 - lost)
    # the corner is at the hem, on the outer side: u to the hem, v = 0 at the side
    corner = min(math.dist((31.5 * INCH, 0), spot) for spot in side.polygon.points)
    seam_side = min(
        math.dist((parse("31 1/2 in"), 36 * INCH), spot) for spot in side.polygon.points
    )
    assert (seam_side, corner > 2 * INCH) == (0, True)
    assert draft.garment.round_hem == (3 * 36 - 2 - 2) * INCH


def test_a_binding_goes_down_one_side_and_up_the_other() -> None:
    keys = 'length = "30 in"\nbinding = { lap = "1 in" }\n'
    square = apron(keys)
    assert square.garment.cut_length == parse("30 1/2 in")
    assert square.garment.round_hem == 36 * INCH
    (item,) = square.garment.notions
    assert item.length == (30 + 36 + 30 + 1) * INCH
    (item,) = apron(keys + 'corners = "round"\nradius = "6 in"').garment.notions
    exact = (2 * 24 + 24 + 6 * math.pi + 1) * INCH
    assert exact <= item.length <= exact + 1
    ways = drafts_of("in", **keyed('binding = { cut = ["bought", "bias strips"] }'))
    assert [draft.way for draft in ways] == ["bought binding", "binding of bias strips"]
    assert "take_up is given, but a binding covers the edge" in refused(
        'take_up = "1 in"\nbinding = {}'
    )


# --- band and ties ------------------------------------------------------------------------


def test_the_band_is_cut_double_with_two_ties_of_strips() -> None:
    draft = apron('drawn = "16 in"\nties = { length = "24 in", width = "2 in" }')
    band, tie = piece_of(draft, "band"), piece_of(draft, "tie")
    assert (band.length, band.breadth, band.grain) == (17 * INCH, 4 * INCH, Grain.EITHER)
    assert (tie.length, tie.breadth, tie.count) == (25 * INCH, 5 * INCH, 2)
    for piece in (band, tie):
        (fold,) = marks(piece, MarkKind.FOLD)
        assert fold.v0 == piece.breadth // 2
        assert len(marks(piece, MarkKind.SEAM)) == 4


def test_band_and_ties_in_one_are_joined_where_the_cloth_is_narrow() -> None:
    keys = 'drawn = "16 in"\nties = { cut = "in one", length = "24 in", lie = "along"%s }'
    joined = piece_of(apron(keys % ""), "band and ties strip")
    assert joined.count * (joined.length - INCH) >= 64 * INCH
    assert (joined.count, joined.length) == (2, 33 * INCH)
    whole = piece_of(apron(keys % ", strips = 1"), "band and ties")
    assert (whole.length, whole.breadth) == (65 * INCH, 4 * INCH)
    free = piece_of(apron(keys % ', strips = "free", most = 3'), "band and ties strip").pieced
    assert free is not None
    assert (free.total, free.most) == (65 * INCH, 3)


def test_tape_ties_are_bought() -> None:
    draft = apron('ties = { cut = "tape", length = "24 in", width = "1 in" }')
    assert [piece.name for piece in draft.pieces] == ["panel", "band"]
    (item,) = draft.garment.notions
    assert (item.name, item.length, item.width) == ("tape for the ties", 49 * INCH, INCH)


# --- pocket and bib -----------------------------------------------------------------------


def test_a_straight_pocket() -> None:
    keys = 'pocket = { count = 2, width = "6 in", depth = "7 in", hem = "1 in" }'
    pocket = piece_of(apron(keys), "pocket")
    assert (pocket.length, pocket.breadth) == (parse("8 1/2 in"), 7 * INCH)
    assert (pocket.count, pocket.outline, pocket.up) == (2, None, "length")
    (fold,) = marks(pocket, MarkKind.FOLD)
    assert fold.u0 == INCH


def test_a_round_pocket_is_a_piece_of_its_own_outline() -> None:
    keys = (
        'pocket = { width = "6 in", depth = "7 in", hem = "1 in", corners = "round", '
        'radius = "2 in" }'
    )
    pocket = piece_of(apron(keys), "pocket")
    assert (pocket.length, pocket.breadth, pocket.folds) == (parse("8 1/2 in"), 7 * INCH, True)
    assert pocket.outline is not None
    lost = (4 - math.pi) / 2 * (2.5 * INCH) ** 2
    assert pocket.outline.area == pytest.approx(8.5 * 7 * INCH**2 - lost)
    assert {m.name for m in marks(pocket, MarkKind.FOLD) if m.name} == {"fold of the hem"}
    assert {m.u0 for m in marks(pocket, MarkKind.FOLD)} == {INCH}


def test_a_bib_and_its_strap() -> None:
    keys = 'bib = { width = "10 in", height = "11 in", strap = "24 in", strap_width = "1 in" }'
    draft = apron(keys)
    bib, strap = piece_of(draft, "bib"), piece_of(draft, "neck strap")
    assert (bib.length, bib.breadth) == (parse("12 3/4 in"), parse("11 1/4 in"))
    assert (strap.length, strap.breadth) == (25 * INCH, 3 * INCH)
    assert [p.name for p in apron("bib = {}", wearer=WIDE).pieces] == [
        "panel",
        "band",
        "tie",
        "bib",
    ]


WIDE = 'waist = "30 in"\nlength = "39 in"'


# --- what is refused ----------------------------------------------------------------------


@pytest.mark.parametrize(
    ("keys", "told"),
    [
        ('radius = "3 in"', 'radius is for round corners; write corners = "round"'),
        ('corners = "round"\nradius = "20 in"', "radius is 20 in, and there is room for less than"),
        (
            'corners = "round"\ntucks = { depth = "1 in", gap = "1 in", count = 1 }',
            "tucks are given, and would run into the round corners",
        ),
        (
            'corners = "round"\nradius = "1 in"\ntake_up = "1 in"',
            "take_up is 1 in, as much as the radius of the corners",
        ),
        (
            'corners = "round"\nsides = "1 in"\ntake_up = "1/2 in"',
            "sides is 1 in, but one hem goes round the corners",
        ),
        ("ties = { strips = 2 }", 'ties.strips is given, but ties.cut is "strips"'),
        ('ties = { cut = "in one", width = "1 in" }', 'ties.width is given, but ties.cut is "in o'),
        ('ties = { cut = "tape", lie = "along" }', 'ties.lie is given, but ties.cut is "tape"'),
        ('ties = { cut = "in one", most = 3 }', "ties.most is for strips of free lengths"),
        (
            'pocket = { radius = "1 in" }',
            'pocket.radius is for round corners; write pocket.corners = "round"',
        ),
        (
            'pocket = { corners = "round", radius = "4 in" }',
            "pocket.radius is 4 in, and there is room for less than 3 in",
        ),
        ('bib = { width = "14 in" }', "bib.width is 14 in, wider than the 13 in that the apron"),
        ('bib = { strap_width = "1 in" }', "bib.strap_width is given, but bib.strap is not"),
        ('pocket = { cloth = "silk" }', "pocket.cloth names the cloth 'silk', but the file has"),
    ],
)
def test_keys_that_can_t_be(keys: str, told: str) -> None:
    assert f"garment.skirt.{told}" in refused(keys)


def test_breadths_that_can_t_be() -> None:
    assert "panels.width is 37 in, wider than the 36 in that the cloth 'main' gives" in refused(
        "", panels='width = "37 in"'
    )
    assert "garment.skirt.panels.width: '0 in' is nothing; give a length above" in refused(
        "", panels='width = "0 in"'
    )
    assert "panels are 10 3/4 in wide when they are hemmed, less than the 13 in they" in refused(
        "", panels='width = "12 in"'
    )
