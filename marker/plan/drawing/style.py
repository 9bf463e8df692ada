"""The look of everything that is printed, in one table: pens, type sizes, tints, line types.

All measures in 1/100 mm on paper. Line types (continuous thick and thin, dashed, chain) and
the row of pens follow ISO 128 (from memory); which pen draws what is our own. Colour is only
ever a pale tint: everything must read on a black-and-white printer. Templates that are set
have the same table as `look`. Nothing outside this file may name a pen, a size of type, a
colour or a dash by its figure (tests/test_drawing_style.py).
"""

from __future__ import annotations

from typing import Any

FONTS = (
    "Source Sans Pro, 'Source Sans 3', Helvetica, Arial, Liberation Sans, DejaVu Sans, sans-serif"
)
"""A name that holds a figure must be quoted, or browsers drop the whole list."""

INK = "#111111"
SOFT = "#4d4d4d"
PAPER = "#ffffff"
TINT = "#f6f1e6"
SELVEDGE = "#dcdcdc"
HATCH_INK = "#777777"
REPEAT_INK = "#555555"

# Line weights.
PENS = (13, 18, 25, 35, 50, 70)
"""The pens of ISO 128, each about 1.4 times as broad as the one before; every line is of one."""
EDGE = 50
"""The cloth's own edge."""
OUTLINE = 35
"""The outline of a piece."""
TEAR = 70
CUT = 50
"""A line to cut along: solid, where a tear is dashed."""
UNDER = 18
"""The outline of a piece in the lower layer of folded cloth."""
CLOTH_FOLD = 35
"""Where the cloth itself is folded."""
TEAR_LEAST = 18
"""However close the tears, none is drawn thinner."""
RING = 35
LEADER = 18
THIN = 13
FOLD = 25
SEAM = 13
NOTCH = 35
TICK = 18
HATCH = 13
FLAW = 25
REPEAT = 13
MATCH = 18

# The same on thumbnails.
SMALL_EDGE = 18
SMALL_TEAR = 35
SMALL_CUT = 25

# Line types: dash and gap, by turns.
SMALL_DASH = (170, 75)
DASH_TEAR = (330, 130)
DASH_FOLD = (500, 90, 60, 90)
DASH_REPEAT = (22, 66)
DASH_CLOTH_FOLD = (420, 90, 60, 90, 60, 90)
DASH_SEWN = (180, 90)
DASH_REGION = (160, 110)
DASH_NEIGHBOUR = (240, 60, 30, 60, 30, 60)
"""Chain with two dots: what is drawn in full on another page (ISO 128)."""
DASH_LAP = (260, 140)
DASH_RADIUS = (120, 60, 20, 60)

# Type sizes.
TEXT = 345
"""What is read at the table."""
STEP = 380
"""What is read from the table while the hands are busy."""
WORK = 360
"""The order of work."""
LIST, LIST_LESS = 367, 339
"""Steps set one below the other, and the same where the list is long."""
LARGE, NAME, PAGE_TITLE, CASE_TITLE = 425, 495, 600, 775
"""What to buy, who it is for, what a page is, and the title of the whole sheet."""
TITLE_SIZES = (650, 600, 550, 500, 450, 400)
"""Of a plan's title, the largest that has room."""
BUY = 850
IN_HAND = 460
"""What is used of a remnant: a whole sentence, where a bolt has one figure."""
SUB = TEXT
HEADING = 405
STEP_SIZES = (380, 360, 345, 330, 315, 305)
NOTE = 315
SMALL = 305
LEAST = 305
"""Nothing is set smaller: capitals and figures of Source Sans, 0.660 of it, stand 2 mm tall."""
CAPITALS = 660
"""Height of a capital in 1/1000 of the type size, the least of the fonts in use."""
READING = 330
FIGURE = 315
"""The figures in a tear's ring."""
DIMENSION = 315
"""The figure of a dimension."""

THUMB = 310
"""Everything on a thumbnail."""
OPTION = 360
"""The heading of an option that is shown with others."""
HEAD_TITLE, LONG_TITLE = 650, 480
"""A title over a whole page: one that fits on one line, and one that is wrapped."""
ROLL_TITLE, ROLL_WORDS = 1100, 480
"""What stands at the head of a roll of templates, read from above the table."""
CHART, CHART_SMALL, CHART_MARK = 360, 305, 305
"""The figures of a chart, what stands round them, and the mark of a note at one of them."""
SWATCH = 100
"""A size to reckon lengths of words in, where none is set."""

# The sizes of a piece's label: type, disc radius, letter in the disc.
BLOCKS = ((400, 430, 540), (345, 300, 400), (305, 235, 315), (305, 180, 305))

# Shapes and clearances.
DISC = 235
"""Radius of a letter's disc on a thumbnail."""
RADIUS = 250
"""Of a tear's ring."""
DOT, DOT_LEAST = 42, 20
"""Of the dot that ends a leader."""
PAD = 55
"""Clear space inside the edge of a piece."""
CLEAR = 28
"""Clear space between a label and a tear line."""
GAP = 60
"""Clear space between two labels."""
MARGIN = 1100
"""The page's edge, which printers leave white."""
APART = 600
"""Between what stands at the left and at the right of the head."""
GUTTER = 500
"""Beside the cloth, for the names of its edges."""
HATCH_WASTE = 180
HATCH_REMNANT = 420
CROSS_FLAW = 130
"""Between the lines of a flaw, which cross."""
LEAST_REPEAT = 160
"""Lines of a repeat stand no closer on paper; of a finer one every second or so is drawn."""
DIAMOND = 95
"""Half the height of the mark at a matched edge."""
TICK_BOX = 320
"""A box to tick when a step is done."""
TAPE = 430
"""The drawn tape's breadth."""
# Arrows and dimensions.
ARROW, ARROW_HALF = 240, 36
"""Length and half the breadth of a head: about 17 degrees at its point."""
ARROW_TAIL = 160
"""What shows of the line behind a head that points in from outside."""
ARROWS_INSIDE = 2 * ARROW + 250
"""Between extension lines that stand closer, the arrows point in from outside."""
EXTENSION_GAP, EXTENSION_PAST = 70, 120
"""From what is measured to its extension line, and of that line past the dimension line."""
DIMENSION_LIFT = 70
"""Clear paper between a dimension line and its figure."""
DIMENSION_PAD = 90
"""Beside the figure, where it stands between the extension lines."""
DIMENSION_ROOM = 620
"""From an outline to the first dimension line beside it, and from one to the next."""
GRAIN = 25
"""The shaft of a grain arrow."""
BAR = 5000
"""The scale bar: five centimetres on paper."""
HALF_RIM = 600
"""White at the upper and the lower edge of a drawing that shares a page."""
SQUARE = 5000
"""The test square round the signs in use: five centimetres on paper."""
BLOCK_TALL = 1300
"""Height of the title block at the foot of a page."""
BLOCK_FOOT = 1000
"""From the lower edge of the paper to the block."""
BLOCK_CELLS = (6600, 5400, 2600)
"""Widths of its last cells: what stands on this page, the date to write, the page."""
BLOCK_INSET = (250, 150)
"""Clear paper in a cell, beside and above its words."""


def look() -> dict[str, Any]:
    """The table for templates that are set: lengths in 1/100 mm, under plain names."""
    return {
        "font": FONTS.partition(",")[0],
        "letters": {
            "note": THUMB,
            "text": TEXT,
            "step": STEP,
            "list": LIST,
            "work": WORK,
            "list-less": LIST_LESS,
            "head": HEADING,
            "large": LARGE,
            "disc": IN_HAND,
            "name": NAME,
            "page": PAGE_TITLE,
            "case": CASE_TITLE,
        },
        "pens": {"hair": THIN, "tick": TICK, "rule": FOLD, "apart": FOLD, "outline": OUTLINE},
        "sizes": {
            "margin": MARGIN,
            "block": BLOCK_TALL,
            "block-foot": BLOCK_FOOT,
            "rim": HALF_RIM,
            "tick": TICK_BOX,
        },
        "cells": list(BLOCK_CELLS),
        "inset": list(BLOCK_INSET),
    }
