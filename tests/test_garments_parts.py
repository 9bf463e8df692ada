"""The parts of a straight skirt beside its panels: band, tape, placket, binding, facing."""

from __future__ import annotations

from example_cases import draft_of, fault, piece_of
from hypothesis import given, settings
from hypothesis import strategies as st

from marker.piece import Grain, MarkKind
from marker.units import CM, INCH, MM, parse

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
    (_, item) = draft.garment.notions  # behind what closes the band
    assert (item.name, item.length, item.width) == ("hem binding", 130 * INCH, INCH // 2)


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
