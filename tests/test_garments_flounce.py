"""Flounces on a skirt's edge: gathered strips, and what is refused of all flounces."""

from __future__ import annotations

from example_cases import draft_of, drafts_of, fault, jobs, piece_of
from flounce_cases import TOP, figures, flounce, flounced, lines, refused
from hypothesis import given, settings
from hypothesis import strategies as st

from marker.piece import Grain, MarkKind
from marker.units import CM, INCH, YARD, parse

# --- gathered strips ----------------------------------------------------------------------


def test_a_ruffle_takes_its_width_over_the_cloth_s_in_whole_strips() -> None:
    # Baldt, Clothing for Women, 1916, petticoats: strips = ruffle width / cloth width, up to
    # the next whole; length of cloth = depth x strips. 132 in round and half as much again of
    # cloth 45 in wide, 44 when it is sewn: 198 / 44 = 4.5, so five.
    draft = flounced('depth = "8 in"\nhem = "1/2 in"', cloth='width = "45 in"')
    strips = piece_of(draft, "flounce strip")
    assert draft.garment.round_hem == 132 * INCH
    assert (strips.count, strips.length, strips.breadth) == (5, 45 * INCH, 9 * INCH)
    assert (strips.grain, strips.edges.low, strips.edges.high) == (Grain.ACROSS, "hem", "gathered")
    assert figures(draft)["flounce before gathering"] == 5 * 44 * INCH
    assert strips.breadth * strips.count == 45 * INCH


def test_kinne_and_cooley_allow_a_yard_for_the_ruffle() -> None:
    # Clothing and Health, 1916, lesson 12: three lengths, each 4 in longer than the finished
    # petticoat, and 1 yd more for a ruffle 1 1/2 times as wide: 32 in finished take 4 yd. Of
    # cloth a yard wide the ruffle takes five strips, so that 1 yd holds one 7 in deep.
    draft = draft_of(
        "in",
        wearer='waist = "26 in"\nlength = "32 in"',
        cloth='width = "36 in"',
        garment='kind = "petticoat"\nseam = "1/2 in"\ncasing = "1 in"\ntake_up = "2 1/2 in"',
        band="",
        more=flounce('depth = "6 in"\nsewn = "over"\nhem = "1/2 in"'),
    )
    panel, strips = piece_of(draft, "panel"), piece_of(draft, "flounce strip")
    assert (panel.count, panel.length) == (3, 36 * INCH)
    assert (strips.count, strips.breadth) == (5, 7 * INCH)
    assert panel.count * panel.length == 108 * INCH
    assert 3 * YARD < 108 * INCH + strips.count * strips.breadth <= 4 * YARD


def test_a_flounce_at_the_edge_shortens_the_panels() -> None:
    plain = draft_of("in", garment=f'{TOP}\nhem = "none"')
    draft = draft_of(
        "in",
        garment='seam = "1/2 in"\nturn_down = "2 1/2 in"',
        more=flounce('depth = "8 in"'),
    )
    panel = piece_of(draft, "panel")
    assert panel.length == plain.garment.cut_length - 8 * INCH + INCH // 2
    assert "seam of the flounce" in [mark.name for mark in panel.marks]
    assert not [mark for mark in panel.marks if mark.kind is MarkKind.HEM]
    assert figures(draft)["longest finished length, flounces included"] == 39 * INCH
    # the sheet's turn-downs are those of the panels themselves
    (row,) = draft.garment.turn_downs
    assert (row.finished, row.depth) == (31 * INCH, parse("2 1/2 in"))


def test_a_flounce_over_the_panels_leaves_them_as_they_are() -> None:
    plain, draft = (
        draft_of("in", more=more) for more in ("", flounce('depth = "8 in"\nsewn = "over"'))
    )
    panel = piece_of(draft, "panel")
    assert panel.length == piece_of(plain, "panel").length
    (line,) = [mark.u0 for mark in panel.marks if mark.name == "flounce goes on"]
    assert line == panel.length - INCH - 8 * INCH  # above the hem line


def test_the_line_of_a_flounce_lies_above_the_tucks_below_it() -> None:
    more = flounce('depth = "8 in"\nsewn = "over"')
    more += '[garment.skirt.tucks]\ndepth = "1/2 in"\ngap = "2 in"\ncount = 5\nabove = "1 in"\n'
    panel = piece_of(draft_of("in", more=more), "panel")
    (line,) = [mark.u0 for mark in panel.marks if mark.name == "flounce goes on"]
    # stitched at 1, 3, 5, 7 and 9 in: four of them below the line
    assert panel.length - INCH - line == 8 * INCH + 4 * INCH


TIMES = {"1.25": 1.25, '"1 1/2"': 1.5, "2": 2, '"2 1/3"': 7 / 3}


@settings(max_examples=60, derandomize=True)
@given(
    st.integers(60, 160),
    st.integers(1, 6),
    st.sampled_from(sorted(TIMES)),
    st.sampled_from(["", 'strips = "free"']),
)
def test_strips_give_the_fulness_with_no_breadth_too_many(
    width: int, count: int, fulness: str, strips: str
) -> None:
    draft = draft_of(
        "cm",
        wearer='waist = "40 cm"\nlength = "90 cm"',
        cloth=f'width = "{width} cm"',
        panels=f"count = {count}",
        garment='seam = "1 cm"\nturn_down = "6 cm"',
        band='width = "2 cm"\nunderlap = "0 cm"',
        more=flounce(f'depth = "20 cm"\nfulness = {fulness}\n{strips}'),
    )
    piece, wanted = piece_of(draft, "flounce strip"), TIMES[fulness] * draft.garment.round_hem
    edge = figures(draft)["flounce before gathering"]
    assert edge >= wanted - 1e-6
    if piece.pieced:
        assert piece.pieced.total == edge + 2 * CM
        assert edge < wanted + 1
    else:
        assert piece.length == width * CM
        assert edge == piece.count * (piece.length - 2 * CM)
        assert (piece.count - 1) * (piece.length - 2 * CM) < wanted


def test_strips_of_a_number_are_equal_and_lie_as_asked() -> None:
    keys = 'depth = "8 in"\nstrips = 4\nlie = "along"\nfulness = 1.25\ntorn = false'
    strips = piece_of(flounced(keys), "flounce strip")
    # 132 x 1 1/4 = 165 in, and two seams of each strip: 169 / 4 = 42 1/4 in
    assert (strips.count, strips.length) == (4, parse("42 1/4 in"))
    assert (strips.grain, strips.torn) == (Grain.ALONG, False)


def test_each_flounce_goes_on_the_one_above_it() -> None:
    more = "".join(
        f"[[garment.skirt.flounce]]\n{keys}\n"
        for keys in (
            'depth = "8 in"\nstrips = "free"',
            'depth = "9 in"\nstrips = "free"',
            'depth = "4 in"\nsewn = "over"\nstrips = "free"',
        )
    )
    binding = '[garment.skirt.binding]\nlap = "1 in"\n'
    draft = draft_of("in", garment='seam = "1/2 in"', more=more + binding)
    found = figures(draft)
    around = draft.garment.round_hem
    assert found["first flounce before gathering"] == around * 3 // 2
    assert found["second flounce before gathering"] == around * 9 // 4
    assert found["third flounce before gathering"] == around * 3 // 2
    assert draft.garment.cut_length == (39 - 17 + 3) * INCH  # turned down 2 1/2, the seam 1/2
    assert [piece.pieced.strip for piece in draft.pieces if piece.pieced] == [
        f"skirt/flounce (number {number})" for number in (1, 2, 3)
    ]
    # the lowest edge is bound: that of the second, since the third lies over the panels
    assert draft.garment.notions[-1].length == around * 9 // 4 + INCH


def test_tucks_in_a_flounce_lie_above_its_own_hem() -> None:
    tucks = 'tucks = { depth = "1/4 in", gap = "1/2 in", count = 3, above = "1 in" }'
    draft = flounced(f'depth = "8 in"\nhem = "1/2 in"\n{tucks}')
    strips = piece_of(draft, "flounce strip")
    assert strips.breadth == parse("10 1/2 in")  # 8 + hem 1/2 + seam 1/2 + three of 1/2
    assert lines(strips, "tuck") == [parse(f"{x} in") for x in ("1 3/4", "2 3/4", "3 3/4")]
    assert lines(strips, "hem line") == [INCH // 2]
    assert lines(strips, "gathering line") == [10 * INCH]


def test_what_is_told_of_a_gathered_flounce() -> None:
    told = jobs(flounced('depth = "8 in"'))
    assert any("Draw every 55 in of it into 33 in, spread the gathers" in text for text in told)
    scant = flounced('depth = "8 in"\nstrips = 4\nfulness = 1.125')
    assert (
        "The flounce is only 1.12 times as long as what it goes on; flounces mostly have 1 1/2 "
        "times." in scant.garment.advice
    )


def test_open_panels_let_their_strips_out_and_ask_for_no_more_of_them() -> None:
    open_width = 'count = 3\nwidth = ["30 in", "44 in"]'
    for keys in ('depth = "8 in"', 'depth = "8 in"\nstrips = "free"', 'depth = "8 in"\nstrips = 4'):
        (draft,) = drafts_of("in", garment=TOP, panels=open_width, more=flounce(keys))
        assert draft.flex
        low = piece_of(draft, "flounce strip")
        high = piece_of(draft.flex.at(draft.flex.high), "flounce strip")
        assert low.count == high.count
        assert low.length <= high.length
        enough = 3 * 3 * 43 * INCH // 2
        assert high.count * (high.length - INCH) >= enough


def test_what_goes_on_strips_that_are_let_out_is_counted_for_the_widest_too() -> None:
    tiers = "".join(
        f"[[garment.skirt.flounce]]\n{keys}\n"
        for keys in ('depth = "8 in"\nstrips = 5', 'depth = "9 in"')
    )
    (draft,) = drafts_of(
        "in", garment=TOP, panels='count = 3\nwidth = ["30 in", "44 in"]', more=tiers
    )
    assert draft.flex
    wide = draft.flex.at(draft.flex.high)
    low, high = (piece_of(made, "second flounce strip") for made in (draft, wide))
    assert (low.count, low.length) == (high.count, high.length)
    assert figures(wide)["second flounce before gathering"] >= (
        figures(wide)["first flounce before gathering"] * 3 // 2
    )


# --- what is refused ----------------------------------------------------------------------


def test_keys_that_contradict_each_other() -> None:
    for keys, told in (
        ('cut = "ring"', "flounce: fulness and bottom are both missing"),
        ('cut = "ring"\nbottom = "200 in"\nfulness = 2', "flounce: fulness and bottom are both"),
        ('cut = "ring"\nfulness = 2\nstrips = 3', "flounce.strips is for a flounce that is gath"),
        ("panels = 3", "flounce.panels is for a flounce that is a ring"),
        ('bottom = "4 yd"', "flounce.bottom is for a flounce that is a ring"),
        ('cut = "ring"\nbottom = "3 yd"', "flounce.bottom is 108 in, no more than the 132 in"),
        ('lie = "along"', "flounce.lie is 'along', but whole breadths lie across the cloth"),
        ('shortest = "9 in"', "flounce.shortest is for strips of free lengths; write flounce.str"),
        ('strips = "free"\nshortest = "1 in"', "flounce.shortest is 1 in, and two seams of 1/2"),
        ('strips = "free"\nshortest = "9 yd"', "flounce.shortest is 324 in, and all of it takes"),
        ("strips = 1", "flounce: the flounce strip of 199 in by 9 1/8 in doesn't lie within"),
        ("fulness = 0.5", "flounce (number 1).fulness: 0.5 is not how many times as long it is"),
        ('fulness = "1 1/0"', "fulness: '1 1/0' is not how many times as long it is"),
        ("fulness = true", "fulness: true is not how many times as long it is; write a number"),
    ):
        keys = keys if keys != "strips = 1" else keys + '\nlie = "across"'
        assert told in refused(f'depth = "8 in"\n{keys}')
    assert "flounce (number 1).depth is missing; give the finished depth" in refused("")
    nine = "".join('[[garment.skirt.flounce]]\ndepth = "1 in"\n' for _ in range(9))
    assert "garment.skirt.flounce has 9 entries; 8 are the most" in fault(garment=TOP, more=nine)
    assert "flounce: the flounces are 40 in deep, which leaves nothing of a length of 39 in" in (
        refused('depth = "40 in"')
    )


def test_a_flounce_over_the_panels_is_no_deeper_than_they_are_long() -> None:
    assert "flounce: one that lies over the panels is 40 in deep, and they are only 39 in" in (
        refused('depth = "40 in"\nsewn = "over"')
    )
    assert flounced('depth = "39 in"\nsewn = "over"')


def test_a_flounce_at_the_edge_takes_the_place_of_a_hem() -> None:
    for key in ('hem = "own hem"', 'take_up = "1 in"'):
        told = fault(garment=key, more=flounce('depth = "8 in"'))
        assert f"{key.split()[0]} is given, but a flounce is sewn to the panels' lower edge" in told
    facing = "[garment.skirt.facing]\n" + flounce('depth = "8 in"')
    assert "facing is given, but a flounce" in fault(garment='seam = "1/2 in"', more=facing)


def test_a_ring_is_refused_where_the_panels_width_is_open() -> None:
    told = refused(
        'depth = "8 in"\ncut = "ring"\nfulness = 1.5',
        panels='count = 3\nwidth = ["30 in", "44 in"]',
    )
    assert 'flounce.cut is "ring", and its curve hangs on the panels\' width' in told


def test_on_cloth_with_an_up_the_strips_still_lie_across() -> None:
    cloth = 'width = "45 in"\none_way = true'
    strips = piece_of(flounced('depth = "8 in"', cloth=cloth), "flounce strip")
    assert strips.turns(one_way=True) == (90,)
    keys = 'depth = "8 in"\nstrips = 3\nlie = "along"'
    assert "the flounce strip would point sideways" in refused(keys, cloth=cloth)


def test_torn_edges_are_given_over_at_every_strip() -> None:
    cloth = 'width = "45 in"\ntorn_edge = "1/8 in"'
    draft = flounced('depth = "8 in"\nhem = "1/2 in"', cloth=cloth)
    strips = piece_of(draft, "flounce strip")
    assert (strips.length, strips.breadth) == (45 * INCH, parse("9 1/4 in"))
    assert figures(draft)["flounce before gathering"] == 5 * parse("43 3/4 in")
