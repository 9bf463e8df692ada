"""Page arithmetic: boxes, crossings, the view, hatching, and the spread of a row."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from marker.geometry import Rect
from marker.plan.drawing.labels import Room, spread
from marker.plan.drawing.page import Box, Paper, Point, View, around
from marker.plan.drawing.verbs import Drawing, hatch
from marker.plan.lays.margins import Form, Tag, plan

SMALL = st.integers(-12, 12)
POINT = st.tuples(SMALL, SMALL)


def crossed_slowly(box: Box, a: Point, b: Point) -> bool:
    """Clip the line to the open box by exact fractions (Liang and Barsky's rule, from memory)."""
    low, high = Fraction(0), Fraction(1)
    for start, move, near, far in (
        (a[0], b[0] - a[0], box.x0, box.x1),
        (a[1], b[1] - a[1], box.y0, box.y1),
    ):
        if move == 0:
            if not near < start < far:
                return False
            continue
        first, last = sorted((Fraction(near - start, move), Fraction(far - start, move)))
        low, high = max(low, first), min(high, last)
    return low < high or (a == b)


@given(POINT, POINT, SMALL, SMALL, st.integers(1, 9), st.integers(1, 9))
@settings(max_examples=500, derandomize=True)
def test_crossing_agrees_with_clipping(
    a: Point, b: Point, x: int, y: int, wide: int, tall: int
) -> None:
    box = Box(x, y, x + wide, y + tall)
    assert box.crossed(a, b) == crossed_slowly(box, a, b)
    assert box.crossed(a, b) == box.crossed(b, a)


def test_paper_is_landscape_and_true() -> None:
    assert Paper("a4").size == (29700, 21000)
    # 11 x 8 1/2 in at 25.4 mm.
    assert Paper("letter").size == (11 * 2540, 17 * 1270)


def test_view_turns_the_cloth_up_and_scales_exactly() -> None:
    view = View(Rect(-4000, 0, 160_000, 80_000), 10)
    assert view.scale == Fraction(1, 16)
    assert view.point((-4000, 80_000)) == (0, 0)
    assert view.point((160_000, 0)) == (10_250, 5000)
    assert view.box(Rect(0, 0, 16_000, 16_000)) == Box(250, 4000, 1250, 5000)


@pytest.mark.parametrize("pitch", [180, 420])
def test_hatching_stays_inside_and_runs_on_next_door(pitch: int) -> None:
    left, right = Box(13, 29, 1000, 777), Box(1000, 29, 1700, 777)
    ends = {point for run in hatch(left, pitch) for point in run}
    assert ends
    for (x0, y0), (x1, y1) in hatch(left, pitch):
        assert x1 - x0 == y0 - y1 > 0
        assert left.x0 <= x0 < x1 <= left.x1
        assert left.y0 <= y1 < y0 <= left.y1
    on_edge = {point for point in ends if point[0] == 1000 and 29 < point[1] < 777}
    assert on_edge
    assert on_edge <= {point for run in hatch(right, pitch) for point in run}


def test_hatching_of_nothing_is_nothing() -> None:
    assert hatch(Box(5, 5, 5, 400), 100) == ()


ROW = st.lists(st.tuples(st.integers(0, 9000), st.integers(10, 600)), min_size=1, max_size=12)


@given(ROW)
@settings(max_examples=300, derandomize=True)
def test_a_spread_row_keeps_order_and_distance(row: list[tuple[int, int]]) -> None:
    row = sorted(row)
    wanted, widths = [at for at, _ in row], [size for _, size in row]
    found = spread(wanted, widths, -200, 9200)
    assert found is not None
    assert found[0] - widths[0] // 2 >= -200
    assert found[-1] + widths[-1] - widths[-1] // 2 <= 9200
    for (a, wide_a), (b, wide_b) in pairwise(zip(found, widths, strict=True)):
        assert b - wide_b // 2 >= a - wide_a // 2 + wide_a


def test_a_row_with_room_stays_where_it_is_wanted() -> None:
    assert spread([100, 500, 900], [200, 200, 200], 0, 1000) == [100, 500, 900]


def test_a_tight_row_fans_out_evenly() -> None:
    assert spread([500, 500, 500], [100, 100, 100], 0, 1000) == [400, 500, 600]


def test_a_row_that_is_too_full_is_refused() -> None:
    assert spread([1, 2], [600, 600], 0, 1000) is None


@given(st.lists(st.integers(0, 9000), min_size=1, max_size=25, unique=True), st.booleans())
@settings(max_examples=100, derandomize=True)
def test_leaders_of_a_margin_never_cross(places: list[int], down: bool) -> None:
    def nothing(_drawing: Drawing, _box: Box) -> None:
        pass

    tags = [
        Tag("ring", f"{at}", (((at, 0),),), at % 3 > 0, (Form(400 + at % 700, 300, nothing),))
        for at in places
    ]
    found = plan(tags, -500, 20_000)
    assert found is not None
    drawing = Drawing()
    found.draw(drawing, 0, down)
    segments = [pair for run in drawing.leaders for pair in pairwise(run)]
    runs = [index for index, run in enumerate(drawing.leaders) for _ in pairwise(run)]
    for i, (a, b) in enumerate(segments):
        for j in range(i):
            assert runs[i] == runs[j] or not _cross(a, b, *segments[j])
    boxes = [label.box for label in drawing.labels]
    for index, box in enumerate(boxes):
        assert not any(box.hits(other) for other in boxes[:index])
        assert not any(box.crossed(a, b) for a, b in segments)


def _cross(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Whether two lines meet in one point inside both, by the signs of four areas."""

    def turn(p: Point, q: Point, r: Point) -> int:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    return turn(a, b, c) * turn(a, b, d) < 0 and turn(c, d, a) * turn(c, d, b) < 0


def test_room_keeps_labels_off_lines_labels_and_leaders() -> None:
    line = Box(490, 0, 510, 1000)
    room = Room(Box(0, 0, 1000, 1000), [line])
    box = around(500, 500, 100, 100)
    assert not room.free(box)
    assert room.free(box, but=line)
    assert not room.free(around(990, 500, 100, 100))
    room.take(around(200, 200, 100, 100))
    assert not room.free(around(250, 250, 100, 100))
    assert not room.clear((200, 0), (200, 400))
    room.run((800, 0), (800, 1000))
    assert not room.free(around(800, 500, 100, 100))
    assert not room.clear((700, 500), (900, 500))
    assert room.clear((700, 500), (790, 500))
    assert room.crossings((300, 500), (700, 500)) == 1
    room.soft.add(around(300, 800, 100, 10))
    assert room.free(around(300, 800, 80, 80))
    assert not room.free(around(300, 800, 80, 80), dodge=True)
