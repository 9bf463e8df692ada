"""The lines inside a piece at full size: chords of curved seams made round again.

A piece keeps its curved seam and hem lines as chords whose ends lie on them, up to 1 mm off
between. Where both ends lie equally far inside one edge, the line follows that edge.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from marker.geometry.biarc import arcs_of
from marker.geometry.curves import Arc, Cubic, Line, Segment, Spot, cross, minus
from marker.piece import Mark, MarkKind
from marker.plan.drafts.draft import Draft, ends
from marker.units import MM

Inner = tuple[Mark, tuple[Spot, ...]]
EVEN = 0.05 * MM
"""Ends of a chord whose distances from an edge differ by less lie equally far inside it."""
BENT = 0.02 * MM
"""A chord that strays by less needs no rounding."""
STEP = 2 * MM
"""How close the places on a line made round are."""
ALIKE = math.cos(math.radians(2))
"""Directions that differ by no more than 2 degrees run on without a corner."""
MEET = 2.0
"""Marks whose ends lie this near in units run on into one another."""


class _Edge:
    """One stretch of an outline as lines and arcs, from which places are measured."""

    def __init__(self, segments: Sequence[Segment]) -> None:
        self.parts = [
            part
            for segment in segments
            for part in (arcs_of(segment) if isinstance(segment, Cubic) else [segment])
            if not isinstance(part, Cubic)
        ]

    def nearest(self, spot: Spot) -> tuple[float, Spot]:
        """How far off the edge a place is, and the place on the edge that is nearest."""
        found = (_nearest(part, spot) for part in self.parts)
        return min((math.dist(spot, near), near) for near in found)

    def off(self, spot: Spot) -> float:
        """How far off the edge a place is."""
        return self.nearest(spot)[0]


def _nearest(part: Line | Arc, spot: Spot) -> Spot:
    if isinstance(part, Arc):
        way = minus(spot, part.centre)
        far = math.hypot(*way)
        if far and _within(part, way):
            reach = part.radius / far
            return part.centre[0] + way[0] * reach, part.centre[1] + way[1] * reach
        return min(part.start, part.end, key=lambda end: math.dist(end, spot))
    (x, y), (dx, dy) = part.start, minus(part.end, part.start)
    run = ((spot[0] - x) * dx + (spot[1] - y) * dy) / (dx * dx + dy * dy)
    run = min(1.0, max(0.0, run))
    return x + dx * run, y + dy * run


def _within(arc: Arc, way: Spot) -> bool:
    """Whether a direction from the centre of an arc meets the arc."""
    start = minus(arc.start, arc.centre)
    turned = math.atan2(cross(start, way), start[0] * way[0] + start[1] * way[1])
    sweep = arc.sweep
    return 0 <= turned % math.tau <= sweep if sweep > 0 else 0 <= -turned % math.tau <= -sweep


def lines(draft: Draft) -> tuple[Inner, ...]:
    """Every line of a draft as the places that it runs through, and its notches inwards.

    Chords of one kind and name that follow one another are one line.
    """
    edges = [_Edge(run) for run in _smooth(draft)]
    found: list[Inner] = []
    for mark in draft.piece.marks:
        start, end = ends(mark)
        if mark.kind is MarkKind.NOTCH:
            first, last = (min(edge.off(spot) for edge in edges) for spot in (start, end))
            found.append((mark, (start, end) if first <= last else (end, start)))
            continue
        run = (start, *_between(edges, start, end), end)
        if found and _runs_on(found[-1], mark):
            found[-1] = found[-1][0], (*found[-1][1], *run[1:])
        else:
            found.append((mark, run))
    return tuple(found)


def _smooth(draft: Draft) -> list[list[Segment]]:
    """The stretches of the outline, those that run on into one another smoothly as one.

    Segments of an edge without a name come as stretches of their own.
    """
    runs: list[list[Segment]] = []
    for stretch in draft.stretches:
        if runs and _goes_on(runs[-1][-1], stretch.segments[0]):
            runs[-1] += stretch.segments
        else:
            runs.append(list(stretch.segments))
    if len(runs) > 1 and _goes_on(runs[-1][-1], runs[0][0]):
        runs[0] = runs.pop() + runs[0]
    return runs


def _goes_on(before: Segment, after: Segment) -> bool:
    (a, b), (c, d) = before.heading(before.length), after.heading(0.0)
    return before.name == after.name and a * c + b * d > ALIKE


def _runs_on(before: Inner, mark: Mark) -> bool:
    known, run = before
    alike = known.kind is mark.kind and known.name == mark.name
    return alike and math.dist(run[-1], ends(mark)[0]) <= MEET


def _between(edges: Sequence[_Edge], start: Spot, end: Spot) -> Iterator[Spot]:
    """Places between the ends of a chord on the line that it stands for."""
    middle = (start[0] + end[0]) / 2, (start[1] + end[1]) / 2
    edge = min(edges, key=lambda edge: edge.off(middle))
    if all(isinstance(part, Line) for part in edge.parts):
        return
    first, last = edge.off(start), edge.off(end)
    deep = (first + last) / 2
    if abs(first - last) > EVEN or abs(edge.off(middle) - deep) <= BENT or deep <= EVEN:
        return
    count = math.ceil(math.dist(start, end) / STEP)
    for i in range(1, count):
        x = start[0] + (end[0] - start[0]) * i / count
        y = start[1] + (end[1] - start[1]) * i / count
        far, near = edge.nearest((x, y))
        if far:
            # The chord runs inside the edge, so that the way from the edge to it leads inwards.
            yield near[0] + (x - near[0]) * deep / far, near[1] + (y - near[1]) * deep / far


def cut_off(run: Sequence[Spot], level: float) -> tuple[Spot, ...]:
    """What of a line lies at v <= level, moved on to the level where it crosses it."""
    kept: list[Spot] = []
    for before, spot in zip([run[0], *run[:-1]], run, strict=True):
        if (before[1] > level) != (spot[1] > level):
            part = (level - before[1]) / (spot[1] - before[1])
            kept.append((before[0] + (spot[0] - before[0]) * part, level))
        if spot[1] <= level:
            kept.append(spot)
    return tuple(kept)
