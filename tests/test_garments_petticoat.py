"""Petticoats on a string or a band, and how the hems of straight skirts are faced and bound."""

from __future__ import annotations

from example_cases import draft_of, drafts_of, fault, jobs, piece_of

from marker.piece import Grain, MarkKind
from marker.units import CM, INCH, parse

PETTICOAT = 'kind = "petticoat"\nseam = "1/2 in"\n'


def petticoat(keys: str = "", **parts: str) -> dict[str, str]:
    return {"garment": PETTICOAT + keys, "band": "", **parts}


# --- the top ------------------------------------------------------------------------------


def test_a_casing_takes_its_depth_and_a_seam_turned_in() -> None:
    draft = draft_of("in", **petticoat('casing = "1 in"'))
    panel = piece_of(draft, "panel")
    assert panel.length == parse("42 1/2 in")  # 39 + 1 + 1/2 + its own hem of 2 in
    assert [piece.name for piece in draft.pieces] == ["panel"]
    (fold,) = [m for m in panel.marks if m.kind is MarkKind.FOLD]
    assert (fold.name, fold.u0) == ("fold of the casing", parse("1 1/2 in"))
    (row,) = draft.garment.turn_downs
    assert (row.finished, row.depth) == (39 * INCH, parse("1 1/2 in"))
    assert draft.garment.drawn == 26 * INCH


def test_the_string_is_the_drawn_length_and_two_ties() -> None:
    more = '[garment.skirt.drawstring]\ntie = "20 in"\nease = "2 in"\nwidth = "1/2 in"\n'
    draft = draft_of("in", more=more, **petticoat())
    (item,) = draft.garment.notions
    assert (item.name, item.length, item.width) == ("drawstring", 68 * INCH, INCH // 2)
    assert draft.garment.drawn == 28 * INCH


def test_without_an_opening_the_top_must_pass_over_the_hips() -> None:
    draft = draft_of("in", **petticoat())
    assert draft.garment.opening == 0
    assert not [m for m in piece_of(draft, "panel").marks if m.kind is MarkKind.NOTCH]
    assert draft.garment.advice == ()
    assert any("Leave three fingers' breadth unsewn at one seam" in text for text in jobs(draft))
    hips = 'waist = "26 in"\nlength = "39 in"\nhip = "40 in"'
    scant = petticoat(panels='count = 1\nwidth = "40 in"', wearer=hips)
    assert (
        "opening is missing, and the top is 39 in round, which doesn't pass over hips of 40 in"
    ) in fault(**scant)
    draft = draft_of("in", more='[garment.skirt.opening]\nlength = "9 in"\n', **scant)
    assert draft.garment.opening == 9 * INCH
    assert draft.garment.advice == (
        "The panels go 39 in round, less than hips of 40 in: it can't be worn so; give more panels "
        "or wider ones.",
    )
    assert [m.name for m in piece_of(draft, "panel").marks if m.kind is MarkKind.NOTCH] == [
        "opening ends (in one seam)"
    ] * 2


def test_a_band_takes_the_seam_and_opens() -> None:
    uneven = 'waist = "26 in"\nfront = "38 in"\nside = "38 in"\nback = "39 in"'
    draft = draft_of("in", **petticoat('top = "band"', wearer=uneven))
    assert piece_of(draft, "panel").length == parse("41 1/2 in")  # 39 + 1/2 + 2
    assert piece_of(draft, "band").length == (26 + 3 + 1) * INCH
    assert draft.garment.opening == parse("10 1/2 in")
    assert draft.garment.turn_downs == ()
    assert (
        "Take the top into the band by: front 1 1/2 in, side 1 1/2 in, back 1/2 in."
        in draft.garment.advice
    )


def test_keys_of_the_other_top_are_refused() -> None:
    assert 'band is given, but top is "drawstring"; write top = "band", or take it out' in fault(
        **{**petticoat(), "band": 'width = "1 in"'}
    )
    assert 'casing is given, but top is "band"; write top = "drawstring"' in fault(
        **petticoat('top = "band"\ncasing = "1 in"')
    )


def test_numbered_panels_without_an_opening_close_the_round() -> None:
    cloth = 'width = "45 in"\nrepeat = { across = "7 in" }'
    panels = 'count = 3\nmatch = "crosswise"'
    draft = draft_of("in", **petticoat(cloth=cloth, panels=panels))
    assert [(piece.edges.low, piece.edges.high) for piece in draft.pieces] == [
        ("to panel 3", "to panel 2"),
        ("to panel 1", "to panel 3"),
        ("to panel 2", "to panel 1"),
    ]


def test_hapgood_s_back_breadth() -> None:
    # Olive C. Hapgood, School Needlework, 1893, "Back breadth": 30 in or more of cloth, a hem
    # of 4 in, a placket of 10 in, and a band cut 3 1/2 in wide and 1 in longer than the waist
    draft = draft_of(
        "in",
        wearer='waist = "24 in"\nlength = "26 in"',
        cloth='width = "36 in"',
        panels="count = 1",
        garment=PETTICOAT + 'top = "band"\ntake_up = "4 in"',
        band='width = "1 1/4 in"\nunderlap = "0 in"',
        more='[garment.skirt.opening]\nlength = "10 in"\nat = "back"\n',
    )
    band, panel = piece_of(draft, "band"), piece_of(draft, "panel")
    assert (band.length, band.breadth) == (25 * INCH, parse("3 1/2 in"))
    assert panel.length == parse("30 1/2 in")
    assert draft.garment.opening == 10 * INCH
    (hem,) = [mark.u0 for mark in panel.marks if mark.kind is MarkKind.HEM]
    assert panel.length - hem == 4 * INCH


# --- its hem ------------------------------------------------------------------------------


def test_a_bias_facing_closes_to_the_round_hem() -> None:
    more = '[garment.skirt.facing]\ncut = "bias strips"\ndepth = "3 in"\n'
    draft = draft_of("in", more=more, garment='seam = "1/2 in"\nturn_down = "2 1/2 in"')
    strips = piece_of(draft, "bias facing strip")
    assert strips.grain is Grain.BIAS
    assert draft.garment.cut_length == 42 * INCH  # 39 + 2 1/2 + the seam
    joined = next(i for i in draft.garment.figures if i.name == "bias facing, joined")
    # each of the joins, the one that closes the ring too, takes two seams on the bias
    assert joined.length >= draft.garment.round_hem + INCH * 2**0.5 - 1
    levels = {(mark.name, mark.v0) for mark in strips.marks if mark.v0 == mark.v1}
    assert levels == {("hem seam", INCH // 2), ("upper edge", parse("3 1/2 in"))}


def test_ways_of_facing_and_binding_are_drafted_one_by_one() -> None:
    more = (
        '[garment.skirt.facing]\ncut = ["straight", "bias strips"]\n'
        '[garment.skirt.binding]\ncut = ["bought", "bias rectangle"]\n'
    )
    found = drafts_of("in", more=more, garment='seam = "1/2 in"')
    assert [draft.way for draft in found] == [
        "panels along the bolt, straight facing, bought binding",
        "panels along the bolt, straight facing, binding of bias from a rectangle",
        "panels along the bolt, facing of bias strips, bought binding",
        "panels along the bolt, facing of bias strips, binding of bias from a rectangle",
    ]
    names = [[piece.name for piece in draft.pieces] for draft in found]
    assert names[0] == ["panel", "facing strip", "band"]
    assert names[3] == ["panel", "bias facing strip", "cloth for the hem binding", "band"]


def test_a_facing_takes_what_it_is_told_of_the_length() -> None:
    keys = 'seam = "1/2 in"\nturn_down = "2 1/2 in"\nhem = "facing"\ntake_up = "3/4 in"'
    assert draft_of("in", garment=keys).garment.cut_length == parse("42 1/4 in")


def test_bias_that_can_t_be_asked_for() -> None:
    bias = '[garment.skirt.facing]\ncut = "bias strips"\n'
    seam = 'seam = "1/2 in"'
    assert "facing.cut is 'bias strips', and how it is cut hangs on the panels' width" in fault(
        more=bias, garment=seam, panels='count = 3\nwidth = ["30 in", "40 in"]'
    )
    assert "facing.cut is 'bias strips', and strips of free lengths are for a straight" in fault(
        more=bias + 'strips = "free"\n', garment=seam
    )
    assert "facing.across is for bias" in fault(
        more='[garment.skirt.facing]\nacross = "20 in"\n', garment=seam
    )


def test_facing_flounce_tucks_and_binding_go_together() -> None:
    more = (
        '[garment.skirt.facing]\ndepth = "12 cm"\n'
        '[garment.skirt.flounce]\ndepth = "10 cm"\nsewn = "over"\n'
        '[garment.skirt.tucks]\ndepth = "1 cm"\ngap = "3 cm"\ncount = 2\nabove = "15 cm"\n'
        '[garment.skirt.binding]\nlap = "2 cm"\n'
    )
    keys = 'kind = "petticoat"\nseam = "1 cm"\ncasing = "2 cm"'
    draft = draft_of("cm", more=more, garment=keys, band="")
    assert draft.garment.cut_length == (100 + 3 + 1 + 4) * CM
    assert [piece.name for piece in draft.pieces] == ["panel", "facing strip", "flounce strip"]
    assert [item.length for item in draft.garment.notions if "binding" in item.name] == [
        draft.garment.round_hem + 2 * CM
    ]
