"""Shapes of the trade against published figures and properties."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from outlines import seen, shape

from marker.errors import BadInput
from marker.geometry import Arc, Cubic, Line, Outline
from marker.geometry.bias import along_selvedge
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
from marker.units import CM, INCH, YARD


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
        assert made.area == pytest.approx(depth * (hem + made.edge("inner").length) / 2, rel=1e-8)
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
