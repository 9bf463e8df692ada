"""Tears told in full: each tear in one step, readings of the record, and the running sum."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from example_lays import facing, skirt, torn_at_random

from marker import record as records
from marker.lay import Lay, Mode
from marker.plan.words.runs import Work, reading, spare
from marker.plan.words.steps import steps
from marker.plan.words.tearing import full_steps
from marker.plan.words.told import Step
from marker.units import CM, Both, System

OUT = Path(__file__).parents[1] / "out"
SEEDS = range(40)
SUM = re.compile(r"off (\S+) · left (\S+) · = (\S+) cm")


def numbered(told: tuple[Step, ...]) -> list[int]:
    return [n for step in told if step.first for n in range(step.first, step.last + 1)]


@pytest.mark.parametrize("seed", SEEDS)
def test_every_tear_stands_in_exactly_one_step_of_either_list(seed: int) -> None:
    lay = torn_at_random(seed)
    wanted = [tear.number for tear in lay.tears]
    assert numbered(full_steps(lay, System.CM)) == wanted
    assert numbered(steps(lay, System.CM)) == wanted


def figures(text: str) -> set[str]:
    return set(re.findall(r"\d+(?:\.\d)?", re.sub(r"[A-Z]+\d*-\d+", " ", text)))


def even(text: str) -> bool:
    return " every " in text


@pytest.mark.parametrize("seed", SEEDS)
def test_the_reading_of_every_tear_is_told(seed: int) -> None:
    lay = torn_at_random(seed)
    work = Work(lay, System.CM)
    at = {
        tear.number: value
        for run in work.runs
        for tear, value in zip(run.tears, run.readings, strict=True)
    }
    for step in full_steps(lay, System.CM):
        if not step.first or step.text.startswith("Do as in tears") or even(step.text):
            continue
        told = figures(step.text)
        for tear in lay.tears[step.first - 1 : step.last]:
            hand = next(run for run in work.runs if tear in run.tears).hand
            back = hand.y1 - tear.at
            from_zero = tear.at if hand == lay.bolt and tear.at > 0 else at[tear.number]
            trimmed = "its far" in step.text and reading(back, System.CM) in told
            assert trimmed or reading(from_zero, System.CM) in told, step.text


@pytest.mark.parametrize("seed", SEEDS)
def test_off_and_left_make_the_bolt_after_each_tear_across_it(seed: int) -> None:
    lay = torn_at_random(seed)
    told = [line for step in full_steps(lay, System.CM) for line in step.sums]
    across = [run for run in Work(lay, System.CM).runs if run.across and run.hand == lay.bolt]
    tears = [tear for run in across for tear in run.tears]
    assert len(told) == len(tears)
    for line, tear in zip(told, tears, strict=True):
        found = SUM.fullmatch(line)
        assert found is not None, line
        assert found[1] == reading(tear.at - lay.bolt.x0, System.CM)
        assert found[2] == spare(lay.bolt.x1 - tear.at, System.CM)
        assert found[3] == reading(lay.bolt.along, System.CM)
        if all(size % (CM // 10) == 0 for size in (tear.at - lay.bolt.x0, lay.bolt.along)):
            assert float(found[1]) + float(found[2]) == pytest.approx(float(found[3]))


def test_a_step_leaves_nothing_to_guess() -> None:
    told = {step.numbers: step for step in full_steps(skirt(), System.CM)}
    first, *others = (step.text for step in told.values())
    assert first.startswith("The bolt, its cut end at the left: measure ")
    assert first.endswith("This edge is 0.")
    for text in others:
        if text.startswith("Do as"):
            assert re.search(r" with the (drop|strip) of ", text)
            continue
        hold, _, do = text.partition(": ")
        assert re.match(r"(The bolt|Drop of|Strip of|Each of|The whole cloth)", hold), text
        assert re.search(r"snip (the|its) (near|left) edge", do), text
        assert re.search(r"\b(tear|cut) ?(across|along|off)?", do), text
        assert " fall" in do or " stays in hand" in do, text


def test_repeated_parts_are_each_named() -> None:
    """Three calico drops torn alike are held one after another, and none is left out."""
    lay = facing()
    again = [s for s in full_steps(lay, System.CM) if s.text.startswith(("Each of", "Do as"))]
    assert again
    for step in again:
        tears = lay.tears[step.first - 1 : step.last]
        held = {
            f"{one.letter}-{one.copy}"
            for tear in tears
            for one in lay.placements
            if tear.in_hand.holds(one.rect(lay.piece(one.letter)))
        }
        spelled = set(re.findall(r"[A-Z]+\d*-\d+", step.text))
        for first, letter, last in re.findall(
            r"([A-Z]+)-(?=\d+ to)(\d+) to [A-Z]+-(\d+)", step.text
        ):
            spelled |= {f"{first}-{n}" for n in range(int(letter), int(last) + 1)}
        assert held <= spelled


def cuts_across(lay: Lay) -> int:
    return sum(len(step.sums) for step in full_steps(lay, System.CM))


def test_shears_have_a_sum_where_they_cut_right_across() -> None:
    lay = next(
        lay
        for name in ("drawn-bodice", "gored-walking-skirt")
        for lay in records.load(OUT / name / "lay.json").lays
    )
    assert lay.mode is Mode.SHEARS
    (line,) = (line for step in full_steps(lay, System.CM) for line in step.sums)
    assert line == "off 2 · left 48 · = 50 cm"
    assert cuts_across(lay) == 1


def test_both_measures_have_a_line_each() -> None:
    told = [line for step in full_steps(skirt(), Both.CM_IN) for line in step.sums]
    assert told and all(line.count("\n") == 1 for line in told)
    metric, inches = told[0].split("\n")
    assert metric.endswith(" cm") and inches.endswith(" in")
