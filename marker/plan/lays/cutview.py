"""A lay for shears on the page: clear lines with their numbers, and readings at the edges."""

from __future__ import annotations

from collections.abc import Iterator

from marker.lay import Lay
from marker.plan.drawing import style
from marker.plan.drawing.page import Box, View
from marker.plan.drawing.verbs import Drawing
from marker.plan.lays import rings
from marker.plan.lays.folded import upper
from marker.plan.lays.margins import Tag
from marker.plan.words.cutlist import numbered_lines
from marker.plan.words.drops import clear_lines, copies
from marker.plan.words.runs import Work, tape_words
from marker.units import set_fractions

APART = style.SMALL + 3 * style.GAP
"""The room that a reading takes along the cloth when it is turned."""
ROWS = 2
"""In so many rows readings may stand, and no more of them are told than there is room for."""


def line_boxes(view: View, lay: Lay) -> list[Box]:
    """The paper that lines right across cover, and the outlines of straight pieces."""
    half, bolt = style.CUT // 2, view.box(lay.bolt)
    across = [Box(view.x(at) - half, 0, view.x(at) + half, bolt.y1) for at in clear_lines(lay)]
    straight = (
        spot.rect(piece)
        for spot in lay.placements
        if (piece := lay.piece(spot.letter)).outline is None
    )
    if lay.cloth.folded:
        y = view.box(lay.bolt).middle[1]
        across.append(Box(0, y - style.CLOTH_FOLD // 2, bolt.x1, y + style.CLOTH_FOLD // 2))
    return [*across, *(side for rect in straight for side in _sides(view.box(rect)))]


def _sides(box: Box) -> Iterator[Box]:
    half = style.CUT // 2
    for x in (box.x0, box.x1):
        yield Box(x - half, box.y0, x + half, box.y1)
    for y in (box.y0, box.y1):
        yield Box(box.x0, y - half, box.x1, y + half)


def draw_lines(drawing: Drawing, view: View, lay: Lay) -> None:
    """Draw every line right across, from selvedge to selvedge, and the fold of the cloth."""
    bolt = view.box(lay.bolt)
    foot = bolt.y1
    if lay.cloth.folded:
        line = (bolt.x0, bolt.middle[1]), (bolt.x1, bolt.middle[1])
        drawing.path(line, weight=style.CLOTH_FOLD, dash=style.DASH_CLOTH_FOLD)
    for at in clear_lines(lay):
        drawing.path(((view.x(at), 0), (view.x(at), foot)), weight=style.CUT)


def ring_tags(view: View, work: Work) -> Iterator[Tag]:
    """The numbers of the cuts right across, above the cloth."""
    for at, number in numbered_lines(work).items():
        yield rings.across_tag(view, at, number)


def reading_tags(view: View, work: Work, edge: int) -> Iterator[Tag]:
    """Tape readings at every line right across, and wherever the list has a piece chalked."""
    told: dict[str, int] = {}
    for at in _chalked(work.lay):
        told.setdefault(set_fractions(tape_words(at, work.units)), at)
    most = ROWS * max(1, view.length(work.lay.bolt.along) // APART)
    for figures, at in sorted(list(told.items())[:most], key=lambda one: one[1]):
        yield rings.reading_tag(view, at, f"{at}", figures, edge)


def _chalked(lay: Lay) -> Iterator[int]:
    """Where chalk or shears are set by the tape, what must not be missing first."""
    yield from clear_lines(lay)
    # Pieces near the tape come next: they are the ones chalked straight from it.
    low = sorted((rect for _, rect in upper(lay, copies(lay))), key=lambda r: (r.y0, r.x0))
    yield from (rect.x0 for rect in low)
