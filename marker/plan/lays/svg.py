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

from marker.geometry import Polygon, Rect
from marker.lay import Direction, Lay, Mode, Tear
from marker.piece import Wise
from marker.plan.drawing import style
from marker.plan.drawing.lettering import clean
from marker.plan.drawing.page import Half, Paper, Point
from marker.plan.drawing.verbs import Disc, Drawing, Field, Mark, Path, Words
from marker.plan.lays import rings
from marker.plan.lays.binding import bound
from marker.plan.lays.folded import under
from marker.plan.lays.layout import Plan, layout
from marker.plan.lays.matched import shown_lines
from marker.plan.lays.pieces import size_words
from marker.plan.lays.stretches import Stretch, stretches
from marker.plan.words import phrases as words
from marker.plan.words.heed import flaws
from marker.plan.words.repeats import matched_sets
from marker.plan.words.sizes import cut_size
from marker.record import Record
from marker.units import Units, set_fractions


def draw(record: Record, lay: Lay, paper: Paper | Half) -> str:
    """The annotated plan of one cloth of a record, as the text of an SVG file.

    Of a long bolt it holds the guide and under it the page of every stretch.
    """
    if isinstance(paper, Half):
        return emit(record, lay, layout(record, lay, paper))
    return bound([svg for svg, _ in draw_pages(record, lay, paper)], paper.size)


def draw_pages(record: Record, lay: Lay, paper: Paper) -> tuple[tuple[str, Lay], ...]:
    """The plan as SVG pages yet without a number, each with the lay that it shows.

    The first shows all of it; of a long bolt the stretches follow.
    """
    plan = layout(record, lay, paper)
    found = stretches(record, lay, paper) if plan.guide else ()
    first = emit(record, lay, plan), lay
    return (first, *((emit(record, one.lay, one, one.told), one.lay) for one in found))


def emit(
    record: Record, lay: Lay, plan: Plan | Stretch, told: tuple[str, str] | None = None
) -> str:
    """Write a plan that is worked out as SVG, one element a line; `told` names and describes it."""
    width, height = plan.paper.size
    sheet = svgwrite.Drawing(
        size=(f"{_number(width, 100)}mm", f"{_number(height, 100)}mm"),
        viewBox=f"0 0 {width} {height}",
        debug=False,
    )
    sheet.attribs["font-family"] = style.FONTS
    # Else browsers round each letter to whole dots, and a long line outgrows its room.
    sheet.attribs["text-rendering"] = "geometricPrecision"
    _tell(sheet, *(told or describe(record, lay)))
    sheet.add(sheet.rect((0, 0), (width, height), fill=style.PAPER))
    for group, marks in (("ground", plan.drawing.ground), ("over", plan.drawing.over)):
        if group == "over":
            if matched_sets(lay):
                sheet.add(repeat_group(sheet, lay, plan))
            sheet.add(lay_group(sheet, lay, plan, record.units))
        layer = sheet.g(id=group)
        for mark in marks:
            layer.add(element(sheet, mark))
        sheet.add(layer)
    return '<?xml version="1.0" encoding="utf-8"?>\n' + _one_a_line(sheet.tostring()) + "\n"


def picture(drawing: Drawing, size: Point, title: str = "", desc: str = "") -> str:
    """A drawing that holds no lay of its own, as SVG of a size in 1/100 mm.

    With a title it stands by itself, on white paper, for readers that can't see it too.
    """
    width, height = size
    sheet = svgwrite.Drawing(
        size=(f"{_number(width, 100)}mm", f"{_number(height, 100)}mm"),
        viewBox=f"0 0 {width} {height}",
        debug=False,
    )
    sheet.attribs["font-family"] = style.FONTS
    if title:
        sheet.attribs["text-rendering"] = "geometricPrecision"
        _tell(sheet, title, desc)
        sheet.add(sheet.rect((0, 0), (width, height), fill=style.PAPER))
    for mark in (*drawing.ground, *drawing.over):
        sheet.add(element(sheet, mark))
    return _one_a_line(sheet.tostring()) + "\n"


def _tell(sheet: svgwrite.Drawing, title: str, desc: str) -> None:
    """Name and describe a drawing for readers that can't see it."""
    sheet.set_desc(title, desc)
    for part in sheet.elements[:2]:
        part.xml.set("id", f"{part.elementname}-of-page")
    sheet.attribs["role"] = "img"
    sheet.attribs["aria-labelledby"] = "title-of-page desc-of-page"


def describe(record: Record, lay: Lay) -> tuple[str, str]:
    """A name and a sentence for readers that can't see the drawing."""
    units = record.units
    name = clean(lay.cloth.name) or clean(lay.cloth.key)
    title = f"{clean(record.title)}: plan of {name}"
    heading, need, proof = (
        set_fractions(say(lay, units)) for say in (words.heading, words.need, words.proof)
    )
    desc = (
        f"{len(lay.placements)} pieces on {name}, {_freed(lay)}. {heading}; "
        f"needs {need}: {proof}. "
        "The group lay holds the cloth in units of 1/160 mm, y upwards."
    )
    return title, desc


def _freed(lay: Lay) -> str:
    if lay.mode is Mode.SHEARS:
        return "cut out with shears"
    cuts = sum(tear.cut for tear in lay.tears)
    tears = f"freed by {len(lay.tears) - cuts} tears"
    told = f"{tears} and {cuts} cuts along a thread" if cuts else tears
    return f"{told}, some then cut out with shears" if lay.regions else told


def _carry(plan: Plan | Stretch) -> str:
    """The transform from units of cloth, y upwards, to the page."""
    view, scale = plan.view, plan.view.scale
    x = plan.corner[0] - view.bolt.x0 * scale
    y = plan.corner[1] + view.bolt.y1 * scale
    shown = f"{float(scale):.15g}"
    return f"translate({_plain(x)} {_plain(y)}) scale({shown} -{shown})"


def repeat_group(sheet: svgwrite.Drawing, lay: Lay, plan: Plan | Stretch) -> Group:
    """The lines of the repeat in units of cloth, under the pieces' outlines."""
    group = sheet.g(id="repeat")
    group.attribs["transform"] = _carry(plan)
    bolt, scale = lay.bolt, plan.view.scale
    look = {
        "stroke": style.REPEAT_INK,
        "stroke-width": _plain(style.REPEAT / scale),
        "stroke-dasharray": ",".join(_plain(part / scale) for part in style.DASH_REPEAT),
    }
    for wise in Wise:
        for at in shown_lines(plan.view, lay, wise):
            along = wise is Wise.LENGTHWISE
            ends = ((at, bolt.y0), (at, bolt.y1)) if along else ((bolt.x0, at), (bolt.x1, at))
            line = sheet.line(*ends)
            line.attribs |= look
            group.add(line)
    return group


def lay_group(sheet: svgwrite.Drawing, lay: Lay, plan: Plan | Stretch, units: Units) -> Group:
    """The lay in units of cloth, one element for each thing, named as in the record."""
    scale = plan.view.scale
    group = sheet.g(id="lay")
    group.attribs["transform"] = _carry(plan)

    def cloth(page: int) -> str:
        return _plain(page / scale)

    for number, offcut in enumerate(lay.offcuts, 1):
        shape = _rect(sheet, f"offcut-{number}", offcut.rect, "none", cloth(style.THIN))
        if lay.shaped and not offcut.keep:
            # One of many ways to part waste of any shape: no line to see on the cloth.
            shape.attribs["stroke"] = "none"
        group.add(shape)
    for number, flaw in flaws(lay).items():
        group.add(_rect(sheet, f"flaw-{number}", flaw, "none", cloth(style.OUTLINE)))
    pieces = {piece.letter: piece for piece in lay.pieces}
    # Where stripes show through the pieces, their tint lies below the stripes.
    tint = "none" if matched_sets(lay) else style.TINT
    beneath = under(lay)
    for spot in lay.placements:
        piece, lower = pieces[spot.letter], spot.id in beneath
        cut = lay.mode is Mode.SHEARS or _in_region(lay, spot.rect(piece))
        heavy = cloth(style.UNDER if lower else style.CUT if cut else style.OUTLINE)
        fill = style.PAPER if lower and tint != "none" else tint
        if piece.outline is None:
            shape = _rect(sheet, spot.id, spot.rect(piece), fill, heavy)
        else:
            shape = _ring(sheet, spot.id, spot.polygon(piece), fill, heavy)
        size = size_words(*cut_size(piece), units)
        shape.set_desc(title=f"{spot.id}: {clean(piece.name)}, {size}")
        group.add(shape)
    for number, region in enumerate(lay.regions, 1):
        shape = _rect(sheet, f"region-{number}", region, "none", cloth(style.THIN))
        shape.attribs["stroke-dasharray"] = ",".join(map(cloth, style.DASH_REGION))
        group.add(shape)
    bolt = _rect(sheet, "bolt", lay.bolt, "none", cloth(style.EDGE))
    if isinstance(plan, Stretch):
        bolt.attribs["stroke"] = "none"  # it goes on at either end
    group.add(bolt)
    for tear, weight in zip(lay.tears, rings.weights(plan.view, lay).values(), strict=True):
        group.add(_tear(sheet, tear, cloth(weight), ",".join(map(cloth, style.DASH_TEAR))))
    return group


def _tear(sheet: svgwrite.Drawing, tear: Tear, weight: str, dash: str) -> BaseElement:
    """A tear as a dashed line; where it is cut instead, a solid one."""
    hand = tear.in_hand
    if tear.direction is Direction.ACROSS:
        ends = (tear.at, hand.y0), (tear.at, hand.y1)
    else:
        ends = (hand.x0, tear.at), (hand.x1, tear.at)
    line = sheet.line(*ends, id=f"tear-{tear.number}")
    line.attribs |= {"stroke": style.INK, "stroke-width": weight}
    if not tear.cut:
        line.attribs["stroke-dasharray"] = dash
    return line


def _in_region(lay: Lay, rect: Rect) -> bool:
    return any(region.holds(rect) for region in lay.regions)


def _ring(
    sheet: svgwrite.Drawing, name: str, polygon: Polygon, fill: str, weight: str
) -> BaseElement:
    """A shaped piece, every corner as it was laid and judged."""
    d = "M " + " L ".join(f"{x} {y}" for x, y in polygon.points) + " Z"
    shape = sheet.path(d, id=name, fill=fill, stroke=style.INK)
    shape.attribs |= {"stroke-width": weight, "stroke-linejoin": "round"}
    return shape


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
    if mark.italic:
        text.attribs["font-style"] = "italic"
    if mark.bold:
        text.attribs["font-weight"] = "bold"
    if mark.anchor != "start":
        text.attribs["text-anchor"] = mark.anchor
    if mark.angle:
        text.attribs["transform"] = f"rotate({-mark.angle} {mark.at[0]} {mark.at[1]})"
    return text


def _plain(value: Fraction) -> str:
    """A number with four decimals at most: 1/100,000 mm on paper, or less than a unit of cloth."""
    return f"{float(value):.4f}".rstrip("0").rstrip(".")


def _number(value: int, part: int) -> str:
    return _plain(Fraction(value, part))


def _one_a_line(text: str) -> str:
    """Break between elements, never inside text, so that a change shows as changed lines."""
    return text.replace("><", ">\n<")
