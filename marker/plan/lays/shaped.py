"""What is told inside a shaped piece besides its label: the grain, its edges, its marks."""

from __future__ import annotations

import math
from collections.abc import Iterator

from marker.geometry.outline import Edge
from marker.piece import Mark, MarkKind
from marker.plan.drawing import style
from marker.plan.drawing.labels import Room
from marker.plan.drawing.lettering import ASCENT, clean, height, width
from marker.plan.drawing.page import Box, Point, View
from marker.plan.drawing.slabs import Slab
from marker.plan.drawing.verbs import Drawing
from marker.plan.lays.marks import (
    LEAST_DEPTH,
    LONGEST_ARROW,
    NOTCH,
    SLIDES,
    grain_line,
    place,
    together,
)
from marker.plan.lays.pieces import Laid
from marker.plan.words.sizes import named_edges

Line = tuple[Point, Point]
AWAY = (70, 120, 190, 280, 400)
"""How far off an edge its name is tried."""
SHORTEST_ARROW = 420
"""A grain arrow without the word may be as short as this; no shorter one is drawn."""
ARROW_TALL = 150
STACK = 420
"""Notches nearer than this on paper are not named: their names would stand in a heap."""


def finish(
    drawing: Drawing,
    room: Room,
    view: View,
    one: Laid,
    label: Box | Slab | None,
    one_way: bool,
) -> None:
    """Tell what there is room for, the grain first."""
    grain(drawing, room, one, label, one_way)
    if one.least >= LEAST_DEPTH:
        # Short edges have the least choice of room, so they choose first.
        for name, edge in sorted(named_edges(one.piece), key=lambda named: named[1].length):
            _name_edge(drawing, room, view, one, (name, edge))
    _name_marks(drawing, room, view, one)


def _on_page(view: View, one: Laid, spot: tuple[float, float]) -> Point:
    return view.point(one.spot.to_cloth(one.piece, round(spot[0]), round(spot[1])))


def _name_edge(
    drawing: Drawing, room: Room, view: View, one: Laid, named: tuple[str, Edge]
) -> None:
    """Name an edge along it, just inside, as near its middle as there is room."""
    (text, edge), size = named, style.SMALL
    # On cloth, as far as the words reach, so that they lie along a curve's chord.
    reach = min(width(text, size) / float(view.scale), edge.length)
    if view.length(round(edge.length)) * 4 // 5 < width(text, size):
        _name_level(drawing, room, view, one, named)
        return
    lines: list[Line] = []
    for slide in SLIDES:
        middle = edge.length * slide / 100
        low, high = max(0.0, middle - reach / 2), min(edge.length, middle + reach / 2)
        start, end = (_on_page(view, one, edge.at(at)[0]) for at in (low, high))
        lines.append((start, end))
    _along(drawing, room, one, lines, text, "edge", size)


def _name_level(
    drawing: Drawing, room: Room, view: View, one: Laid, named: tuple[str, Edge]
) -> None:
    """Name an edge too short for its name level, past its middle and past a notch there."""
    (text, edge), size = named, style.SMALL
    long, tall = width(text, size), height(size)
    (x0, y0), (x1, y1) = (
        _on_page(view, one, edge.at(edge.length * part)[0]) for part in (0.49, 0.51)
    )
    run = math.hypot(x1 - x0, y1 - y0) or 1.0
    x, y = (y1 - y0) / run, (x0 - x1) / run
    for away in (120, 200, 300, 420):
        reach = away + abs(x) * long / 2 + abs(y) * tall / 2
        for sign in (1, -1):
            at = round((x0 + x1) / 2 + sign * x * reach), round((y0 + y1) / 2 + sign * y * reach)
            slab = Slab(at, long, tall)
            if one.holds(slab.grown(style.CLEAR)) and room.open(slab):
                _set(drawing, room, one, slab, text, "edge", size)
                return


def _along(
    drawing: Drawing, room: Room, one: Laid, lines: list[Line], text: str, kind: str, size: int
) -> bool:
    """Set words along the first of some lines beside which they have room in the piece."""
    long, tall = width(text, size), height(size)
    for dodge in (True, False):
        for away in AWAY:
            for line in lines:
                for slab in _beside(line, long, tall, away):
                    if one.holds(slab.grown(style.CLEAR)) and room.open(slab, dodge=dodge):
                        _set(drawing, room, one, slab, text, kind, size)
                        return True
    return False


def _beside(line: Line, long: int, tall: int, away: int) -> Iterator[Slab]:
    """Slabs on either side of a line's middle, turned as it runs, to be read from below."""
    (x0, y0), (x1, y1) = line
    if (x0, y0) == (x1, y1):
        return
    angle = readable(math.degrees(math.atan2(y0 - y1, x1 - x0)))
    base = Slab(((x0 + x1) // 2, (y0 + y1) // 2), long, tall, angle)
    for off in (away + tall / 2, -away - tall / 2):
        yield Slab(base.point(0, off), long, tall, angle)


def readable(degrees: float) -> int:
    """An angle in whole degrees, turned by half a turn where words would hang head down."""
    angle = round(degrees) % 180
    return angle - 180 if angle > 90 else angle


def _set(
    drawing: Drawing, room: Room, one: Laid, slab: Slab, text: str, kind: str, size: int
) -> None:
    if room.covers(slab):
        drawing.solid(slab.corners, style.TINT)
    base = slab.point(-slab.width / 2, -slab.height / 2 + size * ASCENT / 1000)
    drawing.words(base, text, size, angle=slab.angle, colour=style.SOFT)
    drawing.label(kind, one.spot.id, slab)
    room.take(slab)


def _name_marks(drawing: Drawing, room: Room, view: View, one: Laid) -> None:
    """Name folds and hem lines along them, and notches past their inner ends."""
    named: dict[str, list[Mark]] = {}
    for mark in one.piece.marks:
        if mark.name and mark.kind not in (MarkKind.SEAM, MarkKind.CHALK):
            named.setdefault(clean(mark.name), []).append(mark)
    for name, marks in named.items():
        size = style.LEAST
        if marks[0].kind is MarkKind.NOTCH:
            for mark in marks:
                if not _crowded(view, one, mark):
                    _name_notch(drawing, room, view, one, mark, name.partition(" (")[0])
            continue
        # A curved line comes in many chords; its name stands beside the middle ones.
        lines = [place(view, one, mark) for mark in marks]
        middle = sorted(range(len(lines)), key=lambda i: abs(i - len(lines) // 2))
        runs = [_stretched(lines[i], width(name, size)) for i in middle]
        _along(drawing, room, one, runs, together([name]), "mark", size)


def _stretched(line: Line, long: int) -> Line:
    """The middle part of a line, about as long as words; a shorter line as it is."""
    (x0, y0), (x1, y1) = line
    whole = math.dist(*line)
    if whole <= long:
        return line
    part = (1 - long / whole) / 2
    dx, dy = (x1 - x0) * part, (y1 - y0) * part
    return (round(x0 + dx), round(y0 + dy)), (round(x1 - dx), round(y1 - dy))


def _crowded(view: View, one: Laid, mark: Mark) -> bool:
    """Whether notches of other names stand so near that the names would make a stack."""
    at = place(view, one, mark)[0]
    others = (
        place(view, one, other)[0]
        for other in one.piece.marks
        if other.kind is MarkKind.NOTCH and other.name != mark.name
    )
    return any(math.dist(at, other) < STACK for other in others)


def _name_notch(drawing: Drawing, room: Room, view: View, one: Laid, mark: Mark, name: str) -> None:
    """Set a notch's name level, past its inner end."""
    (x0, y0), (x1, y1) = place(view, one, mark)
    size = style.LEAST
    long, tall = width(name, size), height(size)
    run = math.hypot(x1 - x0, y1 - y0)
    dx, dy = ((x1 - x0) / run, (y1 - y0) / run) if run else (0.0, 1.0)
    for dodge in (True, False):
        for away in (70, 140, 220, 320):
            reach = away + abs(dx) * long / 2 + abs(dy) * tall / 2
            for sign in (1,) if run else (1, -1):
                slab = Slab(
                    (round(x1 + sign * dx * reach), round(y1 + sign * dy * reach)), long, tall
                )
                if one.holds(slab.grown(style.CLEAR)) and room.open(slab, dodge=dodge):
                    _set(drawing, room, one, slab, name, "mark", size)
                    return
    # Else along the edge, to one side of the notch.
    beside = Slab((x1, y1), 0, 0, readable(math.degrees(math.atan2(-dx, -dy))))
    for off in (NOTCH + 80, NOTCH + 200):
        for side in (1, -1):
            x, y = beside.point(side * (long / 2 + off), 0)
            at = round(x + dx * tall / 2), round(y + dy * tall / 2)
            slab = Slab(at, long, tall, beside.angle)
            if one.holds(slab.grown(style.CLEAR)) and room.open(slab):
                _set(drawing, room, one, slab, name, "mark", size)
                return


def grain(drawing: Drawing, room: Room, one: Laid, label: Box | Slab | None, one_way: bool) -> None:
    """The grain arrow along the warp, with its word where the shape has room for both."""
    word, tall = width("grain", style.SMALL), style.SMALL + 190
    most = min(max(one.box.width * 11 // 20, SHORTEST_ARROW), LONGEST_ARROW)
    sizes = [(long, tall, True) for part in (8, 6, 4, 3) if (long := most * part // 8) > word + 400]
    sizes.append((word + 300, tall, True))
    sizes += [(long, ARROW_TALL, False) for long in (1400, 1000, 700, 550, SHORTEST_ARROW)]
    below = _below(one, label)
    # A long arrow is worth going some way from the label for, though not to the far corner.
    seats = [
        (math.dist(slab.at, below) - long, number, slab)
        for number, (long, high, _) in enumerate(sizes)
        for slab in one.seats(long, high, 0)
    ]
    seats.sort(key=lambda seat: seat[:2])
    for dodge in (True, False):
        for _, number, slab in seats:
            if room.open(slab, dodge=dodge):
                _draw_grain(drawing, room, one, slab.box, sizes[number][2], one_way)
                return


def _below(one: Laid, label: Box | Slab | None) -> Point:
    """Where the arrow stands best: under the label."""
    if label is None:
        return one.heart
    box = label.box if isinstance(label, Slab) else label
    return box.middle[0], box.y1 + style.GAP + style.SMALL


def _draw_grain(
    drawing: Drawing, room: Room, one: Laid, box: Box, worded: bool, one_way: bool
) -> None:
    if room.covers(box):
        drawing.field(box, style.TINT)
    grain_line(drawing, one, box, ARROW_TALL, one_way=one_way, worded=worded)
    drawing.label("grain", one.spot.id, box)
    room.take(box)
