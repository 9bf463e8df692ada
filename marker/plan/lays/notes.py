"""What stands around the cloth: title and purchase above; steps, left over and scale below."""

from __future__ import annotations

from dataclasses import dataclass, replace

from marker.lay import Lay
from marker.plan.drawing import style
from marker.plan.drawing.lettering import clean, clip, width, wrap
from marker.plan.drawing.page import Box, View
from marker.plan.drawing.verbs import Drawing
from marker.plan.lays import legend
from marker.plan.lays.blocks import short_name
from marker.plan.lays.matched import repeat_words
from marker.plan.lays.pieces import size_words
from marker.plan.words import phrases as words
from marker.plan.words.sizes import cut_size
from marker.plan.words.steps import steps
from marker.plan.words.sums import check_sum, leftovers
from marker.plan.words.told import Step
from marker.plan.words.whose import wearers_on
from marker.record import Record
from marker.units import Units, format_length, set_fractions

Part = tuple[str, tuple[str, ...]]
"""A heading, and the sentences under it."""
HEAD = 1500
"""Depth of the lines above the cloth."""
COLUMN_GAP = 700
LEAST_COLUMN, MOST_COLUMN = 7200, 18500
MOST_PIECES = 8
MOST_LEFT = 6
"""Lines on what is left over."""
MOST_SCRAPS = 4
"""The same where shaped pieces leave many small remnants between them."""
BOX = 260
"""A tick box."""


def draw_head(drawing: Drawing, record: Record, lay: Lay, area: Box) -> None:
    """Title and cloth at the left; what to buy, or what a remnant gives, at the right."""
    units = record.units
    buy = set_fractions(words.heading(lay, units))
    large = style.IN_HAND if lay.cloth.length else style.BUY
    needs = "" if lay.cloth.length else f"needs {words.need(lay, units)} · "
    told = set_fractions(f"{needs}{words.proof(lay, units)} · {words.used(lay)} used")
    room = area.width - width(buy, large, bold=True) - style.APART
    # A long title is set smaller before it is cut short.
    whole = clean(record.title)
    fits = (size for size in style.TITLE_SIZES if width(whole, size, bold=True) <= room)
    size = next(fits, style.TITLE_SIZES[-1])
    title = clip(whole, size, room, bold=True)
    baseline, below = area.y0 + 640, area.y0 + 1180
    drawing.say("title", (area.x0, baseline), title, size, bold=True)
    room = area.width - width(told, style.SUB) - style.APART
    cloth = clip(set_fractions(cloth_words(lay, units)), style.SUB, room)
    drawing.say("cloth", (area.x0, below), cloth, style.SUB)
    drawing.say("buy", (area.x1, baseline), buy, large, bold=True, anchor="end")
    drawing.say("proof", (area.x1, below), told, style.SUB, anchor="end")


def cloth_words(lay: Lay, units: Units) -> str:
    """One line on the cloth: its name, width, and what to know before tearing."""
    cloth = lay.cloth
    parts = [clean(cloth.name) or clean(cloth.key)]
    parts.append(f"{format_length(cloth.laid_width, units)} wide")
    if cloth.selvedge:
        kept = "kept" if cloth.keep_selvedges else f"{words.parted(lay)} off"
        parts.append(f"selvedges {kept}")
    if cloth.washed:
        parts.append("sizes after washing")
    if cloth.one_way:
        parts.append("one-way")
    return " · ".join(parts)


@dataclass(frozen=True)
class Notes:
    """The words below (or beside) the cloth, before they are set in columns."""

    heading: str
    steps: tuple[Step, ...]
    repeat: str
    left: tuple[str, ...]
    wearers: str
    pieces: str
    check: str
    scale: str
    legend: tuple[str, ...]


def notes(record: Record, lay: Lay, n: int, keyed: frozenset[str]) -> Notes:
    """Gather the words that stand below the cloth drawn at 1:n.

    `keyed` are the letters that the plan does not explain, and the notes must.
    """
    units = record.units
    return Notes(
        words.order(lay),
        tuple(replace(step, text=clean(set_fractions(step.text))) for step in steps(lay, units)),
        set_fractions(repeat_words(View(lay.bolt, n), lay, units)),
        _left(lay, units),
        _wearers(record, lay),
        _pieces(lay, keyed, units),
        set_fractions(check_sum(lay, units)),
        f"drawn 1:{n}",
        legend.entries(lay),
    )


def _left(lay: Lay, units: Units) -> tuple[str, ...]:
    """What is left over, the largest first; of many remnants the smaller ones are counted."""
    most = MOST_SCRAPS if lay.shaped else MOST_LEFT
    return tuple(set_fractions(line) for line in leftovers(lay, units, most))


def _wearers(record: Record, lay: Lay) -> str:
    """Who is who of the wearers on this cloth, by the letters of their pieces."""
    named = wearers_on(record, lay).items()
    # A letter stays on the line of its name.
    return ", ".join(f"{letter}\xa0{short_name(name)}" for letter, name in named)


def _pieces(lay: Lay, keyed: frozenset[str], units: Units) -> str:
    """The pieces that have only a key on the plan: letter, name, count and cut size."""
    told = [
        f"{piece.letter} {short_name(clean(piece.name))}, {piece.count} of "
        f"{size_words(*cut_size(piece), units)}"
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


def draw_steps(drawing: Drawing, heading: str, told: tuple[Step, ...], area: Box) -> bool:
    """Set the steps with tick boxes; tells whether all fitted."""
    drawing.say("heading", (area.x0, area.y0 + 310), heading, style.HEADING, bold=True)
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
            drawing.say("step", (column.x0 + BOX + 130, base), step.numbers, size, bold=True)
            for number, line in enumerate(lines):
                drawing.say("step", (column.x0 + indent, base + number * pitch), line, size)
            y += len(lines) * pitch + size // 4
    if setting.rest:
        first, last = setting.rest[0].first, setting.rest[-1].last
        text = f"Steps {first or 1} to {last} stand in the list that goes with this plan."
        drawing.say("step", (area.x0, area.y1 - 80), text, size, bold=True)
    return not setting.rest


def side_depth(told: Notes, wide: int) -> int:
    """The depth that left over, check sum, scale bar and legend take in a column."""
    return draw_side(Drawing(), told, Box(0, 0, wide, 10**6))


def draw_side(drawing: Drawing, told: Notes, area: Box) -> int:
    """Set the signs in their square, and left over and check sum beside it; the depth taken."""
    foot = _draw_key(drawing, told, Box(area.x0, area.y0 + 60, area.x1, area.y1))
    left = area.x0 + style.SQUARE + COLUMN_GAP // 2
    words = Box(left, area.y0, area.x1, area.y1)
    y = _say_parts(drawing, (*_what(told), ("Check", (told.check,))), words)
    return max(y, foot) - area.y0


def draw_wide(drawing: Drawing, told: Notes, area: Box) -> int:
    """Set the same in two columns side by side; gives the depth taken."""
    half = (area.width - COLUMN_GAP) // 2
    left = Box(area.x0, area.y0, area.x0 + half, area.y1)
    right = Box(area.x1 - half, area.y0, area.x1, area.y1)
    first = _say_parts(drawing, (*_what(told), ("Check", (told.check,))), left)
    last = _draw_key(drawing, told, Box(right.x0, right.y0 + 60, right.x1, right.y1))
    return max(first, last) - area.y0


def _what(told: Notes) -> tuple[Part, ...]:
    return (
        ("Wearers", (told.wearers,)),
        ("Pieces", (told.pieces,)),
        ("Repeat", (told.repeat,)),
        ("Left over", told.left),
    )


def _say_parts(drawing: Drawing, parts: tuple[Part, ...], area: Box) -> int:
    """Set sentences under their headings; gives the foot."""
    size, y = style.NOTE, area.y0
    for heading, sentences in parts:
        if not any(sentences):
            continue
        drawing.say("heading", (area.x0, y + 310), heading, style.HEADING, bold=True)
        y += 560
        for sentence in sentences:
            for line in wrap(sentence, size, area.width):
                drawing.say("note", (area.x0, y + size * 76 // 100), line, size)
                y += size * 13 // 10
        y += 200
    return y


def _draw_key(drawing: Drawing, told: Notes, area: Box) -> int:
    """The signs in the test square; gives the foot."""
    return legend.draw_square(drawing, told.legend, (area.x0, area.y0), told.scale)
