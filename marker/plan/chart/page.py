"""A yardage chart on paper: tables as handbooks lay them out, with real fractions."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from marker.plan.chart.words import NAMED, Entry, Line, Table, Words, shares
from marker.plan.drawing import style
from marker.plan.drawing.lettering import ASCENT, clean, clip, width
from marker.plan.drawing.page import Box, Paper
from marker.plan.drawing.verbs import Drawing
from marker.plan.thumbs.grid import Block, room_of
from marker.plan.thumbs.page import heading_block, pages, pdf, whole, words_blocks
from marker.units import set_fractions

TEXT, SMALL, MARK = style.CHART, style.CHART_SMALL, style.CHART_MARK
RISE = 110
"""How far a mark stands above the base line of its figure."""
ROW = 600
BASE = 420
"""From the top of a row to its base line."""
HEAD = 1180
"""The two lines above the figures: what the columns are, and each column's width."""
TIGHT, NARROW, BROAD = 1200, 1500, 2300
"""Columns are no narrower, the first beside another table, and no broader than the eye can
follow along a row."""
PAD = 350
GAP = 1400
"""Between two tables side by side."""
MOST_NAME = 5200
"""A size's name takes no more; longer ones are shortened, and told in full in the notes."""
HEADING = 700
READING = 19000
"""Sentences run no further across the page."""
BELOW = 110
"""Between two notes."""


@dataclass(frozen=True)
class Part:
    """As much of a table as goes into one block, and whether it goes on from another."""

    table: Table
    first: int
    last: int
    on: bool = False

    @property
    def rows(self) -> tuple[Line, ...]:
        """The rows of figures, then those that hold for a whole column."""
        return self.table.lines + self.table.feet


def chart_files(words: Words, paper: Paper) -> dict[str, bytes]:
    """The chart as one SVG and as a PDF of pages, by the names of their files."""
    room, tall = room_of(paper)
    blocks = (
        heading_block(words.title, set_fractions(words.subtitle), room),
        *_packed(words.tables, room, tall),
        *_notes((*words.notes, *_long_names(words)), min(room, READING), tall),
    )
    title = clean(words.title)
    desc = " ".join(clean(note) for note in words.notes)
    return {
        "chart.svg": whole(blocks, paper, title, desc).encode(),
        "chart.pdf": pdf(pages(blocks, paper, title, desc), title),
    }


def _packed(tables: Sequence[Table], room: int, tall: int) -> Iterator[Block]:
    """The tables of each cloth in both measures, side by side or one below the other."""
    half = (room - GAP) // 2
    for near, far in zip(tables[::2], tables[1::2], strict=True):
        abreast = all(_left(one) + TIGHT * len(one.columns) <= half for one in (near, far))
        each, least = (half, TIGHT) if abreast else (room, NARROW)
        sets = [
            [_drawn(part, each) for part in _parts(table, each, least, tall)]
            for table in (near, far)
        ]
        if abreast:
            for (drawing, across, down), (other, _, _) in zip(*sets, strict=True):
                drawing.take(other, across + GAP, 0)
                yield Block(drawing, down)
        else:
            yield from (Block(drawing, down) for one in sets for drawing, _, down in one)


def _long_names(words: Words) -> Iterator[str]:
    """The sizes whose names the tables have no room for, in full."""
    for text in words.sizes:
        name = clean(text.rpartition(": ")[0])
        if width(name, TEXT, bold=True) > MOST_NAME - PAD:
            yield text


def _notes(notes: Sequence[str], room: int, tall: int) -> Iterator[Block]:
    """The notes under one heading, close below each other as far as a page holds them."""
    drawing, y = Drawing(), 0
    for block in words_blocks("Notes", [set_fractions(note) for note in notes], room):
        if y + block.height > tall:
            yield Block(drawing, y)
            drawing, y = Drawing(), 0
        drawing.take(block.drawing, 0, y)
        y += block.height + BELOW
    yield Block(drawing, y)


def _parts(table: Table, room: int, least: int, tall: int) -> Iterator[Part]:
    """A table in pieces that fit the page, as equal as can be."""
    across = shares(len(table.columns), max(1, (room - _left(table)) // least))
    most = (tall - HEADING - HEAD) // ROW - len(table.feet) - 4  # less the title on top
    down = shares(len(table.lines), max(1, most))
    for at, (top, bottom) in enumerate(down):
        for first, last in across:
            cut = replace(table, lines=table.lines[top:bottom])
            yield Part(cut, first, last, on=bool(at or first))


def _stub_widths(table: Table) -> list[int]:
    """The breadths of the columns at the side; the first makes room for the words of the feet."""
    sizes = [
        max(
            width(name, SMALL),
            *(width(set_fractions(line.stub[at]), TEXT, bold=True) for line in table.lines),
        )
        + PAD
        for at, name in enumerate(table.stub)
    ]
    if table.stub[0] == NAMED:
        sizes[0] = min(sizes[0], MOST_NAME)
    feet = max((width(line.stub[0], SMALL) + PAD for line in table.feet), default=0)
    return [max(sizes[0], feet - sum(sizes[1:])), *sizes[1:]]


def _left(table: Table) -> int:
    return sum(_stub_widths(table))


def _drawn(part: Part, room: int) -> tuple[Drawing, int, int]:
    """A part of a table with its upper left corner at (0, 0), its breadth and its height."""
    drawing, table = Drawing(), part.table
    left = _left(table)
    column = min(BROAD, (room - left) // (part.last - part.first))
    across = left + column * (part.last - part.first)
    heading = set_fractions(clean(table.heading)) + (", continued" if part.on else "")
    heading = clip(heading, style.HEADING, room, bold=True)
    drawing.say("heading", (0, style.HEADING * ASCENT // 1000), heading, style.HEADING, bold=True)
    top = HEADING + HEAD
    foot = top + ROW * len(part.rows)
    _heads(drawing, part, left, column)
    for number, line in enumerate(part.rows):
        y = top + ROW * number
        if number % 2 and number < len(table.lines):
            drawing.field(Box(0, y, across, y + ROW), style.TINT, under=True)
        _stub(drawing, table, line, y + BASE, bold=number < len(table.lines))
    for at in range(part.first, part.last):
        middle = left + column * (at - part.first) + column // 2
        y = top + BASE
        for lines in (table.lines, *([foot] for foot in table.feet)):
            _figures(drawing, [line.entries[at] for line in lines], middle, y)
            y += ROW * len(lines)
    rules = [(HEADING, style.CUT), (top, style.UNDER), (foot, style.CUT)]
    if table.feet:
        rules.append((top + ROW * len(table.lines), style.THIN))
    for y, weight in rules:
        drawing.path(((0, y), (across, y)), weight=weight)
    drawing.path(((left, HEADING), (left, foot)), weight=style.THIN)
    return drawing, max(across, width(heading, style.HEADING, bold=True)), foot


def _heads(drawing: Drawing, part: Part, left: int, column: int) -> None:
    """What the columns are: the cloth's widths over all, and the names of the sizes."""
    table, base = part.table, HEADING + HEAD - (ROW - BASE)
    across = column * (part.last - part.first)
    told = clip(clean(table.over), SMALL, max(across, BROAD))
    drawing.words((left + across // 2, HEADING + 420), told, SMALL, anchor="middle")
    for at in range(part.first, part.last):
        x = left + column * (at - part.first) + column // 2
        text = set_fractions(table.columns[at])
        drawing.words((x, base), text, TEXT, bold=True, anchor="middle")
    x = 0
    for name, size in zip(table.stub, _stub_widths(table), strict=True):
        end = x + size - PAD
        if "," in name:
            drawing.words((end, base), name, SMALL, anchor="end")
        else:
            drawing.words((x, base), name, SMALL)
        x += size


def _stub(drawing: Drawing, table: Table, line: Line, base: int, *, bold: bool) -> None:
    """The words at the side of a row; figures to the right of their column, names to the left."""
    if not bold:
        drawing.words((0, base), line.stub[0], SMALL)
        return
    x = 0
    for name, text, size in zip(table.stub, line.stub, _stub_widths(table), strict=True):
        end = x + size - PAD
        if "," in name:
            drawing.words((end, base), set_fractions(text), TEXT, bold=True, anchor="end")
        else:
            drawing.words(
                (x, base), clip(clean(text), TEXT, size - PAD, bold=True), TEXT, bold=True
            )
        x += size


def _figures(drawing: Drawing, entries: Sequence[Entry], middle: int, base: int) -> None:
    """A column of figures: whole numbers end on one line, and fractions begin there."""
    parts = [set_fractions(entry.part) for entry in entries]
    # Less than the room that words may take, whose fonts are not ours to choose: about as set.
    before = max(width(entry.whole, TEXT) for entry in entries) * 4 // 5
    after = TEXT * 3 // 4 if any(parts) else 0
    axis = middle + (before - after) // 2
    for number, (entry, part) in enumerate(zip(entries, parts, strict=True)):
        y = base + ROW * number
        drawing.words((axis, y), entry.whole, TEXT, anchor="end")
        drawing.words((axis, y), part, TEXT)
        x = axis + width(part, TEXT) + 30
        drawing.words((x, y - RISE), entry.mark, MARK)
