"""Page arithmetic: paper, boxes, and how cloth is carried to the page. Pure integers.

Page lengths are 1/100 mm, x to the right and y down. Cloth is carried there at 1:n with
a whole n, so that one unit of cloth (1/160 mm) is 5/(8n) of a page unit.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from marker.geometry import Rect
from marker.plan.drawing import style

Point = tuple[int, int]


class Paper(StrEnum):
    """The paper the plan is printed on, always landscape."""

    A4 = "a4"
    LETTER = "letter"

    @property
    def size(self) -> Point:
        """Width and height in 1/100 mm (A4: ISO 216; Letter: 11 x 8 1/2 in)."""
        return (29700, 21000) if self is Paper.A4 else (27940, 21590)


@dataclass(frozen=True)
class Half:
    """The upper or lower half of a landscape page: a drawing without steps fits there.

    Between the margin above and the title block below two of them share a page.
    """

    paper: Paper

    @property
    def size(self) -> Point:
        """Width and height in 1/100 mm, rounded down."""
        width, height = self.paper.size
        foot = style.BLOCK_FOOT + style.BLOCK_TALL
        return width, (height - style.MARGIN - foot) // 2 + style.HALF_RIM

    @property
    def places(self) -> tuple[int, int]:
        """How far down the page the upper half and the lower one begin, in 1/100 mm."""
        first = style.MARGIN - style.HALF_RIM
        return first, first + self.size[1] - style.HALF_RIM


@dataclass(frozen=True, slots=True)
class Box:
    """An upright box on the page."""

    x0: int
    y0: int
    x1: int
    y1: int

    @property
    def width(self) -> int:
        """Size from left to right."""
        return self.x1 - self.x0

    @property
    def height(self) -> int:
        """Size from top to bottom."""
        return self.y1 - self.y0

    @property
    def middle(self) -> Point:
        """The centre, rounded down."""
        return (self.x0 + self.x1) // 2, (self.y0 + self.y1) // 2

    def moved(self, dx: int, dy: int) -> Box:
        """The same box elsewhere."""
        return Box(self.x0 + dx, self.y0 + dy, self.x1 + dx, self.y1 + dy)

    def grown(self, by: int) -> Box:
        """The box with every side pushed out by `by`, or in where that is negative."""
        return Box(self.x0 - by, self.y0 - by, self.x1 + by, self.y1 + by)

    def holds(self, other: Box) -> bool:
        """Tell whether `other` lies wholly inside, edges allowed to touch."""
        return (
            self.x0 <= other.x0
            and self.y0 <= other.y0
            and other.x1 <= self.x1
            and other.y1 <= self.y1
        )

    def hits(self, other: Box) -> bool:
        """Tell whether the two share any paper; touching edges do not count."""
        return (
            self.x0 < other.x1 and other.x0 < self.x1 and self.y0 < other.y1 and other.y0 < self.y1
        )

    def crossed(self, a: Point, b: Point) -> bool:
        """Tell whether the line from a to b runs through the inside of the box.

        Exact: the line misses if both ends lie beyond one side, or if all four corners lie
        on one side of it.
        """
        if max(a[0], b[0]) <= self.x0 or min(a[0], b[0]) >= self.x1:
            return False
        if max(a[1], b[1]) <= self.y0 or min(a[1], b[1]) >= self.y1:
            return False
        dx, dy = b[0] - a[0], b[1] - a[1]
        sides = [
            dx * (y - a[1]) - dy * (x - a[0])
            for x in (self.x0, self.x1)
            for y in (self.y0, self.y1)
        ]
        return min(sides) < 0 < max(sides) or (dx, dy) == (0, 0)


def around(x: int, y: int, width: int, height: int) -> Box:
    """The box of that size centred on a point, on whole units."""
    left, top = x - width // 2, y - height // 2
    return Box(left, top, left + width, top + height)


@dataclass(frozen=True, slots=True)
class View:
    """Cloth seen at 1:n, the bolt's far left corner at the page's (0, 0)."""

    bolt: Rect
    n: int

    @property
    def scale(self) -> Fraction:
        """Page units to a unit of cloth."""
        return Fraction(5, 8 * self.n)

    def length(self, cloth: int) -> int:
        """A length of cloth on the page, to the nearest 1/100 mm, halves up."""
        return (10 * cloth + 8 * self.n) // (16 * self.n)

    def x(self, x: int) -> int:
        """Where a distance along the bolt falls on the page."""
        return self.length(x - self.bolt.x0)

    def y(self, y: int) -> int:
        """Where a distance across the bolt falls on the page."""
        return self.length(self.bolt.y1 - y)

    def point(self, at: Point) -> Point:
        """A point of the cloth on the page."""
        return self.x(at[0]), self.y(at[1])

    def box(self, rect: Rect) -> Box:
        """A rectangle of cloth on the page."""
        return Box(self.x(rect.x0), self.y(rect.y1), self.x(rect.x1), self.y(rect.y0))
