"""Compared options on paper: all lays at one scale, the best first, and the table of figures."""

from __future__ import annotations

from collections.abc import Iterator

from marker.decide.comparison import Comparison, Row
from marker.plan.compare import words as say
from marker.plan.drawing import style
from marker.plan.drawing.lettering import ASCENT, clean, width
from marker.plan.drawing.page import Box, Paper
from marker.plan.drawing.verbs import Drawing
from marker.plan.thumbs.grid import LINE, Block, Shown, grid, lines_of, room_of
from marker.plan.thumbs.page import heading_block, pages, pdf, whole, words_blocks
from marker.plan.thumbs.thumb import LETTER
from marker.units import set_fractions

SVG, PDF = "compare.svg", "compare.pdf"
SHARES = {
    "buy": 15, "cost": 9, "length": 15, "proved": 12, "round": 12, "fulness": 10, "pleats": 9,
    "mass": 8, "seams": 8, "sewn": 8, "joins": 8, "waste": 8, "remnant": 14, "tears": 6,
}  # fmt: skip
"""How broad the columns are beside each other."""
PLACE = 900
"""Before the figures, for the option's place."""
TIGHT = 180
"""Between rows of the table."""


def draw(found: Comparison, paper: Paper) -> dict[str, bytes]:
    """The comparison as one drawing and as pages to print, under the names of their files."""
    title = f"{clean(found.title)}: {_counted(found)}"
    desc = f"The lays of {len(found.rows)} options at one scale, the best first, and their figures."
    made = blocks(found, paper)
    drawn = pages(made, paper, title, desc)
    return {SVG: whole(made, paper, title, desc).encode(), PDF: pdf(drawn, title)}


def blocks(found: Comparison, paper: Paper) -> tuple[Block, ...]:
    """All that is set on the pages, from the title to what can't be made."""
    across, _ = room_of(paper)
    title = f"{found.title}: {_counted(found)}"
    head = heading_block(title, " ".join(say.rules(found)), across)
    shown = [_shown(place, row, found) for place, row in enumerate(found.rows, 1)]
    lays = grid(shown, paper, found.units, head.height)
    return (head, *lays.blocks, *_table(found, across), *_words(found, across))


def _counted(found: Comparison) -> str:
    return "1 option" if len(found.rows) == 1 else f"{len(found.rows)} options compared"


def _shown(place: int, row: Row, found: Comparison) -> Shown:
    """An option with the few figures that lays can't show."""
    one = row.worth
    sewn = say.seams(one) if one.seams else ""
    paid = say.cost_words(one) if found.by_cost else ""
    lines = (say.flag(row), "; ".join(filter(None, (paid, sewn))), say.around(row, found))
    return Shown(row.option.words, one.record.lays, tuple(filter(None, lines)), f"{place}")


def _table(found: Comparison, across: int) -> Iterator[Block]:
    """A row for each option under a head that every page repeats."""
    names = say.headings(found)
    whole = sum(SHARES[key] for key in names)
    starts, at = {}, PLACE
    for key in names:
        starts[key] = at
        at += (across - PLACE) * SHARES[key] // whole
    ends = [*list(starts.values())[1:], across]
    rooms = {key: end - starts[key] - 2 * style.GAP for key, end in zip(starts, ends, strict=True)}
    head = _head(names, starts, rooms, across)
    for number, (place, row) in enumerate(enumerate(found.rows, 1)):
        block = _row(place, row, say.figures(row, found), (starts, rooms), across)
        yield Block(block.drawing, block.height, TIGHT, head, number == 0)


def _head(
    names: dict[str, str], starts: dict[str, int], rooms: dict[str, int], across: int
) -> Block:
    drawing = Drawing()
    lines = {key: lines_of(name, rooms[key]) for key, name in names.items()}
    deep = max(map(len, lines.values()))
    for key, told in lines.items():
        _cell(drawing, told, starts[key], (deep - len(told)) * LINE)
    foot = deep * LINE + style.GAP
    drawing.path(((0, foot), (across, foot)), weight=style.FOLD)
    return Block(drawing, foot + style.GAP)


def _cell(drawing: Drawing, told: tuple[str, ...], x: int, y: int) -> None:
    for number, line in enumerate(told):
        base = y + number * LINE + LETTER * ASCENT // 1000
        drawing.say("figure", (x, base), line, LETTER)


def _row(
    place: int,
    row: Row,
    told: dict[str, str],
    columns: tuple[dict[str, int], dict[str, int]],
    across: int,
) -> Block:
    """The option in words, and under them its figures."""
    starts, rooms = columns
    drawing = Drawing()
    y = _named(drawing, place, row, across)
    cells = {key: lines_of(set_fractions(value), rooms[key]) for key, value in told.items()}
    for key, lines in cells.items():
        _cell(drawing, lines, starts[key], y)
    y += max(map(len, cells.values())) * LINE + style.GAP
    drawing.path(((0, y), (across, y)), weight=style.THIN, colour=style.SOFT)
    return Block(drawing, y)


def _named(drawing: Drawing, place: int, row: Row, across: int) -> int:
    """The option's place in a disc, and its words; gives their foot."""
    mark = f"{place}"
    box = Box(0, 0, max(LINE, width(mark, LETTER, bold=True) + LETTER), LINE)
    drawing.field(box, style.INK, radius=LINE // 2)
    at = box.middle[0], box.middle[1] + LETTER * 345 // 1000
    drawing.words(at, mark, LETTER, bold=True, anchor="middle", colour=style.PAPER)
    drawing.label("mark", mark, box)
    flag = say.flag(row)
    words = f"{row.option.words} ({flag})" if flag else row.option.words
    return _set(drawing, lines_of(words, across - PLACE, bold=True), 0, bold=True)


def _set(drawing: Drawing, lines: tuple[str, ...], y: int, *, bold: bool = False) -> int:
    """Lines beside the place; gives their foot."""
    for line in lines:
        drawing.say("option", (PLACE, y + LETTER * ASCENT // 1000), line, LETTER, bold=bold)
        y += LINE
    return y


def _words(found: Comparison, across: int) -> Iterator[Block]:
    """What to mind of each option, what to write into the file, and what can't be made."""
    yield from words_blocks("What to mind with every option", say.common(found), across)
    heading = words_blocks("What to mind, and what to write into the case file", ("",), across)[0]
    for number, (place, row) in enumerate(enumerate(found.rows, 1)):
        drawing = Drawing()
        y = _named(drawing, place, row, across)
        for sentence in (*say.own_advice(row, found), say.change(row)):
            y = _set(drawing, lines_of(sentence, across - PLACE), y)
        yield Block(drawing, y, LINE, None if number else heading, number == 0)
    yield from words_blocks("Can't be made", say.refusals(found), across)
