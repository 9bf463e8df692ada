"""Which branches does no test take? Coverage of all tests, command line and solvers counted.

    python tests/nightly/branches.py [-n 2]

Needs `.[nightly]`. All tests run once, the slow ones too, with every process that they start
counted. Compiled loops can't be counted; so the tests that come to them on small inputs run
once more with the loops left as they are written, each for 15 s at most, and both are put
together. Prints a table by room, and writes the lines missed to `.branches.txt`.
"""

from __future__ import annotations

import argparse
import os
import signal
import subprocess
import sys
from collections import Counter
from collections.abc import Callable, Generator
from pathlib import Path
from types import FrameType

import pytest

ROOT = Path(__file__).parents[2]
LONGEST = 15
"""Seconds of processor time that a test may take where loops aren't compiled."""
LOOPS = (
    "nest_bounds", "nest_charts", "nest_parts", "nest_rules", "nest", "shears_rows", "shears",
    "solver", "solver_edges", "solver_parts", "solver_large", "cross_checks",
)  # fmt: skip
"""Test files that come to compiled loops on inputs small enough for loops that aren't."""


class TooLong(Exception):
    """A test has had its time; what it came to is counted all the same."""


def stand_in(made: Callable[..., object]) -> Callable[..., object]:
    """In plain Python what the nest's loops have made of machine instructions, by its name."""

    def wound(turns: float, y0: float, y1: float, y: float, side: float) -> float:
        up, down = y0 <= y < y1 and side > 0, y1 <= y < y0 and side <= 0
        return turns + (1.0 if up else -1.0 if down else 0.0)

    return {"_lesser": min, "_greater": max, "_wound": wound}[made.__name__]


def pytest_configure() -> None:
    """As a plug-in of the run without compiled loops."""
    import numba.extending

    numba.extending.intrinsic = stand_in


@pytest.hookimpl(wrapper=True)
def pytest_runtest_call() -> Generator[None]:
    """Let no test take longer."""

    def give_up(_number: int, _frame: FrameType | None) -> None:
        raise TooLong

    signal.signal(signal.SIGVTALRM, give_up)
    signal.setitimer(signal.ITIMER_VIRTUAL, LONGEST)
    try:
        return (yield)
    except TooLong:  # told without a traceback: a loop cut short may have no line to show
        raise pytest.skip.Exception("it has had its time") from None
    finally:
        signal.setitimer(signal.ITIMER_VIRTUAL, 0)


def main(workers: int) -> int:
    """Run all, and print the table."""
    run("erase")
    test(workers, ["-m", "slow or not slow"])
    files = [f"tests/test_{name}.py" for name in LOOPS]
    test(workers, ["-m", "not slow", "-p", "branches", *files], NUMBA_DISABLE_JIT="1")
    run("combine", "-q")
    run("json", "-q", "-o", ".branches.json")
    text = run("report", "-m", "--skip-covered", show=False)
    (ROOT / ".branches.txt").write_text(text, encoding="utf-8")
    table()
    return 0


def test(workers: int, asked: list[str], **more: str) -> None:
    """Run tests under coverage; that one of them takes too long here is no matter."""
    run("run", "-m", "pytest", "-n", f"{workers}", "-o", "addopts=-q", *asked, **more)


def run(*asked: str, show: bool = True, **more: str) -> str:
    """Run coverage in a process of its own, from the root."""
    path = [str(ROOT), str(Path(__file__).parent), os.environ.get("PYTHONPATH", "")]
    done = subprocess.run(
        [sys.executable, "-m", "coverage", *asked],
        cwd=ROOT, text=True, check=False, stdout=None if show else subprocess.PIPE,
        env={**os.environ, "PYTHONPATH": os.pathsep.join(filter(None, path)), **more},
    )  # fmt: skip
    return done.stdout or ""


def table() -> None:
    """What is counted of each room, and how much of it is taken."""
    import json

    rooms: dict[str, Counter[str]] = {}
    found = json.loads((ROOT / ".branches.json").read_text(encoding="utf-8"))
    for name, file in found["files"].items():
        parts = Path(name).with_suffix("").parts
        room = "/".join(parts[1:3]) if parts[1] == "solver" and len(parts) > 3 else parts[1]
        rooms.setdefault(room, Counter()).update(
            {key: value for key, value in file["summary"].items() if isinstance(value, int)}
        )
    rooms["all"] = sum(rooms.values(), Counter())
    print(
        f"{'room':16} {'lines':>7} {'missed':>7} {'branches':>9} {'missed':>7} {'of branches':>12}"
    )
    for room, sums in sorted(rooms.items(), key=lambda pair: (pair[0] == "all", pair[0])):
        branches, missed = sums["num_branches"], sums["missing_branches"]
        part = f"{100 * (1 - missed / branches):.1f} %" if branches else "-"
        print(
            f"{room:16} {sums['num_statements']:7} {sums['missing_lines']:7} "
            f"{branches:9} {missed:7} {part:>12}"
        )


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    parser.add_argument("-n", type=int, default=2, help="workers")
    sys.exit(main(parser.parse_args().n))
