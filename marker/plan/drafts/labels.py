"""The words on the figure of a draft, each in the first free place near what it names."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import pairwise

from marker.geometry.curves import Arc, Spot
from marker.geometry.segments import edges, where
from marker.piece import Mark
from marker.plan.drafts.draft import Draft, Stretch, ends
from marker.plan.drawing import style
from marker.plan.drawing.lettering import DESCENT, clean, clip, height, width
from marker.plan.drawing.page import Box, Point, View
from marker.plan.drawing.slabs import Slab, meet
from marker.plan.drawing.verbs import Drawing
from marker.units import CM, Units

Run = tuple[Point, Point]
Place = tuple[Point, int]
"""A middle on the paper, and the angle of the words about it."""
BESIDE = 1000
"""Room round the piece for numbers and figures."""
CROSS = 130
"""Half the size of the cross at a centre."""
AWAY = 250
"""How far a number or a name stands off its corner or its edge."""
APART, CLEAR = 20, 30
"""Between two labels, and between a label and a line."""
FAR_OFF = 420
"""No notch is named from farther than this past its inner end."""
SLIDES = (0.5, 0.35, 0.65, 0.25, 0.75, 0.15, 0.85)
"""Where along an edge its name is tried."""
OVERHANG = 165
"""A name may be this much longer than its edge, per cent."""
NOTCH_ROOM = 450
"""So much more of an edge than half its name is left free on either side of a notch."""
ASIDE = (0.5, -0.5, 0.9, -0.9)
"""How far a notch's name may stand aside of it, in halves of the name."""
SLANT = 0.3
"""A notch that leans no more than this is level or upright."""
WAYS = (0, 180, 90, 270, 45, 315, 135, 225)
"""Where a centre's name is tried round it, degrees; straight below first."""


@dataclass
class Sheet:
    """The figure while it is drawn, and the paper that is taken on it.

    `hard` lines no label may cross; `soft` ones, such as the box, the radii and the lines
    inside, are crossed only where there is no other room.
    """

    draft: Draft
    view: View
    units: Units
    whole: Box
    drawing: Drawing = field(default_factory=Drawing)
    taken: list[Slab] = field(default_factory=list)
    hard: list[Run] = field(default_factory=list)
    soft: list[Run] = field(default_factory=list)

    def __post_init__(self) -> None:
        """Keep every label off the outline."""
        self.hard += edges(self.ring)

    @cached_property
    def ring(self) -> tuple[Point, ...]:
        """The outline as points fine enough for print."""
        return tuple(spot for stretch in self.draft.stretches for spot in self._points(stretch))

    def _points(self, stretch: Stretch) -> list[Point]:
        parts = 1 if stretch.straight else max(8, math.ceil(stretch.length / (CM / 2)))
        parts = min(parts, 400)
        return [self.at(stretch.edge.at(stretch.length * i / parts)[0]) for i in range(parts)]

    def at(self, spot: Spot) -> Point:
        """A place of the piece's frame on the paper."""
        x, y = self.view.point((round(spot[0]), round(spot[1])))
        return x + BESIDE, y + BESIDE

    def spot(self, at: Point) -> Spot:
        """A place on the paper in the piece's frame."""
        rect, n = self.view.bolt, self.view.n
        return rect.x0 + (at[0] - BESIDE) * n * 8 / 5, rect.y1 - (at[1] - BESIDE) * n * 8 / 5

    def line(
        self,
        run: Sequence[Point],
        *,
        weight: int,
        colour: str = style.INK,
        dash: tuple[int, ...] = (),
    ) -> None:
        """Stroke a line that labels dodge where they can."""
        self.drawing.path(tuple(run), weight=weight, colour=colour, dash=dash)
        self.soft += pairwise(run)

    def take(self, kind: str, owner: str, slab: Slab) -> None:
        """Mark paper as taken by a label."""
        self.taken.append(slab)
        self.drawing.label(kind, owner, slab)

    def free(self, slab: Slab) -> bool:
        """Whether a label may stand there: on the paper, clear of labels and of hard lines."""
        wide = slab.grown(APART)
        return (
            self.whole.holds(slab.box)
            and not any(meet(wide.corners, other.corners) for other in self.taken)
            and not _crossed(slab, self.hard)
        )

    def inside(self, at: Point) -> bool:
        """Whether a place on the paper is in the piece."""
        return where(self.ring, *at) > 0

    def over_lines(self, slab: Slab) -> bool:
        """Whether a soft line runs under a place."""
        return _crossed(slab, self.soft)

    def put(
        self, at: Point, text: str, size: int, kind: str, *, bold: bool = False, angle: int = 0
    ) -> None:
        """Set words with their middle at a place, over lines on a patch."""
        slab = self.slab((at, angle), text, size, bold=bold)
        if self.over_lines(slab):
            self.drawing.solid(slab.corners, style.TINT if self.inside(at) else style.PAPER)
        base = slab.point(0, slab.height / 2 - size * DESCENT / 1000)
        self.drawing.words(base, text, size, bold=bold, anchor="middle", angle=angle)
        self.take(kind, text, slab)

    def slab(self, place: Place, text: str, size: int, *, bold: bool = False) -> Slab:
        """The paper that words take at a place."""
        at, angle = place
        return Slab(at, width(text, size, bold=bold), height(size), angle)

    def seat(
        self,
        places: Iterable[Place],
        text: str,
        size: int,
        kind: str,
        *,
        bold: bool = False,
        dodge: bool = False,
    ) -> bool:
        """Set words at the first free place, best clear of soft lines too; tells whether any is.

        `dodge`: they stand clear of soft lines or nowhere.
        """
        second: Place | None = None
        for place in places:
            slab = self.slab(place, text, size, bold=bold)
            if not self.free(slab):
                continue
            if not self.over_lines(slab):
                self.put(place[0], text, size, kind, bold=bold, angle=place[1])
                return True
            second = second or place
        if second is None or dodge:
            return False
        self.put(second[0], text, size, kind, bold=bold, angle=second[1])
        return True


def _crossed(slab: Slab, runs: Iterable[Run]) -> bool:
    """Whether a line runs through a place or close by it."""
    near = slab.grown(CLEAR)
    box, over = near.box, near.corners
    return any(
        max(a[0], b[0]) > box.x0
        and min(a[0], b[0]) < box.x1
        and max(a[1], b[1]) > box.y0
        and min(a[1], b[1]) < box.y1
        and meet(over, (a, b))
        for a, b in runs
    )


def number_corners(sheet: Sheet) -> None:
    """The number of every corner, outside it."""
    stretches = sheet.draft.stretches
    for number, corner in enumerate(sheet.draft.corners):
        before, after = stretches[number - 1], stretches[number]
        a, b = before.edge.at(before.length)[1], after.edge.at(0)[1]
        # Outside lies to the right of either way round; between the two at a corner.
        out = math.atan2(-a[0] - b[0], a[1] + b[1])
        places = _round(sheet.at(corner), out, (AWAY, AWAY + 160, AWAY + 320))
        sheet.seat(places, str(number + 1), style.SMALL, "corner", bold=True)


def _round(at: Point, out: float, reaches: tuple[int, ...]) -> Iterator[Place]:
    """Places about a corner, straight out first, then ever more to either side."""
    for far in reaches:
        for aside in (0, 25, -25, 50, -50, 75, -75):
            way = out + math.radians(aside)
            yield (round(at[0] + math.cos(way) * far), round(at[1] - math.sin(way) * far)), 0


def name_centres(sheet: Sheet, arcs: Sequence[Arc]) -> None:
    """The word at every centre; of several, with the edge it belongs to where that tells."""
    owners: dict[Point, list[str]] = {}
    for stretch in sheet.draft.stretches:
        if stretch.arc in arcs and stretch.arc:
            owners.setdefault(sheet.at(stretch.arc.centre), []).append(stretch.name)
    alone = len(owners) == 1 or len({tuple(names) for names in owners.values()}) < len(owners)
    for at, names in owners.items():
        name = "" if alone else ", ".join(dict.fromkeys(filter(None, names)))
        text = clip(f"centre, {name}" if name else "centre", style.LEAST, 3000)
        sheet.seat(_about(at, width(text, style.LEAST)), text, style.LEAST, "centre")


def _about(at: Point, long: int) -> Iterator[Place]:
    """Places for a level word round a centre, the nearest first."""
    tall = height(style.LEAST)
    for far in (60, 160, 280, 420):
        for way in WAYS:
            x, y = math.sin(math.radians(way)), math.cos(math.radians(way))
            dx, dy = x * (CROSS + far + long / 2), y * (CROSS + far + tall / 2)
            yield (round(at[0] + dx), round(at[1] + dy)), 0


def name_edges(sheet: Sheet) -> None:
    """The name of every edge, along it; edges of one name that follow each other share one."""
    for group in sorted(_groups(sheet.draft.stretches), key=lambda g: max(s.length for _, s in g)):
        for number, stretch in sorted(group, key=lambda one: -one[1].length):
            text = clip(stretch.name, style.SMALL, 4000)
            room = sheet.view.length(round(stretch.length)) * OVERHANG // 100
            if width(text, style.SMALL) <= room:
                places = _along(sheet, number, stretch, width(text, style.SMALL))
                if sheet.seat(places, text, style.SMALL, "edge"):
                    break


def _groups(stretches: Sequence[Stretch]) -> list[list[tuple[int, Stretch]]]:
    """Named stretches that follow each other under one name, the ring closed."""
    found: list[list[tuple[int, Stretch]]] = []
    for number, stretch in enumerate(stretches):
        if (
            found
            and found[-1][-1] == (number - 1, stretches[number - 1])
            and (stretch.name == stretches[number - 1].name)
        ):
            found[-1].append((number, stretch))
        elif stretch.name:
            found.append([(number, stretch)])
    whole = len(found) > 1 and found[0][0][0] == 0 and found[-1][-1][0] == len(stretches) - 1
    if whole and found[0][0][1].name == found[-1][-1][1].name:
        found[0] = [*found.pop(), *found[0]]
    return found


def _along(sheet: Sheet, number: int, stretch: Stretch, long: int) -> Iterator[Place]:
    """Places beside an edge, its middle first: inside it if there is room, else outside.

    Where a notch stands is a place for the notch's own name, and comes last.
    """
    notches = [sheet.at(ends(mark)[0]) for mark in sheet.draft.notches]
    spots = [stretch.edge.at(stretch.length * part) for part in SLIDES]

    def by_notch(spot: Spot) -> bool:
        return any(math.dist(sheet.at(spot), at) < long / 2 + NOTCH_ROOM for at in notches)

    spots.sort(key=lambda spot: by_notch(spot[0]))
    for side, reaches in ((1, (0, 90, 180, 280)), (-1, (0, 120, 240, 360))):
        for more in reaches:
            for spot, way in spots:
                angle = (round(math.degrees(math.atan2(way[1], way[0]))) + 89) % 180 - 89
                x, y = sheet.at(spot)
                far = side * (AWAY + more)
                # Left of the way round is inside; the page's y runs down.
                at = round(x - way[1] * far), round(y - way[0] * far)
                inside = sheet.inside(at)
                if inside == (side > 0) and (not inside or _roomy(sheet, number, at)):
                    yield at, angle


def _roomy(sheet: Sheet, number: int, at: Point) -> bool:
    """Whether no other edge runs as close by a place on the paper."""
    draft, spot = sheet.draft, sheet.spot(at)
    own = draft.off(number, spot)
    others = (other for other in range(len(draft.stretches)) if other != number)
    return all(draft.off(other, spot) > own * 1.2 for other in others)


def name_notches(sheet: Sheet) -> None:
    """The name of every notch inside the piece, past its stroke, where it has room near it."""
    for mark in sheet.draft.notches:
        text = clip(clean(mark.name).partition(" (")[0], style.LEAST, 2200)
        if text:
            places = _past(sheet, mark, width(text, style.LEAST))
            sheet.seat(places, text, style.LEAST, "notch name", dodge=True)


def _past(sheet: Sheet, mark: Mark, long: int) -> Iterator[Place]:
    """Level places past a notch's inner end: straight on, a little aside, or corner to it."""
    a, b = (sheet.at(end) for end in ends(mark))
    run = math.dist(a, b) or 1.0
    dx, dy = (b[0] - a[0]) / run, (b[1] - a[1]) / run
    x, y = long / 2, height(style.LEAST) / 2
    straight = [(dx * x, dy * y), *((aside * x, dy * y) for aside in ASIDE if abs(dy) > SLANT)]
    beside = [(math.copysign(x, dx), side * (y + 2 * CLEAR)) for side in (1, -1)]
    corner = [(math.copysign(x, dx), 0.0), (math.copysign(x, dx), math.copysign(y, dy))]
    ways = [*corner, *straight] if min(abs(dx), abs(dy)) > SLANT else [*straight, *beside]
    for far in (130, 200, 300, FAR_OFF):
        for to_x, to_y in ways:
            at = round(b[0] + dx * far + to_x), round(b[1] + dy * far + to_y)
            if sheet.inside(at) and _nearest(sheet, a, at):
                yield at, 0


def _nearest(sheet: Sheet, own: Point, at: Point) -> bool:
    """Whether no other notch stands nearer to a place."""
    others = (sheet.at(ends(mark)[0]) for mark in sheet.draft.notches)
    return all(math.dist(own, at) <= math.dist(other, at) for other in others)
