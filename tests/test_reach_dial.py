"""Dials: the first step that fits, what is proved of the one before, and steps not draftable."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any, cast

import pytest
from test_reach import TEXT, case_of

from marker import casefile, decide
from marker.casefile import Case
from marker.casefile.changes import Changes
from marker.decide import desk
from marker.decide.reach import dial as room
from marker.decide.reach import reach
from marker.decide.reach.dial import Dial, Turned, turn
from marker.decide.reach.effort import Effort
from marker.decide.reach.pairs import pairs
from marker.decide.reach.steady import steady
from marker.record import Record

CASES = Path(__file__).parents[1] / "cases"
CASE = casefile.parse(TEXT, "bonfire.toml")
STEPS = 100


@dataclass(frozen=True)
class Made(Effort):
    """Steps from `first` on fit, those up to `proved` are refuted; some plans are not found."""

    first: int = 0
    proved: int = STEPS
    unplanned: tuple[int, ...] = ()
    unseen: tuple[int, ...] = ()
    """Steps that fit, though asked about them no lay is found."""
    asked: list[int] = field(default_factory=list)

    def holds(self, case: Case, changes: Changes) -> tuple[bool, bool]:
        assert case is CASE
        (at,) = changes.values()
        self.asked.append(at)
        return at >= self.first and at not in self.unseen, at < self.first and at <= self.proved

    def planned(self, case: Case, changes: Changes) -> Record | None:
        assert case is CASE
        (at,) = changes.values()
        fits = at >= self.first and at not in self.unplanned
        return cast(Record, f"plan {at}") if fits else None


def dial(size: int = STEPS, **more: Any) -> Dial:
    return Dial("a dial", size, lambda at: {("title",): at}, str, **more)


def turned(dial: Dial, **made: Any) -> Turned:
    return turn(CASE, dial, Made(10.0, None, 0, **made))


@pytest.mark.parametrize("first", [0, 1, 37, 98, 99])
def test_the_first_step_that_fits_is_found_by_halving(first: int) -> None:
    asked: list[int] = []
    plan = cast(Record, f"plan {first}")
    assert turned(dial(), first=first, asked=asked) == Turned(first, plan, True, first - 1)
    assert len(asked) <= 9


def test_what_is_not_proved_is_not_called_so() -> None:
    found = turned(dial(), first=60, proved=20)
    assert (found.at, found.refuted) == (60, False)
    assert found.beaten <= 20


def test_where_no_step_fits_that_is_told_with_its_proof() -> None:
    assert turned(dial(), first=STEPS) == Turned(None, None, True, STEPS - 1)
    assert turned(dial(), first=STEPS, proved=50) == Turned(None, None, False, -1)


def test_a_step_without_a_plan_is_given_up_for_the_next() -> None:
    for first in range(30, 50):
        found = turned(dial(), first=first, unplanned=(first,))
        assert (found.at, found.refuted) == (first + 1, False)


@pytest.mark.parametrize("proves", [True, False])
@pytest.mark.parametrize("unseen", [(49,), (49, 24), (24, 36)])
def test_a_miss_that_is_not_proved_does_not_end_the_search(
    unseen: tuple[int, ...], proves: bool
) -> None:
    """Halving from 99 asks about 49 first; what fits from 20 on is still found, or nearly."""
    found = turned(dial(proves=proves), first=20, unseen=unseen)
    assert found.at is not None
    assert found.at <= 26


def test_steps_in_turn() -> None:
    asked: list[int] = []
    found = turned(dial(5, falls=False), first=2, asked=asked)
    assert (found.at, asked) == (2, [0, 1, 2])


def test_a_step_known_to_fit_is_not_asked_again() -> None:
    asked: list[int] = []
    sure = cast(Record, "as asked")
    found = turned(dial(sure=sure), first=STEPS - 1, asked=asked)
    assert (found.at, found.record) == (STEPS - 1, sure)
    assert STEPS - 1 not in asked


def test_a_search_that_is_stopped_refutes_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(room, "asked", lambda: True)
    found = turned(dial(), first=60)
    assert (found.at, found.refuted) == (99, False)


def test_steps_that_cannot_be_drafted_are_left_out() -> None:
    case = case_of("2 m")
    key = ("garment", "skirt", "panels", "width")
    # Three panels of less than 70 / 3 + 2 cm don't go round a waist of 70 cm.
    widths = Dial("width", 40, lambda at: {key: f"{40 - at} cm"}, str)
    assert steady(case, widths).size == 40 - 25
    few = steady(case, replace(widths, size=9))
    assert (few.size, few.stretches, few.proves) == (9, ((0, 9),), True)


def test_a_dial_is_parted_where_the_strips_of_a_facing_grow_fewer() -> None:
    """Strips lie across 100 cm: 3 (w - 2) + 2 <= 98 in one, up to w = 34 cm; else in two."""
    case = case_of("2 m", ('take_up = "5 cm"', 'facing = { depth = "6 cm" }'))
    key = ("garment", "skirt", "panels", "width")
    found = steady(case, Dial("width", 12, lambda at: {key: f"{40 - at} cm"}, str))
    assert (found.stretches, found.proves) == (((0, 6), (6, 12)), True)


def test_a_stretch_that_does_not_fit_does_not_hide_the_next() -> None:
    # Steps 0 to 9 and 10 to 19 are stretches: from 4 to 9 it fits, and from 15 on.
    @dataclass(frozen=True)
    class Parted(Made):
        def holds(self, case: Case, changes: Changes) -> tuple[bool, bool]:
            assert case is CASE
            (at,) = changes.values()
            fits = at >= self.first and (at < 10 or at >= 15)
            return fits, not fits

        def planned(self, case: Case, changes: Changes) -> Record | None:
            return cast(Record, "plan") if self.holds(case, changes)[0] else None

    parted = dial(20, stretches=((0, 10), (10, 20)))
    assert turn(CASE, parted, Parted(9.0, None, 0, first=4)).at == 4
    below = turn(CASE, parted, Parted(9.0, None, 0, first=12))
    assert (below.at, below.refuted, below.beaten) == (15, True, 14)


@pytest.mark.parametrize(
    ("kind", "key", "proves"),
    [
        ('kind = "gored skirt"\ngores = { count = 6, round = "3 m" }', "shorter", False),
        ('kind = "circle skirt"\ncircle = "half"', "shorter", True),
    ],
)
def test_one_gore_does_not_lie_where_a_longer_one_does(kind: str, key: str, proves: bool) -> None:
    case = case_of("2 m", ('panels = { count = 3, width = "40 cm" }\n', f"{kind}\n"),
                   ('turn_down = "5 cm"\n', ""))  # fmt: skip
    shorter = Dial(key, 20, lambda at: {("garment", "skirt", key): f"{at} cm"}, str)
    assert steady(case, shorter).proves is proves
    assert not turned(dial(proves=False), first=60).refuted


def test_stripes_over_the_seams_fall_otherwise_where_panels_are_narrower() -> None:
    case = case_of("2 m", ('width = "100 cm"', 'width = "100 cm"\nrepeat = { across = "8 cm" }'),
                   ('width = "40 cm" }', 'width = "40 cm", match = "crosswise" }'))  # fmt: skip
    key = ("garment", "skirt", "panels", "width")
    assert not steady(case, Dial("width", 9, lambda at: {key: f"{42 - 8 * at} cm"}, str)).proves


def test_two_dials_are_not_turned_together_where_they_clash() -> None:
    skirt = ("garment", "skirt")
    one = Dial("depth", 10, lambda at: {(*skirt, "facing", "depth"): at}, lambda at: f"{at} deep")
    gone = Dial("none", 1, lambda _: {(*skirt, "facing"): None}, lambda _: "none")
    shorter = Dial("shorter", 4, lambda at: {(*skirt, "shorter"): at}, lambda at: f"{at} less")
    found = list(pairs([one, gone, shorter]))
    assert {both.name for both in found} == {"depth and shorter", "none and shorter"}
    (depth,) = [both for both in found if both.name == "depth and shorter"]
    assert depth.changes(9) == {(*skirt, "facing", "depth"): 9, (*skirt, "shorter"): 3}
    assert depth.words(0) == "0 deep, and 0 less"


# Four strips round a square: they lie in 30 by 30 cm, but no tear runs from edge to edge there.
PINWHEEL = """
title = "Four winds"
units = "cm"
[cloth.main]
width = "30 cm"
length = "30 cm"
[piece.up]
length = "20 cm"
breadth = "10 cm"
count = 2
[piece.over]
length = "20 cm"
breadth = "10 cm"
count = 2
grain = "across"
[piece.heart]
length = "10 cm"
breadth = "10 cm"
"""


def test_shears_may_do_what_tears_cannot() -> None:
    found = reach(casefile.parse(PINWHEEL, "winds.toml"), iterations=2)
    assert found.record is None
    (offer,) = found.offers
    assert offer.changes == {("cloth", "main", "tears"): False}
    assert found.misses[0].least > found.misses[0].there


def test_the_demo_case_is_in_the_gallery_as_it_comes_out() -> None:
    from marker.plan.drawing.page import Paper
    from marker.plan.reach import page as reach_page

    case = CASES / "remnant-skirt.toml"
    found = reach(casefile.read(case), iterations=20)
    stored = CASES.parent / "out" / case.stem / "reach" / reach_page.SVG
    assert reach_page.reach_files(found, Paper.A4)[reach_page.SVG] == stored.read_bytes()
    assert found.most is not None
    assert found.most.refuted
    plain = decide.plan(casefile.read(case), iterations=20)
    assert plain == found.record
    assert found.most.record.garments[0].round_hem > plain.garments[0].round_hem


@pytest.mark.parametrize("refuted", [True, False])
def test_what_no_lay_was_found_for_is_refuted_only_by_a_bound(
    refuted: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(desk, "fit", lambda *_, **__: (None, refuted))
    assert Effort(1.0, None, 0).holds(CASE, {}) == (False, refuted)
