"""The large sheet drawn: every template's parts, and at its foot what it is and how to print it."""

from __future__ import annotations

from collections.abc import Sequence

from marker.plan.drawing import style
from marker.plan.drawing.lettering import ASCENT, clip, wrap
from marker.plan.drawing.page import Box, Point
from marker.plan.drawing.verbs import Drawing
from marker.plan.templates.large import BAND, Large
from marker.plan.templates.page import draw_part
from marker.plan.templates.stamp import SQUARES, draw_square
from marker.plan.templates.svg import sheet_svg

TITLE, WORDS = style.ROLL_TITLE, style.ROLL_WORDS
SQUARE_GAP = 500


def draw_large(large: Large, title: str, told: Sequence[str]) -> str:
    """A large sheet as SVG; `told` are the sentences at its foot, after the title."""
    parts = [(draw_part(view, framed=len(view.tiling.tiles) > 1), view) for view in large.views]
    over = Drawing()
    _band(over, large.size, title, told)
    desc = f"Full-size templates on one large sheet. {' '.join(told)}"
    return sheet_svg(large.size, parts, over, (f"{title}: templates", desc))


def _band(over: Drawing, size: Point, title: str, told: Sequence[str]) -> None:
    """A rule, the title, the sentences, and both test squares at the right."""
    edge, (wide, high) = style.MARGIN, size
    top = high - edge - BAND
    over.path(((edge, top), (wide - edge, top)), weight=style.EDGE)
    x, y = wide - edge, top + (BAND - max(SQUARES)) // 2 + max(SQUARES)
    for side in sorted(SQUARES):
        x -= side
        draw_square(over, (x, y - side), side)
        over.label("square", SQUARES[side], Box(x, y - side, x + side, y))
        x -= SQUARE_GAP
    room = x - edge - SQUARE_GAP
    y = top + 700 + TITLE * ASCENT // 1000
    over.words((edge, y), clip(title, TITLE, room, bold=True), TITLE, bold=True)
    y += WORDS * 2
    for sentence in told:
        for line in wrap(sentence, WORDS, room):
            over.words((edge, y), line, WORDS)
            y += WORDS * 13 // 10
        y += WORDS // 4
