"""Charts of what a copy would cost, held against the no-fit polygons looked at one by one."""

from __future__ import annotations

from dataclasses import dataclass
from math import floor, hypot
from random import Random

import numpy as np
import pytest
from outlines import star

from marker.geometry import Polygon, Rect
from marker.solver.nest import NestKind, Phase, ShapeRule, nest
from marker.solver.nest.charts import CELLS, PARTS, ROOM, pitches
from marker.solver.nest.frame import Frame
from marker.solver.nest.kernel import State, Work, cost
from marker.solver.nest.moves import scatter
from marker.solver.nest.rounds import measure
from marker.solver.nest.tally import CLOSE, SLIGHT, begin, charted, keep_least, lay_chart
from marker.solver.nest.task import SPACIOUS, SPOTS, Layout, Task

WIDTH, LENGTH = 40_000, 60_000.0
FLAW = Rect(20_000, 10_000, 25_000, 14_000)


@dataclass(frozen=True)
class Scene:
    """Copies thrown on to cloth, with prices by lot."""

    task: Task
    state: State
    work: Work


def scene(seed: int, margin: int = 0, rules: tuple[ShapeRule, ...] = ()) -> Scene:
    random = Random(seed)
    kinds = []
    for _ in range(5):
        outline = star(random, random.randint(4, 9), random.randint(3000, 9000))
        kinds.append(NestKind(3, (outline, outline.turned(180)), rules))
    task = Task.of(Frame.framed(kinds, WIDTH, margin, [FLAW], (7000, 0)))
    nowhere = np.zeros(15)
    first = task.table.first[task.table.kind]
    state = task.state(Layout(LENGTH, nowhere, nowhere, first, task.phases()), seed)
    scatter(task, state, random, LENGTH)
    prices = np.random.default_rng(seed).uniform(0.5, 3.0, state.price.shape)
    state.price[:] = (prices + prices.T) / 2
    work = task.work()
    measure(task.table, state, work)
    begin(task.table, state, work.tally, LENGTH)
    return Scene(task, state, work)


def true_cost(at: Scene, p: int, s: int, x: float, y: float) -> float:
    everyone = np.array([q for q in range(len(at.state.x)) if q != p])
    return float(cost(at.task.table, at.state, everyone, p, s, x, y, np.inf))


def test_lattices_hold_the_depths_of_bites() -> None:
    for margin in (0, 900):
        at, deep = scene(1, margin), 0
        table, state = at.task.table, at.state
        state.price[:] = 1.0
        chart = table.chart
        assert chart.cells.size == (chart.wide * chart.high).sum() <= ROOM
        for p in range(15):
            q, s = (p + 4) % 16, state.s[p]  # 15 is the flaw
            t = state.s[q]
            cells = chart.cells[chart.at[t, s] :][: chart.wide[t, s] * chart.high[t, s]]
            cells = cells.reshape(chart.high[t, s], chart.wide[t, s])
            gap = 0 if q == 15 else margin
            assert not any(edge.any() for edge in (cells[0], cells[-1], cells[:, 0], cells[:, -1]))
            for j, i in np.ndindex(*cells.shape):
                x = state.x[q] + i * chart.pitch[s] - table.along[s] - gap
                y = state.y[q] + j * chart.pitch[s] - table.across[s] - gap
                alone = float(cost(table, state, np.array([q]), p, s, x, y, np.inf))
                assert cells[j, i] == pytest.approx(alone, abs=1)
                deep += alone > 0
        assert deep > 1000


def test_a_chart_tells_what_a_copy_costs_all_over() -> None:
    for seed in range(4):
        at = scene(seed, margin=300 * (seed % 2))
        table, state, told = at.task.table, at.state, 0
        state.price[np.abs(np.subtract.outer(range(16), range(16))) != 1] = 0.0
        for p in range(15):
            s = state.s[p]
            pitch, tally = table.chart.pitch[s], at.work.tally
            at.work.chart[:] = -1
            places = lay_chart(table, state, at.work, p, s)
            assert places == tally.wide[s] * tally.high[s] > 0
            assert (at.work.chart[places:] == -1).all()
            found = at.work.chart[:places].reshape(tally.high[s], tally.wide[s])
            x0, y0 = tally.origin[s]
            for j, i in np.ndindex(*found.shape):
                if (i + 3 * j) % 7:
                    continue
                real = true_cost(at, p, s, x0 + i * pitch, y0 + j * pitch)
                # lattices lie half a step off at the most, along and across
                off = pitch * hypot(0.5, 0.5) * prices_of(at, p)
                assert abs(found[j, i] - real) <= off + 2 * SLIGHT * real + 1
                told += real > 0
        assert told > 500


def test_sums_follow_the_copies_that_move() -> None:
    at = scene(5, margin=300)
    table, state, work, random = at.task.table, at.state, at.work, Random(5)
    for _ in range(6):
        for p in range(15):
            lay_chart(table, state, work, p, state.s[p])
        for p in random.sample(range(15), 5):
            state.x[p] = random.uniform(0, 30_000)
            state.s[p] = table.first[table.kind[p]] + random.randrange(2)
    for p in range(15):
        s = state.s[p]
        places = lay_chart(table, state, work, p, s)
        followed = work.chart[:places].copy()
        work.tally.seen[s, :, 2] = -1
        work.tally.sums[work.tally.at[s] :][:places] = 0
        lay_chart(table, state, work, p, s)
        assert np.abs(work.chart[:places] - followed).max() < 1
        assert followed.max() > 1000


def prices_of(at: Scene, p: int) -> float:
    return float(at.state.price[p].sum() - at.state.price[p, p])


def test_the_least_places_are_kept_one_a_region() -> None:
    random = np.random.default_rng(3)
    for nx, ny in ((37, 23), (5, 60), (1, 9), (16, 16)):
        chart = random.uniform(0, 10, nx * ny).astype(np.float32)
        spots = np.zeros((6, 4))
        found = keep_least(chart, nx, 2, 4.0, spots, 0)
        costs = spots[:found, 3].tolist()
        assert costs == sorted(costs)
        assert costs[0] == chart.min()
        for s, i, j, now in spots[:found]:
            assert (s, now) == (2, chart[int(j) * nx + int(i)])
            assert now < 4.0
        for m in range(found):
            for n in range(m):
                apart = abs(spots[m, 1:3] - spots[n, 1:3])
                assert apart.max() > CLOSE
        # another way's places come beside these, and drive out worse ones only
        other = random.uniform(0, 10, nx * ny).astype(np.float32)
        both = keep_least(other, nx, 3, 4.0, spots, found)
        assert spots[0, 3] == min(chart.min(), other.min())
        assert both >= found
    assert keep_least(np.full(40, 7, np.float32), 8, 0, 4.0, spots, 0) == 0


def test_spots_from_a_chart_lie_where_they_may() -> None:
    for seed in range(4):
        at = scene(seed, margin=300)
        table = at.task.table
        for p in range(15):
            found = charted(table, at.state, at.work, p, np.inf)
            assert found == SPOTS
            ways = range(table.first[table.kind[p]], table.first[table.kind[p]] + 2)
            for s, x, y, _ in at.work.spots[:found]:
                assert s in ways
                assert table.low[0, int(s)] <= x <= LENGTH - table.along[int(s)]
                assert table.low[1, int(s)] <= y <= table.high[1, int(s)]
            # the best of them costs little more than the best of many tried by lot
            random = Random(p)
            tried = min(
                true_cost(at, p, s, random.uniform(0, LENGTH - table.along[s]),
                          random.uniform(0, WIDTH - table.across[s]))
                for s in ways for _ in range(300)
            )  # fmt: skip
            best = min(true_cost(at, p, int(s), x, y) for s, x, y, _ in at.work.spots[:found])
            pitch = table.chart.pitch[at.state.s[p]]
            assert best <= tried + pitch * prices_of(at, p) / 15


def test_no_chart_where_places_go_by_a_repeat_or_cloth_is_long() -> None:
    matched = ShapeRule(matches=(Phase("m", "along"),))
    at = scene(2, rules=(matched, matched))
    assert charted(at.task.table, at.state, at.work, 0, np.inf) == -1
    at = scene(2)
    assert charted(at.task.table, at.state, at.work, 0, np.inf) > 0
    begin(at.task.table, at.state, at.work.tally, 1000 * LENGTH)
    assert charted(at.task.table, at.state, at.work, 0, np.inf) == -1


def test_lattices_grow_coarser_where_there_are_many_outlines() -> None:
    sizes = np.array([[float(9000 + at), 700.0] for at in range(150)])
    gaps = np.zeros(150)
    few = pitches(sizes[:4], gaps[:4], 4, 1e9)
    many = pitches(sizes, gaps, 150, 1e9)
    assert (few == few[0]).all()
    assert few[0] == pytest.approx((1e9 / 0.8 / CELLS) ** 0.5) or few[0] == 700 / PARTS
    assert many[0] > few[0]
    places = [floor(18_000 / many[0]) * floor(1400 / many[0]) * 150**2]
    assert places[0] <= ROOM
    # so many that even the coarsest lattices need more than is meant: it still ends
    crowd = np.full((300, 2), 1000.0)
    assert np.isfinite(pitches(crowd, np.zeros(300), 300, 1e9)).all()
    assert SPACIOUS > 1


def test_copies_find_the_only_gap_in_one_round() -> None:
    # a full row of boxes but for one gap far off: a chart sees it at once
    box = Polygon.of_rect(Rect(0, 0, 1000, 1000))
    kinds = [NestKind(12, (box,))]
    task = Task.of(Frame.framed(kinds, 1000))
    x = np.array([0.0, *(1000.0 * at for at in range(11))])
    state = task.state(Layout(12_000.0, x, np.zeros(12), np.zeros(12, int), np.zeros(0)), 5)
    work = task.work()
    measure(task.table, state, work)
    begin(task.table, state, work.tally, 12_000.0)
    assert charted(task.table, state, work, 0, np.inf) > 0
    assert work.spots[0, 1] == pytest.approx(11_000, abs=task.table.chart.pitch[0])
    nested = nest(kinds, 1000, iterations=10)
    assert nested.length == 12_000
