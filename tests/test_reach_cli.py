"""`marker reach` as a user meets it: what it says, what it writes, how it ends."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result
from test_reach import TEXT

from marker import casefile, referee
from marker.casefile.changes import changed
from marker.cli import main
from marker.decide import plan
from marker.decide.reach import Reached, Standing
from marker.record import load

NAMES = {"reach.svg", "reach.pdf"}
PLANNED = {"plan-main.svg", "sheet.pdf", "lay.json"}


@pytest.fixture
def case(tmp_path: Path) -> Path:
    path = tmp_path / "bonfire.toml"
    path.write_text(TEXT)
    return path


def run(case: Path, *more: str) -> Result:
    out = case.parent / "out"
    asked = ["reach", str(case), "--iterations", "1", "--out", str(out), *more]
    return CliRunner().invoke(main, asked)


def names(case: Path) -> set[str]:
    return {path.name for path in (case.parent / "out").iterdir()}


def test_what_does_not_fit_ends_with_0_and_is_told(case: Path) -> None:
    assert run(case).exit_code == 0
    assert names(case) == NAMES | PLANNED
    result = run(case, "--have", "main=1.9m")
    assert result.exit_code == 0
    assert "It can't fit: that is proved." in result.stdout
    assert "main is 10 cm too short: 190 cm there, where 200 cm would do" in result.stdout
    assert 'garment.skirt.shorter = "5 cm"' in result.stdout
    assert max(len(line) for line in result.stdout.splitlines()[:-1]) <= 80
    # The plan of what fitted is taken away, for there is none now.
    assert names(case) == NAMES


@pytest.mark.slow
def test_keys_to_write_are_never_broken_on_a_narrow_terminal(
    case: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", "28")
    said = run(case, "--have", "main=1.9m", "--most", "round").stdout
    lines = [line.strip() for line in said.splitlines()]
    assert lines.count("garment.skirt.panels.count = 1") == 2
    assert 'garment.skirt.shorter = "5 cm"' in lines
    assert "less would do" not in said
    keys = ("garment.", "cloth.", "written:")
    told = [line for line in said.splitlines() if not any(key in line for key in keys)]
    assert max(len(line) for line in told) <= 28


def test_what_cannot_fit_at_all_is_told_and_ends_with_0(case: Path) -> None:
    result = run(case, "--have", "main=2cm", "--most", "round")
    assert result.exit_code == 0
    assert "It can't fit: that is proved." in result.stdout
    assert names(case) == NAMES


@pytest.mark.slow
def test_the_json_says_whether_it_fits_and_what_to_write(case: Path) -> None:
    result = run(case, "--have", "main=1.9m", "--most", "length", "--json")
    told: dict[str, Any] = json.loads(result.stdout)
    assert (told["fits"], told["standing"]) == (False, "proved not to fit")
    assert told["misses"][0]["would_do"] == 2_000 * 160
    written = {way["change"]: way["write"] for way in told["changes"]}
    assert written["5 cm shorter"] == {"garment.skirt.shorter": "5 cm"}
    assert told["most"]["write"] == {"garment.skirt.shorter": "5 cm"}
    assert {Path(path).name for path in told["files"]} == NAMES | PLANNED
    assert names(case) == NAMES | PLANNED


@pytest.mark.slow
def test_the_plan_beside_the_picture_is_of_the_most_and_the_same_by_count(case: Path) -> None:
    assert run(case, "--most", "length", "--have", "main=2.2m").exit_code == 0
    out = case.parent / "out"
    record, drawn = load(out / "lay.json"), (out / "reach.svg").read_bytes()
    assert referee.check_record(record) == ()
    longer: dict[tuple[str, ...], str] = {
        ("garment", "skirt", "longer"): "10 cm",
        ("cloth", "main", "length"): "2.2m",
    }
    assert record == plan(changed(casefile.read(case), longer), iterations=1)
    run(case, "--most", "length", "--have", "main=2.2m")
    assert (out / "reach.svg").read_bytes() == drawn


def test_nothing_is_written_where_the_folder_cannot_take_it(case: Path) -> None:
    (case.parent / "out").write_text("in the way")
    result = run(case)
    assert result.exit_code == 5
    assert (case.parent / "out").read_text() == "in the way"


def test_no_lay_at_all_ends_with_3(case: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from marker.decide import reach as room

    def nothing(asked: Any, **_: Any) -> Reached:
        return Reached(asked, Standing.OPEN, None)

    monkeypatch.setattr(room, "reach", nothing)
    result = run(case)
    assert result.exit_code == 3
    assert "no lay was found" in result.stderr
    assert not (case.parent / "out").exists()


@pytest.mark.parametrize(
    ("have", "said"),
    [
        (["main"], "--have 'main' has no '='"),
        (["main=1m", "main=2m"], "--have gives 'main' twice"),
        (["main=0m"], "cloth.main.length: '0m' is nothing"),
        (["red=1m"], "--have names the cloth 'red', which is not in the file"),
    ],
)
def test_what_is_there_wrongly_told(case: Path, have: list[str], said: str) -> None:
    result = run(case, *(word for pair in have for word in ("--have", pair)))
    assert result.exit_code == 2
    assert said in result.stderr
    assert not (case.parent / "out").exists()
