"""What must hold of every plan: labels apart, on the page, off the tears."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations, pairwise

from marker.lay import Lay, Mode
from marker.plan.drawing.page import Box, Point
from marker.plan.drawing.slabs import corners, meet
from marker.plan.drawing.verbs import Label, Words
from marker.plan.lays import cutview, rings
from marker.plan.lays.layout import Plan


def faults(plan: Plan, lay: Lay) -> list[str]:
    """Every fault of a plan's labels, one sentence each."""
    over = [*_over_tears(plan, lay), *_over_cuts(plan, lay), *_over_outlines(plan, lay)]
    return [*_collisions(plan), *_off_page(plan), *over, *_crossed(plan)]


def tear_boxes(plan: Plan, lay: Lay) -> dict[int, Box]:
    heavy = rings.weights(plan.view, lay)
    return {
        tear.number: rings.line_box(plan.view, tear, heavy[tear.number]).moved(*plan.corner)
        for tear in lay.tears
    }


def _collisions(plan: Plan) -> Iterator[str]:
    for a, b in combinations(plan.drawing.labels, 2):
        if a.box.hits(b.box) and meet(corners(a.slab or a.box), corners(b.slab or b.box)):
            yield f"{a.kind} {a.owner!r} covers {b.kind} {b.owner!r}"


def _off_page(plan: Plan) -> Iterator[str]:
    width, height = plan.paper.size
    page = Box(0, 0, width, height).grown(-500)
    for label in plan.drawing.labels:
        if not page.holds(label.box):
            yield f"{label.kind} {label.owner!r} leaves the page"
    boxes = [label.box.grown(1) for label in plan.drawing.labels]
    for mark in plan.drawing.over:
        if isinstance(mark, Words):
            middle = _middle(mark)
            if not any(box.holds(middle) for box in boxes):
                yield f"the words {mark.text!r} stand in no label"


def _middle(words: Words) -> Box:
    """A point inside the words, as wide rings may be a hair narrower than their figures."""
    x, y = words.box.middle
    return Box(x, y, x, y)


def _over(label: Label, line: Box) -> bool:
    return label.box.hits(line) and (label.slab is None or meet(label.slab.corners, corners(line)))


def _own(label: Label, number: int) -> bool:
    """Whether a ring may cover a tear: only the one it numbers."""
    return label.kind == "ring" and label.owner == f"{number}"


def _over_tears(plan: Plan, lay: Lay) -> Iterator[str]:
    for number, line in tear_boxes(plan, lay).items():
        for label in plan.drawing.labels:
            if _over(label, line) and not _own(label, number):
                yield f"{label.kind} {label.owner!r} covers tear {number}"


def _over_cuts(plan: Plan, lay: Lay) -> Iterator[str]:
    if lay.mode is Mode.SHEARS:
        lines = [box.moved(*plan.corner) for box in cutview.line_boxes(plan.view, lay)]
        for label in plan.drawing.labels:
            if any(_over(label, line) for line in lines):
                yield f"{label.kind} {label.owner!r} covers a line to cut"


def rings_of(plan: Plan, lay: Lay) -> dict[str, tuple[Point, ...]]:
    """Every corner of each shaped piece on the page, by its id."""
    dx, dy = plan.corner
    found = {}
    for spot in lay.placements:
        piece = lay.piece(spot.letter)
        if piece.outline is not None:
            points = (plan.view.point(point) for point in spot.polygon(piece).points)
            found[spot.id] = tuple((x + dx, y + dy) for x, y in points)
    return found


def _over_outlines(plan: Plan, lay: Lay) -> Iterator[str]:
    """Labels that the outline of a shaped piece runs through."""
    areas = [(label, corners(label.slab or label.box)) for label in plan.drawing.labels]
    for name, ring in rings_of(plan, lay).items():
        sides = [*zip(ring, [*ring[1:], ring[0]], strict=True)]
        for label, area in areas:
            if any(meet(area, side) for side in sides):
                yield f"{label.kind} {label.owner!r} covers the outline of {name}"


def _crossed(plan: Plan) -> Iterator[str]:
    for run in plan.drawing.leaders:
        for a, b in pairwise(run):
            for label in plan.drawing.labels:
                if label.slab:
                    over = meet(label.slab.grown(-2).corners, (a, b))
                else:
                    over = label.box.grown(-2).crossed(a, b)
                if over:
                    yield f"a leader runs over {label.kind} {label.owner!r}"
