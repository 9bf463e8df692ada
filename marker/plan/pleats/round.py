"""The figure of the whole round: the skirt's top laid flat over its band, quarters joined."""

from __future__ import annotations

from fractions import Fraction

from marker.gauging import Pressed, Quarter, quarters
from marker.plan.drawing import style
from marker.plan.drawing.lettering import width
from marker.plan.drawing.page import Box, Point
from marker.plan.drawing.verbs import Drawing, Words
from marker.plan.pleats.spell import near, number
from marker.plan.pleats.told import Plan
from marker.record import Garment
from marker.units import System

WIDE = 25000
"""The figure's width in 1/100 mm; it goes on either paper."""
HEIGHT = 3700
LEFT, RIGHT = 2600, 1900
"""Beside the strips: their names, and room for what stands at their end."""
SKIRT = (560, 1360)
"""From where to where the skirt's strip goes down the figure, and the band's."""
BAND = (2350, 2950)
TICK = 210
NAMED = 1500
"""A panel that is drawn narrower has its number alone."""


def draw_round(plan: Plan, garment: Garment, units: System) -> tuple[Drawing, Point]:
    """The drawing and its size in 1/100 mm. Skirt and band are not at one scale."""
    drawing, pleating = Drawing(), garment.pleating
    assert pleating is not None
    ends = WIDE - RIGHT
    whole = plan.drawn + pleating.underlap
    points = quarters(plan, pleating.opening_at)
    # A closed skirt ends where it began: the last point is the opening's other edge.
    last = Quarter(points[0].place, Fraction(plan.drawn), 0, Fraction(0), Fraction(plan.pleats))
    _skirt(drawing, plan, ends, units)
    _band(drawing, plan, pleating.underlap, ends, units)
    # The opening first: what would stand in the way of its words is left to the table.
    for point in (points[0], last, *points[1:]):
        at = Fraction(plan.round) if point is last else _flat(plan, point)
        top = _place(at, plan.round, ends)
        foot = _place(point.on_band + _zero(plan, pleating.underlap), whole, ends)
        _quarter(drawing, point, (top, foot), units)
    return drawing, (WIDE, HEIGHT)


def _place(at: Fraction | int, whole: int, ends: int) -> int:
    """Where a place of a whole length stands on the figure."""
    return LEFT + round(at * (ends - LEFT) / whole)


def _flat(plan: Plan, point: Quarter) -> Fraction:
    return (point.panel - 1) * plan.panel + point.after


def _skirt(drawing: Drawing, plan: Plan, ends: int, units: System) -> None:
    """The strip of panels with their seams, thick edges at the opening."""
    y0, y1 = SKIRT
    drawing.field(Box(LEFT, y0, ends, y1), style.TINT, weight=style.THIN, under=True)
    for panel in range(1, plan.panels):
        x = _place(panel * plan.panel, plan.round, ends)
        drawing.path(((x, y0), (x, y1)), weight=style.OUTLINE, dash=style.DASH_SEWN)
    for x in (LEFT, ends):
        drawing.path(((x, y0), (x, y1)), weight=style.TEAR)
    for panel in range(plan.panels):
        x0, x1 = (_place(each * plan.panel, plan.round, ends) for each in (panel, panel + 1))
        name = f"panel {panel + 1}" if x1 - x0 > NAMED else f"{panel + 1}"
        # In the upper half: the lines from quarter to quarter begin at the lower edge.
        whole = f"{name}, {near(plan.panel, units)}"
        told = whole if width(whole, style.DIMENSION) < x1 - x0 - 200 else name
        drawing.say("panel", ((x0 + x1) // 2, y0 + 450), told, style.DIMENSION, anchor="middle")
    _name(drawing, "skirt's top, flat", near(plan.round, units), y0 + 400)


def _band(drawing: Drawing, plan: Plan, underlap: int, ends: int, units: System) -> None:
    """The strip of the band between its marks, and the underlap beyond one of them."""
    y0, y1 = BAND
    whole, zero = plan.drawn + underlap, _zero(plan, underlap)
    start, stop = (_place(at, whole, ends) for at in (zero, zero + plan.drawn))
    drawing.field(Box(start, y0, stop, y1), style.PAPER, weight=style.OUTLINE, under=True)
    if underlap:
        x0, x1 = (LEFT, start) if zero else (stop, ends)
        drawing.field(Box(x0, y0, x1, y1), style.SELVEDGE, weight=style.OUTLINE, under=True)
        if width("underlap", style.DIMENSION) < x1 - x0 - 150:
            at, anchor = ((x0 + x1) // 2, (y0 + y1) // 2 + 110), "middle"
        else:
            # Clear of the readings below the band, which stand at its marks.
            at, anchor = ((LEFT, y1 + 420) if zero else (ends + 80, (y0 + y1) // 2 + 110)), "start"
        drawing.say("underlap", at, "underlap", style.DIMENSION, anchor=anchor)
    _name(drawing, "band", near(plan.drawn, units), y0 + 300)


def _zero(plan: Plan, underlap: int) -> int:
    """Where on the band its first mark lies: after the underlap, where that comes first."""
    return underlap if isinstance(plan, Pressed) and plan.laps_first else 0


def _name(drawing: Drawing, name: str, size: str, y: int) -> None:
    drawing.say("name", (0, y), name, style.DIMENSION, bold=True)
    drawing.say("name", (0, y + 350), size, style.DIMENSION)


def _quarter(drawing: Drawing, point: Quarter, ends: tuple[int, int], units: System) -> None:
    """One quarter: a tick on the skirt, a line down to a tick on the band, and its names."""
    (top, foot), opens = ends, not point.on_band or not point.panel
    drawing.path(((top, SKIRT[1] - TICK), (top, SKIRT[1] + TICK)), weight=style.NOTCH)
    drawing.path(((foot, BAND[0] - TICK), (foot, BAND[0] + TICK)), weight=style.NOTCH)
    drawing.path(((top, SKIRT[1] + TICK), (foot, BAND[0] - TICK)), weight=style.THIN,
                 dash=style.DASH_SEWN)  # fmt: skip
    anchor = "start" if not point.on_band else "end" if not point.panel else "middle"
    name = f"opening, {point.place}" if opens else point.place
    _where_free(drawing, (top, 380), name, anchor, bold=True)
    if not opens:
        told = f"after pleat {number(point.pleat)}"
        # On the side that the line leans away from.
        beside, hung = (-120, "end") if foot > top else (120, "start")
        _where_free(drawing, (top + beside, SKIRT[1] + 420), told, hung)
    if point.on_band:
        drawing.say("on band", (foot, BAND[1] + 420), near(point.on_band, units), style.DIMENSION,
                    anchor="middle")  # fmt: skip


def _where_free(drawing: Drawing, at: Point, text: str, anchor: str, *, bold: bool = False) -> None:
    """Say something unless other words stand there: the table of quarter points tells it too."""
    words = Words(at, text, style.DIMENSION, bold, anchor)
    if not any(words.box.hits(label.box) for label in drawing.labels):
        drawing.say("quarter", at, text, style.DIMENSION, bold=bold, anchor=anchor)
