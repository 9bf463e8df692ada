"""The cloth on the page: everything drawn on it and in its two margins."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from marker.geometry import Rect
from marker.geometry.segments import edges, where
from marker.lay import Lay, Mode, Tear
from marker.plan.drawing import style
from marker.plan.drawing.labels import Room, spots
from marker.plan.drawing.page import Box, View
from marker.plan.drawing.slabs import Slab
from marker.plan.drawing.verbs import Drawing
from marker.plan.lays import cutview, ground, marks, matched, pieces, rings, shaped
from marker.plan.lays.attempts import ALONE, Around, Crowded, Effort, Stance, State
from marker.plan.lays.blocks import Block, beside, choices
from marker.plan.lays.margins import Form, Plan, Tag, joined, merge, plan
from marker.plan.lays.tape import depth, draw_tape, name_sides
from marker.plan.words.heed import flaws
from marker.plan.words.runs import Run, Work, tape_words
from marker.units import Units, set_fractions

FOR_SHEARS = "for the shears"
MOST_LEADERS = 16
NARROW = 800
"""A ring and a label can't stand side by side in a piece narrower than this on paper."""


@dataclass
class Sight:
    """A cloth drawn at one scale, its far left corner at (0, 0), with its margins' depths."""

    view: View
    drawing: Drawing
    above: int
    below: int
    keyed: frozenset[str]
    """Letters of pieces that have only a key on the plan, and need the piece list."""

    @property
    def box(self) -> Box:
        """The paper it takes, gutters and margins counted."""
        cloth = self.view.box(self.view.bolt)
        return Box(-style.GUTTER, -self.above, cloth.x1 + style.GUTTER, cloth.y1 + self.below)


class Scene:
    """One attempt to draw a cloth at a scale with certain pieces named outside it."""

    def __init__(
        self,
        lay: Lay,
        view: View,
        units: Units,
        naming: pieces.Naming,
        around: Around = ALONE,
    ) -> None:
        self.lay, self.view, self.units, self.beyond = lay, view, units, around.beyond
        self.cloth = view.box(view.bolt)
        self.drawing = Drawing()
        self.weights = rings.weights(view, lay)
        lines = [rings.line_box(view, tear, self.weights[tear.number]) for tear in lay.tears]
        if lay.mode is Mode.SHEARS:
            lines += cutview.line_boxes(view, lay)
        self.room = Room(self.cloth, [*lines, *ground.frame(self.cloth)])
        for box in around.foreign:
            self.room.take(box)
        self.laid = pieces.laid(lay, view, units, naming)
        for one in self.laid:
            if one.least < NARROW and one.shape is None:
                self.room.narrow.add(one.box)
            if one.shape:
                self._outline(one)
        self.work = Work(lay, units)
        self.inside: dict[str, Box | Slab] = {}
        self.forms: dict[Stance, int] = {}
        self.keyed: set[str] = set()
        self.top: list[Tag] = []
        self.bottom: list[Tag] = []
        self.edge = self.cloth.y1 + depth(units)

    def _outline(self, one: pieces.Laid) -> None:
        """Keep labels off the outline of a shaped piece."""
        for a, b in edges(one.ring):
            self.room.strokes.add(a, b)

    def down(self, box: Box) -> bool:
        """Whether a thing is nearer the margin below."""
        return box.middle[1] * 2 >= self.cloth.y1

    def draw_under(self) -> None:
        """Draw the cloth, the lines right across it, and the marks that labels must dodge."""
        drawing, view, lay = self.drawing, self.view, self.lay
        stripes = matched.repeat_boxes(view, lay)
        ground.draw_ground(
            drawing, view, lay, [one.ring or one.box for one in self.laid] if stripes else []
        )
        if lay.mode is Mode.SHEARS:
            cutview.draw_lines(drawing, view, lay)
        for one in self.laid:
            marks.draw_lines(drawing, self.room, view, one)
        for box in stripes:
            self.room.faint.add(box)
        matched.draw_diamonds(drawing, self.room, view, lay)

    def number(self, away: frozenset[int]) -> frozenset[int]:
        """Ring every tear; those across the bolt stand above it, with a reading below.

        `away` are the tears whose rings stand in a margin, and so lead there before others
        are placed. Gives those that had no room besides.
        """
        if self.lay.mode is Mode.SHEARS:
            self.top += cutview.ring_tags(self.view, self.work)
            self.bottom += cutview.reading_tags(self.view, self.work, self.edge)
        inner: list[Run] = []
        for run in self.work.runs:
            if self.work.of_bolt(run):
                for tear in run.tears:
                    self._number_across(tear)
            else:
                inner.append(run)
        groups = rings.groups(self.view, inner)
        for group in groups:
            if group.number in away:
                self._lead_away(group)
        return frozenset(
            group.number
            for group in groups
            if group.number not in away
            and not rings.place(self.drawing, self.room, self.view, group, self.weights)
        )

    def _number_across(self, tear: Tear) -> None:
        name, figures = f"{tear.number}", set_fractions(tape_words(tear.at, self.units))
        self.top.append(rings.across_tag(self.view, tear.at, tear.number))
        self.bottom.append(
            rings.reading_tag(self.view, tear.at, name, figures, self.edge, tear.number)
        )

    def _lead_away(self, group: rings.Group) -> None:
        ys = [y for tear in group.tears for _, y in rings.ends(self.view, tear)]
        down = self.down(Box(0, min(ys), 0, max(ys)))
        tails = rings.margin_tails(self.room, self.view, group, down, self.edge if down else 0)
        tag = Tag("ring", group.figures, tails, True, (rings.form(group.figures),), group.number)
        (self.bottom if down else self.top).append(tag)

    def call_out(self, outside: frozenset[str]) -> None:
        """Name the pieces that can't hold their label in the margin."""
        chosen = [one for one in self.laid if one.spot.id in outside]
        for chain in pieces.chains(chosen):
            nearer = self.down(chain[len(chain) // 2].box)
            for down in (nearer, not nearer):
                tag = pieces.call_out(self.room, chain, self.edge if down else 0, down)
                if tag:
                    (self.bottom if down else self.top).append(tag)
                    break
            else:
                raise Crowded

    def name_pieces(self, state: State) -> set[str]:
        """Label every piece that is not named outside; gives the ids of those that must be."""
        failed = set()
        for one in self.laid:
            if one.spot.id in state.outside or self._name(one, state):
                continue
            if state.effort is Effort.BARE:
                self.keyed.add(one.spot.letter)
            else:
                failed.add(one.spot.id)
        return failed

    def _name(self, one: pieces.Laid, state: State) -> bool:
        stance = one.spot.letter, one.tall
        found = pieces.put_full(self.drawing, self.room, one, state.forms.get(stance, 0))
        if found:
            self.forms[stance] = max(self.forms.get(stance, 0), found[0])
            self.inside[one.spot.id] = found[1]
            return True
        narrow = one.least < NARROW
        if state.effort is Effort.FULL and narrow and not one.shape and self.at_margin(one):
            return False
        if pieces.put_key(self.drawing, self.room, one, bare=state.effort is Effort.BARE):
            self.keyed.add(one.spot.letter)
            return True
        return False

    def at_margin(self, one: pieces.Laid) -> bool:
        """Whether no piece of another letter lies between a piece and the nearer margin."""
        x, y = one.heart
        way = Box(x - 1, y, x + 1, self.cloth.y1) if self.down(one.box) else Box(x - 1, 0, x + 1, y)
        return not any(
            other.box.hits(way) for other in self.laid if other.spot.letter != one.spot.letter
        )

    def finish_pieces(self) -> None:
        """Add what is told where room is left: edges, the grain, the names of marks."""
        for one in self.laid:
            if one.under:
                continue
            label = self.inside.get(one.spot.id)
            one_way = self.lay.cloth.one_way
            if one.shape:
                shaped.finish(self.drawing, self.room, self.view, one, label, one_way)
                continue
            marks.name_notches(self.drawing, self.room, self.view, one)
            marks.name_edges(self.drawing, self.room, self.view, one)
            if isinstance(label, Box):
                marks.grain_arrow(self.drawing, self.room, one, label, one_way)
            marks.name_marks(self.drawing, self.room, self.view, one)

    def name_remnants(self, effort: Effort) -> None:
        """Name what is worth keeping, inside or, unless the plan stays bare, in a margin."""
        for number, offcut in enumerate(self.lay.offcuts, 1):
            if offcut.keep:
                size = pieces.remnant_words(offcut.rect.along, offcut.rect.across, self.units)
                lines = (("remnant", False), (size, True))
                self._name_zone(offcut.rect, "remnant", f"offcut-{number}", lines, effort)

    def name_regions(self) -> None:
        """Say where tearing ends and the shears begin: between the pieces, or in a margin."""
        block = beside("", ((FOR_SHEARS, False),), 2)
        for number, region in enumerate(self.lay.regions, 1):
            area, owner = self.view.box(region).grown(-style.PAD), f"region-{number}"
            bare = (box for box in spots(area, *block.size, 24) if not self._covered(box))
            found = next((box for box in bare if self.room.free(box)), None)
            if found is None:
                self._point_at(area, owner, block)
                continue
            # A patch larger than this could hide the outline of a piece.
            self.drawing.field(found.grown(style.CLEAR // 2), style.PAPER)
            block.draw(self.drawing, found)
            self.drawing.label("region", owner, found)
            self.room.take(found)

    def _covered(self, box: Box) -> bool:
        """Whether a piece lies under a box that crosses no outline."""
        x, y = box.middle
        return any(
            where(one.ring, x, y) >= 0 if one.ring else one.box.hits(box)
            for one in self.laid
            if one.box.hits(box)
        )

    def _point_at(self, area: Box, owner: str, block: Block) -> None:
        """Name a region in the nearer margin, with a leader just into it."""
        down = self.down(area)
        edge, y = (self.edge, area.y1) if down else (0, area.y0)
        tail = rings.clearest(self.room, pieces.anchors(area, y), edge)
        if tail:
            tag = Tag("region", owner, (tail,), False, (Form(*block.size, block.draw),))
            (self.bottom if down else self.top).append(tag)

    def name_flaws(self, effort: Effort) -> None:
        """Name every flaw on the bolt, and keep other labels off the small ones."""
        for number, rect in flaws(self.lay).items():
            self._name_zone(rect, "flaw", f"flaw-{number}", (("flaw", True),), effort)
            box = self.view.box(rect)
            if min(box.width, box.height) < NARROW:
                self.room.take(box)

    def _name_zone(
        self, rect: Rect, kind: str, owner: str, lines: tuple[tuple[str, bool], ...], effort: Effort
    ) -> None:
        """Name a zone that is no piece, inside it if it has room."""
        box = self.view.box(rect)
        tall = box.height > box.width
        blocks = choices("", lines, tall)
        if kind == "remnant":
            # The hatching tells what it is; its size alone is worth more than nothing.
            blocks += choices("", lines[1:], tall)
        inside = pieces.put_block(self.drawing, self.room, box, blocks, kind, owner)
        if inside or effort is Effort.BARE or (kind == "remnant" and self.lay.shaped):
            return  # what shaped pieces leave is many scraps, not worth a leader over them
        down = self.down(box)
        edge = self.edge if down else 0
        block = beside("", lines, 2)
        tail = rings.clearest(self.room, pieces.anchors(box, box.middle[1]), edge)
        if tail is None:
            return
        tag = Tag(kind, owner, (tail,), False, (Form(*block.size, block.draw),))
        (self.bottom if down else self.top).append(tag)


def compose(
    lay: Lay,
    view: View,
    units: Units,
    naming: pieces.Naming,
    effort: Effort,
    around: Around = ALONE,
) -> Scene:
    """Draw a cloth at one scale, all but its margins and what is told where room is left.

    Raises `Crowded` where less must be told, as no smaller scale would help.

    Pieces that fail to hold their label are named outside and all is begun again, as
    leaders take room inside; once more if copies of one piece came out in several forms.
    """
    state = State(effort)
    while True:
        scene = Scene(lay, view, units, naming, around)
        scene.draw_under()
        scene.name_flaws(effort)
        away = scene.number(state.away)
        if away:
            state = replace(state, away=state.away | away)
            continue
        scene.name_remnants(effort)
        scene.name_regions()
        scene.call_out(state.outside)
        if sum(len(tag.tails) for tag in scene.top + scene.bottom if not tag.near) > MOST_LEADERS:
            raise Crowded
        failed = scene.name_pieces(state)
        if failed:
            state = replace(state, outside=state.outside | failed)
        elif not state.forms and scene.forms:
            state = replace(state, forms=scene.forms)
        else:
            break
    return scene


def _brief(*margins: Plan) -> set[str]:
    """The letters of pieces called out by their letter alone."""
    return {
        tag.owner.split()[0].rpartition("-")[0]
        for margin in margins
        for tag, form in zip(margin.tags, margin.forms, strict=True)
        if tag.kind == "call-out" and form is not tag.forms[0]
    }


def finish(scene: Scene, span: tuple[int, int]) -> Sight | None:
    """Add the margins, between two places across the page; None where they have no room."""
    above, below = _fit(scene.top, span), _fit(scene.bottom, span)
    if above is None or below is None:
        return None
    drawing, view = Drawing(), scene.view
    drawing.take(scene.drawing, 0, 0)
    draw_tape(
        drawing, view, scene.units, [tail[-1][0] for tag in scene.bottom for tail in tag.tails]
    )
    name_sides(drawing, view, scene.lay, scene.beyond)
    above.draw(drawing, 0, down=False)
    below.draw(drawing, scene.edge, down=True)
    keyed = frozenset(scene.keyed | _brief(above, below))
    return Sight(view, drawing, above.depth, depth(scene.units) + below.depth, keyed)


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
    runs = sorted([int(number) for number in re.findall(r"\d+", tag.owner)] for tag in (a, b))
    # Only tears that go on without a gap may be told with a dash.
    whole = not {*a.owner, *b.owner} & {"…", ","} and runs[0][-1] + 1 == runs[1][0]
    owner = f"{runs[0][0]}{'–' if whole else '…'}{max(map(max, runs))}"
    if a.kind == "ring":
        return joined(a, b, owner, (rings.form(owner),))
    return joined(a, b, owner, a.forms)
