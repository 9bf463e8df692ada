"""The look of the plan in one table: weights, type sizes, tints, line types.

All measures in 1/100 mm on paper. Thick outlines, thin dimensions and the line types
(continuous, dashed, chain) follow ISO 128 in spirit; the figures are our own. Colour is
only ever a pale tint: everything must read on a black-and-white printer.
"""

from __future__ import annotations

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
EDGE = 50
"""The cloth's own edge."""
OUTLINE = 30
"""The outline of a piece."""
TEAR = 65
CUT = 45
"""A line to cut along: solid, where a tear is dashed."""
UNDER = 20
"""The outline of a piece in the lower layer of folded cloth."""
CLOTH_FOLD = 40
"""Where the cloth itself is folded."""
TEAR_LEAST = 16
"""However close the tears, none is drawn thinner."""
RING = 32
LEADER = 16
THIN = 13
FOLD = 25
SEAM = 13
NOTCH = 35
TICK = 18
HATCH = 13
FLAW = 22
REPEAT = 11
MATCH = 18

# The same on thumbnails.
SMALL_EDGE = 16
SMALL_TEAR = 32
SMALL_CUT = 26

# Line types: dash and gap, by turns.
SMALL_DASH = (170, 75)
DASH_TEAR = (330, 130)
DASH_FOLD = (500, 90, 60, 90)
DASH_REPEAT = (22, 66)
DASH_CLOTH_FOLD = (420, 90, 60, 90, 60, 90)
DASH_SEWN = (180, 90)
DASH_REGION = (160, 110)

# Type sizes.
TITLE_SIZES = (650, 600, 550, 500, 450, 400)
"""Of a plan's title, the largest that has room."""
BUY = 850
IN_HAND = 460
"""What is used of a remnant: a whole sentence, where a bolt has one figure."""
SUB = 330
HEADING = 400
STEP_SIZES = (360, 340, 320, 300, 280, 265, 250)
NOTE = 280
SMALL = 240
LEAST = 220
"""Nothing is set smaller."""
READING = 300
FIGURE = 290
"""The figures in a tear's ring."""
DIMENSION = 310
"""The figure of a dimension."""

# The sizes of a piece's label: type, disc radius, letter in the disc.
BLOCKS = ((380, 430, 540), (300, 300, 380), (250, 225, 290), (220, 165, 220))

# Shapes and clearances.
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
TAPE = 330
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
