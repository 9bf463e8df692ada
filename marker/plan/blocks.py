"""The blocks of words that name a piece or a remnant, from the fullest to the least."""

from __future__ import annotations

from dataclasses import dataclass

from marker.plan import style
from marker.plan.lettering import ASCENT, DESCENT, clip, width
from marker.plan.page import Box
from marker.plan.rings import middle_line
from marker.plan.verbs import Drawing

Lines = tuple[tuple[str, bool], ...]
"""Lines of text, each with whether it is bold."""
LONGEST_NAME = 24
"""Names longer than this many capitals' half-widths are clipped on the plan."""


@dataclass(frozen=True)
class Bit:
    """A line of text, or a disc with its letter, at (x, y) of an unturned block."""

    x: int
    y: int
    text: str
    size: int
    bold: bool = False
    anchor: str = "start"
    disc: int = 0


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

    def draw(self, drawing: Drawing, box: Box) -> None:
        """Draw the block in a box of its size."""
        for bit in self.bits:
            if self.turned:
                x, y = box.x0 + bit.y, box.y1 - bit.x
            else:
                x, y = box.x0 + bit.x, box.y0 + bit.y
            if bit.disc:
                draw_disc(drawing, (x, y), bit.disc, bit.text, bit.size)
            else:
                drawing.words((x, y), bit.text, bit.size, bold=bit.bold, anchor=bit.anchor,
                              turned=self.turned)  # fmt: skip


def draw_disc(drawing: Drawing, at: tuple[int, int], radius: int, letter: str, size: int) -> None:
    """A piece's letter, white in a solid disc."""
    drawing.disc(at, radius, style.INK)
    fits = size
    while width(letter, fits, bold=True) > radius * 2 - 60 and fits > style.LEAST:
        fits -= 10
    drawing.words(
        (at[0], at[1] + middle_line(fits)), letter, fits, bold=True, anchor="middle",
        colour=style.PAPER,
    )  # fmt: skip


def stack(letter: str, lines: Lines, tier: int) -> Block:
    """A disc with lines centred below it."""
    size, disc, in_disc = style.BLOCKS[tier]
    wide = max([2 * disc, *(width(text, size, bold=bold) for text, bold in lines)])
    bits = [Bit(wide // 2, disc, letter, in_disc, disc=disc)]
    y = 2 * disc + size // 4
    for text, bold in lines:
        bits.append(Bit(wide // 2, y + size * ASCENT // 1000, text, size, bold, "middle"))
        y += size * 5 // 4
    tall = y - size * 5 // 4 + size * (ASCENT + DESCENT) // 1000 if lines else 2 * disc
    return Block(wide, tall, tuple(bits))


def beside(letter: str, lines: Lines, tier: int) -> Block:
    """A disc with lines to the right of it; without a letter, the lines alone."""
    size, disc, in_disc = style.BLOCKS[tier]
    left = 2 * disc + size // 3 if letter else 0
    step = size * 6 // 5
    text_tall = step * (len(lines) - 1) + size * (ASCENT + DESCENT) // 1000
    tall = max(2 * disc, text_tall) if letter else text_tall
    bits = [Bit(disc, tall // 2, letter, in_disc, disc=disc)] if letter else []
    y = (tall - text_tall) // 2 + size * ASCENT // 1000
    for number, (text, bold) in enumerate(lines):
        bits.append(Bit(left, y + number * step, text, size, bold))
    wide = left + max((width(text, size, bold=bold) for text, bold in lines), default=0)
    return Block(wide, tall, tuple(bits))


def in_line(letter: str, lines: Lines, tier: int) -> Block:
    """Everything on one line."""
    size, disc, in_disc = style.BLOCKS[tier]
    tall = max(2 * disc if letter else 0, size * (ASCENT + DESCENT) // 1000)
    bits = [Bit(disc, tall // 2, letter, in_disc, disc=disc)] if letter else []
    x = 2 * disc + size // 3 if letter else 0
    for text, bold in lines:
        bits.append(Bit(x, tall // 2 + middle_line(size), text, size, bold))
        x += width(text, size, bold=bold) + size // 2
    return Block(x - size // 2, tall, tuple(bits))


def short_name(text: str) -> str:
    """A name clipped to what a label can hold."""
    return clip(text, 100, LONGEST_NAME * 60)


def choices(letter: str, lines: Lines, tall: bool) -> list[Block]:
    """Every way to set the whole of a label, best first; turned ones only for a tall shape."""
    found = [stack(letter, lines, 0)] if letter else []
    for tier in (0, 1, 2):
        flat = [beside(letter, lines, tier), in_line(letter, lines, tier)]
        if letter and tier:
            flat.insert(0, stack(letter, lines, tier))
        found += flat
        if tall:
            found += [block.upright() for block in (beside(letter, lines, tier),
                                                    in_line(letter, lines, tier))]  # fmt: skip
    return found


def keys(letter: str, name: str, size: str, tall: bool) -> list[Block]:
    """The least that tells a piece: its name in the piece list, with its size if there is room."""
    found = [
        stack(letter, ((name, False), (size, True)), 2),
        beside(letter, ((name, False), (size, True)), 2),
        in_line(letter, ((name, False), (size, True)), 2),
        beside("", ((name, True), (size, False)), 2),
        beside("", ((name, True),), 2),
    ]
    return found + ([block.upright() for block in found[1:]] if tall else [])
