"""Outlines of fewer corners around finely curved ones, so that a nest is soon under way.

What the search takes for a piece holds the piece, so that a sound nest of the coarse outlines
is one of the true ones; the cloth lost is no more than a tolerance at every curve, but for
outlines so jagged that even that leaves too many corners: of those the hull is taken.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from functools import lru_cache
from itertools import product
from math import dist, inf
from typing import NamedTuple, TypeVar

from marker.errors import BadInput
from marker.geometry import Polygon, Rect
from marker.geometry.segments import Point, edges, turn
from marker.solver.nest import NestKind
from marker.units import MM

FEW = 30_000
"""So many pairs of edges are combined in a second or two, all pairs of outlines together."""
TOLERANCES = (0.0, MM / 2, float(MM), 2.0 * MM)
"""How far a coarse outline may lie outside the true one."""
JAGGED = 60
"""An outline that has more corners than this still is jagged, and may be made coarser yet."""
COARSEST = (5.0 * MM, 10.0 * MM, inf)
"""How far then; at the last it is the hull."""
KNOWN = 2000
"""Outlines that are kept from one nest to the next."""
NEAR = (0, 1, -1, 2, -2)
"""Steps from the nearest whole place at which a corner is tried."""
T = TypeVar("T")


def coarser(kinds: Sequence[NestKind]) -> list[NestKind]:
    """The same kinds with outlines as fine as a search can start on within a second or so."""
    for tolerance in TOLERANCES:
        if _are_few(around(shape, tolerance) for kind in kinds for shape in kind.shapes):
            break
    found = [
        replace(kind, shapes=tuple(around(shape, tolerance) for shape in kind.shapes))
        for kind in kinds
    ]
    for coarsest in COARSEST:
        if _are_few(shape for kind in found for shape in kind.shapes):
            break
        found = [
            replace(
                kind,
                shapes=tuple(
                    around(shape, coarsest) if len(coarse.points) > JAGGED else coarse
                    for shape, coarse in zip(kind.shapes, now.shapes, strict=True)
                ),
            )
            for kind, now in zip(kinds, found, strict=True)
        ]
    return found


def _are_few(shapes: Iterable[Polygon]) -> bool:
    """Whether there are few pairs of edges over all pairs of outlines of which one has a hollow.

    No outline is made any more once it is known.
    """
    pairs = every = hollow = 0
    for shape in shapes:
        corners = len(shape.points)
        every += corners
        hollow += corners if _hollow(shape) else 0
        pairs += corners * (every if _hollow(shape) else hollow)
        if pairs > FEW:
            return False
    return True


@lru_cache(maxsize=KNOWN)
def _hollow(shape: Polygon) -> bool:
    return any(t < 0 for t in _turns(shape.points))


def _turns(ring: Sequence[Point]) -> list[int]:
    ends = edges(ring)
    return [turn(a, b, c) for (a, b), (_, c) in zip(ends, ends[1:] + ends[:1], strict=True)]


@lru_cache(maxsize=KNOWN)
def around(outline: Polygon, tolerance: float) -> Polygon:
    """An outline of fewer corners that holds this one, in the same box, no further out than so.

    Hollow corners are left out; two bulging ones become the one where their other sides meet.
    Kept, since a plan asks for the same ones again and again.
    """
    if tolerance == inf:
        return _hull(outline)
    ring = [(point, 0.0) for point in outline.points]
    steps = [_simpler(ring, at, outline.box, tolerance) for at in range(len(ring))]
    while tolerance and len(ring) > 3:
        found = min(((step.off, at) for at, step in enumerate(steps) if step), default=None)
        if found is None:
            break
        step, at = steps[found[1]], found[1]
        assert step is not None
        ring, steps = _after(ring, at, step.gone), _after(steps, at, step.gone)
        if step.corner is None:
            # The error of a hollow corner is kept by the one before it.
            ring[-1] = ring[-1][0], max(ring[-1][1], step.off)
        else:
            ring.append((step.corner, step.off))
            steps.append(None)
        for near in (-3, -2, -1, 0):  # no other step hangs on corners that changed
            steps[near] = _simpler(ring, near % len(ring), outline.box, tolerance)
    try:
        return Polygon.of(point for point, _ in ring)
    except BadInput:
        # A hollow so deep that its mouth closed on itself: rare, and then left as it is.
        return outline


def _hull(outline: Polygon) -> Polygon:
    """The outline without any hollow."""
    sides: list[list[Point]] = []
    for points in (sorted(outline.points), sorted(outline.points, reverse=True)):
        side: list[Point] = []
        for point in points:
            while len(side) > 1 and turn(side[-2], side[-1], point) <= 0:
                side.pop()
            side.append(point)
        sides.append(side[:-1])
    return Polygon.of([*sides[0], *sides[1]])


def _after(ring: list[T], at: int, gone: int) -> list[T]:
    """A ring without so many of its members from one on, from the one that follows them on."""
    begin = (at + gone) % len(ring)
    return [*ring[begin:], *ring[:begin]][: len(ring) - gone]


class _Step(NamedTuple):
    """How far out an outline then lies, how many corners go, and the one in their place."""

    off: float
    gone: int
    corner: Point | None


def _simpler(
    ring: Sequence[tuple[Point, float]], at: int, box: Rect, tolerance: float
) -> _Step | None:
    """What may be done to a ring at a corner to leave it with a corner less."""
    count = len(ring)
    (a, _), (b, before) = ring[at - 1], ring[at]
    (c, after), (d, _) = ring[(at + 1) % count], ring[(at + 2) % count]
    if turn(a, b, c) <= 0:
        off = before + _apart(b, a, c)
        return _Step(off, 1, None) if off <= tolerance else None
    if turn(b, c, d) <= 0 or turn(a, b, d) <= 0 or turn(a, c, d) <= 0:
        return None
    corner = _corner(a, b, c, d, box)
    if corner is None:
        return None
    off = max(before, after) + _apart(corner, b, c)
    return _Step(off, 2, corner) if off <= tolerance else None


def _apart(point: Point, a: Point, b: Point) -> float:
    return abs(turn(a, b, point)) / dist(a, b)


def _corner(a: Point, b: Point, c: Point, d: Point, box: Rect) -> Point | None:
    """The whole place nearest to where ab and dc meet from which neither b nor c juts out."""
    run, rise = b[0] - a[0], b[1] - a[1]
    back, up = c[0] - d[0], c[1] - d[1]
    across = run * up - rise * back
    if across >= 0:
        return None
    part = ((d[0] - a[0]) * up - (d[1] - a[1]) * back) / across
    x, y = round(a[0] + part * run), round(a[1] + part * rise)
    for dx, dy in product(NEAR, NEAR):
        spot = x + dx, y + dy
        if not (box.x0 <= spot[0] <= box.x1 and box.y0 <= spot[1] <= box.y1):
            continue
        if all(turn(a, spot, p) >= 0 and turn(spot, d, p) >= 0 for p in (b, c)):
            return spot
    return None
