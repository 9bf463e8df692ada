"""The title block at the foot of every page, as on a technical drawing."""

from __future__ import annotations

from marker.plan.drawing import style
from marker.plan.drawing.lettering import ASCENT, clip, width, wrap
from marker.plan.drawing.page import Box, Point
from marker.plan.drawing.verbs import Drawing

NAMES = ("case", "on this page", "date", "page")


def block_box(paper: Point) -> Box:
    """Where the block stands on paper of a size."""
    width, height = paper
    foot = height - style.BLOCK_FOOT
    return Box(style.MARGIN, foot - style.BLOCK_TALL, width - style.MARGIN, foot)


def page_place(paper: Point) -> Point:
    """Where the number of the page begins, on its base line."""
    box = block_box(paper)
    inset = style.BLOCK_INSET
    return box.x1 - style.BLOCK_CELLS[-1] + inset[0], box.y1 - inset[1] - style.TEXT // 4


def title_block(drawing: Drawing, paper: Point, case: str, part: str) -> None:
    """Draw the block: the case, what stands on this page, a date to write, room for the number."""
    box = block_box(paper)
    drawing.field(box, style.PAPER, weight=style.FOLD)
    widths = (box.width - sum(style.BLOCK_CELLS), *style.BLOCK_CELLS)
    left, base = box.x0, page_place(paper)[1]
    for number, (name, wide) in enumerate(zip(NAMES, widths, strict=True)):
        x, room = left + style.BLOCK_INSET[0], wide - 2 * style.BLOCK_INSET[0]
        if number:
            drawing.path(((left, box.y0), (left, box.y1)), weight=style.THIN)
        top = box.y0 + style.BLOCK_INSET[1] * 2 // 3 + style.NOTE * ASCENT // 1000
        drawing.say("block", (x, top), name, style.NOTE, italic=True)
        told = {"case": case, "on this page": part}.get(name, "")
        _say(drawing, (x, base), told, room, bold=name == "case")
        if name == "date":
            drawing.path(((x, base), (x + room, base)), weight=style.THIN)
        left += wide


def _say(drawing: Drawing, at: Point, text: str, room: int, *, bold: bool) -> None:
    """Words of a cell on its base line, in two smaller lines where one doesn't hold them."""
    if width(text, style.TEXT, bold=bold) <= room:
        drawing.say("block", at, text, style.TEXT, bold=bold)
        return
    lines = wrap(text, style.NOTE, room, bold=bold)
    if len(lines) > 2:
        lines = lines[0], clip(f"{lines[1]} {lines[2]}", style.NOTE, room, bold=bold)
    for number, line in enumerate(reversed(lines)):
        place = at[0], at[1] - number * style.NOTE * 6 // 5
        drawing.say("block", place, line, style.NOTE, bold=bold)
