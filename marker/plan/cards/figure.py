"""The drawing of a card: a straight piece with its lines, its marks and its measures.

It is not to scale: what stands close is drawn apart, so that every line has its figure. Cut sizes
stand below and at the left; above and at the right runs a tape from the corner marked by a ring
(running dimensions of ISO 129-1, from memory), to each line and notch from the nearer edge.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from marker.piece import MarkKind
from marker.plan.cards import names
from marker.plan.cards.axis import Axis, axis
from marker.plan.cards.measures import Reading, readings, slanted
from marker.plan.cards.rows import ROW
from marker.plan.cards.seen import Line, Seen
from marker.plan.drawing import style
from marker.plan.drawing.arrows import dimension, head
from marker.plan.drawing.lettering import width
from marker.plan.drawing.page import Box, Point
from marker.plan.drawing.verbs import Drawing
from marker.plan.lays.marks import LINES, notch
from marker.units import in_brackets

Spell = Callable[[tuple[int, ...]], tuple[str, ...]]
"""How the sizes of all sorts of a card are spelled: a figure in every measure, or a letter."""
TYPE = style.DIMENSION
"""All words of a card's drawing; capitals stand 2 mm tall."""
NEAR = 400
"""Lines that have a figure each stand at least so far apart."""
ROOM = 620
"""From the outline to the running tape."""
SIDE, EDGE = 1000, 20
"""About what figures take at a side; and the paper left clear round all."""
LOWEST = 1100
"""How tall a strip is drawn at least."""
LINE = TYPE * 11 // 10
"""From one line of figures to the next."""
RING = 55
BROKEN, GAP = 2.5, 260
"""A strip so many times as long, for its breadth, as it is drawn has a break; its breadth."""


@dataclass
class Figure:
    """A drawing under way: the piece at (0, 0) to (wide, tall) on paper, y down."""

    sizes: Sequence[Seen]
    x: Axis
    y: Axis
    spell: Spell
    drawing: Drawing = field(default_factory=Drawing)

    @property
    def piece(self) -> Seen:
        """The size that is drawn."""
        return self.sizes[0]

    @property
    def box(self) -> Box:
        """The piece on paper."""
        return Box(0, 0, self.x.long, self.y.long)

    def at(self, x: int, y: int) -> Point:
        """A place of the piece on paper."""
        return self.x.at(x), self.y.at(y)


def draw(sizes: Sequence[Seen], spell: Spell, room: Point) -> tuple[Drawing, Point]:
    """Draw a piece in so much paper, or a little more where its lines need it; gives its size."""
    level, upright = (readings(sizes, way) for way in (True, False))
    beside = max((_room(in_brackets(*spell(one.values))) for one in upright), default=0)
    above = max((len(spell(one.values)) for one in level), default=1) - 1
    inner = room[0] - 2 * SIDE - beside, room[1] - SIDE - names.BELOW - above * LINE
    x, y = axes(sizes[0], level, upright, spell, inner)
    figure = Figure(sizes, x, y, spell)
    _ground(figure)
    for line in figure.piece.lines:
        _draw_line(figure, line)
    figure.drawing.path(_ring(figure.box), weight=style.OUTLINE)
    if broken := _is_broken(figure):
        _break(figure)
    _cut_sizes(figure)
    _tape(figure, level, along=True)
    _tape(figure, upright, along=False)
    names.name_edges(figure.drawing, figure.piece, x, y, TYPE)
    names.name_lines(figure.drawing, figure.piece, x, y, TYPE, broken=broken)
    return _framed(figure)


def _framed(figure: Figure) -> tuple[Drawing, Point]:
    """The drawing moved so that all of it stands on its paper, and the paper's size."""
    boxes = [label.box for label in figure.drawing.labels]
    past = style.EXTENSION_PAST
    x0, y0 = (min(box.x0 for box in boxes), min(box.y0 for box in boxes))
    x1, y1 = (max(box.x1 for box in boxes), max(box.y1 for box in boxes))
    x0, x1 = min(x0, -ROOM - past) - EDGE, max(x1, figure.box.x1) + EDGE
    y0, y1 = min(y0, 0) - EDGE, max(y1, figure.box.y1 + names.BELOW + past) + EDGE
    whole = Drawing()
    whole.take(figure.drawing, -x0, -y0)
    return whole, (x1 - x0, y1 - y0)


def axes(
    piece: Seen, level: Sequence[Reading], upright: Sequence[Reading], spell: Spell, room: Point
) -> tuple[Axis, Axis]:
    """Both ways of the drawing: one scale if it can be, apart where lines would stand too close."""
    scale = min(room[0] / piece.wide, room[1] / piece.tall)
    if slanted(piece):
        return axis((0, piece.wide), room[0], 1, scale), axis((0, piece.tall), room[1], 1, scale)
    apart = max([NEAR, *(_room(told) + 120 for one in level for told in spell(one.values))])
    xs = {0, piece.wide, *(one.at for one in level)}
    ys = {0, piece.tall, *(one.at for one in upright)}
    x = axis(xs, room[0], apart if level else 1, scale)
    # Where figures draw a piece wider, it is drawn as much taller, if there is room.
    natural = min(round(piece.tall * x.long / piece.wide), room[1])
    tall = max(LOWEST, natural, (len(ys) - 1) * NEAR)
    return x, axis(ys, tall, NEAR, tall / piece.tall)


def _room(told: str) -> int:
    return width(told, TYPE, bold=True)


def _ring(box: Box) -> tuple[Point, ...]:
    return (
        (box.x0, box.y0), (box.x1, box.y0), (box.x1, box.y1), (box.x0, box.y1), (box.x0, box.y0)
    )  # fmt: skip


def _ground(figure: Figure) -> None:
    figure.drawing.solid(_ring(figure.box)[:4], style.TINT)


def _draw_line(figure: Figure, line: Line) -> None:
    a, b = figure.at(line.x0, line.y0), figure.at(line.x1, line.y1)
    weight, dash, colour = LINES[line.kind]
    if line.kind is MarkKind.CHALK:
        figure.drawing.path(*names.ticks(a, b), weight=style.NOTCH)
    elif line.name == ROW:
        figure.drawing.path((a, b), weight=style.TICK, dash=style.DASH_SEWN)
    elif line.kind is MarkKind.NOTCH:
        notch(figure.drawing, *_inwards(figure.box, a, b))
    else:
        figure.drawing.path((a, b), weight=weight, dash=dash, colour=colour)


def _inwards(box: Box, a: Point, b: Point) -> tuple[Point, Point]:
    """A notch from its edge into the piece."""
    on_edge = b[0] in (box.x0, box.x1) if a[1] == b[1] else b[1] in (box.y0, box.y1)
    return (b, a) if on_edge else (a, b)


def _is_broken(figure: Figure) -> bool:
    """Whether a strip is far longer than its drawing looks."""
    piece, x, y = figure.piece, figure.x, figure.y
    return piece.wide * y.long > BROKEN * piece.tall * x.long


def _break(figure: Figure) -> None:
    """Two zigzags where a long strip is drawn short, clear of the words on its lines."""
    low, high = figure.x.widest
    middle, long = low + (high - low) * names.BREAK // 100, figure.y.long
    far = -160, long // 2 - 170, long // 2 - 60, long // 2 + 60, long // 2 + 170, long + 160
    aside = 0, 0, -120, 120, 0, 0
    _zigzag(figure, [(middle + side, y) for side, y in zip(aside, far, strict=True)])


def _zigzag(figure: Figure, run: Sequence[Point]) -> None:
    one, two = (tuple((x + side * GAP // 2, y) for x, y in run) for side in (-1, 1))
    figure.drawing.solid((*one, *reversed(two)), style.PAPER)
    for side in (one, two):
        figure.drawing.path(side, weight=style.THIN)


def _cut_sizes(figure: Figure) -> None:
    """The cut breadth below and the cut length at the left, or the other way about."""
    box = figure.box
    wide, tall = (
        in_brackets(*figure.spell(sizes))
        for sizes in zip(*((one.wide, one.tall) for one in figure.sizes), strict=True)
    )
    dimension(figure.drawing, (0, box.y1), (box.x1, box.y1), box.y1 + names.BELOW, wide, size=TYPE)
    dimension(figure.drawing, (0, 0), (0, box.y1), -ROOM, tall, upright=True, size=TYPE)


def _tape(figure: Figure, told: Sequence[Reading], *, along: bool) -> None:
    """A running tape from either end to the lines on that half, above or at the right."""
    axis_ = figure.x if along else figure.y
    line_at = -ROOM if along else figure.box.x1 + ROOM

    def spot(place: int) -> Point:
        return (place, line_at) if along else (line_at, place)

    for high in (False, True):
        some = [one for one in told if one.high is high]
        if not some:
            continue
        start = axis_.long if high else 0
        stops = sorted((axis_.at(one.at) for one in some), reverse=high)
        for stop in (start, *stops):
            _extension(figure, stop, along)
        figure.drawing.path((spot(start), spot(stops[-1])), weight=style.THIN)
        figure.drawing.disc(spot(start), RING, style.PAPER, weight=style.THIN)
        for before, stop in pairwise((start, *stops)):
            head(figure.drawing, spot(stop), spot(before), min(style.ARROW, abs(stop - before)))
        for one in some:
            _value(figure, spot(axis_.at(one.at)), figure.spell(one.values), along)


def _extension(figure: Figure, place: int, along: bool) -> None:
    past = style.EXTENSION_PAST
    if along:
        ends = (place, -style.EXTENSION_GAP), (place, -ROOM - past)
    else:
        right = figure.box.x1
        ends = (right + style.EXTENSION_GAP, place), (right + ROOM + past, place)
    figure.drawing.path(ends, weight=style.THIN)


def _value(figure: Figure, at: Point, told: tuple[str, ...], along: bool) -> None:
    """A figure above its line's end, a measure above the other, or to the right of it."""
    up = TYPE * 33 // 100  # half a figure's height
    if along:
        foot = at[1] - style.EXTENSION_PAST - style.DIMENSION_LIFT
        for number, text in enumerate(reversed(told)):
            _say(figure, (at[0], foot - number * LINE), text, "middle")
    else:
        spot = at[0] + style.EXTENSION_PAST + 60, at[1] + up
        _say(figure, spot, in_brackets(*told), "start")


def _say(figure: Figure, spot: Point, text: str, anchor: str) -> None:
    box = figure.drawing.words(spot, text, TYPE, bold=True, anchor=anchor)
    figure.drawing.label("reading", text, box)
