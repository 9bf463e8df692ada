"""What shows of a piece through a window: seams, folds, notches and grain, at full size."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from marker.geometry.curves import Spot
from marker.piece import Mark, MarkKind
from marker.plan.drawing import style
from marker.plan.drawing.arrows import arrow
from marker.plan.drawing.lettering import clean
from marker.plan.drawing.page import Point
from marker.plan.lays.marks import look, notch
from marker.plan.templates.desk import Desk, Run
from marker.plan.templates.tiling import Seen

INSET = 2400
"""The grain arrow ends this far inside the outline."""
HEAD = 600
"""Length of its heads, which are seen from where one stands."""


@dataclass(frozen=True)
class Inner:
    """A line inside a piece on the page."""

    kind: MarkKind
    name: str
    run: Run
    like: Mark


def inner_lines(seen: Seen, corner: Point) -> Iterator[Inner]:
    """Every line and notch of a template on the page."""
    for mark, run in seen.template.lines:
        places = tuple(seen.point(spot, corner) for spot in run)
        yield Inner(mark.kind, clean(mark.name), places, mark)


def draw_lines(desk: Desk, seen: Seen, corner: Point) -> list[Inner]:
    """Draw the lines that show; gives them, for their names."""
    shown = [line for line in inner_lines(seen, corner) if desk.shows(line.run)]
    for line in shown:
        if line.kind is MarkKind.NOTCH:
            notch(desk.inside, line.run[0], line.run[1])
        else:
            weight, dash, colour = look(line.like)
            desk.inside.path(line.run, weight=weight, colour=colour, dash=dash)
        desk.bar(line.run)
    return shown


def draw_fold(desk: Desk, seen: Seen, corner: Point) -> list[Run]:
    """The edges that lie on the fold of the cloth, where half a piece is drawn."""
    runs = [tuple(seen.point(spot, corner) for spot in line) for line in seen.template.fold]
    for run in runs:
        desk.inside.path(run, weight=style.CLOTH_FOLD, dash=style.DASH_CLOTH_FOLD)
    return runs


def draw_grain(desk: Desk, seen: Seen, heart: Spot) -> list[Run]:
    """A long arrow along the grain, through the broadest part of the piece, for each way."""
    found: list[Run] = []
    for degrees in seen.template.grain:
        way = math.radians(seen.angle(degrees))
        chord = _chord(desk.ring, heart, (math.cos(way), -math.sin(way)))
        if chord is None:
            continue
        # The end towards u = 0 is the one that the direction leads away from.
        ends = (True, not seen.template.upward)
        arrow(desk.inside, *chord, ends=ends, weight=style.GRAIN, long=HEAD)
        desk.bar(chord)
        found.append(chord)
    return found


def _chord(ring: Run, at: Spot, way: Spot) -> tuple[Point, Point] | None:
    """How far a line through a place runs on a piece either way, less some room at its ends."""
    back, ahead = -math.inf, math.inf
    for (ax, ay), (bx, by) in zip(ring, (*ring[1:], ring[0]), strict=True):
        a = way[0] * (ay - at[1]) - way[1] * (ax - at[0])
        b = way[0] * (by - at[1]) - way[1] * (bx - at[0])
        if (a > 0) == (b > 0):
            continue
        part = a / (a - b)
        run = (ax + (bx - ax) * part - at[0]) * way[0] + (ay + (by - ay) * part - at[1]) * way[1]
        if run > 0:
            ahead = min(ahead, run)
        else:
            back = max(back, run)
    low, high = back + INSET, ahead - INSET
    if not math.isfinite(high - low) or high - low < 2 * HEAD:
        return None
    return (
        _point((at[0] + way[0] * low, at[1] + way[1] * low)),
        _point((at[0] + way[0] * high, at[1] + way[1] * high)),
    )


def _point(spot: Spot) -> Point:
    return round(spot[0]), round(spot[1])
