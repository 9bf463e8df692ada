"""The scale bar, and a sample and a word for every line type and hatching in use."""

from __future__ import annotations

from collections.abc import Iterator

from marker.lay import Lay, Mode
from marker.piece import MarkKind
from marker.plan.drawing import style
from marker.plan.drawing.arrows import arrow
from marker.plan.drawing.lettering import ASCENT, DESCENT
from marker.plan.drawing.page import Box, Point
from marker.plan.drawing.verbs import Drawing, hatch
from marker.plan.lays.folded import under
from marker.plan.lays.ground import draw_flaw
from marker.plan.lays.marks import BIAS_LINE
from marker.plan.lays.matched import draw_diamond
from marker.plan.words.heed import flaws
from marker.plan.words.repeats import matched_sets

WIDE, TALL = 2500, 460
"""The room of one entry."""
SAMPLE = 800
INSIDE = 170
ROOMY = 600
"""Clear paper inside the square."""
TRUE = "5 cm square at full size"


def entries(lay: Lay) -> tuple[str, ...]:
    """What the legend must explain: only what the plan shows."""
    return tuple(_lines(lay)) + tuple(_zones(lay))


def _lines(lay: Lay) -> Iterator[str]:
    drawn = [mark for piece in lay.pieces for mark in piece.marks]
    kinds = {mark.kind for mark in drawn if mark.name != BIAS_LINE}
    if any(not tear.cut for tear in lay.tears):
        yield "tear"
    if lay.mode is Mode.SHEARS or lay.regions or any(tear.cut for tear in lay.tears):
        yield "cut"
    if kinds & {MarkKind.FOLD, MarkKind.HEM}:
        yield "fold"
    if MarkKind.SEAM in kinds:
        yield "seam"
    if any(mark.name == BIAS_LINE for mark in drawn):
        yield BIAS_LINE
    if lay.cloth.folded:
        yield "cloth fold"
    if lay.shaped:
        yield "grain, one way" if lay.cloth.one_way else "grain"
    if matched_sets(lay):
        yield "repeat"
        yield "matched"


def _zones(lay: Lay) -> Iterator[str]:
    if under(lay):
        yield "layer below"
    if lay.shaped or any(not offcut.keep for offcut in lay.offcuts):
        yield "waste"
    if any(offcut.keep for offcut in lay.offcuts):
        yield "remnant"
    if flaws(lay):
        yield "flaw"
    if lay.cloth.selvedge:
        yield "selvedge"


def draw_bar(
    drawing: Drawing,
    x: int,
    y: int,
    text: str,
    size: int = style.SMALL,
    parts: tuple[int, int] = (style.BAR, 10),
) -> int:
    """The scale bar, so long and of so many fields, of which every other is filled.

    Gives its foot.
    """
    tall, (long, fields) = 170, parts
    for number in range(0, fields, 2):
        left, right = (x + long * at // fields for at in (number, number + 1))
        drawing.field(Box(left, y, right, y + tall), style.INK)
    drawing.field(Box(x, y, x + long, y + tall), "none", weight=style.THIN)
    foot = y + tall + 100 + size * 5 // 6
    drawing.say("note", (x, foot), text, size)
    return foot + size // 3


def draw_square(drawing: Drawing, entries: tuple[str, ...], at: Point, scale: str) -> int:
    """The signs in use in a square of exactly five centimetres, to test a print by; its foot."""
    x, y = at
    side, size = style.SQUARE, style.SMALL
    drawing.field(Box(x, y, x + side, y + side), "none", weight=style.THIN)
    drawing.say("note", (x + INSIDE, y + INSIDE + size * ASCENT // 1000), scale, size, bold=True)
    top = y + INSIDE + size * 6 // 5
    pitch = min(ROOMY, (y + side - INSIDE // 2 - top) // max(1, len(entries)))
    for number, entry in enumerate(entries):
        middle = top + pitch * number + pitch // 2
        left = x + INSIDE
        _sample(drawing, entry, Box(left, middle - 110, left + SAMPLE, middle + 110))
        drawing.say("legend", (left + SAMPLE + 150, middle + size // 3), entry, size)
    foot = y + side + 60 + size * ASCENT // 1000
    drawing.say("note", (x, foot), TRUE, size)
    return foot + size * DESCENT // 1000


def draw_legend(
    drawing: Drawing, entries: tuple[str, ...], area: Box, size: int = style.SMALL
) -> int:
    """A sample and a word for each line type and hatching in use; gives its foot."""
    wide, tall = (room * size // style.SMALL for room in (WIDE, TALL))
    across = max(1, area.width // wide)
    for number, entry in enumerate(entries):
        x, y = area.x0 + number % across * wide, area.y0 + number // across * tall
        _sample(drawing, entry, Box(x, y, x + SAMPLE, y + 240))
        drawing.say("legend", (x + SAMPLE + 150, y + 120 + size // 3), entry, size)
    return area.y0 + -(-len(entries) // across) * tall


def _sample(drawing: Drawing, entry: str, box: Box) -> None:
    y = box.middle[1]
    line = (box.x0, y), (box.x1, y)
    if entry == "tear":
        drawing.path(line, weight=style.TEAR, dash=style.DASH_TEAR)
    elif entry == "cut":
        draw_shears(drawing, (box.x0, y))
        drawing.path(((box.x0 + 400, y), (box.x1, y)), weight=style.CUT)
    elif entry == "fold":
        drawing.path(line, weight=style.FOLD, dash=style.DASH_FOLD)
    elif entry == "cloth fold":
        drawing.path(line, weight=style.CLOTH_FOLD, dash=style.DASH_CLOTH_FOLD)
    elif entry.startswith("grain"):
        arrow(drawing, *line, ends=(True, entry == "grain"), weight=style.GRAIN)
    elif entry == BIAS_LINE:
        drawing.path(line, weight=style.FOLD)
    elif entry == "seam":
        drawing.path(line, weight=style.SEAM, colour=style.SOFT)
    elif entry == "repeat":
        drawing.path(line, weight=style.REPEAT, colour=style.REPEAT_INK, dash=style.DASH_REPEAT)
    elif entry == "matched":
        draw_diamond(drawing, box.middle)
    else:
        _zone(drawing, entry, box)


def _zone(drawing: Drawing, entry: str, box: Box) -> None:
    if entry == "selvedge":
        drawing.field(box, style.SELVEDGE, weight=style.THIN, colour=style.SOFT)
        return
    if entry == "layer below":
        drawing.field(box, style.PAPER, weight=style.UNDER)
        return
    if entry == "flaw":
        draw_flaw(drawing, box, under=False)
    else:
        pitch = style.HATCH_REMNANT if entry == "remnant" else style.HATCH_WASTE
        drawing.path(*hatch(box, pitch), weight=style.HATCH, colour=style.HATCH_INK)
    drawing.field(box, "none", weight=style.THIN, colour=style.SOFT)


def draw_shears(drawing: Drawing, at: Point) -> None:
    """A small pair of shears, half open, its bows at a point and its blades to the right."""
    x, y = at
    for side in (1, -1):
        bow = x + 75, y + side * 68
        drawing.disc(bow, 58, "none", weight=style.TICK)
        shank = (x + 120, y + side * 40), (x + 410, y - side * 62), (x + 240, y - side * 12)
        drawing.solid(shank)
        drawing.path(((x + 118, y + side * 38), (x + 250, y - side * 8)), weight=style.FOLD)
