"""The few verbs a plan is drawn with, and a recorder that keeps what was drawn.

Everything is recorded in whole 1/100 mm before any SVG is made, so that page arithmetic
and labels can be tested without drawing.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise

from marker.plan.drawing import style
from marker.plan.drawing.lettering import ASCENT, DESCENT, width
from marker.plan.drawing.page import Box, Point
from marker.plan.drawing.slabs import Slab


@dataclass(frozen=True)
class Path:
    """Open or closed runs of straight lines, stroked and perhaps filled."""

    runs: tuple[tuple[Point, ...], ...]
    weight: int
    colour: str = style.INK
    dash: tuple[int, ...] = ()
    closed: bool = False
    fill: str = "none"

    def moved(self, dx: int, dy: int) -> Path:
        """The same path elsewhere."""
        return replace(
            self, runs=tuple(tuple((x + dx, y + dy) for x, y in run) for run in self.runs)
        )


@dataclass(frozen=True)
class Field:
    """A filled or outlined box, its corners rounded by `radius`."""

    box: Box
    fill: str
    weight: int = 0
    colour: str = style.INK
    radius: int = 0

    def moved(self, dx: int, dy: int) -> Field:
        """The same field elsewhere."""
        return replace(self, box=self.box.moved(dx, dy))


@dataclass(frozen=True)
class Disc:
    """A filled or outlined circle."""

    at: Point
    radius: int
    fill: str
    weight: int = 0
    colour: str = style.INK

    def moved(self, dx: int, dy: int) -> Disc:
        """The same disc elsewhere."""
        return replace(self, at=(self.at[0] + dx, self.at[1] + dy))


@dataclass(frozen=True)
class Words:
    """One line of text on a base line through `at`.

    It is turned counter-clockwise by `angle` degrees, so at 90 it reads from below upwards.
    """

    at: Point
    text: str
    size: int
    bold: bool = False
    anchor: str = "start"
    angle: int = 0
    colour: str = style.INK
    italic: bool = False

    @property
    def turned(self) -> bool:
        """Whether it reads from below upwards."""
        return self.angle == 90

    @property
    def box(self) -> Box:
        """The most paper that the line can cover, whichever font is used."""
        return words_box(self)

    def moved(self, dx: int, dy: int) -> Words:
        """The same words elsewhere."""
        return replace(self, at=(self.at[0] + dx, self.at[1] + dy))


Mark = Path | Field | Disc | Words


def words_box(words: Words) -> Box:
    """The most paper that a line of words can cover."""
    across = width(words.text, words.size, bold=words.bold)
    left = {"start": 0, "middle": -(across // 2) - across % 2, "end": -across}[words.anchor]
    up, down = -(-ASCENT * words.size // 1000), -(-DESCENT * words.size // 1000)
    x, y = words.at
    if words.turned:
        return Box(x - up, y - left - across, x + down, y - left)
    if words.angle:
        base = Slab(words.at, 0, 0, words.angle)
        ring = [base.point(dx, dy) for dx in (left, left + across) for dy in (-up, down)]
        xs, ys = [x for x, _ in ring], [y for _, y in ring]
        return Box(min(xs), min(ys), max(xs), max(ys))
    return Box(x + left, y - up, x + left + across, y + down)


@dataclass(frozen=True)
class Label:
    """The paper a label takes, what it is ("ring", "piece", ...) and what it tells of.

    A slanted one takes its `slab`; `box` is then the box round it.
    """

    kind: str
    owner: str
    box: Box
    slab: Slab | None = None

    def moved(self, dx: int, dy: int) -> Label:
        """The same label elsewhere."""
        slab = self.slab and replace(self.slab, at=(self.slab.at[0] + dx, self.slab.at[1] + dy))
        return replace(self, box=self.box.moved(dx, dy), slab=slab)


@dataclass
class Drawing:
    """What was drawn: `ground` lies under the pieces, `over` above them.

    `labels` and `leaders` are kept apart as well, so that they can be checked.
    """

    ground: list[Mark] = field(default_factory=list)
    over: list[Mark] = field(default_factory=list)
    labels: list[Label] = field(default_factory=list)
    leaders: list[tuple[Point, ...]] = field(default_factory=list)

    def path(
        self,
        *runs: tuple[Point, ...],
        weight: int,
        colour: str = style.INK,
        dash: tuple[int, ...] = (),
        under: bool = False,
    ) -> None:
        """Stroke open lines."""
        if runs:
            (self.ground if under else self.over).append(Path(runs, weight, colour, dash))

    def solid(self, run: tuple[Point, ...], fill: str = style.INK, *, under: bool = False) -> None:
        """Fill a closed shape."""
        mark = Path((run,), 0, "none", (), closed=True, fill=fill)
        (self.ground if under else self.over).append(mark)

    def outline(self, run: tuple[Point, ...], weight: int) -> None:
        """Outline a closed shape that hides what lies under it."""
        self.over.append(Path((run,), weight, closed=True, fill=style.PAPER))

    def field(
        self,
        box: Box,
        fill: str,
        *,
        weight: int = 0,
        colour: str = style.INK,
        radius: int = 0,
        under: bool = False,
    ) -> None:
        """Fill or outline a box."""
        (self.ground if under else self.over).append(Field(box, fill, weight, colour, radius))

    def disc(self, at: Point, radius: int, fill: str, *, weight: int = 0) -> None:
        """Fill or outline a circle."""
        self.over.append(Disc(at, radius, fill, weight))

    def words(
        self,
        at: Point,
        text: str,
        size: int,
        *,
        bold: bool = False,
        anchor: str = "start",
        turned: bool = False,
        angle: int = 0,
        colour: str = style.INK,
        italic: bool = False,
    ) -> Box:
        """Set one line of text; gives the most paper it can cover. Turned is at 90 degrees."""
        words = Words(at, text, size, bold, anchor, 90 if turned else angle, colour, italic)
        if text:
            self.over.append(words)
        return words.box

    def say(
        self,
        kind: str,
        at: Point,
        text: str,
        size: int,
        *,
        bold: bool = False,
        anchor: str = "start",
        italic: bool = False,
    ) -> None:
        """Set a line of text that is a label of its own."""
        if text:
            box = self.words(at, text, size, bold=bold, anchor=anchor, italic=italic)
            self.label(kind, text, box)

    def leader(self, *points: Point) -> None:
        """Draw a thin line from a label to what it tells of."""
        run = tuple(p for i, p in enumerate(points) if i == 0 or p != points[i - 1])
        self.leaders.append(run)
        self.over.append(Path((run,), style.LEADER))

    def dots(self, places: Sequence[Point]) -> None:
        """End a leader inside the things it points at; smaller where they stand close."""
        steps = [abs(a[0] - b[0]) + abs(a[1] - b[1]) for a, b in pairwise(places) if a != b]
        radius = min([style.DOT, *(max(step * 3 // 10, style.DOT_LEAST) for step in steps)])
        self.over += [Disc(at, radius, style.INK) for at in dict.fromkeys(places)]

    def label(self, kind: str, owner: str, area: Box | Slab) -> None:
        """Keep the paper a label takes."""
        if isinstance(area, Slab):
            self.labels.append(Label(kind, owner, area.box, area))
        else:
            self.labels.append(Label(kind, owner, area))

    def take(self, other: Drawing, dx: int, dy: int) -> None:
        """Set another drawing into this one, moved."""
        self.ground += [mark.moved(dx, dy) for mark in other.ground]
        self.over += [mark.moved(dx, dy) for mark in other.over]
        self.labels += [label.moved(dx, dy) for label in other.labels]
        self.leaders += [tuple((x + dx, y + dy) for x, y in run) for run in other.leaders]


def hatch(box: Box, pitch: int) -> tuple[tuple[Point, ...], ...]:
    """Lines at 45 degrees, clipped to the box, rising to the right.

    They stand at x + y = a whole multiple of `pitch`, so that neighbouring boxes run on.
    """
    runs = []
    first = -(-(box.x0 + box.y0 + 1) // pitch) * pitch
    for total in range(first, box.x1 + box.y1, pitch):
        low = max(box.x0, total - box.y1)
        high = min(box.x1, total - box.y0)
        if low < high:
            runs.append(((low, total - low), (high, total - high)))
    return tuple(runs)


def cross_hatch(box: Box, pitch: int) -> tuple[tuple[Point, ...], ...]:
    """Lines at 45 degrees both ways, clipped to the box."""
    rising = hatch(box, pitch)
    falling = tuple(tuple((x, box.y0 + box.y1 - y) for x, y in run) for run in rising)
    return rising + falling
