"""The plan of one cloth as SVG.

Everything is drawn in 1/100 mm of paper but the group `lay`, whose unit is 1/160 mm of
cloth with y upwards: there every bolt, piece, tear and offcut is one element, so that any
program can read the lay back.
"""

from __future__ import annotations

from fractions import Fraction

import svgwrite
from svgwrite.base import BaseElement
from svgwrite.container import Group

from marker.geometry import Rect
from marker.lay import Direction, Lay
from marker.plan import rings, style, words
from marker.plan.layout import Plan, layout
from marker.plan.lettering import clean
from marker.plan.page import Paper
from marker.plan.verbs import Disc, Field, Mark, Path, Words
from marker.record import Record


def draw(record: Record, lay: Lay, paper: Paper) -> str:
    """The annotated plan of one cloth of a record, as the text of an SVG file."""
    return emit(record, lay, layout(record, lay, paper))


def emit(record: Record, lay: Lay, plan: Plan) -> str:
    """Write a plan that is worked out as SVG, one element a line."""
    width, height = plan.paper.size
    sheet = svgwrite.Drawing(
        size=(f"{_number(width, 100)}mm", f"{_number(height, 100)}mm"),
        viewBox=f"0 0 {width} {height}",
        debug=False,
    )
    sheet.attribs["font-family"] = style.FONTS
    # Else browsers round each letter to whole dots, and a long line outgrows its room.
    sheet.attribs["text-rendering"] = "geometricPrecision"
    title, desc = describe(record, lay)
    sheet.set_desc(title, desc)
    sheet.add(sheet.rect((0, 0), (width, height), fill=style.PAPER))
    for group, marks in (("ground", plan.drawing.ground), ("over", plan.drawing.over)):
        if group == "over":
            sheet.add(lay_group(sheet, lay, plan))
        layer = sheet.g(id=group)
        for mark in marks:
            layer.add(element(sheet, mark))
        sheet.add(layer)
    return '<?xml version="1.0" encoding="utf-8"?>\n' + _one_a_line(sheet.tostring()) + "\n"


def describe(record: Record, lay: Lay) -> tuple[str, str]:
    """A name and a sentence for readers that can't see the drawing."""
    units = record.units
    name = clean(lay.cloth.name) or clean(lay.cloth.key)
    title = f"{clean(record.title)}: plan of {name}"
    desc = (
        f"{len(lay.placements)} pieces on {name}, freed by {len(lay.tears)} tears. "
        f"Buy {words.buy(lay, units)}; needs {words.need(lay, units)}: {words.proof(lay, units)}. "
        "The group lay holds the cloth in units of 1/160 mm, y upwards."
    )
    return title, desc


def lay_group(sheet: svgwrite.Drawing, lay: Lay, plan: Plan) -> Group:
    """The lay in units of cloth, one element for each thing, named as in the record."""
    view = plan.view
    scale = view.scale
    x = plan.corner[0] - view.bolt.x0 * scale
    y = plan.corner[1] + view.bolt.y1 * scale
    group = sheet.g(id="lay")
    shown = f"{float(scale):.15g}"
    group.attribs["transform"] = f"translate({_plain(x)} {_plain(y)}) scale({shown} -{shown})"

    def cloth(page: int) -> str:
        return _plain(page / scale)

    for number, offcut in enumerate(lay.offcuts, 1):
        group.add(_rect(sheet, f"offcut-{number}", offcut.rect, "none", cloth(style.THIN)))
    pieces = {piece.letter: piece for piece in lay.pieces}
    for spot in lay.placements:
        rect = spot.rect(pieces[spot.letter])
        group.add(_rect(sheet, spot.id, rect, style.TINT, cloth(style.OUTLINE)))
    group.add(_rect(sheet, "bolt", lay.bolt, "none", cloth(style.EDGE)))
    weights = rings.weights(view, lay)
    dash = ",".join(cloth(part) for part in style.DASH_TEAR)
    for tear in lay.tears:
        hand = tear.in_hand
        if tear.direction is Direction.ACROSS:
            ends = (tear.at, hand.y0), (tear.at, hand.y1)
        else:
            ends = (hand.x0, tear.at), (hand.x1, tear.at)
        line = sheet.line(*ends, id=f"tear-{tear.number}")
        line.attribs |= {
            "stroke": style.INK,
            "stroke-width": cloth(weights[tear.number]),
            "stroke-dasharray": dash,
        }  # fmt: skip
        group.add(line)
    return group


def _rect(sheet: svgwrite.Drawing, name: str, rect: Rect, fill: str, weight: str) -> BaseElement:
    size = (rect.along, rect.across)
    shape = sheet.rect((rect.x0, rect.y0), size, id=name, fill=fill, stroke=style.INK)
    shape.attribs["stroke-width"] = weight
    return shape


def element(sheet: svgwrite.Drawing, mark: Mark) -> BaseElement:
    """One recorded mark as an SVG element."""
    if isinstance(mark, Words):
        return _text(sheet, mark)
    if isinstance(mark, Path):
        return _path(sheet, mark)
    if isinstance(mark, Disc):
        shape = sheet.circle(mark.at, mark.radius, fill=mark.fill)
    else:
        shape = _box(sheet, mark)
    if mark.weight:
        shape.attribs |= {"stroke": mark.colour, "stroke-width": mark.weight}
    return shape


def _box(sheet: svgwrite.Drawing, mark: Field) -> BaseElement:
    box = mark.box
    shape = sheet.rect((box.x0, box.y0), (box.width, box.height), fill=mark.fill)
    if mark.radius:
        shape.attribs |= {"rx": mark.radius, "ry": mark.radius}
    return shape


def _path(sheet: svgwrite.Drawing, mark: Path) -> BaseElement:
    runs = ("M" + "L".join(f"{x} {y}" for x, y in run) for run in mark.runs)
    shape = sheet.path("".join(run + ("Z" if mark.closed else "") for run in runs), fill=mark.fill)
    if mark.weight:
        shape.attribs |= {"stroke": mark.colour, "stroke-width": mark.weight}
    if mark.dash:
        shape.attribs["stroke-dasharray"] = ",".join(map(str, mark.dash))
    return shape


def _text(sheet: svgwrite.Drawing, mark: Words) -> BaseElement:
    text = sheet.text(mark.text, x=[mark.at[0]], y=[mark.at[1]], fill=mark.colour)
    text.attribs["font-size"] = mark.size
    if mark.bold:
        text.attribs["font-weight"] = "bold"
    if mark.anchor != "start":
        text.attribs["text-anchor"] = mark.anchor
    if mark.turned:
        text.attribs["transform"] = f"rotate(-90 {mark.at[0]} {mark.at[1]})"
    return text


def _plain(value: Fraction) -> str:
    """A number with four decimals at most: 1/100,000 mm on paper, or less than a unit of cloth."""
    return f"{float(value):.4f}".rstrip("0").rstrip(".")


def _number(value: int, part: int) -> str:
    return _plain(Fraction(value, part))


def _one_a_line(text: str) -> str:
    """Break between elements, never inside text, so that a change shows as changed lines."""
    return text.replace("><", ">\n<")
