"""What is left over and worth keeping is what is clear of flaws: solver, referee and words."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from marker import referee
from marker.cloth import Cloth
from marker.decide.desk import Laid
from marker.geometry import Rect
from marker.lay import Aim, Lay
from marker.piece import Piece
from marker.plan.words.sums import leftovers
from marker.referee.goals import _useful
from marker.solver import solve
from marker.solver.goals import useful
from marker.units import CM, System

PIECE = Piece("A", "panel", 60 * CM, 50 * CM, 1, "main")
LEFT = Rect(60 * CM, 0, 100 * CM, 100 * CM)
"""Behind the piece, which lies at the near selvedge."""


def cloth(*flaws: Rect) -> Cloth:
    return Cloth("main", "Linen", 100 * CM, 100 * CM, flaws=flaws)


def laid(*flaws: Rect) -> Lay:
    return solve(cloth(*flaws), (PIECE,), iterations=1)


def remnant(lay: Lay) -> int:
    return next(goal.value for goal in lay.goals if goal.aim is Aim.REMNANT)


spots = st.integers(-2, 12)
rects = st.tuples(spots, spots, st.integers(1, 6), st.integers(1, 6)).map(
    lambda at: Rect(at[0], at[1], at[0] + at[2], at[1] + at[3])
)


@given(st.lists(rects, max_size=5), st.integers(1, 4))
def test_the_largest_clear_rectangle_agrees_with_a_slow_count(
    holes: list[Rect], least: int
) -> None:
    whole = Rect(0, 0, 10, 9)
    every = (
        Rect(x0, y0, x1, y1)
        for x0 in range(11)
        for x1 in range(x0 + least, 11)
        for y0 in range(10)
        for y1 in range(y0 + least, 10)
    )
    clear = [rect for rect in every if not any(rect.overlaps(hole) for hole in holes)]
    found = whole.clear_of(holes, least)
    assert (found.area if found else 0) == max((rect.area for rect in clear), default=0)
    assert found is None or found in clear


@given(st.lists(rects, max_size=6))
def test_solver_and_referee_reckon_alike_each_in_its_own_way(holes: list[Rect]) -> None:
    flaws = tuple(Rect(*(10 * CM * side for side in (f.x0, f.y0, f.x1, f.y1))) for f in holes)
    rect = Rect(0, 0, 100 * CM, 90 * CM)
    assert useful(cloth(*flaws), rect) == _useful(rect, flaws)


def test_a_flaw_parts_what_is_left_and_only_the_larger_part_counts() -> None:
    plain = laid()
    assert remnant(plain) == max(rect.area for rect in plain.remnants)
    # Right across, where most is left.
    fault = Rect(80 * CM, 0, 82 * CM, 100 * CM)
    lay = laid(fault)
    assert referee.findings(lay) == ()
    assert all(not rect.overlaps(fault) for rect in lay.remnants)
    assert remnant(lay) == max(rect.area for rect in lay.remnants) < remnant(plain)
    assert Laid((), (lay,)).score[2] == -remnant(lay)
    told = " ".join(leftovers(lay, System.CM))
    assert ", a flaw in it; clear of flaws " in told


def test_what_holds_no_clear_piece_is_waste() -> None:
    stains = [Rect(x * CM, 0, (x + 1) * CM, 100 * CM) for x in range(62, 100, 9)]
    lay = laid(*stains)
    assert referee.findings(lay) == ()
    behind = [cut for cut in lay.offcuts if cut.rect.x0 >= 60 * CM]
    assert behind and not any(cut.keep for cut in behind)


def test_the_referee_refuses_a_remnant_that_counts_its_flaw() -> None:
    fault = Rect(80 * CM, 0, 82 * CM, 100 * CM)
    lay = laid(fault)
    at = next(at for at, goal in enumerate(lay.goals) if goal.aim is Aim.REMNANT)
    more = replace(lay.goals[at], value=lay.goals[at].value + 1)
    false = replace(lay, goals=(*lay.goals[:at], more, *lay.goals[at + 1 :]))
    assert any("The goal remnant is told to be" in said for said in referee.findings(false))
    stains = [Rect(x * CM, 0, (x + 1) * CM, 100 * CM) for x in range(62, 100, 9)]
    bad = laid(*stains)
    kept = tuple(replace(cut, keep=True) for cut in bad.offcuts)
    told = referee.findings(replace(bad, offcuts=kept))
    assert any("with flaws in it; what has" in said for said in told)
