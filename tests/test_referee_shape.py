"""The referee on a piece's own polygon and on distances, held to slow counts and a library."""

from __future__ import annotations

import math
import time
from collections.abc import Callable, Iterator
from dataclasses import replace
from fractions import Fraction
from itertools import product

import pytest
import shapely
from curved_lays import HALF_MOON, KITE, WEDGE, slanted, wedges
from hypothesis import given, settings
from hypothesis import strategies as st
from outlines import dense, ring, seen
from random_curved import shapes

from marker.errors import BadInput
from marker.geometry import Cubic, Line, Outline, Polygon, Rect
from marker.geometry.shapes import circle_panel, gore, rectangle
from marker.lay import Lay
from marker.piece import Piece
from marker.referee import findings
from marker.referee.apart import too_close
from marker.referee.laid import Laid, drawn_round
from marker.referee.shape import is_symmetric, measured, round_faults, same_ring, spots
from marker.units import CM

PIECE = wedges().pieces[0]


@settings(max_examples=40)
@given(st.deferred(lambda: st.sampled_from(shapes())))
def test_the_tools_own_polygons_are_round_their_outlines(outline: Outline) -> None:
    assert list(round_faults(outline, spots(outline), outline.flatten())) == []
    turned = outline.turned(45)
    assert list(round_faults(outline, spots(turned), turned.flatten())) == []


@settings(max_examples=15)
@given(st.deferred(lambda: st.sampled_from(shapes())))
def test_spots_lie_on_the_outline_and_no_chord_strays(outline: Outline) -> None:
    line = shapely.LinearRing(dense(outline, 2000))
    found = spots(outline)
    assert max(line.distance(shapely.Point(spot)) for spot in found) < 0.5
    chords = shapely.LinearRing(found)
    assert max(chords.distance(shapely.Point(spot)) for spot in dense(outline, 50)) < 1.01


def bumped(polygon: Polygon, by: int) -> Polygon:
    """A polygon with a narrow spike on its longest side, so much outwards or inwards."""
    points = list(polygon.points)
    sides = list(zip(points, points[1:] + points[:1], strict=True))
    at = max(range(len(sides)), key=lambda i: math.dist(*sides[i]))
    (ax, ay), (bx, by_) = sides[at]
    size = math.dist((ax, ay), (bx, by_))
    ux, uy = (bx - ax) / size, (by_ - ay) / size
    mx, my = (ax + bx) / 2, (ay + by_) / 2
    spike = [(mx - 30 * ux, my - 30 * uy), (mx + by * uy, my - by * ux),
             (mx + 30 * ux, my + 30 * uy)]  # fmt: skip
    rounded = [(round(x), round(y)) for x, y in spike]
    return Polygon.of([*points[: at + 1], *rounded, *points[at + 1 :]])


def chords(outline: Outline) -> Polygon:
    """A polygon of points on the outline, rounded down: it cuts into bulges and corners."""
    return Polygon.of((math.floor(x), math.floor(y)) for x, y in spots(outline)[::2])


def boxed(polygon: Polygon, by: int) -> Polygon:
    """The box of a polygon, larger by so much on every side."""
    box = polygon.box
    return Polygon.of_rect(Rect(box.x0 - by, box.y0 - by, box.x1 + by, box.y1 + by))


def notched() -> Outline:
    """A square with a slit from the middle of one side."""
    return Outline.through([(0, 0), (CM, 0), (CM, 790), (200, 800), (CM, 810), (CM, CM), (0, CM)])


OUT = "reaches out of the polygon that is laid for it"
WITHIN = "lies more than 0.1 mm within the polygon that is laid for it"
LARGER = "square units larger than itself"


@pytest.mark.parametrize(
    ("outline", "spoil", "told"),
    [
        (WEDGE, lambda p: bumped(p, 19), [WITHIN]),
        (WEDGE, lambda p: bumped(p, 16), []),
        (WEDGE, lambda p: bumped(p, -3), [OUT, LARGER]),
        (HALF_MOON, lambda p: bumped(p, 40), [WITHIN]),
        (HALF_MOON, lambda p: p.shifted(1, 0), [OUT]),
        (HALF_MOON, lambda p: p.shifted(-40, 0), [OUT, WITHIN]),
        # A polygon of chords lies within the disc.
        (HALF_MOON, lambda _: chords(HALF_MOON), [OUT, LARGER]),
        # A box 0.1 mm larger all round is the most that is allowed; one of 17 units is not.
        (rectangle(30 * CM, 20 * CM), lambda p: boxed(p, 11), []),
        (rectangle(30 * CM, 20 * CM), lambda p: boxed(p, 17), [WITHIN, LARGER]),
        # Every corner within reach, and yet the sides of a hollow filled up.
        (notched(), lambda p: Polygon.of_rect(p.box), [WITHIN]),
    ],
)
def test_a_polygon_that_is_off_is_told(
    outline: Outline, spoil: Callable[[Polygon], Polygon], told: list[str]
) -> None:
    found = list(round_faults(outline, spots(outline), spoil(outline.flatten())))
    assert len(found) == len(told)
    for sentence, part in zip(found, told, strict=True):
        assert part in sentence


@pytest.fixture
def fresh() -> Iterator[None]:
    """No polygon kept from another test, and none left for the next."""
    drawn_round.cache_clear()
    yield
    drawn_round.cache_clear()


@pytest.mark.usefixtures("fresh")
def test_a_slip_in_flattening_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    lay, tilted = wedges(), slanted()
    monkeypatch.setattr(Outline, "flatten", chords)
    told = findings(lay)
    assert any(sentence.startswith(f"Piece C {OUT}") for sentence in told)
    assert any(sentence.startswith(f"Piece S, on the bias, {OUT}") for sentence in findings(tilted))


@pytest.mark.usefixtures("fresh")
@pytest.mark.parametrize(
    ("make", "sentence"),
    [
        (wedges, "No polygon of whole units can be drawn round piece A."),
        (slanted, "No polygon of whole units can be drawn round piece S on the bias."),
    ],
)
def test_an_outline_too_fine_to_draw_round_is_told(
    make: Callable[[], Lay], sentence: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    lay = make()
    whole = Outline.flatten

    def fails(outline: Outline) -> Polygon:
        if make is wedges or outline.segments[1].start[0] % 1:
            raise BadInput("too fine")
        return whole(outline)

    monkeypatch.setattr(Outline, "flatten", fails)
    assert sentence in findings(lay)


@pytest.mark.parametrize(
    ("outline", "even"),
    [
        (KITE, True),
        (HALF_MOON, True),
        (WEDGE, False),
        (gore(14 * CM, 42 * CM, 82 * CM), True),
        (circle_panel(70 * CM, 60 * CM, 0.5, 2), True),
        # A side out by half a millimetre; one out by as little as two polygons may differ.
        (Outline.through([(0, 10 * CM), (20 * CM, 0), (40 * CM, 10 * CM), (20 * CM + 80, 20 * CM)]),
         False),
        (Outline.through([(0, 10 * CM), (20 * CM, 0), (40 * CM, 10 * CM), (20 * CM + 9, 20 * CM)]),
         True),
    ],
)  # fmt: skip
def test_what_folds_is_even(outline: Outline, even: bool) -> None:
    piece = Piece.shaped("A", "piece", outline, 1, "main", folds=True)
    told = findings(replace(wedges(), pieces=(piece, *wedges().pieces[1:])))
    assert any("is said to fold" in sentence for sentence in told) != even
    assert piece.outline is not None
    assert is_symmetric(spots(piece.outline), piece.breadth) == even


@settings(max_examples=60)
@given(st.integers(0, 10**6), st.integers(0, 10**6))
def test_inside_and_distance_agree_with_another_library(seed: int, other: int) -> None:
    polygon = ring(seed, 40)
    points = [(float(x), float(y)) for x, y in ring(other, 50).points]
    points += [(x + 0.5, y - 0.25) for x, y in points]
    shape = seen(polygon)
    for spot, inside, near in measured(points, polygon.points, 6.0):
        away = shape.exterior.distance(shapely.Point(spot))
        assert near == pytest.approx(away) if away <= 6 else near == math.inf
        if away > 0:
            assert inside == shape.contains(shapely.Point(spot))


def square_of_distance(one: Polygon, other: Polygon) -> Fraction:
    """Exact least square of a distance between corners and sides, the slow way."""

    def gap(point: tuple[int, int], a: tuple[int, int], b: tuple[int, int]) -> Fraction:
        ux, uy, px, py = b[0] - a[0], b[1] - a[1], point[0] - a[0], point[1] - a[1]
        part = min(Fraction(1), max(Fraction(0), Fraction(px * ux + py * uy, ux * ux + uy * uy)))
        return (px - part * ux) ** 2 + (py - part * uy) ** 2

    def sides(polygon: Polygon) -> list[tuple[tuple[int, int], tuple[int, int]]]:
        points = polygon.points
        return list(zip(points, points[1:] + points[:1], strict=True))

    return min(
        gap(corner, *side)
        for first, second in ((one, other), (other, one))
        for corner, side in product(first.points, sides(second))
    )


def loose(polygon: Polygon | None, rect: Rect) -> Laid:
    return Laid("A-1", PIECE, 0, False, rect, polygon, (1, 0, 0, 1), (0, 0))


@settings(max_examples=200)
@given(
    st.integers(0, 10**6), st.integers(0, 10**6), st.integers(-24, 24), st.integers(-24, 24),
    st.integers(1, 12), st.booleans(), st.booleans(),
)  # fmt: skip
def test_margins_agree_with_a_slow_count(
    seed: int, other: int, dx: int, dy: int, margin: int, straight: bool, both: bool
) -> None:
    first, second = ring(seed, 12), ring(other, 12).shifted(dx, dy)
    if straight:
        first = Polygon.of_rect(first.box)
    if both:
        second = Polygon.of_rect(second.box)
    laid = [
        loose(None if plain else polygon, polygon.box)
        for polygon, plain in ((first, straight), (second, both))
    ]
    apart = not seen(first).intersection(seen(second)).area
    slow = apart and square_of_distance(first, second) < margin * margin
    assert bool(list(too_close(laid, margin))) == slow


@pytest.mark.parametrize(("margin", "close"), [(4, False), (5, False), (6, True)])
def test_a_margin_is_kept_square_to_a_slant(margin: int, close: bool) -> None:
    # The slant runs 40 along and 30 across; (17, 19) lies 5 off its middle.
    slant = Polygon.of([(0, 0), (40, 0), (40, 30)])
    pocket = Rect(7, 19, 17, 29)
    pair = [loose(slant, slant.box), loose(None, pocket)]
    assert bool(list(too_close(pair, margin))) == close
    assert bool(list(too_close(pair[::-1], margin))) == close


def test_rings_alike_to_two_tenths_are_one() -> None:
    points = [(float(x), float(y)) for x, y in WEDGE.flatten().points]
    assert same_ring(points, points[2:] + points[:2])
    assert same_ring(points, [(x + 20, y + 20) for x, y in points])
    assert not same_ring(points, [(x + 40, y) for x, y in points])
    # The other corner cut off: every place of neither ring lies near the other.
    assert not same_ring(points, [(x, 50 * CM - y) for x, y in points])
    # A ring within another's sides, but not the other way about.
    assert not same_ring(points, [*points[:3], (0.0, 20.0 * CM)])


def test_an_outline_of_thousands_of_curves_is_looked_at_in_good_time() -> None:
    count = 2000
    ring_of = [
        (400 * CM * math.cos(math.tau * k / count), 400 * CM * math.sin(math.tau * k / count))
        for k in range(count)
    ]
    outline = Outline(
        tuple(
            Cubic(a, a, b, b) if k % 2 else Line(a, b)
            for k, (a, b) in enumerate(zip(ring_of, ring_of[1:] + ring_of[:1], strict=True))
        )
    )
    polygon = outline.flatten()
    started = time.process_time()
    assert list(round_faults(outline, spots(outline), polygon)) == []
    assert time.process_time() - started < 1
