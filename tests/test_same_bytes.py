"""The same case, seed and count give the same bytes, wherever, whenever and by whomever it is run.

Each command is run by two processes that differ in all that a user's machine may have otherwise:
the order of sets and of the folder's files, the time zone and the day, the language, the home, the
working folder, the rights of new files, and how many cores there are.
"""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
CASES = ROOT / "cases"
HERE = {"PYTHONHASHSEED": "1", "TZ": "UTC", "LC_ALL": "C"}
THERE = {
    "PYTHONHASHSEED": "4711", "TZ": "Asia/Tokyo", "LANG": "de_DE.UTF-8", "LC_ALL": "C.UTF-8",
    "COLUMNS": "60",
}  # fmt: skip
RUN = """
import os, sys, time
from marker.cli import main
elsewhere, folder, *commands = sys.argv[1:]
if elsewhere:
    os.umask(0o077)
    if hasattr(os, "sched_setaffinity"):
        os.sched_setaffinity(0, [min(os.sched_getaffinity(0))])
    now = time.time
    time.time = lambda: now() + 1e8
for command in commands:
    verb, case, *more = command.split()
    out = os.path.join("out", command.replace(" ", "_"))
    main([verb, os.path.join(folder, case), *more, "--out", out, "--json"], standalone_mode=False)
"""
COUNTED = "--iterations 1"


def run(folder: Path, home: Path, elsewhere: bool, *commands: str) -> dict[str, bytes]:
    """Every file that the commands write, by its path, and all that they print."""
    folder.mkdir(parents=True)
    kept = {name: os.environ[name] for name in ("PATH", "NUMBA_CACHE_DIR") if name in os.environ}
    told = THERE if elsewhere else HERE
    caches = os.environ.get("XDG_CACHE_HOME", str(Path.home() / ".cache"))
    paths = {"PYTHONPATH": str(ROOT), "HOME": str(home), "XDG_CACHE_HOME": caches}
    done = subprocess.run(
        [sys.executable, "-c", RUN, "1" if elsewhere else "", str(CASES), *commands],
        capture_output=True, check=True, cwd=folder, env={**kept, **told, **paths},
    )  # fmt: skip
    found = {path.relative_to(folder).as_posix(): path.read_bytes()
             for path in folder.rglob("*") if path.is_file()}  # fmt: skip
    return {**found, "stdout": done.stdout, "stderr": done.stderr}


def differing(one: dict[str, bytes], two: dict[str, bytes]) -> set[str]:
    """The names under which two runs left different bytes, or one of them none."""
    return {name for name in one.keys() | two.keys() if one.get(name) != two.get(name)}


def twice(tmp_path: Path, *commands: str) -> dict[str, bytes]:
    """What the commands give, the same here and elsewhere; fails with the names of what differs."""
    one = run(tmp_path / "one", tmp_path, False, *commands)
    two = run(tmp_path / "another folder" / "deeper", tmp_path / "another home", True, *commands)
    assert differing(one, two) == set()
    return one


@pytest.mark.slow
def test_straight_pieces_and_pleats(tmp_path: Path) -> None:
    found = twice(tmp_path, f"plan matched-check.toml {COUNTED}", "pleats pleated-skirt.toml")
    assert {Path(name).name for name in found} == {
        "lay.json", "plan-main.svg", "pleats.pdf", "sheet.pdf", "stderr", "stdout",
    }  # fmt: skip
    assert found["stdout"].count(b'"files"') == 2
    assert found["stderr"] == b""


@pytest.mark.slow
def test_nests_and_templates(tmp_path: Path) -> None:
    names = ("plan gored-walking-skirt.toml", "templates half-circle-skirt.toml")
    found = twice(tmp_path, *(f"{name} {COUNTED}" for name in names))
    assert any("templates-a4.pdf" in name for name in found)


@pytest.mark.slow
def test_many_plans_abreast(tmp_path: Path) -> None:
    names = (
        "compare three-bolts.toml", "reach remnant-skirt.toml", "plan two-on-one-bolt.toml",
        "plan facing-from-scraps.toml",
    )  # fmt: skip
    found = twice(tmp_path, *(f"{name} {COUNTED}" for name in names))
    assert any("compare.pdf" in name for name in found)
    assert any("reach.pdf" in name for name in found)


@pytest.mark.slow
def test_a_chart(tmp_path: Path) -> None:
    assert any(
        "chart.pdf" in name for name in twice(tmp_path, f"chart charted-skirt.toml {COUNTED}")
    )


def test_the_comparison_can_fail() -> None:
    assert differing({"a": b"1", "b": b"2"}, {"a": b"1", "b": b"3"}) == {"b"}
    assert differing({"a": b""}, {}) == differing({}, {"a": b""}) == {"a"}
