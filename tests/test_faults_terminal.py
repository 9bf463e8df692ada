"""Whoever listens, in whatever letters, on however narrow a terminal: what is told holds."""

from __future__ import annotations

import io
import json
import os
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner
from example_cases import text_of
from example_lays import record

from marker.cli import main
from marker.cli.group import telling
from marker.cli.options import print_json, usual_folder
from marker.errors import CannotTell
from marker.plan import table
from marker.plan.terminal import files_written, terminal
from marker.signs import harmless

FULL = Path("/dev/full")


@pytest.fixture
def unread(monkeypatch: pytest.MonkeyPatch) -> None:
    """A standard output that nobody reads any more."""
    ours, theirs = os.pipe()
    os.close(ours)
    monkeypatch.setattr(sys, "stdout", os.fdopen(theirs, "w"))


@pytest.mark.usefixtures("unread")
@pytest.mark.parametrize("shown", ["table", "json"])
def test_a_reader_who_leaves_early_has_seen_enough(shown: str) -> None:
    with telling():
        if shown == "table":
            terminal().print("a line")
        else:
            print_json({"title": "A skirt"})
    print("what is still to come goes nowhere", flush=True)


@pytest.mark.skipif(not FULL.exists(), reason="this system has no full disk to write to")
@pytest.mark.parametrize("shown", ["table", "json"])
def test_a_full_disk_that_is_printed_to_is_told(
    shown: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys, "stdout", FULL.open("w"))
    says = r"what was found can't be printed \(no space left on device\); the files were written"
    with pytest.raises(CannotTell, match=says) as caught, telling():
        if shown == "table":
            terminal().print("a line")
        else:
            print_json({"title": "A skirt"})
    assert caught.value.exit_code == 5
    print("what is still to come goes nowhere", flush=True)


def test_help_that_cant_be_printed_ends_in_a_sentence(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    if not FULL.exists():
        pytest.skip("this system has no full disk to write to")
    monkeypatch.setattr(sys, "stdout", FULL.open("w", buffering=1))
    with pytest.raises(SystemExit) as ended:
        main(["--help"])
    assert ended.value.code == 5
    told = capsys.readouterr().err
    assert told == "marker: the system refuses to go on (no space left on device)\n"


@pytest.mark.parametrize("encoding", ["ascii", "latin-1", "cp1252"])
def test_letters_that_a_terminal_doesnt_know_stop_nothing(
    encoding: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    case = tmp_path / "a.toml"
    case.write_text(text_of("in").replace("A skirt", "Rock – Łódź ″½″ 👗"), encoding="utf-8")
    printed = io.BytesIO()
    monkeypatch.setattr(sys, "stdout", io.TextIOWrapper(printed, encoding=encoding))
    with pytest.raises(SystemExit) as ended:
        main(["pleats", str(case), "--out", str(tmp_path / "o")])
    sys.stdout.flush()
    assert not ended.value.code
    assert printed.getvalue().decode(encoding).startswith("Rock ")
    assert (tmp_path / "o" / "pleats.pdf").is_file()


def test_plain_data_lose_nothing_on_such_a_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    for encoding, escaped in (("ascii", True), ("utf-8", False)):
        printed = io.BytesIO()
        monkeypatch.setattr(sys, "stdout", io.TextIOWrapper(printed, encoding=encoding))
        print_json({"title": "Łódź ½"})
        sys.stdout.flush()
        text = printed.getvalue().decode(encoding)
        assert json.loads(text) == {"title": "Łódź ½"}
        assert ("\\u" in text) == escaped


@pytest.mark.parametrize("columns", [20, 40, 59, 60, 80])
def test_no_terminal_is_too_narrow_for_what_to_buy(
    columns: int, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("COLUMNS", str(columns))
    told = record()
    table.show(told, (Path("out/a/lay.json"),))
    lines = capsys.readouterr().out.splitlines()
    for row in (table.cloth_row(lay, told.units) for lay in told.lays):
        assert any(row["buy"] in line for line in lines), row["buy"]
    assert lines[-1] == "written: out/a/lay.json"
    assert all(len(line) <= columns for line in lines[:-1])


def test_signs_that_move_the_cursor_are_spelled_out() -> None:
    folder = Path("a\x1b[2Jb\x07\u202e\udcff")
    spelled = "a\\x1b[2Jb\\x07\\u202e\\udcff"
    assert harmless(str(folder)) == spelled
    assert files_written((folder / "lay.json",)).plain == f"written: {spelled}/lay.json"
    assert harmless("Łódź – 👩‍🌾") == "Łódź – 👩‍🌾"
    for args in (
        ["plan", str(folder)],
        ["check", str(folder)],
        ["new", str(folder), "--answer", "x"],
    ):
        done = CliRunner().invoke(main, args)
        assert done.exit_code == 2
        assert "\x1b" not in done.stderr and "\u202e" not in done.stderr


def test_a_case_whose_name_is_but_dots_is_written_below_out() -> None:
    for name in ("..toml", "...toml", "a/...toml"):
        assert usual_folder(Path(name)) == Path("out/case")
    assert usual_folder(Path("a/b.c.toml")) == Path("out/b.c")
    assert usual_folder(Path(".toml")) == Path("out/.toml")
