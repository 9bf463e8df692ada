"""The plan of gauged pleats: its figures as taught, quarter points, guide, swatch and steps."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from marker.cloth import Cloth
from marker.gauging import Gauging, advised, around, practice, quarters, row_guide
from marker.record import Garment, Method, Pleating, Swatch, TurnDown
from marker.units import CM, INCH, MM, System

THREE = Gauging(126 * INCH, 3, 26 * INCH, INCH // 4, 4, 64, (508, 2540, 4572), ease=INCH // 2)
"""126 in of three breadths into 26 in, stitches of 1/4 in."""


def test_three_rows_of_quarter_inch_stitches() -> None:
    # Common practice, no source: three rows 1/2 in apart with stitches of 1/4 in; one pleat
    # takes 1/2 in, so 126 in give 252 pleats; into 26 in, 9.7 to the inch, fulness 4.85.
    assert THREE.pleats == 252
    assert (THREE.each, THREE.fitted) == (84, INCH // 4)
    assert round(float(THREE.per(INCH)), 1) == 9.7
    assert round(THREE.round / THREE.drawn, 2) == 4.85


def test_lower_rows_are_looser() -> None:
    assert [THREE.drawn_at(row) / INCH for row in range(3)] == [26, Fraction(105, 4), 26.5]
    assert replace(THREE, rows=(508,)).drawn_at(0) == 26 * INCH


def test_quarter_points_of_a_gauged_skirt() -> None:
    # 252 pleats are 63 to a quarter; a quarter of 126 in is 31 1/2 in, a panel 42 in.
    points = quarters(THREE, "side")
    assert [point.place for point in points] == ["left side", "back", "right side", "front"]
    assert [point.pleat for point in points] == [0, 63, 126, 189]
    assert [point.on_band / INCH for point in points] == [0, 6.5, 13, 19.5]
    assert [point.panel for point in points] == [1, 1, 2, 3]
    assert [point.after / INCH for point in points] == [0, 31.5, 21, 10.5]


def test_the_dots_of_a_row_run_on_over_the_seams() -> None:
    cloth = Cloth("main", "Linen", 100 * CM, 10 * CM)
    sewn = Pleating(Method.GAUGED, 6 * MM, 3, 13 * MM, 3 * MM, seam=1 * CM)
    skirt = Garment("skirt", "Skirt", "Anna", 3, 100 * CM, 320 * CM, 72 * CM, pleating=sewn)
    turned = replace(skirt, turn_downs=(TurnDown("front", 90 * CM, 6 * CM),))
    guide = row_guide(turned, cloth)
    assert guide is not None
    assert (guide.pleats, guide.turned, guide.seam) == (89, True, 1 * CM)
    assert [row / MM for row in guide.rows] == [3, 16, 29]
    assert guide.dots * guide.pitch == guide.panel == Fraction(320 * CM, 3)
    assert guide.period == 2 * guide.pitch
    # Half a stitch before the seam line and half after it: one whole one over the seam.
    assert guide.dot(0) == guide.pitch / 2
    before, after = guide.panel - guide.dot(guide.dots - 1), guide.dot(0)
    assert before + after == guide.pitch
    assert row_guide(replace(skirt, pleating=None), cloth) is None


def test_a_swatch_measured_stands_in_place_of_the_thickness() -> None:
    # 10 cm of stitches of 5 mm are 10 pleats; drawn to 2.1 cm each takes 2.1 mm.
    plan = Gauging(300 * CM, 3, 60 * CM, 5 * MM, 4, 64, measured=Swatch(10 * CM, 21 * MM, 5 * MM))
    assert plan.packed == 21 * MM / Fraction(10)
    assert plan.least_drawn == 63 * CM
    assert not plan.closes
    assert plan.greatest_fulness == Fraction(100, 21)
    assert replace(plan, measured=None).packed == 4 * 64


def test_what_to_sew_on_a_swatch() -> None:
    metric = practice(Gauging(300 * CM, 3, 60 * CM, 6 * MM, 4, 64), System.CM)
    # A panel of 100 cm holds 83 pleats of 1.2 cm; eight go into 10 cm.
    assert (metric.pleats, metric.strip) == (8, 8 * Fraction(100 * CM, 83))
    assert metric.expected == 8 * 4 * 64
    inches = practice(THREE, System.IN)
    assert (inches.pleats, inches.strip) == (8, 4 * INCH)
    assert practice(replace(THREE, stitch=3 * INCH), System.IN).pleats == 1


def test_the_hand_sewing_lessons_swatch_is_the_one_they_teach() -> None:
    # Hand Sewing Lessons, Model 12 (about 1901-06): 5 in of cloth in stitches of 1/8 in are drawn
    # into 1 1/2 in, 3.3 to 1; a swatch that closes so draws 30 in no closer than 9 in.
    taught = Swatch(5 * INCH, 3 * INCH // 2, INCH // 8)
    plan = Gauging(30 * INCH, 1, 9 * INCH, INCH // 8, 2, measured=taught)
    assert plan.closes
    assert plan.least_drawn == 9 * INCH
    assert plan.greatest_fulness == Fraction(10, 3)


def test_five_stitches_a_step_apart() -> None:
    rows = around(THREE, System.IN)
    assert [row.stitch * 16 // INCH for row in rows] == [2, 3, 4, 5, 6]
    assert [row.pleats for row in rows] == [504, 336, 252, 201, 168]
    small = around(replace(THREE, stitch=MM), System.CM)
    assert [row.stitch // MM for row in small] == [1, 2, 3, 4, 5]
    assert [row.stitch / MM for row in around(replace(THREE, stitch=15 * MM // 10), System.CM)] == [
        0.5,
        1.5,
        2.5,
        3.5,
        4.5,
    ]


PLANS = st.builds(
    Gauging,
    round=st.integers(100, 500).map(lambda n: n * CM),
    panels=st.integers(1, 6),
    drawn=st.integers(50, 99).map(lambda n: n * CM),
    stitch=st.integers(300, 2000),
    layers=st.sampled_from((2, 4)),
    thickness=st.integers(8, 200),
)


@given(PLANS, st.sampled_from((System.CM, System.IN)))
def test_the_stitch_advised_closes_up(plan: Gauging, units: System) -> None:
    stitch = advised(plan, units)
    if stitch is not None:
        assert replace(plan, stitch=stitch).closes


@given(PLANS, st.integers(0, 200), st.sampled_from((System.CM, System.IN)))
def test_thinner_cloth_never_needs_a_longer_stitch(
    plan: Gauging, thinner: int, units: System
) -> None:
    thin = replace(plan, thickness=max(1, plan.thickness - thinner))
    less, more = advised(thin, units), advised(plan, units)
    assert more is None or (less is not None and less <= more)
    assert thin.least_stitch <= plan.least_stitch


@given(PLANS, st.integers(0, 300), st.sampled_from((System.CM, System.IN)))
def test_more_fulness_never_takes_a_shorter_stitch(plan: Gauging, more: int, units: System) -> None:
    # Hapgood, School Needlework (1893), as a secondary copy has it: longer stitches for much
    # fulness, and for woollens.
    full = replace(plan, round=plan.round + more * CM)
    scant, ample = advised(plan, units), advised(full, units)
    assert (scant is None) == (ample is None)
    assert scant is None or ample is None or scant <= ample


@given(PLANS)
def test_all_pleats_are_all_the_cloth(plan: Gauging) -> None:
    assert plan.pleats * 2 * plan.fitted == plan.round
    assert sum(plan.each for _ in range(plan.panels)) == plan.pleats


@pytest.mark.parametrize(("thickness", "stitch"), [(0, None), (16 * 160, None), (16, 3 * MM)])
def test_stitches_advised_at_the_ends(thickness: int, stitch: int | None) -> None:
    # Nothing known; cloth 16 mm thick, of which not one pleat a panel closes; and fine lawn,
    # which would take finer stitches than anybody is taught.
    plan = Gauging(300 * CM, 12, 60 * CM, 6 * MM, 4, thickness)
    assert advised(plan, System.CM) == stitch
