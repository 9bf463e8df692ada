"""What lies under the pieces: the cloth, its selvedges, the hatching of what is left, flaws."""

from __future__ import annotations

from collections.abc import Sequence

from marker.lay import Lay
from marker.plan.drawing import style
from marker.plan.drawing.page import Box, Point, View
from marker.plan.drawing.verbs import Drawing, cross_hatch, hatch
from marker.plan.words.heed import flaws


def draw_ground(
    drawing: Drawing, view: View, lay: Lay, tinted: Sequence[Box | tuple[Point, ...]]
) -> None:
    """Draw the cloth; `tinted` are the pieces where stripes must show through them.

    Where pieces have outlines, what is left has any shape: then the whole cloth is hatched,
    and the pieces hide the hatching under them.
    """
    cloth = view.box(view.bolt)
    drawing.field(cloth, style.PAPER, under=True)
    edge = view.length(lay.cloth.selvedge)
    sides = [Box(0, 0, cloth.x1, edge), Box(0, cloth.y1 - edge, cloth.x1, cloth.y1)]
    if lay.shaped:
        _hatched(drawing, cloth, style.HATCH_WASTE)
    for offcut in lay.offcuts:
        box = view.box(offcut.rect)
        if lay.cloth.selvedge and any(side.grown(2).holds(box) for side in sides):
            continue
        if not lay.shaped:
            _hatched(drawing, box, style.HATCH_REMNANT if offcut.keep else style.HATCH_WASTE)
        elif offcut.keep:
            drawing.field(box, style.PAPER, under=True)
            _hatched(drawing, box, style.HATCH_REMNANT)
    if lay.cloth.selvedge:
        for side, y in zip(sides, (edge, cloth.y1 - edge), strict=True):
            drawing.field(side, style.SELVEDGE, under=True)
            drawing.path(((0, y), (cloth.x1, y)), weight=style.THIN, colour=style.SOFT)
    for flaw in flaws(lay).values():
        draw_flaw(drawing, view.box(flaw), under=True)
    for area in tinted:
        _tint(drawing, area)


def _tint(drawing: Drawing, area: Box | tuple[Point, ...]) -> None:
    if isinstance(area, Box):
        drawing.field(area, style.TINT, under=True)
    else:
        drawing.solid(area, style.TINT, under=True)


def _hatched(drawing: Drawing, box: Box, pitch: int) -> None:
    drawing.path(*hatch(box, pitch), weight=style.HATCH, colour=style.HATCH_INK, under=True)


def draw_flaw(drawing: Drawing, box: Box, *, under: bool) -> None:
    """Cross-hatch a flaw, over whatever hatching lies there."""
    drawing.field(box, style.PAPER, under=under)
    lines = cross_hatch(box, style.CROSS_FLAW)
    drawing.path(*lines, weight=style.FLAW, under=under)


def frame(box: Box) -> list[Box]:
    """The cloth's four edges as the paper they cover."""
    half = style.EDGE // 2
    return [
        Box(box.x0 - half, box.y0, box.x0 + half, box.y1),
        Box(box.x1 - half, box.y0, box.x1 + half, box.y1),
        Box(box.x0, box.y0 - half, box.x1, box.y0 + half),
        Box(box.x0, box.y1 - half, box.x1, box.y1 + half),
    ]
