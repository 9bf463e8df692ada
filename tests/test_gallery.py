"""The gallery in `out/`: every demo case, judged again and redrawn byte for byte."""

from __future__ import annotations

from pathlib import Path

import pytest
from plan_checks import faults
from plan_lays import worked_out

import marker
from marker import decide, referee
from marker.lay import Proof
from marker.plan.drawing.page import Paper
from marker.plan.lays.svg import emit
from marker.record import Record

ROOT = Path(__file__).parents[1]
CASES = sorted((ROOT / "cases").glob("*.toml"))


@pytest.fixture(scope="module", params=CASES, ids=lambda path: path.stem)
def stored(request: pytest.FixtureRequest) -> tuple[Path, Record]:
    """A demo case's folder in the gallery with its record."""
    folder = ROOT / "out" / request.param.stem
    return folder, marker.load_record(folder / "lay.json")


def test_there_are_demo_cases_and_no_strays() -> None:
    assert len(CASES) >= 5
    kept = {path.name for path in (ROOT / "out").iterdir() if (path / "lay.json").exists()}
    assert {case.stem for case in CASES} <= kept


def test_the_referee_passes_the_gallery(stored: tuple[Path, Record]) -> None:
    folder, record = stored
    assert referee.check_record(record) == ()
    for lay in record.lays:
        drawing = (folder / f"plan-{lay.cloth.key}.svg").read_text(encoding="utf-8")
        assert referee.check_drawing(drawing, lay) == ()


def test_the_gallery_redraws_from_its_records(stored: tuple[Path, Record]) -> None:
    folder, record = stored
    for lay in record.lays:
        drawing = (folder / f"plan-{lay.cloth.key}.svg").read_text(encoding="utf-8")
        assert emit(record, lay, worked_out(record, lay, Paper.A4)) == drawing


def test_every_demo_case_of_straight_pieces_is_proved(stored: tuple[Path, Record]) -> None:
    _, record = stored
    # Where pieces are curved, a bound mostly leaves a gap, which the sheet tells.
    assert all(lay.shaped or lay.proof is not Proof.OPEN for lay in record.lays)


@pytest.mark.parametrize("paper", Paper, ids=lambda paper: paper.value)
def test_no_label_of_the_gallery_collides(stored: tuple[Path, Record], paper: Paper) -> None:
    _, record = stored
    for lay in record.lays:
        assert faults(worked_out(record, lay, paper), lay) == []


@pytest.mark.parametrize("case", CASES, ids=lambda path: path.stem)
def test_planning_again_gives_the_record_in_the_gallery(case: Path) -> None:
    # By count, as the gallery was made: by the clock another of several equal lays may be met.
    record = decide.plan(marker.read_case(case), iterations=20)
    assert record == marker.load_record(ROOT / "out" / case.stem / "lay.json")


def test_the_comparison_can_fail() -> None:
    folder = ROOT / "out" / "plain-skirt"
    record = marker.load_record(folder / "lay.json")
    (key,) = (lay.cloth.key for lay in record.lays)
    drawing = (folder / f"plan-{key}.svg").read_text(encoding="utf-8")
    assert marker.draw_plan(record, key) == drawing
    assert marker.draw_plan(record, key, "letter") != drawing
