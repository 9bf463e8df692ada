"""What shears leave over, and the straight cuts they make."""

from __future__ import annotations

from random import Random
from time import process_time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from marker.geometry import Rect
from marker.solver.shears import least_cuts, leftovers, straight_cuts


@st.composite
def lays(draw: st.DrawFn) -> tuple[Rect, Rect, list[Rect]]:
    """A bolt, its usable zone, and pieces in it that don't overlap."""
    squaring, rim = draw(st.integers(0, 2)), draw(st.integers(0, 2))
    bolt = Rect(-squaring, 0, draw(st.integers(4, 14)), 2 * rim + draw(st.integers(3, 10)))
    usable = Rect(0, rim, 0, bolt.y1 - rim)
    pieces: list[Rect] = []
    for _ in range(draw(st.integers(0, 7))):
        x = draw(st.integers(0, bolt.x1 - 1))
        y = draw(st.integers(usable.y0, usable.y1 - 1))
        piece = Rect(x, y, draw(st.integers(x + 1, bolt.x1)), draw(st.integers(y + 1, usable.y1)))
        if not any(piece.overlaps(other) for other in pieces):
            pieces.append(piece)
    return bolt, usable, pieces


def cells(rect: Rect) -> set[tuple[int, int]]:
    return {(x, y) for x in range(rect.x0, rect.x1) for y in range(rect.y0, rect.y1)}


def largest(free: set[tuple[int, int]]) -> int:
    """The area of the largest rectangle of free cells, by trying all."""
    best = 0
    for x, y in free:
        wide, x1 = 100, x
        while (x1, y) in free:
            run = 0
            while run < wide and (x1, y + run) in free:
                run += 1
            wide, x1 = run, x1 + 1
            best = max(best, wide * (x1 - x))
    return best


@settings(max_examples=150, derandomize=True, deadline=None)
@given(lays())
def test_leftovers_and_pieces_make_up_the_bolt(lay: tuple[Rect, Rect, list[Rect]]) -> None:
    bolt, usable, pieces = lay
    left = leftovers(bolt, pieces, usable)
    parts = [*pieces, *left]
    assert sum(part.area for part in parts) == bolt.area
    assert set().union(*map(cells, parts)) == cells(bolt)
    assert all(part.along > 0 and part.across > 0 for part in parts)


@settings(max_examples=80, derandomize=True, deadline=None)
@given(lays())
def test_each_leftover_is_the_largest_that_is_left(lay: tuple[Rect, Rect, list[Rect]]) -> None:
    bolt, usable, pieces = lay
    zone = Rect(0, usable.y0, bolt.x1, usable.y1)
    free = cells(zone).difference(*map(cells, pieces))
    for rect in leftovers(bolt, pieces, usable):
        if zone.holds(rect):
            assert rect.area == largest(free)
            free -= cells(rect)
    assert not free


def test_squaring_and_selvedges_are_left_over_last() -> None:
    bolt, usable = Rect(-3, 0, 10, 12), Rect(0, 1, 0, 11)
    left = leftovers(bolt, [Rect(0, 1, 6, 11)], usable)
    assert left == (Rect(6, 1, 10, 11), Rect(-3, 0, 0, 12), Rect(0, 0, 10, 1), Rect(0, 11, 10, 12))


def test_a_lay_of_300_pieces_is_parted_at_once() -> None:
    random = Random(3)
    pieces = [
        Rect(x, y, x + random.randint(300, 900), y + random.randint(300, 900))
        for x in range(0, 30_000, 1000)
        for y in range(0, 10_000, 1000)
    ]
    began = process_time()
    left = leftovers(Rect(0, 0, 30_000, 10_000), pieces, Rect(0, 0, 0, 10_000))
    assert process_time() - began < 6
    assert sum(rect.area for rect in (*pieces, *left)) == 300_000_000


@pytest.mark.parametrize(
    ("pieces", "cuts"),
    [
        # All the cloth: nothing to cut. One corner: two edges lie off the bolt's own.
        ([Rect(0, 0, 10, 10)], 0),
        ([Rect(0, 0, 4, 4)], 2),
        ([Rect(2, 2, 4, 4)], 4),
        # Edges that meet on one line are one cut, whichever side the pieces lie.
        ([Rect(0, 0, 5, 4), Rect(0, 4, 5, 10)], 2),
        ([Rect(0, 0, 5, 5), Rect(5, 5, 10, 10)], 2),
        # The same line with cloth between is cut twice.
        ([Rect(0, 0, 5, 2), Rect(0, 8, 5, 10)], 4),
        # Four pieces round a fifth, as no tear can part them: two cuts each way and no less.
        (
            [
                Rect(0, 0, 6, 4),
                Rect(6, 0, 10, 6),
                Rect(4, 6, 10, 10),
                Rect(0, 4, 4, 10),
                Rect(4, 4, 6, 6),
            ],
            4,
        ),
    ],
)
def test_straight_cuts_follow_lines(pieces: list[Rect], cuts: int) -> None:
    assert straight_cuts(Rect(0, 0, 10, 10), pieces) == cuts


@settings(max_examples=150, derandomize=True, deadline=None)
@given(lays())
def test_no_lay_takes_fewer_cuts_than_the_least(lay: tuple[Rect, Rect, list[Rect]]) -> None:
    bolt, _, pieces = lay
    assert straight_cuts(bolt, pieces) >= least_cuts(len(pieces))


def test_the_least_cuts_are_met_by_a_grid() -> None:
    assert [least_cuts(n) for n in (0, 1, 2, 3, 4, 5, 6, 7, 9, 10)] == [
        0,
        0,
        1,
        2,
        2,
        3,
        3,
        4,
        4,
        5,
    ]
    grid = [Rect(x, y, x + 1, y + 1) for x in range(4) for y in range(3)]
    assert straight_cuts(Rect(0, 0, 4, 3), grid) == least_cuts(12) == 5
