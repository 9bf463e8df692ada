"""How the pages of a template join: where to cut, how far the next page goes, marks that meet."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from marker.plan.drawing import style
from marker.plan.drawing.page import Box, Point
from marker.plan.drawing.slabs import Slab
from marker.plan.templates.desk import Desk, slab_of
from marker.plan.templates.tiling import Tile, Tiling

SIZE = style.READING
TICK, OFF = 450, 120
"""Length of the strokes at a window's corners, and how far off they begin."""
DIAMOND = 350
"""Half the size of the marks that come together where two pages meet."""
DASH_LAP = style.DASH_LAP
SLIDES = (0.3, 0.7, 0.18, 0.82, 0.42, 0.58, 0.08, 0.92)
"""Where along an edge its words are tried; the middle has the diamond."""


@dataclass(frozen=True)
class View:
    """One page's part of a template where it stands on the page: its window's upper left corner."""

    tiling: Tiling
    tile: Tile
    at: Point
    part: str = "page"
    """What one of several is called."""

    @property
    def window(self) -> Box:
        """The window on the page."""
        window = self.tile.window
        return Box(0, 0, window.width, window.height).moved(*self.at)

    @property
    def corner(self) -> Point:
        """Where the upper left corner of the whole template's box would fall on the page."""
        window = self.tile.window
        return self.at[0] - window.x0, self.at[1] - window.y0

    @property
    def name(self) -> str:
        """What the page is called."""
        return self.tiling.name(self.tile)

    @property
    def free(self) -> Box:
        """What of the window no other page covers once they are taped."""
        box, lap, beside = self.window, self.tiling.lap, self.tiling.beside
        right = lap if beside(self.tile, 0, 1) else 0
        below = lap if beside(self.tile, 1, 0) else 0
        return Box(box.x0, box.y0, box.x1 - right, box.y1 - below)


def draw_joins(desk: Desk, view: View) -> None:
    """The edges at which a page is cut and joined, with the names of the pages beyond."""
    _corners(desk, view.window)
    box, lap, tile = view.window, view.tiling.lap, view.tile
    for (down, right), line, strip in _sides(box, lap):
        other = view.tiling.beside(tile, down, right)
        if other is None:
            continue
        name = view.tiling.name(other)
        first = down < 0 or right < 0
        if first:
            desk.over.path(line, weight=style.THIN)
            words = f"cut along this edge, lay it on {name}"
        else:
            desk.over.path(line, weight=style.THIN, dash=DASH_LAP)
            words = f"{name} is laid up to the dashed line"
        _diamond(desk, ((line[0][0] + line[1][0]) // 2, (line[0][1] + line[1][1]) // 2))
        desk.bar(line)
        upright = bool(right)
        desk.seat(_strip_places(strip, words, upright), words, SIZE, kind="join")


def _sides(box: Box, lap: int) -> Iterator[tuple[tuple[int, int], tuple[Point, Point], Box]]:
    """Each side: where the page beyond lies, the line where it is joined, and the strip there."""
    x0, y0, x1, y1 = box.x0, box.y0, box.x1, box.y1
    yield (0, -1), ((x0, y0), (x0, y1)), Box(x0, y0, x0 + lap, y1)
    yield (-1, 0), ((x0, y0), (x1, y0)), Box(x0, y0, x1, y0 + lap)
    yield (0, 1), ((x1 - lap, y0), (x1 - lap, y1)), Box(x1 - lap, y0, x1, y1)
    yield (1, 0), ((x0, y1 - lap), (x1, y1 - lap)), Box(x0, y1 - lap, x1, y1)


def _strip_places(strip: Box, words: str, upright: bool) -> Iterator[Slab]:
    x, y = strip.middle
    for slide in SLIDES:
        if upright:
            at = x, strip.y0 + round(strip.height * slide)
        else:
            at = strip.x0 + round(strip.width * slide), y
        yield slab_of(at, words, SIZE, 90 if upright else 0)


def _diamond(desk: Desk, at: Point) -> None:
    """A diamond across the line of a join: one page has it whole, the other its one half."""
    x, y = at
    ring = (x, y - DIAMOND), (x + DIAMOND, y), (x, y + DIAMOND), (x - DIAMOND, y), (x, y - DIAMOND)
    desk.inside.path(ring, weight=style.TICK)
    desk.room.take(Box(x - DIAMOND, y - DIAMOND, x + DIAMOND, y + DIAMOND))


def _corners(desk: Desk, box: Box) -> None:
    """Strokes outside the corners of a window, in line with its edges."""
    for x, left in ((box.x0, -1), (box.x1, 1)):
        for y, up in ((box.y0, -1), (box.y1, 1)):
            desk.over.path(((x + left * OFF, y), (x + left * (OFF + TICK), y)), weight=style.THIN)
            desk.over.path(((x, y + up * OFF), (x, y + up * (OFF + TICK))), weight=style.THIN)
