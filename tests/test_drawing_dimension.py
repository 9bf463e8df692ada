"""Dimensions: where lines, arrows and figures stand, as in ISO 129-1 (from memory)."""

from __future__ import annotations

import itertools

import pytest

from marker.plan.drawing import style
from marker.plan.drawing.arrows import arrow, dimension, head
from marker.plan.drawing.page import Box, Point
from marker.plan.drawing.verbs import Drawing, Path, Words


def lines(drawing: Drawing) -> list[tuple[Point, ...]]:
    return [m.runs[0] for m in drawing.over if isinstance(m, Path) and m.weight]


def heads(drawing: Drawing) -> list[tuple[Point, ...]]:
    return [m.runs[0] for m in drawing.over if isinstance(m, Path) and not m.weight]


def words(drawing: Drawing) -> Words:
    (found,) = (m for m in drawing.over if isinstance(m, Words))
    return found


def drawn(a: Point, b: Point, at: int, text: str, *, upright: bool = False) -> tuple[Drawing, Box]:
    drawing = Drawing()
    return drawing, dimension(drawing, a, b, at, text, upright=upright)


def test_a_level_dimension_has_thin_lines_with_a_gap_and_its_figure_above() -> None:
    drawing, box = drawn((1000, 500), (6000, 900), 2000, "42.5")
    first, last, line = lines(drawing)
    assert first == ((1000, 500 + style.EXTENSION_GAP), (1000, 2000 + style.EXTENSION_PAST))
    assert last == ((6000, 900 + style.EXTENSION_GAP), (6000, 2000 + style.EXTENSION_PAST))
    assert {y for _, y in line} == {2000}
    assert [run[0] for run in heads(drawing)] == [(1000, 2000), (6000, 2000)]
    assert all(m.weight in (0, style.THIN) for m in drawing.over if isinstance(m, Path))
    figure = words(drawing)
    assert figure.at == (3500, 2000 - style.DIMENSION_LIFT)
    assert not figure.angle
    assert box == Box(1000, 570, 6000, 2000 + style.EXTENSION_PAST)


def test_an_upright_dimension_reads_from_the_right_beside_its_line() -> None:
    drawing, box = drawn((500, 4000), (500, 1000), 1500, "30", upright=True)
    figure = words(drawing)
    assert figure.angle == 90
    assert figure.at == (1500 - style.DIMENSION_LIFT, 2500)
    assert figure.box.x1 <= 1500 + style.DIMENSION
    assert sorted(run[0] for run in heads(drawing)) == [(1500, 1000), (1500, 4000)]
    assert (box.x0, box.y0, box.y1) == (570, 1000, 4000)


@pytest.mark.parametrize("upright", [False, True])
def test_short_distances_have_their_arrows_outside_and_the_figure_beyond(upright: bool) -> None:
    a, b = ((0, 300), (0, 0)) if upright else ((0, 0), (300, 0))
    drawing, _ = drawn(a, b, 1000, "1.5 cm", upright=upright)
    for tip, left, right in heads(drawing):
        along = (-tip[1], -left[1], -right[1]) if upright else (tip[0], left[0], right[0])
        # The head lies outside the distance, its point at the end of it.
        assert along[0] in (0, 300) if not upright else along[0] in (0, -300)
        middle = -150 if upright else 150
        assert (along[1] - along[0]) * (along[0] - middle) > 0
    figure = words(drawing).box
    assert figure.y1 <= 0 if upright else figure.x0 >= 300


def test_a_middling_distance_keeps_its_arrows_but_not_a_long_figure() -> None:
    drawing, box = drawn((0, 0), (style.ARROWS_INSIDE, 0), 700, "42 1/2 in finished")
    assert {tip[0] for tip, _, _ in heads(drawing)} == {0, style.ARROWS_INSIDE}
    assert words(drawing).box.x0 >= style.ARROWS_INSIDE
    assert box.x1 >= words(drawing).box.x1


def test_points_on_the_line_need_no_extension() -> None:
    drawing, _ = drawn((0, 700), (4000, 700), 700, "40")
    assert len(lines(drawing)) == 1


def test_heads_are_slender_and_turn_with_their_line() -> None:
    for back in ((1000, 0), (0, 1000), (-700, 700), (300, -900)):
        drawing = Drawing()
        head(drawing, (0, 0), back)
        ((tip, left, right),) = heads(drawing)
        assert tip == (0, 0)
        middle = (left[0] + right[0]) / 2, (left[1] + right[1]) / 2
        far = (middle[0] ** 2 + middle[1] ** 2) ** 0.5
        assert far == pytest.approx(style.ARROW, abs=1.5)
        assert middle[0] * back[1] == pytest.approx(middle[1] * back[0], abs=1500)
        broad = ((left[0] - right[0]) ** 2 + (left[1] - right[1]) ** 2) ** 0.5
        assert broad == pytest.approx(2 * style.ARROW_HALF, abs=2)
        assert far > 3 * broad


def test_an_arrow_s_line_stays_inside_its_heads() -> None:
    for ends in itertools.product((True, False), repeat=2):
        drawing = Drawing()
        arrow(drawing, (0, 0), (2000, 0), ends=ends)
        ((low, high),) = lines(drawing)
        assert low == ((style.ARROW * 2 // 3, 0) if ends[0] else (0, 0))
        assert high == ((2000 - style.ARROW * 2 // 3, 0) if ends[1] else (2000, 0))
        assert len(heads(drawing)) == sum(ends)
