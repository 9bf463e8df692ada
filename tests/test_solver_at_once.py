"""Loops are had at hand before the time of a search, but only where one is likely to take it."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import replace

import puzzles
import pytest

from marker.cloth import Cloth
from marker.errors import CannotLay
from marker.geometry import Rect
from marker.lay import Mode
from marker.piece import Piece
from marker.solver import load, loops, solve
from marker.solver.lays import needs_loops
from marker.units import CM

PLAIN = Cloth("c", "c", 100 * CM, CM)


def squares(many: int, side: int = 25 * CM) -> list[Piece]:
    return [Piece("A", "a", side, side, many, "c")]


@pytest.mark.parametrize("mode", [Mode.TEAR, Mode.SHEARS])
def test_what_quick_lays_prove_needs_no_loops(mode: Mode) -> None:
    assert not needs_loops(PLAIN, squares(40), mode)
    assert solve(PLAIN, squares(40), mode=mode, iterations=1).length == 250 * CM
    for seed in (1, 3):
        assert not needs_loops(*puzzles.assorted(seed, 30, 11), mode)


@pytest.mark.parametrize("mode", [Mode.TEAR, Mode.SHEARS])
def test_a_long_search_needs_loops(mode: Mode) -> None:
    cloth, pieces = puzzles.assorted(0, 30, 11)
    assert needs_loops(cloth, pieces, mode)
    assert needs_loops(PLAIN, squares(61), mode)  # how soon it ends is not asked of so many
    assert not needs_loops(cloth, pieces[:3], mode)


def test_by_rules_the_shears_need_them_alone() -> None:
    flawed = replace(PLAIN, flaws=(Rect(0, 0, CM, CM),))
    assert needs_loops(flawed, squares(40), Mode.SHEARS)
    assert not needs_loops(flawed, squares(40), Mode.TEAR)


def test_loops_are_loaded_before_the_clock_for_long_searches(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    told: list[object] = []
    monkeypatch.setattr(loops, "load", told.append)
    monkeypatch.setattr(loops, "load_proofs", lambda: told.append("proofs"))
    load(*puzzles.assorted(0, 30, 11), Mode.TEAR)
    load(PLAIN, squares(40), Mode.TEAR)
    assert told == [Mode.TEAR, "proofs"]
    load(PLAIN, squares(61), Mode.TEAR)
    load(*puzzles.assorted(0, 30, 11), Mode.SHEARS)
    assert told[2:] == [Mode.TEAR, Mode.SHEARS]


LOADS = """
from marker.solver import loops
loops.load_proofs()
from marker.solver.tear import groups, kernel
print(*(len(loop.signatures) for loop in (kernel.pairs, kernel.worths, groups.parted)))
"""


@pytest.mark.slow
def test_what_proves_torn_lays_is_compiled_before_a_search() -> None:
    """In a process of its own, where no other test has had it compiled."""
    made = subprocess.run([sys.executable, "-c", LOADS], capture_output=True, text=True, check=True)
    assert made.stdout.split() == ["1", "1", "1"]


def test_what_cannot_be_laid_is_told_by_the_search() -> None:
    wide = squares(30, 101 * CM)
    load(PLAIN, wide, Mode.TEAR)
    with pytest.raises(CannotLay):
        solve(PLAIN, wide, mode=Mode.TEAR, iterations=1)
