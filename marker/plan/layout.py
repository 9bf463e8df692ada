"""The page: where cloth and notes stand, and the scale that makes the most of the paper."""

from __future__ import annotations

from dataclasses import dataclass

from marker.lay import Lay
from marker.plan import notes, style
from marker.plan.cloth_view import Sight, attempt
from marker.plan.page import Box, Paper, Point, View
from marker.plan.verbs import Drawing
from marker.record import Record

SIDE = 8200
"""Width of the column that holds left over, check sum and scale bar."""
BESIDE = 9600
"""Width of the notes where they stand beside the cloth."""
LEAST_FOOT = 4200
MOST_FOOT = 7200
GAP = 450


@dataclass(frozen=True)
class Plan:
    """A page worked out: what is drawn, the view of the cloth, and where its corner stands."""

    paper: Paper
    view: View
    corner: Point
    drawing: Drawing


def layout(record: Record, lay: Lay, paper: Paper) -> Plan:
    """Work out the plan of one cloth, at the largest whole scale 1:n that the paper holds.

    Labels are given up in this order: all in full, call-outs where pieces are too small;
    then only a key in the smaller pieces; each at scales down to a fifth below the largest
    that the cloth alone would allow.
    """
    width, height = paper.size
    page = Box(style.MARGIN, style.MARGIN, width - style.MARGIN, height - style.MARGIN)
    several = len({p.wearer for each in record.lays for p in each.pieces if p.wearer}) > 1
    first = _first_scale(lay, page)
    for short, most in ((False, first * 6 // 5 + 2), (True, first * 4 + 40)):
        for n in range(first, most + 1):
            found = _arrange(record, lay, page, n, several, short)
            if found:
                sight, corner, drawing = found
                return Plan(paper, sight.view, corner, drawing)
    raise AssertionError("a lay of any size fits at some scale")


def _first_scale(lay: Lay, page: Box) -> int:
    """The largest scale at which the bare cloth fits the page."""
    n = 1
    while True:
        box = View(lay.bolt, n).box(lay.bolt)
        if box.width <= page.width - 2 * style.GUTTER and box.height <= page.height - notes.HEAD:
            return n
        n += 1


def _arrange(
    record: Record, lay: Lay, page: Box, n: int, several: bool, short: bool
) -> tuple[Sight, Point, Drawing] | None:
    """Try one scale with the notes below the cloth, then beside it."""
    view = View(lay.bolt, n)
    told = notes.notes(record, lay, n)
    cloth = view.box(lay.bolt)
    for beside in (False, True):
        room = page.width - (BESIDE + GAP * 2 if beside else 0)
        if cloth.width + 2 * style.GUTTER > room:
            continue
        left = 0 if beside else (room - cloth.width) // 2 - style.GUTTER
        span = -style.GUTTER - left, room - style.GUTTER - left
        sight = attempt(lay, view, record.units, several, short, span)
        if sight is None:
            continue
        foot = _foot(page, sight, told, beside)
        if foot is None:
            continue
        corner = page.x0 + style.GUTTER + left, page.y0 + notes.HEAD + sight.above
        drawing = Drawing()
        notes.draw_head(drawing, record, lay, page)
        drawing.take(sight.drawing, *corner)
        _draw_notes(drawing, told, foot, beside)
        return sight, corner, drawing
    return None


def _foot(page: Box, sight: Sight, told: notes.Notes, beside: bool) -> Box | None:
    """The paper left for the notes; None where it is too little."""
    bottom = page.y0 + notes.HEAD + sight.above + sight.view.box(sight.view.bolt).height
    bottom += sight.below
    if beside:
        if bottom > page.y1:
            return None
        return Box(page.x1 - BESIDE, page.y0 + notes.HEAD + GAP, page.x1, page.y1)
    foot = Box(page.x0, bottom + GAP, page.x1, page.y1)
    area = _steps_area(foot)
    if foot.height < notes.side_depth(told, SIDE):
        return None
    fits = not notes.best_setting(told.steps, area).rest
    return foot if fits or foot.height >= MOST_FOOT else None


def _steps_area(foot: Box) -> Box:
    return Box(foot.x0, foot.y0 + 560, foot.x1 - SIDE - GAP * 2, foot.y1)


def _draw_notes(drawing: Drawing, told: notes.Notes, foot: Box, beside: bool) -> None:
    if beside:
        depth = notes.side_depth(told, foot.width)
        notes.draw_steps(drawing, told.steps, Box(foot.x0, foot.y0, foot.x1, foot.y1 - depth - GAP))
        notes.draw_side(drawing, told, Box(foot.x0, foot.y1 - depth, foot.x1, foot.y1))
        return
    steps = Box(foot.x0, foot.y0, foot.x1 - SIDE - GAP * 2, foot.y1)
    notes.draw_steps(drawing, told.steps, steps)
    notes.draw_side(drawing, told, Box(foot.x1 - SIDE, foot.y0, foot.x1, foot.y1))
