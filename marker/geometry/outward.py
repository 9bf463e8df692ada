"""From corners anywhere to corners of whole units, outwards: the result holds what went in.

Each corner moves to a whole place on the outer side of both its edges' lines; an edge then
lies wholly on the outer side of the line that it stands for. That holds for a corner of any
angle as long as edges are longer than the corners move, so crumbs are cleared away first.
"""

from __future__ import annotations

import heapq
import math

from marker.errors import BadInput
from marker.geometry.curves import NOISE, Spot, cross, minus, unit
from marker.geometry.flatten import Corner
from marker.geometry.polygon import Polygon
from marker.geometry.segments import told

SHIFT = 2.2
"""The most that a corner moves: a wedge of 60 degrees holds a circle of radius 1/sqrt 2, and
with it a whole place, within 3/sqrt 2 of its tip."""
CRUMB = 4.0
"""Edges shorter than this, in units, are merged into their neighbours where that is outwards."""
FINEST = 3.0
"""No edge shorter than this, in units, may be left when corners move."""
CURVE = math.cos(math.radians(20))
"""Corners that turn by less are taken for points of a curve, and thinned out outwards."""
WIDEST = math.cos(math.radians(120))
"""A corner sharper than 60 degrees gets a short edge across its tip."""


def outward(corners: list[Corner], tolerance: float) -> Polygon:
    """The polygon of whole units round a counter-clockwise ring, `tolerance` off it at most.

    What the corners stray already counts towards the tolerance. Raises `BadInput` where the
    ring has details finer than can be told apart.
    """
    ring = _Ring(corners, tolerance - SHIFT).thinned()
    if all(x.is_integer() and y.is_integer() for x, y in ring):
        return Polygon.of((int(x), int(y)) for x, y in ring)
    placed: list[tuple[int, int]] = []
    for before, at, after in zip(ring[-1:] + ring[:-1], ring, ring[1:] + ring[:1], strict=True):
        if math.dist(at, after) < FINEST:
            raise BadInput(
                f"the outline has a detail finer than can be cut near {told(at)}; leave it out"
            )
        placed += _placed(at, unit(minus(at, before)), unit(minus(after, at)))
    try:
        return Polygon.of(placed)
    except BadInput as fault:
        raise BadInput(
            f"{fault} once it is drawn to 0.1 mm; leave out what is finer than that"
        ) from None


def _placed(at: Spot, come: Spot, go: Spot) -> list[tuple[int, int]]:
    """Whole places for a corner reached along `come` and left along `go`."""
    if cross(come, go) > 0 and come[0] * go[0] + come[1] * go[1] < WIDEST:
        half = math.atan2(cross(come, go), come[0] * go[0] + come[1] * go[1]) / 2
        cos, sin = math.cos(half), math.sin(half)
        across = come[0] * cos - come[1] * sin, come[0] * sin + come[1] * cos
        return [_place(at, come, across), _place(at, across, go)]
    return [_place(at, come, go)]


def _place(at: Spot, come: Spot, go: Spot) -> tuple[int, int]:
    """The nearest whole place on the outer, right-hand side of both directions' lines."""
    best, least = None, math.inf
    base = math.floor(at[0]), math.floor(at[1])
    for x in range(base[0] - 2, base[0] + 4):
        for y in range(base[1] - 2, base[1] + 4):
            way = x - at[0], y - at[1]
            away = math.hypot(*way)
            if away < least and cross(come, way) <= NOISE and cross(go, way) <= NOISE:
                best, least = (x, y), away
    if best is not None:
        return best
    # The tip of a narrow slit: the next whole place lies further out, between its sides.
    aside = come[1] + go[1], -come[0] - go[0]
    if math.hypot(*aside) <= NOISE:
        raise BadInput(
            f"the outline runs out and back along one line near {told(at)}; leave the spike out"
        )
    out = unit(aside)
    far = math.sqrt(0.5001) / max(cross(out, come), NOISE)
    return round(at[0] + out[0] * far), round(at[1] + out[1] * far)


class _Ring:
    """A closed ring of corners that are thinned out outwards, the cheapest first."""

    def __init__(self, corners: list[Corner], stray: float) -> None:
        kept = [
            corner
            for corner, before in zip(corners, corners[-1:] + corners[:-1], strict=True)
            if math.dist(corner[:2], before[:2]) > NOISE
        ]
        self.spots: list[Spot] = [(x, y) for x, y, _ in kept]
        self.strays = [stray for _, _, stray in kept]
        self.stray = stray
        count = len(kept)
        self.ahead = [(i + 1) % count for i in range(count)]
        self.behind = [(i - 1) % count for i in range(count)]
        self.version = [0] * count
        self.left = count
        self.heap: list[tuple[float, int, int, bool]] = []

    def thinned(self) -> list[Spot]:
        """Take out corners of hollows and edges of bulges while what is added stays small."""
        for i in range(len(self.spots)):
            self._offer(i)
        while self.heap and self.left > 3:
            _, i, version, hollow = heapq.heappop(self.heap)
            if version != self.version[i]:
                continue
            if hollow:
                self._drop(i)
            else:
                self._merge(i)
        start = next(i for i, version in enumerate(self.version) if version >= 0)
        order, i = [start], self.ahead[start]
        while i != start:
            order.append(i)
            i = self.ahead[i]
        return [self.spots[i] for i in order]

    def _way(self, i: int) -> Spot:
        return minus(self.spots[self.ahead[i]], self.spots[i])

    def _offer(self, i: int) -> None:
        """Put corner i, or the edge that leaves it, up for removal if that is allowed."""
        hollow = self._hollow(i)
        if hollow is not None:
            heapq.heappush(self.heap, (hollow, i, self.version[i], True))
            return
        bulge = self._bulge(i)
        if bulge is not None:
            heapq.heappush(self.heap, (bulge[0], i, self.version[i], False))

    def _hollow(self, i: int) -> float | None:
        """The stray of the edge that would stand for both edges at a hollow corner."""
        come, go = self._way(self.behind[i]), self._way(i)
        if not _joins(come, go):
            return None
        over = come[0] + go[0], come[1] + go[1]
        height = cross(come, over) / math.hypot(*over)
        if height > NOISE / 10:
            return None
        off = max(self.strays[self.behind[i]], self.strays[i]) - min(height, 0.0)
        return off if off <= self.stray else None

    def _bulge(self, i: int) -> tuple[float, Spot] | None:
        """The stray, and the tip, if the neighbours of the edge from i ran on until they met."""
        j = self.ahead[i]
        come, along, go = self._way(self.behind[i]), self._way(i), self._way(j)
        first, last, whole = cross(come, along), cross(along, go), cross(come, go)
        if first <= 0 or last <= 0 or whole <= 0 or not _bends_little(come, along, go):
            return None
        run = cross(along, go) / whole
        tip = self.spots[i][0] + come[0] * run, self.spots[i][1] + come[1] * run
        height = cross(along, minus(tip, self.spots[i])) / -math.hypot(*along)
        edges = self.strays[self.behind[i]], self.strays[i], self.strays[j]
        off = max(edges) + height
        return (off, tip) if off <= self.stray else None

    def _drop(self, i: int) -> None:
        off = self._hollow(i)
        before, after = self.behind[i], self.ahead[i]
        if off is None:
            return
        self.strays[before] = off
        self._unlink(i)
        self._renew(before, after)

    def _merge(self, i: int) -> None:
        bulge = self._bulge(i)
        if bulge is None:
            return
        off, tip = bulge
        before, after = self.behind[i], self.ahead[i]
        self.spots[after] = tip
        self.strays[before] = self.strays[after] = off
        self._unlink(i)
        self._renew(before, after)

    def _unlink(self, i: int) -> None:
        before, after = self.behind[i], self.ahead[i]
        self.ahead[before], self.behind[after] = after, before
        self.version[i] = -1
        self.left -= 1

    def _renew(self, before: int, after: int) -> None:
        """Put up anew all corners whose edges have changed."""
        for i in (self.behind[self.behind[before]], self.behind[before], before, after,
                  self.ahead[after]):  # fmt: skip
            self.version[i] += 1
            self._offer(i)


def _joins(come: Spot, go: Spot) -> bool:
    """Whether two edges read as one curve, or one of them is a crumb."""
    sizes = math.hypot(*come), math.hypot(*go)
    along = come[0] * go[0] + come[1] * go[1]
    return along > 0 and (along >= CURVE * sizes[0] * sizes[1] or min(sizes) < CRUMB)


def _bends_little(come: Spot, along: Spot, go: Spot) -> bool:
    """Whether three edges read as one curve, or the middle one is a crumb between others."""
    if math.hypot(*along) < CRUMB:
        turned = come[0] * go[0] + come[1] * go[1]
        return turned > -0.5 * math.hypot(*come) * math.hypot(*go)
    return all(
        a[0] * b[0] + a[1] * b[1] >= CURVE * math.hypot(*a) * math.hypot(*b)
        for a, b in ((come, along), (along, go))
    )
