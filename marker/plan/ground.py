"""What lies under the pieces: the cloth, its selvedges, the hatching of what is left, flaws."""

from __future__ import annotations

from marker.lay import Lay
from marker.plan import style
from marker.plan.heed import flaws
from marker.plan.page import Box, View
from marker.plan.verbs import Drawing, cross_hatch, hatch


def draw_ground(drawing: Drawing, view: View, lay: Lay, tinted: list[Box]) -> None:
    """Draw the cloth; `tinted` are the pieces where stripes must show through them."""
    cloth = view.box(view.bolt)
    drawing.field(cloth, style.PAPER, under=True)
    edge = view.length(lay.cloth.selvedge)
    sides = [Box(0, 0, cloth.x1, edge), Box(0, cloth.y1 - edge, cloth.x1, cloth.y1)]
    for offcut in lay.offcuts:
        box = view.box(offcut.rect)
        if lay.cloth.selvedge and any(side.grown(2).holds(box) for side in sides):
            continue
        pitch = style.HATCH_REMNANT if offcut.keep else style.HATCH_WASTE
        drawing.path(*hatch(box, pitch), weight=style.HATCH, colour=style.HATCH_INK, under=True)
    if lay.cloth.selvedge:
        for side, y in zip(sides, (edge, cloth.y1 - edge), strict=True):
            drawing.field(side, style.SELVEDGE, under=True)
            drawing.path(((0, y), (cloth.x1, y)), weight=style.THIN, colour=style.SOFT)
    for flaw in flaws(lay).values():
        draw_flaw(drawing, view.box(flaw), under=True)
    for box in tinted:
        drawing.field(box, style.TINT, under=True)


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
