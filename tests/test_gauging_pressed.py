"""Pressed pleats: their figures as printed, and their folds on the flat cloth."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from marker.gauging import Pressed, quarters
from marker.gauging.pressed import pattern
from marker.record import Direction, Method
from marker.units import CM, MM

KNIFE = Pressed(240 * CM, 4, 80 * CM, 40, Method.KNIFE, opening_at="back")
"""40 pleats 2 cm apart, each of 2 cm: they just meet."""


def test_a_section_of_92_as_the_institute_prints_it() -> None:
    # National Instructional Media Institute, Dress Making, pp. 202-205: section 92 cm, depth 4,
    # width 5: 18 pleats, the width corrected to 5.1, 236 cm of cloth.
    number = round(92 / 5)
    assert number == 18
    assert pattern(92 * CM, 4 * CM, number) == 236 * CM
    plan = Pressed(236 * CM, 1, 92 * CM, number, Method.KNIFE)
    assert plan.depth == 4 * CM
    assert round(float(plan.spacing / CM), 1) == 5.1
    # The same: pleats 15 cm long, cloth 90 cm wide, 2 cm of it for seams: 3 strips, 45 cm.
    strips = -(-236 // (90 - 2))
    assert (strips, 15 * strips) == (3, 45)


def test_a_section_of_50_with_depth_and_width_alike() -> None:
    # NIMI pp. 202-205: section 50 cm, width and depth 2.5: 20 pleats, 150 cm.
    plan = Pressed(150 * CM, 1, 50 * CM, 20, Method.KNIFE)
    assert (plan.spacing, plan.depth, plan.ratio) == (5 * CM / 2, 5 * CM / 2, 3)
    assert pattern(50 * CM, 25 * MM, 20) == 150 * CM


@pytest.mark.parametrize(
    ("method", "section", "depth", "cloth"),
    # NIMI pp. 202-205: a box pleat, section 60 cm, depth 12: 108 cm; an inverted pleat, section 66,
    # depth 6.5: 92 cm. Each has two folds of the depth.
    [(Method.BOX, 60 * CM, 12 * CM, 108 * CM), (Method.INVERTED, 66 * CM, 65 * MM, 92 * CM)],
)
def test_single_pleats_as_the_institute_prints_them(
    method: Method, section: int, depth: int, cloth: int
) -> None:
    assert pattern(section, depth, 2) == cloth
    assert Pressed(cloth, 1, section, 1, method).depth == depth


def test_plaits_that_just_meet_take_three_times_the_length() -> None:
    # Hapgood, School Needlework (1893), as a secondary copy has it.
    assert KNIFE.depth == KNIFE.spacing
    assert KNIFE.ratio == 3
    assert KNIFE.layers == 3
    assert replace(KNIFE, round=241 * CM).layers == 5


def test_folds_of_knife_pleats_on_a_panel() -> None:
    # A panel of 60 cm holds ten pleats that take 6 cm each; it begins on an inner fold, 2 cm of
    # it go under the pleat before, 2 cm show, 2 cm go back under.
    folds = KNIFE.creases()
    assert len(folds) == 20
    assert [fold.at / CM for fold in folds[:4]] == [0, 4, 6, 10]
    assert [fold.outer for fold in folds[:4]] == [False, True, False, True]
    assert [fold.over / CM for fold in folds[:4]] == [-2, 2, 0, 4]
    assert KNIFE.alike()
    left = replace(KNIFE, direction=Direction.LEFT).creases()
    assert [fold.at / CM for fold in left[:4]] == [0, 2, 6, 8]
    assert [fold.over / CM for fold in left[:4]] == [2, 0, 4, 2]


def test_folds_of_box_and_inverted_pleats() -> None:
    # 8 pleats 10 cm apart of 160 cm: folds 2.5 cm deep, a pleat takes 20 cm, and faces whose
    # backs just meet are 5 cm wide.
    box = Pressed(160 * CM, 2, 80 * CM, 8, Method.BOX)
    assert (box.depth, box.face) == (25 * MM, 5 * CM)
    assert [fold.at / CM for fold in box.creases()[:5]] == [0, 2.5, 7.5, 10, 20]
    assert [fold.outer for fold in box.creases()[:4]] == [False, True, True, False]
    broad = replace(box, face_asked=8 * CM)
    assert [fold.at / CM for fold in broad.creases()[:5]] == [0, 2.5, 10.5, 13, 20]
    inverted = replace(box, method=Method.INVERTED)
    assert [fold.at / CM for fold in inverted.creases()[:5]] == [0, 2.5, 12.5, 15, 20]
    # Faces edge to edge: nothing shows between them.
    whole = replace(box, round=240 * CM)
    assert (whole.face, whole.spacing) == (10 * CM, 10 * CM)
    assert [fold.at / CM for fold in whole.creases()[:5]] == [0, 5, 15, 20, 30]


@pytest.mark.parametrize("at", ["back", "side", "front"])
@pytest.mark.parametrize("turned", [Direction.FRONT, Direction.BACK])
def test_pleats_that_turn_to_a_middle_meet_there(at: str, turned: Direction) -> None:
    plan = replace(KNIFE, direction=turned, opening_at=at)
    place = "front" if turned is Direction.FRONT else "back"
    meets = next(quarter for quarter in quarters(plan, at) if quarter.place == place)
    # Where they meet a pleat from the left and one from the right have their edges together:
    # two outer folds over one place of the band, at either end of it at the opening.
    edges = [crease.over for panel in range(4) for crease in plan.creases(panel) if crease.outer]
    if meets.on_band:
        assert edges.count(meets.on_band) == 2
    else:
        assert edges.count(Fraction(0)) == edges.count(Fraction(plan.drawn)) == 1
    assert len(edges) == plan.pleats
    assert sum(leg.long for leg in plan.legs) == plan.round


METHODS = st.sampled_from((Method.KNIFE, Method.BOX, Method.INVERTED))
TURNS = st.sampled_from(tuple(Direction))


PLACES = st.sampled_from(("back", "side", "front"))
RATIOS = st.fractions(Fraction(11, 10), Fraction(3))


@given(METHODS, TURNS, st.integers(1, 5), st.integers(1, 9), st.integers(20, 90), RATIOS, PLACES)
def test_the_folded_cloth_is_all_the_cloth_and_lies_on_all_the_band(
    method: Method,
    turned: Direction,
    panels: int,
    times: int,
    drawn: int,
    ratio: Fraction,
    at: str,
) -> None:
    around = int(drawn * CM * ratio)
    turned = turned if method is Method.KNIFE else Direction.RIGHT
    plan = Pressed(around, panels, drawn * CM, 4 * panels * times, method, 0, turned, at)
    # ratio = 1 + 2 x depth / spacing, once for every fold of a pleat.
    assert plan.ratio == 1 + plan.folds * 2 * plan.depth / plan.spacing
    assert plan.pleats * plan.takes == plan.round
    assert plan.each * panels == plan.pleats
    assert sum(leg.long for leg in plan.legs) == plan.round
    assert sum(leg.way * leg.long for leg in plan.legs) == plan.drawn
    shown = [(leg.over, leg.over + leg.long) for leg in plan.legs if leg.shows]
    assert sorted(shown) == shown
    assert [end for _, end in shown[:-1]] == [begin for begin, _ in shown[1:]]
    assert (shown[0][0], shown[-1][1]) == (0, plan.drawn)
    folds = sum(len(plan.creases(panel)) for panel in range(panels))
    assert folds <= 2 * plan.folds * plan.pleats + 2


@pytest.mark.parametrize("method", [Method.KNIFE, Method.BOX, Method.INVERTED])
def test_every_seam_lies_hidden_on_an_inner_fold(method: Method) -> None:
    plan = Pressed(160 * CM, 4, 80 * CM, 8, method)
    assert plan.alike()
    for number in range(4):
        assert plan.seam(number) == (False, plan.depth)


def test_a_seam_in_the_middle_of_a_face_shows() -> None:
    # Turned away from the back, the cloth at an opening there is the middle of a broad face.
    away = replace(KNIFE, direction=Direction.FRONT)
    assert away.seam(0) == (True, 0)
    # A quarter on, a seam lies where the edge of the next pleat is laid: hidden, and only just.
    assert away.seam(1) == away.seam(3) == (False, 0)
    # Turned to the back, it is the middle of the cloth behind the place where they meet: a fold
    # and half of that cloth from the edges.
    assert replace(KNIFE, direction=Direction.BACK).seam(0) == (False, 2 * KNIFE.depth)


def test_cloth_that_goes_under_at_the_opening_needs_the_underlap_there() -> None:
    # Turned to the right, the last pleat covers 2 cm of cloth before the first edge; turned to the
    # left, and with boxes, the first one covers what follows the last edge.
    assert KNIFE.laps_first
    assert KNIFE.legs[0].over == -KNIFE.depth
    left = replace(KNIFE, direction=Direction.LEFT)
    box = replace(KNIFE, method=Method.BOX)
    assert not left.laps_first
    assert not box.laps_first
    for plan in (left, box):
        end = plan.legs[-1]
        assert end.over + end.way * end.long == plan.drawn + plan.depth


def test_quarter_points_of_pressed_pleats() -> None:
    points = quarters(KNIFE, "back")
    assert [point.place for point in points] == ["back", "right side", "front", "left side"]
    assert [point.pleat for point in points] == [0, 10, 20, 30]
    assert [point.on_band / CM for point in points] == [0, 20, 40, 60]
    assert [(point.panel, point.after / CM) for point in points[1:]] == [(1, 58), (2, 58), (3, 58)]
