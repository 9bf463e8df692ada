"""Tucks: what they take, where they lie on the flat cloth, and how many fill a length."""

from __future__ import annotations

import pytest
from example_cases import draft_of, fault, jobs, piece_of
from hypothesis import given, settings
from hypothesis import strategies as st

from marker.garments.tucks import Tucked, fitting
from marker.piece import MarkKind, Piece
from marker.units import CM, INCH, MM, parse


def creases(piece: Piece, whole: int) -> list[int]:
    """How far above the lower edge the tucks of a panel are creased, `whole` its hem line."""
    return [whole - m.u0 for m in piece.marks if m.kind is MarkKind.FOLD and m.name == "tuck"]


def test_the_tucks_that_fill_a_length() -> None:
    # National Instructional Media Institute, Dress Making, p. 209: 39 cm, 1.2 cm apart, the
    # outer ones 1.5 cm from the edge: 31 tucks
    assert fitting(39 * CM, parse("1.2 cm"), parse("1.5 cm")) == 31
    assert fitting(39 * CM - 1, parse("1.2 cm"), parse("1.5 cm")) == 30
    assert fitting(3 * CM, parse("1.2 cm"), parse("1.5 cm")) == 1
    assert fitting(3 * CM - 1, parse("1.2 cm"), parse("1.5 cm")) == 0


def test_the_printed_tucks_on_a_skirt() -> None:
    tucks = '[garment.skirt.tucks]\ndepth = "4 mm"\ngap = "1.2 cm"\nover = "39 cm"\n'
    draft = draft_of("cm", more=tucks + 'edge = "1.5 cm"\nabove = "0 cm"\n')
    panel = piece_of(draft, "panel")
    # a tuck takes twice its depth (Baldt, Clothing for Women, 1916)
    assert panel.length == 108 * CM + 31 * 2 * 4 * MM
    assert draft.garment.cut_length == panel.length
    found = creases(panel, panel.length - 2 * CM)
    assert len(found) == 31
    assert found[0] == 15 * MM + 4 * MM
    assert found[1] - found[0] == 12 * MM + 2 * 4 * MM


@pytest.mark.parametrize(("depth", "spacing"), [(4, 12), (10, 10), (5, 20)])
def test_cloth_to_tucked_length(depth: int, spacing: int) -> None:
    # 1 + 2 x depth / spacing, computed from the rule that a tuck takes twice its depth
    made = Tucked(count=9, depth=depth, gap=spacing, lowest=depth)
    rise = made.flat(made.highest + 1) - made.flat(made.lowest + 1)
    assert rise / (made.highest - made.lowest) == pytest.approx(1 + 2 * depth / spacing)


@settings(max_examples=100, derandomize=True)
@given(st.integers(1, 30), st.integers(1, 40), st.integers(1, 80), st.integers(0, 200))
def test_a_tuck_is_creased_midway_between_its_stitches(
    count: int, depth: int, gap: int, lowest: int
) -> None:
    made = Tucked(count, depth, gap, lowest)
    for number, crease in enumerate(made.folds()):
        stitches = made.lowest + number * gap
        below, above = made.flat(stitches), made.flat(stitches + 1) - 1
        assert (crease - below, above - crease) == (depth, depth)
    assert made.flat(made.highest + 1) == made.highest + 1 + made.takes


def test_tucks_leave_the_top_and_the_opening_where_they_are() -> None:
    more = '[garment.skirt.opening]\nlength = "11 in"\n'
    tucks = '[garment.skirt.tucks]\ndepth = "1/2 in"\ngap = "1 in"\ncount = 3\nabove = "4 in"\n'
    plain, drawn = (piece_of(draft_of("in", more=more + t), "panel") for t in ("", tucks))
    assert drawn.length == plain.length + 3 * INCH
    tops = [{(m.name, m.u0) for m in p.marks if 0 < m.u0 < 20 * INCH} for p in (plain, drawn)]
    assert tops[0] == tops[1] != set()
    assert creases(drawn, drawn.length - INCH) == [parse(f"{x} 1/2 in") for x in (4, 6, 8)]
    told = jobs(draft_of("in", more=tucks))
    assert (
        "Crease the 3 tucks of the panels 4 1/2 in above the finished edge and then every 2 in, "
        "and stitch each 1/2 in from its crease; together they take 3 in of the length." in told
    )


def test_tucks_that_lie_over_one_another_or_hang_below_are_told() -> None:
    tucks = '[garment.skirt.tucks]\ndepth = "1 in"\ngap = "3/4 in"\ncount = 2\nabove = "1/2 in"\n'
    told = draft_of("in", more=tucks).garment.advice
    assert "The tucks of the panels lie 1/4 in over the stitches of the next." in told
    assert "The lowest tuck of the panels hangs 1/2 in below its edge." in told
    one = tucks.replace("count = 2", "count = 1").replace('"1/2 in"', '"2 in"')
    draft = draft_of("in", more=one)
    assert draft.garment.advice == ()
    assert [s for s in jobs(draft) if "tuck" in s] == [
        "Crease the tuck of the panels 3 in above the finished edge and stitch it 1 in from the "
        "crease; it takes 2 in of the length."
    ]


def test_tucks_that_do_not_go_in() -> None:
    tucks = '[garment.skirt.tucks]\ndepth = "1/2 in"\ngap = "1 in"\n'
    assert "garment.skirt.tucks: count and over are both missing" in fault(more=tucks)
    both = tucks + 'count = 2\nover = "4 in"\n'
    assert "garment.skirt.tucks: count and over are both given" in fault(more=both)
    assert (
        "garment.skirt.tucks: the uppermost of 30 tucks would be stitched 29 1/2 in above the "
        "edge, and there is room up to 28 1/2 in; give fewer, or a smaller gap"
    ) in fault(more=tucks + "count = 30\n")
    narrow = tucks + 'over = "4 in"\nedge = "2 1/2 in"\n'
    assert "garment.skirt.tucks.over is 4 in, which 0 tucks would fill" in fault(more=narrow)
    assert "garment.skirt.tucks.gap is missing; give how far apart they are" in fault(
        more='[garment.skirt.tucks]\ndepth = "1/2 in"\ncount = 2\n'
    )
