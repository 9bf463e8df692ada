"""The outline of a piece on the page, and where in it words of a size can stand."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import cached_property, lru_cache
from itertools import pairwise

from marker.geometry import Polygon
from marker.geometry.curves import Spot
from marker.geometry.pole import pole
from marker.plan.drawing import style
from marker.plan.drawing.page import Box, Point, View
from marker.plan.drawing.slabs import Slab, turned

FINE = 6
"""An outline on the page may leave out corners that lie no further off than this."""
CLOSE = 800
"""How near on cloth, 5 mm, the place with most room is found."""
ROWS = 13
"""Levels across a shape at which a place is sought."""
LEAN = 5
"""Degrees between the ways tried for the longest way through a shape."""
SLENDER = 0.3
"""A shape narrower than this part of its longest way may be lettered along it."""
LEVEL = 10
"""Words that would lean by no more degrees than this stand level, or upright."""
NEARLY = 0.9
"""A place nearer the middle is taken for the pole's if it has this part of its room."""

Ring = tuple[Point, ...]


@dataclass(frozen=True, eq=False)
class Shape:
    """An outline whose box has its upper left corner at 0, 0; y runs down the page.

    `heart` is where a label stands best: the place furthest from all edges, or in a shape
    that is as broad elsewhere, the one nearest the middle. `reach` is the greatest distance.
    """

    ring: Ring
    box: Box
    heart: Point
    reach: int
    _known: dict[tuple[int, int, int], tuple[Slab, ...]] = field(default_factory=dict)
    _rings: dict[int, list[Spot]] = field(default_factory=dict)

    @cached_property
    def lean(self) -> int:
        """The angle of the longest way through the heart, above -90 and up to 90 degrees."""
        lean = max(range(90, -90, -LEAN), key=lambda angle: (self._way(angle), -abs(angle)))
        if abs(lean) <= LEVEL:
            return 0
        return 90 if abs(lean) >= 90 - LEVEL else lean

    @cached_property
    def angles(self) -> tuple[int, ...]:
        """The ways in which words may run, level first; slanted only along a slender shape."""
        slender = 2 * self.reach < SLENDER * self._way(self.lean)
        return tuple(dict.fromkeys((0, self.lean))) if slender or self.lean == 90 else (0,)

    def _way(self, angle: int) -> float:
        """How far a band about the heart, half as broad as there is room, runs inside."""
        ring = _turned(self.ring, angle)
        x, y = _about(self.heart, angle)
        half = self.reach / 2
        return max((b - a for a, b in _open(ring, y - half, y + half) if a <= x <= b), default=0.0)

    def seats(self, width: int, height: int, angle: int) -> tuple[Slab, ...]:
        """Slabs of a size at an angle that lie wholly inside, those nearest the heart first."""
        if height > 2 * self.reach:
            return ()
        key = width, height, angle
        if key not in self._known:
            # Room around words is spared only where there is little.
            self._known[key] = tuple(_seats(self, key, style.PAD)) or tuple(
                _seats(self, key, style.CLEAR)
            )
        return self._known[key]

    def holds(self, slab: Slab) -> bool:
        """Whether a slab lies wholly inside: no edge runs into it, and its middle is inside."""
        ring = self._rings.get(slab.angle)  # asked for hundreds of slabs at the same angle
        if ring is None:
            ring = self._rings[slab.angle] = _turned(self.ring, slab.angle)
        x, y = _about(slab.at, slab.angle)
        low, high = y - slab.height / 2, y + slab.height / 2
        left, right = x - slab.width / 2, x + slab.width / 2
        return any(a <= left and right <= b for a, b in _open(ring, low, high))


def shape_of(polygon: Polygon, view: View) -> Shape:
    """The outline of a laid piece at the view's scale."""
    return _shape(polygon.shifted(-polygon.box.x0, -polygon.box.y0), view.n)


@lru_cache(maxsize=512)
def _shape(polygon: Polygon, n: int) -> Shape:
    view = View(polygon.box, n)
    ring = _simpler([view.point(point) for point in polygon.points])
    x, y, reach = _pole(polygon)
    off, box = view.length(int(reach)), view.box(polygon.box)
    return Shape(ring, box, _heart(ring, box, view.point((x, y)), off), off)


@lru_cache(maxsize=512)
def _pole(polygon: Polygon) -> tuple[int, int, float]:
    return pole(polygon, CLOSE)


def _heart(ring: Ring, box: Box, pole: Point, reach: float) -> Point:
    """The place nearest the middle of the box that is about as far from all edges as the pole."""
    over = tuple((y, x) for x, y in ring)
    found = [pole]
    for places, tall, flip in ((ring, box.height, False), (over, box.width, True)):
        for row in range(1, 2 * ROWS):
            level = tall * row / (2 * ROWS)
            for left, right in _open(places, level - 1, level + 1):
                at = round((left + right) / 2), round(level)
                found.append((at[1], at[0]) if flip else at)
    roomy = [at for at in found if _room(ring, at) >= NEARLY * reach]
    return min(roomy or [pole], key=lambda at: (math.dist(at, box.middle), at))


def _room(ring: Ring, at: Point) -> float:
    """The distance of a place inside a ring to the nearest edge."""
    return min(_off(a, b, at) for a, b in _sides(ring))


def _off(a: Spot, b: Spot, at: Spot) -> float:
    dx, dy = b[0] - a[0], b[1] - a[1]
    long = dx * dx + dy * dy
    part = ((at[0] - a[0]) * dx + (at[1] - a[1]) * dy) / long if long else 0.0
    part = min(1.0, max(0.0, part))
    return math.hypot(a[0] + part * dx - at[0], a[1] + part * dy - at[1])


def _simpler(points: Sequence[Point]) -> Ring:
    """The ring without corners that a line between its neighbours nearly passes."""
    far = max(range(len(points)), key=lambda i: math.dist(points[0], points[i]))
    halves = points[: far + 1], [*points[far:], points[0]]
    return tuple(point for half in halves for point in _thinned(half)[:-1])


def _thinned(run: Sequence[Point]) -> list[Point]:
    """Douglas and Peucker (Cartographica 10, 1973, from memory): keep what lies furthest off."""
    (ax, ay), (bx, by) = run[0], run[-1]
    size = math.dist(run[0], run[-1]) or 1.0
    offs = [abs((bx - ax) * (y - ay) - (by - ay) * (x - ax)) / size for x, y in run[1:-1]]
    if not offs or max(offs) <= FINE:
        return [run[0], run[-1]]
    at = offs.index(max(offs)) + 1
    return [*_thinned(run[: at + 1])[:-1], *_thinned(run[at:])]


def _sides(ring: Sequence[Spot]) -> Iterator[tuple[Spot, Spot]]:
    return zip(ring, [*ring[1:], ring[0]], strict=True)


def _about(at: Spot, angle: int) -> Spot:
    """A place as it is seen when the page is turned back by an angle about 0, 0."""
    cos, sin = turned(angle)
    return at[0] * cos - at[1] * sin, at[0] * sin + at[1] * cos


def _turned(ring: Ring, angle: int) -> list[Spot]:
    return [_about(point, angle) for point in ring]


def _seats(shape: Shape, wanted: tuple[int, int, int], pad: int) -> Iterator[Slab]:
    width, height, angle = wanted
    ring = _turned(shape.ring, angle)
    px, py = _about(shape.heart, angle)
    ys = [y for _, y in ring]
    low, high = min(ys) + height / 2 + pad, max(ys) - height / 2 - pad
    rows = [low + (high - low) * row / (ROWS - 1) for row in range(ROWS)] if low <= high else []
    found = []
    for y in [py, *rows]:
        half = height / 2 + pad
        for left, right in _open(ring, y - half, y + half):
            least, most = left + width / 2 + pad, right - width / 2 - pad
            if least <= most:
                middle = (least + most) / 2
                near = min(max(px, least), most)
                found += [(x, y) for x in {near, middle, (least + near) / 2, (most + near) / 2}]
    cos, sin = turned(angle)
    for x, y in sorted(found, key=lambda at: (math.dist(at, (px, py)), at)):
        yield Slab((round(x * cos + y * sin), round(-x * sin + y * cos)), width, height, angle)


def _open(ring: Sequence[Spot], low: float, high: float) -> Iterator[tuple[float, float]]:
    """The stretches of a level band that lie wholly inside a ring."""
    middle = (low + high) / 2
    shut: list[tuple[float, float]] = []
    crossed: list[float] = []
    for (ax, ay), (bx, by) in _sides(ring):
        if max(ay, by) <= low or min(ay, by) >= high:
            continue
        ends = []
        for level in (max(low, min(ay, by)), min(high, max(ay, by))):
            ends.append(ax if ay == by else ax + (bx - ax) * (level - ay) / (by - ay))
        if ay == by:
            ends = [ax, bx]
        shut.append((min(ends), max(ends)))
        if (ay > middle) != (by > middle):
            crossed.append(ax + (bx - ax) * (middle - ay) / (by - ay))
    shut.sort()
    reached = shut[0][1] if shut else 0.0
    for (_, end), (start, stop) in pairwise(shut):
        reached = max(reached, end)
        if start > reached:
            inside = sum(x <= reached for x in crossed) % 2
            if inside:
                yield reached, start
        reached = max(reached, stop)
