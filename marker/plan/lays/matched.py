"""The repeat on the page: its faint lines, and the diamonds at matched edges."""

from __future__ import annotations

from marker.lay import Lay
from marker.piece import Wise
from marker.plan.drawing import style
from marker.plan.drawing.labels import Room
from marker.plan.drawing.page import Box, Point, View, around
from marker.plan.drawing.verbs import Drawing
from marker.plan.words.repeats import Point as Matched
from marker.plan.words.repeats import lines, matched_sets, repeat_of
from marker.units import Units, format_length

THINNING = (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000)
PLACES = (50, 40, 60, 30, 70, 20, 80)
"""Where along an edge its diamond is tried, per cent."""


def thinning(view: View, lay: Lay, wise: Wise) -> int:
    """Of a fine repeat only one line in so many can be drawn apart."""
    pitch = view.length(repeat_of(lay, wise))
    return next((n for n in THINNING if n * pitch >= style.LEAST_REPEAT), THINNING[-1])


def shown_lines(view: View, lay: Lay, wise: Wise) -> tuple[int, ...]:
    """The lines of the repeat that are drawn one way."""
    return lines(lay, wise, thinning(view, lay, wise))


def repeat_words(view: View, lay: Lay, units: Units) -> str:
    """What the lines of the repeat stand for; empty where none is drawn."""
    told = []
    for wise, way in ((Wise.LENGTHWISE, "along"), (Wise.CROSSWISE, "across")):
        if lines(lay, wise):
            every = thinning(view, lay, wise)
            drawn = f" (drawn every {every} repeats)" if every > 1 else ""
            told.append(f"{format_length(repeat_of(lay, wise), units)} {way}{drawn}")
    if not told:
        return ""
    return (
        f"It comes round every {' and '.join(told)}; dotted lines pass through the matched "
        "edges, which bear a diamond."
    )


def repeat_boxes(view: View, lay: Lay) -> list[Box]:
    """The paper that the repeat's lines cover."""
    bolt = view.box(lay.bolt)
    upright = [view.x(x) for x in shown_lines(view, lay, Wise.LENGTHWISE)]
    level = [view.y(y) for y in shown_lines(view, lay, Wise.CROSSWISE)]
    return [
        *(Box(x - 6, 0, x + 6, bolt.y1) for x in upright),
        *(Box(0, y - 6, bolt.x1, y + 6) for y in level),
    ]


def draw_diamonds(drawing: Drawing, room: Room, view: View, lay: Lay) -> None:
    """Mark every matched edge inside its piece, where no other mark is in the way."""
    done: set[tuple[str, Point]] = set()
    for one in matched_sets(lay):
        for point in one.points:
            box = view.box(point.spot.rect(point.piece))
            spots = _spots(point, one.wise, box, view)
            at = next((s for s in spots if _open(room, s)), spots[0])
            if (point.spot.id, at) not in done:
                done.add((point.spot.id, at))
                draw_diamond(drawing, at)
                room.take(around(*at, 2 * style.DIAMOND, 2 * style.DIAMOND))


def _open(room: Room, at: Point) -> bool:
    box = around(*at, 2 * style.DIAMOND, 2 * style.DIAMOND)
    return not any(box.hits(other) for other in room.boxes.near(box))


def _spots(point: Matched, wise: Wise, box: Box, view: View) -> list[Point]:
    """Places on the matched line, the diamond's tip on an edge that bounds the piece."""
    half = style.DIAMOND
    if wise is Wise.LENGTHWISE:
        x = min(max(view.x(point.x), box.x0 + half), box.x1 - half)
        return [(x, box.y0 + box.height * part // 100) for part in PLACES]
    y = min(max(view.y(point.y), box.y0 + half), box.y1 - half)
    return [(box.x0 + box.width * part // 100, y) for part in PLACES]


def draw_diamond(drawing: Drawing, at: Point) -> None:
    """An open diamond."""
    x, y = at
    half, wide = style.DIAMOND, style.DIAMOND * 4 // 5
    ring = ((x - wide, y), (x, y - half), (x + wide, y), (x, y + half))
    drawing.outline(ring, style.MATCH)
