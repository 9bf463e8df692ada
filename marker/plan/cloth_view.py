"""The cloth on the page: everything drawn on it and in its two margins."""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace
from enum import IntEnum

from marker.lay import Lay
from marker.plan import marks, pieces, rings, style
from marker.plan.blocks import beside, choices
from marker.plan.labels import Room
from marker.plan.margins import Form, Plan, Tag, joined, merge, plan
from marker.plan.page import Box, View
from marker.plan.runs import Run, Work, reading
from marker.plan.tape import draw_tape, name_sides
from marker.plan.verbs import Drawing, hatch
from marker.units import System, set_fractions

Shape = tuple[str, bool]
"""A letter, and whether the piece stands higher than it is broad."""
MOST_LEADERS = 16
NARROW = 800
"""A ring and a label can't stand side by side in a piece narrower than this on paper."""


class Crowded(Exception):
    """So many pieces would be called out that no one could follow the leaders."""


class Effort(IntEnum):
    """How much is told on the plan itself."""

    FULL = 0
    """Pieces too small for their label are called out to the margin."""
    KEYS = 1
    """They get a key inside; only those too small for that are called out."""
    BARE = 2
    """None is called out; the smallest get nothing."""


@dataclass(frozen=True)
class State:
    """What earlier attempts at one scale have taught."""

    effort: Effort
    away: frozenset[int] = frozenset()
    """Tears whose ring has no room but in a margin."""
    outside: frozenset[str] = frozenset()
    """Pieces named in a margin."""
    forms: dict[Shape, int] = field(default_factory=dict)
    """The fullest form of label that every copy of a piece can hold."""


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

    def __init__(self, lay: Lay, view: View, units: System, wearers: bool) -> None:
        self.lay, self.view, self.units = lay, view, units
        self.cloth = view.box(view.bolt)
        self.drawing = Drawing()
        self.weights = rings.weights(view, lay)
        lines = [rings.line_box(view, tear, self.weights[tear.number]) for tear in lay.tears]
        self.room = Room(self.cloth, [*lines, *_frame(self.cloth)])
        self.laid = pieces.laid(lay, view, units, wearers)
        for one in self.laid:
            if min(one.box.width, one.box.height) < NARROW:
                self.room.narrow.add(one.box)
        self.work = Work(lay, units)
        self.inside: dict[str, Box] = {}
        self.forms: dict[Shape, int] = {}
        self.keyed: set[str] = set()
        self.top: list[Tag] = []
        self.bottom: list[Tag] = []
        self.edge = self.cloth.y1 + style.TAPE

    def down(self, box: Box) -> bool:
        """Whether a thing is nearer the margin below."""
        return box.middle[1] * 2 >= self.cloth.y1

    def draw_marks(self) -> None:
        """Draw the lines and notches of every piece, before the rings and labels over them."""
        for one in self.laid:
            marks.draw_lines(self.drawing, self.room, self.view, one)

    def number(self, away: frozenset[int]) -> frozenset[int]:
        """Ring every tear; those across the bolt stand above it, with a reading below.

        `away` are the tears whose rings stand in a margin, and so lead there before others
        are placed. Gives those that had no room besides.
        """
        inner: list[Run] = []
        for run in self.work.runs:
            if self.work.of_bolt(run):
                for tear in run.tears:
                    self.top.append(rings.across_tag(self.view, tear))
                    figures = set_fractions(reading(tear.at, self.units))
                    self.bottom.append(rings.reading_tag(self.view, tear, figures, self.edge))
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
        shape = one.spot.letter, one.tall
        found = pieces.put_full(self.drawing, self.room, one, state.forms.get(shape, 0))
        if found:
            self.forms[shape] = max(self.forms.get(shape, 0), found[0])
            self.inside[one.spot.id] = found[1]
            return True
        narrow = min(one.box.width, one.box.height) < NARROW
        if state.effort is Effort.FULL and narrow and self.at_margin(one):
            return False
        if pieces.put_key(self.drawing, self.room, one):
            self.keyed.add(one.spot.letter)
            return True
        return False

    def at_margin(self, one: pieces.Laid) -> bool:
        """Whether no piece of another letter lies between a piece and the nearer margin."""
        x, y = one.box.middle
        way = Box(x - 1, y, x + 1, self.cloth.y1) if self.down(one.box) else Box(x - 1, 0, x + 1, y)
        return not any(
            other.box.hits(way) for other in self.laid if other.spot.letter != one.spot.letter
        )

    def finish_pieces(self) -> None:
        """Add what is told where room is left: edges, the grain, the names of marks."""
        for one in self.laid:
            marks.name_edges(self.drawing, self.room, self.view, one)
            if one.spot.id in self.inside:
                label = self.inside[one.spot.id]
                marks.grain_arrow(self.drawing, self.room, one, label, self.lay.cloth.one_way)
            marks.name_marks(self.drawing, self.room, self.view, one)

    def name_remnants(self, effort: Effort) -> None:
        """Name what is worth keeping, inside or, unless the plan stays bare, in a margin."""
        for number, offcut in enumerate(self.lay.offcuts, 1):
            if not offcut.keep:
                continue
            box = self.view.box(offcut.rect)
            size = pieces.remnant_words(offcut.rect.along, offcut.rect.across, self.units)
            lines = (("remnant", False), (size, True))
            blocks = choices("", lines, box.height > box.width)
            owner = f"offcut-{number}"
            inside = pieces.put_block(self.drawing, self.room, box, blocks, "remnant", owner)
            if inside or effort is Effort.BARE:
                continue
            down = self.down(box)
            edge = self.edge if down else 0
            block = beside("", lines, 2)
            form = Form(*block.size, block.draw)
            tail = rings.clearest(self.room, pieces.anchors(box, box.middle[1]), edge)
            if tail is None:
                continue
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


def compose(lay: Lay, view: View, units: System, wearers: bool, effort: Effort) -> Scene:
    """Draw a cloth at one scale, all but its margins.

    Raises `Crowded` where less must be told, as no smaller scale would help.

    Pieces that fail to hold their label are named outside and all is begun again, as
    leaders take room inside; once more if copies of one piece came out in several forms.
    """
    state = State(effort)
    while True:
        scene = Scene(lay, view, units, wearers)
        scene.ground()
        scene.draw_marks()
        away = scene.number(state.away)
        if away:
            state = replace(state, away=state.away | away)
            continue
        scene.name_remnants(effort)
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
    scene.finish_pieces()
    return scene


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
    name_sides(drawing, view)
    above.draw(drawing, 0, down=False)
    below.draw(drawing, scene.edge, down=True)
    return Sight(view, drawing, above.depth, style.TAPE + below.depth, frozenset(scene.keyed))


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
