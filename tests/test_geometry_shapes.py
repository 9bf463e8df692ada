"""Shapes of the trade, seam allowance and bias strips, against published figures and properties."""

from __future__ import annotations

import math
from dataclasses import replace
from fractions import Fraction
from itertools import combinations

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from outlines import blobs, seen, shape

from marker.errors import BadInput
from marker.geometry import Arc, Cubic, Line, Outline
from marker.geometry.biarc import STRAY
from marker.geometry.bias import (
    along_selvedge,
    area_bound,
    cloth_for,
    continuous,
    join_takes,
    layout,
)
from marker.geometry.offset import Corner, with_allowance
from marker.geometry.outline import LEAST_AREA
from marker.geometry.shapes import (
    bias_strip,
    circle_panel,
    circle_radius,
    facing,
    gore,
    rectangle,
    ring_flounce,
    ring_sector,
    unfolded,
)
from marker.units import CM, INCH, MM, YARD

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


def test_flounce_of_baldts_figure() -> None:
    # Baldt, fig. 56: depth 12, top 72, bottom 112 in; the rest computed from the printed rule.
    made = ring_flounce(72 * INCH, 112 * INCH, 12 * INCH)
    top, hem = made.edge("start").segments[0], made.edge("end").segments[0]
    assert isinstance(top, Arc) and isinstance(hem, Arc)
    assert top.radius / INCH == pytest.approx(21.6)
    assert hem.sweep == pytest.approx(10 / 3)
    assert hem.length / INCH == pytest.approx(112)
    assert made.area / INCH**2 == pytest.approx(1104)
    assert math.dist(top.centre, hem.centre) < 1e-6


def test_a_full_circle_skirt() -> None:
    # SOURCES: r = W / 2 pi, W / pi, 2 W / pi; W = 28 in, length 30 (computed).
    waist, length = 28 * INCH, 30 * INCH
    assert circle_radius(waist, 1) / INCH == pytest.approx(4.4563, abs=5e-5)
    assert circle_radius(waist, 0.5) == pytest.approx(waist / math.pi)
    assert circle_radius(waist, 0.25) == pytest.approx(2 * waist / math.pi)
    for panels in (2, 3, 4):
        made = circle_panel(waist, length, 1, panels)
        assert made.edge("end").length * panels / INCH == pytest.approx(216.496, abs=5e-4)
        assert made.edge("start").length * panels / INCH == pytest.approx(28)
        assert made.area * panels / INCH**2 == pytest.approx(3667.43, abs=5e-3)
        hem = made.edge("end").segments[0]
        assert isinstance(hem, Arc)
        assert hem.radius / INCH == pytest.approx(34.4563, abs=5e-5)
    with pytest.raises(BadInput, match="2 panels or more"):
        circle_panel(waist, length, 1, 1)


def test_seams_at_the_waist_widen_the_circle() -> None:
    assert circle_radius(70 * CM, 0.5, 4 * CM) == pytest.approx(74 * CM / math.pi)


def test_five_gores_measure_the_waist_of_ingalls() -> None:
    # Ingalls, Text-Book on Domestic Art, 1911: front W/8 on the fold, side W/6, back the rest
    # of W/2; W = 24 in: 3, 4, 5.
    waist = Fraction(24)
    tops = [waist / 8, waist / 6, waist / 2 - waist / 8 - waist / 6]
    assert tops == [3, 4, 5]
    gores = [gore(float(top * INCH), float(3 * top * INCH), 36 * INCH) for top in tops]
    halves = [made.edge("start").length / INCH for made in gores]
    assert halves == pytest.approx([3, 4, 5])
    front = unfolded(gores[0].renamed({"low": "fold"}), "fold")
    assert front.edge("start").length / INCH == pytest.approx(6)
    assert front.edge("end").length / INCH == pytest.approx(18)


def test_the_misprinted_gores_are_not_reproduced() -> None:
    # The Perfect Dressmaking System, 1914, p. 13 prints 17 1/2 in for four gores beside a front
    # of 10 in, 2 1/4 yd round; it is 17 3/4.
    each = (Fraction(9, 4) * 36 - 10) / 4
    assert each == Fraction(71, 4)
    made = gore(4.0 * INCH, float(each * INCH), 38 * INCH)
    whole = 4 * made.edge("end").length + 10 * INCH
    assert whole / YARD == pytest.approx(2.25)


sizes = st.floats(5 * CM, 150 * CM)


@settings(max_examples=80)
@given(sizes, sizes, sizes)
def test_a_gore_measures_what_was_asked_for(top: float, hem: float, length: float) -> None:
    if abs(hem - top) >= math.tau * length * 0.99:
        return
    made = gore(top, hem, length)
    assert made.edge("start").length == pytest.approx(top, rel=1e-7)
    assert made.edge("end").length == pytest.approx(hem, rel=1e-7)
    assert made.edge("low").length == pytest.approx(length, rel=1e-7)
    assert made.edge("high").length == pytest.approx(length, rel=1e-7)
    assert made.area == pytest.approx((top + hem) / 2 * length, rel=1e-7)
    assert made.box[:2] == pytest.approx((0, 0), abs=1e-6)
    # The hem lies to the right of the top.
    middles = [made.edge(name).at(size / 2)[0] for name, size in (("start", top), ("end", hem))]
    assert middles[1][0] - middles[0][0] == pytest.approx(length, rel=1e-6)


def test_a_gore_with_equal_ends_is_a_rectangle() -> None:
    assert gore(30 * CM, 30 * CM, 90 * CM) == rectangle(90 * CM, 30 * CM)
    almost = gore(30 * CM, 30 * CM + 1e-3, 90 * CM)
    assert almost.area == pytest.approx(rectangle(90 * CM, 30 * CM).area, rel=2e-8)
    assert gore(30 * CM, 30 * CM, 90 * CM).flatten().area2 == 2 * 90 * CM * 30 * CM


def test_a_ring_without_a_hole_comes_to_a_point() -> None:
    made = ring_sector(0, 50 * CM, math.pi / 2)
    assert [edge.name for edge in made.edges] == ["low", "end", "high"]
    assert made.area == pytest.approx(math.pi * (50 * CM) ** 2 / 4)


@settings(max_examples=60)
@given(sizes, sizes, st.floats(1 * CM, 4 * CM))
def test_facing_and_hem_have_the_same_edge(top: float, hem: float, depth: float) -> None:
    length = 60.0 * CM
    if abs(hem - top) >= math.tau * length * 0.99:
        return
    panel = gore(top, hem, length).renamed({"end": "hem"})
    made = facing(panel, "hem", depth)
    assert made.edge("hem") == panel.edge("hem")
    assert made.edge("low").length == pytest.approx(depth)
    hem_arc = panel.edge("hem").segments[0]
    if isinstance(hem_arc, Arc):
        inner = made.edge("inner").segments[0]
        assert isinstance(inner, Arc)
        # The ring sector between R and R - d, where the hem bulges (TRADE).
        bulge = depth if hem_arc.ccw else -depth
        assert inner.radius == pytest.approx(hem_arc.radius - bulge)
        assert made.area == pytest.approx(depth * (hem + made.edge("inner").length) / 2, rel=1e-9)
    assert shape(panel).buffer(1).contains(shape(made))


def test_a_facing_follows_a_drawn_curve_and_refuses_corners() -> None:
    hem = Cubic((0, 0), (30_000, -9_000), (60_000, 9_000), (90_000, 0), "hem")
    panel = Outline.of(
        [hem, Line((90_000, 0), (90_000, 80_000)), Line((90_000, 80_000), (0, 80_000)),
         Line((0, 80_000), (0, 0))]
    )  # fmt: skip
    made = facing(panel, "hem", 4 * CM)
    assert made.edge("hem") == panel.edge("hem")
    inside = shape(made, 20).exterior
    for k in range(1, 20):
        (x, y), (dx, dy) = made.edge("hem").at(made.edge("hem").length * k / 20)
        across = shapely.Point(x - dy * 4 * CM, y + dx * 4 * CM)
        assert inside.distance(across) < 3
    cornered = Outline.through([(0, 0), (9000, 0), (9000, 9000)], ("hem", "hem", ""))
    with pytest.raises(BadInput, match="has a corner"):
        facing(cornered, "hem", CM)
    with pytest.raises(BadInput, match="too small for a facing"):
        facing(circle_panel(20 * CM, 5 * CM, 1, 2), "end", 9 * CM)


@settings(max_examples=40)
@given(sizes, sizes, st.sampled_from(["low", "high", "fold side"]))
def test_unfolding_doubles_the_area_and_joins_the_edges_at_the_fold(
    top: float, hem: float, side: str
) -> None:
    if abs(hem - top) >= math.tau * 60 * CM * 0.49:
        return
    half = gore(top, hem, 60 * CM).turned(33)
    fold = "low" if side == "fold side" else side
    whole = unfolded(half, fold)
    assert whole.area == pytest.approx(2 * half.area, rel=1e-9)
    assert whole.edge("end").length == pytest.approx(2 * hem, rel=1e-7)
    assert len(whole.edge("end").segments) == 1
    assert fold not in {edge.name for edge in whole.edges}
    other = "high" if fold == "low" else "low"
    named = unfolded(half, fold, {other: "far side"})
    assert named.edge("far side").length == pytest.approx(named.edge(other).length)


def test_a_fold_must_be_straight() -> None:
    with pytest.raises(BadInput, match="not one straight line"):
        unfolded(gore(20 * CM, 60 * CM, 50 * CM), "end")


def test_a_bias_strip_ends_on_the_thread() -> None:
    made = bias_strip(50 * CM, 4 * CM)
    assert made.area == pytest.approx(50 * CM * 4 * CM)
    assert made.edge("end").length == pytest.approx(along_selvedge(4 * CM))
    x, y = made.turned(45).edge("end").at(0)[1]
    assert (x, y) == pytest.approx((0, 1), abs=1e-9)


# Seam allowance


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


@settings(max_examples=40)
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


# Bias strips


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


def test_shapes_of_no_size_are_refused() -> None:
    for make in (
        lambda: rectangle(0, 5),
        lambda: gore(-1, 9000, 9000),
        lambda: ring_sector(9000, 9000, 1),
        lambda: circle_radius(0, 1),
        lambda: bias_strip(9000, 0),
    ):
        with pytest.raises(BadInput, match=r"above nothing|negative"):
            make()
    assert seen(rectangle(200, 200).flatten()).area > LEAST_AREA
