"""Marks on the pieces: fold, hem and seam lines, notches, names of edges, the grain."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator

from marker.piece import Mark, MarkKind, Piece
from marker.plan.drawing import style
from marker.plan.drawing.arrows import arrow
from marker.plan.drawing.labels import Room, spots
from marker.plan.drawing.lettering import ASCENT, clean, height, width
from marker.plan.drawing.page import Box, Point, View, around
from marker.plan.drawing.verbs import Drawing
from marker.plan.lays.pieces import Laid

SLIDES = (50, 35, 65, 22, 78, 12, 88, 28, 72, 17, 83)
"""Where along an edge its name is tried, per cent."""
AWAY = (60, 130, 220, 320)
"""How far off its line a name is tried."""
FURTHER = (450, 600, 750)
"""Where it is tried next, if it would else stand over another line."""

LEAST_ARROW, LONGEST_ARROW = 700, 4500
ARROW_TALL = 180
"""The paper that an arrow takes across."""
LEAST_DEPTH = 650
"""In a shallower piece, the name of an edge could be taken for the other edge's."""
CLOSE = 320
"""Folds nearer than this on paper are named together."""

BIAS_LINE = "bias line"
"""What recipes call the lines at 45 degrees on a rectangle that strips are cut from."""

LINES = {
    MarkKind.FOLD: (style.FOLD, style.DASH_FOLD, style.INK),
    MarkKind.HEM: (style.FOLD, style.DASH_FOLD, style.INK),
    MarkKind.SEAM: (style.SEAM, (), style.SOFT),
    MarkKind.NOTCH: (style.NOTCH, (), style.INK),
    MarkKind.CHALK: (style.NOTCH, (), style.INK),
}


def look(mark: Mark) -> tuple[int, tuple[int, ...], str]:
    """Weight, dash and colour of a mark; a line to cut bias strips along is no seam."""
    if mark.name == BIAS_LINE:
        return style.FOLD, (), style.INK
    return LINES[mark.kind]


def place(view: View, one: Laid, mark: Mark) -> tuple[Point, Point]:
    """The two ends of a mark on the page."""
    carry = one.spot.to_cloth
    return (
        view.point(carry(one.piece, mark.u0, mark.v0)),
        view.point(carry(one.piece, mark.u1, mark.v1)),
    )


LEAST_APART = 150
"""In a narrow strip whose lines would stand closer than this, none is drawn."""
SHORT = 250
"""A slanted line covers a row of boxes no longer than this."""
NOTCH = 120
"""Half the side of a notch's triangle."""


def draw_lines(drawing: Drawing, room: Room, view: View, one: Laid) -> None:
    """Draw every mark of a piece but chalk; labels that come later dodge or interrupt them."""
    crowded = one.shape is not None and _lengthwise(one.piece) * LEAST_APART > one.least
    for mark in one.piece.marks:
        if mark.kind is MarkKind.CHALK or (crowded and mark.kind is not MarkKind.NOTCH):
            continue
        a, b = place(view, one, mark)
        weight, dash, colour = look(mark)
        if mark.kind is MarkKind.NOTCH:
            notch(drawing, a, b)
            room.take(around(*a, 2 * NOTCH, 2 * NOTCH))  # a hidden notch would be missed
        elif one.least > 250:
            drawing.path((a, b), weight=weight, colour=colour, dash=dash)
        for box in _stretches(a, b):
            room.soft.add(box.grown(20))


def _lengthwise(piece: Piece) -> int:
    """Into how many stripes the lines that run most of its length part a piece."""
    return 1 + sum(2 * abs(mark.u1 - mark.u0) > piece.length for mark in piece.marks)


def _stretches(a: Point, b: Point) -> Iterator[Box]:
    """The paper under a line: one box for a level or upright one, many along a slanted one."""
    slanted = a[0] != b[0] and a[1] != b[1]
    parts = 1 + (abs(b[0] - a[0]) + abs(b[1] - a[1])) // SHORT if slanted else 1
    for i in range(parts):
        x0, x1 = (a[0] + (b[0] - a[0]) * k // parts for k in (i, i + 1))
        y0, y1 = (a[1] + (b[1] - a[1]) * k // parts for k in (i, i + 1))
        yield Box(min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1))


def notch(drawing: Drawing, a: Point, b: Point) -> None:
    """A snip in from an edge: a short stroke that ends in a small triangle at the edge."""
    drawing.path((a, b), weight=style.NOTCH)
    dx, dy = b[0] - a[0], b[1] - a[1]
    size = NOTCH
    if dx and dy:
        x, y = (round(d * size / math.hypot(dx, dy)) for d in (dx, dy))
        drawing.solid(((a[0] + y, a[1] - x), (a[0] + x, a[1] + y), (a[0] - y, a[1] + x)))
    elif dx:
        step = size if dx > 0 else -size
        drawing.solid(((a[0], a[1] - size), (a[0] + step, a[1]), (a[0], a[1] + size)))
    elif dy:
        step = size if dy > 0 else -size
        drawing.solid(((a[0] - size, a[1]), (a[0], a[1] + step), (a[0] + size, a[1])))


def edge_ends(one: Laid, view: View) -> list[tuple[str, Point, Point]]:
    """The named edges of a piece with their two ends on the page."""
    piece, edges = one.piece, one.edges
    long, broad = piece.length, piece.breadth
    sides = (
        (edges.start, (0, 0), (0, broad)),
        (edges.end, (long, 0), (long, broad)),
        (edges.low, (0, 0), (long, 0)),
        (edges.high, (0, broad), (long, broad)),
    )
    return [
        (clean(name), view.point(one.spot.to_cloth(piece, *a)),
         view.point(one.spot.to_cloth(piece, *b)))
        for name, a, b in sides
        if name
    ]  # fmt: skip


def name_edges(drawing: Drawing, room: Room, view: View, one: Laid) -> None:
    """Name the edges of a piece, each just inside it, where there is room."""
    for name, a, b in edge_ends(one, view):
        if (one.box.width if a[0] == b[0] else one.box.height) < LEAST_DEPTH:
            continue
        beside_line(drawing, room, one, (a, b), name, "edge", style.SMALL)


def name_notches(drawing: Drawing, room: Room, view: View, one: Laid) -> None:
    """Name every notch past its inner end, where there is room."""
    for mark in one.piece.marks:
        if mark.kind is MarkKind.NOTCH and mark.name:
            line = place(view, one, mark)
            beside_line(drawing, room, one, line, clean(mark.name), "mark", style.LEAST)


def name_marks(drawing: Drawing, room: Room, view: View, one: Laid) -> None:
    """Name folds, and hem lines at an edge of another name, where there is room."""
    edges = one.piece.edges
    told = {MarkKind.SEAM, MarkKind.CHALK, MarkKind.NOTCH}
    if "hem" in (edges.start, edges.end, edges.low, edges.high):
        told.add(MarkKind.HEM)
    groups: list[list[tuple[Mark, tuple[Point, Point]]]] = []
    for mark in sorted(one.piece.marks, key=lambda mark: (mark.kind, mark.u0, mark.v0)):
        if mark.kind in told or not mark.name:
            continue
        line = place(view, one, mark)
        last = groups[-1][-1] if groups else None
        if last and last[0].kind is mark.kind is MarkKind.FOLD and _close(last[1], line):
            groups[-1].append((mark, line))
        else:
            groups.append([(mark, line)])
    for group in groups:
        name = together([clean(mark.name) for mark, _ in group])
        lines = [line for _, line in group]
        inmost = min(lines, key=lambda line: _off(line, one.box.middle))
        # What stands in brackets may be left out of a fold's name.
        short = name.partition(" (")[0] if len(group) > 1 else name
        for text in dict.fromkeys((name, short)):
            if beside_line(drawing, room, one, inmost, text, "mark", style.LEAST):
                break


def _close(a: tuple[Point, Point], b: tuple[Point, Point]) -> bool:
    """Whether two upright or two level lines stand nearer than can be named apart."""
    (ax0, ay0), (ax1, ay1) = a
    (bx0, by0), (bx1, by1) = b
    if ax0 == ax1 and bx0 == bx1:
        return abs(ax0 - bx0) < CLOSE
    return ay0 == ay1 and by0 == by1 and abs(ay0 - by0) < CLOSE


def _off(line: tuple[Point, Point], middle: Point) -> int:
    """How far an upright or level line stands from a point."""
    (x0, y0), (x1, _) = line
    return abs(x0 - middle[0]) if x0 == x1 else abs(y0 - middle[1])


def together(names: list[str]) -> str:
    """One name for lines side by side: "fold (back)" and "fold (side)" as "fold (back, side)".

    The places stand in the order of the lines.
    """
    parts = [re.fullmatch(r"(.*) \((.*)\)", name) for name in names]
    stems = {part[1] for part in parts if part}
    if len(names) > 1 and len(stems) == 1 and all(parts):
        return f"{stems.pop()} ({', '.join(part[2] for part in parts if part)})"
    return ", ".join(dict.fromkeys(names))


def beside_line(
    drawing: Drawing,
    room: Room,
    one: Laid,
    line: tuple[Point, Point],
    text: str,
    kind: str,
    size: int,
) -> bool:
    """Set a few words along a line, inside the piece, on the side towards its middle first."""
    (x0, y0), (x1, y1) = line
    upright = x0 == x1
    long, tall = width(text, size), height(size)
    if long > (one.box.height if upright else one.box.width) * 4 // 5:
        return False
    places = _notch_places if abs(x1 - x0) + abs(y1 - y0) < long else _line_places
    across = one.box.width if upright else one.box.height
    for dodge in (True, False):
        for box, flat in places(one.box, line, long, tall, across // 3 if dodge else 0):
            if not one.box.grown(-40).holds(box) or not room.free(box, dodge=dodge):
                continue
            # A word that breaks a line is read with a gap in it, one on its rim as a blot.
            if dodge or not room.grazed(box):
                _set(drawing, room, box, text, size, flat)
                drawing.label(kind, one.spot.id, box)
                return True
    return False


def _line_places(
    piece: Box, line: tuple[Point, Point], long: int, tall: int, far: int
) -> Iterator[tuple[Box, bool]]:
    """Boxes along a line, no further off than `far`, with whether their words stand level."""
    (x0, y0), (x1, y1) = line
    for away in (*AWAY, *(off for off in FURTHER if off <= far)):
        for slide in SLIDES:
            x, y = x0 + (x1 - x0) * slide // 100, y0 + (y1 - y0) * slide // 100
            if x0 == x1:
                left = x + away if piece.middle[0] >= x else x - away - tall
                yield Box(left, y - long // 2, left + tall, y - long // 2 + long), False
            else:
                top = y + away if piece.middle[1] >= y else y - away - tall
                yield Box(x - long // 2, top, x - long // 2 + long, top + tall), True


def _notch_places(
    piece: Box, line: tuple[Point, Point], long: int, tall: int, _: int
) -> Iterator[tuple[Box, bool]]:
    """Boxes past the inner end of a short stroke, towards the middle of the piece."""
    (x0, y0), (x1, y1) = line
    for away in (70, 140, 220, 320):
        if y0 == y1:
            left = x1 + away if x1 > x0 else x1 - away - long
            for top in (y1 - tall // 2, y1 - tall - 40, y1 + 40):
                yield Box(left, top, left + long, top + tall), True
        else:
            top = y1 + away if piece.middle[1] > y1 else y1 - away - tall
            for left in (x1 - long // 2, x1 + 60, x1 - 60 - long):
                yield Box(left, top, left + long, top + tall), True


def _set(drawing: Drawing, room: Room, box: Box, text: str, size: int, flat: bool) -> None:
    if room.covers(box):
        drawing.field(box, style.TINT)
    up = size * ASCENT // 1000
    at = (box.x0, box.y0 + up) if flat else (box.x0 + up, box.y1)
    drawing.words(at, text, size, turned=not flat, colour=style.SOFT)
    room.take(box)


def grain_arrow(drawing: Drawing, room: Room, one: Laid, label: Box | None, one_way: bool) -> None:
    """The grain line along the warp: a head at both ends, or only upwards on one-way cloth.

    It stands under the label if it can, else wherever the piece has room.
    """
    size = style.SMALL
    word, tall = width("grain", size), size + ARROW_TALL
    long = min(max(one.box.width * 11 // 20, LEAST_ARROW), LONGEST_ARROW)
    if long > one.box.width - 2 * style.PAD - 120:
        return
    if word > long or not _put_grain(drawing, room, one, label, (long, tall), one_way):
        _put_grain(drawing, room, one, label, (long, ARROW_TALL), one_way)


def _put_grain(
    drawing: Drawing, room: Room, one: Laid, label: Box | None, size: Point, one_way: bool
) -> bool:
    """Set an arrow that takes so much paper at its best free place; tells whether one is."""
    long, tall = size
    inner = one.box.grown(-style.PAD)
    if label:
        low = Box(inner.x0, label.y1 + style.GAP, inner.x1, inner.y1)
        x, y = label.middle[0] - long // 2, label.y1 + style.GAP + 60
        first = Box(x, y, x + long, y + tall)
        areas = [first, *spots(low, long, tall, 6), *spots(inner, long, tall, 6)]
    else:
        areas = list(spots(inner, long, tall, 6))
    for box in areas:
        if inner.holds(box) and room.free(box, dodge=True):
            if room.covers(box):
                drawing.field(Box(box.x0, box.y0, box.x1, box.y1 - ARROW_TALL), style.TINT)
            worded = box.height > ARROW_TALL
            grain_line(drawing, one, box, ARROW_TALL, one_way=one_way, worded=worded)
            drawing.label("grain", one.spot.id, box)
            room.take(box)
            return True
    return False


def grain_line(
    drawing: Drawing, one: Laid, box: Box, tall: int, *, one_way: bool, worded: bool
) -> None:
    """The grain line, so `tall` at the foot of a box, perhaps under its name.

    On one-way cloth it has one head, which tells how the piece's length runs.
    """
    size, y = style.SMALL, box.y1 - tall // 2
    if worded:
        drawing.words((box.middle[0], box.y0 + size * ASCENT // 1000), "grain", size,
                      anchor="middle", colour=style.SOFT)  # fmt: skip
    start = one.spot.to_cloth(one.piece, 0, 0)[0]
    end = one.spot.to_cloth(one.piece, one.piece.length, 0)[0]
    upward = one_way and one.piece.up == "length" and start != end
    heads = not upward or start < end, not upward or end < start
    arrow(drawing, (box.x0, y), (box.x1, y), ends=heads, weight=style.GRAIN)
