"""Bounds of a nest at their edges: exactly so much, and never a unit more than the truth."""

from __future__ import annotations

import pytest

from marker.geometry import Polygon, Rect
from marker.solver.nest import NestKind, Phase, ShapeRule
from marker.solver.nest.bounds import REPEAT, WIDEST, least_length
from marker.solver.nest.frame import Frame
from marker.solver.nest.inrow import in_a_row
from marker.solver.nest.nearest import Band, beyond


def box(along: int, across: int) -> Polygon:
    return Polygon.of_rect(Rect(0, 0, along, across))


def test_what_may_keep_off_the_middle_takes_none_of_it() -> None:
    # The small ones lie beside the large one, all along it.
    kinds = [NestKind(1, (box(1000, 60),)), NestKind(3, (box(10, 10),))]
    assert least_length(kinds, 100)[0] == 1000


def test_the_least_chord_is_that_of_the_heights_that_may_come_to_lie_on_the_line() -> None:
    # At a height h the chord is 1000 - 8 h, and the middle, 55, meets heights of 45 to 55 only.
    notched = Polygon.of(
        [(0, 0), (400, 0), (400, 10), (600, 10), (600, 0), (1000, 0), (600, 100), (400, 100)]
    )
    assert least_length([NestKind(5, (notched,))], 110) == (5 * (1000 - 8 * 55), WIDEST)
    upside_down = notched.turned(180)
    assert least_length([NestKind(5, (upside_down,))], 110) == (5 * (1000 - 8 * 55), WIDEST)


@pytest.mark.parametrize("at", range(396, 405))
def test_the_repeat_holds_up_a_piece_to_the_unit(at: int) -> None:
    kinds = [
        NestKind(3, (box(900, 100),), (ShapeRule(matches=(Phase("waist", "along", place),)),))
        for place in (0, at)
    ]
    # One of them begins where the other's point lies, or a whole repeat less that.
    assert least_length(kinds, 1000, repeat=(1000, 0)) == (900 + min(at, 1000 - at), REPEAT)


def test_one_may_come_after_another_and_yet_reach_back_over_it() -> None:
    # Its arm lies above the box, its body, 50 further on, behind it.
    armed = Polygon.of([(50, 0), (60, 0), (60, 60), (0, 60), (0, 45), (50, 45)])
    assert beyond(box(40, 40), armed, Band(0, 0), 0) == -10


@pytest.mark.parametrize(("kinds", "asked"), [(8, True), (12, False)])
def test_too_many_orders_are_not_gone_through(kinds: int, asked: bool) -> None:
    # 8 x 2^8 choices are few enough, 12 x 2^12 are not.
    sizes = range(100, 100 + kinds)
    frame = Frame.framed([NestKind(1, (box(size, 60),)) for size in sizes], 100)
    assert in_a_row(frame) == (sum(sizes) if asked else 0)
