"""What is larger than any case that was tried is planned all the same, and told beforehand."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner
from load_cases import CURVED, TORN, case_text, chart_text, compare_text

from marker.casefile import parse
from marker.cli import main
from marker.decide import measured
from marker.decide.measured import beyond

LIMITS = (
    ("SHAPED", case_text(CURVED, 30), "plan", 25, "garment and piece ask 25 pieces that are not"),
    ("WEARERS", case_text(TORN, 30), "plan", 4, "wearer has 4 tables in use, and up to 3 were"),
    ("BOLT", case_text(TORN, 30), "plan", 7, "cloth.main is to give over 7 m, and up to 6 m were"),
    ("CELLS", chart_text(30), "chart", 30, "chart.lengths and chart.widths make 30 cells, and up"),
    ("OPTIONS", compare_text(9), "compare", 9, "compare.most is 9, and up to 8 options were tried"),
)


@pytest.mark.parametrize(("limit", "text", "command", "size", "says"), LIMITS)
def test_one_more_than_was_tried_is_told(
    monkeypatch: pytest.MonkeyPatch, limit: str, text: str, command: str, size: int, says: str
) -> None:
    case = parse(text, "a.toml")
    assert beyond(case, command) == ()
    monkeypatch.setattr(measured, limit, size)
    assert beyond(case, command) == ()
    monkeypatch.setattr(measured, limit, size - 1)
    (told,) = beyond(case, command)
    assert told.startswith("a.toml: ") and says in told
    assert "split" in told or "give more" in told


@pytest.mark.slow
def test_it_is_told_on_stderr_and_the_plan_is_made(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(measured, "BOLT", 0)
    Path("big.toml").write_text(case_text(TORN, 10), encoding="utf-8")
    done = CliRunner().invoke(main, ["plan", "big.toml", "--iterations", "1"])
    assert done.exit_code == 0, done.output
    assert done.stderr.startswith("marker: big.toml: cloth.main is to give over 1 m, and up to 0 m")
    assert Path("out/big/lay.json").is_file()
