"""The page map: a small picture of a template with its pages numbered, or one of them dark."""

from __future__ import annotations

from marker.plan.drawing import style
from marker.plan.drawing.page import Box, Point
from marker.plan.drawing.verbs import Drawing
from marker.plan.lays.rings import middle_line
from marker.plan.templates.tiling import Tile, Tiling

RIM = 30
"""Round the map, so that its outermost lines aren't cut in half."""
FIGURE, FIGURE_LEAST = style.LARGE, style.THUMB
"""The numbers of pages on a large map; smaller than the least they are left out."""


def page_map(tiling: Tiling, room: Point, here: Tile | None = None) -> tuple[Drawing, Point]:
    """The map no larger than `room`, and its size in 1/100 mm.

    With `here` that page is dark; else every page has its number.
    """
    whole = _around(tiling)
    # A whole scale would waste room; a map is not measured.
    top, bottom = max((whole.width, room[0]), (whole.height, room[1]), key=lambda s: s[0] / s[1])

    def at(x: float, y: float) -> Point:
        return round((x - whole.x0) * bottom / top), round((y - whole.y0) * bottom / top)

    drawing = Drawing()
    ring = tuple(at(*tiling.seen.at(spot)) for spot in tiling.seen.template.polygon.points)
    drawing.solid(ring, style.SELVEDGE)
    windows = [(tile, tile.window) for tile in tiling.tiles]
    boxes = [(tile, Box(*at(box.x0, box.y0), *at(box.x1, box.y1))) for tile, box in windows]
    for tile, box in boxes:
        drawing.field(box, style.INK if tile is here else "none", weight=style.TICK)
    if here is None and len(boxes) > 1:
        for tile, box in boxes:
            _number(drawing, str(tile.number), box)
    drawing.path((*ring, ring[0]), weight=style.OUTLINE)
    inked = Drawing()
    inked.take(drawing, RIM, RIM)
    wide, high = at(whole.x1, whole.y1)
    return inked, (wide + 2 * RIM, high + 2 * RIM)


def _number(drawing: Drawing, text: str, box: Box) -> None:
    """A page's number in the middle of it, on a white disc; none where it would be too small."""
    size = min(FIGURE, box.width * 2 // 3)
    if size < FIGURE_LEAST:
        return
    x, y = box.middle
    drawing.disc((x, y), size * 4 // 5, style.PAPER)
    drawing.words((x, y + middle_line(size)), text, size, bold=True, anchor="middle")


def _around(tiling: Tiling) -> Box:
    """The box round all pages."""
    boxes = [tile.window for tile in tiling.tiles]
    return Box(
        min(box.x0 for box in boxes), min(box.y0 for box in boxes),
        max(box.x1 for box in boxes), max(box.y1 for box in boxes),
    )  # fmt: skip
