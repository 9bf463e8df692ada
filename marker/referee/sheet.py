"""Read a written sheet back, and hold the plans in it against their lays.

A plan is set as its drawing stands, so every piece, tear and leftover of the lay must be found on
one page of the PDF, all moved alike and none scaled, where the drawing has them. The typesetter
rounds, so places agree to a hundredth of a millimetre of paper.
"""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from bisect import bisect_left
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from marker.lay import Lay
from marker.referee.drawing import placed, wanted
from marker.referee.drawn import SVG
from marker.referee.paper import Box, Page, Run, Spot, Unreadable, box_of, pages
from marker.referee.words import plain, several

_NEAR = 0.01
"""How far a line on paper may lie from its place, in millimetres."""


@dataclass(frozen=True)
class _Asked:
    """A shape of the lay as its drawing has it, in millimetres from the drawing's corner."""

    name: str
    box: Box
    ring: Run = ()


class _Drawn:
    """The runs of a page, to be found by where their boxes begin."""

    def __init__(self, page: Page) -> None:
        pairs = sorted((box_of(run), run) for run in page.runs)
        self.boxes, self.runs = [box for box, _ in pairs], [run for _, run in pairs]

    def like(self, wide: float, high: float) -> Iterator[Box]:
        """The boxes of a size."""
        for box in self.boxes:
            if _near(box[2] - box[0], wide) and _near(box[3] - box[1], high):
                yield box

    def shows(self, asked: _Asked, dx: float, dy: float) -> bool:
        """Whether a shape is drawn, so far to the right and down."""
        left, top, right, foot = asked.box
        wanted_box = left + dx, top + dy, right + dx, foot + dy
        at = bisect_left(self.boxes, (wanted_box[0] - _NEAR,))
        while at < len(self.boxes) and self.boxes[at][0] <= wanted_box[0] + _NEAR:
            if all(map(_near, self.boxes[at], wanted_box)):
                moved = [(x + dx, y + dy) for x, y in asked.ring]
                if not moved or _same(self.runs[at], moved):
                    return True
            at += 1
        return False


def check_sheet(pdf: bytes, plans: Iterable[tuple[str, Lay]]) -> tuple[str, ...]:
    """Every plan that the sheet doesn't show as it should, one sentence each.

    `plans` are the drawings that were set, as SVG, each with its lay; the drawings are judged by
    `check_drawing`, not here. Other things on the pages are let be.
    """
    try:
        drawn = [_Drawn(page) for page in pages(pdf)]
    except Unreadable as error:
        return (f"The sheet can't be read back: {error}.",)
    return tuple(fault for svg, lay in plans for fault in _plan_faults(drawn, svg, lay))


def _plan_faults(drawn: Sequence[_Drawn], svg: str, lay: Lay) -> Iterator[str]:
    name = plain(lay.cloth.key)
    shapes = _asked(svg, lay)
    if shapes is None:
        yield f"The plan of cloth {name} doesn't tell its scale, so the sheet can't be judged."
        return
    best = min((missing for page in drawn for missing in _missing(page, shapes)),
               key=len, default=None)  # fmt: skip
    if best is None:
        yield f"No page of the sheet shows the bolt of cloth {name} at its scale."
    elif best:
        yield f"On the sheet, {several(best)} of cloth {name} isn't drawn where it lies."


def _missing(page: _Drawn, shapes: Sequence[_Asked]) -> Iterator[list[str]]:
    """What isn't drawn, for every place on a page where the bolt may be drawn."""
    bolt = next(asked for asked in shapes if asked.name == "bolt")
    left, top, right, foot = bolt.box
    for box in page.like(right - left, foot - top):
        dx, dy = box[0] - left, box[1] - top
        yield [asked.name for asked in shapes if not page.shows(asked, dx, dy)]


def _asked(svg: str, lay: Lay) -> list[_Asked] | None:
    """Where a drawing has the shapes of a lay, on paper; None where it doesn't tell its size."""
    root = ET.fromstring(svg)
    group = next((node for node in root.iter(f"{SVG}g") if node.get("id") == "lay"), None)
    place = None if group is None else placed(group)
    size = re.fullmatch(r"(\d+(?:\.\d+)?)mm", root.get("width", ""))
    box = [float(side) for side in root.get("viewBox", "").replace(",", " ").split()]
    if place is None or size is None or len(box) != 4 or box[2] <= 0:
        return None
    x0, y0, scale = map(float, place)
    unit = float(size[1]) / box[2]

    def at(x: int, y: int) -> Spot:
        return (x0 + scale * x - box[0]) * unit, (y0 - scale * y - box[1]) * unit

    found = []
    for name, shape in wanted(lay).items():
        rect, ring = shape.rect, tuple(at(*corner) for corner in shape.ring)
        # The drawing's y runs upwards, that of the paper down.
        found.append(_Asked(name, (*at(rect.x0, rect.y1), *at(rect.x1, rect.y0)), ring))
    return found


def _near(one: float, other: float) -> bool:
    return abs(one - other) <= _NEAR


def _same(run: Run, ring: Sequence[Spot]) -> bool:
    """Whether a run goes through the corners of a ring, begun at any, either way round."""
    if len(run) > len(ring):  # it comes back to where it began
        run = run[: len(ring)]
    if len(run) != len(ring):
        return False
    every = range(len(ring))
    return any(
        all(_alike(run[at], way[(start + at) % len(way)]) for at in every)
        for way in (ring, ring[::-1])
        for start in every
        if _alike(run[0], way[start])
    )


def _alike(one: Spot, other: Spot) -> bool:
    return _near(one[0], other[0]) and _near(one[1], other[1])
