"""Bounds of a nest: never above what brute force finds, and at it where they claim a proof."""

from __future__ import annotations

from itertools import count
from random import Random

import pytest

from marker.geometry import Polygon, Rect
from marker.solver.nest import NestKind, Phase, ShapeRule, nest
from marker.solver.nest.bounds import LINED, PAIR, PLACED, REPEAT, ROW, least_length
from marker.solver.nest.frame import Frame
from marker.solver.nest.inrow import in_a_row
from marker.solver.nest.judge import apart
from marker.solver.nest.nearest import Band, apart_least, beyond, past_flaws

FINE = 40


def box(along: int, across: int) -> Polygon:
    return Polygon.of_rect(Rect(0, 0, along, across))


def outlines(random: Random, number: int, fine: int) -> list[Polygon]:
    """Small outlines, half of them hollow, corners at whole places times `fine`."""
    sketches = [
        [(0, 0), (4, 0), (3, 5), (1, 5)],
        [(0, 0), (3, 0), (4, 2), (3, 4), (0, 4), (2, 2)],
        [(0, 0), (2, 0), (2, 1), (1, 1), (1, 4), (0, 4)],
        [(0, 0), (5, 0), (5, 3), (4, 3), (4, 1), (1, 1), (1, 3), (0, 3)],
        [(0, 2), (3, 0), (6, 1), (4, 5)],
    ]
    return [
        Polygon.of((x * fine, y * fine) for x, y in random.choice(sketches)).turned(
            random.choice((0, 90, 180, 270))
        )
        for _ in range(number)
    ]


def lies(moving: Polygon, others: list[Polygon], x: int, band: Band, margin: int) -> bool:
    """Whether it lies apart from all others at an x and one of the heights."""
    return any(
        all(apart(other, moving.shifted(x, y), margin) for other in others)
        for y in range(band.low, band.high + 1)
    )


def test_nothing_comes_nearer_than_the_bounds_say() -> None:
    random, exact = Random(1), 0
    for _ in range(100):
        standing, moving = outlines(random, 2, 4)
        low = random.randint(-moving.box.across, standing.box.across - 1)
        band, margin = Band(low, low + random.randint(0, 3)), random.choice((0, 0, 1, 5))
        told = apart_least(standing, moving, band, margin)
        true = next(x for x in count() if lies(moving, [standing], x, band, margin))
        assert told <= true
        exact += told == true
    assert exact > 90


def test_no_flaw_is_passed_sooner_than_the_bound_says() -> None:
    random, exact = Random(3), 0
    flaws = [Rect(2, 8, 15, 17), Rect(23, 0, 28, 40)]
    zones = [Polygon.of_rect(flaw) for flaw in flaws]
    for _ in range(50):
        (outline,) = outlines(random, 1, 4)
        low, start = random.randint(0, 20), random.randint(0, 9)
        band = Band(low, low + random.randint(0, 4))
        told = past_flaws(outline, band, flaws, start)
        true = next(x for x in count(start) if lies(outline, zones, x, band, 0))
        assert told <= true
        exact += told == true
    assert exact > 45


def test_one_comes_after_the_other_no_nearer_than_the_bound_says() -> None:
    random, exact = Random(2), 0
    for _ in range(60):
        standing, moving = (
            Polygon.of([(0, 0), (a, 0), (b, 24), (c, 24)]).turned(0)
            for a, b, c in (
                (random.randint(5, 36), random.randint(16, 36), random.randint(0, 9)) for _ in "ab"
            )
        )
        band = Band(-random.randint(0, 4), random.randint(0, 4))
        far = standing.box.along + moving.box.along
        free = [lies(moving, [standing], x, band, 0) for x in range(-far, far + 1)]
        # between the moves before and those beyond there is a stretch that is barred
        after = free.index(True, free.index(False)) - far
        told = beyond(standing, moving, band, 0)
        assert told is not None
        assert told <= after
        exact += told == after
    assert exact > 50


def test_what_passes_by_need_not_come_after() -> None:
    assert beyond(box(40, 40), box(40, 40), Band(-40, 39), 0) is None
    assert beyond(box(40, 40), box(40, 40), Band(-39, 39), 0) == 40
    # a margin keeps them from passing
    assert beyond(box(40, 40), box(40, 40), Band(-40, 40), 3) == 43


@pytest.mark.parametrize("seed", range(6))
def test_two_pieces_are_proved(seed: int) -> None:
    random = Random(seed)
    kinds = [NestKind(1, (outline, outline.turned(180))) for outline in outlines(random, 2, FINE)]
    width = max(kind.shapes[0].box.across for kind in kinds) + random.randint(0, 2 * FINE)
    found = nest(kinds, width, iterations=600)
    assert found.proved, (found.length, found.bound)


def test_gores_in_a_row_are_proved() -> None:
    # 6 gores, head to tail: each next one costs the mean of its two ends
    gore = Polygon.of([(0, 0), (900, 0), (650, 1600), (250, 1600)])
    kinds = [NestKind(6, (gore, gore.turned(180)))]
    found = nest(kinds, 1600, iterations=300)
    assert found.bound_by == ROW
    assert found.length == found.bound == 6 * 650 + 250
    # a wider cloth lets them slide past one another, and the row is shorter
    assert least_length(kinds, 1700)[0] < found.bound
    # on one-way cloth all lie alike
    assert least_length([NestKind(6, (gore,))], 1600) == (6 * 900, ROW)


def test_matched_panels_follow_at_whole_repeats() -> None:
    rule = ShapeRule(matches=(Phase("waist", "along"),))
    kinds = [NestKind(4, (box(900, 600),), (rule,))]
    # four in a row, the next place after 900 is at 960
    assert least_length(kinds, 1100, repeat=(320, 0)) == (3 * 960 + 900, ROW)
    assert nest(kinds, 1100, repeat=(320, 0), iterations=100).proved


def test_the_repeat_alone_may_hold_up_a_piece() -> None:
    # 400 beyond the one's waist, the other's: one of them can't begin at the end of the cloth
    kinds = [
        NestKind(3, (box(900, 100),), (ShapeRule(matches=(Phase("waist", "along", at),)),))
        for at in (0, 400)
    ]
    # at 0 and 600 of a repeat of 1000, or at 400 and 0
    assert least_length(kinds, 1000, repeat=(1000, 0)) == (1300, REPEAT)
    assert nest(kinds, 1000, repeat=(1000, 0), iterations=100).proved


def test_pieces_on_the_fold_are_in_each_others_way() -> None:
    pinned = ShapeRule(across=(0, 0))
    wedge = Polygon.of([(0, 0), (700, 0), (300, 200), (200, 200)])
    kinds = [NestKind(3, (wedge,), (pinned,)), NestKind(1, (box(10, 10),))]
    assert least_length(kinds, 1000)[0] == 3 * 700
    hollow = Polygon.of([(0, 0), (700, 0), (300, 200), (600, 400), (0, 400)])
    length, words = least_length([NestKind(3, (hollow,), (pinned,))], 1000)
    assert words in (LINED, ROW)
    assert 3 * 690 < length <= 3 * 700


def test_a_flaw_may_hold_up_a_piece() -> None:
    kinds = [NestKind(1, (box(900, 300),))]
    flaws = [Rect(100, 250, 200, 750)]
    assert least_length(kinds, 1000, flaws=flaws) == (1100, PLACED)
    found = nest(kinds, 1000, flaws=flaws, iterations=100)
    assert found.proved
    assert found.bound_by == PLACED


def test_two_that_just_cannot_pass() -> None:
    # 600 + 500 across: they only pass where the slanted ends give way
    wedge = Polygon.of([(0, 0), (1000, 0), (1000, 600), (600, 600)])
    kinds = [NestKind(1, (wedge,)), NestKind(1, (box(800, 500),))]
    length, words = least_length(kinds, 1000)
    # box above, before the slope: from 0 to 800 at heights 500 to 1000; slope is 500 up at x + 333
    assert words == PAIR
    assert nest(kinds, 1000, iterations=1200).length == length


def test_hollow_pieces_have_no_order() -> None:
    hook = Polygon.of([(0, 0), (5, 0), (5, 3), (4, 3), (4, 1), (1, 1), (1, 3), (0, 3)])
    assert in_a_row(Frame.framed([NestKind(2, (hook.turned(90),))], 5)) == 2 * 3
    # lying on its back, a line along the cloth meets it twice
    assert in_a_row(Frame.framed([NestKind(2, (hook,))], 3)) == 0
