"""Ctrl-C: one asks every search to come to an end with a lay, two give up."""

from __future__ import annotations

import os
import signal
from pathlib import Path
from threading import Thread

import pytest
from puzzles import company

from marker import decide, referee
from marker.casefile import parse
from marker.solver import solve, stop
from marker.solver.tear import search

CASES = Path(__file__).parents[1] / "cases"


def press() -> None:
    os.kill(os.getpid(), signal.SIGINT)


def test_between_searches_the_wish_is_only_noted() -> None:
    with stop.listening():
        assert not stop.asked()
        press()
        assert stop.asked()
    assert not stop.asked()


def test_in_a_search_it_ends_the_search_and_what_follows_goes_on() -> None:
    done = []
    with stop.listening():
        with stop.keeping_best():
            done.append("before")
            press()
            done.append("after")
        done.append("kept")
        assert stop.asked()
    assert done == ["before", "kept"]


def test_a_second_one_gives_up() -> None:
    with stop.listening(), pytest.raises(KeyboardInterrupt):
        press()
        press()


def test_what_must_stay_whole_is_not_broken_off() -> None:
    done = []
    with stop.listening():
        with stop.keeping_best(), stop.whole():
            press()
            done.append("whole")
        assert stop.asked()
    assert done == ["whole"]


def test_an_interrupt_that_nobody_listens_for_leaves_no_wish() -> None:
    done = []
    with stop.keeping_best():
        done.append("before")
        raise KeyboardInterrupt
    assert done == ["before"]
    assert not stop.asked()


def test_a_stretch_within_another_keeps_the_wish() -> None:
    with stop.listening():
        press()
        with stop.listening():
            assert stop.asked()
        assert stop.asked()
    assert not stop.asked()


def test_a_lay_that_was_stopped_does_not_cut_the_next_one_short(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    # The length is wanted even where it saves no cutting step.
    monkeypatch.setattr(search, "CHEAP", 1.0)
    cloth, pieces = company(5, 1)
    pressed: list[int] = []

    def once(length: int, _bound: int) -> None:
        if not pressed:
            pressed.append(length)
            press()

    stopped = solve(cloth, pieces, iterations=700, progress=once)
    assert pressed
    assert solve(cloth, pieces, iterations=700).length < stopped.length


def test_the_handler_that_stood_before_stands_again() -> None:
    before = signal.getsignal(signal.SIGINT)
    with stop.listening():
        assert signal.getsignal(signal.SIGINT) is not before
    assert signal.getsignal(signal.SIGINT) is before


def test_in_another_thread_signals_are_left_alone() -> None:
    seen = []

    def work() -> None:
        with stop.listening():
            seen.append(signal.getsignal(signal.SIGINT))

    thread = Thread(target=work)
    thread.start()
    thread.join()
    assert seen == [signal.getsignal(signal.SIGINT)]


@pytest.mark.parametrize("mode", ["tear", "shears"])
@pytest.mark.parametrize("name", ["two-on-one-bolt", "flawed-bolt", "flexing-panels"])
@pytest.mark.slow
def test_a_case_stopped_at_its_first_lay_still_gives_a_plan(name: str, mode: str) -> None:
    text = (CASES / f"{name}.toml").read_text(encoding="utf-8")
    case = parse(text, name).parted(tears=mode == "tear")
    pressed = []

    def once(_length: int, _bound: int) -> None:
        if not pressed:
            pressed.append(True)
            press()

    record = decide.plan(case, seconds=600, progress=once)
    assert pressed
    assert referee.check_record(record) == ()
