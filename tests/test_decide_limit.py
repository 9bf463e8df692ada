"""One limit of time for a whole command: how it is shared out, and what is told when it is out."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace
from math import inf
from pathlib import Path

import pytest
from chart_cases import case as chart_case
from click.testing import CliRunner
from compare_cases import case
from test_reach import TEXT, case_of
from test_reach_dial import CASE, Made, dial

from marker.cli import main
from marker.decide import abreast, limit
from marker.decide.chart import chart
from marker.decide.comparison import compare
from marker.decide.limit import LEAST, Limit, used
from marker.decide.reach import dial as dialing
from marker.decide.reach import effort as asking
from marker.decide.reach import reach
from marker.decide.reach.dial import turn
from marker.decide.reach.effort import Effort
from marker.decide.reach.losses import What
from marker.decide.reach.most import raised
from marker.plan.chart.words import chart_words
from marker.plan.compare import words as compare_words
from marker.plan.reach import words as reach_words


class Clock:
    """A clock that is moved on by hand, or by so much whenever it is looked at."""

    def __init__(self, tick: float = 0.0) -> None:
        self.now, self.tick = 100.0, tick

    def __call__(self) -> float:
        self.now += self.tick
        return self.now


@pytest.fixture
def clock(monkeypatch: pytest.MonkeyPatch) -> Clock:
    """One hand, and a clock that all who share out time look at."""
    clock = Clock()
    for room in (limit, abreast, dialing, asking):
        monkeypatch.setattr(room, "monotonic", clock)
    for room in (limit, abreast):
        monkeypatch.setattr(room, "cores", lambda: 1)
    return clock


def shares(clock: Clock, whole: float, takes: Callable[[int, float], float], tasks: int) -> object:
    def job(task: int, seconds: float) -> float:
        clock.now += takes(task, seconds)
        return seconds

    return Limit.of(whole, None).shared(job, range(tasks))


def test_each_has_its_even_share_and_what_others_leave(clock: Clock) -> None:
    assert shares(clock, 12.0, lambda *_: 0.0, 4) == [3.0, 4.0, 6.0, 12.0]
    assert shares(clock, 12.0, lambda _, seconds: seconds, 4) == [3.0, 3.0, 3.0, 3.0]
    # The first takes more than its share: the others make do with what is left.
    assert shares(clock, 12.0, lambda task, _: 0.0 if task else 9.0, 4) == [3.0, 1.0, 1.5, 3.0]


def test_none_has_less_than_the_floor_and_the_last_are_not_asked(clock: Clock) -> None:
    found = shares(clock, 1.0, lambda _, seconds: seconds, 10)
    assert found == [LEAST] * 4 + [None] * 6
    assert shares(clock, 1.0, lambda *_: 5.0, 3) == [pytest.approx(1 / 3), None, None]


def test_by_count_there_is_no_clock(clock: Clock) -> None:
    found = Limit.of(2.0, 20)
    clock.now += 1e6
    assert (found.over, found.until, found.left) == (False, inf, 2.0)
    assert found.shared(lambda _, seconds: seconds, range(3)) == [2.0] * 3
    assert found.part(0.5) is found


def test_two_hands_have_twice_the_time(clock: Clock, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(limit, "cores", lambda: 2)
    assert Limit.of(10.0, None).shared(lambda _, seconds: seconds, range(4)) == [
        5.0, pytest.approx(20 / 3), 10.0, 10.0
    ]  # fmt: skip
    assert clock.now == 100.0


def test_a_part_leaves_the_rest_to_others(clock: Clock) -> None:
    whole = Limit.of(10.0, None)
    assert whole.part(0.3).left == pytest.approx(3.0)
    clock.now += 4.0
    assert (whole.left, whole.part(0.5).left) == (pytest.approx(6.0), pytest.approx(3.0))
    clock.now += 7.0
    assert whole.over and whole.left == 0.0


def test_cloths_are_counted_that_each_take_a_search() -> None:
    two = '[cloth.lining]\nwidth = "90 cm"\n[garment.skirt.facing]\ncloth = "lining"\n'
    assert (used(case()), used(case(two))) == (1, 2)


def test_the_most_is_no_less_than_what_a_change_gives() -> None:
    found = reach(case_of("1.9 m"), most="round", iterations=1)
    assert found.most is not None
    rounds = [offer for offer in found.offers if offer.figure and offer.losses]
    assert rounds and raised(found.most, rounds) == found.most
    poor = replace(found.most, figure=10, refuted=True, others=())
    best = raised(poor, found.offers)
    told = [offer.figure for offer in found.offers
            if [loss.what for loss in offer.losses] == [What.ROUND]]  # fmt: skip
    assert best.figure == max(figure for figure in told if figure)
    assert not best.refuted and best.others[-1].figure == 10
    assert raised(replace(poor, of="length"), rounds).figure == 10
    assert raised(replace(poor, garment="other"), rounds).figure == 10


# Where the time is out.


def test_options_that_were_not_laid_are_counted_and_the_remedy_told(clock: Clock) -> None:
    clock.tick = 1.0
    asks = case('[compare]\npanels = [2, 4]\nlie = "along"\n')
    found = compare(asks, seconds=0.1)
    assert (len(found.rows), found.left, found.late) == (1, 2, True)
    said = "The time was out, and 2 of 3 options were not laid; give more with --seconds."
    assert said in compare_words.rules(found)
    assert not compare(asks, seconds=0.1, iterations=2).left


def test_cells_that_were_not_planned_are_told_for_want_of_time(clock: Clock) -> None:
    clock.tick = 1.0
    asks = chart_case('widths = ["140 cm", "150 cm"]\nlengths = ["80 cm", "90 cm"]')
    made = chart(asks, seconds=0.1)
    assert [cell.stopped for _, _, cell in made.each()] == [False, True, True, True]
    notes = " ".join(chart_words(made).notes)
    assert "Not reckoned: the time was out; give more with --seconds." in notes
    stopped = " ".join(chart_words(replace(made, late=False)).notes)
    assert "Not reckoned: the search was stopped." in stopped


def test_questions_that_were_not_asked_are_named(clock: Clock) -> None:
    clock.tick = 0.2
    found = reach(case_of("1.9 m"), most="length", seconds=4.0)
    assert not found.stopped
    assert found.unasked
    (said,) = reach_words.not_asked(found)
    assert said.startswith("The time was out before this was looked into: ")
    assert "no two of them at once" not in reach_words.no_change(found)
    whole = reach(case_of("1.9 m"), most="length", seconds=4.0, iterations=1)
    assert not whole.unasked and not reach_words.not_asked(whole)
    assert len(whole.offers) > len(found.offers)


def test_the_json_of_reach_names_what_was_not_asked(tmp_path: Path, clock: Clock) -> None:
    clock.tick = 0.2
    path = tmp_path / "bonfire.toml"
    path.write_text(TEXT.replace("2 m", "1.9 m"))
    asked = ["reach", str(path), "--seconds", "4", "--out", str(tmp_path / "out"), "--json"]
    run = CliRunner().invoke(main, asked)
    assert run.exit_code == 0, run.stderr
    told = json.loads(run.stdout)
    assert told["not_asked"]
    assert told["stopped"] is False


def test_a_dial_is_not_turned_past_its_time_and_proves_no_more_than_it_saw(clock: Clock) -> None:
    class Slow(Made):
        def holds(self, *asked):  # type: ignore[no-untyped-def]
            clock.now += 3.0
            return super().holds(*asked)

    found = turn(CASE, dial(), Slow(10.0, None, 0, first=60))
    # The last step and the first are asked about, then the middle; then the time is out.
    assert (found.at, found.refuted, found.late) == (99, False, True)
    assert found.beaten == 49
    assert clock.now == 109.0


@pytest.mark.parametrize(("iterations", "left"), [(None, 2.0), (5, 10.0)])
def test_a_question_ends_with_the_whole(clock: Clock, iterations: int | None, left: float) -> None:
    effort = Effort(10.0, iterations, 0).within(2.0)
    assert effort.seconds == left
    clock.now += 3.0
    assert effort.over is (iterations is None)
    assert effort.within(5.0).until == effort.until


@pytest.mark.parametrize("command", ["compare", "chart", "reach"])
def test_help_says_what_the_time_is_for(command: str) -> None:
    told = " ".join(CliRunner().invoke(main, [command, "--help"]).stdout.split())
    assert "Longest time to search in all, shared out over the " in told
    assert "what is not reached when it is out is told" in told
