"""Continuous bias: one long strip from a rectangle, in three stages and a few words."""

from __future__ import annotations

from marker.plan.drawing import style
from marker.plan.drawing.arrows import arrow
from marker.plan.drawing.page import Box, Point
from marker.plan.drawing.verbs import Drawing, hatch

CONTINUOUS = (
    "Continuous bias: cut the triangle off along the bias line, and sew it on at the opposite end, "
    "straight edge to straight edge. Rule rows as wide as the strip along the bias edges; they "
    "stand 1.41 times the width apart along the straight edges.",
    "Sew the two straight edges into a tube, right sides together, the end of each row to the "
    "start of the next, so that one row juts out at either end. Press the seam open, and cut round "
    "and round along the ruled line.",
)
LONG, SIDE = 2500, 1500
"""The rectangle as it is drawn, and the side of the triangle."""
ROWS = 4
LOW = 2500
"""How far below the top of the figure the lower edges stand."""


def draw_continuous(drawing: Drawing, top: int) -> None:
    """The three stages side by side, from `top` down."""
    _cut(drawing, 300, top + LOW)
    _rule(drawing, 4700, top + LOW)
    _sew(drawing, 9900, top + LOW - SIDE // 2)


def _cut(drawing: Drawing, x: int, y: int) -> None:
    """The rectangle: the triangle that is cut off, and where it is sewn on."""
    corner, top = (x, y), (x + SIDE, y - SIDE)
    box = Box(x, y - SIDE, x + LONG, y)
    drawing.field(box, style.TINT, weight=style.OUTLINE)
    for (ax, ay), (bx, by) in hatch(Box(x, y - SIDE, x + SIDE, y), 300):
        # Only what lies above the bias line, which runs as the hatching does, is hatched.
        if ax + ay < x + y:
            drawing.path(((ax, ay), (bx, by)), weight=style.HATCH, colour=style.HATCH_INK)
    drawing.path((corner, top), weight=style.CUT)
    moved = (x + LONG, y), (x + LONG, y - SIDE), (x + LONG + SIDE, y - SIDE), (x + LONG, y)
    drawing.path(moved, weight=style.THIN, dash=style.DASH_REGION)
    start, end = (x + SIDE // 3, y - SIDE - 180), (x + LONG + SIDE // 3, y - SIDE - 180)
    arrow(drawing, start, end, ends=(False, True), weight=style.TICK)
    _note(drawing, (x, y + 420), "1  cut off the triangle,")
    _note(drawing, (x, y + 780), "sew it on at the other end")


def _rule(drawing: Drawing, x: int, y: int) -> None:
    """The cloth with two bias edges, ruled into rows, its seam broken."""
    ring = (x, y), (x + LONG, y), (x + LONG + SIDE, y - SIDE), (x + SIDE, y - SIDE)
    drawing.solid(ring, style.TINT)
    for row in range(1, ROWS):
        off = LONG * row // ROWS
        drawing.path(((x + off, y), (x + off + SIDE, y - SIDE)), weight=style.FOLD)
    seam = x + LONG
    drawing.path(((seam, y), (seam, y - SIDE)), weight=style.THIN, dash=style.DASH_SEWN)
    drawing.path((*ring, ring[0]), weight=style.OUTLINE)
    for row in range(ROWS):
        middle = x + LONG * (2 * row + 1) // (2 * ROWS)
        _number(drawing, (middle, y + 270), row + 1)
        _number(drawing, (middle + SIDE, y - SIDE - 80), row + 1)
    _note(drawing, (x, y + 780), "2  rule the rows")


def _sew(drawing: Drawing, x: int, y: int) -> None:
    """The two straight edges at the seam: above it each row is the next one of that below."""
    row, tall = LONG // ROWS, SIDE // 2
    right = x + row * (ROWS + 1)
    above = (x + row, y), (right, y), (right + tall, y - tall), (x + row + tall, y - tall)
    below = (x, y), (right - row, y), (right - row - tall, y + tall), (x - tall, y + tall)
    for ring in (above, below):
        drawing.solid(ring, style.TINT)
        drawing.path((*ring, ring[0]), weight=style.OUTLINE)
    for number in range(1, ROWS):
        at = x + row * (number + 1)
        drawing.path(((at, y), (at + tall, y - tall)), weight=style.FOLD)
        at = x + row * number
        drawing.path(((at, y), (at - tall, y + tall)), weight=style.FOLD)
    drawing.path(((x + row, y), (right - row, y)), weight=style.CUT, dash=style.DASH_SEWN)
    for number in range(ROWS):
        upper, lower = x + row * (2 * number + 3) // 2, x + row * (2 * number + 1) // 2
        _number(drawing, (upper + tall // 2, y - tall // 2 + 90), number + 1)
        _number(drawing, (lower - tall // 2, y + tall // 2 + 90), number + 1)
    foot = y + SIDE // 2
    _note(drawing, (x - tall, foot + 420), "3  sew the straight edges one row")
    _note(drawing, (x - tall, foot + 780), "out of step, cut round and round")


def _number(drawing: Drawing, at: Point, number: int) -> None:
    drawing.words(at, str(number), style.SMALL, anchor="middle")


def _note(drawing: Drawing, at: Point, text: str) -> None:
    drawing.words(at, text, style.SMALL)
