"""What stands on every page: which piece and page it is, how many are cut, a test square."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from marker.plan.drawing import style
from marker.plan.drawing.lettering import ASCENT, clip, height, width, wrap
from marker.plan.drawing.page import Box, Point
from marker.plan.drawing.slabs import Slab
from marker.plan.drawing.verbs import Drawing
from marker.plan.lays.blocks import disc_width, draw_disc
from marker.plan.lays.rings import middle_line
from marker.plan.templates.desk import Desk
from marker.plan.templates.joins import View
from marker.plan.templates.key import page_map
from marker.plan.templates.shapes import Template

SQUARES = {5000: "5 cm", 5080: "2 in"}
"""The test squares' sides in 1/100 mm, and what they measure."""
NAME, LINE, LEAST = style.NAME, style.STEP, style.READING
ROOM = 5600
"""Words of a stamp are wrapped to this breadth."""
MOST_LINES = 2
"""So many lines' worth of a name or a title stand in a stamp."""
MAP = (2600, 3000)
TIER = 0
"""The row of `style.BLOCKS` that the letter's disc is drawn by."""
LEANS = (0, 90, 45, -45, 20, -20, 70, -70)


def how_many(template: Template) -> tuple[str, ...]:
    """How many are cut of every letter, and from what."""
    told = []
    for letter, (count, over) in zip(template.letters, template.counts, strict=True):
        whose = f"{letter}: " if len(template.letters) > 1 else ""
        turned = f", {over} of them turned over" if 0 < over < count else ""
        told.append(f"{whose}cut {count}{turned or (', turned over' if over else '')}")
    if template.half:
        told.append("on the fold of the cloth")
    return (*told, f"from {', '.join(template.cloths)}")


@dataclass
class Stamp:
    """Words and a map drawn from 0, 0 on, with the paper that they take."""

    drawing: Drawing = field(default_factory=Drawing)
    width: int = 0
    height: int = 0

    def say(self, left: int, text: str, size: int, *, bold: bool = False) -> None:
        """Words on lines of their own, clipped where they would take too many."""
        for line in wrap(clip(text, size, MOST_LINES * ROOM, bold=bold), size, ROOM, bold=bold):
            at = left, self.height + size * ASCENT // 1000
            self.drawing.words(at, line, size, bold=bold)
            self.width = max(self.width, left + width(line, size, bold=bold))
            self.height += height(size) + size // 6


def stamp(view: View, *, mapped: bool, short: bool = False) -> Stamp:
    """The stamp of one page, with a map of the pages where there are several."""
    template, made = view.tiling.seen.template, Stamp()
    disc = disc_width(template.letter, TIER)
    left = disc + 250
    made.say(left, template.name, NAME, bold=True)
    radius = style.BLOCKS[TIER][1]
    draw_disc(made.drawing, (disc // 2, radius), TIER, template.letter)
    made.height = max(made.height, 2 * radius + 100)
    if not short:
        for line in how_many(template):
            made.say(left, line, LINE)
    total = len(view.tiling.tiles)
    if total > 1:
        made.say(left, f"{view.part} {view.name} of {total}", LINE, bold=True)
    if not short:
        made.say(left, template.title, LEAST)
    if mapped and total > 1:
        drawing, size = page_map(view.tiling, MAP, view.tile)
        made.drawing.take(drawing, made.width + 250, 50)
        made.width += 250 + size[0] + 50
        made.height = max(made.height, size[1] + 100)
    return made


def put_stamp(desk: Desk, view: View) -> None:
    """Stamp a page where there is room, on the piece rather; a slim piece with its name alone."""
    full, plain = stamp(view, mapped=True), stamp(view, mapped=False)
    short = stamp(view, mapped=False, short=True)
    for made, on in ((full, True), (plain, True), (full, False), (plain, False),
                     (short, True), (short, False)):  # fmt: skip
        box = desk.place(made.width, made.height, on=on)
        if box:
            desk.over.take(made.drawing, box.x0, box.y0)
            desk.over.label("stamp", view.name, box)
            desk.room.take(box)
            return
    text = f"{view.name} {view.tiling.seen.template.name}"
    _lean(desk, clip(text, LINE, ROOM, bold=True))


def _lean(desk: Desk, text: str) -> None:
    """Set the name along a slim piece, whichever way there is room."""
    size = LINE
    desk.seat(_slabs(desk, width(text, size, bold=True), height(size)), text, size,
              bold=True, kind="stamp")  # fmt: skip


def _slabs(desk: Desk, long: int, tall: int) -> Iterator[Slab]:
    box, parts = desk.free, 24
    for angle in LEANS:
        for i in range(1, parts):
            for j in range(1, parts):
                at = box.x0 + box.width * i // parts, box.y0 + box.height * j // parts
                if desk.holds(at):
                    yield Slab(at, long, tall, angle)


def put_square(desk: Desk, side: int) -> None:
    """A test square where there is room, beside the piece rather; else across its lines."""
    box = desk.place(side, side, on=False) or desk.place(side, side, on=True)
    if box is None:
        free = desk.free.grown(-2 * style.GAP)
        box = Box(free.x1 - side, free.y1 - side, free.x1, free.y1)
    draw_square(desk.over, (box.x0, box.y0), side)
    desk.over.label("square", SQUARES[side], box)
    desk.room.take(box)


def draw_square(drawing: Drawing, at: Point, side: int) -> None:
    """A square with its upper left corner at a place, measured from middle to middle of a line."""
    box = Box(*at, at[0] + side, at[1] + side)
    drawing.field(box, "none", weight=style.THIN)
    x, y = box.middle
    drawing.words((x, y - 200), SQUARES[side], NAME, bold=True, anchor="middle")
    for number, line in enumerate(("measure this square", "before you cut")):
        at = x, y + 300 + number * LEAST * 5 // 4 + middle_line(LEAST)
        drawing.words(at, line, LEAST, anchor="middle")
