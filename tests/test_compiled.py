"""Compiled loops are kept for just the sources that they were made of."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

import marker

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


def run(folder: Path, caches: Path) -> str:
    # A path of its own, so that this copy is found before the package under test.
    ask = f"import sys; sys.path.insert(0, {str(folder)!r})\n"
    ask += "from marker.solver.outer import outer; print(outer(1))"
    home = {name: str(caches) for name in ("HOME", "XDG_CACHE_HOME", "LOCALAPPDATA")}
    kept = {name: value for name, value in os.environ.items() if name != "NUMBA_CACHE_DIR"}
    return subprocess.run(
        [sys.executable, "-c", ask],
        capture_output=True, text=True, check=True, cwd=folder, env={**kept, **home},
    ).stdout.strip()  # fmt: skip


@pytest.fixture
def copy(tmp_path: Path) -> Path:
    package = tmp_path / "there" / "marker"
    shutil.copytree(
        Path(marker.__file__).parent, package, ignore=shutil.ignore_patterns("__pycache__")
    )
    (package / "solver" / "outer.py").write_text(OUTER, encoding="utf-8")
    (package / "solver" / "inner.py").write_text(INNER.format(1), encoding="utf-8")
    return package.parent


def test_a_change_in_another_file_compiles_afresh(copy: Path, tmp_path: Path) -> None:
    caches = tmp_path / "caches"
    assert run(copy, caches) == "2"
    assert len(list(caches.rglob("loops-*/**/*.nbi"))) == 2
    assert run(copy, caches) == "2"
    (copy / "marker" / "solver" / "inner.py").write_text(INNER.format(2), encoding="utf-8")
    assert run(copy, caches) == "3"


def test_nothing_compiled_stays_beside_the_program(copy: Path, tmp_path: Path) -> None:
    run(copy, tmp_path / "caches")
    left = [
        path for path in copy.rglob("*") if path.is_file() and path.suffix not in (".py", ".pyc")
    ]
    assert {path.name for path in left} <= {"py.typed", "sheet.typ"}


def test_where_no_cache_can_be_written_loops_are_compiled_anew(copy: Path, tmp_path: Path) -> None:
    blocked = tmp_path / "blocked"
    blocked.write_text("a file, where the folder of caches should be", encoding="utf-8")
    assert run(copy, blocked) == "2"
    assert not list(copy.rglob("*.nbi"))
