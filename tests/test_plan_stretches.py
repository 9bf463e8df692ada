"""A long bolt is drawn in stretches: nothing is lost, and what has no room for a name is listed."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from io import BytesIO

import pytest
from plan_checks import faults
from plan_lays import worked_out
from pypdf import PdfReader

from marker import referee
from marker.cloth import Cloth
from marker.lay import Direction, Lay, Mode
from marker.piece import Grain, Piece
from marker.plan.drawing.page import Paper
from marker.plan.lays.stretches import LONG, MANY, Stretch, parts, stretches
from marker.plan.lays.svg import draw_stretches, emit
from marker.plan.sheet.setting import compile_sheet
from marker.record import Record
from marker.solver import solve
from marker.solver.joined import joined
from marker.units import CM, System

BOLT = Cloth("wool", "grey wool", 150 * CM, 10 * CM, selvedge=CM, squaring=2 * CM)


def sets(wearers: int, narrow: int, bands: int) -> list[tuple[Piece, ...]]:
    found = []
    for at in range(wearers):
        letter, name = chr(65 + at), f"Wearer {chr(65 + at)}"
        own = []
        for number, (what, length, breadth, count) in enumerate(
            (("panel", 90 + at, 74, 2), ("skirt", 100 - at, 148, 1), ("band", 70, narrow, bands)), 1
        ):
            grain = Grain.EITHER if what == "band" else Grain.ALONG
            own.append(
                Piece(f"{letter}{number}", what, length * CM, breadth * CM, count, "wool", grain,
                      wearer=name)
            )  # fmt: skip
        found.append(tuple(own))
    return found


@cache
def laid(wearers: int = 11, narrow: int = 8, bands: int = 1) -> Lay:
    each = [solve(BOLT, own, iterations=1) for own in sets(wearers, narrow, bands)]
    return joined(BOLT, each)


@cache
def cut() -> Lay:
    """The same cut with shears: where it was torn right across, a line runs clear."""
    from marker.solver.finish import cut as finished

    lay = laid()
    return finished(replace(BOLT, tears=False), lay.pieces, lay.placements, lay.bound, "torn")


@cache
def sighted(record: Record, lay: Lay, paper: Paper) -> tuple[Stretch, ...]:
    """The stretches of a bolt; drawn once for all tests."""
    return stretches(record, lay, paper)


def record_of(lay: Lay) -> Record:
    return Record("Company", System.CM, (), (lay,))


@pytest.mark.parametrize("make", [laid, cut], ids=["torn", "cut"])
def test_stretches_hold_all_of_a_long_bolt(make: type) -> None:
    lay = make()
    found = parts(lay)
    assert lay.bolt.along > LONG and len(found) > 1
    assert [part.bolt.x0 for part in found] == [lay.bolt.x0, *(p.bolt.x1 for p in found[:-1])]
    assert found[-1].bolt.x1 == lay.bolt.x1
    spots = [spot for part in found for spot in part.placements]
    assert sorted(spots, key=lambda s: s.id) == sorted(lay.placements, key=lambda s: s.id)
    numbers = [tear.number for part in found for tear in part.tears]
    assert sorted(numbers) == [tear.number for tear in lay.tears]
    left = sum(cut.rect.area for part in found for cut in part.offcuts)
    assert left == sum(cut.rect.area for cut in lay.offcuts)
    assert all(part.bolt.along <= LONG for part in found)


def test_a_short_bolt_stays_whole_and_one_without_clear_lines_too() -> None:
    short = laid(2)
    assert parts(short) == () and draw_stretches(record_of(short), short, Paper.A4) == ()
    few = replace(laid(), placements=laid().placements[:MANY])
    assert parts(few) == ()
    lay = laid()
    uncut = replace(lay, tears=tuple(t for t in lay.tears if t.direction is Direction.ALONG))
    assert parts(uncut) == ()


@pytest.mark.parametrize("make", [laid, cut], ids=["torn", "cut"])
@pytest.mark.parametrize("paper", Paper, ids=lambda paper: paper.value)
def test_every_stretch_reads_back_and_its_labels_lie_apart(make: type, paper: Paper) -> None:
    lay = make()
    for one in sighted(record_of(lay), lay, paper):
        svg = emit(record_of(lay), one.lay, one, one.told)
        assert referee.check_drawing(svg, one.lay) == ()
        told = [fault for fault in faults(one, one.lay) if "leaves the page" not in fault]  # type: ignore[arg-type]
        assert told == []
        assert all(label.box.y0 >= 0 and label.box.y1 <= one.paper.size[1] + 100
                   for label in one.drawing.labels)  # fmt: skip


def test_every_copy_is_named_or_told_to_be_too_small(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("marker.plan.lays.cloth_view.MOST_LEADERS", 0)
    lay = laid(8, 1, 9)
    told = ""
    named: set[str] = set()
    for one in stretches(record_of(lay), lay, Paper.A4):
        named |= {name for label in one.drawing.labels for name in label.owner.split()}
        told += " ".join(label.owner for label in one.drawing.labels if label.kind == "note")
    for letter, first, last in re.findall(r"\b([A-Z]\d+)-(\d+)(?: to \1-(\d+))?", told):
        named |= {f"{letter}-{copy}" for copy in range(int(first), int(last or first) + 1)}
    assert {spot.id for spot in lay.placements} <= named
    assert "Too small to be named here" in told


def test_the_whole_bolt_is_a_guide_to_its_stretches() -> None:
    lay, record = laid(), record_of(laid())
    plan = worked_out(record, lay, Paper.A4)
    assert faults(plan, lay) == []
    kinds = [label.owner for label in plan.drawing.labels if label.kind == "stretch"]
    assert kinds == [f"{number}" for number in range(1, len(parts(lay)) + 1)]
    assert not any(label.kind == "piece" for label in plan.drawing.labels)
    assert referee.check_drawing(emit(record, lay, plan), lay) == ()


def test_the_sheet_shows_every_stretch(monkeypatch: pytest.MonkeyPatch) -> None:
    lay, record = laid(), record_of(laid())
    monkeypatch.setattr("marker.plan.lays.svg.stretches", sighted)
    drawn = [svg for svg, _ in draw_stretches(record, lay, Paper.A4)]
    whole = emit(record, lay, worked_out(record, lay, Paper.A4))
    sheet = compile_sheet(record, {"wool": whole}, Paper.A4, {},
                          {"wool": drawn})  # fmt: skip
    text = "".join(page.extract_text() for page in PdfReader(BytesIO(sheet)).pages)
    for number in range(1, len(drawn) + 1):
        assert f"grey wool, stretch {number} of {len(drawn)}" in text
    assert lay.mode is Mode.TEAR
