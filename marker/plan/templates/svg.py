"""Pages of templates as SVG: 1/100 mm to the viewBox, the cut line in 1/160 mm of cloth.

A program can read a template back: each part of one stands in a group `template-A-3`, cut
off by the clip path `window-A-3`; in it a group of the same name with `frame` for `template`
carries the piece's frame to the page by one matrix, and holds the path `cut-A-3`.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

import svgwrite
from svgwrite.container import Group

from marker.plan.drawing import style
from marker.plan.drawing.page import Point
from marker.plan.drawing.verbs import Drawing
from marker.plan.lays.svg import element
from marker.plan.templates.curves import path_data
from marker.plan.templates.desk import Desk
from marker.plan.templates.joins import View
from marker.plan.templates.tiling import SCALE


def sheet_svg(
    size: Point, parts: Sequence[tuple[Desk, View]], over: Drawing, told: tuple[str, str]
) -> str:
    """A page of parts of templates, and what stands around them; `told` names and describes it."""
    width, height = size
    sheet = svgwrite.Drawing(
        size=(f"{_plain(Fraction(width, 100))}mm", f"{_plain(Fraction(height, 100))}mm"),
        viewBox=f"0 0 {width} {height}",
        debug=False,
    )
    sheet.attribs["font-family"] = style.FONTS
    sheet.set_desc(*told)
    sheet.add(sheet.rect((0, 0), (width, height), fill=style.PAPER))
    for desk, view in parts:
        sheet.add(_part(sheet, desk, view))
    for mark in (mark for drawing in (*(desk.over for desk, _ in parts), over)
                 for mark in (*drawing.ground, *drawing.over)):  # fmt: skip
        sheet.add(element(sheet, mark))
    text: str = sheet.tostring()
    return text.replace("><", ">\n<") + "\n"


def part_id(view: View) -> str:
    """What ends the ids of a part: the first letter of its template, and the page's number."""
    return f"{view.tiling.seen.template.letters[0]}-{view.tile.number}"


def _part(sheet: svgwrite.Drawing, desk: Desk, view: View) -> Group:
    name, window = part_id(view), view.window
    clip = sheet.clipPath(id=f"window-{name}")
    clip.add(sheet.rect((window.x0, window.y0), (window.width, window.height)))
    sheet.defs.add(clip)
    group = sheet.g(id=f"template-{name}")
    group.attribs["clip-path"] = f"url(#window-{name})"
    for mark in (*desk.inside.ground, *desk.inside.over):
        group.add(element(sheet, mark))
    frame = sheet.g(id=f"frame-{name}")
    numbers = " ".join(_plain(value) for value in view.tiling.seen.matrix(view.corner))
    frame.attribs["transform"] = f"matrix({numbers})"
    cut = sheet.path(path_data(view.tiling.seen.template.cut), id=f"cut-{name}", fill="none")
    cut.attribs |= {
        "stroke": style.INK,
        "stroke-width": _plain(style.CUT / SCALE),
        "stroke-linejoin": "round",
    }
    frame.add(cut)
    group.add(frame)
    return group


def _plain(value: Fraction) -> str:
    """A number with all its digits: those of the page are eighths and hundredths at most."""
    return f"{float(value):.6f}".rstrip("0").rstrip(".")
