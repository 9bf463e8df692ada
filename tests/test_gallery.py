"""The gallery in `out/`: every demo case, judged again and redrawn byte for byte.

These are the goldens of the demo cases: every plan drawing of every case, from its stored lay and
never from a solve. `tests/golden` keeps those of lays made by hand, each hard to label.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from plan_checks import faults
from plan_lays import worked_out

import marker
from marker import decide, referee
from marker.lay import Lay, Proof
from marker.plan.drawing.page import Paper
from marker.plan.lays.binding import bound
from marker.plan.lays.svg import draw, emit
from marker.record import Record, dump
from marker.record import parse as parse_record

ROOT = Path(__file__).parents[1]
OUT = ROOT / "out"
CASES = sorted((ROOT / "cases").glob("*.toml"))


@pytest.fixture(scope="module", params=CASES, ids=lambda path: path.stem)
def stored(request: pytest.FixtureRequest) -> tuple[Path, Record]:
    """A demo case's folder in the gallery with its record."""
    folder = OUT / request.param.stem
    return folder, marker.load_record(folder / "lay.json")


def test_every_demo_case_keeps_its_lay_and_every_drawing_and_nothing_is_stray() -> None:
    """A new case without them fails: plan it with --iterations 30, then look at its drawings."""
    wanted = {case.stem for case in CASES}
    assert len(wanted) >= 5
    folders = {path.name for path in OUT.iterdir() if path.is_dir()}
    assert {name for name in wanted if not (OUT / name / "lay.json").exists()} == set()
    assert folders == wanted
    for name in wanted:
        record = marker.load_record(OUT / name / "lay.json")
        drawings = {path.name for path in (OUT / name).glob("plan-*.svg")}
        assert drawings == {f"plan-{lay.cloth.key}.svg" for lay in record.lays}, name


def test_the_referee_passes_the_gallery(stored: tuple[Path, Record]) -> None:
    folder, record = stored
    assert referee.check_record(record) == ()
    for lay in record.lays:
        drawing = (folder / f"plan-{lay.cloth.key}.svg").read_text(encoding="utf-8")
        assert referee.check_drawing(drawing, lay) == ()


@pytest.mark.slow
def test_the_gallery_redraws_from_its_records(stored: tuple[Path, Record]) -> None:
    folder, record = stored
    for lay in record.lays:
        drawing = (folder / f"plan-{lay.cloth.key}.svg").read_text(encoding="utf-8")
        assert redrawn(record, lay, Paper.A4) == drawing


def redrawn(record: Record, lay: Lay, paper: Paper) -> str:
    """The drawing as it is written; a plan of one page from what other tests look at too."""
    plan = worked_out(record, lay, paper)
    return draw(record, lay, paper) if plan.guide else bound([emit(record, lay, plan)], paper.size)


def test_every_demo_case_of_straight_pieces_is_proved(stored: tuple[Path, Record]) -> None:
    _, record = stored
    # Where pieces are curved, a bound mostly leaves a gap, which the sheet tells.
    assert all(lay.shaped or lay.proof is not Proof.OPEN for lay in record.lays)


@pytest.mark.parametrize(
    "paper",
    [Paper.A4, pytest.param(Paper.LETTER, marks=pytest.mark.slow)],
    ids=lambda paper: paper.value,
)
@pytest.mark.slow
def test_no_label_of_the_gallery_collides(stored: tuple[Path, Record], paper: Paper) -> None:
    _, record = stored
    for lay in record.lays:
        assert faults(worked_out(record, lay, paper), lay) == []


@pytest.mark.parametrize("case", CASES, ids=lambda path: path.stem)
@pytest.mark.slow
def test_planning_again_gives_the_record_in_the_gallery(case: Path) -> None:
    # By count, as the gallery was made: by the clock another of several equal lays may be met.
    record = decide.plan(marker.read_case(case), iterations=30)
    assert referee.check_record(record) == ()
    # Where pieces are curved, a bound mostly leaves a gap, which the sheet tells.
    assert all(lay.shaped or lay.proof is not Proof.OPEN for lay in record.lays)
    assert parse_record(dump(record), "lay.json") == record
    assert record == marker.load_record(OUT / case.stem / "lay.json")


@pytest.mark.slow
def test_the_comparison_can_fail() -> None:
    folder = OUT / "plain-skirt"
    record = marker.load_record(folder / "lay.json")
    (lay,) = record.lays
    drawing = (folder / f"plan-{lay.cloth.key}.svg").read_text(encoding="utf-8")
    assert redrawn(record, lay, Paper.A4) == drawing
    assert redrawn(record, lay, Paper.LETTER) != drawing
    assert redrawn(replace(record, title="Another"), lay, Paper.A4) != drawing
