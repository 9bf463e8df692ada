"""What is nested and what comes of it; lengths in units of 1/160 mm, x along the cloth."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from marker.errors import BadInput
from marker.geometry import Polygon

WAYS = {"along": 0, "lengthwise": 0, "across": 1, "crosswise": 1}
"""The axis of each way in which a repeat comes round; the longer words are those of a `Wise`."""
ALONG, ACROSS = 0, 1


@dataclass(frozen=True)
class Phase:
    """A point of an outline that falls in one place of the repeat for a whole set.

    The points of all copies in the set `name`, `at` from their outlines' 0, 0 along or across
    the cloth, lie a whole number of repeats apart; where in the repeat is free. A point may
    lie off its outline. Raises `BadInput` on a way that is neither.
    """

    name: str
    wise: str
    at: int = 0

    def __post_init__(self) -> None:
        if self.wise not in WAYS:
            raise BadInput(f"set {self.name!r}: a repeat runs along or across, not {self.wise!r}")

    @property
    def axis(self) -> int:
        """0 for a lengthwise repeat, 1 for a crosswise one."""
        return WAYS[self.wise]


@dataclass(frozen=True)
class ShapeRule:
    """Where an outline may lie: least and greatest y and x of its 0, 0, and its place in repeats.

    Equal limits pin it: to a fold, to a selvedge. An outline that may lie in one of several
    zones is given once for each. Raises `BadInput` where a least exceeds a greatest.
    """

    across: tuple[int, int] | None = None
    along: tuple[int, int] | None = None
    matches: tuple[Phase, ...] = ()

    def __post_init__(self) -> None:
        for limits in (self.across, self.along):
            if limits is not None and limits[0] > limits[1]:
                raise BadInput(f"the least place, {limits[0]}, lies beyond the greatest one")

    @property
    def limits(self) -> tuple[tuple[int, int] | None, tuple[int, int] | None]:
        """The limits by axis: along, across."""
        return self.along, self.across


FREE = ShapeRule()


@dataclass(frozen=True)
class NestKind:
    """A piece cut `count` times, with one outline for each way in which it may lie.

    Every outline stands against 0, 0. There is a rule for each outline, or none at all.
    Raises `BadInput` where that is not so.
    """

    count: int
    shapes: tuple[Polygon, ...]
    rules: tuple[ShapeRule, ...] = ()

    def __post_init__(self) -> None:
        if self.rules and len(self.rules) != len(self.shapes):
            raise BadInput("a kind of piece has a rule for each of its outlines, or none")
        if self.count <= 0 or not self.shapes:
            raise BadInput("a kind of piece needs a count above nothing and an outline")
        if any(shape.box.x0 or shape.box.y0 for shape in self.shapes):
            raise BadInput("every outline of a piece to be nested stands against 0, 0")

    def rule(self, shape: int) -> ShapeRule:
        """The rule of an outline."""
        return self.rules[shape] if self.rules else FREE

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
