"""Are the tests any good? Code is spoiled on purpose, one change at a time, and they must see it.

    python tests/nightly/mutants.py [AREA ...] [--sample 100] [--seed 0] [--only FILE:LINE ...]

Needs `.[nightly]`. For each area (units, garments, referee, bounds) its tests run once under
coverage, to learn which of them come to which line and how long they take. Then a sample of all
changes that `spoil` knows is drawn, and each is tried by the tests that come to its line, the
quickest first. Those are run in a process of their own, in which the changed file is loaded in
place of the one on the disk, so nothing is ever written. What no test sees has survived: it is
printed, unless `survivors.txt` tells why the changed code is as good. Ends with 1 where an area
has less than 85 in 100 killed. Compiled loops are let be, and so are tests that fail anyway.
"""

from __future__ import annotations

import argparse
import importlib.abc
import importlib.machinery
import json
import os
import resource
import signal
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from importlib import import_module
from pathlib import Path
from random import Random
from types import ModuleType
from typing import Any

import pytest
from spoil import Spoiled, every

ROOT = Path(__file__).parents[2]
KNOWN = Path(__file__).with_name("survivors.txt")
LEAST = 0.85
"""What part of the sample must be killed."""
ENOUGH, MOST, CAP = 12.0, 250, 20.0
"""Seconds of tests and tests that one change is tried by; seconds beyond what they usually take."""
LARGE = 12 << 30
"""Bytes of addresses that a run may take: a spoiled loop may fill the memory before its time."""
AREAS = {
    "units": (["units.py"], ["units*", "newcase", "casefile"]),
    "garments": (
        ["garments/**/*.py"],
        [
            "garments_[abeflmnstw]*", "garments_pa*", "garments_pe*", "garments_ple*",
            "garments_circles", "garments_closing", "garments_curved_match",
            "garments_go*", "garments_hems", "brought", "brought_faults", "casefile*", "gauging",
        ],
    ),
    "referee": (["referee/*.py"], ["referee*", "library", "joined", "folded_lays"]),
    "bounds": (
        [
            "solver/bounds.py", "solver/program.py", "solver/goals.py", "solver/problem.py",
            "solver/nest/bounds.py", "solver/nest/inrow.py", "solver/nest/nearest.py",
            "solver/shears/cuts.py", "decide/serves.py",
        ],
        [
            "solver", "solver_bounds_edges", "solver_edges", "solver_goals", "solver_parts",
            "nest_bounds*", "nest_parts", "shears_cuts", "shears_rows", "chart",
        ],
    ),
}  # fmt: skip
"""The files of an area below `marker`, and the tests that should see what is wrong with them."""
LOADED = ("numpy", "hypothesis", "pydantic", "numba", "rich", "click", "svgwrite", "pyclipper",
          "typst", "shapely", "ortools.sat.python.cp_model", "pypdf")  # fmt: skip
"""What is loaded once for all runs; nothing of the program may be."""


@dataclass
class Learned:
    """What a run of an area's tests without any change teaches."""

    reached: dict[str, dict[int, set[str]]] = field(default_factory=dict)
    """Tests by file and line; those of the name "" stand for the loading of the file."""
    took: dict[str, float] = field(default_factory=dict)
    """Seconds of every test that passes."""


class Watcher:
    """A plug-in that tells coverage which test is running, and keeps how long each takes."""

    def __init__(self, switch: Callable[[str], None]) -> None:
        self.switch = switch
        self.took: dict[str, float] = {}
        self.failed: set[str] = set()

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtest_logstart(self, nodeid: str) -> None:
        self.switch(nodeid)

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        self.took[report.nodeid] = self.took.get(report.nodeid, 0.0) + report.duration
        if not report.passed:
            self.failed.add(report.nodeid)

    def pytest_runtest_logfinish(self) -> None:
        self.switch("")


class Unshrunk:
    """A plug-in: what a random test finds wrong need not be made small."""

    def pytest_configure(self) -> None:
        from hypothesis import Phase, settings

        phases = (Phase.explicit, Phase.generate)
        settings.register_profile("unshrunk", settings.get_profile("steady"), phases=phases)
        settings.load_profile("unshrunk")


class Instead(importlib.abc.MetaPathFinder):
    """Loads one file of the program with a change in it."""

    def __init__(self, spoiled: Spoiled) -> None:
        parts = spoiled.path.relative_to(ROOT).with_suffix("").parts
        self.name = ".".join(parts[:-1] if parts[-1] == "__init__" else parts)
        self.code = spoiled.code()

    def find_spec(
        self, fullname: str, path: Sequence[str] | None, target: ModuleType | None = None
    ) -> importlib.machinery.ModuleSpec | None:
        if fullname != self.name:
            return None
        spec = importlib.machinery.PathFinder.find_spec(fullname, path, target)
        assert spec is not None and spec.loader is not None
        spec.loader.get_code = lambda _: self.code  # type: ignore[attr-defined]
        return spec


def apart(work: Callable[[], Any], seconds: float) -> Any:
    """What `work` gives in a process of its own, as JSON; None where it takes longer or breaks."""
    with tempfile.TemporaryFile("w+") as out:
        child = os.fork()
        if child == 0:
            os.setsid()
            signal.alarm(int(seconds) + 1)
            quiet = os.open(os.devnull, os.O_WRONLY)
            os.dup2(quiet, 1)
            os.dup2(quiet, 2)
            try:
                json.dump(work(), out)
                out.flush()
            finally:
                os._exit(0)
        os.waitpid(child, 0)
        end_all(child)
        out.seek(0)
        text = out.read()
    return json.loads(text) if text else None


def end_all(group: int) -> None:
    """End what a run has started and left behind."""
    with suppress(ProcessLookupError, PermissionError):
        os.killpg(group, signal.SIGKILL)


def learn(files: Sequence[Path], tests: Sequence[Path]) -> Learned:
    """Run the tests once and see which come to which line."""

    def work() -> object:
        import coverage

        with tempfile.TemporaryDirectory() as folder:
            asked = coverage.Coverage(
                data_file=f"{folder}/data", include=[str(path) for path in files], config_file=False
            )
            watcher = Watcher(asked.switch_context)
            asked.start()
            pytest.main(_asked([str(path) for path in tests]), plugins=[watcher, Unshrunk()])
            asked.stop()
            data = asked.get_data()
            lines = {
                name: {line: sorted(names) for line, names in data.contexts_by_lineno(name).items()}
                for name in data.measured_files()
            }
        took = {name: took for name, took in watcher.took.items() if name not in watcher.failed}
        return {"lines": lines, "took": took, "failed": sorted(watcher.failed)}

    found = apart(work, 3600)
    assert found and found["took"], "the tests didn't run"
    if found["failed"]:
        print(f"left out, since they don't pass: {', '.join(found['failed'])}", flush=True)
    reached = {
        name: {int(line): set(names) for line, names in lines.items()}
        for name, lines in found["lines"].items()
    }
    return Learned(reached, found["took"])


def _asked(names: Sequence[str]) -> list[str]:
    given = ["-q", "-p", "no:cacheprovider", "-p", "no:xdist", "-o", "addopts=", "-m", "not slow"]
    return [*given, *names]


def chosen(spoiled: Spoiled, learned: Learned) -> list[str]:
    """The tests that come to a change, the quickest first, as many as there is time for."""
    lines = learned.reached.get(str(spoiled.path), {})
    names = set[str]().union(*(lines.get(at, ()) for at in range(spoiled.first, spoiled.last + 1)))
    if not names - {""}:  # it is done when the file is loaded: any test of the file may see it
        names = set[str]().union(*lines.values()) if "" in names else set()
    found, total = [], 0.0
    for name in sorted(names & learned.took.keys(), key=learned.took.__getitem__):
        total += learned.took[name]
        if found and (total > ENOUGH or len(found) == MOST):
            break
        found.append(name)
    return found


def survives(spoiled: Spoiled, learned: Learned) -> bool:
    """Whether all tests that come to the change pass with it."""
    tests = chosen(spoiled, learned)
    if not tests:
        return True

    def work() -> int:
        resource.setrlimit(resource.RLIMIT_AS, (LARGE, LARGE))
        sys.meta_path.insert(0, Instead(spoiled))
        return int(pytest.main([*_asked(tests), "-x"], plugins=[Unshrunk()]))

    usual = sum(learned.took[name] for name in tests)
    return bool(apart(work, 3 * usual + CAP) == 0)


def known() -> dict[str, str]:
    """The survivors that are as good as the code, each with the reason."""
    if not KNOWN.is_file():
        return {}
    lines = [line for line in KNOWN.read_text(encoding="utf-8").splitlines() if line.strip()]
    pairs = [line.split("  # ", 1) for line in lines if not line.startswith("#")]
    return {name.strip(): reason for name, reason in pairs}


def judge(area: str, sample: int, seed: int, only: Sequence[str]) -> bool:
    """Try a sample of an area's changes, or all of some lines; whether enough were killed."""
    began = time.process_time(), sum(os.times()[2:4]), time.monotonic()
    sources, globs = AREAS[area]
    files = sorted({path for one in sources for path in (ROOT / "marker").glob(one)})
    tests = sorted({path for one in globs for path in (ROOT / "tests").glob(f"test_{one}.py")})
    learned = learn(files, tests)
    all_of_them = [spoiled for path in files for spoiled in every(path)]
    drawn = Random(seed).sample(all_of_them, min(sample, len(all_of_them)))
    if only:
        drawn = [one for one in all_of_them if one.line(ROOT / "marker") in only]
    reasons, lived, excused = known(), [], []
    for number, spoiled in enumerate(drawn, 1):
        if survives(spoiled, learned):
            name = spoiled.name(ROOT / "marker")
            (excused if name in reasons else lived).append(name)
            if name not in reasons:
                untried = "" if chosen(spoiled, learned) else " (no test comes there)"
                print(f"  {spoiled.line(ROOT / 'marker')} {name}{untried}", flush=True)
        if number % 25 == 0:
            print(f"  {number} of {len(drawn)}", flush=True)
    if not drawn:
        return True
    killed = len(drawn) - len(lived) - len(excused)
    work = sum(os.times()[:4]) - began[0] - began[1]
    print(
        f"{area}: {killed} of {len(drawn)} killed ({100 * killed / len(drawn):.1f} %), "
        f"{len(excused)} are as good, {len(lived)} survived; drawn from {len(all_of_them)}; "
        f"{work:.0f} s of processor time, {time.monotonic() - began[2]:.0f} s",
        flush=True,
    )
    return killed + len(excused) >= LEAST * len(drawn)


def main() -> int:
    parser = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    parser.add_argument("areas", nargs="*", default=list(AREAS), metavar="AREA")
    parser.add_argument("--sample", type=int, default=100)
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--only", nargs="*", default=[], metavar="FILE:LINE",
                        help="try all changes of these lines instead")  # fmt: skip
    asked = parser.parse_args()
    for name in LOADED:
        import_module(name)
    os.chdir(ROOT)
    sys.path.insert(0, str(ROOT))
    os.environ["PYTHONPATH"] = str(ROOT)
    results = [judge(area, asked.sample, asked.seed, asked.only) for area in asked.areas]
    return 0 if all(results) else 1


if __name__ == "__main__":
    sys.exit(main())
