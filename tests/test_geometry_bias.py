"""Bias strips against printed tables and sums, and against strips counted by hand."""

from __future__ import annotations

import math
from itertools import combinations

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from outlines import shape

from marker.errors import BadInput
from marker.geometry.bias import (
    along_selvedge,
    area_bound,
    cloth_for,
    continuous,
    join_takes,
    layout,
)
from marker.units import CM, INCH, YARD

# Baldt, Clothing for Women, 1916, ch. XXII: strip width in inches, then the length along the
# selvedge in inches and eighths, as printed.
BALDT = """0.5:0-6 1:1-3 1.5:2-1 2:2-6 2.5:3-4 3:4-2 3.5:5-0 4:5-5 4.5:6-3 5:7-1 5.5:7-6
6:8-4 6.5:9-1 7:9-7 7.5:10-5 8:11-2 8.5:12-0 9:12-6 9.5:13-3 10:14-1 10.5:14-7 11:15-4"""
PRINTED_LOW = {2.0, 6.5, 8.0}


@pytest.mark.parametrize("row", BALDT.split())
def test_bias_along_the_selvedge_agrees_with_baldts_table(row: str) -> None:
    width, printed = row.split(":")
    whole, eighths = (int(part) for part in printed.split("-"))
    ours = along_selvedge(float(width) * INCH) / INCH
    assert abs(ours - (whole + eighths / 8)) <= 1 / 8
    to_eighth = round(ours * 8)
    short = 1 if float(width) in PRINTED_LOW else 0
    assert to_eighth == 8 * whole + eighths + short


def test_adding_a_third_cuts_strips_narrow() -> None:
    # Woolman, A Sewing Course for Teachers, 1893-1913: "add one third", 5.7 % short of sqrt 2.
    assert 1 - (4 / 3) / along_selvedge(1.0) == pytest.approx(0.057, abs=0.0005)


def test_bias_of_the_instruction_book_is_a_bound() -> None:
    # NIMI, Dress Making, Trade Practical, p. 220: 500 x 2.5 cm from cloth 86 cm wide, shortest
    # piece 10 cm: area and two triangles 1300.41 cm2, so 15.12 cm of cloth, bought 15.5.
    made = cloth_for(500 * CM, 86 * CM, 2.5 * CM, least=10 * CM)
    assert made.joined >= 500 * CM
    assert made.along >= 500 * 2.5 / 86 * CM
    assert made.along / CM == pytest.approx(15.66, abs=0.01)
    with pytest.raises(AssertionError):
        # One unit less does not do.
        assert layout(made.along - 1, 86 * CM, 2.5 * CM, least=10 * CM).joined >= 500 * CM
    # Cloth 96 x 20 cm, strip 2 cm: 934.79 cm by the same account.
    other = layout(96 * CM, 20 * CM, 2 * CM)
    assert other.joined / CM <= 934.79 <= area_bound(96, 20, 2)
    assert other.joined / CM == pytest.approx(931.73, abs=0.01)


def test_ten_yards_from_a_quarter_yard_is_not_believed() -> None:
    # An old leaflet: 1/4 yd of 40 in cloth "gives about 10 yd of 1 1/4 in bias"; its area
    # makes 8 yd.
    cloth = 9 * INCH, 40 * INCH, 1.25 * INCH
    assert area_bound(*cloth) / YARD == pytest.approx(8)
    assert layout(*cloth).joined / YARD < 8
    assert continuous(*cloth)[1] / YARD < 8


def test_a_join_takes_both_seams_on_the_bias() -> None:
    # Join on the thread: seam s costs s x sqrt 2 of each strip (computed).
    assert join_takes(CM) == pytest.approx(2 * math.sqrt(2) * CM)
    plain, sewn = (layout(60 * CM, 90 * CM, 4 * CM, seam) for seam in (0, 0.6 * CM))
    assert sewn.joined == pytest.approx(
        sum(strip.length for strip in sewn.strips) - sewn.joins * join_takes(0.6 * CM)
    )
    assert sewn.joined < plain.joined


bias_cases = st.tuples(
    st.floats(12 * CM, 150 * CM),
    st.floats(12 * CM, 150 * CM),
    st.floats(2 * CM, 8 * CM),
    st.sampled_from((0.0, 0.6 * CM)),
    st.sampled_from((0.0, 10.0 * CM)),
)


@settings(max_examples=60)
@given(bias_cases)
def test_every_strip_lies_on_the_cloth_apart_from_the_others(
    case: tuple[float, float, float, float, float],
) -> None:
    along, across, width, seam, least = case
    try:
        made = layout(*case)
    except BadInput as refused:
        assert "no bias strip" in str(refused)
        return
    cloth = shapely.box(0, 0, along, across).buffer(0.01)
    strips = []
    for strip, cut in zip(made.outlines(), made.strips, strict=True):
        assert strip.area == pytest.approx(cut.length * width)
        strips.append(shape(strip, 1))
    assert all(cloth.contains(strip) for strip in strips)
    for one, other in combinations(strips[:8], 2):
        assert one.intersection(other).area < 1
    assert all(strip.length >= least - 1e-3 for strip in made.strips)
    assert made.joined <= area_bound(along, across, width) + 1e-6
    more = layout(along + 3 * CM, across, width, seam, least)
    assert more.joined >= made.joined - 1e-2


@settings(max_examples=60)
@given(bias_cases)
def test_no_other_first_line_joins_to_more(
    case: tuple[float, float, float, float, float],
) -> None:
    try:
        best = layout(*case).joined
    except BadInput:
        best = 0.0
    for k in range(40):
        for warp in (True, False):
            assert joined_by_hand(case, k / 40, warp) <= best + 1e-2


def joined_by_hand(
    case: tuple[float, float, float, float, float], part: float, warp: bool
) -> float:
    """What the chords of the cloth along lines at 45 degrees join to, the first line given."""
    along, across, width, seam, least = case
    pitch = along_selvedge(width)
    floor = max(least, join_takes(seam)) / math.sqrt(2)
    reaches = []
    offset = part * pitch - across - pitch
    while offset < along:
        if warp:
            reaches.append(min(across, along - offset - pitch) - max(0.0, -offset))
        else:
            reaches.append(min(along, across + offset) - max(0.0, offset + pitch))
        offset += pitch
    kept = [reach * math.sqrt(2) for reach in reaches if reach > floor + 1e-6]
    return sum(kept) - max(0, len(kept) - 1) * join_takes(seam)


@settings(max_examples=60)
@given(bias_cases)
def test_the_continuous_method_yields_less_than_the_area(
    case: tuple[float, float, float, float, float],
) -> None:
    along, across, width, seam, _ = case
    rows, length = continuous(along, across, width, seam)
    assert 0 < length <= area_bound(along, across, width)
    assert rows == int((max(along, across) - 2 * seam) / along_selvedge(width) + 1e-6)


def test_bias_that_cannot_be_cut_is_refused() -> None:
    with pytest.raises(BadInput, match="no bias strip"):
        layout(5 * CM, 5 * CM, 4 * CM, least=10 * CM)
    with pytest.raises(BadInput, match="check the width"):
        layout(500 * CM, 150 * CM, 1)
    with pytest.raises(BadInput, match="allow shorter strips"):
        cloth_for(500 * CM, 10 * CM, 2 * CM, least=20 * CM)
    with pytest.raises(BadInput, match="too small"):
        continuous(4 * CM, 4 * CM, 4 * CM)
