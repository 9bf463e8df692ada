"""Placing labels: paper that is taken, fans of leaders, and searches for free paper.

Everything is deterministic: candidates are tried in a fixed order and the first that is
free is taken.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import pairwise

from marker.plan.drawing import style
from marker.plan.drawing.page import Box, Point, around
from marker.plan.drawing.slabs import Slab, corners, meet

CELL = 900
"""Boxes are found again by the squares of this size that they touch."""


class Shelf:
    """Boxes kept so that those near a place are found fast."""

    def __init__(self, boxes: Iterable[Box] = ()) -> None:
        self.cells: dict[Point, list[Box]] = {}
        for box in boxes:
            self.add(box)

    def add(self, box: Box) -> None:
        """Keep a box."""
        for cell in _cells(box):
            self.cells.setdefault(cell, []).append(box)

    def near(self, box: Box) -> Iterator[Box]:
        """Every box that may touch this one, some of them more than once."""
        for cell in _cells(box):
            yield from self.cells.get(cell, ())

    def hit(self, box: Box, but: Box | None = None) -> bool:
        """Whether any box but that one shares paper with this one.

        Written out, for it is asked a million times for a crowded plan.
        """
        x0, y0, x1, y1 = box.x0, box.y0, box.x1, box.y1
        for x in range(x0 // CELL, x1 // CELL + 1):
            for y in range(y0 // CELL, y1 // CELL + 1):
                for one in self.cells.get((x, y), ()):
                    if x0 < one.x1 and one.x0 < x1 and y0 < one.y1 and one.y0 < y1 and one != but:
                        return True
        return False


class Leaders:
    """Leaders as they are drawn, each kept whole in all squares that its box touches."""

    def __init__(self) -> None:
        self.cells: dict[Point, list[tuple[Point, Point]]] = {}

    def add(self, a: Point, b: Point) -> None:
        """Keep a leader."""
        for cell in _cells(_between(a, b)):
            self.cells.setdefault(cell, []).append((a, b))

    def near(self, box: Box) -> Iterator[tuple[Point, Point]]:
        """Every leader that may touch a box, some of them more than once."""
        for cell in _cells(box):
            yield from self.cells.get(cell, ())


class Strokes:
    """Lines that run any way, kept so that those near a place are found fast."""

    def __init__(self) -> None:
        self.cells: dict[Point, set[tuple[Point, Point]]] = {}

    def add(self, a: Point, b: Point) -> None:
        """Keep a line, in pieces no longer than a cell, so that it lies in few of them."""
        parts = 1 + max(abs(b[0] - a[0]), abs(b[1] - a[1])) // CELL
        stops = [
            (a[0] + (b[0] - a[0]) * i // parts, a[1] + (b[1] - a[1]) * i // parts)
            for i in range(parts + 1)
        ]
        for start, stop in pairwise(stops):
            for cell in _cells(_round(start, stop)):
                self.cells.setdefault(cell, set()).add((start, stop))

    def near(self, box: Box) -> Iterator[tuple[Point, Point]]:
        """Every piece of a line that may touch a box, some of them more than once."""
        for cell in _cells(box):
            yield from self.cells.get(cell, ())


def _cells(box: Box) -> Iterator[Point]:
    for x in range(box.x0 // CELL, box.x1 // CELL + 1):
        for y in range(box.y0 // CELL, box.y1 // CELL + 1):
            yield x, y


class Room:
    """The paper of one drawing and what is taken on it.

    `lines` are tears and cloth edges, which no label may cover; `soft` are marks on the
    pieces, which a label may interrupt where it can't dodge them; `faint` are stripes, which
    any label may interrupt; `narrow` are pieces whose
    own label needs all their room, so that rings stand elsewhere if they can. `strokes` are
    lines that run any way, such as the outlines of shaped pieces, which no label may cover.
    """

    def __init__(self, whole: Box, lines: Iterable[Box]) -> None:
        self.whole = whole
        self.lines = Shelf(lines)
        self.boxes = Shelf()
        self.soft = Shelf()
        self.faint = Shelf()
        self.narrow = Shelf()
        self.strokes = Strokes()
        self.slabs: list[Slab] = []
        self.leaders = Leaders()

    def free(self, box: Box, *, dodge: bool = False, but: Box | None = None) -> bool:
        """Tell whether a label may stand there; `but` is the one line it may cover."""
        if not self.whole.holds(box):
            return False
        wide, near = box.grown(style.GAP), box.grown(style.CLEAR)
        return (
            not self.boxes.hit(wide)
            and not self.lines.hit(near, but)
            and not any(wide.crossed(a, b) for a, b in self.leaders.near(wide))
            and not any(near.crossed(a, b) for a, b in self.strokes.near(near))
            and not any(meet(corners(wide), slab.corners) for slab in self.slabs)
            and not (dodge and self.marked(box))
        )

    def open(self, slab: Slab, *, dodge: bool = False) -> bool:
        """Tell whether a label may stand there that keeps inside a shaped piece."""
        wide, near = slab.grown(style.GAP), slab.grown(style.CLEAR)
        over, box = wide.corners, wide.box
        return (
            self.whole.holds(slab.box)
            and not any(box.hits(one.box) and meet(over, one.corners) for one in self.slabs)
            and not _over(self.boxes, wide)
            and not _over(self.lines, near)
            and not any(
                _round(*line).hits(box) and meet(over, line)
                for line in self.leaders.near(box.grown(style.GAP))
            )
            and not (dodge and self.marked(slab))
        )

    def spares(self, box: Box) -> bool:
        """Tell whether a ring leaves the narrow pieces alone."""
        return not self.narrow.hit(box)

    def marked(self, area: Box | Slab) -> bool:
        """Tell whether a mark on a piece runs under a label."""
        return _over(self.soft, area)

    def dodges(self, box: Box) -> bool:
        """Tell whether a label stands clear of the marks on a piece, and not just off them."""
        return not self.marked(box.grown(style.CLEAR))

    def grazed(self, box: Box) -> bool:
        """Tell whether a mark runs under the rim of a label, not through the middle of it."""
        x, y = box.width // 4, box.height // 4
        inner = Box(box.x0 + x, box.y0 + y, box.x1 - x, box.y1 - y)
        return any(box.hits(one) and not inner.hits(one) for one in self.soft.near(box))

    def covers(self, area: Box | Slab) -> bool:
        """Tell whether a label there would be set over a mark or a stripe."""
        return self.marked(area) or _over(self.faint, area)

    def clear(self, a: Point, b: Point) -> bool:
        """Tell whether a leader may run there: over no label and across no other leader."""
        return not any(
            box.grown(style.GAP // 2).crossed(a, b) for box in self.boxes.near(_round(a, b))
        ) and not (
            any(_meet(a, b, c, d) for c, d in self.leaders.near(_between(a, b)))
            or any(meet((a, b), slab.grown(style.GAP // 2).corners) for slab in self.slabs)
        )

    def crossings(self, a: Point, b: Point) -> int:
        """How many tears and edges a leader runs over."""
        round_ = _round(a, b)
        over = sum(box.crossed(a, b) for box in set(self.lines.near(round_)))
        return over + sum(_meet(a, b, c, d) for c, d in set(self.strokes.near(round_)))

    def take(self, area: Box | Slab) -> None:
        """Mark paper as taken by a label."""
        if isinstance(area, Slab):
            self.slabs.append(area)
        else:
            self.boxes.add(area)

    def run(self, *points: Point) -> None:
        """Mark a leader as drawn."""
        for a, b in pairwise(points):
            if a != b:
                self.leaders.add(a, b)


def _over(shelf: Shelf, area: Box | Slab) -> bool:
    """Whether an area lies over anything on a shelf."""
    if isinstance(area, Slab):
        box = area.box
        return any(
            box.hits(one) and (not area.angle or meet(area.corners, corners(one)))
            for one in shelf.near(box)
        )
    return shelf.hit(area)


def _between(a: Point, b: Point) -> Box:
    """The box of a line."""
    return Box(min(a[0], b[0]), min(a[1], b[1]), max(a[0], b[0]), max(a[1], b[1]))


def _round(a: Point, b: Point) -> Box:
    """The box round a line, with the space that labels keep."""
    return _between(a, b).grown(style.GAP)


def _meet(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Tell whether two lines touch: each has its ends on either side of the other, or on it."""
    if max(a[0], b[0]) < min(c[0], d[0]) or max(c[0], d[0]) < min(a[0], b[0]):
        return False
    if max(a[1], b[1]) < min(c[1], d[1]) or max(c[1], d[1]) < min(a[1], b[1]):
        return False
    one, two = _side(a, b, c) * _side(a, b, d), _side(c, d, a) * _side(c, d, b)
    return one <= 0 and two <= 0


def _side(a: Point, b: Point, c: Point) -> int:
    value = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
    return (value > 0) - (value < 0)


def spots(area: Box, width: int, height: int, steps: int = 8) -> Iterator[Box]:
    """Boxes of one size inside an area, the middle one first, then ever farther out."""
    spare_x, spare_y = area.width - width, area.height - height
    if spare_x < 0 or spare_y < 0:
        return
    xs = sorted({area.x0 + spare_x * i // steps for i in range(steps + 1)})
    ys = sorted({area.y0 + spare_y * i // steps for i in range(steps + 1)})
    left, top = area.x0 + spare_x // 2, area.y0 + spare_y // 2
    places = ((x, y) for x in {*xs, left} for y in {*ys, top})
    for x, y in sorted(places, key=lambda p: (abs(p[0] - left) + abs(p[1] - top), p)):
        yield Box(x, y, x + width, y + height)


def find(room: Room, area: Box, width: int, height: int) -> Box | None:
    """The free box of that size nearest the middle of an area; one that dodges marks first."""
    second = None
    for box in spots(area, width, height):
        if room.free(box):
            if room.dodges(box):
                return box
            second = second or box
    return second


FRACTIONS = (20, 80, 32, 68, 14, 86, 44, 56, 26, 74, 38, 62, 50, 8, 92)
"""Where along a tear its ring is tried, per cent; near an end first, to leave the middle free."""


def along(a: Point, b: Point) -> Iterator[Point]:
    """Places along a line, in the order they should be tried."""
    for part in FRACTIONS:
        yield a[0] + (b[0] - a[0]) * part // 100, a[1] + (b[1] - a[1]) * part // 100


def ring_spots(anchor: Point, level: bool, width: int, height: int) -> Iterator[tuple[Point, Box]]:
    """Places for a ring beside a tear: (end of the leader at the ring, the ring's box)."""
    for reach in (110, 200, 320, 480, 700, 1000, 1400, 2000, 2800):
        for slant in (0, 1, -1, 2, -2):
            for side in (1, -1):
                out, by = side * (reach + (height if level else width) // 2), slant * reach
                x, y = (
                    (anchor[0] + by, anchor[1] - out)
                    if level
                    else (anchor[0] + out, anchor[1] + by)
                )
                box = around(x, y, width, height)
                end = (x, y + side * height // 2) if level else (x - side * width // 2, y)
                yield end, box


def spread(wanted: Iterable[int], widths: Iterable[int], low: int, high: int) -> list[int] | None:
    """Centres as near as can be to those wanted, in order, that keep boxes of these widths apart.

    The sum of squared moves is least (isotonic regression by pooling neighbours; Barlow and
    others, *Statistical Inference under Order Restrictions*, 1972, from memory), then all is
    pushed inside low..high. None where they can't all fit.
    """
    sizes = list(widths)
    if sum(sizes) > high - low:
        return None
    offsets, at = [], 0
    for size in sizes:
        offsets.append(at + size // 2)
        at += size
    blocks: list[tuple[int, int]] = []
    for want, offset in zip(wanted, offsets, strict=True):
        total, count = want - offset, 1
        while blocks and blocks[-1][0] * count >= total * blocks[-1][1]:
            before = blocks.pop()
            total, count = total + before[0], count + before[1]
        blocks.append((total, count))
    starts = [total // count for total, count in blocks for _ in range(count)]
    return [
        min(max(start, low), high - at) + offset
        for start, offset in zip(starts, offsets, strict=True)
    ]
