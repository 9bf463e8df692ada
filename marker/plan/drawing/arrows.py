"""Arrows and dimensions: slender filled heads, thin lines, the figure above its line.

Line types and the place of figures follow ISO 129-1 in spirit (from memory): the figure
reads from below or from the right, and arrows that lack room point in from outside.
"""

from __future__ import annotations

import math

from marker.plan.drawing import style
from marker.plan.drawing.lettering import width
from marker.plan.drawing.page import Box, Point
from marker.plan.drawing.slabs import Slab, turned
from marker.plan.drawing.verbs import Drawing


def head(drawing: Drawing, tip: Point, back: Point, long: int = style.ARROW) -> None:
    """A slender filled arrow head: its point at `tip`, its tail towards `back`."""
    dx, dy = back[0] - tip[0], back[1] - tip[1]
    far = math.hypot(dx, dy)
    if not far:
        return
    x, y = dx * long / far, dy * long / far
    across = style.ARROW_HALF / style.ARROW
    left = round(tip[0] + x - y * across), round(tip[1] + y + x * across)
    right = round(tip[0] + x + y * across), round(tip[1] + y - x * across)
    drawing.solid((tip, left, right))


def arrow(
    drawing: Drawing,
    a: Point,
    b: Point,
    *,
    ends: tuple[bool, bool] = (True, True),
    weight: int = style.THIN,
    long: int = style.ARROW,
) -> None:
    """A straight line with heads at both of its ends, or at one of them."""
    if a == b:
        return
    far = math.hypot(b[0] - a[0], b[1] - a[1])
    # The line stops inside its heads, so that no blunt end shows beside a point.
    part = min(1.0, long * 2 / (3 * far))
    inner = [
        (round(p[0] + (q[0] - p[0]) * part), round(p[1] + (q[1] - p[1]) * part)) if tipped else p
        for p, q, tipped in ((a, b, ends[0]), (b, a, ends[1]))
    ]
    drawing.path((inner[0], inner[1]), weight=weight)
    for tip, back, tipped in ((a, b, ends[0]), (b, a, ends[1])):
        if tipped:
            head(drawing, tip, back, long)


def dimension(
    drawing: Drawing,
    a: Point,
    b: Point,
    at: int,
    text: str,
    *,
    upright: bool = False,
    size: int = style.DIMENSION,
) -> Box:
    """Dimension the distance between two points; gives all the paper it takes.

    A level one measures along x: its line runs at y = `at`, below or above the points. An
    `upright` one measures along y: its line runs at x = `at`, and its figure reads from below
    upwards. Extension lines run from the points, with a gap, to just past the line; a point
    on the line has none. Where the arrows lack room they point in from outside, and where the
    figure does too it stands outside as well, beyond the right or the upper end.

    ```
    |<------- 42 ------->|      ->| |<- 1.5
    ```
    """
    frame = _Frame(upright, at)
    low, high = sorted((a, b), key=frame.along)
    start, end = frame.along(low), frame.along(high)
    boxes = [frame.extension(drawing, point) for point in (low, high)]
    inside = end - start >= style.ARROWS_INSIDE
    long = width(text, size, bold=True)
    fits = long + 2 * style.DIMENSION_PAD <= end - start
    tail = style.ARROW + style.ARROW_TAIL
    if inside:
        arrow(drawing, frame.point(start), frame.point(end))
        before, after = start, end if fits else end + style.DIMENSION_PAD + long
        if not fits:
            drawing.path((frame.point(end), frame.point(after)), weight=style.THIN)
    else:
        before, after = start - tail, end + tail + (0 if fits else long)
        drawing.path((frame.point(before), frame.point(after)), weight=style.THIN)
        head(drawing, frame.point(start), frame.point(before))
        head(drawing, frame.point(end), frame.point(after))
    middle = (start + end) // 2 if fits else after - long // 2
    words = drawing.words(
        frame.point(middle, style.DIMENSION_LIFT), text, size,
        bold=True, anchor="middle", turned=upright,
    )  # fmt: skip
    drawing.label("dimension", text, words)
    return _round(*boxes, _box(frame.point(before), frame.point(after)), words)


class _Frame:
    """A dimension's own axis: along it, and up from its line."""

    def __init__(self, upright: bool, at: int) -> None:
        self.upright, self.at = upright, at

    def along(self, point: Point) -> int:
        """How far along the line a point stands; upwards on the page for an upright one."""
        return -point[1] if self.upright else point[0]

    def point(self, along: int, lift: int = 0) -> Point:
        """The place so far along the line, and `lift` above it as its figure reads."""
        return (self.at - lift, -along) if self.upright else (along, self.at - lift)

    def extension(self, drawing: Drawing, point: Point) -> Box:
        """The thin line from near a point to just past the dimension line."""
        off = (point[0] if self.upright else point[1]) - self.at
        if abs(off) <= style.EXTENSION_GAP:
            return _box(point, point)
        sign, along = (1 if off > 0 else -1), self.along(point)
        shift = self.at + off - sign * style.EXTENSION_GAP, self.at - sign * style.EXTENSION_PAST
        ends = [(at, point[1]) if self.upright else (along, at) for at in shift]
        drawing.path((ends[0], ends[1]), weight=style.THIN)
        return _box(ends[0], ends[1])


def slanted(drawing: Drawing, shaft: Slab, *, ends: tuple[bool, bool] = (True, True)) -> None:
    """An arrow as long as a slab is wide, through its middle and at its angle."""
    cos, sin = turned(shaft.angle)
    x, y, half = *shaft.at, shaft.width / 2
    low = round(x - half * cos), round(y + half * sin)
    high = round(x + half * cos), round(y - half * sin)
    arrow(drawing, low, high, ends=ends, weight=style.GRAIN)


def _box(a: Point, b: Point) -> Box:
    return Box(min(a[0], b[0]), min(a[1], b[1]), max(a[0], b[0]), max(a[1], b[1]))


def _round(*boxes: Box) -> Box:
    return Box(
        min(box.x0 for box in boxes),
        min(box.y0 for box in boxes),
        max(box.x1 for box in boxes),
        max(box.y1 for box in boxes),
    )
