"""The figure of a draft: one piece by itself in its box, with corners, edges and centres."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from marker.geometry import Rect
from marker.geometry.curves import Arc
from marker.geometry.pole import pole
from marker.piece import Grain, MarkKind
from marker.plan.drafts.draft import Draft, ends
from marker.plan.drafts.labels import (
    AWAY,
    BESIDE,
    CROSS,
    Sheet,
    name_centres,
    name_edges,
    name_notches,
    number_corners,
)
from marker.plan.drawing import style
from marker.plan.drawing.arrows import slanted
from marker.plan.drawing.lettering import clean, height, width
from marker.plan.drawing.page import Box, Point, View
from marker.plan.drawing.slabs import Slab
from marker.plan.drawing.verbs import Drawing
from marker.plan.lays.blocks import disc_width, draw_disc
from marker.plan.lays.marks import NOTCH, look, notch
from marker.plan.words.runs import measured
from marker.units import CM, Units, set_fractions

ROOM = (10000, 6200)
"""The most that a piece takes on paper, its centres counted, in 1/100 mm."""
SCALES = (1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 40, 50, 60, 80, 100)
TINY = 2600
"""A piece that would come out smaller than this is drawn at a larger scale of its own."""
TALL = 4500
"""How large such a piece is drawn at most."""
REACH = 0.6
"""A centre that lies further beyond the box than this part of its size is not drawn."""
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


def figure(draft: Draft, n: int, units: Units) -> tuple[Drawing, Point]:
    """The draft drawn at 1:n, and the paper that it takes in 1/100 mm."""
    rect = _spread(draft)
    view = View(rect, n)
    size = view.length(rect.along) + 2 * BESIDE, view.length(rect.across) + 2 * BESIDE
    sheet = Sheet(draft, view, units, Box(0, 0, *size))
    sheet.drawing.solid(sheet.ring, style.TINT)
    _box(sheet)
    _centres(sheet)
    _lines(sheet)
    sheet.drawing.path((*sheet.ring, sheet.ring[0]), weight=style.OUTLINE)
    number_corners(sheet)
    _letter(sheet)
    name_centres(sheet, tuple(_near_arcs(draft)))
    name_edges(sheet)
    name_notches(sheet)
    return sheet.drawing, size


def _box(sheet: Sheet) -> None:
    """The box with its two sizes."""
    piece = sheet.draft.piece
    low, high = sheet.at((0, 0)), sheet.at((piece.length, piece.breadth))
    ring = (low, (high[0], low[1]), high, (low[0], high[1]), low)
    sheet.line(ring, weight=style.THIN, dash=style.DASH_REGION)
    along = set_fractions(f"{measured(sheet.units, '{}', piece.length)} along")
    sheet.put(((low[0] + high[0]) // 2, low[1] + 640), along, style.SMALL, "size")
    up = set_fractions(f"{measured(sheet.units, '{}', piece.breadth)} up")
    for text in (up, up.removesuffix(" up")):
        if width(text, style.SMALL) <= low[1] - high[1] + BESIDE:
            at = high[0] + 560, (low[1] + high[1]) // 2
            sheet.put(at, text, style.SMALL, "size", angle=90)
            break


def _centres(sheet: Sheet) -> None:
    """The near centres of arcs, each with the radii to the ends of its arcs."""
    for stretch in sheet.draft.stretches:
        if stretch.arc in tuple(_near_arcs(sheet.draft)):
            at = sheet.at(stretch.arc.centre)
            for end in (stretch.start, stretch.end):
                sheet.line((at, sheet.at(end)), weight=style.THIN, dash=style.DASH_RADIUS)
            for dx, dy in ((CROSS, 0), (0, CROSS)):
                stroke = (at[0] - dx, at[1] - dy), (at[0] + dx, at[1] + dy)
                sheet.drawing.path(stroke, weight=style.TICK)
                sheet.hard.append(stroke)


def _lines(sheet: Sheet) -> None:
    """Seam, hem and fold lines, and the notches."""
    for mark in sheet.draft.piece.marks:
        if mark.kind is not MarkKind.NOTCH:
            weight, dash, colour = look(mark)
            run = tuple(sheet.at(end) for end in ends(mark))
            sheet.line(run, weight=weight, colour=colour, dash=dash)
    for mark in sheet.draft.notches:
        a, b = (sheet.at(end) for end in ends(mark))
        notch(sheet.drawing, a, b)
        sheet.take("notch", clean(mark.name), Slab(a, 2 * NOTCH, 2 * NOTCH))


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
    sheet.take("letter", letters, Slab(at, wide, 2 * half))
    _grain(sheet, at, wide // 2 + AWAY // 2, room)


def _grain(sheet: Sheet, at: Point, off: int, room: int) -> None:
    """The grain line beside the letter, where the piece is broad enough to hold it."""
    angle = {Grain.ALONG: 0, Grain.ACROSS: 90, Grain.BIAS: 45}.get(sheet.draft.piece.grain)
    if angle is None or room < off + 200:
        return
    for long in (1600, 1200, 900, 600):
        for side in (1, -1):
            far = side * (off + 60)
            spot = (at[0], at[1] + far) if angle == 0 else (at[0] + far, at[1])
            arrow = Slab(spot, long, 160, angle)
            if long <= 2 * room - 200 and sheet.inside(arrow.at) and sheet.free(arrow):
                _arrow(sheet, arrow)
                return


def _arrow(sheet: Sheet, arrow: Slab) -> None:
    """An arrow with a head at both ends, and its word under a level one if that has room."""
    slanted(sheet.drawing, arrow)
    sheet.take("grain", "arrow", arrow)
    if arrow.angle == 0:
        tall = height(style.SMALL)
        at = arrow.at[0], arrow.at[1] + arrow.height // 2 + AWAY // 8 + tall // 2
        word = Slab(at, width("grain", style.SMALL), tall)
        if sheet.inside(word.at) and sheet.free(word) and not sheet.over_lines(word):
            sheet.put(word.at, "grain", style.SMALL, "grain")
