"""The parts of the nest held against another library: no-fit polygons, judgement, half-planes."""

from __future__ import annotations

import os
import signal
from math import hypot
from random import Random
from threading import Thread
from time import monotonic, process_time
from types import FrameType

import numpy as np
import pytest
import shapely
from outlines import star

from marker.geometry import Polygon, Rect
from marker.geometry.segments import edges
from marker.solver.nest import NestKind, crew, nest
from marker.solver.nest.corridors import planes
from marker.solver.nest.discs import discs
from marker.solver.nest.frame import Frame
from marker.solver.nest.judge import apart, clashes, sound
from marker.solver.nest.kernel import clearance, compiled
from marker.solver.nest.nofit import no_fit, tables
from marker.solver.nest.spots import slope
from marker.solver.nest.task import Layout, Task
from marker.solver.stop import asked, listening

ROUNDING = 1.5
"""How far a corner of a no-fit polygon may lie from its true place, in units."""


def comb(teeth: int, pitch: int, depth: int) -> Polygon:
    """An outline with teeth, between which others of its kind fit without play."""
    points = [(0, 0), (2 * teeth * pitch, 0)]
    for at in range(2 * teeth, 0, -1):
        level = 2 * depth if at % 2 else depth
        points += [(at * pitch, level), ((at - 1) * pitch, level)]
    return Polygon.of(points)


def pairs(seed: int, count: int) -> list[tuple[Polygon, Polygon]]:
    random = Random(seed)
    shapes = [comb(3, 1000, 1500), comb(2, 1000, 700).turned(180)]
    shapes += [star(random, random.randint(5, 9), random.randint(2000, 9000)) for _ in range(count)]
    return [(random.choice(shapes), random.choice(shapes)) for _ in range(count)]


def moves(random: Random, standing: Polygon, moving: Polygon) -> list[tuple[int, int]]:
    """Moves by lot, and others that set a corner of one on a corner of the other."""
    free = [
        (
            random.randint(-moving.box.x1, standing.box.x1),
            random.randint(-moving.box.y1, standing.box.y1),
        )
        for _ in range(20)
    ]
    corners = [
        (a[0] - b[0], a[1] - b[1])
        for a, b in zip(
            random.choices(standing.points, k=20), random.choices(moving.points, k=20), strict=True
        )
    ]
    return free + corners


def shape(polygon: Polygon, x: int = 0, y: int = 0) -> shapely.Polygon:
    return shapely.Polygon(polygon.shifted(x, y).points)


def test_no_fit_polygons_say_who_overlaps() -> None:
    random, seen = Random(5), {True: 0, False: 0}
    for standing, moving in pairs(1, 120):
        fits = tables([standing, moving])
        a, b = int(fits.start[0, 1]), int(fits.end[0, 1])
        for x, y in moves(random, standing, moving):
            shared = shape(standing).intersection(shape(moving, x, y)).area
            deep = -float(clearance(fits.edges, a, b, np.float32(x), np.float32(y)))
            if abs(deep) > ROUNDING:
                assert (deep > 0) == (shared > 0), (standing, moving, x, y)
            assert (shared > 0) == standing.overlaps(moving.shifted(x, y))
            seen[shared > 0] += 1
    assert min(seen.values()) > 500


def test_no_fit_polygons_touch_all_along_their_edge() -> None:
    for standing, moving in pairs(2, 40):
        for ring in no_fit(standing, moving):
            for (ax, ay), (bx, by) in edges(ring):
                x, y = (ax + bx) // 2, (ay + by) // 2
                gone = shape(standing).distance(shape(moving, x, y))
                assert gone <= ROUNDING
                shared = shape(standing).intersection(shape(moving, x, y))
                # no deeper than rounding goes
                assert shared.buffer(-ROUNDING).is_empty


def test_the_slope_leads_out_by_the_shortest_way() -> None:
    random = Random(7)
    for standing, moving in pairs(3, 60):
        fits = tables([standing, moving])
        a, b = int(fits.start[0, 1]), int(fits.end[0, 1])
        for x, y in moves(random, standing, moving):
            away = np.zeros(b - a, np.float32)
            room, nx, ny = slope(fits.edges, a, b, float(x), float(y), 1e9, away)
            assert hypot(nx, ny) == pytest.approx(1)
            if room < -1:
                out = clearance(
                    fits.edges, a, b, np.float32(x - room * nx), np.float32(y - room * ny)
                )
                assert abs(float(out)) < 0.1


def test_half_planes_keep_a_pair_apart() -> None:
    random, tried = Random(11), 0
    for standing, moving in pairs(4, 60):
        width = 100_000
        task = Task.of(Frame.framed([NestKind(1, (standing,)), NestKind(1, (moving,))], width))
        for x, y in moves(random, standing, moving):
            if standing.overlaps(moving.shifted(x, y)):
                continue
            place = np.array([20_000.0, 20_000.0 + x]), np.array([20_000.0, 20_000.0 + y])
            state = task.state(Layout(0.0, *place, np.array([0, 1]), np.zeros(0)), 0)
            out, reach = np.zeros((99, 5)), 300.0
            rows = out[: planes(task.table, state, reach, np.zeros((200, 6)), out)]
            for _ in range(10):
                dx, dy = random.randint(x - 600, x + 600), random.randint(y - 600, y + 600)
                if all(nx * dx + ny * dy >= c + ROUNDING for _, _, nx, ny, c in rows):
                    assert not standing.overlaps(moving.shifted(dx, dy))
                    tried += 1
            assert all(nx * x + ny * y >= c - ROUNDING for _, _, nx, ny, c in rows)
    assert tried > 1000


def test_the_judgement_measures_margins_exactly() -> None:
    near = Polygon.of([(0, 0), (30, 0), (30, 40), (0, 40)])
    far = Polygon.of([(0, 0), (40, 30), (0, 60)])
    assert apart(near, far.shifted(130, 0), 100)
    assert not apart(near, far.shifted(130, 0), 101)
    # corner to corner: 30 along and 40 across are 50 away
    assert apart(near, near.shifted(60, 80), 50)
    assert not apart(near, near.shifted(60, 79), 50)
    # corner (30, 0) to the slanted side, 50 long: 1,500 / 50 = 30 away
    slanted = Polygon.of([(0, -50), (40, -80), (40, -50)])
    assert shape(near).distance(shape(slanted)) == pytest.approx(50)
    random = Random(3)
    for first, second in pairs(5, 60):
        for x, y in moves(random, first, second):
            gone = shape(first).distance(shape(second, x, y))
            if not first.overlaps(second.shifted(x, y)):
                assert apart(first, second.shifted(x, y), int(gone))
                assert not apart(first, second.shifted(x, y), int(gone) + 1)


def test_the_judgement_sees_every_fault() -> None:
    square = Polygon.of_rect(Rect(0, 0, 10, 10))
    good = [square, square.shifted(10, 0), square.shifted(0, 10)]
    assert sound(good, 20)
    assert not sound(good, 19)
    assert not sound([*good, square.shifted(-1, 0).shifted(30, 0).shifted(-30, 0)], 20)
    assert not sound([*good, square.shifted(19, 10).shifted(-10, 0)], 20)
    assert not sound(good, 20, margin=1)
    assert sound(good, 20, flaws=[Rect(10, 10, 20, 20)])
    assert not sound(good, 20, flaws=[Rect(9, 9, 20, 20)])
    # the flaw is counted on from the last outline, and has no margin
    assert list(clashes(good[:1], 5, [Rect(10, 0, 20, 10)])) == []
    assert list(clashes(good[:2], 0, [Rect(19, 0, 20, 10)])) == [(1, 2)]


def test_kernels_compile_where_nothing_can_be_kept() -> None:
    def twice(x: int) -> int:
        return 2 * x

    # a function of no file has no place where its compiled form could be kept
    twice.__code__ = twice.__code__.replace(co_filename="<nowhere>")
    assert compiled()(twice)(21) == 42


def work_of_one(kinds: list[NestKind]) -> float:
    """Processor seconds that one round of a nest takes, compiled."""
    nest(kinds, 20_000, iterations=1)
    began = process_time()
    nest(kinds, 20_000, iterations=1)
    return process_time() - began


@pytest.mark.slow
def test_an_interrupt_keeps_the_best_nest() -> None:
    """Interrupted after so much work, not time: a busy machine gets as far as an idle one."""
    kinds = [NestKind(3, (star(Random(at), 6, 5000),)) for at in range(4)]
    work = work_of_one(kinds)

    def interrupt(_signal: int, _frame: FrameType | None) -> None:
        raise KeyboardInterrupt

    before = signal.signal(signal.SIGPROF, interrupt)
    began = monotonic()
    try:
        signal.setitimer(signal.ITIMER_PROF, 0.2 + 1.5 * work)
        nested = nest(kinds, 20_000, seconds=240)
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)
        signal.signal(signal.SIGPROF, before)
    assert nested.stopped
    assert monotonic() - began < 120
    assert sound(list(nested.outlines(kinds)), 20_000)
    assert nested.length < nest(kinds, 20_000, iterations=0).length


@pytest.mark.slow
def test_a_wish_to_stop_ends_this_nest_and_those_to_come() -> None:
    kinds = [NestKind(3, (star(Random(at), 6, 5000),)) for at in range(4)]
    quick = nest(kinds, 20_000, iterations=1)
    work = work_of_one(kinds)

    def interrupt(_signal: int, _frame: FrameType | None) -> None:
        os.kill(os.getpid(), signal.SIGINT)

    before = signal.signal(signal.SIGPROF, interrupt)
    began = monotonic()
    try:
        with listening():
            signal.setitimer(signal.ITIMER_PROF, 0.2 + 1.5 * work)
            first = nest(kinds, 20_000, seconds=240)
            assert asked()
            second = nest(kinds, 20_000, seconds=240)
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)
        signal.signal(signal.SIGPROF, before)
    assert first.stopped
    assert second.stopped
    assert monotonic() - began < 120
    assert first.length < quick.length
    assert sound(list(second.outlines(kinds)), 20_000)
    assert not asked()


def test_a_wish_to_stop_while_hands_are_set_to_work_keeps_the_best_nest(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    class Struck(Thread):
        def start(self) -> None:
            os.kill(os.getpid(), signal.SIGINT)
            super().start()

    kinds = [NestKind(2, (star(Random(at), 6, 5000),)) for at in range(2)]
    monkeypatch.setattr(crew, "Thread", Struck)
    monkeypatch.setattr(crew, "HANDS", 1)
    with listening():
        nested = nest(kinds, 20_000, seconds=240)
    assert nested.stopped
    assert sound(list(nested.outlines(kinds)), 20_000)


def test_a_disc_never_overstates_a_bite() -> None:
    random, told = Random(13), 0
    for standing, moving in pairs(6, 60):
        fits = tables([standing, moving])
        a, b = int(fits.start[0, 1]), int(fits.end[0, 1])
        x0, y0, radius = discs(fits.edges, fits.start, fits.end, fits.sizes)[0, 1].tolist()
        for x, y in moves(random, standing, moving):
            deep = -float(clearance(fits.edges, a, b, np.float32(x), np.float32(y)))
            sure = radius - hypot(x - x0, y - y0)
            assert sure <= max(0.0, deep) + 0.1
            told += sure > 0
    assert told > 200
