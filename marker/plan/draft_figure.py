"""The figure of a draft: one piece by itself in its box, with corners, edges and centres."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from marker.geometry import Rect
from marker.geometry.curves import Arc, Spot
from marker.geometry.pole import pole
from marker.piece import Grain, Mark, MarkKind
from marker.plan import style
from marker.plan.blocks import disc_width, draw_disc
from marker.plan.draft import Draft, Stretch, ends
from marker.plan.lettering import DESCENT, clean, clip, height, width
from marker.plan.marks import look, notch
from marker.plan.page import Point, View
from marker.plan.runs import reading
from marker.plan.slabs import Slab, meet
from marker.plan.verbs import Drawing
from marker.units import CM, System, set_fractions

ROOM = (10000, 4900)
"""The most that a piece takes on paper, its centres counted, in 1/100 mm."""
BESIDE = 860
"""Room round it for numbers and figures."""
SCALES = (1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 40, 50, 60, 80, 100)
TINY = 2600
"""A piece that would come out smaller than this is drawn at a larger scale of its own."""
TALL = 4500
"""How large such a piece is drawn at most."""
REACH = 0.6
"""A centre that lies further beyond the box than this part of its size is not drawn."""
DASH_RADIUS = (120, 60, 20, 60)
CROSS = 130
AWAY = 250
"""How far a number or a name stands off its corner or its edge."""
TIER = 1
"""The size of the letter's disc, as on the plan."""


def scales(drafts: Sequence[Draft]) -> tuple[int, ...]:
    """The scale 1:n of every draft: one for all, a larger one for what would be too small."""
    common = max((_least(_spread(draft), ROOM) for draft in drafts), default=1)
    told = []
    for draft in drafts:
        rect = _spread(draft)
        small = View(rect, common).length(max(draft.piece.length, draft.piece.breadth)) < TINY
        told.append(min(common, _least(rect, (TALL, TALL))) if small else common)
    return tuple(told)


def _least(rect: Rect, room: Point) -> int:
    for n in SCALES:
        view = View(rect, n)
        if view.length(rect.along) <= room[0] and view.length(rect.across) <= room[1]:
            return n
    return -(-max(rect.along * 5 // (8 * room[0]), rect.across * 5 // (8 * room[1])) // 50 + 1) * 50


def _spread(draft: Draft) -> Rect:
    """The box of the piece, and the centres near it."""
    piece = draft.piece
    spots = [(0.0, 0.0), (float(piece.length), float(piece.breadth))]
    spots += [arc.centre for arc in _near_arcs(draft)]
    xs, ys = [x for x, _ in spots], [y for _, y in spots]
    return Rect(math.floor(min(xs)), math.floor(min(ys)), math.ceil(max(xs)), math.ceil(max(ys)))


def _near_arcs(draft: Draft) -> Iterator[Arc]:
    """The arcs whose centres lie near enough to be drawn."""
    size = draft.piece.length, draft.piece.breadth
    most = REACH * max(size)
    for stretch in draft.stretches:
        arc = stretch.arc
        if arc and all(-most <= at <= top + most for at, top in zip(arc.centre, size, strict=True)):
            yield arc


@dataclass
class Sheet:
    """The figure while it is drawn, and the paper that words already take."""

    draft: Draft
    view: View
    units: System
    drawing: Drawing = field(default_factory=Drawing)
    taken: list[Slab] = field(default_factory=list)

    def at(self, spot: Spot) -> Point:
        """A place of the piece's frame on the paper."""
        x, y = self.view.point((round(spot[0]), round(spot[1])))
        return x + BESIDE, y + BESIDE

    def ring(self, stretch: Stretch) -> list[Point]:
        """A stretch as a run of points fine enough for print."""
        parts = 1 if stretch.straight else max(8, math.ceil(stretch.length / (CM / 2)))
        parts = min(parts, 400)
        return [self.at(stretch.edge.at(stretch.length * i / parts)[0]) for i in range(parts + 1)]

    def put(self, at: Point, text: str, size: int, *, bold: bool = False, angle: int = 0,
            fill: str = "") -> bool:  # fmt: skip
        """Set words with their middle at a place, unless other words stand there."""
        tall = height(size)
        slab = Slab(at, width(text, size, bold=bold), tall, angle)
        if any(meet(slab.grown(20).corners, other.corners) for other in self.taken):
            return False
        if fill:
            self.drawing.solid(slab.corners, fill)
        base = slab.point(0, tall / 2 - size * DESCENT / 1000)
        self.drawing.words(base, text, size, bold=bold, anchor="middle", angle=angle)
        self.taken.append(slab)
        return True


def figure(draft: Draft, n: int, units: System) -> tuple[Drawing, Point]:
    """The draft drawn at 1:n, and the paper that it takes in 1/100 mm."""
    rect = _spread(draft)
    sheet = Sheet(draft, View(rect, n), units)
    _box(sheet)
    ring = [point for stretch in draft.stretches for point in sheet.ring(stretch)[:-1]]
    sheet.drawing.solid(tuple(ring), style.TINT)
    _numbers(sheet)
    _centres(sheet)
    _lines(sheet)
    sheet.drawing.path((*ring, ring[0]), weight=style.OUTLINE)
    _letter(sheet)
    _names(sheet)
    size = sheet.view.length(rect.along), sheet.view.length(rect.across)
    return sheet.drawing, (size[0] + 2 * BESIDE, size[1] + 2 * BESIDE)


def _box(sheet: Sheet) -> None:
    """The box with its two sizes."""
    piece = sheet.draft.piece
    low, high = sheet.at((0, 0)), sheet.at((piece.length, piece.breadth))
    ring = (low, (high[0], low[1]), high, (low[0], high[1]), low)
    sheet.drawing.path(ring, weight=style.THIN, dash=style.DASH_REGION)
    unit = sheet.units.value
    along = set_fractions(f"{reading(piece.length, sheet.units)} {unit} along")
    sheet.put(((low[0] + high[0]) // 2, low[1] + 640), along, style.SMALL)
    up = set_fractions(f"{reading(piece.breadth, sheet.units)} {unit} up")
    for text in (up, up.removesuffix(" up")):
        if width(text, style.SMALL) <= low[1] - high[1] + BESIDE:
            sheet.put((high[0] + 560, (low[1] + high[1]) // 2), text, style.SMALL, angle=90)
            break


def _centres(sheet: Sheet) -> None:
    """The near centres of arcs, each with the radii to the ends of its arcs."""
    near = set(_near_arcs(sheet.draft))
    stretches = [stretch for stretch in sheet.draft.stretches if stretch.arc in near]
    for at in dict.fromkeys(sheet.at(stretch.arc.centre) for stretch in stretches if stretch.arc):
        for dx, dy in ((CROSS, 0), (0, CROSS)):
            stroke = (at[0] - dx, at[1] - dy), (at[0] + dx, at[1] + dy)
            sheet.drawing.path(stroke, weight=style.TICK)
        beside = CROSS + 60 + width("centre", style.LEAST) // 2
        for dx, dy in ((0, 320), (0, -320), (-beside, 0)):
            if sheet.put((at[0] + dx, at[1] + dy), "centre", style.LEAST):
                break
    for stretch in stretches:
        for end in (stretch.start, stretch.end):
            if stretch.arc:
                run = sheet.at(stretch.arc.centre), sheet.at(end)
                sheet.drawing.path(run, weight=style.THIN, dash=DASH_RADIUS)


def _lines(sheet: Sheet) -> None:
    """Seam, hem and fold lines, and the notches with their names."""
    for mark in sheet.draft.piece.marks:
        if mark.kind is not MarkKind.NOTCH:
            weight, dash, colour = look(mark)
            run = tuple(sheet.at(end) for end in ends(mark))
            sheet.drawing.path(run, weight=weight, colour=colour, dash=dash)
    for mark in sheet.draft.notches:
        a, b = (sheet.at(end) for end in ends(mark))
        notch(sheet.drawing, a, b)
        sheet.taken.append(Slab(a, 2 * CROSS, 2 * CROSS))


def _numbers(sheet: Sheet) -> None:
    """The number of every corner, outside it."""
    stretches = sheet.draft.stretches
    for number, corner in enumerate(sheet.draft.corners):
        before, after = stretches[number - 1], stretches[number]
        a, b = before.edge.at(before.length)[1], after.edge.at(0)[1]
        # Outside lies to the right of either way round; between the two at a corner.
        x, y = a[1] + b[1], -a[0] - b[0]
        size = math.hypot(x, y) or 1.0
        at = sheet.at(corner)
        for far in (AWAY, AWAY + 160, AWAY + 320):
            spot = round(at[0] + x / size * far), round(at[1] - y / size * far)
            if sheet.put(spot, str(number + 1), style.SMALL, bold=True):
                break


def _letter(sheet: Sheet) -> None:
    """The letter where the piece is broadest, and the grain beside it."""
    x, y, reach = pole(sheet.draft.piece.polygon, CM // 10)
    letters = ", ".join(sheet.draft.letters)
    at, room = sheet.at((x, y)), sheet.view.length(int(reach))
    tier = TIER if room > 2 * style.BLOCKS[TIER][1] else len(style.BLOCKS) - 1
    if room < style.BLOCKS[tier][1]:
        return  # the heading has it
    wide, half = disc_width(letters, tier), style.BLOCKS[tier][1]
    draw_disc(sheet.drawing, at, tier, letters)
    sheet.taken.append(Slab(at, wide, 2 * half))
    _grain(sheet, at, wide // 2 + AWAY // 2, room)


def _grain(sheet: Sheet, at: Point, off: int, room: int) -> None:
    """The grain line beside the letter, where the piece is broad enough to hold it."""
    angle = {Grain.ALONG: 0, Grain.ACROSS: 90, Grain.BIAS: 45}.get(sheet.draft.piece.grain)
    long = min(2 * room - 200, 1600)
    if angle is None or long < 600 or room < off + 200:
        return
    middle = Slab(
        (at[0], at[1] + off + 60) if angle == 0 else (at[0] + off + 60, at[1]), 0, 0, angle
    )
    ends = middle.point(-long / 2, 0), middle.point(long / 2, 0)
    sheet.drawing.path(ends, weight=style.FOLD)
    for side in (-1, 1):
        tip = side * long / 2
        head = [
            middle.point(*to) for to in ((tip, 0), (tip - side * 200, -70), (tip - side * 200, 70))
        ]
        sheet.drawing.solid(tuple(head))
    sheet.taken.append(Slab(middle.at, long, 160, angle))
    if angle == 0:
        sheet.put((middle.at[0], middle.at[1] + 220), "grain", style.SMALL, fill=style.TINT)


def _names(sheet: Sheet) -> None:
    """The name of every edge, along its middle: inside it if there is room, else outside."""
    for number, stretch in enumerate(sheet.draft.stretches):
        if stretch.name:
            _name(sheet, number, stretch)
    for mark in sheet.draft.notches:
        if mark.name:
            _notch_name(sheet, mark)


def _notch_name(sheet: Sheet, mark: Mark) -> None:
    """The name of a notch, inside the piece past its stroke."""
    text = clip(clean(mark.name).partition(" (")[0], style.LEAST, 2200)
    a, b = (sheet.at(end) for end in ends(mark))
    dx, dy = b[0] - a[0], b[1] - a[1]
    size = math.hypot(dx, dy) or 1.0
    beside = width(text, style.LEAST) / 2 if abs(dx) > abs(dy) else 0
    for far in (270, 420, 620):
        spot = round(a[0] + dx / size * (far + beside)), round(a[1] + dy / size * (far + 100))
        if sheet.put(spot, text, style.LEAST, fill=style.TINT):
            return


def _name(sheet: Sheet, number: int, stretch: Stretch) -> None:
    text = clip(stretch.name, style.SMALL, 4000)
    for part in (0.5, 0.35, 0.65, 0.2, 0.8):
        spot, way = stretch.edge.at(stretch.length * part)
        angle = round(math.degrees(math.atan2(way[1], way[0])))
        angle = (angle + 89) % 180 - 89
        x, y = sheet.at(spot)
        for side in (1, -1):
            # Left of the way round is inside; the page's y runs down.
            at = round(x - side * way[1] * AWAY), round(y - side * way[0] * AWAY)
            if side > 0 and not _roomy(sheet, number, at):
                continue
            if width(text, style.SMALL) > sheet.view.length(round(stretch.length)):
                return
            if sheet.put(at, text, style.SMALL, angle=angle, fill=style.TINT if side > 0 else ""):
                return


def _roomy(sheet: Sheet, number: int, at: Point) -> bool:
    """Whether no other edge runs close by a place on the paper."""
    rect, n = sheet.view.bolt, sheet.view.n
    spot = (
        rect.x0 + (at[0] - BESIDE) * n * 8 / 5,
        rect.y1 - (at[1] - BESIDE) * n * 8 / 5,
    )
    others = (other for other in range(len(sheet.draft.stretches)) if other != number)
    return all(sheet.draft.off(other, spot) * 5 / 8 / n > AWAY for other in others)
