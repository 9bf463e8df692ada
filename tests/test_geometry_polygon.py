"""Polygons of whole units, judged by shapely and by hand."""

from __future__ import annotations

import random

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from outlines import ring, seen

from marker.errors import BadInput
from marker.geometry import Polygon, Rect
from marker.geometry.pole import pole
from marker.geometry.segments import where
from marker.geometry.shapes import facing, gore, ring_sector
from marker.units import CM

SQUARE = Polygon(((0, 0), (10, 0), (10, 10), (0, 10)))
ELL = Polygon(((0, 0), (10, 0), (10, 4), (4, 4), (4, 10), (0, 10)))


@settings(max_examples=600)
@given(st.integers(0, 10**6), st.sampled_from((3, 5, 8, 30)))
def test_overlap_agrees_with_shapely_on_random_pairs_touching_allowed(seed: int, size: int) -> None:
    draw = random.Random(seed)
    a = ring(seed, size)
    b = ring(seed + 1, size).shifted(draw.randint(-size, size), draw.randint(-size, size))
    # On a grid this small a true overlap is far larger than shapely's rounding.
    expected = seen(a).intersection(seen(b)).area > 1e-9
    assert a.overlaps(b) == expected
    assert b.overlaps(a) == expected


@pytest.mark.parametrize(
    ("other", "expected"),
    [
        (SQUARE.shifted(10, 0), False),  # a whole edge shared
        (SQUARE.shifted(10, 10), False),  # a corner shared
        (SQUARE.shifted(10, 5), False),  # part of an edge shared
        (SQUARE.shifted(9, 9), True),
        (SQUARE, True),  # the very same place
        (Polygon(((5, 0), (10, 5), (5, 10), (0, 5))), True),  # inside, touching all four edges
        (Polygon(((2, 2), (3, 2), (3, 3), (2, 3))), True),  # wholly inside
        (Polygon(((-5, -5), (20, -5), (20, 20), (-5, 20))), True),  # wholly round it
        (Polygon(((0, 0), (10, 10), (0, 10))), True),  # half of it
        (Polygon(((10, 0), (20, 5), (10, 10))), False),
        (Polygon(((-5, 5), (-5, -5), (5, -5))), False),  # its long edge through a corner
    ],
)
def test_touching_is_no_overlap(other: Polygon, expected: bool) -> None:
    assert SQUARE.overlaps(other) is expected
    assert other.overlaps(SQUARE) is expected


def test_a_piece_may_fill_a_hollow_exactly() -> None:
    fits = Polygon(((4, 4), (10, 4), (10, 10), (4, 10)))
    assert not ELL.overlaps(fits)
    assert ELL.overlaps(fits.shifted(-1, 0))
    assert ELL.overlaps(fits.shifted(0, -1))


@settings(max_examples=200)
@given(st.integers(0, 10**6), st.integers(3, 40))
def test_turns_and_mirrors_keep_the_area_and_undo_each_other(seed: int, size: int) -> None:
    made = ring(seed, size)
    home = made.shifted(-made.box.x0, -made.box.y0)
    for degrees in (0, 90, 180, 270):
        turned = made.turned(degrees)
        assert turned.area2 == made.area2 > 0
        assert (turned.box.x0, turned.box.y0) == (0, 0)
        assert turned.turned(360 - degrees) == home
        Polygon(turned.points)
    assert made.mirrored().area2 == made.area2
    assert made.mirrored().mirrored() == home
    assert seen(made).area * 2 == pytest.approx(made.area2)


def test_a_turn_runs_counter_clockwise() -> None:
    flag = Polygon(((0, 0), (6, 0), (0, 2)))
    assert set(flag.turned(90).points) == {(2, 0), (2, 6), (0, 0)}
    assert set(flag.mirrored().points) == {(6, 0), (0, 0), (6, 2)}
    assert flag.turned(90).box == Rect(0, 0, 2, 6)


@settings(max_examples=200)
@given(st.integers(0, 10**6), st.integers(-1, 13), st.integers(-1, 13))
def test_holds_a_point_inside_or_on_the_edge(seed: int, x: int, y: int) -> None:
    made = ring(seed, 12)
    assert made.holds_point(x, y) == (seen(made).distance(_point(x, y)) == 0)
    assert (where(made.points, x, y) > 0) == seen(made).contains(_point(x, y))


def _point(x: int, y: int) -> shapely.Point:
    return shapely.Point(x, y)


def test_superfluous_points_are_left_out() -> None:
    given_points = [(0, 0), (5, 0), (5, 0), (10, 0), (10, 10), (4, 10), (0, 10), (0, 3)]
    assert Polygon.of(given_points).points == SQUARE.points
    assert set(Polygon.of(reversed(given_points)).points) == set(SQUARE.points)
    assert Polygon.of_rect(Rect(0, 0, 10, 10)) == SQUARE


@pytest.mark.parametrize(
    ("points", "complaint"),
    [
        (((0, 0), (10, 0)), "three corners"),
        (((0, 0), (5, 0), (10, 0), (5, 9)), "in line"),
        (((0, 0), (0, 10), (10, 10)), "clockwise"),
        (((0, 0), (10, 10), (10, 0), (0, 10)), "crosses or touches itself"),
        (((0, 0), (10, 0), (10, 10), (5, 0), (0, 10)), "crosses or touches itself"),
        (((0, 0), (4, 4), (8, 0), (8, 8), (4, 4), (0, 8)), "crosses or touches itself"),
    ],
)
def test_rings_that_are_no_polygon_are_refused(
    points: tuple[tuple[int, int], ...], complaint: str
) -> None:
    with pytest.raises(BadInput, match=complaint):
        Polygon(points)


def test_a_tangle_is_given_up_in_good_time() -> None:
    # 6,000 strokes side by side, all aslant, so that no two boxes can be told apart.
    strokes = [(k, k) if k % 2 else (k + 90_000, k + 60_000) for k in range(6_000)]
    with pytest.raises(BadInput, match=r"too often|crosses"):
        Polygon.of([*strokes, (200_000, -10)])


def test_the_pole_lies_inside_a_crescent_and_in_the_middle_of_a_square() -> None:
    x, y, far = pole(Polygon.of_rect(Rect(0, 0, 40 * CM, 20 * CM)))
    assert y == pytest.approx(10 * CM, abs=CM / 4)
    assert far == pytest.approx(10 * CM, abs=160)
    crescent = ring_sector(30 * CM, 40 * CM, 3.0).flatten()
    x, y, far = pole(crescent)
    assert where(crescent.points, x, y) == 1
    assert far == pytest.approx(5 * CM, abs=200)
    middle = seen(crescent).centroid
    assert where(crescent.points, int(middle.x), int(middle.y)) == -1


@pytest.mark.parametrize("seed", range(12))
def test_no_other_place_lies_further_in_than_the_pole(seed: int) -> None:
    made = Polygon.of([(37 * x, 41 * y) for x, y in ring(seed, 3000).points])
    x, y, far = pole(made)
    hull = seen(made).exterior
    assert far == pytest.approx(hull.distance(_point(x, y)))
    allowed = max(160, min(made.box.along, made.box.across) / 100) + 2
    step = max(made.box.along, made.box.across) // 40
    for at_x in range(made.box.x0, made.box.x1, step):
        for at_y in range(made.box.y0, made.box.y1, step):
            if where(made.points, at_x, at_y) > 0:
                assert hull.distance(_point(at_x, at_y)) <= far + allowed


def test_the_label_of_a_slim_facing_is_placed_within_it() -> None:
    strip = facing(gore(60 * CM, 180 * CM, 80 * CM), "end", 5 * CM).flatten()
    x, y, far = pole(strip)
    assert where(strip.points, x, y) == 1
    assert far > 2.3 * CM
