"""What is nested and what comes of it; lengths in units of 1/160 mm, x along the cloth."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from marker.errors import BadInput
from marker.geometry import Polygon


@dataclass(frozen=True)
class NestKind:
    """A piece cut `count` times, with one outline for each way in which it may lie.

    Every outline stands against 0, 0. Raises `BadInput` where that is not so.
    """

    count: int
    shapes: tuple[Polygon, ...]

    def __post_init__(self) -> None:
        if self.count <= 0 or not self.shapes:
            raise BadInput("a kind of piece needs a count above nothing and an outline")
        if any(shape.box.x0 or shape.box.y0 for shape in self.shapes):
            raise BadInput("every outline of a piece to be nested stands against 0, 0")

    @property
    def area2(self) -> int:
        """Twice the area of all copies."""
        return self.count * self.shapes[0].area2


@dataclass(frozen=True, slots=True, order=True)
class NestSpot:
    """One copy on the cloth: its kind, which outline of it, and where that one's 0, 0 lies."""

    kind: int
    shape: int
    x: int
    y: int


@dataclass(frozen=True)
class Nested:
    """A nest: where each copy lies, its length, and a length that no nest undercuts."""

    spots: tuple[NestSpot, ...]
    length: int
    bound: int
    bound_by: str
    stopped: bool = False
    """Whether Ctrl-C ended the search."""

    @property
    def proved(self) -> bool:
        """Whether no shorter nest exists."""
        return self.length == self.bound

    def outlines(self, kinds: Sequence[NestKind]) -> Iterator[Polygon]:
        """The outlines where they lie, in the order of `spots`."""
        for spot in self.spots:
            yield kinds[spot.kind].shapes[spot.shape].shifted(spot.x, spot.y)

    def density(self, kinds: Sequence[NestKind], width: int) -> Fraction:
        """The part of the cloth, up to `length`, that pieces cover."""
        return Fraction(sum(kind.area2 for kind in kinds), 2 * width * self.length)
