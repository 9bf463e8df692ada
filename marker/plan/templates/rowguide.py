"""The row guide: a strip of dots at full size, to lay along the fold and prick through.

Every dot is placed by its own fraction of the panel, so that nothing adds up along a row. The
strip holds whole pleats, so that its two ends are alike and it can be moved on and on.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from marker.gauging import RowGuide
from marker.plan.drawing import style
from marker.plan.drawing.lettering import ASCENT, clean, clip, width, wrap
from marker.plan.drawing.page import Box, Paper, Point
from marker.plan.drawing.verbs import Drawing
from marker.plan.lays.svg import picture
from marker.plan.templates.stamp import draw_square
from marker.plan.templates.tiling import SCALE
from marker.units import (
    INCH,
    MM,
    System,
    Units,
    beside,
    format_length,
    format_number,
    nearest,
    set_fractions,
)

LEFT = 2400
"""Beside the strip, for the distances of the rows."""
TOP = 2700
"""Above the strip, for the title."""
NUMBERS, BAND = 620, 2200
"""From the last row down to the counts of pleats, and to the strip's own lower edge."""
SQUARES = (5000, 5080)
LINE, SMALL, TITLE = style.OPTION, style.READING, style.PAGE_TITLE
DOT = 35
CROSS = 130
"""Half the size of the fine cross under every dot."""
TICK = 160
EVERY = 5
"""Pleats are counted by so many."""
MOST_MOVES = 12
"""So many readings of the tape are told to check the strip by."""


@dataclass(frozen=True)
class Strip:
    """A guide on paper: how many pleats one strip holds, and where its corner stands."""

    guide: RowGuide
    paper: Paper

    @property
    def corner(self) -> Point:
        """The upper left corner: the fold, at the seam line."""
        return style.MARGIN + LEFT, style.MARGIN + TOP

    @property
    def pleats(self) -> int:
        """Pleats on the strip: as many whole ones as the page or the panel holds."""
        room = self.paper.size[0] - 2 * style.MARGIN - LEFT
        return min(self.guide.pleats, max(1, int(room // (self.guide.period * SCALE))))

    @property
    def moves(self) -> tuple[int, int]:
        """How many whole strips a panel takes, and the pleats that are left after them."""
        return divmod(self.guide.pleats, self.pleats)

    def x(self, along: Fraction) -> int:
        """A distance from the seam line on the page, to the nearest 1/100 mm."""
        return self.corner[0] + nearest(along * SCALE)

    def y(self, down: int) -> int:
        """A distance from the fold on the page."""
        return self.corner[1] + nearest(down * SCALE)

    @property
    def box(self) -> Box:
        """The whole strip, which is cut out."""
        x, y = self.corner
        return Box(x, y, self.x(self.pleats * self.guide.period), self.y(self._deep) + BAND)

    @property
    def _deep(self) -> int:
        return max(self.guide.rows)

    @property
    def fits(self) -> bool:
        """Whether strip, squares and words have room on the page."""
        room = self.paper.size[1] - style.MARGIN - max(SQUARES) - 500
        wide = self.paper.size[0] - style.MARGIN
        return bool(self.guide.rows) and self.box.y1 <= room and self.box.x1 <= wide


def draw_guide(guide: RowGuide, name: str, title: str, paper: Paper, units: Units) -> str | None:
    """The page of one garment's guide as SVG; None where its rows or pleats don't fit a page."""
    strip, drawing = Strip(guide, paper), Drawing()
    if not strip.fits:
        return None
    _strip(drawing, strip, units)
    _dots(drawing, strip)
    _counts(drawing, strip)
    _head(drawing, strip, name, title)
    _foot(drawing, strip, units)
    told = (
        f"A strip of dots {_stitch(guide, units)} apart, {strip.pleats} pleats long, at full size."
    )
    return picture(drawing, paper.size, f"{clean(title)}: row guide, {clean(name)}", told)


def _stitch(guide: RowGuide, units: Units) -> str:
    """How far dots stand apart: to 1/100 mm, or 1/1000 in."""
    inches, mm = f"{float(guide.pitch / INCH):.3f} in", f"{float(guide.pitch / MM):.2f} mm"
    if (16 * guide.pitch) % INCH == 0:
        inches = set_fractions(format_length(nearest(guide.pitch), System.IN, fine=True))
    return beside(units, lambda system: inches if system is System.IN else mm)


def _strip(drawing: Drawing, strip: Strip, units: Units) -> None:
    """The strip's own edges: the fold above, the seam line at the left, where it goes on."""
    box, edge = strip.box, "fold" if strip.guide.turned else "cut edge"
    drawing.field(box, "none", weight=style.CUT)
    drawing.path(((box.x0, box.y0), (box.x1, box.y0)), weight=style.TEAR)
    drawing.say("edge", (box.x0, box.y0 - 150), f"this edge along the {edge}", LINE, bold=True)
    ends = (
        (box.x0 + 150, "start", "this end on the seam line, then on the last end line"),
        (box.x1 - 150, "end", "continue here"),
    )
    y = box.y1 - 300
    for x, anchor, words in ends:
        drawing.say("end", (x, y), words, SMALL, bold=True, anchor=anchor)
    for number, row in enumerate(strip.guide.rows, 1):
        told = set_fractions(format_length(row, units.lead, fine=True))
        at = box.x0 - 150, strip.y(row) + LINE // 3
        drawing.say("row", at, f"row {number}: {told}", SMALL, anchor="end")


def _dots(drawing: Drawing, strip: Strip) -> None:
    """Every dot of every row, each placed by its own fraction, on a fine cross."""
    guide = strip.guide
    places = [
        (strip.x(guide.dot(number)), strip.y(row))
        for row in guide.rows
        for number in range(2 * strip.pleats)
    ]
    crosses = [
        run
        for x, y in places
        for run in (((x - CROSS, y), (x + CROSS, y)), ((x, y - CROSS), (x, y + CROSS)))
    ]
    drawing.path(*crosses, weight=style.REPEAT, colour=style.SOFT)
    for at in places:
        drawing.disc(at, DOT, style.INK)


def _counts(drawing: Drawing, strip: Strip) -> None:
    """A tick for every pleat along the fold, counts below, and where the panel ends."""
    guide, box = strip.guide, strip.box
    y = strip.y(max(guide.rows)) + NUMBERS + SMALL
    for number in range(strip.pleats + 1):
        x = strip.x(number * guide.period)
        tall = 2 * TICK if number % EVERY == 0 else TICK
        drawing.path(((x, box.y0), (x, box.y0 + tall)), weight=style.TICK)
        counted = number % EVERY == 0 and number not in (0, strip.moves[1])
        if counted and x < box.x1 - SMALL * 2:
            drawing.say("count", (x, y), str(number), SMALL, anchor="middle")
            drawing.path(((x, y - SMALL), (x, y - SMALL - 150)), weight=style.THIN)
    whole, rest = strip.moves
    if rest:
        x = strip.x(rest * guide.period)
        # Not down to the edge: there stand the words of the strip's two ends.
        foot = box.y1 - 300 - SMALL * 6 // 5
        drawing.path(((x, box.y0), (x, foot)), weight=style.FOLD, dash=style.DASH_FOLD)
        times = "1 strip" if whole == 1 else f"{whole} strips"
        told = f"after {times} the panel ends at this line"
        after = x + 150 + width(told, SMALL) <= box.x1
        at = (x + 150 if after else x - 150), box.y1 - 300 - SMALL * 13 // 10
        drawing.say("end", at, told, SMALL, anchor="start" if after else "end")


def _head(drawing: Drawing, strip: Strip, name: str, title: str) -> None:
    x, y = style.MARGIN, style.MARGIN + TITLE * ASCENT // 1000
    room = strip.paper.size[0] - 2 * style.MARGIN
    told = clip(f"Row guide: {clean(name)}", TITLE, room, bold=True)
    drawing.say("title", (x, y), told, TITLE, bold=True)
    below = clip(f"{clean(title)}. Print at 100 %, never “fit to page”; measure the squares first.",
                 LINE, room)  # fmt: skip
    drawing.say("note", (x, y + 650), below, LINE)


def _foot(drawing: Drawing, strip: Strip, units: Units) -> None:
    """Both squares, and beside them how the strip is used."""
    x, foot = style.MARGIN, strip.paper.size[1] - style.MARGIN
    for side in SQUARES:
        draw_square(drawing, (x, foot - side), side)
        x += side + 400
    room, y = strip.paper.size[0] - style.MARGIN - x, foot - max(SQUARES) + LINE
    for sentence in guide_words(strip, units):
        for line in wrap(sentence, LINE, room):
            drawing.say("note", (x, y), line, LINE)
            y += LINE * 13 // 10


def guide_words(strip: Strip, units: Units) -> tuple[str, ...]:
    """How the strip is used, and the tape readings that check it."""
    guide, (whole, rest) = strip.guide, strip.moves
    panel = format_length(nearest(guide.panel), units)
    pleats = "1 pleat" if guide.pleats == 1 else f"{guide.pleats} pleats"
    each = f"A panel has {pleats}, {guide.dots} dots a row, over {panel} from seam to seam"
    apart = f"dots stand {_stitch(guide, units)} apart"
    first = f"{each}; {apart}, the first half a stitch from the seam line."
    lay = (
        "Cut the strip out. Prick or chalk through every dot. Then lay its left end on the line "
        "where its right end was, and go on"
    )
    last = f" to the broken line of strip {whole + 1}." if rest else f", {whole} strips in all."
    ends = [k * strip.pleats * guide.period for k in range(1, whole + 1)]
    told = ", ".join(format_number(nearest(at), units.lead) for at in ends[:MOST_MOVES])
    more = ", and so on" if len(ends) > MOST_MOVES else ""
    told = f"strips end at {told} {units.lead.value}{more}"
    check = f"Check by tape from the seam line: {told}." if ends else ""
    return tuple(set_fractions(line) for line in (first, lay + last, check) if line)
