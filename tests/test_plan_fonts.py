"""The folder that pages take their faces from: kept in the caches whole, or a passing one."""

from __future__ import annotations

import os
import shutil
import time
from pathlib import Path

import pytest

from marker.plan import fonts


@pytest.fixture
def caches(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setattr(fonts, "user_cache_path", lambda _: tmp_path / "caches")
    monkeypatch.setenv("TMPDIR", str(tmp_path / "passing"))
    monkeypatch.setattr("tempfile.tempdir", None)
    (tmp_path / "passing").mkdir()
    return tmp_path / "caches"


def taken() -> tuple[Path, set[str]]:
    """The folder that is handed out, and what is in it meanwhile."""
    with fonts.faces() as folder:
        return Path(folder), {path.name for path in Path(folder).iterdir()}


def test_faces_are_laid_out_once_and_nothing_passing_is_left(
    caches: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder, names = taken()
    assert (folder.parent, names) == (caches, set(fonts.FACES))
    assert list(caches.iterdir()) == [folder]
    assert list((caches.parent / "passing").iterdir()) == []
    monkeypatch.setattr(fonts, "copyfile", lambda *_: pytest.fail("laid out anew"))
    assert taken() == (folder, names)


@pytest.mark.parametrize("harm", ["short", "missing", "another"])
def test_a_folder_that_is_not_whole_is_made_anew(caches: Path, harm: str) -> None:
    folder, names = taken()
    face = folder / fonts.FACES[0]
    true = face.read_bytes()
    if harm == "short":
        face.write_bytes(true[:1000])
    elif harm == "missing":
        face.unlink()
    else:
        shutil.copy(face, folder / "Another.ttf")
    assert taken() == (folder, names)
    assert face.read_bytes() == true
    assert list(caches.iterdir()) == [folder]


def test_where_caches_cannot_be_written_a_passing_folder_serves(caches: Path) -> None:
    caches.write_text("in the way")
    folder, names = taken()
    assert (folder.parent, names) == (caches.parent / "passing", set(fonts.FACES))
    assert not folder.exists()


def test_what_another_process_was_quicker_to_make_is_taken(
    caches: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder, names = taken()
    kept = shutil.move(folder, caches.parent / "theirs")

    true = Path.rename

    def quicker(made: Path, to: Path) -> None:
        shutil.move(kept, to)
        true(made, to)

    monkeypatch.setattr(Path, "rename", quicker)
    assert taken() == (folder, names)
    assert list(caches.iterdir()) == [folder]


def test_what_was_left_half_made_long_ago_goes(caches: Path) -> None:
    caches.mkdir()
    old, new = (caches / f"{fonts.KEPT}{name}{fonts.MAKING}" for name in ("old", "new"))
    for folder in (old, new):
        folder.mkdir()
    long_ago = time.time() - 2 * fonts.LONG
    os.utime(old, (long_ago, long_ago))
    folder, _ = taken()
    assert set(caches.iterdir()) == {folder, new}


def test_faults_of_what_is_set_pass_through(caches: Path) -> None:
    with pytest.raises(OSError, match="of the page"), fonts.faces():
        raise OSError("a fault of the page")
    assert caches.exists()
