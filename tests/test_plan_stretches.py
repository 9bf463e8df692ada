"""A long bolt is drawn in stretches: nothing is lost, and what has no room for a name is listed."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from functools import cache
from io import BytesIO
from typing import Any

import pytest
from plan_checks import faults
from plan_lays import drawn
from pypdf import PdfReader

from marker import referee
from marker.cloth import Cloth
from marker.lay import Direction, Lay, Mode
from marker.piece import Grain, Piece
from marker.plan.drawing import style
from marker.plan.drawing.page import Paper
from marker.plan.drawing.verbs import Path, Words
from marker.plan.lays import stretches as worked
from marker.plan.lays.attempts import Effort
from marker.plan.lays.keymap import seen, strangers
from marker.plan.lays.layout import SMALLEST, layout
from marker.plan.lays.parts import LONG, MOST, Part, parts
from marker.plan.lays.stretches import stretches
from marker.plan.lays.svg import draw, draw_pages, emit
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


def record_of(lay: Lay) -> Record:
    return Record("Company", System.CM, (), (lay,))


def uncut() -> Lay:
    """The same without a tear right across: no line ends a stretch, and pieces reach over."""
    lay = laid()
    return replace(lay, tears=tuple(t for t in lay.tears if t.direction is Direction.ALONG))


@pytest.mark.parametrize("make", [laid, cut, uncut], ids=["torn", "cut", "uncut"])
def test_stretches_hold_all_of_a_long_bolt(make: Callable[[], Lay]) -> None:
    lay = make()
    found = parts(lay)
    assert lay.bolt.along > LONG and len(found) > 1
    assert [part.low for part in found] == [lay.bolt.x0, *(p.high for p in found[:-1])]
    assert found[-1].high == lay.bolt.x1
    spots = [spot for part in found for spot in part.lay.placements]
    assert sorted(spots, key=lambda s: s.id) == sorted(lay.placements, key=lambda s: s.id)
    numbers = {tear.number for part in found for tear in part.lay.tears}
    assert numbers == {tear.number for tear in lay.tears}
    for part in found:
        assert part.high - part.low <= MOST * 3 // 2
        known = {piece.letter: piece for piece in part.lay.pieces}
        assert all(part.lay.bolt.holds(s.rect(known[s.letter])) for s in part.lay.placements)
    if make is not uncut:
        assert all((p.lay.bolt.x0, p.lay.bolt.x1) == (p.low, p.high) for p in found)
        left = sum(cut.rect.area for part in found for cut in part.lay.offcuts)
        assert left == sum(cut.rect.area for cut in lay.offcuts)
        across = [t.number for p in found for t in p.lay.tears if t.direction is Direction.ACROSS]
        assert len(across) == len(set(across))


def test_a_short_bolt_with_few_pieces_stays_whole() -> None:
    short = laid(1)
    assert short.bolt.along < LONG
    plan = layout(record_of(short), short, Paper.A4)
    assert not plan.guide and plan.view.n <= SMALLEST
    assert len(draw_pages(record_of(short), short, Paper.A4)) == 1
    assert parts(replace(short, bolt=replace(short.bolt, x1=CM * 100))) == ()


def test_every_page_shows_its_neighbours_edges_and_where_it_lies() -> None:
    lay = uncut()
    found, drawn = parts(lay), stretches(record_of(lay), lay, Paper.A4)
    for at, (part, one) in enumerate(zip(found, drawn, strict=True)):
        low, high = seen(part, lay)
        assert (low < part.lay.bolt.x0) is (at > 0)
        assert (high > part.lay.bolt.x1) is (at + 1 < len(found))
        # What reaches into the overlap is drawn there in the line of adjacent parts.
        inside = [s for s in lay.placements if s not in part.lay.placements
                  and (r := s.rect(lay.piece(s.letter))).x0 < high and low < r.x1]  # fmt: skip
        chains = [m for m in one.drawing.ground
                  if isinstance(m, Path) and m.dash == style.DASH_NEIGHBOUR]  # fmt: skip
        assert len(chains) == len(inside) == len(strangers(part, lay)) > 0
        refers = [label.owner for label in one.drawing.labels if label.owner.startswith("stretch")]
        near = [number + 1 for number in (at - 1, at + 1) if 0 <= number < len(found)]
        assert refers == [f"stretch {number}" for number in near]
        (own,) = (m for m in one.drawing.over
                  if isinstance(m, Words) and m.bold and m.text == f"{at + 1}"
                  and m.at[1] < style.MARGIN + 1500)  # fmt: skip
        assert own.size >= style.LEAST


@pytest.mark.parametrize("name", ["many", "long"])
def test_a_bolt_past_four_metres_runs_on_over_pages(name: str) -> None:
    case, lay, plan = drawn(name, Paper.A4)
    assert plan.guide
    pages = draw_pages(case, lay, Paper.A4)
    assert len(pages) == len(parts(lay)) + 1
    whole = draw(case, lay, Paper.A4)
    assert referee.check_drawing(whole, lay) == ()
    assert f'viewBox="0 0 29700 {21000 * len(pages)}"' in whole
    ids = re.findall(r'<[^>]* id="([^"]*)"', whole)
    assert len(ids) == len(set(ids))
    assert {f"p{number}-lay" for number in range(2, len(pages) + 1)} <= set(ids)
    for number in range(1, len(pages) + 1):
        assert f">{number} of {len(pages)}</text>" in whole
    for spot in lay.placements:
        assert sum(name.endswith(f"-{spot.id}") for name in ids) == 1


@pytest.mark.parametrize("make", [laid, uncut], ids=["torn", "uncut"])
@pytest.mark.parametrize("paper", Paper, ids=lambda paper: paper.value)
@pytest.mark.slow
def test_every_stretch_reads_back_and_its_labels_lie_apart(
    make: Callable[[], Lay], paper: Paper
) -> None:
    lay = make()
    for one in stretches(record_of(lay), lay, paper):
        svg = emit(record_of(lay), one.lay, one, one.told)
        assert referee.check_drawing(svg, one.lay) == ()
        assert faults(one, one.lay) == []  # type: ignore[arg-type]
        assert one.view.n <= SMALLEST


def test_no_stretch_is_worked_out_twice_where_names_go_for_the_sake_of_another(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    lay = laid(4)
    last, made = parts(lay)[-1], []
    true = worked._settled

    def settled(part: Part, whole: Lay, n: int, *more: Any) -> Any:
        if part is last and Effort.BARE not in more[-1]:
            return None
        made.append((part.low, n))
        return true(part, whole, n, *more)

    monkeypatch.setattr(worked, "_settled", settled)
    drawn = worked.stretches(record_of(lay), lay, Paper.A4)
    assert len({one.view.n for one in drawn}) == 1
    assert (last.low, drawn[0].view.n) in made
    assert len(made) == len(set(made)) == len(drawn) > 1


@pytest.mark.slow
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


@pytest.mark.slow
def test_the_whole_bolt_is_a_guide_to_its_stretches() -> None:
    lay, record = laid(), record_of(laid())
    plan = layout(record, lay, Paper.A4)
    assert faults(plan, lay) == []
    kinds = [label.owner for label in plan.drawing.labels if label.kind == "stretch"]
    assert kinds == [f"{number}" for number in range(1, len(parts(lay)) + 1)]
    assert not any(label.kind == "piece" for label in plan.drawing.labels)
    assert referee.check_drawing(draw(record, lay, Paper.A4), lay) == ()


@pytest.mark.slow
def test_the_sheet_shows_every_stretch() -> None:
    lay, record = laid(), record_of(laid())
    first, *drawn = [svg for svg, _ in draw_pages(record, lay, Paper.A4)]
    sheet = compile_sheet(record, {"wool": first}, Paper.A4, {}, {"wool": drawn})
    text = "".join(page.extract_text() for page in PdfReader(BytesIO(sheet)).pages)
    for number in range(1, len(drawn) + 1):
        assert f"grey wool, stretch {number} of {len(drawn)}" in text
    assert lay.mode is Mode.TEAR
