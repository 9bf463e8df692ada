"""What can be had from cloth that is there, as pictures: every lay at one scale, and the words."""

from __future__ import annotations

from collections.abc import Iterator

from marker.decide.reach import Reached
from marker.plan.drawing.page import Paper
from marker.plan.reach import words as reach_words
from marker.plan.thumbs import page as thumbs_page
from marker.plan.thumbs.grid import BAND, Block, Shown, grid, room_of
from marker.units import Rounding, format_length

SVG, PDF = "reach.svg", "reach.pdf"


def reach_files(reached: Reached, paper: Paper) -> dict[str, bytes]:
    """The picture and its pages under their names."""
    title = reached.case.title
    drawn, desc = blocks(reached, paper, title), reach_words.VERDICT[reached.standing]
    picture = thumbs_page.whole(drawn, paper, title, desc)
    pages = thumbs_page.pages(drawn, paper, title, desc)
    return {SVG: picture.encode(), PDF: thumbs_page.pdf(pages, title)}


def blocks(reached: Reached, paper: Paper, title: str) -> tuple[Block, ...]:
    """Heading, verdict, the lays in rows at one scale, and what they come to."""
    room = room_of(paper)[0]
    head = thumbs_page.heading_block(title, " ".join(reach_words.verdict(reached)), room)
    tail: tuple[Block, ...] = ()
    if most := reach_words.most_words(reached):
        tail = thumbs_page.words_blocks("The most", (" ".join(most),), room)
    if out := reach_words.not_asked(reached):
        tail = (*thumbs_page.words_blocks("", out, room), *tail)
    if not reached.record and not reached.offers:
        tail = (*thumbs_page.words_blocks("", (reach_words.no_change(reached),), room), *tail)
    lays = tuple(shown(reached))
    if not lays:
        return (head, *tail)
    taken = sum(block.height + BAND for block in (head, *tail))
    return (head, *grid(lays, paper, reached.case.units, taken).blocks, *tail)


def shown(reached: Reached) -> Iterator[Shown]:
    """What is drawn, in its order: as asked, with more cloth, with each change, the most."""
    units = reached.case.units
    if reached.record:
        yield Shown("As asked", reached.record.lays)
    yield from _longer(reached)
    told = reach_words.changes(reached)[: reach_words.SHOWN]
    for change, offer in zip(told, reached.offers, strict=False):
        notes = f"{change.what}.", *change.notes, f"Write {change.write}"
        yield Shown(reach_words.capital(offer.name), offer.record.lays, notes, change.mark)
    if reached.most:
        words = reach_words.capital(reach_words.most_figure(reached.most, units))
        heading = reach_words.most_heading(reached)
        yield Shown(heading, reached.most.record.lays, (f"{words}.",))


def _longer(reached: Reached) -> Iterator[Shown]:
    """What more cloth would give; where several are too short, with more of all of them."""
    units = reached.case.units
    for record in dict.fromkeys(miss.record for miss in reached.misses):
        if record is None:
            continue
        more = [
            f"{format_length(miss.least - miss.there, units, Rounding.UP)} more of "
            f"{reached.case.cloths[miss.cloth].name}"
            for miss in reached.misses
            if miss.record == record
        ]
        yield Shown(f"With {' and '.join(more)}", record.lays)
