"""The two margins along the cloth: rings, tape readings and call-outs on fanned leaders.

A margin is a stack of rows, the nearest to the cloth first. A tag stands in one row; its
leader takes a narrow slot in every row before that. Each row is spread on its own, in the
order of the cloth, so no two leaders ever cross.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from itertools import pairwise, product

from marker.plan.drawing import style
from marker.plan.drawing.labels import spread
from marker.plan.drawing.page import Box, Point
from marker.plan.drawing.verbs import Drawing

Draw = Callable[[Drawing, Box], None]
SLOT = 170
"""The room a leader takes where it passes between labels."""
ROW_GAP = 260
MOST_FAR_ROWS = 3


@dataclass(frozen=True)
class Form:
    """One way to draw a tag."""

    width: int
    height: int
    draw: Draw


@dataclass(frozen=True)
class Tag:
    """A label in a margin.

    `tails` run from what it tells of to the cloth's edge. Near tags (rings, readings) stand
    next to the cloth, far ones (call-outs) beyond. `forms` go from the fullest to the least;
    `rank` keeps the order of work among tags that stand at one place.
    """

    kind: str
    owner: str
    tails: tuple[tuple[Point, ...], ...]
    near: bool
    forms: tuple[Form, ...]
    rank: int = 0

    @property
    def at(self) -> int:
        """Where along the cloth it would stand best."""
        return sum(tail[-1][0] for tail in self.tails) // len(self.tails)


@dataclass(frozen=True)
class Row:
    """One row of a margin: the centre of each tag that stands in it or passes through."""

    centres: dict[int, int]
    height: int


@dataclass(frozen=True)
class Plan:
    """A margin worked out: the rows, and for each tag its row and its form."""

    tags: tuple[Tag, ...]
    seats: tuple[int, ...]
    forms: tuple[Form, ...]
    rows: tuple[Row, ...]

    @property
    def gaps(self) -> list[int]:
        """The space before each row, deeper where leaders have far to go sideways."""
        places = [tag.at for tag in self.tags]
        gaps = []
        for number, row in enumerate(self.rows):
            far = max((abs(x - places[i]) for i, x in row.centres.items()), default=0)
            gaps.append((ROW_GAP if number else 200) + min(far // 5, 350))
            places = [row.centres.get(i, x) for i, x in enumerate(places)]
        return gaps

    @property
    def depth(self) -> int:
        """How far the margin reaches from the edge it starts at."""
        return sum(self.gaps) + sum(row.height for row in self.rows)

    def draw(self, drawing: Drawing, edge: int, down: bool) -> None:
        """Draw every tag with its leader; `edge` is where the margin starts."""
        sign = 1 if down else -1
        levels, at = [], edge
        for gap, row in zip(self.gaps, self.rows, strict=True):
            near = at + sign * gap
            at = near + sign * row.height
            levels.append((near, at))
        for index, tag in enumerate(self.tags):
            seat, form = self.seats[index], self.forms[index]
            path: list[Point] = []
            for number in range(seat + 1):
                x = self.rows[number].centres[index]
                path += [(x, level) for level in levels[number]]
            x, near = path[-2]
            for tail in tag.tails:
                drawing.leader(*tail, (tail[-1][0], edge), *path[:-1])
                drawing.dots(tail[:-1])
            left, top = x - form.width // 2, near if down else near - form.height
            box = Box(left, top, left + form.width, top + form.height)
            form.draw(drawing, box)
            drawing.label(tag.kind, tag.owner, box)


def plan(tags: list[Tag], low: int, high: int) -> Plan | None:
    """Work a margin out between `low` and `high`; None where its tags can't all stand."""
    ordered = tuple(sorted(tags, key=lambda tag: (tag.at, tag.rank)))
    if not ordered:
        return Plan((), (), (), ())
    near_forms = max((len(tag.forms) for tag in ordered if tag.near), default=1)
    far_forms = max((len(tag.forms) for tag in ordered if not tag.near), default=1)
    far_rows = MOST_FAR_ROWS if any(not tag.near for tag in ordered) else 1
    near_rows = 2 if any(tag.near for tag in ordered) else 1
    for far, far_form, near_form, near in product(
        range(1, far_rows + 1), range(far_forms), range(near_forms), range(1, near_rows + 1)
    ):
        found = _try(ordered, (near, far), (near_form, far_form), (low, high))
        if found:
            return found
    return None


def _try(
    tags: tuple[Tag, ...], rows: tuple[int, int], form: tuple[int, int], span: tuple[int, int]
) -> Plan | None:
    """Spread every row of one arrangement; None if a row is too full."""
    forms, seats = [], []
    near_rows = rows[0] if any(tag.near for tag in tags) else 0
    near_count = far_count = 0
    for tag in tags:
        forms.append(tag.forms[min(form[0 if tag.near else 1], len(tag.forms) - 1)])
        if tag.near:
            seats.append(near_count % rows[0])
            near_count += 1
        else:
            seats.append(near_rows + far_count % rows[1])
            far_count += 1
    found, places = [], [tag.at for tag in tags]
    for number in range(max(seats) + 1):
        members = [i for i, seat in enumerate(seats) if seat >= number]
        widths = [forms[i].width + 2 * style.GAP if seats[i] == number else SLOT for i in members]
        centres = spread([places[i] for i in members], widths, *span)
        if centres is None:
            return None
        row = dict(zip(members, centres, strict=True))
        places = [row.get(i, x) for i, x in enumerate(places)]
        height = max((forms[i].height for i in members if seats[i] == number), default=0)
        found.append(Row(row, height))
    return Plan(tags, tuple(seats), tuple(forms), tuple(found))


def merge(tags: list[Tag], join: Callable[[Tag, Tag], Tag]) -> list[Tag] | None:
    """Join the closest two near tags of one kind; None if there are no two.

    Neighbours come first; only where none are left is one joined past a tag of another kind.
    """
    ordered = sorted(tags, key=lambda tag: (tag.at, tag.rank))
    near = [i for i, tag in enumerate(ordered) if tag.near]
    kinds = {ordered[i].kind for i in near}
    alike = [(a, b) for a, b in pairwise(near) if ordered[a].kind == ordered[b].kind] or [
        pair
        for kind in sorted(kinds)
        for pair in pairwise(i for i in near if ordered[i].kind == kind)
    ]
    if not alike:
        return None
    a, b = min(alike, key=lambda pair: (ordered[pair[1]].at - ordered[pair[0]].at, pair))
    joined = join(ordered[a], ordered[b])
    return [tag for i, tag in enumerate(ordered) if i not in (a, b)] + [joined]


def joined(a: Tag, b: Tag, owner: str, forms: tuple[Form, ...]) -> Tag:
    """Two tags as one, with the leaders of both."""
    return replace(a, owner=owner, tails=a.tails + b.tails, forms=forms)
