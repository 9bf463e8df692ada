"""Compiled loops are kept for just the sources that they were made of."""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

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


def run(folder: Path) -> str:
    ask = "from marker.solver.outer import outer; print(outer(1))"
    # A path of its own, so that this copy is found before the package under test.
    return subprocess.run(
        [sys.executable, "-c", f"import sys; sys.path.insert(0, {str(folder)!r}); {ask}"],
        capture_output=True, text=True, check=True, cwd=folder,
    ).stdout.strip()  # fmt: skip


def test_a_change_in_another_file_compiles_afresh(tmp_path: Path) -> None:
    package = tmp_path / "marker"
    shutil.copytree(
        Path(marker.__file__).parent, package, ignore=shutil.ignore_patterns("__pycache__")
    )
    (package / "solver" / "outer.py").write_text(OUTER, encoding="utf-8")
    (package / "solver" / "inner.py").write_text(INNER.format(1), encoding="utf-8")
    assert run(tmp_path) == "2"
    kept = list((package / "solver" / "__pycache__").glob("loops-*/**/*.nbi"))
    assert len(kept) == 2
    assert run(tmp_path) == "2"
    (package / "solver" / "inner.py").write_text(INNER.format(2), encoding="utf-8")
    assert run(tmp_path) == "3"
