"""Several plans side by side at one scale: a heading, the lays drawn small, and what to buy.

The scale is the largest round one at which all of them go on to one page; where they are many,
one at which they take few pages, and the longest cloth lies in one row if that can be.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from marker.lay import Lay
from marker.plan.drawing import style
from marker.plan.drawing.lettering import ASCENT, clean, width, wrap
from marker.plan.drawing.page import Box, Paper, Point
from marker.plan.drawing.verbs import Drawing
from marker.plan.lays import legend
from marker.plan.thumbs.letters import for_all, for_one
from marker.plan.thumbs.thumb import GUTTER, LETTER, Thumb, thumb
from marker.plan.words.phrases import heading
from marker.units import INCH, System, Units, format_length, nearest, set_fractions

SCALES = (20, 25, 30, 40, 50, 60, 75, 80, 90, 100)
"""Whole round scales; at the last, pieces of a hand's breadth can still be told apart."""
SMALLEST = (125, 150, 200, 250, 300, 400, 500, 600, 800, 1000)
"""Taken only where one option would fill more than a page."""
ONE_PAGE, SMALL = 50, 75
"""Where not all go on to one page, a scale between these that takes the fewest pages."""
FOOT = 700
"""For the number of the page."""
HEADING = style.OPTION
MOST_HEADING = 6
"""Lines of a heading."""
LINE = LETTER * 5 // 4
COLUMN = 800
"""Between neighbours."""
BAND = 650
"""Between one row of options and the next."""
UNDER = 130
"""Between a cloth and the words under it."""
LEAST = 4600
"""A column of words is no narrower than this."""
BARS = (
    (1, 4), (2, 8), (5, 5), (10, 10), (20, 10), (30, 10), (36, 6), (40, 10), (50, 10), (60, 10),
    (72, 8), (100, 10), (150, 10), (200, 10), (300, 10), (400, 10), (500, 10), (1000, 10),
    (2000, 10),
)  # fmt: skip
"""Inches that a scale bar may be, and in how many fields: whole inches or feet, or halves."""
GLUE = "\ue000"
"""Stands for a space at which no line breaks; text that may be set never holds it."""
_UNIT = re.compile(r"(\d\S*) (mm|cm|in|yd|m|%)(?![^\s.,:;)])")
SHOWN_SIGNS = ("tear", "cut", "cloth fold", "layer below", "waste", "remnant", "flaw", "selvedge")


@dataclass(frozen=True)
class Shown:
    """One option to show: a heading, lines of words under it, and its lays.

    `mark` stands before the heading in a solid disc, as a piece's letter does; it may be empty.
    """

    heading: str
    lays: tuple[Lay, ...]
    notes: tuple[str, ...] = ()
    mark: str = ""


@dataclass(frozen=True)
class Block:
    """A drawing that takes the whole breadth of the page, and how high it stands.

    `above` is the room before it. Where it begins a page, or `opens` a list, its `head` stands
    before it.
    """

    drawing: Drawing
    height: int
    above: int = BAND
    head: Block | None = None
    opens: bool = False


@dataclass(frozen=True)
class Grid:
    """Options in rows, all at 1:n; the last block tells the scale and the signs in use."""

    n: int
    blocks: tuple[Block, ...]


def room_of(paper: Paper) -> Point:
    """The breadth and the height of a page inside its margins, less the foot for its number."""
    across, down = paper.size
    return across - 2 * style.MARGIN, down - 2 * style.MARGIN - FOOT


def grid(shown: Sequence[Shown], paper: Paper, units: Units, head: int = 0) -> Grid:
    """Set options in rows, in their order, on paper of which `head` is taken on the first page."""
    room, tall = room_of(paper)
    signs = _signs(shown)
    letters = for_all([one.lays for one in shown])
    if not letters:
        shown = [replace(one, notes=(*one.notes, for_one(one.lays))) for one in shown]
    foot = _key(signs, letters, 1, room, units).height + BAND
    wanted = [n for n in SCALES if not any(_long(one, n, room) for one in shown)] or [SCALES[-1]]
    tried: dict[int, list[Block]] = {}
    for n in (*wanted, *SMALLEST):
        rows = _set(shown, n, units, room)
        if max(row.height for row in rows) > tall:
            continue
        tried[n] = rows
        if _sheets(rows, foot, head, tall) == 1 or n >= max(SMALL, wanted[0]):
            break
    # Where none brings an option on to a page of its own, it may as well be seen.
    tried = tried or {SCALES[-1]: _set(shown, SCALES[-1], units, room)}
    able = {n: rows for n, rows in tried.items() if n >= ONE_PAGE} or tried
    best = min(able, key=lambda n: (_sheets(able[n], foot, head, tall), n))
    if _sheets(tried[max(tried)], foot, head, tall) == 1:
        best = max(tried)
    return Grid(best, (*tried[best], _key(signs, letters, best, room, units)))


def _sheets(rows: Sequence[Block], foot: int, head: int, tall: int) -> int:
    """How many pages the rows take, with the heading before and the scale after them."""
    pages, y = 1, head
    for height in (*(row.height for row in rows), foot - BAND):
        if y and y + BAND + height > tall:
            pages, y = pages + 1, 0
        y += (BAND if y else 0) + height
    return pages


def _set(shown: Sequence[Shown], n: int, units: Units, room: int) -> list[Block]:
    cells = [_cell(one, n, units, room) for one in shown]
    return [_row(row) for row in _rows(cells, room)]


def _long(one: Shown, n: int, room: int) -> bool:
    """Whether a cloth would have to go on in a second row."""
    return any(lay.bolt.along * 5 > (room - GUTTER) * 8 * n for lay in one.lays)


def _cell(one: Shown, n: int, units: Units, room: int) -> Thumb:
    """An option with its words, all of it as broad as its longest cloth or its words ask for."""
    thumbs = [thumb(lay, n, units, room) for lay in one.lays]
    across = min(room, max([LEAST, *(small.size[0] for small in thumbs)]))
    drawing = Drawing()
    left = _mark(drawing, one.mark) if one.mark else 0
    y = 0
    for line in wrap(clean(one.heading), HEADING, across - left, bold=True)[:MOST_HEADING]:
        drawing.say("heading", (left, y + HEADING * 92 // 100), line, HEADING, bold=True)
        y += HEADING * 5 // 4
    y = _lines(drawing, one.notes, across, y)
    for lay, small in zip(one.lays, thumbs, strict=True):
        drawing.take(small.drawing, 0, y + UNDER)
        y += UNDER + small.size[1] + UNDER
        y = _lines(drawing, (heading(lay, units),), across, y, bold=True)
        y = _lines(drawing, (cloth_words(lay, units),), across, y)
    return Thumb(drawing, (across, y))


def cloth_words(lay: Lay, units: Units) -> str:
    """A cloth and its width: "Madder red cotton, 150 cm wide"."""
    name = clean(lay.cloth.name) or clean(lay.cloth.key)
    washed = " after washing" if lay.cloth.weft_shrinkage else ""
    return f"{name}, {format_length(lay.cloth.laid_width, units)} wide{washed}"


def _mark(drawing: Drawing, mark: str) -> int:
    """A disc before the heading; gives where the heading begins."""
    across = max(HEADING * 6 // 5, width(mark, LETTER, bold=True) + LETTER)
    box = Box(0, 0, across, HEADING * 6 // 5)
    drawing.field(box, style.INK, radius=box.height // 2)
    at = box.middle[0], box.middle[1] + LETTER * 345 // 1000
    drawing.words(at, mark, LETTER, bold=True, anchor="middle", colour=style.PAPER)
    drawing.label("mark", mark, box)
    return across + 150


def _lines(
    drawing: Drawing, told: Sequence[str], across: int, y: int, *, bold: bool = False
) -> int:
    """Sentences one below the other; gives their foot."""
    for sentence in told:
        for line in lines_of(sentence, across, bold=bold):
            drawing.say("note", (0, y + LETTER * ASCENT // 1000), line, LETTER, bold=bold)
            y += LINE
    return y


def lines_of(sentence: str, across: int, *, bold: bool = False) -> tuple[str, ...]:
    """A sentence in lines of a breadth; a number keeps its unit beside it."""
    whole = _UNIT.sub(f"\\1{GLUE}\\2", set_fractions(clean(sentence)))
    return tuple(line.replace(GLUE, " ") for line in wrap(whole, LETTER, across, bold=bold))


def _rows(cells: Sequence[Thumb], room: int) -> Iterator[list[Thumb]]:
    """Cells in rows, each as full as it goes."""
    row: list[Thumb] = []
    for cell in cells:
        if row and sum(one.size[0] + COLUMN for one in row) + cell.size[0] > room:
            yield row
            row = []
        row.append(cell)
    if row:
        yield row


def _row(row: Sequence[Thumb]) -> Block:
    drawing, x = Drawing(), 0
    for cell in row:
        drawing.take(cell.drawing, x, 0)
        x += cell.size[0] + COLUMN
    return Block(drawing, max(cell.size[1] for cell in row))


def bar(n: int, units: Units) -> tuple[int, int]:
    """A whole round length of cloth for a bar of some 5 cm at 1:n, and in how many fields."""
    about = style.BAR * n * 8 // 5
    if units.lead is System.CM:
        return about, 10
    return max(
        (inches * INCH, fields) for inches, fields in BARS if inches * INCH * 10 <= about * 11
    )


def _signs(shown: Sequence[Shown]) -> tuple[str, ...]:
    used = {entry for one in shown for lay in one.lays for entry in legend.entries(lay)}
    return tuple(sign for sign in SHOWN_SIGNS if sign in used)


def _key(signs: tuple[str, ...], letters: str, n: int, room: int, units: Units) -> Block:
    """The scale bar, and beside it what the lines and hatchings mean."""
    drawing = Drawing()
    cloth, fields = bar(n, units)
    told = set_fractions(format_length(cloth, units))
    words = f"all drawn at 1:{n}; the bar is {told} of cloth"
    long = nearest(Fraction(cloth * 5, 8 * n))
    foot = legend.draw_bar(drawing, 0, 0, words, LETTER, (long, fields))
    left = max(long, width(words, LETTER)) + COLUMN
    foot = max(foot, legend.draw_legend(drawing, signs, Box(left, 20, room, foot), LETTER))
    if letters:
        foot = _lines(drawing, (letters,), room, foot + UNDER)
    return Block(drawing, foot)
