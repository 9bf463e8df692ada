"""The figures of the drafts: no label lies on another, on the outline, or on a bare line."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path

import pytest
from plan_shapes import SHAPED

import marker
from marker.plan.drafts.draft import Draft, drafts
from marker.plan.drafts.figure import figure, scales
from marker.plan.drafts.labels import FAR_OFF, Sheet
from marker.plan.drawing import style
from marker.plan.drawing.page import Box
from marker.plan.drawing.slabs import Slab, meet
from marker.plan.drawing.verbs import Drawing, Label
from marker.plan.drawing.verbs import Path as Stroke
from marker.record import Record
from marker.units import CM

ROOT = Path(__file__).parents[1]
CASES = sorted(path.stem for path in (ROOT / "cases").glob("*.toml"))
BARE = {style.TICK, style.NOTCH}
"""Crosses at centres and notches: words may not even interrupt them."""


def stored(case: str) -> Record:
    return marker.load_record(ROOT / "out" / case / "lay.json")


def drawn(record: Record) -> Iterator[tuple[Draft, Drawing, Box]]:
    found = drafts(record)
    for one, n in zip(found, scales(found), strict=True):
        drawing, size = figure(one, n, record.units)
        yield one, drawing, Box(0, 0, *size)


def faults(drawing: Drawing, whole: Box) -> list[str]:
    """What is wrong with the labels of a figure, each in a few words."""
    labels = [(label, slab) for label in drawing.labels if (slab := label.slab)]
    told = [
        f"{label.owner} leaves the paper" for label, slab in labels if not whole.holds(slab.box)
    ]
    for i, (label, slab) in enumerate(labels):
        for other, beside in labels[:i]:
            if meet(slab.corners, beside.corners):
                told.append(f"{label.owner} meets {other.owner}")
    for label, slab in labels:
        if label.kind in ("notch", "letter"):
            continue
        told += [f"{label.owner} lies on {what}" for what in _on_lines(drawing, label, slab)]
    return told


def _on_lines(drawing: Drawing, label: Label, slab: Slab) -> Iterator[str]:
    """Lines that run through a label, but those drawn before a patch that hides them."""
    strokes = [mark for mark in drawing.over if isinstance(mark, Stroke)]
    hidden = next((i for i, mark in enumerate(strokes) if mark.runs == (slab.corners,)), 0)
    for number, mark in enumerate(strokes):
        if not mark.weight or label.kind == "grain":
            continue
        for run in mark.runs:
            for a, b in pairwise(run):
                if meet(slab.corners, (a, b)) and (number > hidden or mark.weight in BARE):
                    yield f"a line of weight {mark.weight}"
                    return


def test_there_are_drafts_in_the_gallery() -> None:
    assert sum(len(drafts(stored(case))) for case in CASES) >= 8


@pytest.mark.parametrize("case", CASES)
def test_no_label_of_a_draft_collides_in_the_gallery(case: str) -> None:
    for one, drawing, whole in drawn(stored(case)):
        assert faults(drawing, whole) == [], one.letters


@pytest.mark.parametrize("name", SHAPED)
def test_no_label_of_a_draft_collides(name: str) -> None:
    for one, drawing, whole in drawn(SHAPED[name]()):
        assert faults(drawing, whole) == [], one.letters


def test_the_check_of_collisions_can_fail(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where every place is taken to be free, words lie on words and on lines."""
    monkeypatch.setattr(Sheet, "free", lambda *_: True)
    monkeypatch.setattr(Sheet, "over_lines", lambda *_: False)
    told = [
        fault
        for case in ("gored-walking-skirt", "half-circle-skirt", "drawn-bodice")
        for _, drawing, whole in drawn(stored(case))
        for fault in faults(drawing, whole)
    ]
    assert any(" meets " in fault for fault in told)
    assert any(" lies on " in fault for fault in told)


@pytest.mark.parametrize(
    "case", ["gored-walking-skirt", "half-circle-skirt", "drawn-bodice", "apron"]
)
def test_what_a_draft_needs_is_told_on_its_figure(case: str) -> None:
    """All corners, each named edge once at least, and no notch named from afar."""
    for one, drawing, _ in drawn(stored(case)):
        told = {kind: [label for label in drawing.labels if label.kind == kind]
                for kind in ("corner", "edge", "notch", "notch name")}  # fmt: skip
        numbers = {label.owner for label in told["corner"]}
        assert numbers == {str(number + 1) for number in range(len(one.corners))}
        names = {stretch.name for stretch in one.stretches if stretch.name}
        bare = names - {label.owner for label in told["edge"]}
        # Only an edge about as short as its name may have no room for it.
        assert bare <= {s.name for s in one.stretches if s.length < 20 * CM}
        assert len(bare) <= 1
        for label in told["notch name"]:
            x, y = label.box.middle
            reach = FAR_OFF + label.box.width + style.LEAST
            assert any(
                abs(notch.box.middle[0] - x) + abs(notch.box.middle[1] - y) < reach
                for notch in told["notch"]
                if notch.owner.startswith(label.owner.rstrip("…"))
            )


def test_two_centres_are_told_apart_by_their_edges() -> None:
    for _, drawing, _ in drawn(stored("gored-walking-skirt")):
        centres = sorted(label.owner for label in drawing.labels if label.kind == "centre")
        assert centres == ["centre, hem", "centre, waist"]
