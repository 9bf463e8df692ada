"""Many wearers in little time: nobody is given more than her part, and loops are loaded once."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable, Sequence
from typing import Any

import pytest
from load_cases import CURVED, SHEARS, TORN, case_text

from marker import decide
from marker.casefile import parse
from marker.decide import company, desk
from marker.lay import Lay, Mode
from marker.solver import solve
from marker.solver.cores import cores

SECONDS = 1.0
WEARERS = 12


def _in_turn(job: Callable[[Any], Any], tasks: Sequence[Any]) -> list[Any]:
    return [job(task) for task in tasks]


@pytest.mark.parametrize(
    ("kind", "each", "most"), [pytest.param(TORN, 7, 2.5, marks=pytest.mark.slow), (CURVED, 6, 1.0)]
)
def test_no_wearer_is_given_more_than_her_part_of_the_time(
    kind: str, each: int, most: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    case = parse(case_text(kind, WEARERS * each), "load.toml")
    given: list[float] = []

    def laid(cloth: Any, pieces: Any, *, seconds: float, **more: Any) -> Lay:
        given.append(seconds)
        return solve(cloth, pieces, **{**more, "mode": Mode.SHEARS, "iterations": 0})

    for late in ("LATER", "LATEST"):  # however slow the machine, all are begun in time
        monkeypatch.setattr(company, late, 1e6)
    monkeypatch.setattr(company, "abreast", _in_turn)
    monkeypatch.setattr(company, "load", lambda *_: None)
    monkeypatch.setattr(desk, "solve", laid)
    monkeypatch.setattr(desk, "compare", lambda *asked, **more: (laid(*asked, **more), None))
    budget = desk.Budget(SECONDS, 0, None, None)
    assert company.lay_alone(case, decide.draft(case), desk.Desk(case, budget)) is not None
    part = most * company.ALONE * SECONDS * min(cores(), WEARERS) / WEARERS
    assert len(given) == WEARERS
    assert all(seconds <= part + 1e-9 for seconds in given)
    assert given[0] == pytest.approx(part)
    assert given[0] < desk.LEAST_SECONDS or most > 1


@pytest.mark.parametrize(("kind", "each"), [(SHEARS, 7), (CURVED, 6)])
def test_what_searches_need_is_loaded_once_before_the_time_of_a_company(
    kind: str, each: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    case = parse(case_text(kind, WEARERS * each), "load.toml")
    told: list[str] = []

    def loaded(_: object, pieces: Sequence[Any]) -> None:
        assert sum(piece.count for piece in pieces) == WEARERS * each
        told.append("loaded")

    def abreast(_: object, tasks: Sequence[object]) -> list[None]:
        told.append("begun")
        return [None] * len(tasks)

    monkeypatch.setattr(company, "load", loaded)
    monkeypatch.setattr(company, "abreast", abreast)
    budget = desk.Budget(SECONDS, 0, None, None)
    assert company.lay_alone(case, decide.draft(case), desk.Desk(case, budget)) is None
    assert told == ["loaded", "begun"]


LOADS = """
from marker.cloth import Cloth
from marker.piece import Piece
from marker.solver import load
cloth = Cloth("c", "c", 240_000, 1_600, tears=False)
load(cloth, [Piece("A", "a", 16_000, 16_000, 61, "c")])
from marker.solver.tear import knit
from marker.solver.shears import skyline, tree
print(*(len(loop.signatures) for loop in (knit.knit, skyline.anneal, tree.explore)))
"""


@pytest.mark.slow
def test_loops_for_many_pieces_are_compiled_before_a_search() -> None:
    """In a process of its own, where no other test has had them compiled."""
    made = subprocess.run(
        [sys.executable, "-c", LOADS], capture_output=True, text=True, check=True, env=os.environ
    )
    assert made.stdout.split() == ["1", "1", "1"]
