"""Tear numbers in rings: on the tear, beside it on a short leader, or out in the margin."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from marker.lay import Direction, Lay, Tear
from marker.plan.drawing import style
from marker.plan.drawing.labels import Room, along, ring_spots
from marker.plan.drawing.lettering import width
from marker.plan.drawing.page import Box, Point, View, around
from marker.plan.drawing.verbs import Drawing
from marker.plan.lays.margins import Form, Tag
from marker.plan.words.runs import Run
from marker.units import METRE

MOST_CROSSED = 4
"""A leader that would run over more lines than this, its own among them, goes to the margin."""
LONGEST_SINGLE = 3
"""Close parallel tears beyond this number share one ring: "7–12"."""


def middle_line(size: int) -> int:
    """From the middle of a line of figures or capitals down to its base line."""
    return size * 345 // 1000


def ends(view: View, tear: Tear) -> tuple[Point, Point]:
    """The two ends of a tear on the page, the lower left one first."""
    hand = tear.in_hand
    if tear.direction is Direction.ACROSS:
        return view.point((tear.at, hand.y0)), view.point((tear.at, hand.y1))
    return view.point((hand.x0, tear.at)), view.point((hand.x1, tear.at))


def line_box(view: View, tear: Tear, weight: int) -> Box:
    """The paper that a tear line covers."""
    (x0, y0), (x1, y1) = ends(view, tear)
    half = weight // 2
    return Box(min(x0, x1) - half, min(y0, y1) - half, max(x0, x1) + half, max(y0, y1) + half)


def weights(view: View, lay: Lay) -> dict[int, int]:
    """The weight of each tear line: thinner where it nearly touches the next line on the page."""
    found = {}
    bolt = lay.bolt
    for way in Direction:
        lines = sorted((t for t in lay.tears if t.direction is way), key=lambda t: t.at)
        ends = (bolt.x0, bolt.x1) if way is Direction.ACROSS else (bolt.y0, bolt.y1)
        before, after = _next_beside(lines), _next_beside(lines[::-1])
        for tear in lines:
            near = [abs(at - tear.at) for at in ends if at != tear.at]
            near += (gaps[tear.number] for gaps in (before, after) if tear.number in gaps)
            most = style.CUT if tear.cut else style.TEAR
            least = min(near, default=0)
            found[tear.number] = min(most, max(view.length(least) * 2 // 5, style.TEAR_LEAST))
    return {tear.number: found[tear.number] for tear in lay.tears}


def _next_beside(lines: Sequence[Tear]) -> dict[int, int]:
    """How far off the last line before each of some runs beside it, where one does.

    They come in order of place, one way or the other. Lines are looked for among those alone that
    share a metre of their length with it: a long bolt has thousands.
    """
    found: dict[int, int] = {}
    known: dict[int, list[Tear]] = {}
    for tear in lines:
        low, high = _span(tear)
        for metre in range(low // METRE, high // METRE + 1):
            others = known.setdefault(metre, [])
            for other in reversed(others):
                start, end = _span(other)
                if other.at != tear.at and start < high and low < end:
                    gap = abs(other.at - tear.at)
                    found[tear.number] = min(gap, found.get(tear.number, gap))
                    break
            others.append(tear)
    return found


def _size(view: View, tear: Tear) -> int:
    low, high = _span(tear)
    return view.length(high - low)


def _span(tear: Tear) -> tuple[int, int]:
    hand = tear.in_hand
    return (hand.y0, hand.y1) if tear.direction is Direction.ACROSS else (hand.x0, hand.x1)


@dataclass(frozen=True)
class Group:
    """Tears that share a ring: close parallel ones, or short ones in line, end to end."""

    tears: tuple[Tear, ...]
    in_line: bool = False

    @property
    def number(self) -> int:
        """The first of its tears."""
        return self.tears[0].number

    @property
    def figures(self) -> str:
        """What stands in the ring: "7", "7–12" for a whole run, "7, 9" or "7…15" for some."""
        numbers = sorted(tear.number for tear in self.tears)
        if len(numbers) == 1:
            return f"{numbers[0]}"
        if numbers[-1] - numbers[0] == len(numbers) - 1:
            return f"{numbers[0]}–{numbers[-1]}"
        mark = ", " if len(numbers) == 2 else "…"
        return f"{numbers[0]}{mark}{numbers[-1]}"


def form(figures: str) -> Form:
    """A ring just large enough for its figures."""
    size = style.FIGURE if len(figures) < 3 else style.LEAST + 20
    room = width(figures, size, bold=True)
    broad = 2 * style.RADIUS if len(figures) < 4 else room + style.RADIUS
    return Form(broad, 2 * style.RADIUS, lambda drawing, box: draw(drawing, box, figures, size))


def draw(drawing: Drawing, box: Box, figures: str, size: int) -> None:
    """Draw a ring and its figures."""
    x, y = box.middle
    drawing.field(box, style.PAPER, weight=style.RING, radius=style.RADIUS)
    drawing.words((x, y + middle_line(size)), figures, size, bold=True, anchor="middle")


def across_tag(view: View, at: int, number: int) -> Tag:
    """The ring of a tear or cut across the bolt, above the cloth."""
    figures = f"{number}"
    return Tag("ring", figures, (((view.x(at), 0),),), True, (form(figures),), number)


def reading_tag(view: View, at: int, owner: str, figures: str, edge: int, rank: int = 0) -> Tag:
    """A tape reading below the cloth, such as that of a tear across the bolt."""
    size = style.READING
    room, tall = width(figures, size, bold=True), size * 3 // 4

    def flat(drawing: Drawing, box: Box) -> None:
        drawing.words((box.middle[0], box.y1), figures, size, bold=True, anchor="middle")

    def turned(drawing: Drawing, box: Box) -> None:
        place = box.middle[0] + middle_line(style.SMALL), box.y0
        drawing.words(place, figures, style.SMALL, bold=True, anchor="end", turned=True)

    small = width(figures, style.SMALL, bold=True)
    forms = (Form(room, tall, flat), Form(style.SMALL, small, turned))
    return Tag("reading", owner, (((view.x(at), edge),),), True, forms, rank)


def groups(view: View, runs: Sequence[Run]) -> list[Group]:
    """The tears of many runs as they share rings.

    One each, but close parallel tears of a run together, and also short tears that make one
    line through neighbouring parts.
    """
    found: list[Group] = []
    short: dict[tuple[Direction, int], list[Tear]] = {}
    for run in runs:
        for cluster in _clusters(view, run):
            if len(cluster) > LONGEST_SINGLE:
                found.append(Group(cluster))
                continue
            for tear in cluster:
                if _size(view, tear) < 2 * style.RADIUS + 150:
                    short.setdefault((tear.direction, tear.at), []).append(tear)
                else:
                    found.append(Group((tear,)))
    for tears in short.values():
        found += _in_line(sorted(tears, key=_span))
    return sorted(found, key=lambda group: group.tears[0].number)


def _clusters(view: View, run: Run) -> list[tuple[Tear, ...]]:
    """Part a run where there is room for two rings side by side."""
    found = [[run.tears[0]]]
    for a, b in pairwise(run.tears):
        if view.length(b.at - a.at) < 2 * style.RADIUS + style.GAP:
            found[-1].append(b)
        else:
            found.append([b])
    return [tuple(cluster) for cluster in found]


def _in_line(tears: list[Tear]) -> list[Group]:
    """Part tears on one line into those that touch end to end."""
    found = [[tears[0]]]
    for a, b in pairwise(tears):
        if _span(b)[0] == _span(a)[1]:
            found[-1].append(b)
        else:
            found.append([b])
    return [Group(tuple(part), in_line=len(part) > 1) for part in found]


def place(drawing: Drawing, room: Room, view: View, group: Group, heavy: dict[int, int]) -> bool:
    """Ring a group of tears where it lies; tells whether there was room."""
    if len(group.tears) > 1 and not group.in_line:
        return _together(drawing, room, view, group)
    tear = group.tears[0]
    if len(group.tears) == 1:
        own = line_box(view, tear, heavy[tear.number])
        if _on_line(drawing, room, view, tear, own):
            return True
    return _beside(drawing, room, view, group)


def _on_line(drawing: Drawing, room: Room, view: View, tear: Tear, own: Box) -> bool:
    shape = form(f"{tear.number}")
    a, b = ends(view, tear)
    if abs(b[0] - a[0]) + abs(b[1] - a[1]) < shape.width + 150:
        return False
    boxes = [around(x, y, shape.width, shape.height) for x, y in along(a, b)]
    for box in sorted(boxes, key=lambda box: not room.spares(box)):
        if room.free(box, but=own):
            _keep(drawing, room, box, shape, f"{tear.number}")
            return True
    return False


def _beside(drawing: Drawing, room: Room, view: View, group: Group) -> bool:
    """Ring a group next to it, on the leader that runs over fewest tears."""
    shape = form(group.figures)
    level = group.tears[0].direction is Direction.ALONG
    best: tuple[int, Point, Point, Box] | None = None
    for anchor in _anchors(view, group):
        for end, box in ring_spots(anchor, level, shape.width, shape.height):
            narrow = 2 * (not room.spares(box))
            # What stands on a narrow piece can't be better than what crosses as little.
            if (best and narrow >= best[0]) or not room.free(box) or not room.clear(anchor, end):
                continue
            over = room.crossings(anchor, end) + narrow
            if best is None or over < best[0]:
                best = over, anchor, end, box
            if over <= 1:
                break
        if best and best[0] <= 1:
            break
    if best is None or best[0] > MOST_CROSSED:
        return False
    _, anchor, end, box = best
    _lead(drawing, room, (anchor, end))
    drawing.dots([anchor] if len(group.tears) == 1 else _anchors(view, group))
    _keep(drawing, room, box, shape, group.figures)
    return True


def _anchors(view: View, group: Group) -> list[Point]:
    """Where a leader may start: along a tear, or at the middle of each one of a line."""
    if len(group.tears) == 1:
        return list(along(*ends(view, group.tears[0])))
    found = []
    for tear in group.tears:
        (x0, y0), (x1, y1) = ends(view, tear)
        found.append(((x0 + x1) // 2, (y0 + y1) // 2))
    return found[::-1]


def _together(drawing: Drawing, room: Room, view: View, group: Group) -> bool:
    """One ring for a whole run of close tears, its leader dotted on each of them."""
    tears, shape = group.tears, form(group.figures)
    level = tears[0].direction is Direction.ALONG
    first, last = ends(view, tears[0]), ends(view, tears[-1])
    for near, far in zip(along(*first), along(*last), strict=True):
        for start, stop in ((near, far), (far, near)):
            for end, box in ring_spots(stop, level, shape.width, shape.height):
                straight = end[0] == start[0] if level else end[1] == start[1]
                if straight and room.free(box) and room.clear(start, end):
                    points = [
                        (start[0], view.y(tear.at)) if level else (view.x(tear.at), start[1])
                        for tear in tears
                    ]
                    if not box.crossed(start, stop):
                        _lead(drawing, room, (start, end))
                        drawing.dots(points)
                        _keep(drawing, room, box, shape, group.figures)
                        return True
    return False


def _lead(drawing: Drawing, room: Room, points: tuple[Point, Point]) -> None:
    drawing.leader(*points)
    room.run(*points)


def _keep(drawing: Drawing, room: Room, box: Box, shape: Form, owner: str) -> None:
    shape.draw(drawing, box)
    drawing.label("ring", owner, box)
    room.take(box)


def margin_tails(
    room: Room, view: View, group: Group, down: bool, edge: int
) -> tuple[tuple[Point, ...], ...]:
    """Straight leaders from a group of tears to the cloth's edge, where the way is clearest."""
    tears = group.tears
    if group.in_line:
        dots = _anchors(view, group)
        found = clearest(room, dots, edge) or (dots[0], (dots[0][0], edge))
        room.run(*found)
        return ((*dots, *found),)
    if tears[0].direction is Direction.ACROSS:
        tails = []
        for tear in tears:
            low, high = ends(view, tear)
            tail = (low if down else high, (low[0], edge))
            room.run(*tail)
            tails.append(tail)
        return tuple(tails)
    farthest = tears[-1] if down else tears[0]
    anchors = list(along(*ends(view, farthest)))
    (x, y), end = clearest(room, anchors, edge) or (anchors[0], (anchors[0][0], edge))
    room.run((x, y), end)
    return (((x, y), end),)


def clearest(room: Room, anchors: list[Point], edge: int) -> tuple[Point, Point] | None:
    """The upright leader from one of these places to an edge that crosses fewest tears.

    None where each would run over a label or meet another leader.
    """
    clear = [(x, y) for x, y in anchors if room.clear((x, y), (x, edge))]
    if not clear:
        return None
    x, y = min(clear, key=lambda point: room.crossings(point, (point[0], edge)))
    room.run((x, y), (x, edge))
    return (x, y), (x, edge)
