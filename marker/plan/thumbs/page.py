"""Blocks of drawing set one below the other: as one SVG, and on pages for print."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from marker.plan.drawing import style
from marker.plan.drawing.lettering import ASCENT, clean, width, wrap
from marker.plan.drawing.page import Paper
from marker.plan.drawing.verbs import Drawing
from marker.plan.lays.svg import picture
from marker.plan.thumbs.grid import BAND, LINE, Block, lines_of, room_of
from marker.plan.thumbs.thumb import LETTER
from marker.plan.typeset import typeset

TITLE, LONG_TITLE = style.HEAD_TITLE, style.LONG_TITLE
"""Of titles that fit on one line, and of others, which are wrapped."""


def heading_block(title: str, subtitle: str, room: int) -> Block:
    """A title over the whole page, and a line under it."""
    drawing, y = Drawing(), 0
    size = TITLE if width(clean(title), TITLE, bold=True) <= room else LONG_TITLE
    for line in wrap(_breakable(clean(title), size, room), size, room, bold=True):
        drawing.say("title", (0, y + size * ASCENT // 1000), line, size, bold=True)
        y += size * 13 // 10
    for line in lines_of(subtitle, room):
        drawing.say("note", (0, y + LETTER * ASCENT // 1000), line, LETTER)
        y += LINE
    return Block(drawing, y)


def _breakable(text: str, size: int, room: int) -> str:
    """The text, with words that are longer than a line parted into some that aren't."""
    least = room // (size * 7 // 5)  # letters of any script, at their broadest
    return " ".join(
        part
        for word in text.split()
        for part in (
            [word]
            if width(word, size, bold=True) <= room
            else [word[at : at + least] for at in range(0, len(word), least)]
        )
    )


def words_blocks(heading: str, sentences: Sequence[str], room: int) -> tuple[Block, ...]:
    """Sentences under a heading, each a block, the first with the heading; none without them."""
    found = []
    for number, sentence in enumerate(sentences):
        drawing, y = Drawing(), 0
        if heading and not number:
            y += style.HEADING * ASCENT // 1000
            drawing.say("heading", (0, y), heading, style.HEADING, bold=True)
            y += style.HEADING
        for line in lines_of(sentence, room):
            drawing.say("note", (0, y + LETTER * ASCENT // 1000), line, LETTER)
            y += LINE
        found.append(Block(drawing, y, LINE if number else BAND))
    return tuple(found)


def whole(blocks: Sequence[Block], paper: Paper, title: str, desc: str) -> str:
    """All blocks as one SVG, as broad as the paper and as high as it must be."""
    drawing, y = _stacked(blocks)
    return picture(drawing, (paper.size[0], y + style.MARGIN), title, desc)


def pages(blocks: Sequence[Block], paper: Paper, title: str, desc: str) -> tuple[str, ...]:
    """The blocks on pages of the paper's own size, each an SVG; no block is broken."""
    found, leaves = [], list(_leaves(blocks, room_of(paper)[1]))
    across, down = paper.size
    for number, leaf in enumerate(leaves, 1):
        drawing, y = _stacked(leaf)
        text = f"{number} of {len(leaves)}"
        x = across - style.MARGIN - width(text, LETTER)
        foot = max(down, y + style.MARGIN)
        drawing.say("page", (x, foot - style.MARGIN), text, LETTER)
        found.append(picture(drawing, (across, foot), title, desc))
    return tuple(found)


def pdf(drawn: Sequence[str], title: str) -> bytes:
    """Pages that are drawn as one PDF, each at its own true size."""
    return typeset("thumbs/pages.typ", {"title": title, "pages": list(drawn)})


def _stacked(blocks: Sequence[Block]) -> tuple[Drawing, int]:
    """Blocks one below the other inside the margins, and their foot."""
    drawing, y = Drawing(), style.MARGIN
    for number, block in enumerate(_headed(blocks)):
        y += block.above if number else 0
        drawing.take(block.drawing, style.MARGIN, y)
        y += block.height
    return drawing, y


def _headed(leaf: Sequence[Block]) -> Iterator[Block]:
    """The blocks of a page with the heads that they need there."""
    for number, block in enumerate(leaf):
        if block.head and (block.opens or not number):
            yield block.head
        yield block


def _leaves(blocks: Sequence[Block], tall: int) -> Iterator[list[Block]]:
    leaf: list[Block] = []
    for block in blocks:
        first, *others = _headed([*leaf, block])
        if leaf and first.height + sum(one.height + one.above for one in others) > tall:
            yield leaf
            leaf = []
        leaf.append(block)
    if leaf:
        yield leaf
