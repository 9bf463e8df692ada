"""What area alone proves of cloth in hand, where shapes don't follow from one another."""

from __future__ import annotations

from dataclasses import replace

import pytest
from test_reach import case_of
from test_reach_dial import CASE, Made, dial

from marker.casefile import Case
from marker.casefile.changes import Changes
from marker.decide import draft
from marker.decide.reach.dial import Dial, turn
from marker.decide.reach.effort import Effort
from marker.decide.reach.steady import steady
from marker.units import CM

GORED = (
    ('panels = { count = 3, width = "40 cm" }\n',
     'kind = "gored skirt"\ngores = { count = 6, round = "3 m" }\n'),
    ('turn_down = "5 cm"\n', ""),
)  # fmt: skip
EFFORT = Effort(1.0, 1, 0)


def rounds(case: Case, high: int = 300, low: int = 100) -> Dial:
    """The round hem of the gores, a centimetre less at every step."""
    key = ("garment", "skirt", "gores", "round")
    made = Dial("round", high - low + 1, lambda at: {key: f"{high - at} cm"}, str)
    return steady(case, made)


def area(case: Case) -> int:
    """Twice the area of all pieces."""
    return sum(p.area2 * p.count for options in draft(case) for p in options[0].pieces)


def test_more_than_there_is_by_area_is_refuted_and_no_more_than_that() -> None:
    case = case_of("2 m", *GORED)
    long = area(case) // (2 * 100 * CM)
    for length, refuted in ((long - 1 * CM, True), (long + 1 * CM, False)):
        there = case_of(f"{length / CM:.3f} cm", *GORED)
        assert EFFORT.too_much(there, {}) is refuted


def test_pieces_that_may_be_bought_count_for_nothing() -> None:
    case = case_of("20 cm", *GORED)
    assert EFFORT.too_much(case, {})
    bought = case.cloths["main"]
    assert bought.length
    bolt: Changes = {("cloth", "main", "length"): None}
    assert not EFFORT.too_much(case, bolt)


def test_gores_are_weighed_and_do_not_prove_one_another() -> None:
    case = case_of("1.2 m", *GORED)
    found = rounds(case)
    assert (found.proves, found.weighs) == (False, True)
    # The other way round every step takes more, and nothing follows from area.
    key = ("garment", "skirt", "gores", "round")
    assert not steady(case, Dial("round", 40, lambda at: {key: f"{200 + at} cm"}, str)).weighs


def test_all_steps_that_area_refutes_are_told_and_no_others() -> None:
    case = case_of("1.2 m", *GORED)
    made = rounds(case, 200, 140)
    plain = [EFFORT.too_much(case, made.changes(at)) for at in range(made.size)]
    assert plain[0] and not plain[-1]
    last = plain.index(False) - 1
    assert all(plain[: last + 1])

    class Weighed(Made):
        def too_much(self, _: Case, changes: Changes) -> bool:
            (at,) = changes.values()
            return at <= last

    far = last + 9
    found = turn(CASE, dial(made.size, proves=False, weighs=True), Weighed(9.0, None, 0, first=far))
    assert (found.at, found.beaten, found.refuted) == (far, last, False)
    close = turn(CASE, dial(made.size, proves=False, weighs=True),
                 Weighed(9.0, None, 0, first=last + 1))  # fmt: skip
    assert (close.at, close.beaten, close.refuted) == (last + 1, last, True)


@pytest.mark.parametrize("weighs", [True, False])
def test_what_is_not_weighed_is_not_asked(weighs: bool) -> None:
    class All(Made):
        def too_much(self, *_: object) -> bool:
            return True

    found = turn(CASE, dial(proves=False, weighs=weighs), All(9.0, None, 0, first=50))
    assert (found.beaten, found.refuted) == ((49, True) if weighs else (-1, False))
    none = turn(CASE, replace(dial(proves=False), weighs=weighs), All(9.0, None, 0, first=1000))
    assert (none.at, none.refuted) == (None, weighs)
