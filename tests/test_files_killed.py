"""Killed at any moment, or beside another process: the folder holds one whole set, or can again."""

from __future__ import annotations

import errno
import os
import shutil
import signal
from dataclasses import replace
from multiprocessing import get_all_start_methods, get_context
from pathlib import Path

import pytest
from test_files import contents, record, skirt

from marker.plan import files, putting
from marker.plan.drawing.page import Paper
from marker.plan.putting import BENCH, MOVING, put

FORKS = pytest.mark.skipif("fork" not in get_all_start_methods(), reason="this system can't fork")
OLD = {"a.svg": b"old a", "b.svg": b"old b", "lay.json": b"old"}
NEW = {"a.svg": b"new a", "c.svg": b"new c", "lay.json": b"new"}
STALE = ("b.svg",)
CALLS = (
    (os, "fsync"), (os, "link"), (Path, "replace"), (Path, "unlink"), (shutil, "rmtree"),
)  # fmt: skip


def seen(folder: Path) -> dict[str, bytes]:
    """What a user sees in a folder."""
    return {path.name: path.read_bytes() for path in folder.iterdir() if path.is_file()}


def _killed(folder: Path, at: int) -> None:
    """Put the new set, and die at the n-th call of the file system."""
    count = 0

    def around(call: object) -> object:
        def wrapped(*args: object, **named: object) -> object:
            nonlocal count
            count += 1
            if count == at:
                os.kill(os.getpid(), signal.SIGKILL)
            return call(*args, **named)  # type: ignore[operator]

        return wrapped

    for owner, name in CALLS:
        setattr(owner, name, around(getattr(owner, name)))
    put(folder, NEW, STALE)


def run(folder: Path, at: int) -> bool:
    """Whether a process was killed at its n-th call while it put the new set into a folder."""
    process = get_context("fork").Process(target=_killed, args=(folder, at))
    process.start()
    process.join()
    return process.exitcode == -signal.SIGKILL


@pytest.mark.slow
@FORKS
def test_whatever_a_killed_process_leaves_is_whole_after_the_next_write(tmp_path: Path) -> None:
    both = []
    for at in range(1, 100):
        folder = tmp_path / str(at)
        put(folder, OLD)
        (folder / "notes.txt").write_bytes(b"mine")
        killed = run(folder, at)
        putting.recover(folder)
        left = seen(folder)
        assert left.pop("notes.txt") == b"mine"
        assert left in (OLD, NEW)
        both.append(left == NEW)
        # Undone once more it stays as it is, and the next write finds its way.
        putting.recover(folder)
        put(folder, {"lay.json": b"newer"})
        assert seen(folder) == {**left, "lay.json": b"newer", "notes.txt": b"mine"}
        assert not any(folder.glob(f"{BENCH}*"))
        if not killed:
            break
    assert not killed
    assert len(both) > 12
    assert both == sorted(both)
    assert both.count(False) > 8


@FORKS
@pytest.mark.slow
def test_half_moved_it_is_seen_to_be_mixed_until_undone(tmp_path: Path) -> None:
    # Else the test above could pass without anything to recover.
    mixed = []
    for at in range(1, 40):
        folder = tmp_path / str(at)
        put(folder, OLD)
        run(folder, at)
        mixed.append(seen(folder) not in (OLD, NEW))
    assert any(mixed)


@pytest.mark.slow
def test_a_plan_is_written_over_what_was_left_half_moved(tmp_path: Path) -> None:
    told = replace(record(), lays=(skirt(),))
    files.write(record(), tmp_path, Paper.A4)
    whole = contents(tmp_path)
    bench = tmp_path / f"{BENCH}0123"
    (bench / "old").mkdir(parents=True)
    for name in ("lay.json", "sheet.pdf"):
        (tmp_path / name).rename(bench / "old" / name)
        (tmp_path / name).write_bytes(b"half")
    (bench / MOVING).write_text('{"held": ["lay.json", "sheet.pdf"], "fresh": ["plan-x.svg"]}')
    (tmp_path / "plan-x.svg").write_bytes(b"half")
    putting.recover(tmp_path)
    assert contents(tmp_path) == whole
    # The record put back says which plans were of the older case: the second one goes.
    files.write(told, tmp_path, Paper.A4)
    assert sorted(seen(tmp_path)) == ["lay.json", "plan-main.svg", "sheet.pdf"]


LISTS = (
    "", "[]", '{"held": 3}', '{"other": []}', '{"held": [], "fresh": ["../x"]}',
    '{"held": ["../../x"], "fresh": []}', '{"held": [], "fresh": ["lay.json", ".."]}', "[" * 99999,
)  # fmt: skip


@pytest.mark.parametrize("text", LISTS)
def test_a_list_that_is_no_use_moves_nothing(tmp_path: Path, text: str) -> None:
    put(tmp_path / "out", OLD)
    (tmp_path / "x").write_bytes(b"mine")
    bench = tmp_path / "out" / f"{BENCH}0123"
    bench.mkdir()
    (bench / MOVING).write_text(text)
    putting.recover(tmp_path / "out")
    assert seen(tmp_path / "out") == OLD
    assert (tmp_path / "x").read_bytes() == b"mine"
    assert not bench.exists()


def _often(folder: Path, number: int) -> None:
    for turn in range(20):
        text = f"{number}-{turn}".encode()
        put(folder, {"a.svg": text, "b.svg": text, "lay.json": text})


@FORKS
def test_two_at_once_leave_the_set_of_one_of_them(tmp_path: Path) -> None:
    context = get_context("fork")
    pair = [context.Process(target=_often, args=(tmp_path, number)) for number in range(2)]
    for process in pair:
        process.start()
    for process in pair:
        process.join()
    assert [process.exitcode for process in pair] == [0, 0]
    assert len(set(seen(tmp_path).values())) == 1
    assert not list(tmp_path.glob(f"{BENCH}*"))


def test_hidden_folders_go_once_nobody_works_in_them(tmp_path: Path) -> None:
    put(tmp_path, OLD)
    left, held = tmp_path / f"{BENCH}left", tmp_path / f"{BENCH}held"
    for bench in (left, held):
        bench.mkdir()
    with putting._alone(held):
        put(tmp_path, NEW)
        assert held.is_dir()
        assert not left.exists()
    put(tmp_path, OLD)
    assert not held.exists()


@pytest.mark.parametrize("locks", [None, "refused"])
def test_without_locks_old_hidden_folders_go_and_young_ones_stay(
    locks: str | None, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refused(*_: object) -> None:
        raise OSError(errno.ENOLCK, os.strerror(errno.ENOLCK))

    if locks is None:
        monkeypatch.setattr(putting, "fcntl", None)
    elif putting.fcntl is not None:
        monkeypatch.setattr(putting.fcntl, "flock", refused)
    put(tmp_path, OLD)
    young, old = tmp_path / f"{BENCH}young", tmp_path / f"{BENCH}old"
    for bench in (young, old):
        bench.mkdir()
    os.utime(old, (0, 0))
    put(tmp_path, NEW)
    assert young.is_dir()
    assert not old.exists()


def test_a_hidden_folder_that_its_owner_just_took_away_is_no_fault(tmp_path: Path) -> None:
    # Two writers at once met this now and then.
    assert putting._age(tmp_path / f"{BENCH}gone") == 0.0
