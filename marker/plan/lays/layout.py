"""The page: where cloth and notes stand, and the scale that makes the most of the paper."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass, replace

from marker.lay import Lay
from marker.plan.drawing import style
from marker.plan.drawing.block import block_box, title_block
from marker.plan.drawing.lettering import clean
from marker.plan.drawing.page import Box, Half, Paper, Point, View
from marker.plan.drawing.verbs import Drawing
from marker.plan.lays import notes
from marker.plan.lays.attempts import Crowded, Effort
from marker.plan.lays.cloth_view import Sight, compose, finish
from marker.plan.lays.parts import LONG, parts
from marker.plan.lays.pieces import Naming
from marker.plan.lays.stretches import guide
from marker.plan.words.segments import places
from marker.record import Record
from marker.units import CM

SIDE = 10200
"""Width of the column that holds left over, check sum and the signs in their square."""
BESIDE = 10200
"""Width of the notes where they stand beside the cloth."""
MOST_BELOW, LEAST_HALF = 17500, 6000
"""Two columns of notes below the cloth take no more than this, and each no less."""
LEAST_BRIEF = SIDE + 7500
"""Width of the notes beside the cloth on half a page, in two columns."""
MOST_FOOT = 7200
IN_STRETCHES = "Every piece and every tear is drawn in the stretches, on the pages that follow."
SMALLEST = 20
"""A bolt that would be drawn smaller than 1:20 runs on over several pages."""
BROAD = 260 * CM
"""Of broader cloth no stretch is drawn larger."""
ABOVE_BLOCK = 200
"""Clear paper above the title block."""
STEP = 12
"""A scale 1:n is followed by one a twelfth smaller."""
GAP = 450


@dataclass(frozen=True)
class Plan:
    """A page worked out: what is drawn, the view of the cloth, and where its corner stands."""

    paper: Paper | Half
    view: View
    corner: Point
    drawing: Drawing
    guide: bool = False
    """Whether its pieces are drawn in stretches, on pages of their own."""


def layout(record: Record, lay: Lay, paper: Paper | Half) -> Plan:
    """Work out the plan of one cloth, at the largest whole scale 1:n that the paper holds.

    Words are given up before size: first all is told in full, then smaller pieces get a key,
    then the smallest go bare; each is tried at scales from the largest that the cloth alone
    would allow. Of a bolt of more than 4 m, or one that would be drawn smaller than 1:20 or
    with pieces unnamed, the page is a guide to its stretches.
    """
    wearers = {piece.wearer for each in record.lays for piece in each.pieces if piece.wearer}
    naming = Naming(len(wearers) > 1, places(record, lay.cloth.key))
    first, aside = _first_scales(lay, page_area(paper))
    may_run_on = isinstance(paper, Paper) and bool(parts(lay))
    for effort in _efforts(lay, may_run_on):
        last = first * 4 + 40 if effort >= Effort.BARE else max(first * 3 // 2, aside) + 3
        if may_run_on and effort < Effort.BARE and lay.bolt.across <= BROAD:
            last = min(last, SMALLEST + 1)
        with suppress(Crowded):
            for n in _scales(first, aside, last):
                found = _arrange(record, lay, paper, n, naming, effort)
                if found:
                    return found
    raise AssertionError("a bare plan fits at some scale")


def _efforts(lay: Lay, may_run_on: bool) -> tuple[Effort, ...]:
    """What is tried in turn: a bolt that may run on over pages never goes bare."""
    if may_run_on and lay.bolt.along > LONG:
        return (Effort.GUIDE,)
    return Effort.FULL, Effort.KEYS, Effort.GUIDE if may_run_on else Effort.BARE


def page_area(paper: Paper | Half) -> Box:
    """The paper inside its margins, above the title block."""
    width, height = paper.size
    if isinstance(paper, Half):
        return Box(style.MARGIN, style.HALF_RIM, width - style.MARGIN, height - style.HALF_RIM)
    foot = block_box(paper.size).y0 - ABOVE_BLOCK
    return Box(style.MARGIN, style.MARGIN, width - style.MARGIN, foot)


def _first_scales(lay: Lay, page: Box) -> tuple[int, int]:
    """The largest scales at which the bare cloth fits the page, and fits it beside the notes."""
    n, first = 1, 0
    while True:
        box = View(lay.bolt, n).box(lay.bolt)
        fits = box.height <= page.height - notes.HEAD
        wide = box.width + 2 * style.GUTTER
        if not first and fits and wide <= page.width:
            first = n
        if fits and wide <= page.width - BESIDE - GAP * 2:
            return first, n
        n += 1


def _scales(first: int, aside: int, last: int) -> Iterator[int]:
    """Scales to try, the largest first: each takes time, so small ones go by larger steps."""
    tried = {aside} if aside < last else set()
    n = first
    while n < last:
        tried.add(n)
        n += max(1, n // STEP)
    return iter(sorted(tried))


def _arrange(
    record: Record, lay: Lay, paper: Paper | Half, n: int, naming: Naming, effort: Effort
) -> Plan | None:
    """Try one scale with the notes below the cloth, then beside it."""
    view = View(lay.bolt, n)
    cloth = view.box(lay.bolt)
    page = page_area(paper)
    guiding = effort is Effort.GUIDE
    scene = (guide if guiding else compose)(lay, view, record.units, naming, effort)
    brief = isinstance(paper, Half)
    for beside in (True,) if brief else (False, True):
        taken = LEAST_BRIEF if brief else BESIDE
        room = page.width - (taken + GAP * 2 if beside else 0)
        if cloth.width + 2 * style.GUTTER > room:
            continue
        left = 0 if beside else (room - cloth.width) // 2 - style.GUTTER
        span = -style.GUTTER - left, room - style.GUTTER - left
        sight = finish(scene, span)
        if sight is None:
            continue
        told = notes.notes(record, lay, n, sight.keyed)
        if guiding:
            told = replace(told, pieces=IN_STRETCHES)
        if brief:
            told = _shorter(told, page.height - notes.HEAD - GAP)
        foot = _foot(page, sight, told, beside)
        if foot is None or (brief and foot.width < LEAST_BRIEF):
            continue
        # Only now is it known that this scale will do.
        if not guiding:
            scene.finish_pieces()
        sight = finish(scene, span) or sight
        corner = page.x0 + style.GUTTER + left, page.y0 + notes.HEAD + sight.above
        drawing = Drawing()
        notes.draw_head(drawing, record, lay, page)
        if not brief:
            name = clean(lay.cloth.name) or clean(lay.cloth.key)
            title_block(drawing, paper.size, clean(record.title), f"plan of {name}, 1:{n}")
        drawing.take(sight.drawing, *corner)
        if beside and not brief:
            bottom = corner[1] + cloth.height + sight.below
            below = Box(page.x0, bottom + GAP, foot.x0 - GAP, page.y1)
            _draw_beside(drawing, told, foot, below)
        else:
            _draw_below(drawing, told, foot)
        return Plan(paper, view, corner, drawing, guiding)
    return None


def _shorter(told: notes.Notes, deep: int) -> notes.Notes:
    """The notes of a half page: what has no room there stands on the page of words beside it."""
    if notes.side_depth(told, SIDE) <= deep:
        return told
    return replace(told, left=(), check="")


def _foot(page: Box, sight: Sight, told: notes.Notes, beside: bool) -> Box | None:
    """The paper left for the notes; None where it is too little."""
    cloth = sight.view.box(sight.view.bolt)
    bottom = page.y0 + notes.HEAD + sight.above + cloth.height + sight.below
    if beside:
        if bottom > page.y1:
            return None
        left = page.x0 + 2 * style.GUTTER + cloth.width + GAP
        right_most = max((label.box.x1 for label in sight.drawing.labels), default=0)
        left = max(left, page.x0 + style.GUTTER + right_most + GAP)
        return Box(left, page.y0 + notes.HEAD + GAP, page.x1, page.y1)
    foot = Box(page.x0, bottom + GAP, page.x1, page.y1)
    if foot.height < notes.side_depth(told, SIDE):
        return None
    fits = not notes.best_setting(told.steps, _steps_area(foot)).rest
    return foot if fits or foot.height >= MOST_FOOT else None


def _steps_area(foot: Box) -> Box:
    return Box(foot.x0, foot.y0 + 560, foot.x1 - SIDE - GAP * 2, foot.y1)


def _draw_beside(drawing: Drawing, told: notes.Notes, foot: Box, below: Box) -> None:
    """The steps beside the cloth; what else is told under them, or below the cloth.

    It goes below the cloth only where the steps need its room, and it has room there.
    """
    wide = min(foot.width, SIDE)
    depth = notes.side_depth(told, wide)
    steps = Box(foot.x0, foot.y0, foot.x1, foot.y1 - depth - GAP)
    side = Box(foot.x0, foot.y1 - depth, foot.x0 + wide, foot.y1)
    if notes.best_setting(told.steps, Box(steps.x0, steps.y0 + 560, steps.x1, steps.y1)).rest:
        other = Box(below.x0, below.y0, min(below.x1, below.x0 + MOST_BELOW), below.y1)
        if (
            notes.draw_wide(Drawing(), told, other) <= other.height
            and other.width >= 2 * LEAST_HALF
        ):
            notes.draw_steps(drawing, told.heading, told.steps, foot)
            notes.draw_wide(drawing, told, other)
            return
    notes.draw_steps(drawing, told.heading, told.steps, steps)
    notes.draw_side(drawing, told, side)


def _draw_below(drawing: Drawing, told: notes.Notes, foot: Box) -> None:
    steps = Box(foot.x0, foot.y0, foot.x1 - SIDE - GAP * 2, foot.y1)
    notes.draw_steps(drawing, told.heading, told.steps, steps)
    notes.draw_side(drawing, told, Box(foot.x1 - SIDE, foot.y0, foot.x1, foot.y1))
