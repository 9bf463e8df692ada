"""Thumbnails: one lay drawn small, to be seen at a glance beside others at the same scale.

The cloth lies as on the plan, its free end at the left and the near selvedge below, in the
plan's own line types and hatchings. Only the pieces' letters and the width of the cloth are
told; a piece too small for its letter has it beside the cloth, on a leader.
"""

from __future__ import annotations

from dataclasses import dataclass

from marker.geometry import Rect
from marker.lay import Direction, Lay, Mode
from marker.plan.drawing import style
from marker.plan.drawing.lettering import height, width
from marker.plan.drawing.page import Box, Point, View, around
from marker.plan.drawing.verbs import Drawing
from marker.plan.lays.folded import under
from marker.plan.lays.ground import draw_ground
from marker.plan.lays.margins import Draw, Form, Tag, plan
from marker.plan.lays.rings import middle_line
from marker.plan.lays.shape import shape_of
from marker.plan.thumbs.rows import Window, part, windows
from marker.plan.words.drops import clear_lines, copies
from marker.units import Units, format_length, set_fractions

GUTTER = 520
"""At the left of the cloth, for its width."""
ROW_GAP = 260
"""Between the rows of one cloth."""
LETTER = style.THUMB
"""Type size of everything."""
BREAK = 110
"""How far the line of a break runs out and in."""


@dataclass(frozen=True)
class Thumb:
    """A drawing with its upper left corner at (0, 0), and the paper it takes."""

    drawing: Drawing
    size: Point


@dataclass(frozen=True)
class Small:
    """One copy of a piece on the page; `ring` is empty for a rectangle, `heart` its best place."""

    letter: str
    box: Box
    ring: tuple[Point, ...]
    heart: Point
    reach: int
    below: bool
    """Whether it lies in the lower layer of folded cloth."""

    @property
    def outline(self) -> tuple[Point, ...]:
        """Its corners in order."""
        box = self.box
        corners = (box.x0, box.y0), (box.x1, box.y0), (box.x1, box.y1), (box.x0, box.y1)
        return self.ring or corners


def thumb(lay: Lay, n: int, units: Units, room: int) -> Thumb:
    """A lay at 1:n, in as many rows as a width of `room` asks for; sizes in 1/100 mm."""
    view = View(lay.bolt, n)
    cloth = view.box(lay.bolt)
    smalls = _smalls(lay, view)
    base = _base(lay, view, smalls)
    clear = [view.x(x) for x in clear_lines(lay)]
    spans = windows(cloth.width, room - GUTTER, clear)
    whole, foot = Drawing(), 0
    for span in spans:
        row = part(base, span)
        above, below = _letter(row, smalls, span, cloth)
        _edges(row, Box(0, 0, span[1] - span[0], cloth.y1), span[0] > 0, span[1] < cloth.x1)
        foot += (ROW_GAP if foot else 0) + above
        whole.take(row, GUTTER, foot)
        if span is spans[0]:
            _tell_width(whole, lay, units, Box(GUTTER, foot, GUTTER, foot + cloth.y1))
        foot += cloth.y1 + below
    return Thumb(whole, (GUTTER + max(high - low for low, high in spans), foot))


def _smalls(lay: Lay, view: View) -> list[Small]:
    beneath, found = under(lay), []
    for spot, rect in copies(lay):
        piece, box = lay.piece(spot.letter), view.box(rect)
        ring: tuple[Point, ...] = ()
        heart, reach = box.middle, min(box.width, box.height) // 2
        if piece.outline is not None:
            shape = shape_of(spot.polygon(piece), view)
            ring = tuple((x + box.x0, y + box.y0) for x, y in shape.ring)
            heart, reach = (box.x0 + shape.heart[0], box.y0 + shape.heart[1]), shape.reach
        found.append(Small(spot.letter, box, ring, heart, reach, spot.id in beneath))
    return found


def _base(lay: Lay, view: View, smalls: list[Small]) -> Drawing:
    """The cloth without words: ground, pieces, regions, tears; only lines that can be broken."""
    drawing = Drawing()
    draw_ground(drawing, view, lay, [])
    for one in smalls:
        drawing.solid(one.outline, style.PAPER if one.below else style.TINT)
        cut = lay.mode is Mode.SHEARS or one.ring
        weight = style.THIN if one.below else style.SMALL_CUT if cut else style.SMALL_EDGE
        drawing.path((*one.outline, one.outline[0]), weight=weight)
    for region in lay.regions:
        box = view.box(region)
        ring = (box.x0, box.y0), (box.x1, box.y0), (box.x1, box.y1), (box.x0, box.y1)
        drawing.path((*ring, ring[0]), weight=style.THIN, dash=style.DASH_REGION)
    if lay.cloth.folded:
        y = view.box(lay.bolt).middle[1]
        line = (0, y), (view.x(lay.bolt.x1), y)
        drawing.path(line, weight=style.SMALL_CUT, dash=style.DASH_CLOTH_FOLD)
    for tear in lay.tears:
        hand = tear.in_hand
        across = tear.direction is Direction.ACROSS
        ends = (
            Rect(tear.at, hand.y0, tear.at, hand.y1)
            if across
            else Rect(hand.x0, tear.at, hand.x1, tear.at)
        )
        line = view.point((ends.x0, ends.y0)), view.point((ends.x1, ends.y1))
        dash = () if tear.cut else style.SMALL_DASH
        drawing.path(line, weight=style.SMALL_CUT if tear.cut else style.SMALL_TEAR, dash=dash)
    return drawing


def _edges(row: Drawing, cloth: Box, broken_left: bool, broken_right: bool) -> None:
    """The cloth's own edges, and a jagged line where it goes on in another row."""
    for y in (cloth.y0, cloth.y1):
        row.path(((cloth.x0, y), (cloth.x1, y)), weight=style.CUT)
    for x, broken in ((cloth.x0, broken_left), (cloth.x1, broken_right)):
        if not broken:
            row.path(((x, cloth.y0), (x, cloth.y1)), weight=style.CUT)
            continue
        step = max(1, cloth.height // 6)
        jags = [
            (x + (0 if number % 2 else (-BREAK if number % 4 else BREAK)), cloth.y0 + number * step)
            for number in range(1, 6)
        ]
        row.path(((x, cloth.y0), *jags, (x, cloth.y1)), weight=style.THIN)


def _tell_width(drawing: Drawing, lay: Lay, units: Units, edge: Box) -> None:
    """The width as the cloth is laid, on a dimension line; where it has no room, in words only."""
    text = set_fractions(format_length(lay.cloth.laid_width, units))
    across = width(text, LETTER)
    x = edge.x0 - 130
    if edge.height < across + 2 * style.PAD:
        return
    drawing.path(((x, edge.y0), (x, edge.y1)), weight=style.THIN)
    for y in (edge.y0, edge.y1):
        drawing.path(((x - 70, y), (x + 70, y)), weight=style.THIN)
    foot = edge.middle[1] + across // 2
    box = drawing.words((x - 70, foot), text, LETTER, turned=True)
    drawing.label("width", text, box)


def _letter(row: Drawing, smalls: list[Small], span: Window, cloth: Box) -> tuple[int, int]:
    """Letter the pieces of a row; gives what its margins above and below the cloth take."""
    outside: dict[str, Small] = {}
    for one in smalls:
        seen = _seen(one, span)
        if seen is None or one.below:
            continue
        if not _inside(row, seen, span):
            outside.setdefault(one.letter, seen)
    depths = []
    for down in (False, True):
        tags = [
            _tag(one, span, cloth.y1 if down else 0)
            for one in outside.values()
            if (one.heart[1] * 2 >= cloth.y1) is down
        ]
        margin = next(
            found
            for kept in range(len(tags), -1, -1)
            if (found := plan(tags[:kept], 0, span[1] - span[0]))
        )
        margin.draw(row, cloth.y1 if down else 0, down)
        depths.append(margin.depth)
    return depths[0], depths[1]


def _seen(one: Small, span: Window) -> Small | None:
    """What of a copy a row shows; nothing where most of it lies in another."""
    low, high = max(one.box.x0, span[0]), min(one.box.x1, span[1])
    if low >= high:
        return None
    if (low, high) == (one.box.x0, one.box.x1):
        return one
    if 2 * (high - low) < one.box.width:
        return None
    box = Box(low, one.box.y0, high, one.box.y1)
    if one.ring:
        return one if low <= one.heart[0] <= high else None
    return Small(one.letter, box, (), box.middle, min(box.width, box.height) // 2, one.below)


def _inside(row: Drawing, one: Small, span: Window) -> bool:
    """Set the letter inside a copy, in a disc if there is room for one; tells whether it stands."""
    across = width(one.letter, LETTER, bold=True)
    disc = max(2 * style.DISC, across + style.DISC)
    x, y = one.heart[0] - span[0], one.heart[1]
    if one.ring:
        least, most = 2 * one.reach, 2 * one.reach
    else:
        least, most = one.box.height, one.box.width
    if least >= 2 * style.DISC + style.CLEAR and most >= disc + style.CLEAR:
        box = around(x, y, disc, 2 * style.DISC)
        row.field(box, style.INK, radius=style.DISC)
        colour = style.PAPER
    elif least >= 2 * middle_line(LETTER) + style.PAD and most >= across + style.PAD:
        box = around(x, y, across, 2 * middle_line(LETTER))
        colour = style.INK
    else:
        return False
    at = x, y + middle_line(LETTER)
    row.words(at, one.letter, LETTER, bold=True, anchor="middle", colour=colour)
    row.label("piece", one.letter, box)
    return True


def _tag(one: Small, span: Window, edge: int) -> Tag:
    """A letter beside the cloth, with a leader to the nearest copy of its piece."""
    x = one.heart[0] - span[0]
    form = Form(width(one.letter, LETTER, bold=True), height(LETTER), _letter_in(one.letter))
    return Tag("piece", one.letter, (((x, one.heart[1]), (x, edge)),), True, (form,))


def _letter_in(letter: str) -> Draw:
    def draw(drawing: Drawing, box: Box) -> None:
        at = box.middle[0], box.middle[1] + middle_line(LETTER)
        drawing.words(at, letter, LETTER, bold=True, anchor="middle")

    return draw
