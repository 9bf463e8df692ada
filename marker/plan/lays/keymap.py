"""What ties the page of a stretch to the whole bolt: a key map, and its neighbours' edges."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from marker.geometry import Rect
from marker.lay import Lay
from marker.plan.drawing import style
from marker.plan.drawing.lettering import height, width
from marker.plan.drawing.page import Box, Point, View, around
from marker.plan.drawing.slabs import Slab
from marker.plan.drawing.verbs import Drawing, hatch
from marker.plan.lays.parts import OVERLAP, Part

MAP = (9000, 900)
"""The most paper that the small bolt takes."""
MOST_DRAWN = 150
"""Of more pieces the small bolt shows none."""
JAGS = 6
JAG = 110
"""How far the line of a break runs out and in."""


def draw_map(drawing: Drawing, lay: Lay, found: Sequence[Part], at: int, corner: Point) -> None:
    """The whole bolt small, its right upper corner at a place, the stretch of this page marked."""
    n = 1 + max(lay.bolt.along * 5 // (8 * MAP[0]), lay.bolt.across * 5 // (8 * MAP[1]))
    view = View(lay.bolt, n)
    whole = view.box(lay.bolt)
    dx, dy = corner[0] - whole.width, corner[1]
    drawing.field(whole.moved(dx, dy), style.PAPER, weight=style.TICK)
    if len(lay.placements) <= MOST_DRAWN:
        for spot in lay.placements:
            box = view.box(spot.rect(lay.piece(spot.letter))).moved(dx, dy)
            drawing.field(box, style.TINT, weight=style.THIN, colour=style.SOFT)
    for number, part in enumerate(found):
        own = Rect(part.low, lay.bolt.y0, part.high, lay.bolt.y1)
        box, name = view.box(own).moved(dx, dy), f"{number + 1}"
        if number == at:
            drawing.path(*hatch(box, style.HATCH_WASTE), weight=style.FOLD)
            drawing.field(box, "none", weight=style.TEAR)
        if number == at or width(name, style.LEAST) + style.GAP < box.width:
            base = box.middle[0], box.y1 + style.GAP + style.LEAST * 3 // 4
            drawing.say("map", base, name, style.LEAST, bold=number == at, anchor="middle")


def seen(part: Part, lay: Lay) -> tuple[int, int]:
    """From where to where a page shows the bolt, its overlaps counted."""
    low = part.lay.bolt.x0 - (OVERLAP if part.low > lay.bolt.x0 else 0)
    high = part.lay.bolt.x1 + (OVERLAP if part.high < lay.bolt.x1 else 0)
    return max(low, lay.bolt.x0), min(high, lay.bolt.x1)


def strangers(part: Part, lay: Lay) -> list[tuple[str, Rect]]:
    """What is seen on a page of the pieces that belong to its neighbours, with their letters."""
    low, high = seen(part, lay)
    cut = [(name, Rect(max(r.x0, low), r.y0, min(r.x1, high), r.y1)) for name, r in part.others]
    return [(name, rect) for name, rect in cut if rect.along > 0]


def draw_neighbours(
    drawing: Drawing,
    part: Part,
    lay: Lay,
    view: View,
    at: int,
    leaders: Sequence[tuple[Point, ...]],
) -> None:
    """The overlaps: neighbours' pieces in broken outline, the cloth's edges, and where it goes on.

    It is drawn under the pieces of the stretch itself, the cloth's far left corner at 0, 0;
    words keep off the `leaders` of the stretch.
    """
    low, high = (view.x(x) for x in seen(part, lay))
    first, last = view.x(part.lay.bolt.x0), view.x(part.lay.bolt.x1)
    tall = view.box(lay.bolt).height
    told = [
        _refer(drawing, (end + own) // 2, tall, f"stretch {number}")
        for end, own, number in ((low, first, at), (high, last, at + 2))
        if end != own
    ]
    for letter, rect in strangers(part, lay):
        box = view.box(rect)
        drawing.field(box, style.PAPER, under=True)
        ring = (box.x0, box.y0), (box.x1, box.y0), (box.x1, box.y1), (box.x0, box.y1)
        drawing.path((*ring, ring[0]), weight=style.THIN, dash=style.DASH_NEIGHBOUR, under=True)
        _letter(drawing, letter, box, told, leaders)
    for y in (0, tall):
        drawing.path(((low, y), (high, y)), weight=style.EDGE, under=True)
    for end, own in ((low, view.x(part.low)), (high, view.x(part.high))):
        if end == own:
            drawing.path(((end, 0), (end, tall)), weight=style.EDGE, under=True)
            continue
        _break(drawing, end, tall)
        drawing.path(((own, 0), (own, tall)), weight=style.FOLD, dash=style.DASH_FOLD, under=True)


def _break(drawing: Drawing, x: int, tall: int) -> None:
    """The jagged line where a drawing of the cloth ends and the cloth goes on."""
    jags = [(x + (0, JAG, 0, -JAG)[number % 4], tall * number // JAGS) for number in range(1, JAGS)]
    drawing.path(((x, 0), *jags, (x, tall)), weight=style.THIN, under=True)


def _letter(
    drawing: Drawing, letter: str, box: Box, told: list[Box], leaders: Sequence[tuple[Point, ...]]
) -> None:
    """A neighbour's letter in what is seen of it, where that has room."""
    middle = around(*box.middle, width(letter, style.NOTE), height(style.NOTE))
    crossed = any(middle.crossed(a, b) for run in leaders for a, b in pairwise(run))
    free = not crossed and not any(middle.hits(one) for one in told)
    if box.holds(middle.grown(style.PAD)) and free:
        at = box.middle[0], box.middle[1] + style.NOTE * 345 // 1000
        drawing.words(at, letter, style.NOTE, anchor="middle", colour=style.SOFT)
        drawing.label("neighbour", letter, middle)


def _refer(drawing: Drawing, x: int, tall: int, text: str) -> Box:
    """Say in an overlap on which page it is drawn in full; gives the paper taken."""
    long = width(text, style.NOTE)
    slab = Slab((x, tall // 2), long, height(style.NOTE), 90)
    drawing.field(slab.box.grown(style.CLEAR), style.PAPER)
    at = x + style.NOTE * 345 // 1000, (tall + long) // 2
    drawing.words(at, text, style.NOTE, turned=True)
    drawing.label("side", text, slab.box)
    return slab.box
