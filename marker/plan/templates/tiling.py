"""A template parted into pages that overlap: pure arithmetic, tested without drawing.

Lengths are 1/100 mm. A template is seen from its box's upper left corner, x to the right and
y down, either as its piece is drawn elsewhere, with its length from left to right, or a
quarter turn on, with its length from top to bottom. It is never turned over.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property

from marker.geometry import Polygon, Rect
from marker.geometry.curves import Spot
from marker.plan.drawing.page import Box, Point
from marker.plan.templates.shapes import Template
from marker.units import System, Units

SCALE = Fraction(5, 8)
"""1/100 mm to a unit of cloth: full size."""
PAD = 200
"""Paper left round a template, so that its outline is not drawn on the very edge."""
SHIFTS = 4
"""Into so many steps the spare paper is parted to find where fewest pages are needed."""
STEPS = (2, 0, 4, 1, 3)
"""The steps in the order in which they are tried: equal margins first."""
MANY = 100
"""A grid of more pages is laid with equal margins only."""


def overlap(units: Units) -> int:
    """How far neighbouring pages overlap: 1 cm, or 1/2 in, in 1/100 mm."""
    return 1000 if units.lead is System.CM else 1270


@dataclass(frozen=True)
class Seen:
    """A template on flat paper, its length from left to right or, `turned`, from top to bottom."""

    template: Template
    turned: bool = False

    @cached_property
    def frame(self) -> Rect:
        """The box of what is drawn, in whole units of the piece's frame."""
        return self.template.polygon.box

    @property
    def size(self) -> Point:
        """Width and height on paper, rounded up."""
        box = self.frame
        long, high = (-int(-side * SCALE // 1) for side in (box.along, box.across))
        return (high, long) if self.turned else (long, high)

    def matrix(self, corner: Point) -> tuple[Fraction, ...]:
        """The six numbers of the transform from the piece's frame to a page.

        `corner` is where the upper left corner of the box falls on the page.
        """
        (x, y), box, s = corner, self.frame, SCALE
        if self.turned:
            return (Fraction(0), s, s, Fraction(0), x - s * box.y0, y - s * box.x0)
        return (s, Fraction(0), Fraction(0), -s, x - s * box.x0, y + s * box.y1)

    def at(self, spot: Spot, corner: Point = (0, 0)) -> Spot:
        """A place of the piece's frame on a page."""
        a, b, c, d, e, f = self._floats
        x, y = corner
        return a * spot[0] + c * spot[1] + e + x, b * spot[0] + d * spot[1] + f + y

    @cached_property
    def _floats(self) -> tuple[float, ...]:
        return tuple(float(value) for value in self.matrix((0, 0)))

    def point(self, spot: Spot, corner: Point = (0, 0)) -> Point:
        """The same to the nearest 1/100 mm."""
        x, y = self.at(spot, corner)
        return round(x), round(y)

    def angle(self, degrees: float) -> float:
        """A direction of the piece's frame as it is seen, counter-clockwise from the right."""
        return degrees - 90 if self.turned else degrees

    def rect(self, box: Box) -> Rect:
        """A box of the paper in units of the piece's frame, rounded inwards."""
        frame = self.frame
        x0, x1 = -(-box.x0 // SCALE), box.x1 // SCALE
        y0, y1 = -(-box.y0 // SCALE), box.y1 // SCALE
        if self.turned:
            return Rect(frame.x0 + y0, frame.y0 + x0, frame.x0 + y1, frame.y0 + x1)
        return Rect(frame.x0 + x0, frame.y1 - y1, frame.x0 + x1, frame.y1 - y0)


@dataclass(frozen=True)
class Tile:
    """One page's part of a template: its window in the template's paper, its row and column."""

    row: int
    column: int
    window: Box
    number: int = 0


@dataclass(frozen=True)
class Tiling:
    """The pages of one template in the order in which they are taped: row by row."""

    seen: Seen
    tiles: tuple[Tile, ...]
    lap: int

    @cached_property
    def _places(self) -> dict[tuple[int, int], Tile]:
        return {(tile.row, tile.column): tile for tile in self.tiles}

    def beside(self, tile: Tile, down: int, right: int) -> Tile | None:
        """The page so many rows below and columns to the right of one, if there is one."""
        return self._places.get((tile.row + down, tile.column + right))

    def name(self, tile: Tile) -> str:
        """What a page is called: "A 3"; of a template that needs one page only, "A"."""
        letter = self.seen.template.letter
        return f"{letter} {tile.number}" if len(self.tiles) > 1 else letter


def tile(template: Template, window: Point, lap: int) -> Tiling:
    """The template on as few pages as can be, of which `window` is what each one shows.

    Tried are both ways it may be seen, and several places of the grid.
    """
    ways = [Tiling(seen, cut, lap) for seen in (Seen(template), Seen(template, True))
            for cut in _grids(seen, window, lap)]  # fmt: skip
    return min(ways, key=lambda way: len(way.tiles))


def fewest(template: Template, window: Point, lap: int) -> int:
    """How many pages at least a grid over the template's box takes, before any is left out."""
    return min(
        _count(size[0] + 2 * PAD, window[0], lap) * _count(size[1] + 2 * PAD, window[1], lap)
        for size in (Seen(template).size, Seen(template, True).size)
    )


def _count(long: int, window: int, lap: int) -> int:
    return max(1, -(-(long - lap) // (window - lap)))


def _grids(seen: Seen, window: Point, lap: int) -> Iterator[tuple[Tile, ...]]:
    size = seen.size
    counts = [_count(long + 2 * PAD, of, lap) for long, of in zip(size, window, strict=True)]
    spare = [
        count * (of - lap) + lap - long - 2 * PAD
        for count, of, long in zip(counts, window, size, strict=True)
    ]
    many = counts[0] * counts[1] > MANY
    places = [(2, 2)] if many else [(right, down) for right in STEPS for down in STEPS]
    for right, down in places:
        left, top = -PAD - spare[0] * right // SHIFTS, -PAD - spare[1] * down // SHIFTS
        grid = [
            Tile(row, column, Box(x, y, x + window[0], y + window[1]))
            for row in range(counts[1])
            for column in range(counts[0])
            for x, y in [(left + column * (window[0] - lap), top + row * (window[1] - lap))]
        ]
        yield _numbered(_thinned(seen, grid, lap))
        if counts == [1, 1]:
            return


def _numbered(tiles: Sequence[Tile]) -> tuple[Tile, ...]:
    return tuple(replace(one, number=number) for number, one in enumerate(tiles, 1))


def _thinned(seen: Seen, grid: Sequence[Tile], lap: int) -> list[Tile]:
    """Leave out pages that show nothing of the piece, or only what their neighbours show."""
    kept = {(one.row, one.column): one for one in grid if _shows(seen, one.window)}
    for place, one in list(kept.items()):
        if not _shows(seen, _alone(kept, one, lap)):
            rest = {at: tile for at, tile in kept.items() if at != place}
            if rest and _hang_together(set(rest)):
                kept = rest
    return list(kept.values())


def _shows(seen: Seen, window: Box) -> bool:
    if window.width <= 0 or window.height <= 0:
        return False
    return seen.template.polygon.overlaps(Polygon.of_rect(seen.rect(window)))


def _alone(kept: dict[tuple[int, int], Tile], one: Tile, lap: int) -> Box:
    """What of a page's window none of the pages beside it shows."""
    box, row, column = one.window, one.row, one.column
    left, right, above, below = (
        lap if (row + down, column + across) in kept else 0
        for down, across in ((0, -1), (0, 1), (-1, 0), (1, 0))
    )
    return Box(box.x0 + left, box.y0 + above, box.x1 - right, box.y1 - below)


def _hang_together(places: set[tuple[int, int]]) -> bool:
    """Whether one can walk from every page to every other over shared edges."""
    start = next(iter(places))
    reached, edge = {start}, [start]
    while edge:
        row, column = edge.pop()
        for near in ((row + 1, column), (row - 1, column), (row, column + 1), (row, column - 1)):
            if near in places and near not in reached:
                reached.add(near)
                edge.append(near)
    return reached == places
