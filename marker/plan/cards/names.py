"""The words on a card's drawing: its edges, its lines and notches, and the grain."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from itertools import pairwise, product

from marker.piece import MarkKind
from marker.plan.cards.axis import Axis
from marker.plan.cards.seen import Line, Seen
from marker.plan.drawing import style
from marker.plan.drawing.arrows import arrow
from marker.plan.drawing.lettering import clean, height, width
from marker.plan.drawing.page import Box, Point
from marker.plan.drawing.verbs import Drawing, Words

OFF = 130
"""From the outline to the name of an edge, and from a line to its name."""
PAD = 120
ASIDE, BREAK = 62, 25
"""Where in the widest gap of a broken piece the words of a line stand, and the break, per cent."""
CHALK = 180
"""The stroke in from an edge at a point that is chalked while the piece is sewn."""
MOST_GRAIN = 2200
"""No grain line is longer."""
BELOW = 760
"""From the outline to the size that stands below."""
SHORT, CLEAR = 800, 70
"""A grain line in the margin below, and what is left clear above and under it."""


def name_edges(drawing: Drawing, piece: Seen, x: Axis, y: Axis, size: int) -> None:
    """The name of every edge outside it, clear of the lines that run out to the tape."""
    middle = sum(x.widest) // 2, sum(y.widest) // 2
    up, down = size * 2 // 3, size
    for text, at in (
        (piece.top, (middle[0], -OFF)),
        (piece.bottom, (x.long // 2, y.long + OFF + up)),
    ):
        _put(drawing, at, text, size)
    for text, at in (
        (piece.left, (-OFF, middle[1])),
        (piece.right, (x.long + OFF + down * 2 // 3, middle[1])),
    ):
        _put(drawing, at, text, size, turned=True)


def _put(
    drawing: Drawing, at: tuple[int, int], text: str, size: int, *, turned: bool = False
) -> None:
    """An edge's name with its middle at a place, where it isn't longer than the drawing."""
    if text := clean(text):
        box = Words(at, text, size, anchor="middle", angle=90 if turned else 0).box
        # A long name stands across the thin lines that run out to the tape.
        drawing.field(box.grown(20), style.PAPER)
        drawing.words(at, text, size, anchor="middle", turned=turned, colour=style.SOFT)
        drawing.label("edge", text, box)


Place = tuple[Point, str]
"""Where words stand on their base line, and by which end."""


def name_lines(drawing: Drawing, piece: Seen, x: Axis, y: Axis, size: int, *, broken: bool) -> None:
    """The name of each line and notch inside the piece, and the grain where there is room."""
    inside = _Inside(drawing, piece, x, y, size, broken)
    edges = {piece.top, piece.bottom, piece.left, piece.right, "seam", "join"}
    known: set[str] = set()
    order = (MarkKind.NOTCH, MarkKind.FOLD, MarkKind.HEM, MarkKind.SEAM, MarkKind.CHALK)
    for line in sorted(piece.lines, key=lambda one: order.index(one.kind)):
        # Quarter points of several panels are told of together.
        name = line.name.partition(" (")[0] if line.kind is MarkKind.CHALK else line.name
        if name and name not in edges and name not in known:
            known.add(name)
            inside.name(line)
    inside.grain()


def short(name: str) -> str:
    """A line's name as it stands on it: "turn-down (back)" for "fold of the turn-down (back)"."""
    return clean(name).removeprefix("fold of the ")


def ticks(a: Point, b: Point) -> tuple[tuple[Point, Point], ...]:
    """A point chalked while the piece is sewn: a short stroke in from either edge."""
    long = abs(b[0] - a[0]) + abs(b[1] - a[1])
    if long <= 2 * CHALK:
        return ((a, b),)
    x, y = ((q - p) * CHALK // long for p, q in zip(a, b, strict=True))
    return (a, (a[0] + x, a[1] + y)), ((b[0] - x, b[1] - y), b)


@dataclass
class _Inside:
    """The words inside a piece while they are set, and the paper that is taken."""

    drawing: Drawing
    piece: Seen
    x: Axis
    y: Axis
    size: int
    broken: bool
    taken: list[Box] = field(default_factory=list)
    strokes: list[Box] = field(default_factory=list)

    def __post_init__(self) -> None:
        """Keep words off the strokes of notches and chalked points, where they can."""
        for line in self.piece.lines:
            if line.kind in (MarkKind.NOTCH, MarkKind.CHALK):
                for stroke in ticks(*self.ends(line)):
                    self.strokes.append(_round(*stroke).grown(PAD // 3))

    @property
    def whole(self) -> Box:
        """The piece on paper, less a little that its outline takes."""
        return Box(0, 0, self.x.long, self.y.long).grown(-PAD // 3)

    def ends(self, line: Line) -> tuple[Point, Point]:
        """The ends of a line on paper."""
        x, y = self.x, self.y
        return (x.at(line.x0), y.at(line.y0)), (x.at(line.x1), y.at(line.y1))

    def free(self, box: Box, *, dodge: bool = True) -> bool:
        """Whether words may stand there; `dodge`: clear of strokes too."""
        others = self.taken + self.strokes if dodge else self.taken
        return self.whole.holds(box) and not any(box.hits(one) for one in others)

    def name(self, line: Line) -> None:
        """A name by its line, in the first of its places that is free."""
        text = short(line.name)
        tries = product((True, False), dict.fromkeys((text, text.partition(" (")[0])))
        for dodge, said in tries:
            for at, anchor in self.places(line):
                box = _paper(at, said, self.size, anchor)
                if self.free(box, dodge=dodge):
                    if not dodge:
                        self.drawing.field(box, style.TINT)
                    self.drawing.words(at, said, self.size, anchor=anchor, colour=style.SOFT)
                    self.drawing.label("mark", said, box)
                    self.taken.append(box)
                    return

    def places(self, line: Line) -> Iterable[Place]:
        """Where a name may stand: over a level line, by an upright one, beside a stroke."""
        a, b = self.ends(line)
        box = _round(a, b)
        if line.kind in (MarkKind.NOTCH, MarkKind.CHALK) and not (
            line.level and box.width == self.x.long
        ):
            return self._by_stroke(line, box)
        return self._over(box) if line.level else self._beside(box)

    def _over(self, line: Box) -> Iterable[Place]:
        """Along a level line: in the middle first, clear of a break."""
        low, high = self.x.widest
        middle = low + (high - low) * ASIDE // 100 if self.broken else self.x.long // 2
        gaps = [(a + b) // 2 for a, b in pairwise(self.x.places)]
        for x in (middle, *sorted(gaps, key=lambda at: abs(at - middle))):
            yield (x, line.y0 - PAD // 2), "middle"
            yield (x, line.y0 + PAD // 2 + self.size * 2 // 3), "middle"

    def _beside(self, line: Box) -> Iterable[Place]:
        """Beside an upright line, where most paper lies between the level ones."""
        for low, high in sorted(pairwise(self.y.places), key=lambda gap: gap[0] - gap[1]):
            at = (low + high) // 2 + self.size // 3
            yield (line.x1 + PAD, at), "start"
            yield (line.x0 - PAD, at), "end"

    def _by_stroke(self, line: Line, box: Box) -> Iterable[Place]:
        """Beside a notch or a chalked point, from its edge inwards."""
        middle = self.size // 3
        if line.level:
            yield (box.x1 + PAD, box.y0 + middle), "start"
            yield (box.x0 - PAD, box.y0 + middle), "end"
        top = box.y0 + PAD // 2 + self.size * 3 // 4
        low = box.y1 - PAD // 2 - self.size // 4
        if line.upright:
            for y in (low, top):
                yield (box.x0 + PAD // 2, y), "start"
                yield (box.x0 - PAD // 2, y), "end"
        for y in (box.y0 - PAD, box.y1 + PAD + 2 * middle):
            for anchor, to in (("middle", 0), ("start", -PAD), ("end", PAD)):
                yield (box.x0 + to, y), anchor

    def grain(self) -> None:
        """An arrow along the warp in the widest gap between the lines, and its word."""
        (left, right), (top, bottom) = self.x.widest, self.y.widest
        up = self.piece.warp == "up"
        if up:
            left, right = 0, self.x.long
        gap = (bottom - top) if up else (right - left)
        long = min(max(gap * 6 // 10, width("grain", self.size)), MOST_GRAIN)
        if not self.piece.warp:
            return
        room = Box(left, top, right, bottom).grown(-PAD // 2)
        for part in (50, 70, 30, 85, 15):
            x, y = left + (right - left) * part // 100, top + (bottom - top) * part // 100
            ends, at, box = self._arrow(up, (x, (top + bottom) // 2) if up else (x, y), long)
            if room.holds(box) and self.free(box):
                arrow(self.drawing, *ends, weight=style.GRAIN)
                self.drawing.words(
                    at, "grain", self.size, anchor="middle", turned=up, colour=style.SOFT
                )
                self.drawing.label("grain", "grain", box)
                self.taken.append(box)
                return
        self._grain_below(up)

    def _grain_below(self, up: bool) -> None:
        """A short arrow in the margin below, where lines and rows crowd the piece.

        It stands as tall as the margin, or beside the cut size where a name fills the row above.
        """
        said = [mark.box for mark in self.drawing.over if isinstance(mark, Words)]
        word = width("grain", self.size)
        across = 2 * PAD if up else SHORT
        foot = self.y.long + BELOW - CLEAR
        for top, left in product(
            (self.y.long + CLEAR, foot - 2 * PAD), (PAD, self.x.long - 2 * PAD - across - word)
        ):
            box = Box(left, top, left + across + PAD + word, foot)
            if left < 0 or box.x1 > self.x.long or any(box.hits(one) for one in said):
                continue
            x, y = left + across // 2, (top + foot) // 2
            ends = ((x, top), (x, foot)) if up else ((left, y), (left + across, y))
            long = min(style.ARROW, (foot - top) * 2 // 5) if up else style.ARROW
            arrow(self.drawing, *ends, weight=style.GRAIN, long=long)
            at = (box.x1 - word, y + self.size // 3)
            self.drawing.words(at, "grain", self.size, colour=style.SOFT)
            self.drawing.label("grain", "grain", box)
            return

    def _arrow(self, up: bool, at: Point, long: int) -> tuple[tuple[Point, Point], Point, Box]:
        """The ends of an arrow about a place, where its word stands, and the paper of both."""
        (x, y), tall = at, height(self.size)
        if up:
            ends = (x, y - long // 2), (x, y + long // 2)
            return ends, (x - 90, y), Box(x - tall, y - long // 2, x + 100, y + long // 2)
        half = max(long, width("grain", self.size)) // 2
        ends = (x - long // 2, y), (x + long // 2, y)
        return ends, (x, y - 90), Box(x - half, y - tall, x + half, y + 100)


def _paper(at: Point, text: str, size: int, anchor: str) -> Box:
    """The paper that level words take."""
    long = width(text, size)
    left = at[0] - {"start": 0, "middle": long // 2, "end": long}[anchor]
    return Box(left, at[1] - size * 3 // 4, left + long, at[1] + size // 4)


def _round(a: Point, b: Point) -> Box:
    return Box(min(a[0], b[0]), min(a[1], b[1]), max(a[0], b[0]), max(a[1], b[1]))
