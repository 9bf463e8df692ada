"""Outlines of lines, arcs and cubics: measures, motions, and the polygon drawn round them."""

from __future__ import annotations

import math

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from outlines import blob, blobs, dense, seen, shape

from marker.errors import BadInput
from marker.geometry import Arc, Cubic, Line, Outline, Polygon
from marker.geometry.curves import NOISE
from marker.geometry.flatten import chords
from marker.geometry.outline import TOLERANCE
from marker.geometry.shapes import gore, rectangle
from marker.units import CM, MM

HALF_DISC = Outline(
    (
        Line((-1000.0, 0.0), (1000.0, 0.0), "straight"),
        Arc((1000.0, 0.0), (-1000.0, 0.0), (0.0, 0.0), True, "round"),
    )
)


def test_lines_and_arcs_are_measured_in_closed_form() -> None:
    assert HALF_DISC.area == pytest.approx(math.pi * 1000**2 / 2, rel=1e-14)
    assert HALF_DISC.edge("round").length == pytest.approx(math.pi * 1000, rel=1e-14)
    assert HALF_DISC.length == pytest.approx((math.pi + 2) * 1000, rel=1e-14)
    assert HALF_DISC.box == pytest.approx((-1000, 0, 1000, 1000))


def test_a_cubic_is_measured_to_a_part_in_a_thousand_million() -> None:
    # The parabola y = x^2 from 0 to 1, as a cubic: its length is known in closed form.
    parabola = Cubic((0.0, 0.0), (1000 / 3, 0.0), (2000 / 3, 1000 / 3), (1000.0, 1000.0), "hem")
    made = Outline.of(
        [parabola, Line((1000.0, 1000.0), (0.0, 1000.0)), Line((0.0, 1000.0), (0.0, 0.0))]
    )
    known = 1000 * (math.sqrt(5) / 2 + math.asinh(2) / 4)
    assert made.edge("hem").length == pytest.approx(known, rel=1e-9)
    assert made.area == pytest.approx(1000**2 * 2 / 3, rel=1e-12)
    (x, y), (dx, dy) = made.edge("hem").at(known / 2)
    assert y == pytest.approx(x * x / 1000, abs=1e-6)
    assert dy / dx == pytest.approx(2 * x / 1000, rel=1e-9)
    assert parabola.length_to(x / 1000) == pytest.approx(known / 2, rel=1e-9)


def test_marks_are_found_at_a_length_along_an_edge() -> None:
    (x, y), (dx, dy) = HALF_DISC.edge("round").at(math.pi * 500)
    assert (x, y) == pytest.approx((0, 1000))
    assert (dx, dy) == pytest.approx((-1, 0))
    two = Outline.through([(0, 0), (300, 0), (300, 400), (0, 400)], ("a", "a", "b", "c"))
    assert two.edge("a").length == 700
    assert two.edge("a").at(500)[0] == (300, 200)
    assert two.edge("a").at(500)[1] == (0, 1)
    assert two.edge("a").at(700)[0] == (300, 400)
    with pytest.raises(BadInput, match="edge 'a' is"):
        two.edge("a").at(701)


def test_an_edge_that_runs_over_the_rings_start_is_one() -> None:
    made = Outline.through([(0, 0), (300, 0), (300, 400), (0, 400)], ("a", "b", "c", "a"))
    assert [edge.name for edge in made.edges] == ["a", "b", "c"]
    assert made.edge("a").at(0)[0] == (0, 400)


@pytest.mark.slow
@settings(max_examples=15)
@given(blobs(), st.floats(-400, 400))
def test_motions_keep_area_and_lengths_and_undo_each_other(made: Outline, angle: float) -> None:
    turned = made.turned(angle)
    assert turned.area == pytest.approx(made.area, rel=1e-9)
    assert turned.length == pytest.approx(made.length, rel=1e-9)
    assert made.mirrored().area == pytest.approx(made.area, rel=1e-12)
    for back in (
        turned.turned(-angle),
        made.mirrored().mirrored(),
        made.shifted(7, 9).shifted(-7, -9),
    ):
        for one, other in zip(dense(back, 5), dense(made, 5), strict=True):
            assert math.dist(one, other) < 1e-4
    Outline(turned.segments)
    Outline(made.mirrored().segments)


def test_quarter_turns_are_exact() -> None:
    made = rectangle(1123.25, 445.5)
    assert made.turned(90).turned(270) == made
    assert made.turned(180).box == (-1123.25, -445.5, 0, 0)


@settings(max_examples=20)
@given(blobs())
def test_the_box_holds_the_outline_and_no_more(made: Outline) -> None:
    x0, y0, x1, y1 = made.box
    tight = shapely.LinearRing(dense(made, 400)).bounds
    assert (x0, y0, x1, y1) == pytest.approx(tight, abs=1e-4 * (x1 - x0))
    assert x0 <= tight[0] + NOISE and y0 <= tight[1] + NOISE
    assert x1 >= tight[2] - NOISE and y1 >= tight[3] - NOISE


@pytest.mark.slow
@settings(max_examples=30)
@given(blobs(), st.sampled_from((6, TOLERANCE, 40)))
def test_the_polygon_holds_the_shape_and_lies_within_the_tolerance(
    made: Outline, tolerance: int
) -> None:
    try:
        polygon = made.flatten(tolerance)
    except BadInput as refused:
        # Only a slit or a detail as fine as the tolerance may be refused.
        assert "finer" in str(refused)
        return
    Polygon(polygon.points)
    drawn = seen(polygon)
    points = shapely.points(dense(made, 80))
    assert shapely.distance(drawn, points).max() <= 2 * NOISE
    true = shapely.Polygon(chords(made.segments, 0.02))
    corners = shapely.points(polygon.points)
    assert shapely.distance(true, corners).max() <= tolerance + 0.02
    excess = polygon.area2 / 2 - made.area
    assert 0 <= excess + NOISE * made.length < tolerance * drawn.length


def test_few_blobs_are_refused() -> None:
    made = [found for found in (blob(seed, 20_000.0) for seed in range(60)) if found]
    assert len(made) > 25
    for outline in made:
        outline.flatten()


def test_straight_edges_between_whole_places_stay_as_they_are() -> None:
    corners = ((0, 0), (1000, 3), (990, 700), (500, 400), (10, 707))
    assert Outline.through(corners).flatten().points == corners
    turned = rectangle(400, 300).turned(90).at_nought().flatten()
    assert turned.box.area * 2 == turned.area2 == 2 * 400 * 300


def test_a_quarter_circle_of_a_metre_takes_few_corners() -> None:
    polygon = gore(1.0, 160_000 * math.pi / 2, 160_000 - 2 / math.pi).flatten()
    assert len(polygon.points) < 70


def test_bulges_get_tangents_and_hollows_chords() -> None:
    polygon = HALF_DISC.flatten()
    assert all(x * x + y * y >= 1000**2 - 1 for x, y in polygon.points)
    hollow = Outline.of(
        [
            Line((-2000.0, -500.0), (2000.0, -500.0)),
            Line((2000.0, -500.0), (2000.0, 0.0)),
            Line((2000.0, 0.0), (1000.0, 0.0)),
            Arc((1000.0, 0.0), (-1000.0, 0.0), (0.0, 1500.0), False),
            Line((-1000.0, 0.0), (-2000.0, 0.0)),
            Line((-2000.0, 0.0), (-2000.0, -500.0)),
        ]
    )
    radius = math.hypot(1000, 1500)
    inner = [(x, y) for x, y in hollow.flatten().points if -990 < x < 990 and y > -400]
    assert inner
    assert all(math.dist(spot, (0, 1500)) <= radius + NOISE for spot in inner)


def test_a_fine_polyline_is_thinned_out_outwards() -> None:
    points = [
        (20_000 * math.cos(k * math.tau / 5000), 20_000 * math.sin(k * math.tau / 5000))
        for k in range(5000)
    ]
    made = Outline.through(points)
    polygon = made.flatten()
    assert len(polygon.points) < 200
    assert shapely.distance(seen(polygon), shapely.points(points)).max() <= 2 * NOISE
    assert max(math.hypot(x, y) for x, y in polygon.points) <= 20_000 + TOLERANCE


@pytest.mark.parametrize("angle", [2.0, 8.0, 30.0, 80.0])
def test_sharp_tips_and_slits_stay_within_the_tolerance(angle: float) -> None:
    rise = 5000.3 * math.tan(math.radians(angle / 2))
    tip = Outline.through([(0.2, 0.7), (5000.5, 0.7 - rise), (5000.5, 0.7 + rise)])
    slit = Outline.through(
        [(-900.4, -3000), (5000.5, -3000), (5000.5, 0.7 - rise), (0.2, 0.7), (5000.5, 0.7 + rise),
         (5000.5, 3000), (-900.4, 3000)]
    ) if angle < 60 else tip  # fmt: skip
    for made in (tip, slit):
        drawn = seen(made.flatten())
        true = shape(made)
        assert drawn.buffer(2 * NOISE).contains(true)
        reach = max(true.distance(shapely.Point(spot)) for spot in drawn.exterior.coords)
        assert reach <= TOLERANCE


def ring_of(*spots: tuple[float, float]) -> list[Line]:
    return [Line(a, b) for a, b in zip(spots, spots[1:] + spots[:1], strict=True)]


@pytest.mark.parametrize(
    ("segments", "complaint"),
    [
        ([], "empty"),
        ([Line((0, 0), (9e4, 0)), Line((9e4, 0), (0, 9e4))], "open by"),
        (ring_of((0, 0), (9e4, 0), (18e4, 0)), "next to nothing"),
        (ring_of((0, 0), (10, 0), (0, 10)), "next to nothing"),
        (ring_of((0, 0), (9e4, 9e4), (9e4, 0), (0, 9e4)), "itself near 281.2, 281.2 mm"),
        (ring_of((0, 0), (9e4, 0), (9e4, 9e4), (9e4, 9e4)), "no length"),
        (ring_of((0, 0), (9e4, 0), (9e4, 9e4), (9e4, 3e4)), "crosses or touches itself"),
        ([Cubic((0, 0), (9e4, 9e4), (-3e4, 9e4), (6e4, 0)), Line((6e4, 0), (0, 0))], "crosses"),
    ],
)  # fmt: skip
def test_outlines_that_are_no_piece_are_refused_in_a_sentence(
    segments: list[Line], complaint: str
) -> None:
    with pytest.raises(BadInput, match=complaint) as refused:
        Outline.of(segments)
    assert "\n" not in str(refused.value)


def test_arcs_that_cannot_reach_are_refused() -> None:
    with pytest.raises(BadInput, match=r"radius 10\.00 mm can't reach .* give it 15\.00 mm"):
        Arc.reaching((0, 0), (30 * MM, 0), 10 * MM, True)
    with pytest.raises(BadInput, match="can't reach"):
        Arc((0, 0), (30 * MM, 0), (10 * MM, 0))
    with pytest.raises(BadInput, match="two arcs"):
        Arc((0, 0), (0, 0), (10 * MM, 0))
    assert Arc.reaching((0, 0), (20 * MM, 0), 9.995 * MM, True).radius == pytest.approx(10 * MM)


@pytest.mark.parametrize("ccw", [True, False])
@pytest.mark.parametrize("large", [True, False])
def test_an_arc_between_two_points_takes_the_way_asked_for(ccw: bool, large: bool) -> None:
    arc = Arc.reaching((0.0, 0.0), (600.0, 800.0), 700.0, ccw, large)
    assert arc.radius == pytest.approx(700)
    assert (arc.sweep > 0) == ccw
    assert (abs(arc.sweep) > math.pi) == large


def test_a_clockwise_ring_is_refused_plainly_and_turned_round_by_of() -> None:
    ring = ring_of((0, 0), (0, 90), (90 * CM, 0))
    with pytest.raises(BadInput, match="clockwise"):
        Outline(tuple(ring))
    assert Outline.of(ring).area > 0
