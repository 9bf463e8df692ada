"""A long bolt drawn piece by piece: stretches between clear lines, each large enough to read.

A bolt of many metres on one page leaves no room for names. There the plan shows the whole as
a guide, with the stretches numbered, and each stretch has a page of its own: a little of its
neighbours is seen at either end, and a key map tells where on the bolt it lies.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace

from marker.lay import Lay
from marker.plan.drawing import style
from marker.plan.drawing.block import block_box, title_block
from marker.plan.drawing.lettering import clean, wrap
from marker.plan.drawing.page import Box, Paper, Point, View, around
from marker.plan.drawing.verbs import Drawing
from marker.plan.lays import ground, legend
from marker.plan.lays.attempts import Around, Crowded, Effort
from marker.plan.lays.blocks import beside, disc_width, draw_disc
from marker.plan.lays.cloth_view import Scene, Sight, compose, finish
from marker.plan.lays.keymap import draw_map, draw_neighbours, seen, strangers
from marker.plan.lays.margins import Form, Tag
from marker.plan.lays.parts import Part, parts
from marker.plan.lays.pieces import Naming
from marker.plan.lays.rings import reading_tag
from marker.plan.words.runs import join_ids, measured, tape_words
from marker.plan.words.segments import places
from marker.plan.words.whose import wearers
from marker.record import Record
from marker.units import Units, set_fractions

LETTERED, TIER = 900, 2
"""Pieces on the guide that are no narrower on paper have their letter, in a disc of that size."""
SMALLER = 4
"""Rather than lose a name, stretches are drawn smaller by as much as a fourth."""
HEAD = 1500
"""Depth of the lines above a stretch."""
FOOT = 1250
"""Depth of the scale bar and the signs under it."""
BAR_ROOM = 6600
"""Width of the scale bar with its words."""
Settled = tuple[Scene, tuple[int, int]]
"""A stretch as it has room, and the places across the page between which its margins stand."""


@dataclass(frozen=True)
class Stretch:
    """One stretch worked out: the lay of it alone, and what is drawn where on its page."""

    lay: Lay
    paper: Paper
    view: View
    corner: Point
    drawing: Drawing
    told: tuple[str, str]
    """A name and a sentence for readers that can't see the drawing."""


def guide(lay: Lay, view: View, units: Units, naming: Naming, _: Effort) -> Scene:
    """A long bolt as a whole: its stretches named above it, and below where they end."""
    scene = Scene(lay, view, units, naming)
    ground.draw_ground(scene.drawing, view, lay, [])
    for one in scene.laid:
        if one.least > LETTERED and not one.under:
            draw_disc(scene.drawing, one.heart, TIER, one.spot.letter)
            wide = disc_width(one.spot.letter, TIER)
            box = around(*one.heart, wide, 2 * style.BLOCKS[TIER][1])
            scene.drawing.label("letter", one.spot.id, box)
    found = parts(lay)
    for number, part in enumerate(found, 1):
        x, end = view.x((part.low + part.high) // 2), part.high
        block = beside("", ((f"stretch {number}", True),), 1)
        forms = (Form(*block.size, block.draw),)
        scene.top.append(Tag("stretch", f"{number}", (((x, 0),),), True, forms, number))
        if number < len(found):
            figures = set_fractions(tape_words(end, units))
            scene.bottom.append(reading_tag(view, end, f"{number}", figures, scene.edge, number))
    return scene


def stretches(record: Record, lay: Lay, paper: Paper) -> tuple[Stretch, ...]:
    """The stretches of a lay at one scale, each on a page of its own, with all that has room."""
    found = parts(lay)
    if not found:
        return ()
    page = area(paper)
    naming = Naming(bool(wearers(record)), places(record, lay.cloth.key))
    n = 1
    while not all(_fits(part, lay, View(part.lay.bolt, n), page) for part in found):
        n += 1
    order = list(range(len(found)))
    known: dict[tuple[int, int], Settled] = {}
    for scale, efforts in _tries(n):
        for at in order:
            # What had room with names is the same where names may go for the sake of others.
            settled = known.get((scale, at)) or _settled(
                found[at], lay, scale, naming, record.units, page, efforts
            )
            if settled is None:
                # It is asked first at the next scale: most fail by one and the same stretch.
                order.insert(0, order.pop(order.index(at)))
                break
            known[scale, at] = settled
        else:
            break
    # Most sights fall by the wayside for the sake of another stretch: only those kept are filled.
    return tuple(
        _drawn(record, lay, found, at, _filled(*known[scale, at]), paper) for at in sorted(order)
    )


def _tries(n: int) -> Iterator[tuple[int, tuple[Effort, ...]]]:
    """Scales from 1:n, and how much is told at each: a somewhat smaller one before names go."""
    told = Effort.FULL, Effort.KEYS
    for scale in range(n, n + n // SMALLER + 1):
        yield scale, told
    while True:
        yield n, (*told, Effort.BARE)
        n += max(1, n // 12)


def area(paper: Paper) -> Box:
    """The paper for a stretch: inside the margins, below its head, above bar and title block."""
    width, _ = paper.size
    foot = block_box(paper.size).y0 - FOOT
    return Box(style.MARGIN, style.MARGIN + HEAD, width - style.MARGIN, foot)


def _ends(part: Part, lay: Lay, view: View) -> tuple[int, int]:
    """The paper before and after a stretch of cloth: gutters, or the overlaps too."""
    low, high = seen(part, lay)
    bolt = part.lay.bolt
    before, after = view.length(bolt.x0 - low), view.length(high - bolt.x1)
    return before + style.GUTTER, after + style.GUTTER


def _fits(part: Part, lay: Lay, view: View, page: Box) -> bool:
    """Whether the bare cloth has room."""
    box = view.box(part.lay.bolt)
    return box.width + sum(_ends(part, lay, view)) <= page.width and box.height < page.height


def _drawn(
    record: Record, lay: Lay, found: Sequence[Part], at: int, sight: Sight, paper: Paper
) -> Stretch:
    part, view, page, units = found[at], sight.view, area(paper), record.units
    before, after = _ends(part, lay, view)
    cloth = view.box(part.lay.bolt)
    spare = page.width - cloth.width - before - after
    corner = page.x0 + before + spare // 2, page.y0 + sight.above
    name, n = clean(lay.cloth.name) or clean(lay.cloth.key), view.n
    which = f"stretch {at + 1} of {len(found)}"
    drawing, y = Drawing(), style.MARGIN
    heading = f"{name}, {which}"
    drawing.say("heading", (page.x0, y + 400), heading, style.NAME, bold=True)
    span = set_fractions(measured(units, "{} to {}", max(part.low, 0), part.high))
    told = f"from {span} of the tape"
    drawing.say("note", (page.x0, y + 900), told, style.TEXT)
    draw_map(drawing, lay, found, at, (page.x1, y))
    over = Drawing()
    draw_neighbours(over, part, lay, view, at, sight.drawing.leaders)
    drawing.take(replace(sight.drawing, over=[]), *corner)
    drawing.take(over, *corner)
    drawing.take(replace(sight.drawing, ground=[], labels=[], leaders=[]), *corner)
    y = corner[1] + cloth.height + sight.below
    for line in _unnamed(part.lay, sight, page.width):
        y += style.NOTE * 13 // 10
        drawing.say("note", (page.x0, y), line, style.NOTE)
    foot = page.y1 + 150
    bar = f"5 cm when printed at full size · drawn 1:{n}"
    legend.draw_bar(drawing, page.x0, foot, bar)
    signs = Box(page.x0 + BAR_ROOM, foot, page.x1, foot + FOOT)
    legend.draw_legend(drawing, legend.entries(part.lay), signs)
    title_block(drawing, paper.size, clean(record.title), f"{heading}, 1:{n}")
    pieces = f"{len(part.lay.placements)} pieces, {told}; one of several drawings of one bolt."
    return Stretch(part.lay, paper, view, corner, drawing, (heading, pieces))


def _unnamed(part: Lay, sight: Sight, room: int) -> tuple[str, ...]:
    """Which pieces have no room for any name on the drawing; where they fall the steps tell."""
    named = {name for label in sight.drawing.labels for name in label.owner.split()}
    bare = [(spot.letter, spot.copy) for spot in part.placements if spot.id not in named]
    if not bare:
        return ()
    ids = ", ".join(join_ids(bare))
    return wrap(
        f"Too small to be named here: {ids}. The steps tell where they lie.", style.NOTE, room
    )


def _settled(
    part: Part,
    lay: Lay,
    n: int,
    naming: Naming,
    units: Units,
    page: Box,
    efforts: tuple[Effort, ...],
) -> Settled | None:
    """As much as has room: pieces named in full, or by a key, or only those that can hold one."""
    view = View(part.lay.bolt, n)
    before, after = _ends(part, lay, view)
    cloth = view.box(part.lay.bolt)
    spare = (page.width - cloth.width - before - after) // 2
    span = -before - spare, cloth.width + after + spare
    foreign = tuple(view.box(rect) for _, rect in strangers(part, lay))
    around = Around(foreign, after - style.GUTTER)
    for effort in efforts:
        with suppress(Crowded):
            scene = compose(part.lay, view, units, naming, effort, around)
            sight = finish(scene, span)
            if sight is not None and _has_room(part.lay, sight, page):
                return scene, span
    return None


def _filled(scene: Scene, span: tuple[int, int]) -> Sight:
    """A scene that has room, with all that is told inside its pieces; its margins stay the same."""
    scene.finish_pieces()
    sight = finish(scene, span)
    assert sight is not None
    return sight


def _has_room(part: Lay, sight: Sight, page: Box) -> bool:
    """Whether a drawing stands on its page, with the pieces that it can't name told below."""
    lines = len(_unnamed(part, sight, page.width))
    told = lines * (style.NOTE * 13 // 10)
    cloth = sight.view.box(part.bolt)
    return sight.above + cloth.height + sight.below + told <= page.height
