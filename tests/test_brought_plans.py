"""Cases of the user's own pieces, planned through the command line from file to sheet."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result
from own_cases import CLOTH, DRAWN, YOKE, own_text

from marker.cli import main

Run = Callable[..., Result]
PAIR = """d = "M 0 50 V 20 L 30 0 L 60 10 V 50 Z"
unit = "cm"
count = 2
pairs = true"""


@pytest.fixture
def run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Run:
    """Plan a case of own pieces by count, in a folder that holds one drawing."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "a.svg").write_text(DRAWN, encoding="utf-8")

    def planned(text: str, *more: str) -> Result:
        (tmp_path / "own.toml").write_text(text, encoding="utf-8")
        asked = ["plan", "own.toml", "--out", "o", "--iterations", "1", *more]
        return CliRunner().invoke(main, asked)

    return planned


def lay_of() -> dict[str, Any]:
    (lay,) = json.loads(Path("o/lay.json").read_text(encoding="utf-8"))["lays"]
    return dict(lay)


def test_rectangles_of_ones_own_are_torn_and_proved(run: Run) -> None:
    # Two pieces of 70 cm side by side fill 140 cm: 30 cm, and not a thread less.
    done = run(own_text('length = "30 cm"\nbreadth = "70 cm"\ncount = 2'))
    assert done.exit_code == 0, done.stderr
    assert "proved: no" in done.stdout
    lay = lay_of()
    assert (lay["mode"], lay["length"]) == ("tear", 30 * 1600)


def test_a_case_of_nothing_but_shapes_is_planned_and_checked(run: Run) -> None:
    more = '[piece.patch]\nsvg = "a.svg"\nid = "yoke"\ncount = 3\nseam = "1 cm"\n'
    done = run(own_text(f'{YOKE}\nfold = "centre"\nseam = "1 cm"', more=more))
    assert done.exit_code == 0, done.stderr
    told = json.loads(Path("o/lay.json").read_text(encoding="utf-8"))
    assert [garment["name"] for garment in told["garments"]] == ["Own pieces"]
    assert sum(piece["count"] for lay in told["lays"] for piece in lay["pieces"]) == 4
    checked = CliRunner().invoke(main, ["check", "o/lay.json"])
    assert checked.exit_code == 0, checked.stderr


def test_a_pair_comes_from_two_layers_of_folded_cloth(run: Run) -> None:
    done = run(own_text(PAIR, cloth=f"{CLOTH}\nfolded = true"))
    assert done.exit_code == 0, done.stderr
    lay = lay_of()
    one, other = lay["placements"]
    assert lay["mode"] == "shears" and one["flip"] != other["flip"]
    assert one["x"] == other["x"] and one["y"] != other["y"]


def test_an_outline_wider_than_the_cloth_names_both(run: Run) -> None:
    done = run(own_text(f'{YOKE}\nname = "Yoke"', cloth='width = "15 cm"'))
    assert done.exit_code == 3 and done.stdout == ""
    told = done.stderr.strip()
    assert "\n" not in told and told.startswith("marker: own.toml: ")
    assert "Yoke" in told and "15 cm" in told
    assert not Path("o").exists()


def test_folded_cloth_is_not_torn_by_the_command_either(run: Run) -> None:
    done = run(own_text(PAIR, cloth=f"{CLOTH}\nfolded = true"), "--mode", "tear")
    assert done.exit_code == 2 and "cloth.main.folded is true" in done.stderr
    assert not Path("o").exists()
