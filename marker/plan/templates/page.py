"""One page of a template: its window with all that shows there, and the line at its foot."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from marker.plan.drawing import style
from marker.plan.drawing.lettering import clip, width
from marker.plan.drawing.page import Box, Paper, Point
from marker.plan.drawing.verbs import Drawing
from marker.plan.templates import names
from marker.plan.templates.desk import Desk, Run
from marker.plan.templates.joins import View, draw_joins
from marker.plan.templates.lines import draw_fold, draw_grain, draw_lines
from marker.plan.templates.stamp import put_square, put_stamp
from marker.plan.templates.svg import sheet_svg
from marker.plan.templates.tiling import Tiling
from marker.units import System, Units

FOOT = 900
"""The band below a window for the line at the foot of the page."""
FOOT_SIZE = style.THUMB
INDENT = 200
"""Room beside the strokes at the window's corners."""
FULL_SIZE = "Print at 100 %, never “fit to page”; measure the square before you cut."


@dataclass(frozen=True)
class Sheet:
    """Paper that stands upright, and the window that a page of it has."""

    paper: Paper

    @property
    def size(self) -> Point:
        """Width and height in 1/100 mm."""
        long, short = self.paper.size
        return short, long

    @property
    def window(self) -> Box:
        """What is printed on: all but the edge that printers leave white, and the foot."""
        width, height = self.size
        edge = style.MARGIN
        return Box(edge, edge, width - edge, height - edge - FOOT)


def draw_page(tiling: Tiling, number: int, sheet: Sheet, units: Units) -> str:
    """A page of a template by its place in the order, as SVG."""
    window = sheet.window
    view = View(tiling, tiling.tiles[number], (window.x0, window.y0))
    usual, other = (5000, 5080) if units.lead is System.CM else (5080, 5000)
    desk = draw_part(view, (usual, other) if number == 0 else (usual,))
    over = Drawing()
    _foot(over, view, sheet)
    template = tiling.seen.template
    title = f"{template.title}: {template.name}, page {view.name}"
    desc = f"Full-size template of {template.name}, {number + 1} of {len(tiling.tiles)} pages."
    return sheet_svg(sheet.size, [(desk, view)], over, (title, f"{desc} {FULL_SIZE}"))


def open_desk(view: View) -> Desk:
    """A desk with the piece's outline on it, where the view shows it."""
    seen, corner = view.tiling.seen, view.corner
    ring: Run = tuple(seen.point(spot, corner) for spot in seen.template.polygon.points)
    return Desk(view.window, view.free, ring)


def draw_part(view: View, squares: Sequence[int] = (), *, framed: bool = True) -> Desk:
    """A desk with all that shows in a window, the test squares asked for, a stamp, and names.

    What is `framed` has strokes at the window's corners, and joins where pages lie beside it.
    """
    desk, seen, corner = open_desk(view), view.tiling.seen, view.corner
    template = seen.template
    lines = draw_lines(desk, seen, corner)
    folds = draw_fold(desk, seen, corner)
    grain = draw_grain(desk, seen, seen.at(template.heart, corner))
    if framed:
        draw_joins(desk, view)
    for side in squares:
        put_square(desk, side)
    put_stamp(desk, view)
    names.name_notches(desk, lines)
    names.name_fold(desk, folds)
    names.name_edges(desk, seen, corner)
    names.name_grain(desk, grain)
    names.name_lines(desk, lines, (stretch.name for stretch in template.draft.stretches))
    return desk


def _foot(over: Drawing, view: View, sheet: Sheet) -> None:
    """Which page it is of what, and how it must be printed."""
    window, template = sheet.window, view.tiling.seen.template
    total = len(view.tiling.tiles)
    which = f"page {view.name} of {total}" if total > 1 else "one page"
    left, right, y = window.x0 + INDENT, window.x1 - INDENT, window.y1 + FOOT - 110
    room = right - left - width(which, FOOT_SIZE, bold=True) - 400
    told = clip(f"{template.title}: {template.letter} {template.name}", FOOT_SIZE, room)
    over.words((left, y - FOOT_SIZE * 5 // 4), told, FOOT_SIZE)
    over.words((right, y - FOOT_SIZE * 5 // 4), which, FOOT_SIZE, bold=True, anchor="end")
    over.words((left, y), FULL_SIZE, FOOT_SIZE)
