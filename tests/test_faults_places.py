"""The same bytes wherever a command is run: other locales, one core, no home, no caches, a pipe."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass, field
from multiprocessing import get_context
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import pytest
from test_faults_killed import CASE

from marker.errors import CannotWrite
from marker.plan.putting import check_place, put

ROOT = Path(__file__).parents[1]
NOBODY = 65534
pytestmark = pytest.mark.slow


@dataclass
class Way:
    """How a command is run: its environment, its case, and what is done before it begins."""

    env: dict[str, str] = field(default_factory=dict)
    case: str = "a.toml"
    asks: dict[str, Any] = field(default_factory=dict)
    less: tuple[str, ...] = ()


def run(folder: Path, out: str, way: Way) -> subprocess.CompletedProcess[str]:
    """Plan the case in a folder by the real program."""
    env = {key: value for key, value in os.environ.items() if key not in way.less}
    return subprocess.run(
        [sys.executable, "-c", "from marker.cli import main; main()", "plan", way.case,
         "--iterations", "2", "--out", out],
        cwd=folder, env={**env, "PYTHONPATH": str(ROOT), **way.env}, check=False,
        capture_output=True, text=True, encoding="utf-8", errors="replace", **way.asks,
    )  # fmt: skip


def contents(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.iterdir()}


@pytest.fixture(scope="module")
def place(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with a case, and what is made of it as usual."""
    folder = tmp_path_factory.mktemp("place")
    (folder / "a.toml").write_text(CASE.format(title="Łódź – ½"), encoding="utf-8")
    assert run(folder, "usual", Way()).returncode == 0
    return folder


def comma(place: Path) -> Way:
    """A locale whose decimal sign is a comma, made here where the machine has none."""
    localedef = shutil.which("localedef")
    if localedef is None:
        pytest.skip("there is no localedef here")
    made = place / "locales" / "de_DE.UTF-8"
    made.parent.mkdir(exist_ok=True)
    subprocess.run(
        [localedef, "-i", "de_DE", "-f", "UTF-8", str(made)], check=False, capture_output=True
    )
    if not made.is_dir():
        pytest.skip("no locale can be made here")
    return Way({"LOCPATH": str(made.parent), "LC_ALL": "de_DE.UTF-8"})


def one_core(_: Path) -> Way:
    if not hasattr(os, "sched_setaffinity"):
        pytest.skip("this system binds no process to a core")
    core = min(os.sched_getaffinity(0))
    return Way(asks={"preexec_fn": lambda: os.sched_setaffinity(0, {core})})


def piped(place: Path) -> Way:
    if not Path("/dev/stdin").exists():
        pytest.skip("this system has no /dev/stdin")
    return Way(case="/dev/stdin", asks={"input": (place / "a.toml").read_text(encoding="utf-8")})


WAYS: dict[str, Callable[[Path], Way]] = {
    "C locale": lambda _: Way(
        {"LC_ALL": "C", "LANG": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"}
    ),
    "comma": comma,
    "one core": one_core,
    "nowhere to live": lambda _: Way(
        {"HOME": "/nonexistent", "XDG_CACHE_HOME": "/nonexistent", "TERM": "dumb"}
    ),
    "no home": lambda _: Way(less=("HOME", "XDG_CACHE_HOME", "TERM", "LANG", "LC_ALL")),
    "from a pipe": piped,
    "no input": lambda _: Way(asks={"stdin": subprocess.DEVNULL}),
}


@pytest.mark.parametrize("name", WAYS)
def test_the_same_bytes_come_out(name: str, place: Path) -> None:
    done = run(place, "other", WAYS[name](place))
    assert done.returncode == 0, done.stderr
    assert done.stderr == ""
    assert contents(place / "other") == contents(place / "usual")


def test_two_at_once_on_one_case_leave_one_set(place: Path) -> None:
    ask = [sys.executable, "-c", "from marker.cli import main; main()"]
    rest = ["a.toml", "--iterations", "2", "--out", "shared"]
    env = {**os.environ, "PYTHONPATH": str(ROOT)}
    pair = [
        subprocess.Popen([*ask, command, *rest], cwd=place, env=env, stdout=subprocess.DEVNULL)
        for command in ("plan", "plan", "compare")
    ]
    assert [process.wait() for process in pair] == [0, 0, 0]
    made = contents(place / "shared")
    assert {name: made.pop(name)[:4] for name in ("compare.pdf", "compare.svg")}
    assert made == contents(place / "usual")


def _as_nobody(folder: Path, said: Path) -> None:
    """Try to write as somebody else, and note what is told, beforehand and when it is done."""
    with said.open("w", encoding="utf-8") as notes:
        os.setgid(NOBODY)
        os.setuid(NOBODY)
        for write in (check_place, lambda place: put(place, {"a.svg": b"a"})):
            try:
                write(folder)
            except CannotWrite as error:
                notes.write(f"{error}\n")


@pytest.mark.skipif(not hasattr(os, "setuid"), reason="this system has no other users")
def test_who_may_not_write_is_told_so(tmp_path: Path) -> None:
    if os.getuid():
        pytest.skip("only root can take another's place")
    with TemporaryDirectory() as top:
        mine = Path(top) / "mine"
        mine.mkdir()
        for folder in (mine, Path(top)):
            folder.chmod(0o755)
        for folder in (mine, mine / "out" / "deep"):
            child = get_context("fork").Process(target=_as_nobody, args=(folder, tmp_path / "said"))
            child.start()
            child.join()
            told = f"{folder}: you have no right to write there; choose another folder; nothing was"
            assert (tmp_path / "said").read_text(encoding="utf-8") == f"{told} changed\n" * 2
        assert not list(mine.iterdir())
