"""Pleats drawn up by running stitches."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from marker.cloth import Cloth
from marker.gauging import Gauging, gauging
from marker.record import Garment, Method, Pleating, TurnDown
from marker.units import CM, INCH, MM


def test_gauging_as_the_hand_sewing_lessons_teach_it() -> None:
    # Hand Sewing Lessons, Model 12 (about 1901-06): stitches and spaces of 1/8 in; 5 in of cloth
    # into 1 1/2 in is 20 pleats, 13.3 to the inch.
    plan = Gauging(round=5 * INCH, panels=1, drawn=3 * INCH // 2, stitch=INCH // 8, layers=2)
    assert plan.pleats == 20
    assert plan.per(INCH) == Fraction(40, 3)
    assert plan.fitted == INCH // 8


def test_every_panel_holds_a_whole_number_of_pleats() -> None:
    plan = Gauging(round=320 * CM, panels=3, drawn=72 * CM, stitch=6 * MM, layers=4)
    # 3200 / 3 / 12 = 88.9 pleats a panel: 89.
    assert plan.pleats == 3 * 89
    assert plan.fitted == Fraction(320 * CM, 2 * 3 * 89)


def test_pleats_that_cannot_close_up() -> None:
    # 100 pleats of 4 layers of 0.5 mm touch at 20 cm (common practice, no source).
    plan = Gauging(round=100 * CM, panels=1, drawn=19 * CM, stitch=5 * MM, layers=4, thickness=80)
    assert plan.pleats == 100
    assert plan.least_drawn == 20 * CM
    assert not plan.closes
    assert replace(plan, drawn=20 * CM).closes
    assert plan.least_stitch == Fraction(100 * CM * 4 * 80, 2 * 19 * CM)
    assert plan.greatest_fulness == 5
    assert replace(plan, thickness=0).closes
    assert replace(plan, thickness=0).greatest_fulness is None


@given(st.integers(1, 6), st.integers(20, 200), st.integers(5, 90), st.integers(1, 20))
def test_a_stitch_no_less_than_the_least_closes_up(
    panels: int, around: int, drawn: int, thickness: int
) -> None:
    plan = Gauging(around * CM, panels, drawn * CM, 6 * MM, 4, 8 * thickness)
    assert plan.closes == (plan.fitted >= plan.least_stitch)


def test_which_garments_are_gauged() -> None:
    cloth = Cloth("main", "Linen", 100 * CM, 10 * CM, thickness=64)
    sewn = Pleating(Method.GAUGED, stitch=6 * MM)
    skirt = Garment("skirt", "Skirt", "Anna", 2, 100 * CM, 300 * CM, 70 * CM, pleating=sewn)
    flat = gauging(skirt, cloth)
    turned = gauging(replace(skirt, turn_downs=(TurnDown("front", 90 * CM, 6 * CM),)), cloth)
    assert flat is not None
    assert turned is not None
    assert (flat.layers, turned.layers, flat.thickness) == (2, 4, 64)
    assert gauging(replace(skirt, drawn=0), cloth) is None
    assert gauging(replace(skirt, pleating=None), cloth) is None
