"""The paper of one window of a template while it is lettered: what is taken, and what is free."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from marker.geometry.segments import where
from marker.plan.drawing import style
from marker.plan.drawing.labels import Room, spots
from marker.plan.drawing.lettering import ASCENT, height, width
from marker.plan.drawing.page import Box, Point
from marker.plan.drawing.slabs import Slab, meet
from marker.plan.drawing.verbs import Drawing

Run = tuple[Point, ...]
STEPS = 20
"""Into so many steps either way a window is parted to find a free place."""
EDGE = 150
"""Stamps and squares keep so far inside a window."""
FAR = 1000
"""Lines that lie further than this outside a window are of no account to it."""


@dataclass
class Desk:
    """A window, what shows through it (`inside`, cut off at its edge), and what is set on it.

    `ring` is the piece on this page; `free` is the part of the window that no other page covers
    once the pages are taped.
    """

    window: Box
    free: Box
    ring: Run
    inside: Drawing = field(default_factory=Drawing)
    over: Drawing = field(default_factory=Drawing)
    room: Room = field(init=False)

    def __post_init__(self) -> None:
        """Keep every label off the outline."""
        self.room = Room(self.window, ())
        self.bar((*self.ring, self.ring[0]))

    def bar(self, run: Sequence[Point]) -> None:
        """A line that no label may cover."""
        near = self.window.grown(FAR)
        for a, b in pairwise(run):
            if near.hits(_round(a, b)):
                self.room.strokes.add(a, b)

    def shows(self, run: Sequence[Point]) -> bool:
        """Whether a line shows through the window, or nearly."""
        near = self.window.grown(FAR)
        return any(near.hits(_round(a, b)) for a, b in pairwise(run))

    def holds(self, at: Point) -> bool:
        """Whether a place is on the piece."""
        return where(self.ring, *at) > 0

    def open(self, slab: Slab) -> bool:
        """Whether words may stand there: in the window, off labels and off lines."""
        near = slab.grown(style.CLEAR)
        return (
            self.window.holds(slab.box)
            and self.room.open(slab)
            and not any(meet(near.corners, line) for line in self.room.strokes.near(near.box))
        )

    def place(self, wide: int, high: int, *, on: bool) -> Box | None:
        """The free box of a size nearest the middle, on the piece or beside it; None if none is."""
        boxes = spots(self.free.grown(-EDGE), wide, high, STEPS)
        return next(
            (box for box in boxes if self.room.free(box) and self.holds(box.middle) is on), None
        )

    def seat(
        self,
        places: Iterable[Slab],
        text: str,
        size: int,
        *,
        bold: bool = False,
        kind: str = "edge",
    ) -> bool:
        """Set words at the first free of some places; tells whether any is."""
        for slab in places:
            if self.open(slab):
                base = slab.point(-slab.width / 2, -slab.height / 2 + size * ASCENT / 1000)
                self.over.words(base, text, size, bold=bold, angle=slab.angle)
                self.over.label(kind, text, slab)
                self.room.take(slab)
                return True
        return False


def slab_of(at: Point, text: str, size: int, angle: int = 0, *, bold: bool = False) -> Slab:
    """The paper that words take about a place."""
    return Slab(at, width(text, size, bold=bold), height(size), angle)


def _round(a: Point, b: Point) -> Box:
    # Boxes that touch don't count, so a level or upright line is given some breadth.
    return Box(min(a[0], b[0]), min(a[1], b[1]), max(a[0], b[0]), max(a[1], b[1])).grown(1)
