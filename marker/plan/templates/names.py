"""Names on a template: its edges, lines and notches, on every page that shows enough of them."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from marker.piece import MarkKind
from marker.plan.drawing import style
from marker.plan.drawing.lettering import height, width
from marker.plan.drawing.page import Box, Point
from marker.plan.drawing.slabs import Slab
from marker.plan.lays.shaped import readable
from marker.plan.templates.desk import Desk, Run, slab_of
from marker.plan.templates.lines import Inner
from marker.plan.templates.shapes import STEP
from marker.plan.templates.tiling import Seen

SIZE = style.LARGE
"""The names of edges; they are read from where one stands."""
FINE = style.OPTION
"""The names of lines and notches."""
AWAY = (90, 200, 340)
"""How far off its line a name is tried."""
SLIDES = (0.5, 0.35, 0.65, 0.2, 0.8, 0.08, 0.92)
"""Where along what shows of a line its name is tried."""
OFTEN = 9000
"""What shows of a line is named again after so much of it."""
KINDS = {
    MarkKind.FOLD: "fold",
    MarkKind.HEM: "hem line",
    MarkKind.SEAM: "seam line",
    MarkKind.CHALK: "chalk mark",
}
"""What a line without a name of its own is called."""
ON_FOLD = "on the fold of the cloth: don't cut here"


def name_edges(desk: Desk, seen: Seen, corner: Point) -> None:
    """Name every edge just inside it, wherever a window shows a stretch of it."""
    for name, spots in seen.template.edges:
        for run in _shown(desk, [seen.point(spot, corner) for spot in spots]):
            _name_run(desk, run, name, SIZE, inside=True)


def name_fold(desk: Desk, runs: Iterable[Run]) -> None:
    """Say what the edge on the fold is for."""
    for run in runs:
        for part in _shown(desk, _closely(run)):
            _name_run(desk, part, ON_FOLD, SIZE, inside=True, bold=True)


def name_grain(desk: Desk, runs: Sequence[Run]) -> None:
    """The word along the grain arrow."""
    either = " (this way, or square to it)" if len(runs) > 1 else ""
    for run in runs[:1]:
        for part in _shown(desk, _closely(run)):
            _name_run(desk, part, f"grain{either}", SIZE)


def name_notches(desk: Desk, lines: Sequence[Inner]) -> None:
    """Name notches past their inner ends; they have the least choice of room, so they go first."""
    for line in lines:
        if line.kind is MarkKind.NOTCH and line.name and _in(desk.free, line.run[-1]):
            _name_notch(desk, line)


def name_lines(desk: Desk, lines: Sequence[Inner], edges: Iterable[str]) -> None:
    """Name seams, folds and hem lines along them."""
    known = set(edges)
    for line in lines:
        if line.kind is MarkKind.NOTCH:
            continue
        name = line.name
        if not name or (line.kind is MarkKind.SEAM and name in {*known, "seam"}):
            name = KINDS[line.kind]
        for part in _shown(desk, _closely(line.run)):
            _name_run(desk, part, name, FINE)


def _closely(run: Run) -> list[Point]:
    """The same line with places on it that lie no further apart than those along an edge."""
    found = [run[0]]
    for a, b in pairwise(run):
        count = max(1, math.ceil(math.dist(a, b) / (STEP * 5 / 8)))
        found += [
            (a[0] + (b[0] - a[0]) * i // count, a[1] + (b[1] - a[1]) * i // count)
            for i in range(1, count + 1)
        ]
    return found


def _shown(desk: Desk, places: Sequence[Point]) -> Iterator[list[Point]]:
    """The stretches of a line that lie in the window, and, of half a piece, follow one another."""
    box = desk.free
    run: list[Point] = []
    for at in places:
        seen = _in(box, at)
        if seen and run and math.dist(run[-1], at) <= 2 * STEP:
            run.append(at)
        else:
            if len(run) > 2:
                yield run
            run = [at] if seen else []
    if len(run) > 2:
        yield run


def _in(box: Box, at: Point) -> bool:
    return box.holds(Box(*at, *at))


def _name_run(
    desk: Desk, run: Sequence[Point], text: str, size: int, *, inside: bool = False,
    bold: bool = False,
) -> None:  # fmt: skip
    """Name what shows of a line, about once in so much of its length."""
    long = sum(math.dist(a, b) for a, b in pairwise(run))
    reach = width(text, size, bold=bold)
    if long < reach // 2:
        return
    parts = max(1, round(long / OFTEN / 2))
    for part in range(parts):
        some = run[len(run) * part // parts : len(run) * (part + 1) // parts]
        desk.seat(_along(desk, some, text, size, inside, bold), text, size, bold=bold)


def _along(
    desk: Desk, run: Sequence[Point], text: str, size: int, inside: bool, bold: bool
) -> Iterator[Slab]:
    """Places for words beside a line, turned as it runs, to be read from below."""
    long, tall = width(text, size, bold=bold), height(size)
    step = max(1.0, math.dist(run[0], run[1])) if len(run) > 1 else 1.0
    half = max(1, round(long / step / 2))
    for away in AWAY:
        for slide in SLIDES:
            middle = round((len(run) - 1) * slide)
            a, b = run[max(0, middle - half)], run[min(len(run) - 1, middle + half)]
            if a == b:
                continue
            angle = readable(math.degrees(math.atan2(a[1] - b[1], b[0] - a[0])))
            # Along a bend the line stands off its own chord; words keep clear of both.
            base = Slab(run[middle], long, tall, angle)
            for off in (away + tall / 2, -away - tall / 2):
                slab = Slab(base.point(0, off), long, tall, angle)
                if not inside or desk.holds(slab.at):
                    yield slab


def _name_notch(desk: Desk, line: Inner) -> None:
    """Set a notch's name level, past its inner end."""
    (x0, y0), (x1, y1) = line.run[0], line.run[-1]
    run = math.hypot(x1 - x0, y1 - y0) or 1.0
    dx, dy = (x1 - x0) / run, (y1 - y0) / run
    text = line.name.partition(" (")[0]
    long, tall = width(text, FINE), height(FINE)
    places = []
    for away in (80, 180, 320):
        reach = away + abs(dx) * long / 2 + abs(dy) * tall / 2
        for aside in (0, long * 2 // 3, -long * 2 // 3):
            x, y = round(x1 + dx * reach), round(y1 + dy * reach)
            at = (x + aside, y) if abs(dy) > abs(dx) else (x, y + aside * tall // max(long, 1))
            places.append(slab_of(at, text, FINE))
    desk.seat(places, text, FINE, kind="notch")
