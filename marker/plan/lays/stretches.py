"""A long bolt drawn piece by piece: stretches between clear lines, each large enough to read.

A company's bolt of tens of metres on one page leaves no room for a single name. There the
plan shows the whole as a guide, with the stretches numbered, and each stretch is drawn by
itself, the numbers of pieces and tears as they are.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass, replace
from itertools import pairwise

from marker.geometry import Rect
from marker.lay import Direction, Lay, Mode, Offcut, Tear
from marker.plan.drawing import style
from marker.plan.drawing.lettering import clean, wrap
from marker.plan.drawing.page import Paper, Point, View
from marker.plan.drawing.verbs import Drawing
from marker.plan.lays import ground
from marker.plan.lays.blocks import beside
from marker.plan.lays.cloth_view import Crowded, Effort, Scene, Sight, compose, finish
from marker.plan.lays.margins import Form, Tag
from marker.plan.lays.pieces import Naming
from marker.plan.lays.rings import reading_tag
from marker.plan.words.drops import clear_lines
from marker.plan.words.runs import join_ids, measured, tape_words
from marker.plan.words.segments import places
from marker.plan.words.whose import wearers
from marker.record import Record
from marker.units import METRE, Units, set_fractions

LONG, MANY = 12 * METRE, 40
"""A longer bolt with more pieces than this is drawn in stretches."""
MOST = 8 * METRE
"""About so much of it makes one of them."""
HEAD, FOOT = 700, 300
"""The depth of a stretch's heading, and clear paper under it."""


@dataclass(frozen=True)
class Strip:
    """Paper as wide as a page, and as high as a stretch takes."""

    size: Point


@dataclass(frozen=True)
class Stretch:
    """One stretch worked out: the lay of it alone, and what is drawn where on its paper."""

    lay: Lay
    paper: Strip
    view: View
    corner: Point
    drawing: Drawing
    told: tuple[str, str]
    """A name and a sentence for readers that can't see the drawing."""


def parts(lay: Lay) -> tuple[Lay, ...]:
    """The stretches of a long lay, each as a lay of its own.

    None where it is short or has few pieces, and none where no line runs clear across it.
    """
    if lay.bolt.along <= LONG or len(lay.placements) <= MANY:
        return ()
    lines = sorted(at for at in set(_lines(lay)) if 0 < at < lay.bolt.x1)
    number = -(-lay.bolt.along // MOST)
    wanted = (lay.bolt.x0 + lay.bolt.along * at // number for at in range(1, number))
    cuts = dict.fromkeys(
        min(lines, key=lambda at: (abs(at - want), at)) for want in wanted if lines
    )
    if not cuts:
        return ()
    ends = (lay.bolt.x0, *sorted(cuts), lay.bolt.x1)
    return tuple(_part(lay, low, high) for low, high in pairwise(ends))


def _lines(lay: Lay) -> Iterator[int]:
    """Where the whole cloth is torn, or could be cut, right across."""
    if lay.mode is Mode.SHEARS:
        yield from clear_lines(lay)
    for tear in lay.tears:
        if tear.direction is Direction.ACROSS and tear.in_hand.across == lay.bolt.across:
            yield tear.at


def _part(lay: Lay, low: int, high: int) -> Lay:
    """What of a lay lies between two clear lines; the line at its end is its own."""
    bolt = Rect(low, lay.bolt.y0, high, lay.bolt.y1)
    known = {piece.letter: piece for piece in lay.pieces}
    spots = tuple(s for s in lay.placements if bolt.holds(s.rect(known[s.letter])))
    letters = {spot.letter for spot in spots}
    clipped = ((cut, _clip(cut.rect, low, high)) for cut in lay.offcuts)
    return replace(
        lay,
        pieces=tuple(piece for piece in lay.pieces if piece.letter in letters),
        length=min(high, lay.length),
        bolt=bolt,
        placements=spots,
        tears=tuple(_tears(lay, low, high)),
        offcuts=tuple(Offcut(rect, cut.keep) for cut, rect in clipped if rect.along > 0),
        regions=tuple(region for region in lay.regions if bolt.holds(region)),
    )


def _tears(lay: Lay, low: int, high: int) -> Iterator[Tear]:
    for tear in lay.tears:
        hand = _clip(tear.in_hand, low, high)
        across = tear.direction is Direction.ACROSS
        if hand.along > 0 and (low < tear.at <= high if across else hand == tear.in_hand):
            yield replace(tear, in_hand=hand)


def _clip(rect: Rect, low: int, high: int) -> Rect:
    return Rect(max(rect.x0, low), rect.y0, min(rect.x1, high), rect.y1)


def guide(lay: Lay, view: View, units: Units, naming: Naming, _: Effort) -> Scene:
    """A long bolt as a whole: its stretches named above it, and below where they end."""
    scene = Scene(lay, view, units, naming)
    ground.draw_ground(scene.drawing, view, lay, [])
    found = parts(lay)
    for number, part in enumerate(found, 1):
        x, end = view.x((part.bolt.x0 + part.bolt.x1) // 2), part.bolt.x1
        block = beside("", ((f"stretch {number}", True),), 1)
        forms = (Form(*block.size, block.draw),)
        scene.top.append(Tag("stretch", f"{number}", (((x, 0),),), True, forms, number))
        if number < len(found):
            figures = set_fractions(tape_words(end, units))
            scene.bottom.append(reading_tag(view, end, f"{number}", figures, scene.edge, number))
    return scene


def stretches(record: Record, lay: Lay, paper: Paper) -> tuple[Stretch, ...]:
    """The stretches of a long lay drawn at one scale, each with all that has room on it."""
    found = parts(lay)
    if not found:
        return ()
    room = paper.size[0] - 2 * (style.MARGIN + style.GUTTER)
    broad = max(part.bolt.along for part in found)
    n = 1
    while View(Rect(0, 0, broad, 1), n).length(broad) > room:
        n += 1
    naming = Naming(bool(wearers(record)), places(record, lay.cloth.key))
    while True:
        sights = [_sight(part, View(part.bolt, n), naming, record.units, paper) for part in found]
        if all(sights):
            break
        n += max(1, n // 12)
    return tuple(
        _drawn(part, sight, f"{at} of {len(found)}", record.units, paper)
        for at, (part, sight) in enumerate(zip(found, sights, strict=True), 1)
        if sight
    )


def _drawn(part: Lay, sight: Sight, which: str, units: Units, paper: Paper) -> Stretch:
    corner = style.MARGIN + style.GUTTER, HEAD + sight.above
    drawing = Drawing()
    ends = measured(units, "{} to {}", max(part.bolt.x0, 0), part.bolt.x1)
    heading = f"{clean(part.cloth.name)}, stretch {which}: from {set_fractions(ends)}"
    drawing.say("heading", (style.MARGIN, 400), heading, style.HEADING, bold=True)
    scale = f"drawn 1:{sight.view.n}"
    drawing.say("note", (paper.size[0] - style.MARGIN, 400), scale, style.SMALL, anchor="end")
    drawing.take(sight.drawing, *corner)
    bottom = corner[1] + sight.view.length(part.bolt.across) + sight.below
    for line in _unnamed(part, sight, paper.size[0] - 2 * style.MARGIN):
        bottom += style.NOTE * 13 // 10
        drawing.say("note", (style.MARGIN, bottom), line, style.NOTE)
    deep = bottom + FOOT
    told = heading, f"{len(part.placements)} pieces; one of several drawings of one bolt."
    return Stretch(part, Strip((paper.size[0], deep)), sight.view, corner, drawing, told)


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


def _sight(part: Lay, view: View, naming: Naming, units: Units, paper: Paper) -> Sight | None:
    """As much as has room: pieces named in full, or by a key, or only those that can hold one."""
    span = -style.GUTTER, paper.size[0] - 2 * style.MARGIN - style.GUTTER
    for effort in (Effort.FULL, Effort.KEYS, Effort.BARE):
        with suppress(Crowded):
            scene = compose(part, view, units, naming, effort)
            if finish(scene, span):
                scene.finish_pieces()
                return finish(scene, span)
    return None
