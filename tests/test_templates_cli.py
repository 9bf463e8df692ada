"""`marker templates` as a user meets it: files, limits, and one sentence where there is nothing."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from drawn_pdf import pages

import marker
from marker.cli import main

OUT = Path(__file__).parents[1] / "out"
Run = Callable[..., Result]

PIECE = """
title = "Stage cloak"
units = "cm"
[cloth.main]
name = "Wide felt"
width = "20 m"
tears = false
[piece.a]
name = "Half round"
{outline}
seam_included = true
"""


def case(folder: Path, outline: str) -> Path:
    path = folder / "cloak.toml"
    path.write_text(PIECE.format(outline=outline), encoding="utf-8")
    return path


def half_round(folder: Path, metres: float) -> Path:
    reach = metres * 100
    return case(folder, f'd = "M 0 0 A {reach / 2} {reach / 2} 0 0 1 {reach} 0 Z"\nunit = "cm"')


@pytest.fixture
def run(tmp_path: Path) -> Run:
    def invoke(path: Path, *more: str) -> Result:
        out = str(tmp_path / "out")
        return CliRunner().invoke(
            main, ["templates", str(path), "--out", out, "--iterations", "1", *more]
        )

    return invoke


def names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def test_a_case_is_planned_and_its_templates_written(run: Run, tmp_path: Path) -> None:
    done = run(half_round(tmp_path, 0.5), "--json")
    assert done.exit_code == 0, done.stderr
    told = json.loads(done.stdout)
    assert told["warnings"] == []
    assert told["templates"][0].startswith("A Half round: ")
    assert names(tmp_path / "out") == ["templates-a0.pdf", "templates-a4.pdf"]


def test_a_piece_of_three_metres_is_on_the_large_sheet_alone(run: Run, tmp_path: Path) -> None:
    path = half_round(tmp_path, 3)
    done = run(path)
    assert done.exit_code == 0, done.stderr
    assert "A Half round would take 88 pages of A4, more than 60" in done.stderr
    assert "templates-roll.pdf alone; --most-pages 88 would print it" in done.stderr
    assert len(pages((tmp_path / "out" / "templates-a4.pdf").read_bytes())) == 1
    first = pages((tmp_path / "out" / "templates-a4.pdf").read_bytes())[0].words
    assert "more than 60; it is in templates-roll.pdf alone" in first


def test_a_piece_beyond_all_paper_is_told_so(run: Run, tmp_path: Path) -> None:
    done = run(half_round(tmp_path, 19))
    assert done.exit_code == 0, done.stderr
    assert "too large for any template, so draft it from its readings in the sheet" in done.stderr
    assert names(tmp_path / "out") == ["templates-a4.pdf"]


def test_a_smaller_sheet_takes_the_place_of_an_earlier_roll(run: Run, tmp_path: Path) -> None:
    (tmp_path / "out").mkdir()
    (tmp_path / "out" / "templates-roll.pdf").write_text("of an earlier run")
    assert run(half_round(tmp_path, 0.5)).exit_code == 0
    assert names(tmp_path / "out") == ["templates-a0.pdf", "templates-a4.pdf"]


def test_nothing_curved_and_nothing_gauged_is_one_sentence(run: Run, tmp_path: Path) -> None:
    done = run(case(tmp_path, 'length = "40 cm"\nbreadth = "30 cm"'))
    assert done.exit_code == 2
    assert done.stderr.count("\n") == 1
    assert "it has no curved piece and no gauged top" in done.stderr
    assert not (tmp_path / "out").exists()


def test_a_plan_of_other_pieces_beside_them_is_told(run: Run, tmp_path: Path) -> None:
    (tmp_path / "out").mkdir()
    kept = tmp_path / "out" / "lay.json"
    kept.write_bytes((OUT / "drawn-bodice" / "lay.json").read_bytes())
    done = run(half_round(tmp_path, 0.5))
    assert done.exit_code == 0
    assert "lay.json is of another plan, whose curved pieces differ from these" in done.stderr
    kept.write_text("no record")
    assert "another plan" not in run(half_round(tmp_path, 0.5)).stderr


def test_a_record_gives_the_templates_of_its_very_pieces(tmp_path: Path) -> None:
    kept = OUT / "drawn-bodice" / "lay.json"
    copy = tmp_path / "lay.json"
    copy.write_bytes(kept.read_bytes())
    done = CliRunner().invoke(main, ["templates", str(copy), "--paper", "letter"])
    assert done.exit_code == 0, done.stderr
    assert names(tmp_path) == ["lay.json", "templates-a0.pdf", "templates-letter.pdf"]
    written = marker.write_templates(marker.load_record(kept), tmp_path / "other", "letter")
    assert written[0].read_bytes() == (tmp_path / "templates-letter.pdf").read_bytes()
