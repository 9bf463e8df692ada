"""Records that anybody may have written: refused in a few sentences, and nothing made of them."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from example_lays import record

from marker import referee
from marker.cli import main
from marker.errors import TOLD, BadInput, Refused
from marker.record import LARGEST, dump, load

Change = Callable[[dict[str, Any]], object]


@pytest.fixture
def changed(tmp_path: Path) -> Callable[[Change], Path]:
    """Write a sound record down with something changed in it."""

    def write(change: Change) -> Path:
        data = json.loads(dump(record()))
        change(data)
        path = tmp_path / "lay.json"
        path.write_text(json.dumps(data), encoding="utf-8")
        return path

    return write


def told(path: Path, command: str = "check") -> tuple[int, str]:
    """Exit code and sentence of a command that refuses a record."""
    done = CliRunner().invoke(main, [command, str(path)])
    assert done.stdout == ""
    assert done.stderr.startswith("marker: ") and done.stderr.count("\n") == 1
    assert not any(sign in done.stderr for sign in "\x1b\x07\u202e")
    return done.exit_code, done.stderr


def shifted(data: dict[str, Any]) -> None:
    data["lays"][0]["placements"][0]["y"] += 1


TEXTS: dict[str, Change] = {
    "title": lambda data: data.update(title="\x1b]8;;http://a\x07click\x1b]8;;\x07"),
    "cloth": lambda data: data["lays"][0]["cloth"].update(name="\x1b[2Jcotton"),
    "piece": lambda data: data["lays"][0]["pieces"][0].update(name="pan\u202eel"),
    "letter": lambda data: data["lays"][0]["placements"][0].update(letter="A\x08"),
    "garment": lambda data: data["garments"][0].update(name="a\nb"),
    "choice": lambda data: data.update(choices=["a\x9b31m"]),
}


@pytest.mark.parametrize("name", TEXTS)
def test_texts_that_cant_be_printed_are_refused(
    name: str, changed: Callable[[Change], Path]
) -> None:
    code, sentence = told(changed(TEXTS[name]))
    assert code == 4 and "which can't be printed" in sentence


def test_of_many_such_texts_some_are_told() -> None:
    found = referee.check_record(replace(record(), choices=("a\x00",) * 500))
    assert sum("can't be printed" in fault for fault in found) == 21


@pytest.mark.parametrize(
    "change",
    [shifted, lambda data: data["lays"].append(data["lays"][0]), TEXTS["title"]],
    ids=["shifted", "twice", "title"],
)
def test_no_template_is_made_of_a_record_that_the_referee_refuses(
    change: Change, changed: Callable[[Change], Path], tmp_path: Path
) -> None:
    path = changed(change)
    code, sentence = told(path, "templates")
    assert code == 4 and f"{path}: refused by the referee" in sentence
    assert list(tmp_path.iterdir()) == [path]


def test_a_long_list_of_faults_is_cut_short() -> None:
    refused = Refused("lay.json", tuple(f"Fault {at}." for at in range(100_000)))
    assert len(refused.findings) == 100_000
    assert str(refused).endswith(f"Fault {TOLD - 1}. There are {100_000 - TOLD} more.")
    assert str(Refused("a", ("One.", "Two."))) == "a: refused by the referee. One. Two."


FILES: dict[str, tuple[bytes, str]] = {
    "empty": (b"", "Invalid JSON"),
    "a list": (b"[]", "should be an object"),
    "not UTF-8": (b'{"title": "\xff"}', "is not text in UTF-8; plan the case again"),
    "a null": (b"\0", "Invalid JSON"),
    "deep": (b"[" * 100_000, "recursion limit"),
    "a figure without end": (b'{"title": "a", "format": 1' + b"0" * 5000 + b"}", "lay.json"),
    "too large": (b" " * (LARGEST + 1), "is over 20 MB, too large for a record; check the path"),
}


@pytest.mark.parametrize("name", FILES)
def test_what_is_no_record_is_told_at_once(name: str, tmp_path: Path) -> None:
    data, says = FILES[name]
    path = tmp_path / "lay.json"
    path.write_bytes(data)
    for command in ("check", "templates"):
        code, sentence = told(path, command)
        assert code == 2 and says in sentence and len(sentence) < 400


def test_places_where_no_record_can_be(tmp_path: Path) -> None:
    loop = tmp_path / "loop.json"
    loop.symlink_to(loop)
    says = {
        tmp_path: "can't be read (is a directory); give the path of a lay.json",
        loop: "can't be read (too many levels of symbolic links)",
        tmp_path / "gone.json": "can't be read (no such file or directory)",
        tmp_path / ("x" * 300): "can't be read (file name too long)",
    }
    for path, said in says.items():
        code, sentence = told(path)
        assert code == 2 and said in sentence
    with pytest.raises(BadInput, match="can't be read"):
        load(Path("a\0.json"))
    if Path("/dev/zero").exists():
        with pytest.raises(BadInput, match="is over 20 MB"):
            load(Path("/dev/zero"))


def test_a_mark_of_byte_order_is_taken(tmp_path: Path) -> None:
    path = tmp_path / "lay.json"
    path.write_bytes(b"\xef\xbb\xbf" + dump(record()).encode())
    assert load(path) == record()
