"""The figure of the whole round: the skirt's top laid flat over its band, quarters joined."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from marker.gauging import Pressed, Quarter, quarters
from marker.plan.drawing import style
from marker.plan.drawing.lettering import width
from marker.plan.drawing.page import Box, Point
from marker.plan.drawing.verbs import Drawing, Words
from marker.plan.pleats.spell import near, number
from marker.plan.pleats.together import alike
from marker.plan.pleats.told import Plan, onto
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


def draw_round(
    plan: Plan, garment: Garment, units: System, others: Sequence[Plan] = ()
) -> tuple[Drawing, Point]:
    """The drawing and its size in 1/100 mm. Skirt and band are not at one scale.

    Where it stands for `others` too, figures that differ are left to the table.
    """
    drawing, pleating = Drawing(), garment.pleating
    assert pleating is not None
    ends, plans = WIDE - RIGHT, (plan, *others)
    whole = plan.drawn + pleating.underlap
    points = _points(plan, pleating.opening_at)
    _skirt(drawing, plans, ends, units)
    _band(drawing, plans, pleating.underlap, ends, units, onto(garment))
    every = [_points(each, pleating.opening_at) for each in plans]
    # The opening first: what would stand in the way of its words is left to the table.
    for place in (0, len(points) - 1, *range(1, len(points) - 1)):
        point = points[place]
        at = Fraction(plan.round) if not point.panel else _flat(plan, point)
        top = _place(at, plan.round, ends)
        foot = _place(point.on_band + _zero(plan, pleating.underlap), whole, ends)
        _quarter(drawing, [each[place] for each in every], (top, foot), units)
    return drawing, (WIDE, HEIGHT if _read(plans) else BAND[1] + TICK)


def _read(plans: Sequence[Plan]) -> bool:
    """Whether readings stand below the band: not where everybody's are different."""
    return len({plan.drawn for plan in plans}) == 1


def _points(plan: Plan, opening_at: str) -> tuple[Quarter, ...]:
    """The quarter points; a closed skirt ends where it began, at the opening's other edge."""
    points = quarters(plan, opening_at)
    last = Quarter(points[0].place, Fraction(plan.drawn), 0, Fraction(0), Fraction(plan.pleats))
    return (*points, last)


def _place(at: Fraction | int, whole: int, ends: int) -> int:
    """Where a place of a whole length stands on the figure."""
    return LEFT + round(at * (ends - LEFT) / whole)


def _flat(plan: Plan, point: Quarter) -> Fraction:
    return (point.panel - 1) * plan.panel + point.after


def _skirt(drawing: Drawing, plans: Sequence[Plan], ends: int, units: System) -> None:
    """The strip of panels with their seams, thick edges at the opening."""
    (y0, y1), plan = SKIRT, plans[0]
    broad = alike(near(each.panel, units) for each in plans)
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
        whole = f"{name}, {broad}"
        told = whole if broad and width(whole, style.DIMENSION) < x1 - x0 - 200 else name
        drawing.say("panel", ((x0 + x1) // 2, y0 + 450), told, style.DIMENSION, anchor="middle")
    whole = alike(near(each.round, units) for each in plans)
    _name(drawing, "skirt's top, flat", whole, y0 + 400)


def _band(
    drawing: Drawing, plans: Sequence[Plan], underlap: int, ends: int, units: System, name: str
) -> None:
    """The strip of the band between its marks, and the underlap beyond one of them."""
    (y0, y1), plan = BAND, plans[0]
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
    _name(drawing, name, alike(near(each.drawn, units) for each in plans), y0 + 300)


def _zero(plan: Plan, underlap: int) -> int:
    """Where on the band its first mark lies: after the underlap, where that comes first."""
    return underlap if isinstance(plan, Pressed) and plan.laps_first else 0


def _name(drawing: Drawing, name: str, size: str, y: int) -> None:
    drawing.say("name", (0, y), name, style.DIMENSION, bold=True)
    drawing.say("name", (0, y + 350), size or "see the table", style.DIMENSION)


def _quarter(
    drawing: Drawing, points: Sequence[Quarter], ends: tuple[int, int], units: System
) -> None:
    """One quarter: a tick on the skirt, a line down to a tick on the band, and its names."""
    (top, foot), point = ends, points[0]
    opens = not point.on_band or not point.panel
    drawing.path(((top, SKIRT[1] - TICK), (top, SKIRT[1] + TICK)), weight=style.NOTCH)
    drawing.path(((foot, BAND[0] - TICK), (foot, BAND[0] + TICK)), weight=style.NOTCH)
    drawing.path(((top, SKIRT[1] + TICK), (foot, BAND[0] - TICK)), weight=style.THIN,
                 dash=style.DASH_SEWN)  # fmt: skip
    anchor = "start" if not point.on_band else "end" if not point.panel else "middle"
    name = f"opening, {point.place}" if opens else point.place
    _where_free(drawing, (top, 380), name, anchor, bold=True)
    pleat = alike(number(each.pleat) for each in points)
    if not opens and pleat:
        told = f"after pleat {pleat}"
        # On the side that the line leans away from.
        beside, hung = (-120, "end") if foot > top else (120, "start")
        _where_free(drawing, (top + beside, SKIRT[1] + 420), told, hung)
    reading = alike(near(each.on_band, units) for each in points)
    if point.on_band and reading:
        drawing.say("on band", (foot, BAND[1] + 420), reading, style.DIMENSION, anchor="middle")


def _where_free(drawing: Drawing, at: Point, text: str, anchor: str, *, bold: bool = False) -> None:
    """Say something unless other words stand there: the table of quarter points tells it too."""
    words = Words(at, text, style.DIMENSION, bold, anchor)
    if not any(words.box.hits(label.box) for label in drawing.labels):
        drawing.say("quarter", at, text, style.DIMENSION, bold=bold, anchor=anchor)
