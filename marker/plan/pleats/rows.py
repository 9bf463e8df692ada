"""The figure of the rows: dots at the top edge, at the opening and over a seam."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise

from marker.gauging import Gauging
from marker.plan.drawing import style
from marker.plan.drawing.arrows import dimension
from marker.plan.drawing.page import Box, Point
from marker.plan.drawing.verbs import Drawing
from marker.plan.pleats.spell import fine, near
from marker.plan.pleats.together import alike
from marker.record import Garment
from marker.units import MM, System

WIDE = 8400
TOP = 1600
"""Where the fold or the cut edge lies in the figure."""
BELOW = 450
"""Cloth that is shown below the lowest row."""
FOOT = 1450
"""Room below the cloth for the stitch's dimensions."""
SCALES = (1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 40, 50)
TALL = 3200
"""The rows take no more of the figure than this."""
LONG = 800
"""A stitch takes no more than this."""
SIDES = (1650, 5450)
"""Where the opening's edge and the seam line stand."""
REACH = 1650
"""How far cloth goes on from either."""
DOT = 45


def draw_rows(
    plan: Gauging, garment: Garment, units: System, others: Sequence[Gauging] = ()
) -> tuple[Drawing, Point, int]:
    """The drawing, its size in 1/100 mm, and the n of its scale 1:n.

    Where it stands for `others` too, figures that differ give way to what they are of.
    """
    drawing, n = Drawing(), _scale(plan)
    foot = TOP + _paper(plan.rows[-1] if plan.rows else 0, n) + BELOW
    opening, seam = SIDES
    _cloth(drawing, Box(opening, TOP, opening + REACH, foot), turned=bool(garment.turn_downs))
    drawing.path(((opening, TOP), (opening, foot)), weight=style.TEAR)
    drawing.say("place", (opening, TOP - 260), "at the opening", style.DIMENSION, bold=True)
    _sewn(drawing, plan, opening, (opening, opening + REACH), n)
    if plan.panels > 1:
        _cloth(drawing, Box(seam - REACH, TOP, seam + REACH, foot), turned=bool(garment.turn_downs))
        drawing.path(((seam, TOP), (seam, foot)), weight=style.OUTLINE, dash=style.DASH_SEWN)
        drawing.say("place", (seam, TOP - 260), "over a seam", style.DIMENSION, bold=True,
                    anchor="middle")  # fmt: skip
        _sewn(drawing, plan, seam, (seam - REACH, seam + REACH), n)
    _measured(drawing, (plan, *others), foot, n, units)
    name = "fold" if garment.turn_downs else "cut edge"
    drawing.say("fold", (SIDES[0] - 120, TOP + 90), name, style.DIMENSION, anchor="end")
    return drawing, (WIDE, foot + FOOT), n


def _scale(plan: Gauging) -> int:
    deep = plan.rows[-1] if plan.rows else 0
    return next(
        (n for n in SCALES if _paper(deep, n) <= TALL and _paper(plan.fitted, n) <= LONG),
        SCALES[-1],
    )


def _paper(length: Fraction | int, n: int) -> int:
    """A length of cloth at 1:n, in 1/100 mm."""
    return round(Fraction(length) * 100 / (MM * n))


def _cloth(drawing: Drawing, box: Box, *, turned: bool) -> None:
    """The cloth below its upper edge, which is a fold or a cut edge."""
    drawing.field(box, style.TINT, under=True)
    drawing.path(
        ((box.x0, box.y0), (box.x1, box.y0)),
        weight=style.OUTLINE,
        dash=style.DASH_FOLD if turned else (),
    )


def _sewn(drawing: Drawing, plan: Gauging, zero: int, ends: tuple[int, int], n: int) -> None:
    """Rows of dots half a stitch off `zero`, every second space sewn on this side."""
    first = (ends[0] - zero) * MM * n // (100 * int(plan.fitted)) - 1
    for row in plan.rows:
        y = TOP + _paper(row, n)
        for number in range(first, -first + 60):
            x, on = (zero + _paper((number + step) * plan.fitted, n)
                     for step in (Fraction(1, 2), Fraction(3, 2)))  # fmt: skip
            if x < ends[0] + DOT or x > ends[1] - DOT:
                continue
            drawing.disc((x, y), DOT, style.INK)
            # The stitch over the seam lies under the cloth, as at every seam.
            if number % 2 == 0 and on <= ends[1] - DOT:
                drawing.path(((x, y), (on, y)), weight=style.OUTLINE)


def _measured(drawing: Drawing, plans: Sequence[Gauging], foot: int, n: int, units: System) -> None:
    """The stitch and its half at the opening, and the rows from the fold."""
    (opening, seam), plan = SIDES, plans[0]
    half_told = alike((fine(each.fitted / 2, units) for each in plans), "½ stitch")
    told = alike((fine(each.fitted, units) for each in plans), "a stitch")
    low = TOP + _paper(plan.rows[-1], n) if plan.rows else TOP
    dots = [opening + _paper(plan.fitted * (2 * number + 1) / 2, n) for number in range(2)]
    whole, half = foot + 550, foot + 1250
    dimension(drawing, (opening, foot), (dots[0], low), half, half_told)
    dimension(drawing, (dots[0], low), (dots[1], low), whole, told)
    # Clear of the words above the cloth at the opening, where nothing follows it.
    right = seam + REACH if plan.panels > 1 else opening + REACH + 950
    edges = [0, *plan.rows[:2]]
    for number, (above, below) in enumerate(pairwise(edges)):
        a, b = (right, TOP + _paper(above, n)), (right, TOP + _paper(below, n))
        apart = alike((near(_apart(each, number), units) for each in plans), "see the table")
        dimension(drawing, a, b, right + 420 + 600 * (number % 2), apart, upright=True)


def _apart(plan: Gauging, row: int) -> int:
    """How far a row lies below the one above it, the first below the edge."""
    above = plan.rows[row - 1] if row else 0
    return plan.rows[row] - above
