"""A clock on the wall that is put back keeps no search going, and changes no file."""

from __future__ import annotations

import re
from pathlib import Path
from threading import Event, Timer
from time import monotonic
from typing import cast

import pytest
from ortools.sat.python import cp_model

from marker.solver import model

ROOT = Path(__file__).parents[1]
WALL = {"marker/plan/fonts.py", "marker/plan/putting.py", "marker/solver/compiled.py"}
"""Files that ask how old a file is, which only the clock on the wall tells."""
ASKS = re.compile(
    r"\btime\.(time|time_ns|ctime)\b|^from time import .*\b(time|time_ns|ctime)\b"
    r"|\b(datetime|date)\.(now|today|utcnow)\b",
    re.MULTILINE,
)


class Deaf:
    """A search whose own clock never comes to an end."""

    def __init__(self, done: Event) -> None:
        self.done, self.stopped = done, 0

    def stop_search(self) -> None:
        self.stopped += 1
        self.done.set()


def waited(until: float | None) -> tuple[bool, Deaf]:
    done = Event()
    deaf = Deaf(done)
    return model._wait(done, cast(cp_model.CpSolver, deaf), until), deaf


def test_a_search_that_overlooks_its_time_is_stopped(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(model, "LATE", 0.0)
    asked_to_stop, deaf = waited(monotonic() - 1)
    assert deaf.stopped == 1
    assert not asked_to_stop  # that is for the user alone


@pytest.mark.slow
def test_a_search_within_its_time_is_left_alone() -> None:
    for until in (None, monotonic() + 3600):
        done = Event()
        deaf = Deaf(done)
        Timer(0.6, done.set).start()
        assert not model._wait(done, cast(cp_model.CpSolver, deaf), until)
        assert not deaf.stopped


def test_nothing_else_goes_by_the_clock_on_the_wall() -> None:
    found = {
        path.relative_to(ROOT).as_posix()
        for path in (ROOT / "marker").rglob("*.py")
        if ASKS.search(path.read_text(encoding="utf-8"))
    }
    assert found == WALL
