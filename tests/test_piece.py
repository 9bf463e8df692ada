"""Pieces of any outline: how copies lie when turned, turned over and laid on the bias."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import TypeAdapter

from marker.errors import BadInput
from marker.geometry import Arc, Cubic, Line, Outline, Polygon
from marker.geometry.shapes import bias_strip, gore
from marker.lay import Placement
from marker.piece import Grain, Mark, MarkKind, Piece
from marker.units import CM

UNEVEN = Outline.through([(0, 0), (9 * CM, 0), (7 * CM, 3 * CM), (2 * CM, 5 * CM)])


def uneven(**more: object) -> Piece:
    return Piece.shaped("A", "yoke", UNEVEN, 4, "c", **more)


def corners(polygon: Polygon) -> set[tuple[int, int]]:
    return set(polygon.points)


@given(st.sampled_from([0, 90, 180, 270]), st.booleans())
def test_corners_are_carried_to_where_they_are_laid(turn: int, flip: bool) -> None:
    piece = uneven(grain=Grain.EITHER, mirrored=2)
    carried = {piece.carried(turn, flip, u, v) for u, v in piece.polygon.points}
    assert carried == corners(piece.laid(turn, flip))
    placement = Placement("A", 1, 1000, 2000, turn, flip)
    there = {placement.to_cloth(piece, u, v) for u, v in piece.polygon.points}
    assert there == corners(placement.polygon(piece))
    assert placement.rect(piece) == placement.polygon(piece).box


@given(st.sampled_from([45, 135, 225, 315]), st.booleans())
def test_on_the_bias_corners_are_carried_within_the_tolerance(turn: int, flip: bool) -> None:
    piece = Piece.shaped("A", "strip", bias_strip(80 * CM, 5 * CM), 2, "c", grain=Grain.BIAS)
    laid = piece.laid(turn, flip)
    assert (laid.box.x0, laid.box.y0) == (0, 0)
    for u, v in ((0, 0), (80 * CM, 0), (85 * CM, 5 * CM), (5 * CM, 5 * CM)):
        x, y = piece.carried(turn, flip, u, v)
        assert min(math.dist((x, y), corner) for corner in laid.points) <= 16


def test_a_strip_on_the_bias_lies_at_45_degrees_with_its_ends_along_threads() -> None:
    piece = Piece.shaped("A", "strip", bias_strip(80 * CM, 5 * CM), 1, "c", grain=Grain.BIAS)
    start, end = piece.carried(45, False, 0, 0), piece.carried(45, False, 80 * CM, 0)
    assert end[0] - start[0] == pytest.approx(end[1] - start[1], abs=1)
    top = piece.carried(45, False, 5 * CM, 5 * CM)
    assert top[0] == pytest.approx(start[0], abs=1)


def test_turned_over_is_turned_over_about_the_warp() -> None:
    piece = uneven(mirrored=2)
    plain, over = piece.laid(0), piece.laid(0, True)
    assert corners(over) == {(x, piece.breadth - y) for x, y in plain.points}
    assert over.area2 == plain.area2 == piece.area2


@pytest.mark.parametrize(
    ("grain", "one_way", "mirrored", "ways"),
    [
        (Grain.ALONG, False, 0, {(0, False), (180, False)}),
        (Grain.ALONG, True, 0, {(0, False)}),
        (Grain.ALONG, True, 2, {(0, False), (0, True)}),
        (Grain.ALONG, True, 4, {(0, True)}),
        (Grain.ACROSS, False, 0, {(90, False), (270, False)}),
        (Grain.EITHER, True, 0, {(0, False)}),
        (Grain.BIAS, True, 2, {(45, False), (315, True)}),
    ],
)
def test_what_grain_and_nap_allow(
    grain: Grain, one_way: bool, mirrored: int, ways: set[tuple[int, bool]]
) -> None:
    assert set(uneven(grain=grain, mirrored=mirrored).ways(one_way)) == ways


def test_an_outline_is_set_against_nought_and_its_marks_move_with_it() -> None:
    shape = gore(20 * CM, 45 * CM, 90 * CM).shifted(3 * CM, 4 * CM)
    mark = Mark(MarkKind.NOTCH, "", 3 * CM, 4 * CM, 4 * CM, 4 * CM)
    piece = Piece.shaped("A", "gore", shape, 1, "c", marks=(mark,))
    assert piece.polygon.box.x0 == piece.polygon.box.y0 == 0
    assert (piece.polygon.box.x1, piece.polygon.box.y1) == (piece.length, piece.breadth)
    assert abs(piece.marks[0].u0) <= 16
    assert abs(piece.marks[0].v0) <= 16


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"mirrored": 5}, "mirrored"),
        ({"mirrored": -1}, "mirrored"),
        ({"outline": UNEVEN}, "does not measure"),
        ({"grain": Grain.BIAS}, "on the bias"),
    ],
)
def test_figures_that_clash_are_refused(fields: dict[str, object], words: str) -> None:
    with pytest.raises(BadInput, match=words):
        Piece("A", "piece", 10 * CM, 5 * CM, 4, "c", **fields)  # type: ignore[arg-type]


def test_a_rectangle_is_turned_by_quarters_only() -> None:
    with pytest.raises(BadInput, match="quarters"):
        Piece("A", "piece", 10 * CM, 5 * CM, 4, "c").laid(45)


def test_an_outline_of_every_kind_of_segment_goes_to_json_and_back() -> None:
    curve = Cubic((9 * CM, 0.0), (8 * CM, CM), (11 * CM, 3 * CM), (7 * CM, 3 * CM), "side")
    arc = Arc((7 * CM, 3 * CM), (3 * CM, 3 * CM), (5 * CM, 3 * CM), True, "top")
    ring = (Line((0.0, 0.0), (9 * CM, 0.0), "hem"), curve, arc, Line(arc.end, (0.0, 0.0)))
    piece = Piece.shaped("A", "yoke", Outline(ring), 2, "c", mirrored=1, folds=True)
    adapter = TypeAdapter(Piece)
    assert adapter.validate_json(adapter.dump_json(piece)) == piece
