"""Cutting on the bias: how the true bias is marked and strips are joined, in a figure and words."""

from __future__ import annotations

import math
from collections.abc import Iterator

from marker.geometry.bias import along_selvedge
from marker.lay import Lay
from marker.piece import Grain, Piece
from marker.plan.drawing import style
from marker.plan.drawing.arrows import dimension
from marker.plan.drawing.lettering import clean
from marker.plan.drawing.page import Box, Point
from marker.plan.drawing.verbs import Drawing
from marker.plan.lays.marks import BIAS_LINE
from marker.plan.sheet.bias_rows import CONTINUOUS, draw_continuous
from marker.plan.words.runs import measured
from marker.plan.words.sizes import cut_size, is_strip, named_edges
from marker.record import Record
from marker.units import Units

SIZE = (15600, 3800)
"""Width and height of a row of figures in 1/100 mm."""
JOIN = "join"
"""What recipes call the ends of strips that are joined."""
MARKING = (
    "Mark the true bias: from a corner measure the same length a along the selvedge and along a "
    "thread across, and draw the line between; it lies at 45 degrees to the warp."
)
RULING = " Rule the next lines beside it."
PLACING = " The length of a piece on the bias lies along it."
JOINING = (
    "Join strips on the straight thread: lay two ends right sides together at a right angle, so "
    "that the points stick out and the edges cross on the seam line. Sew from crossing to "
    "crossing, press the seam open, and trim the points; then the edges run on."
)


def bias_words(record: Record) -> tuple[str, ...]:
    """What to know of the bias, and each kind of strip with its measures; empty where none is."""
    strips = [
        line for lay in record.lays for piece in lay.pieces for line in _strip(piece, record.units)
    ]
    if not any(_on_bias(lay) for lay in record.lays):
        return ()
    rows = CONTINUOUS if continuous(record) else ()
    marking = MARKING + (RULING if joins(record) or rows else PLACING)
    return (marking, *strips, *((JOINING,) if joins(record) else ()), *rows)


def joins(record: Record) -> bool:
    """Whether any strips of bias are cut apart and then joined."""
    return any(_joins(piece) for lay in record.lays for piece in lay.pieces)


def continuous(record: Record) -> bool:
    """Whether a strip is cut by the continuous method: its rectangle has one bias line alone."""
    return any(_ruled(piece) == 1 for lay in record.lays for piece in lay.pieces)


def _on_bias(lay: Lay) -> bool:
    return any(piece.grain is Grain.BIAS or _ruled(piece) for piece in lay.pieces)


def _ruled(piece: Piece) -> int:
    """How many bias lines a rectangle has, to be cut into strips along."""
    return sum(mark.name == BIAS_LINE for mark in piece.marks)


def _joins(piece: Piece) -> bool:
    return _ruled(piece) > 1 or _joined(piece)


def _joined(piece: Piece) -> bool:
    """Whether it is a strip on the bias whose ends are named as joins."""
    named = any(name == JOIN for name, _ in named_edges(piece))
    return piece.grain is Grain.BIAS and is_strip(piece) and named


def _strip(piece: Piece, units: Units) -> Iterator[str]:
    """A strip's width, and how far apart its lines stand along the selvedge."""
    if not _joined(piece):
        return
    length, breadth = cut_size(piece)
    along = math.ceil(along_selvedge(breadth))
    each = f"{piece.count} strips, each" if piece.count > 1 else "one strip"
    yield (
        f"{piece.letter} {clean(piece.name)}: {each} {measured(units, '{}', breadth)} wide "
        f"and {measured(units, '{}', length)} long; the lines stand "
        f"{measured(units, '{}', along)} apart along the selvedge (1.41 times the width)."
    )


def figure(joined: bool = True, rows: bool = False) -> tuple[Drawing, Point]:
    """How the true bias is marked on the corner of the cloth, and how strips are made of it.

    `joined`: how two strips are joined; `rows`: how one is cut round and round. Gives the
    drawing and its size in 1/100 mm.
    """
    drawing = Drawing()
    _marking(drawing, 600, 3200, ruled=joined or rows)
    if joined:
        _joint(drawing, 7900, 2400)
        _opened(drawing, Box(12000, 1600, 15000, 2400))
    if rows:
        draw_continuous(drawing, SIZE[1])
    return drawing, (SIZE[0], SIZE[1] * 2 if rows else SIZE[1])


def _marking(drawing: Drawing, x: int, y: int, *, ruled: bool) -> None:
    """The corner of the cloth at x, y; the selvedge runs to the right, a thread across upwards."""
    right, top, side, pitch = x + 6100, y - 3000, 2500, 1000
    drawing.field(Box(x, y - 160, right, y), style.SELVEDGE)
    drawing.path(((x, top), (x, y), (right, y)), weight=style.OUTLINE)
    for number in range(3 if ruled else 1):
        start, end = (x + number * pitch, y - side), (x + side + number * pitch, y)
        if number:
            start = x, y - side - number * pitch
            start = (x + (top - start[1]), top) if start[1] < top else start
        drawing.path((start, end), weight=style.CUT if number == 0 else style.FOLD)
    dimension(drawing, (x, y), (x, y - side), x - 220, "a", upright=True)
    dimension(drawing, (x, y), (x + side, y), y + 480, "a")
    _note(drawing, (x + side + 2 * pitch + 150, y - 230), "selvedge")
    _note(drawing, (x + 2900, top + 250), "true bias, at 45 degrees to the warp")
    if not ruled:
        return
    dimension(drawing, (x + side, y), (x + side + pitch, y), y + 480, "1.41 × width")
    middle = x + side // 2, y - side // 2
    across = middle[0] + pitch // 2, middle[1] - pitch // 2
    drawing.path((middle, across), weight=style.TICK)
    _note(drawing, (across[0] + 60, across[1] + 60), "width")


def _joint(drawing: Drawing, x: int, y: int) -> None:
    """Two ends right sides together; each reaches past the other by the seam."""
    wide, seam, left = 800, 300, x
    end = x + 2600  # where the lower edge of the level strip ends
    level = (left, y - wide), (end + wide, y - wide), (end, y), (left, y)
    drawing.path((*level, level[0]), weight=style.OUTLINE)
    edge = end - seam
    foot = y + seam
    upright = ((edge, foot), (edge + wide, foot - wide), (edge + wide, y - 2200), (edge, y - 2200))
    drawing.outline(upright, style.OUTLINE)
    drawing.path(((edge, y), (edge + wide, y - wide)), weight=style.FOLD, dash=style.DASH_SEWN)
    # What of the level strip lies under the upright one.
    for height, stop in ((y - wide, edge + wide), (y, end)):
        drawing.path(((edge, height), (stop, height)), weight=style.THIN,
                     dash=style.DASH_REGION)  # fmt: skip
    _note(drawing, (left, y + 640), "right sides together,")
    _note(drawing, (left, y + 990), "sewn on the broken line")


def _opened(drawing: Drawing, box: Box) -> None:
    """The two strips opened out: one strip, the seam at 45 degrees."""
    drawing.field(box, style.TINT, weight=style.OUTLINE)
    left = box.x0 + 1100
    drawing.path(((left, box.y1), (left + box.height, box.y0)), weight=style.FOLD)
    _note(drawing, (box.x0, box.y1 + 940), "opened: edges run on")


def _note(drawing: Drawing, at: Point, text: str) -> None:
    drawing.words(at, text, style.SMALL)
