"""The blocks of words that name a piece or a remnant, from the fullest to the least."""

from __future__ import annotations

from dataclasses import dataclass, replace

from marker.plan.drawing import style
from marker.plan.drawing.lettering import ASCENT, clip, height, width
from marker.plan.drawing.page import Box, around
from marker.plan.drawing.slabs import Slab
from marker.plan.drawing.verbs import Drawing
from marker.plan.lays.rings import middle_line

Lines = tuple[tuple[str, bool], ...]
"""Lines of text, each with whether it is bold."""
LONGEST_NAME = 24
"""Names longer than this many capitals' half-widths are clipped on the plan."""


@dataclass(frozen=True)
class Bit:
    """A line of text, or a disc with its letter, at (x, y) of an unturned block.

    `size` is the type size; for a disc, its row in `style.BLOCKS`.
    """

    x: int
    y: int
    text: str
    size: int
    bold: bool = False
    anchor: str = "start"
    disc: bool = False


@dataclass(frozen=True)
class Block:
    """A label worked out but not yet placed; a turned one reads from below upwards."""

    width: int
    height: int
    bits: tuple[Bit, ...]
    turned: bool = False

    @property
    def size(self) -> tuple[int, int]:
        """Width and height as it stands on the page."""
        return (self.height, self.width) if self.turned else (self.width, self.height)

    def upright(self) -> Block:
        """The same block turned to read from below upwards."""
        return Block(self.width, self.height, self.bits, turned=True)

    def slanted(self, drawing: Drawing, slab: Slab) -> None:
        """Draw the block in a slab of its size, at the slab's angle; discs stay upright."""
        for bit in self.bits:
            at = slab.point(bit.x - self.width / 2, bit.y - self.height / 2)
            if bit.disc:
                draw_disc(drawing, at, bit.size, bit.text)
            else:
                drawing.words(at, bit.text, bit.size, bold=bit.bold, anchor=bit.anchor,
                              angle=slab.angle)  # fmt: skip

    def draw(self, drawing: Drawing, box: Box) -> None:
        """Draw the block in a box of its size."""
        for bit in self.bits:
            if self.turned:
                x, y = box.x0 + bit.y, box.y1 - bit.x
            else:
                x, y = box.x0 + bit.x, box.y0 + bit.y
            if bit.disc:
                draw_disc(drawing, (x, y), bit.size, bit.text)
            else:
                drawing.words((x, y), bit.text, bit.size, bold=bit.bold, anchor=bit.anchor,
                              turned=self.turned)  # fmt: skip


def disc_width(letter: str, tier: int) -> int:
    """The breadth of a piece's disc, which grows to a pill where its letter is a long one."""
    _, radius, size = style.BLOCKS[tier]
    return max(2 * radius, width(letter, size, bold=True) + radius)


def draw_disc(drawing: Drawing, at: tuple[int, int], tier: int, letter: str) -> None:
    """A piece's letter, white in a solid disc."""
    _, radius, size = style.BLOCKS[tier]
    box = around(*at, disc_width(letter, tier), 2 * radius)
    drawing.field(box, style.INK, radius=radius)
    drawing.words(
        (at[0], at[1] + middle_line(size)), letter, size, bold=True, anchor="middle",
        colour=style.PAPER,
    )  # fmt: skip


def stack(letter: str, lines: Lines, tier: int) -> Block:
    """A disc with lines centred below it."""
    size, disc, _ = style.BLOCKS[tier]
    wide = max([disc_width(letter, tier), *(width(text, size, bold=bold) for text, bold in lines)])
    bits = [Bit(wide // 2, disc, letter, tier, disc=True)]
    y = 2 * disc + size // 4
    for text, bold in lines:
        bits.append(Bit(wide // 2, y + size * ASCENT // 1000, text, size, bold, "middle"))
        y += size * 5 // 4
    tall = y - size * 5 // 4 + height(size) if lines else 2 * disc
    return Block(wide, tall, tuple(bits))


def beside(letter: str, lines: Lines, tier: int) -> Block:
    """A disc with lines to the right of it; without a letter, the lines alone."""
    size, disc, _ = style.BLOCKS[tier]
    left, bits = _lead(letter, tier)
    step = size * 6 // 5
    text_tall = step * (len(lines) - 1) + height(size)
    tall = max(2 * disc, text_tall) if letter else text_tall
    bits = [replace(bit, y=tall // 2) for bit in bits]
    y = (tall - text_tall) // 2 + size * ASCENT // 1000
    for number, (text, bold) in enumerate(lines):
        bits.append(Bit(left, y + number * step, text, size, bold))
    wide = left + max((width(text, size, bold=bold) for text, bold in lines), default=0)
    return Block(wide, tall, tuple(bits))


def in_line(letter: str, lines: Lines, tier: int) -> Block:
    """Everything on one line."""
    size, disc, _ = style.BLOCKS[tier]
    x, bits = _lead(letter, tier)
    tall = max(2 * disc if letter else 0, height(size))
    bits = [replace(bit, y=tall // 2) for bit in bits]
    for text, bold in lines:
        bits.append(Bit(x, tall // 2 + middle_line(size), text, size, bold))
        x += width(text, size, bold=bold) + size // 2
    return Block(x - size // 2, tall, tuple(bits))


def _lead(letter: str, tier: int) -> tuple[int, list[Bit]]:
    """The disc that opens a line, and where the line goes on; nothing without a letter."""
    if not letter:
        return 0, []
    wide = disc_width(letter, tier)
    return wide + style.BLOCKS[tier][0] // 3, [Bit(wide // 2, 0, letter, tier, disc=True)]


def short_name(text: str) -> str:
    """A name clipped to what a label can hold."""
    return clip(text, style.SWATCH, LONGEST_NAME * 60)


def choices(letter: str, lines: Lines, tall: bool) -> list[Block]:
    """Every way to set the whole of a label, best first; turned ones only for a tall shape."""
    found = []
    for tier in range(0 if letter else 1, len(style.BLOCKS)):
        flat = [beside(letter, lines, tier), in_line(letter, lines, tier)]
        if letter:
            flat.insert(0, stack(letter, lines, tier))
        found += flat
        if tall:
            found += [block.upright() for block in (*flat[-2:], *flat[:-2])]
        if len(lines) > 2:
            # In a narrow strip two lines may stand where three would touch its folds.
            (first, _), (second, _), *rest = lines
            two = beside(letter, ((f"{first}, {second}", False), *rest), tier)
            found += [two.upright()] if tall else [two]
    last = in_line("", ((letter, True), *lines), len(style.BLOCKS) - 1)
    found.append(last)
    return [*found, last.upright()] if tall else found


def keys(letter: str, name: str, copy: str, size: str, tall: bool) -> list[Block]:
    """The least that tells a piece, best first; the piece list tells the rest.

    `name` is its name in the list ("A-3"), `copy` the same beside a disc ("3 of 7").
    """
    last = len(style.BLOCKS) - 1
    found = [
        maker(letter, ((copy, False), (size, True)), tier)
        for tier in (2, last)
        for maker in (stack, beside, in_line)
    ]
    found += [maker(letter, ((copy, False),), tier) for tier in (1, 2, last)
              for maker in (stack, beside)]  # fmt: skip
    found += [beside("", ((name, True), (size, False)), last), beside("", ((name, True),), last)]
    upright = [block.upright() for block in found if block.width > block.height]
    return [*found, *(upright if tall else ()), stack(letter, (), last)]
