"""Compiled loops are kept for just the sources that they were made of."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from marker.solver import compiled

INNER = """from marker.solver.compiled import compiled

@compiled()
def inner(x):
    return x + {}
"""
OUTER = """from marker.solver.compiled import compiled
from marker.solver.inner import inner

@compiled()
def outer(x):
    return inner(x)
"""


def run(folder: Path, caches: Path, before: str = "") -> str:
    # A path of its own, so that this copy is found before the package under test.
    ask = before + f"import sys; sys.path.insert(0, {str(folder)!r})\n"
    ask += "from marker.solver.outer import outer; print(outer(1))"
    home = {name: str(caches) for name in ("HOME", "XDG_CACHE_HOME", "LOCALAPPDATA")}
    # Bytecode is told from its source by the second and the size alone, and stays the same here.
    home["PYTHONDONTWRITEBYTECODE"] = "1"
    kept = {name: value for name, value in os.environ.items() if name != "NUMBA_CACHE_DIR"}
    return subprocess.run(
        [sys.executable, "-c", ask],
        capture_output=True, text=True, check=True, cwd=folder, env={**kept, **home},
    ).stdout.strip()  # fmt: skip


@pytest.fixture(scope="module")
def copy(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A package of the same name with the room under test and two loops, one within the other."""
    folder = tmp_path_factory.mktemp("there")
    solver = folder / "marker" / "solver"
    solver.mkdir(parents=True)
    for package in (solver.parent, solver):
        (package / "__init__.py").touch()
    shutil.copy(compiled.__file__, solver)
    (solver / "outer.py").write_text(OUTER, encoding="utf-8")
    (solver / "inner.py").write_text(INNER.format(1), encoding="utf-8")
    return folder


@pytest.mark.slow
def test_a_change_in_another_file_compiles_afresh(copy: Path, tmp_path: Path) -> None:
    caches, inner = tmp_path / "caches", copy / "marker" / "solver" / "inner.py"
    try:
        assert run(copy, caches) == "2"
        kept = {path: path.stat().st_mtime_ns for path in caches.rglob("loops-*/**/*.nb?")}
        assert len([path for path in kept if path.suffix == ".nbi"]) == 2
        assert run(copy, caches) == "2"
        again = {path: path.stat().st_mtime_ns for path in caches.rglob("loops-*/**/*.nb?")}
        assert again == kept
        inner.write_text(INNER.format(2), encoding="utf-8")
        assert run(copy, caches) == "3"
    finally:
        inner.write_text(INNER.format(1), encoding="utf-8")
    # Nothing stays beside the program.
    assert {path.suffix for path in copy.rglob("*") if path.is_file()} <= {".py", ".pyc"}


def test_where_no_cache_can_be_written_loops_are_compiled_anew(copy: Path, tmp_path: Path) -> None:
    blocked = tmp_path / "blocked"
    blocked.write_text("a file, where the folder of caches should be", encoding="utf-8")
    assert run(copy, blocked) == "2"
    assert not list(copy.rglob("*.nbi"))


FULL = "import resource; resource.setrlimit(resource.RLIMIT_FSIZE, (10, 10)); "
"""No file may grow beyond ten bytes, as on a disk that is full."""


@pytest.mark.slow
@pytest.mark.skipif(sys.platform == "win32", reason="the length of files can't be bounded here")
def test_a_full_disk_costs_only_what_would_have_been_kept(copy: Path, tmp_path: Path) -> None:
    assert run(copy, tmp_path, FULL) == "2"
    assert not list(tmp_path.rglob("*.nbc"))


@pytest.mark.slow
def test_what_was_cut_short_is_compiled_anew(copy: Path, tmp_path: Path) -> None:
    assert run(copy, tmp_path) == "2"
    assert list(tmp_path.rglob("*.nbc"))
    for suffix in (".nbc", ".nbi"):
        for path in tmp_path.rglob(f"*{suffix}"):
            path.write_bytes(path.read_bytes()[:20])
        assert run(copy, tmp_path) == "2"


def nested() -> tuple[Callable[[float], float], Callable[[float], float]]:
    """A loop that another one calls, and that one, made as things are set now."""

    @compiled.compiled()
    def inner(x: float) -> float:
        return x + 1

    @compiled.compiled()
    def outer(x: float) -> float:
        return inner(x) + 10

    return inner, outer


def test_what_loops_call_may_be_called_from_outside_too(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(compiled.numba.config, "CACHE_DIR", str(tmp_path))

    inner, outer = nested()
    assert outer(1) == 12
    spared: Any = inner
    assert not spared.overloads  # nothing made for a call from outside that nobody has asked for
    assert inner(1) == 2
    assert len(spared.overloads) == 1
    assert outer(2.5) == 13.5  # other kinds of figures, within and without
    assert inner(2.5) == 3.5


def test_loops_run_where_nothing_is_to_be_compiled(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(compiled.numba.config, "DISABLE_JIT", 1)

    _, outer = nested()
    assert outer(1) == 12
