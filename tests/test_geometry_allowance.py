"""Seam allowance: cut lines set out from the seam, and the corners between them."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from outlines import blobs, shape

from marker.errors import BadInput
from marker.geometry import Arc, Line, Outline
from marker.geometry.biarc import STRAY
from marker.geometry.offset import Corner, with_allowance
from marker.geometry.shapes import rectangle, ring_sector
from marker.units import CM, MM


def test_allowance_round_a_rectangle() -> None:
    made = rectangle(30 * CM, 20 * CM)
    assert with_allowance(made, 0) == made
    mitred = with_allowance(made, CM)
    assert mitred.area == pytest.approx(32 * CM * 22 * CM)
    assert mitred.edge("low").length == pytest.approx(32 * CM)
    square = with_allowance(made, CM, Corner.SQUARE)
    tip = (math.sqrt(2) - 1) ** 2 * CM * CM
    assert mitred.area - square.area == pytest.approx(4 * tip)
    own = with_allowance(made, {"start": 0, "end": 4 * CM, "low": CM, "high": CM})
    assert own.box == pytest.approx((0, -CM, 34 * CM, 21 * CM))
    rest = with_allowance(made, {"start": 0.0}, otherwise=CM)
    assert rest.box == pytest.approx((0, -CM, 31 * CM, 21 * CM))


def test_arcs_are_set_out_to_arcs_of_exact_length() -> None:
    made = ring_sector(20 * CM, 60 * CM, 1.2)
    cut = with_allowance(made, {"start": CM, "end": 3 * CM, "low": 0, "high": 0})
    top, hem = cut.edge("start").segments[0], cut.edge("end").segments[0]
    assert isinstance(top, Arc) and isinstance(hem, Arc)
    assert (top.radius, hem.radius) == pytest.approx((19 * CM, 63 * CM))
    assert hem.length == pytest.approx(63 * CM * 1.2)
    assert cut.area == pytest.approx(ring_sector(19 * CM, 63 * CM, 1.2).area)
    sides = with_allowance(made, CM)
    hem = sides.edge("end").segments[0]
    assert isinstance(hem, Arc)
    # The side's cut line runs a seam beside the radius, so the arc opens by its sine.
    assert hem.sweep == pytest.approx(1.2 + 2 * math.asin(1 / 61))
    assert [edge.name for edge in sides.edges] == [edge.name for edge in made.edges]


@pytest.mark.parametrize("corner", Corner)
@pytest.mark.parametrize("angle", [math.pi / 2, math.tau / 3, 1.0, math.pi])
def test_a_raw_arc_beside_allowances(angle: float, corner: Corner) -> None:
    # The hem's corner is a right angle, so the side's cut line ends square to it.
    made = ring_sector(113.2 * MM, 875.2 * MM, angle)
    cut = with_allowance(made, {"low": CM, "high": CM, "start": CM, "end": 0.0}, corner)
    assert cut.area > made.area
    hem = [segment for segment in cut.edge("end").segments if isinstance(segment, Arc)]
    assert [arc.length for arc in hem] == pytest.approx([made.edge("end").length])


@pytest.mark.parametrize("narrow", [0, 1 * MM, 2 * MM, 9 * MM])
@pytest.mark.parametrize("lean", [-4 * CM, -1 * CM, 4 * CM, 12 * CM])
def test_a_narrow_allowance_beside_a_wide_one_at_a_blunt_corner(lean: int, narrow: int) -> None:
    # The wide line passes over the narrow one's before the corner: both end where they cross.
    spots = [(0, 0), (40 * CM, 0), (40 * CM - lean, 18 * CM), (lean, 18 * CM)]
    made = Outline.through(spots, ("centre", "side", "neck", "side"))
    cut = with_allowance(made, {"neck": narrow}, otherwise=CM)
    out = CM * math.hypot(lean, 18 * CM) / (18 * CM)  # a side's cut line, level with the corner
    top, low = 18 * CM + narrow, -CM
    reach = [20 * CM + out - lean * height / (18 * CM) for height in (low, top)]
    assert cut.area == pytest.approx((sum(reach)) * (top - low))
    assert cut.edge("neck").length == pytest.approx(2 * reach[1])
    assert len(cut.segments) == 4


def test_a_raw_curve_beside_an_allowance_at_a_blunt_corner() -> None:
    neck = Arc.reaching((36 * CM, 18 * CM), (4 * CM, 18 * CM), 60 * CM, True)
    made = Outline.of(
        [
            Line((0, 0), (40 * CM, 0), "hem"),
            Line((40 * CM, 0), (36 * CM, 18 * CM), "side"),
            replace(neck, name="neck"),
            Line((4 * CM, 18 * CM), (0, 0), "side"),
        ]
    )
    cut = with_allowance(made, {"side": CM})
    (arc,) = cut.edge("neck").segments
    assert isinstance(arc, Arc) and arc.radius == pytest.approx(60 * CM)
    assert arc.length > neck.length and len(cut.segments) == 4


@pytest.mark.parametrize("angle", range(0, 360, 30))
def test_allowance_is_the_same_however_the_piece_lies(angle: int) -> None:
    # Corners that stand out and fall in, between arcs and lines.
    collar = ring_sector(20 * CM, 60 * CM, 2.2)
    keyhole = Outline.of(
        [
            Line((-20 * CM, 0), (20 * CM, 0)),
            Arc.reaching((20 * CM, 0), (9 * CM, 30 * CM), 25 * CM, True),
            Arc.reaching((9 * CM, 30 * CM), (-9 * CM, 30 * CM), 12 * CM, False),
            Arc.reaching((-9 * CM, 30 * CM), (-20 * CM, 0), 25 * CM, True),
        ]
    )
    neck = Outline.of(
        [
            Line((-20 * CM, 0), (20 * CM, 0)),
            Line((20 * CM, 0), (20 * CM, 30 * CM)),
            Line((20 * CM, 30 * CM), (8 * CM, 30 * CM)),
            Arc.reaching((8 * CM, 30 * CM), (0, 26 * CM), 12 * CM, True),
            Arc.reaching((0, 26 * CM), (-8 * CM, 30 * CM), 12 * CM, True),
            Line((-8 * CM, 30 * CM), (-20 * CM, 30 * CM)),
            Line((-20 * CM, 30 * CM), (-20 * CM, 0)),
        ]
    )
    for made in (collar, keyhole, neck):
        plain = with_allowance(made, CM)
        turned = with_allowance(made.turned(angle), CM)
        assert turned.area == pytest.approx(plain.area, rel=1e-9)
        assert len(turned.segments) == len(plain.segments)


def test_a_hollow_smaller_than_its_allowance_is_refused() -> None:
    with pytest.raises(BadInput, match=r"20\.0 mm closes up the hollow of radius 15\.0 mm"):
        with_allowance(ring_sector(15 * MM, 60 * CM, 1.2), 20 * MM)
    slit = Outline.through(
        [(0, 0), (5000, 0), (5000, 3000), (2600, 3000), (2600, 1000), (2400, 1000), (2400, 3000),
         (0, 3000)], ["a", "b", "c", "d", "floor", "e", "f", "g"],
    )  # fmt: skip
    with pytest.raises(BadInput, match="floor"):
        with_allowance(slit, 150)
    assert with_allowance(slit, 90).area > slit.area
    with pytest.raises(BadInput, match="negative"):
        with_allowance(slit, -1)


@pytest.mark.slow
@settings(max_examples=24)
@given(blobs(), st.sampled_from((0.02, 0.06)), st.sampled_from(list(Corner)))
def test_allowance_covers_all_within_it_and_reaches_no_further_than_a_mitre(
    made: Outline, part: float, corner: Corner
) -> None:
    width = part * max(made.box[2] - made.box[0], made.box[3] - made.box[1])
    try:
        cut = with_allowance(made, width, corner)
    except BadInput as refused:
        # A tight hollow is the one good reason.
        assert "less" in str(refused)
        return
    true, drawn = shape(made, 60), shape(cut, 60)
    # Shapely's allowance is round at corners, so ours holds it; its chords are a little short.
    lacking = true.buffer(width, quad_segs=16).difference(drawn).area
    assert lacking <= true.length * (2 * STRAY + 1e-2 * width)
    reach = 4 * width if corner is Corner.MITRED else math.sqrt(2) * width
    corners = shapely.points([segment.start for segment in cut.segments])
    assert shapely.distance(true, corners).max() <= reach + 2 * STRAY + 1e-2 * width
