"""How time and memory grow with the number of pieces, and of options of a chart or a comparison.

    python tests/bench/load.py [--kinds torn shears curved chart compare] [--sizes 10 30 100]
                               [--seconds 10] [--profile STAGE]

Each case is made by `load_cases` and worked through in a process of its own, stage by stage as the
commands do. One JSON line a case: seconds by the clock, those of all processors (of the processes
that help, too), the most memory that one process held, and the processor time of each stage. At
the end a line for each kind: the slope of a straight line through the logarithms, so that a stage
of slope 1 grows with the pieces and one of slope 2 with their square; stages that never took a
tenth of a second are left out. With `--profile` the functions that one stage spends most time in
are told on stderr.
"""

from __future__ import annotations

import argparse
import cProfile
import json
import multiprocessing
import pstats
import resource
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from math import log
from multiprocessing.connection import Connection
from pathlib import Path
from time import monotonic
from typing import Any

sys.path.insert(0, str(Path(__file__).parents[1]))

from load_cases import CURVED, SHEARS, TORN, case_text, chart_text, compare_text

from marker import decide, referee
from marker import record as records
from marker.casefile import Case, parse
from marker.decide.chart import Chart, chart
from marker.decide.comparison import Comparison, compare
from marker.plan.drawing.page import Paper
from marker.plan.lays.binding import bound
from marker.plan.lays.svg import draw_pages
from marker.plan.pages import write_pages
from marker.plan.sheet.setting import compile_sheet

CHART, COMPARE = "chart", "compare"
SIZES = {
    **dict.fromkeys((TORN, SHEARS, CURVED), (10, 30, 100, 300, 1000)),
    CHART: (10, 30, 100, 300, 500),
    COMPARE: (10, 30, 100, 300),
}
LEAST = 0.1
"""Seconds under which a stage is not fitted."""


class Stages:
    """The processor time of stages, and what one of them does with it."""

    def __init__(self, profiled: str) -> None:
        self.seconds: dict[str, float] = {}
        self.clock: dict[str, float] = {}
        self.profiled = profiled

    @contextmanager
    def stage(self, name: str) -> Iterator[None]:
        """Time what is done within."""
        profile = cProfile.Profile() if name == self.profiled else None
        began, clock = processor(), monotonic()
        if profile:
            profile.enable()
        yield
        if profile:
            profile.disable()
            pstats.Stats(profile, stream=sys.stderr).sort_stats("cumtime").print_stats(45)
        self.seconds[name] = round(processor() - began, 2)
        self.clock[name] = round(monotonic() - clock, 2)


def processor() -> float:
    """Processor seconds of this process and of those that it began and that have ended."""
    whose = (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)
    used = [resource.getrusage(who) for who in whose]
    return sum(each.ru_utime + each.ru_stime for each in used)


def most_memory() -> int:
    """The most that this process, or one that it began, has held, in megabytes."""
    whose = (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)
    return max(resource.getrusage(who).ru_maxrss for who in whose) // 1024


def planned(text: str, seconds: float, stages: Stages) -> None:
    """All that `marker plan` does."""
    with stages.stage("read"):
        case = parse(text, "load.toml")
    with stages.stage("draft"):
        decide.draft(case)
    with stages.stage("plan"):
        record = decide.plan(case, seconds=seconds)
    with stages.stage("referee"):
        assert referee.check_record(record) == ()
    drawn, plans, strips = {}, {}, {}
    with stages.stage("draw"):
        for lay in record.lays:
            drawn[lay.cloth.key] = draw_pages(record, lay, Paper.A4)
    with stages.stage("read back"):
        for lay in record.lays:
            pages = drawn[lay.cloth.key]
            whole = bound([page for page, _ in pages], Paper.A4.size)
            for page, part in ((whole, lay), *pages):
                assert referee.check_drawing(page, part) == ()
            plans[lay.cloth.key], *strips[lay.cloth.key] = [page for page, _ in pages]
    with stages.stage("sheet"):
        compile_sheet(record, plans, Paper.A4, strips=strips)
    with stages.stage("record"):
        told = records.dump(record)
        assert records.parse(told, "lay.json") == record


def charted(text: str, seconds: float, stages: Stages) -> None:
    """All that `marker chart` does."""
    case = _read(text, stages)
    with stages.stage("plan"):
        found = chart(case, seconds=seconds)
    _drawn(found, stages)


def compared(text: str, seconds: float, stages: Stages) -> None:
    """All that `marker compare` does."""
    case = _read(text, stages)
    with stages.stage("plan"):
        found = compare(case, seconds=seconds)
    _drawn(found, stages)


def _drawn(found: Chart | Comparison, stages: Stages) -> None:
    with stages.stage("draw"), tempfile.TemporaryDirectory() as folder:
        write_pages(found, Path(folder), Paper.A4)


def _read(text: str, stages: Stages) -> Case:
    with stages.stage("read"):
        return parse(text, "load.toml")


WORK: dict[str, tuple[Callable[[str, float, Stages], None], Callable[[int], str]]] = {
    TORN: (planned, lambda many: case_text(TORN, many)),
    SHEARS: (planned, lambda many: case_text(SHEARS, many)),
    CURVED: (planned, lambda many: case_text(CURVED, many)),
    CHART: (charted, chart_text),
    COMPARE: (compared, compare_text),
}


def _measured(line: Connection, kind: str, size: int, seconds: float, profiled: str) -> None:
    stages, began = Stages(profiled), monotonic()
    work, text = WORK[kind]
    work(text(size), seconds, stages)
    line.send({
        "kind": kind, "size": size, "seconds": seconds, "clock": round(monotonic() - began, 2),
        "processor": round(processor(), 2), "megabytes": most_memory(),
        "planned_in": stages.clock["plan"], "stages": stages.seconds,
    })  # fmt: skip


def measure(kind: str, size: int, seconds: float, profiled: str) -> dict[str, Any]:
    """What one case takes, in a process of its own."""
    near, far = multiprocessing.Pipe()
    context = multiprocessing.get_context("spawn")  # nothing is warm from the case before
    process = context.Process(target=_measured, args=(far, kind, size, seconds, profiled))
    process.start()
    far.close()
    found: dict[str, Any] = near.recv()
    process.join()
    return found


def slopes(lines: list[dict[str, Any]]) -> dict[str, float]:
    """How each figure grows with the size: the slope of its logarithm over that of the size."""
    table = {
        name: [(line["size"], line["stages"].get(name, 0.0)) for line in lines]
        for name in lines[0]["stages"]
    }
    table["megabytes"] = [(line["size"], line["megabytes"]) for line in lines]
    fitted = {}
    for name, points in table.items():
        logs = [(log(size), log(value)) for size, value in points if value >= LEAST]
        if len(logs) > 1:
            fitted[name] = round(slope(logs), 2)
    return fitted


def slope(points: list[tuple[float, float]]) -> float:
    """The slope of the line of least squares."""
    x, y = (sum(column) / len(points) for column in zip(*points, strict=True))
    return sum((a - x) * (b - y) for a, b in points) / sum((a - x) ** 2 for a, _ in points)


def main() -> None:
    """Read the options and measure every case."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    parser.add_argument("--kinds", nargs="+", choices=list(WORK), default=list(WORK))
    parser.add_argument("--sizes", nargs="+", type=int, default=[])
    parser.add_argument("--seconds", type=float, default=10.0)
    parser.add_argument("--profile", default="", metavar="STAGE")
    asked = parser.parse_args()
    for kind in asked.kinds:
        lines = []
        for size in asked.sizes or SIZES[kind]:
            lines.append(measure(kind, size, asked.seconds, asked.profile))
            print(json.dumps(lines[-1]), flush=True)
        print(json.dumps({"kind": kind, "slopes": slopes(lines)}), flush=True)


if __name__ == "__main__":
    main()
