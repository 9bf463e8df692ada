"""Nests of small cases with known optima, by rules, and the same for the same seed."""

from __future__ import annotations

import pytest
import shapely

from marker.errors import BadInput, CannotLay
from marker.geometry import Polygon, Rect
from marker.solver.nest import Nested, NestKind, nest

SIDE = 16_000


def box(along: int, across: int) -> Polygon:
    return Polygon.of_rect(Rect(0, 0, along, across))


def kind(count: int, *points: tuple[int, int], turns: tuple[int, ...] = (0, 180)) -> NestKind:
    outline = Polygon.of((x * SIDE, y * SIDE) for x, y in points)
    return NestKind(count, tuple(outline.turned(turn) for turn in turns))


TRIANGLE = kind(2, (0, 0), (1, 0), (0, 1))
ELL = kind(2, (0, 0), (2, 0), (2, 1), (1, 1), (1, 3), (0, 3))
"""Two of them, one turned half round, fill 3 by 3 but for a hole of 1 by 1."""
LEAF = kind(5, (0, 1), (2, 0), (5, 0), (6, 2), (3, 4), (1, 3))
CRESCENT = kind(4, (0, 0), (3, 0), (4, 2), (3, 4), (0, 4), (2, 2))


def laid(
    kinds: list[NestKind], nested: Nested, width: int, margin: int = 0, flaws: tuple[Rect, ...] = ()
) -> list[shapely.Polygon]:
    """The outlines of a nest as another library sees them, all that is asked of them checked."""
    assert sorted(spot.kind for spot in nested.spots) == [
        at for at, kind in enumerate(kinds) for _ in range(kind.count)
    ]
    found = [shapely.Polygon(outline.points) for outline in nested.outlines(kinds)]
    cloth = shapely.box(0, 0, nested.length, width)
    assert all(cloth.covers(outline) for outline in found)
    assert max(outline.bounds[2] for outline in found) == nested.length
    zones = [shapely.box(*(flaw.x0, flaw.y0, flaw.x1, flaw.y1)) for flaw in flaws]
    for at, outline in enumerate(found):
        assert not any(outline.intersection(zone).area > 0 for zone in zones)
        for other in found[:at]:
            assert outline.intersection(other).area < 1
            assert outline.distance(other) >= margin - 1e-6
    assert nested.bound <= nested.length
    return found


@pytest.mark.parametrize(
    ("kinds", "width", "length"),
    [
        ([TRIANGLE], SIDE, SIDE),
        ([ELL], 3 * SIDE, 3 * SIDE),
        ([NestKind(3, (box(500, 300),)), NestKind(1, (box(100, 900),))], 900, 600),
        ([NestKind(1, (box(700, 300), box(300, 700)))], 700, 300),
        ([NestKind(1, (box(700, 300), box(300, 700)))], 699, 700),
        ([NestKind(7, (box(1000, 600),))], 1000, 7000),
    ],
    ids=["triangles", "ells", "bricks", "turned", "not turned", "wide"],
)
def test_small_nests_are_best(kinds: list[NestKind], width: int, length: int) -> None:
    nested = nest(kinds, width, iterations=3000)
    laid(kinds, nested, width)
    assert nested.length == length


@pytest.mark.parametrize(
    ("kinds", "width", "bound"),
    [
        # the second wedge fills up the first; the third can only follow, corner to corner
        ([kind(3, (0, 0), (1, 0), (0, 1))], SIDE, 2 * SIDE),
        # pieces wider than half the cloth can't lie beside one another
        ([NestKind(4, (box(900, 501),))], 1000, 3600),
        ([NestKind(4, (box(900, 500),))], 1000, 1800),
        ([NestKind(1, (box(900, 500),)), NestKind(1, (box(10, 10),))], 1000, 900),
    ],
)
def test_bounds_of_the_length(kinds: list[NestKind], width: int, bound: int) -> None:
    assert nest(kinds, width, iterations=0).bound == bound


def test_a_nest_is_the_same_for_the_same_seed() -> None:
    kinds = [LEAF, CRESCENT]
    first, again, other = (nest(kinds, 8 * SIDE, iterations=200, seed=s) for s in (1, 1, 2))
    laid(kinds, first, 8 * SIDE)
    assert first == again
    assert first != other


def test_a_margin_is_kept() -> None:
    kinds = [LEAF, CRESCENT, TRIANGLE]
    laid(kinds, nest(kinds, 8 * SIDE, margin=777, iterations=200), 8 * SIDE, margin=777)


def test_flaws_are_left_alone() -> None:
    kinds = [NestKind(6, (box(1000, 500),))]
    flaws = (Rect(900, 0, 1100, 1000), Rect(2600, 400, 2700, 600))
    nested = nest(kinds, 1000, flaws=flaws, iterations=500)
    laid(kinds, nested, 1000, flaws=flaws)
    assert nested.length == 4700


def test_a_start_is_never_lost() -> None:
    kinds = [LEAF, CRESCENT]
    good = nest(kinds, 8 * SIDE, iterations=500)
    assert nest(kinds, 8 * SIDE, iterations=0, start=good.spots).length <= good.length
    moved = (*good.spots[:-1], good.spots[0])
    laid(kinds, nest(kinds, 8 * SIDE, iterations=0, start=moved), 8 * SIDE)


@pytest.mark.slow
def test_the_clock_is_kept() -> None:
    from time import monotonic, process_time

    nest([LEAF], 8 * SIDE, iterations=1)  # compiled by now
    began, work = monotonic(), process_time()
    nested = nest([LEAF, CRESCENT], 8 * SIDE, seconds=1)
    assert monotonic() - began > 0.5
    assert process_time() - work < 20  # in work, as a machine may be busy
    laid([LEAF, CRESCENT], nested, 8 * SIDE)


def test_what_cannot_be_nested() -> None:
    with pytest.raises(CannotLay, match="wider than the cloth"):
        nest([NestKind(1, (box(700, 300), box(300, 700)))], 299)
    with pytest.raises(BadInput, match="needs pieces"):
        nest([], 100)
    with pytest.raises(BadInput, match="against 0, 0"):
        NestKind(1, (box(10, 10).shifted(1, 0),))
