"""The cloth on the page: everything drawn on it and in its two margins."""

from __future__ import annotations

from dataclasses import dataclass

from marker.lay import Lay
from marker.plan import marks, pieces, rings, style
from marker.plan.blocks import beside, choices
from marker.plan.labels import Room
from marker.plan.margins import Form, Plan, Tag, joined, merge, plan
from marker.plan.page import Box, View
from marker.plan.runs import Run, Work, reading
from marker.plan.tape import draw_tape
from marker.plan.verbs import Drawing, hatch
from marker.units import System, set_fractions


@dataclass
class Sight:
    """A cloth drawn at one scale, its far left corner at (0, 0), with its margins' depths."""

    view: View
    drawing: Drawing
    above: int
    below: int
    reduced: bool
    """Whether some label had to be cut down to a key."""

    @property
    def box(self) -> Box:
        """The paper it takes, gutters and margins counted."""
        cloth = self.view.box(self.view.bolt)
        return Box(-style.GUTTER, -self.above, cloth.x1 + style.GUTTER, cloth.y1 + self.below)


class Scene:
    """One attempt to draw a cloth at a scale with certain pieces named outside it."""

    def __init__(self, lay: Lay, view: View, units: System, wearers: bool) -> None:
        self.lay, self.view, self.units = lay, view, units
        self.cloth = view.box(view.bolt)
        self.drawing = Drawing()
        self.weight = rings.weight(view, lay)
        lines = [rings.line_box(view, tear, self.weight) for tear in lay.tears]
        self.room = Room(self.cloth, [*lines, *_frame(self.cloth)])
        self.laid = pieces.laid(lay, view, units, wearers)
        self.work = Work(lay, units)
        self.top: list[Tag] = []
        self.bottom: list[Tag] = []
        self.edge = self.cloth.y1 + style.TAPE

    def down(self, box: Box) -> bool:
        """Whether a thing is nearer the margin below."""
        return box.middle[1] * 2 >= self.cloth.y1

    def number(self) -> None:
        """Ring every tear; those across the bolt stand above it, with a reading below."""
        for run in self.work.runs:
            if self.work.of_bolt(run):
                for tear in run.tears:
                    self.top.append(rings.across_tag(self.view, tear))
                    figures = set_fractions(reading(tear.at, self.units))
                    self.bottom.append(rings.reading_tag(self.view, tear, figures, self.edge))
        for run in self.work.runs:
            if not self.work.of_bolt(run):
                self._inner(run)

    def _inner(self, run: Run) -> None:
        for group in rings.place_run(self.drawing, self.room, self.view, run, self.weight):
            ends = [point for tear in group for point in rings.ends(self.view, tear)]
            ys = [y for _, y in ends]
            down = self.down(Box(0, min(ys), 0, max(ys)))
            edge = self.edge if down else 0
            tails = rings.margin_tails(self.room, self.view, group, down, edge)
            figures = rings.text(group[0].number, group[-1].number)
            tag = Tag("ring", figures, tails, True, (rings.form(figures),), group[0].number)
            (self.bottom if down else self.top).append(tag)

    def call_out(self, outside: frozenset[str]) -> None:
        """Name the pieces that can't hold their label in the margin."""
        chosen = [one for one in self.laid if one.spot.id in outside]
        for chain in pieces.chains(chosen):
            down = self.down(chain[len(chain) // 2].box)
            tag = pieces.call_out(self.room, chain, self.edge if down else 0, down)
            (self.bottom if down else self.top).append(tag)

    def name_pieces(self, outside: frozenset[str], short: bool) -> set[str]:
        """Label every other piece inside; gives the ids of those that have no room."""
        failed = set()
        for one in self.laid:
            marks.draw_lines(self.drawing, self.room, self.view, one)
        labels = {}
        for one in self.laid:
            if one.spot.id in outside:
                continue
            labels[one.spot.id] = pieces.put_inside(self.drawing, self.room, one, short)
            if labels[one.spot.id] is None:
                failed.add(one.spot.id)
        if not failed:
            for one in self.laid:
                marks.name_edges(self.drawing, self.room, self.view, one)
                label = labels.get(one.spot.id)
                marks.grain_arrow(self.drawing, self.room, one, label, self.lay.cloth.one_way)
                marks.name_marks(self.drawing, self.room, self.view, one)
        return failed

    def name_remnants(self) -> None:
        """Name what is worth keeping, inside or in the margin below."""
        for number, offcut in enumerate(self.lay.offcuts, 1):
            if not offcut.keep:
                continue
            box = self.view.box(offcut.rect)
            size = pieces.remnant_words(offcut.rect.along, offcut.rect.across, self.units)
            lines = (("remnant", False), (size, True))
            blocks = choices("", lines, box.height > box.width)
            owner = f"offcut-{number}"
            if pieces.put_block(self.drawing, self.room, box, blocks, "remnant", owner):
                continue
            down = self.down(box)
            edge = self.edge if down else 0
            block = beside("", lines, 2)
            form = Form(*block.size, block.draw)
            spots = [(box.x0 + box.width * part // 10, box.middle[1]) for part in (5, 4, 6, 3, 7)]
            tail = rings.clearest(self.room, spots, edge)
            tag = Tag("remnant", owner, (tail,), False, (form,))
            (self.bottom if down else self.top).append(tag)

    def ground(self) -> None:
        """Draw what lies under the pieces: the cloth, its selvedges, the hatching."""
        drawing, lay = self.drawing, self.lay
        drawing.field(self.cloth, style.PAPER, under=True)
        edge = self.view.length(lay.cloth.selvedge)
        sides = [
            Box(0, 0, self.cloth.x1, edge),
            Box(0, self.cloth.y1 - edge, self.cloth.x1, self.cloth.y1),
        ]
        for offcut in lay.offcuts:
            box = self.view.box(offcut.rect)
            if lay.cloth.selvedge and any(side.grown(2).holds(box) for side in sides):
                continue
            pitch = style.HATCH_REMNANT if offcut.keep else style.HATCH_WASTE
            drawing.path(*hatch(box, pitch), weight=style.HATCH, colour=style.HATCH_INK, under=True)
        if lay.cloth.selvedge:
            for side, y in zip(sides, (edge, self.cloth.y1 - edge), strict=True):
                drawing.field(side, style.SELVEDGE, under=True)
                drawing.path(((0, y), (self.cloth.x1, y)), weight=style.THIN, colour=style.SOFT)


def _frame(box: Box) -> list[Box]:
    """The cloth's four edges as the paper they cover."""
    half = style.EDGE // 2
    return [
        Box(box.x0 - half, box.y0, box.x0 + half, box.y1),
        Box(box.x1 - half, box.y0, box.x1 + half, box.y1),
        Box(box.x0, box.y0 - half, box.x1, box.y0 + half),
        Box(box.x0, box.y1 - half, box.x1, box.y1 + half),
    ]


def attempt(
    lay: Lay, view: View, units: System, wearers: bool, short: bool, span: tuple[int, int]
) -> Sight | None:
    """Draw a cloth at one scale; None where its margins can't hold their labels.

    Pieces that fail to hold their label are named outside and all is begun again, as
    leaders take room inside.
    """
    outside: frozenset[str] = frozenset()
    while True:
        scene = Scene(lay, view, units, wearers)
        scene.ground()
        scene.number()
        scene.call_out(outside)
        failed = scene.name_pieces(outside, short)
        if not failed:
            break
        outside |= failed
    scene.name_remnants()
    return _finish(scene, short, span)


def _finish(scene: Scene, short: bool, span: tuple[int, int]) -> Sight | None:
    above, below = _fit(scene.top, span), _fit(scene.bottom, span)
    if above is None or below is None:
        return None
    draw_tape(scene.drawing, scene.view, scene.units, [tag.at for tag in scene.bottom])
    above.draw(scene.drawing, 0, down=False)
    below.draw(scene.drawing, scene.edge, down=True)
    return Sight(scene.view, scene.drawing, above.depth, style.TAPE + below.depth, short)


def _fit(tags: list[Tag], span: tuple[int, int]) -> Plan | None:
    """Work out a margin, joining the closest neighbours until all can stand."""
    while True:
        found = plan(tags, *span)
        if found:
            return found
        fewer = merge(tags, _join)
        if fewer is None:
            return None
        tags = fewer


def _join(a: Tag, b: Tag) -> Tag:
    first, last = a.owner.split("–")[0], b.owner.split("–")[-1]
    owner = f"{first}–{last}"
    if a.kind == "ring":
        return joined(a, b, owner, (rings.form(owner),))
    return joined(a, b, owner, a.forms)
