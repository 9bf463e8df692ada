"""What stands around the cloth: title and purchase above; steps, left over and scale below."""

from __future__ import annotations

from dataclasses import dataclass

from marker.lay import Lay
from marker.piece import MarkKind
from marker.plan import style, words
from marker.plan.blocks import short_name
from marker.plan.lettering import clean, clip, width, wrap
from marker.plan.page import Box
from marker.plan.pieces import size_words
from marker.plan.steps import Step, check_sum, leftovers, steps
from marker.plan.verbs import Drawing, hatch
from marker.record import Record
from marker.units import System, format_length, set_fractions

HEAD = 1500
"""Depth of the lines above the cloth."""
COLUMN_GAP = 700
LEAST_COLUMN, MOST_COLUMN = 7200, 18500
MOST_PIECES = 8
MOST_LEFT = 6
"""Lines on what is left over; the sheet tells all."""
BOX = 260
"""A tick box."""


def draw_head(drawing: Drawing, record: Record, lay: Lay, area: Box) -> None:
    """Title and cloth at the left, what to buy and what is proved at the right."""
    units = record.units
    buy = set_fractions(f"Buy {words.buy(lay, units)}")
    told = set_fractions(
        f"needs {words.need(lay, units)} · {words.proof(lay, units)} · {words.used(lay)} used"
    )
    right = max(width(buy, style.BUY, bold=True), width(told, style.SUB))
    room = area.width - right - 600
    title = clip(clean(record.title), style.TITLE, room, bold=True)
    baseline, below = area.y0 + 640, area.y0 + 1180
    _line(drawing, "title", (area.x0, baseline), title, style.TITLE, bold=True)
    cloth = clip(set_fractions(cloth_words(lay, units)), style.SUB, room)
    _line(drawing, "cloth", (area.x0, below), cloth, style.SUB)
    _line(drawing, "buy", (area.x1, baseline), buy, style.BUY, bold=True, anchor="end")
    _line(drawing, "proof", (area.x1, below), told, style.SUB, anchor="end")


def cloth_words(lay: Lay, units: System) -> str:
    """One line on the cloth: its name, width, and what to know before tearing."""
    cloth = lay.cloth
    parts = [clean(cloth.name) or clean(cloth.key)]
    parts.append(f"{format_length(cloth.laid_width, units)} wide")
    if cloth.selvedge:
        kept = "kept" if cloth.keep_selvedges else "torn off"
        parts.append(f"selvedges {kept}")
    if cloth.washed:
        parts.append("sizes after washing")
    if cloth.one_way:
        parts.append("one-way")
    return " · ".join(parts)


def _line(
    drawing: Drawing,
    kind: str,
    at: tuple[int, int],
    text: str,
    size: int,
    *,
    bold: bool = False,
    anchor: str = "start",
    colour: str = style.INK,
) -> None:
    if text:
        box = drawing.words(at, text, size, bold=bold, anchor=anchor, colour=colour)
        drawing.label(kind, text, box)


@dataclass(frozen=True)
class Notes:
    """The words below (or beside) the cloth, before they are set in columns."""

    steps: tuple[Step, ...]
    left: tuple[str, ...]
    pieces: str
    check: str
    scale: str
    legend: tuple[str, ...]


def notes(record: Record, lay: Lay, n: int, keyed: frozenset[str]) -> Notes:
    """Gather the words that stand below the cloth drawn at 1:n.

    `keyed` are the letters that the plan does not explain, and the notes must.
    """
    units = record.units
    kinds = {mark.kind for piece in lay.pieces for mark in piece.marks}
    legend = ["tear"] if lay.tears else []
    if kinds & {MarkKind.FOLD, MarkKind.HEM}:
        legend.append("fold")
    if MarkKind.SEAM in kinds:
        legend.append("seam")
    if any(not offcut.keep for offcut in lay.offcuts):
        legend.append("waste")
    if any(offcut.keep for offcut in lay.offcuts):
        legend.append("remnant")
    if lay.cloth.selvedge:
        legend.append("selvedge")
    return Notes(
        tuple(
            Step(step.first, step.last, clean(set_fractions(step.text)))
            for step in steps(lay, units)
        ),
        _left(lay, units),
        _pieces(lay, keyed, units),
        set_fractions(check_sum(lay, units)),
        f"5 cm when printed at full size · drawn 1:{n}",
        tuple(legend),
    )


def _left(lay: Lay, units: System) -> tuple[str, ...]:
    """What is left over, the largest first; a long list is cut short before its last line."""
    lines = [set_fractions(line) for line in leftovers(lay, units)]
    if len(lines) > MOST_LEFT:
        more = len(lines) - MOST_LEFT + 1
        lines[MOST_LEFT - 2 : -1] = [f"{more} lines more stand in the sheet."]
    return tuple(lines)


def _pieces(lay: Lay, keyed: frozenset[str], units: System) -> str:
    """The pieces that have only a key on the plan: letter, name, count and cut size."""
    told = [
        f"{piece.letter} {short_name(clean(piece.name))}, {piece.count} of "
        f"{size_words(piece.length, piece.breadth, units)}"
        for piece in lay.pieces
        if piece.letter in keyed
    ]
    rest = len(told) - MOST_PIECES
    if rest > 0:
        told = [*told[:MOST_PIECES], f"{rest} more in the piece list"]
    return "; ".join(told) + "." if told else ""


@dataclass(frozen=True)
class Setting:
    """Steps set in columns: type size, column width, and the lines of each step by column."""

    size: int
    columns: tuple[Box, ...]
    filled: tuple[tuple[tuple[Step, tuple[str, ...]], ...], ...]
    rest: tuple[Step, ...]


def gutter(told: tuple[Step, ...], size: int) -> int:
    """The room for tick box and tear numbers before a step's text."""
    return BOX + 130 + max((width(s.numbers, size, bold=True) for s in told), default=0) + size // 2


def set_steps(told: tuple[Step, ...], area: Box, size: int, count: int) -> Setting:
    """Set steps in a number of columns, as even as can be, and keep what does not fit apart."""
    wide = (area.width - COLUMN_GAP * (count - 1)) // count
    columns = tuple(
        Box(area.x0 + i * (wide + COLUMN_GAP), area.y0, area.x0 + i * (wide + COLUMN_GAP) + wide,
            area.y1)
        for i in range(count)
    )  # fmt: skip
    room = wide - gutter(told, size)
    blocks = [(step, wrap(step.text, size, room)) for step in told]
    pitch = size * 13 // 10
    tall = [len(lines) * pitch + size // 4 for _, lines in blocks]
    even = -(-sum(tall) // count) + max(tall, default=0) * (count > 1)
    limit = min(area.height, even)
    filled: list[list[tuple[Step, tuple[str, ...]]]] = [[]]
    used = 0
    for index, (block, height) in enumerate(zip(blocks, tall, strict=True)):
        if used + height > limit:
            if len(filled) == count:
                rest = tuple(step for step, _ in blocks[index:])
                return Setting(size, columns, tuple(map(tuple, filled)), rest)
            filled.append([])
            used = 0
        filled[-1].append(block)
        used += height
    return Setting(size, columns, tuple(map(tuple, filled)), ())


def best_setting(told: tuple[Step, ...], area: Box) -> Setting:
    """The largest type that fits all steps; at the least type, as many as fit."""
    most = max(1, (area.width + COLUMN_GAP) // (LEAST_COLUMN + COLUMN_GAP))
    found = None
    for size in style.STEP_SIZES:
        for count in range(1, most + 1):
            if area.width // count > MOST_COLUMN:
                continue
            found = set_steps(told, area, size, count)
            if not found.rest:
                return found
    spare = Box(area.x0, area.y0, area.x1, area.y1 - style.STEP_SIZES[-1] * 2)
    return set_steps(told, spare, style.STEP_SIZES[-1], most)


def draw_steps(drawing: Drawing, told: tuple[Step, ...], area: Box) -> bool:
    """Set the tear steps with tick boxes; tells whether all fitted."""
    _line(drawing, "heading", (area.x0, area.y0 + 310), "Tear in this order", style.HEADING,
          bold=True)  # fmt: skip
    area = Box(area.x0, area.y0 + 560, area.x1, area.y1)
    setting = best_setting(told, area)
    size, indent = setting.size, gutter(told, setting.size)
    pitch = size * 13 // 10
    for column, blocks in zip(setting.columns, setting.filled, strict=False):
        y = column.y0
        for step, lines in blocks:
            base = y + size * 76 // 100
            top = base - size * 35 // 100 - BOX // 2
            drawing.field(Box(column.x0, top, column.x0 + BOX, top + BOX), "none",
                          weight=style.LEADER)  # fmt: skip
            _line(drawing, "step", (column.x0 + BOX + 130, base), step.numbers, size, bold=True)
            for number, line in enumerate(lines):
                _line(drawing, "step", (column.x0 + indent, base + number * pitch), line, size)
            y += len(lines) * pitch + size // 4
    if setting.rest:
        first, last = setting.rest[0].first, setting.rest[-1].last
        text = f"Tears {first} to {last} are on the sheet."
        _line(drawing, "step", (area.x0, area.y1 - 80), text, size, bold=True)
    return not setting.rest


def side_depth(told: Notes, wide: int) -> int:
    """The depth that left over, check sum, scale bar and legend take in a column."""
    return draw_side(Drawing(), told, Box(0, 0, wide, 10**6))


def draw_side(drawing: Drawing, told: Notes, area: Box) -> int:
    """Set left over, check sum, scale bar and legend in one column; gives the depth taken."""
    size = style.NOTE
    pitch = size * 13 // 10
    y = area.y0
    parts = (("Pieces", (told.pieces,)), ("Left over", told.left), ("Check", (told.check,)))
    for heading, sentences in parts:
        if not any(sentences):
            continue
        _line(drawing, "heading", (area.x0, y + 310), heading, style.HEADING, bold=True)
        y += 560
        for sentence in sentences:
            for line in wrap(sentence, size, area.width):
                _line(drawing, "note", (area.x0, y + size * 76 // 100), line, size)
                y += pitch
        y += 200
    y = draw_bar(drawing, area.x0, y + 60, told.scale)
    return draw_legend(drawing, told.legend, Box(area.x0, y + 150, area.x1, area.y1)) - area.y0


def draw_bar(drawing: Drawing, x: int, y: int, text: str) -> int:
    """The scale bar, ten half-centimetre fields of which every other is filled; gives its foot."""
    tall, part = 170, style.BAR // 10
    for number in range(0, 10, 2):
        left = x + number * part
        drawing.field(Box(left, y, left + part, y + tall), style.INK)
    drawing.field(Box(x, y, x + style.BAR, y + tall), "none", weight=style.THIN)
    _line(drawing, "note", (x, y + tall + 300), text, style.SMALL)
    return y + tall + 380


def draw_legend(drawing: Drawing, entries: tuple[str, ...], area: Box) -> int:
    """A sample and a word for each line type and hatching in use; gives its foot."""
    wide, sample, size = 2500, 800, style.SMALL
    across = max(1, area.width // wide)
    for number, entry in enumerate(entries):
        x, y = area.x0 + number % across * wide, area.y0 + number // across * 380
        _sample(drawing, entry, Box(x, y, x + sample, y + 240))
        _line(drawing, "legend", (x + sample + 150, y + 200), entry, size)
    return area.y0 + -(-len(entries) // across) * 380


def _sample(drawing: Drawing, entry: str, box: Box) -> None:
    y = box.middle[1]
    line = (box.x0, y), (box.x1, y)
    if entry == "tear":
        drawing.path(line, weight=style.TEAR, dash=style.DASH_TEAR)
    elif entry == "fold":
        drawing.path(line, weight=style.FOLD, dash=style.DASH_FOLD)
    elif entry == "seam":
        drawing.path(line, weight=style.SEAM, colour=style.SOFT)
    elif entry == "selvedge":
        drawing.field(box, style.SELVEDGE, weight=style.THIN, colour=style.SOFT)
    else:
        pitch = style.HATCH_REMNANT if entry == "remnant" else style.HATCH_WASTE
        drawing.path(*hatch(box, pitch), weight=style.HATCH, colour=style.HATCH_INK)
        drawing.field(box, "none", weight=style.THIN, colour=style.SOFT)
