"""Writing a planned case: all files or none, whatever goes wrong, and nothing lost."""

from __future__ import annotations

import errno
import json
import os
import shutil
import subprocess
from collections.abc import Callable, Iterator
from contextlib import suppress
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from example_lays import record, skirt

from marker import record as records
from marker.errors import CannotWrite, Refused
from marker.lay import Lay
from marker.plan import files, fonts
from marker.plan.drawing.page import Paper
from marker.plan.files import plan_name, write
from marker.record import Record
from marker.units import System

NAMES = ["plan-main.svg", "plan-facing.svg", "sheet.pdf", "lay.json"]


def contents(folder: Path) -> dict[str, bytes | None]:
    """Everything below a folder, hidden things too; folders as None."""
    return {
        str(path.relative_to(folder)): None if path.is_dir() else path.read_bytes()
        for path in folder.rglob("*")
    }


def names_in(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


@pytest.fixture
def quick(monkeypatch: pytest.MonkeyPatch) -> None:
    """Stand-ins for drawing and setting, which other tests look at; here they only cost time."""

    def drawn(told: Record, lay: Lay, _: Paper) -> tuple[tuple[str, Lay], ...]:
        return ((f"<svg>{told.title}{lay.buy}</svg>", lay),)

    monkeypatch.setattr(files, "draw_pages", drawn)
    monkeypatch.setattr(files, "bound", lambda pages, _: "".join(pages))
    monkeypatch.setattr(files, "compile_sheet", lambda told, *_: f"%PDF {told.title}".encode())
    monkeypatch.setattr(files.referee, "check_drawing", lambda *_: ())
    monkeypatch.setattr(files.referee, "check_sheet", lambda *_: ())
    monkeypatch.setattr(files.referee, "check_record", lambda *_: ())
    monkeypatch.setattr(os, "fsync", lambda _: None)


def test_a_case_is_written_and_reads_back(tmp_path: Path) -> None:
    folder = tmp_path / "out" / "harvest"
    told = record()
    written = write(told, folder, Paper.A4)
    assert [path.name for path in written] == NAMES
    assert names_in(folder) == sorted(NAMES)
    assert records.load(folder / "lay.json") == told
    assert (folder / "sheet.pdf").read_bytes().startswith(b"%PDF-")
    for lay in told.lays:
        assert files.referee.check_drawing((folder / plan_name(lay)).read_text(), lay) == ()


def test_the_same_record_gives_the_same_files(tmp_path: Path) -> None:
    write(record(), tmp_path / "one", Paper.LETTER)
    write(record(), tmp_path / "two", Paper.LETTER)
    assert contents(tmp_path / "one") == contents(tmp_path / "two")


@pytest.mark.usefixtures("quick")
def test_files_are_as_open_as_any_other(tmp_path: Path) -> None:
    write(record(), tmp_path / "out", Paper.A4)
    (tmp_path / "plain").write_text("")
    wanted = (tmp_path / "plain").stat().st_mode
    assert all((tmp_path / "out" / name).stat().st_mode == wanted for name in NAMES)


@pytest.mark.usefixtures("quick")
class TestOlderFiles:
    def test_they_are_replaced_and_others_left_alone(self, tmp_path: Path) -> None:
        write(record(), tmp_path, Paper.A4)
        (tmp_path / "notes.txt").write_text("mine")
        (tmp_path / "plan-mine.svg").write_text("mine")
        write(record(title="Second"), tmp_path, Paper.A4)
        assert b"Second" in (tmp_path / "lay.json").read_bytes()
        assert names_in(tmp_path) == sorted([*NAMES, "notes.txt", "plan-mine.svg"])
        assert (tmp_path / "plan-mine.svg").read_text() == "mine"

    def test_plans_of_cloths_no_longer_in_the_case_go(self, tmp_path: Path) -> None:
        write(record(), tmp_path, Paper.A4)
        write(replace(record(), lays=(skirt(),)), tmp_path, Paper.A4)
        assert names_in(tmp_path) == ["lay.json", "plan-main.svg", "sheet.pdf"]

    @pytest.mark.parametrize(
        "old",
        [
            "", "{", "[]", '{"lays": 3}', '{"lays": [{"cloth": {"key": "../victim"}}]}',
            '{"lays": [{"cloth": {"key": "a/../../victim"}}]}', "[" * 100_000,
        ],
    )  # fmt: skip
    def test_an_older_record_that_lies_removes_nothing(self, tmp_path: Path, old: str) -> None:
        folder = tmp_path / "out"
        folder.mkdir()
        (folder / "lay.json").write_text(old)
        (folder / "plan-a").mkdir()
        for name in ("victim", "plan-victim.svg", "victim.svg"):
            (tmp_path / name).write_text("mine")
        write(record(), folder, Paper.A4)
        assert names_in(folder) == sorted([*NAMES, "plan-a"])
        assert names_in(tmp_path) == ["out", "plan-victim.svg", "victim", "victim.svg"]

    def test_a_link_is_replaced_and_what_it_names_kept(self, tmp_path: Path) -> None:
        (tmp_path / "elsewhere").write_text("mine")
        (tmp_path / "sheet.pdf").symlink_to(tmp_path / "elsewhere")
        write(record(), tmp_path, Paper.A4)
        assert (tmp_path / "elsewhere").read_text() == "mine"
        assert not (tmp_path / "sheet.pdf").is_symlink()


class Fault:
    """Counts calls of the file system and raises at the n-th."""

    def __init__(self, at: int, error: BaseException, *, after: bool) -> None:
        self.at, self.error, self.after, self.count = at, error, after, 0

    def around(self, call: Callable[..., object]) -> Callable[..., object]:
        def wrapped(*args: object, **named: object) -> object:
            self.count += 1
            if self.count != self.at:
                return call(*args, **named)
            if self.after:
                call(*args, **named)
            raise self.error

        return wrapped


CALLS = (
    (os, "fsync"), (os, "link"), (os.path, "lexists"), (Path, "replace"), (Path, "unlink"),
    (Path, "mkdir"), (Path, "open"),
)  # fmt: skip


def with_fault(fault: Fault, told: Record, folder: Path) -> bool:
    """Write with a fault built in; tells whether it was met on the way."""
    with pytest.MonkeyPatch.context() as patch, suppress(CannotWrite, KeyboardInterrupt):
        interrupted = isinstance(fault.error, KeyboardInterrupt)
        for owner, name in (*CALLS, (shutil, "rmtree")) if interrupted else CALLS:
            patch.setattr(owner, name, fault.around(getattr(owner, name)))
        write(told, folder, Paper.A4)
    return fault.count >= fault.at


ERRORS: tuple[tuple[BaseException, bool], ...] = (
    (OSError(errno.ENOSPC, "No space left on device"), False),
    (KeyboardInterrupt(), False),
    (KeyboardInterrupt(), True),
)


@pytest.mark.usefixtures("quick")
class TestFaults:
    @pytest.mark.parametrize(("error", "after"), ERRORS)
    @pytest.mark.parametrize("links", [True, False], ids=["links", "copies"])
    def test_an_older_case_is_whole_wherever_the_fault_falls(
        self,
        tmp_path: Path,
        monkeypatch: pytest.MonkeyPatch,
        error: BaseException,
        after: bool,
        links: bool,
    ) -> None:
        if not links:
            monkeypatch.setattr(os, "link", _no_links)
        old, new = record(), replace(record(title="Second"), lays=(skirt(),))
        for folder in (tmp_path / "old", tmp_path / "new"):
            write(old, folder, Paper.A4)
            (folder / "notes.txt").write_text("mine")
        write(new, tmp_path / "new", Paper.A4)
        whole = [contents(tmp_path / "old"), contents(tmp_path / "new")]
        seen = []
        for at in range(1, 200):
            folder = tmp_path / str(at)
            shutil.copytree(tmp_path / "old", folder)
            met = with_fault(Fault(at, error, after=after), new, folder)
            assert contents(folder) in whole
            seen.append(whole.index(contents(folder)))
            if not met:
                break
        assert not met
        assert seen.count(0) > 15  # every call up to the last move puts all back
        assert seen[-1] == 1

    @pytest.mark.parametrize(("error", "after"), ERRORS)
    def test_nothing_is_left_where_nothing_stood(
        self, tmp_path: Path, error: BaseException, after: bool
    ) -> None:
        write(record(), tmp_path / "whole" / "out" / "new", Paper.A4)
        whole = [{}, contents(tmp_path / "whole")]
        seen = []
        for at in range(1, 200):
            top = tmp_path / str(at)
            top.mkdir()
            met = with_fault(Fault(at, error, after=after), record(), top / "out" / "new")
            assert contents(top) in whole
            seen.append(whole.index(contents(top)))
            if not met:
                break
        assert not met
        assert seen.count(0) > 10
        assert seen[-1] == 1

    def test_a_copy_cut_short_is_not_put_back(
        self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        def half(source: Path, target: Path, **_: object) -> None:
            target.write_bytes(source.read_bytes()[:10])
            raise KeyboardInterrupt

        write(record(), tmp_path, Paper.A4)
        old = contents(tmp_path)
        monkeypatch.setattr(os, "link", _no_links)
        monkeypatch.setattr(shutil, "copy2", half)
        with pytest.raises(KeyboardInterrupt):
            write(record(title="Second"), tmp_path, Paper.A4)
        assert contents(tmp_path) == old

    def test_old_files_that_can_not_be_put_back_are_not_thrown_away(
        self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        monkeypatch.setattr(os, "link", _no_links)
        write(record(), tmp_path, Paper.A4)
        old = contents(tmp_path)
        true_replace, calls = Path.replace, []

        def breaks_for_good(self: Path, target: Path) -> Path:
            # The first four calls finish the copies that are held back, the fifth moves a file.
            calls.append(target)
            if len(calls) > 5:
                raise OSError(errno.EIO, "Input/output error")
            return true_replace(self, target)

        monkeypatch.setattr(Path, "replace", breaks_for_good)
        with pytest.raises(CannotWrite):
            write(record(title="Second"), tmp_path, Paper.A4)
        left = contents(tmp_path)
        held = {Path(name).name: text for name, text in left.items() if "/old/" in name}
        assert held == old


def _no_links(*_: object, **__: object) -> None:
    raise OSError(errno.EPERM, "Operation not permitted")


@pytest.mark.usefixtures("quick")
class TestBadPlaces:
    def test_a_file_in_place_of_the_folder(self, tmp_path: Path) -> None:
        (tmp_path / "out").write_text("mine")
        for folder in (tmp_path / "out", tmp_path / "out" / "deeper"):
            with pytest.raises(CannotWrite, match="a file stands where a folder should") as caught:
                write(record(), folder, Paper.A4)
            assert str(folder) in str(caught.value)
        assert (tmp_path / "out").read_text() == "mine"

    def test_a_folder_in_place_of_a_file(self, tmp_path: Path) -> None:
        (tmp_path / "sheet.pdf").mkdir()
        (tmp_path / "lay.json").write_text("mine")
        with pytest.raises(CannotWrite, match="a folder stands where a file should"):
            write(record(), tmp_path, Paper.A4)
        assert contents(tmp_path) == {"sheet.pdf": None, "lay.json": b"mine"}

    @pytest.mark.parametrize("name", ["bad\0name", "x" * 400, "bad\udcff\0"])
    def test_a_name_that_no_disk_takes(self, tmp_path: Path, name: str) -> None:
        with pytest.raises(CannotWrite, match="choose a") as caught:
            write(record(), tmp_path / "new" / name, Paper.A4)
        assert "\n" not in str(caught.value)
        assert contents(tmp_path) == {}

    @pytest.mark.parametrize(
        ("number", "said"),
        [
            (errno.EACCES, "no right to write"), (errno.EROFS, "read-only"),
            (errno.EIO, "can't be written \\(input/output error\\)"),
        ],
    )  # fmt: skip
    def test_a_folder_that_may_not_be_written(
        self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int, said: str
    ) -> None:
        # Tests may run as root, whom no mode keeps out; so the refusal is played.
        fault = Fault(2, OSError(number, os.strerror(number)), after=False)
        monkeypatch.setattr(Path, "mkdir", fault.around(Path.mkdir))
        with pytest.raises(CannotWrite, match=said):
            write(record(), tmp_path / "out", Paper.A4)
        assert contents(tmp_path) == {}

    @pytest.mark.parametrize(
        "key", ["../up", "a/b", "a\\b", "", ".", "..", "a\nb", "a:b", "x" * 80, "a.", " a", "a\0"]
    )
    def test_a_key_that_is_no_file_name(self, tmp_path: Path, key: str) -> None:
        told = record()
        bad = replace(told.lays[0], cloth=replace(told.lays[0].cloth, key=key))
        with pytest.raises(CannotWrite, match="can't be part of a file name"):
            write(replace(told, lays=(bad,)), tmp_path / "out", Paper.A4)
        assert contents(tmp_path) == {}

    def test_two_keys_that_differ_in_case_alone(self, tmp_path: Path) -> None:
        twin = replace(skirt(), cloth=replace(skirt().cloth, key="Main"))
        with pytest.raises(CannotWrite, match="same file name"):
            write(replace(record(), lays=(skirt(), twin)), tmp_path / "out", Paper.A4)
        assert contents(tmp_path) == {}


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A disk of 64 kB; the test skips, saying so, where none may be mounted."""
    disk = tmp_path / "disk"
    disk.mkdir()
    mount, unmount = shutil.which("mount"), shutil.which("umount")
    if not mount or not unmount:
        pytest.skip("there is no mount command here")
    asked = [mount, "-t", "tmpfs", "-o", "size=64k", "tmpfs", str(disk)]
    if subprocess.run(asked, capture_output=True, check=False).returncode:
        pytest.skip("no disk may be mounted here")
    yield disk
    subprocess.run([unmount, str(disk)], check=True)


def test_a_disk_that_fills_up_half_way(small_disk: Path) -> None:
    (small_disk / "lay.json").write_text("mine")
    with pytest.raises(CannotWrite, match="the disk is full"):
        write(record(), small_disk, Paper.A4)  # about 200 kB
    with pytest.raises(CannotWrite, match="the disk is full"):
        write(record(), small_disk / "new", Paper.A4)
    assert contents(small_disk) == {"lay.json": b"mine"}


def test_no_room_for_passing_files_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: object) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC), "Regular.ttf")

    monkeypatch.setattr(fonts, "copyfile", full)
    monkeypatch.setattr(fonts, "user_cache_path", lambda _: tmp_path / "caches")
    says = r"find no room in the system's folder for passing files \(no space left on device\)"
    with pytest.raises(CannotWrite, match=says):
        write(record(), tmp_path / "out", Paper.A4)
    assert contents(tmp_path / "caches") == {}
    assert not (tmp_path / "out").exists()


def test_a_lay_with_a_fault_is_never_written(tmp_path: Path) -> None:
    told = record()
    moved = replace(told.lays[0].placements[0], x=told.lays[0].placements[0].x + 1)
    lay = replace(told.lays[0], placements=(moved, *told.lays[0].placements[1:]))
    with pytest.raises(Refused) as caught:
        write(replace(told, lays=(lay, told.lays[1])), tmp_path / "out", Paper.A4)
    assert caught.value.findings
    assert contents(tmp_path) == {}


def test_a_drawing_with_a_fault_is_never_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    true_draw = files.draw_pages

    def spoiled(*asked: Any) -> tuple[tuple[str, Lay], ...]:
        return tuple((svg.replace('id="A-2"', 'id="A-7"'), part) for svg, part in true_draw(*asked))

    monkeypatch.setattr(files, "draw_pages", spoiled)
    with pytest.raises(Refused, match="the drawing of indigo sprig cotton"):
        write(record(), tmp_path / "out", Paper.A4)
    assert contents(tmp_path) == {}


@pytest.mark.usefixtures("quick")
def test_the_record_says_what_was_written(tmp_path: Path) -> None:
    write(record(System.IN), tmp_path, Paper.A4)
    told = json.loads((tmp_path / "lay.json").read_text(encoding="utf-8"))
    assert [f"plan-{lay['cloth']['key']}.svg" for lay in told["lays"]] == NAMES[:2]
    assert told["units"] == "in"
