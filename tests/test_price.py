"""What a repeat and a shrinkage cost: told in one sentence, and no more than is proved."""

from __future__ import annotations

from dataclasses import replace
from time import process_time
from typing import Any

import pytest

from marker import casefile, decide
from marker.cloth import Cloth
from marker.decide import otherwise, price
from marker.decide.price import _sentence
from marker.lay import Lay, Proof
from marker.units import CM, System

SKIRT = """
title = "Price"
units = "in"
[wearer.tove]
waist = "28 in"
length = "{length} in"
[cloth.main]
name = "Blue check"
width = "45 in"
{cloth}
[garment.skirt]
hem = "none"
top = "stroke gathered"
seam = "1/2 in"
[garment.skirt.tape]
[garment.skirt.panels]
count = {count}
width = "full"
{panels}
"""
REPEAT, MATCH = "repeat = {{ along = '{0} in' }}", 'match = "lengthwise"'


def told(length: str, count: int, cloth: str, panels: str = "", **more: Any) -> tuple[str, ...]:
    """What `plan` says; panels of cut `length` + 1/2 in for the seam at the top."""
    text = SKIRT.format(length=length, count=count, cloth=cloth, panels=panels)
    return decide.plan(casefile.parse(text, "x.toml"), **more).choices


# Trade examples (secondary copies): a cut length of 116 in with a repeat of 25 in takes 125 in,
# 118 and 13 take 130, 114 and 11 take 121; n panels in one phase need (n - 1) x pitch + cut.
@pytest.mark.parametrize(
    ("cut", "repeat", "pitch", "cost", "with_it", "without"),
    [
        (116, 25, 125, "1/2 yd", "10 1/4 yd", "9 3/4 yd"),  # 2 x 125 + 116 = 366 in; 348 in
        (118, 13, 130, "5/8 yd", "10 1/2 yd", "9 7/8 yd"),  # 2 x 130 + 118 = 378 in; 354 in
        (114, 11, 121, "1/2 yd", "10 yd", "9 1/2 yd"),  # 2 x 121 + 114 = 356 in; 342 in
    ],
)
def test_panels_in_one_phase_cost_what_the_trade_reckons(
    cut: int, repeat: int, pitch: int, cost: str, with_it: str, without: str
) -> None:
    assert -(-cut // repeat) * repeat == pitch
    said = told(f"{cut - 1} 1/2", 3, REPEAT.format(repeat), MATCH)
    assert said == (
        f"The repeat costs {cost} of Blue check: {with_it} with it, {without} without.",
    )


def test_a_repeat_that_nothing_matches_costs_nothing_and_is_not_told() -> None:
    assert told("115 1/2", 3, REPEAT.format(25)) == ()


def test_a_shrinkage_is_priced_by_what_is_bought() -> None:
    # 3 x 40 in = 120 in, 3 3/8 yd; washed, 120 / 0.9 = 133 1/3 in, 3 3/4 yd (ISO 5077).
    said = told("39 1/2", 3, 'shrinkage = { warp = "10 %" }')
    assert said == (
        "The shrinkage costs 3/8 yd of Blue check: 3 3/4 yd with it, 3 3/8 yd without.",
    )


def test_each_is_priced_with_the_other_left_in() -> None:
    said = told("39 1/2", 3, REPEAT.format(25) + '\nshrinkage = { warp = "10 %" }', MATCH)
    # 2 x 50 + 40 = 140 in; / 0.9 = 155.6 in, 4 3/8 yd. Unwashed 4 yd; unmatched 3 3/4 yd.
    assert said == (
        "The repeat costs 5/8 yd of Blue check: 4 3/8 yd with it, 3 3/4 yd without.",
        "The shrinkage costs 3/8 yd of Blue check: 4 3/8 yd with it, 4 yd without.",
    )


def test_what_costs_no_step_tells_the_exact_needs() -> None:
    said = told("39 1/2", 2, REPEAT.format(41), MATCH)
    needs = "(81 in needed against 80 in)"
    assert said == (
        f"The repeat costs nothing of Blue check: 2 1/4 yd with it and without {needs}.",
    )


def test_of_a_remnant_it_is_what_is_used() -> None:
    said = told("39 1/2", 2, REPEAT.format(50) + '\nlength = "3 yd"', MATCH)
    assert said == ("The repeat costs 10 in of Blue check: 90 in used with it, 80 in without.",)


def test_prices_are_left_out_where_they_are_not_wanted() -> None:
    assert told("115 1/2", 3, REPEAT.format(25), MATCH, prices=False) == ()


def test_counted_searches_price_alike() -> None:
    asked = ("39 1/2", 3, REPEAT.format(25), MATCH)
    assert told(*asked, iterations=3) == told(*asked, iterations=3)


def test_the_mode_asked_for_holds_without_too(monkeypatch: pytest.MonkeyPatch) -> None:
    from marker.lay import Mode

    seen: list[bool] = []
    plain = otherwise.changed

    def changed(*args: Any) -> Any:
        found = plain(*args)
        monkeypatch.setattr(
            type(found), "parted", lambda self, *, tears: seen.append(tears) or self, raising=True
        )
        return found

    monkeypatch.setattr(otherwise, "changed", changed)
    told("39 1/2", 3, REPEAT.format(25), MATCH, mode=Mode.SHEARS)
    assert seen == [False]


def lay(length: int, *, remnant: int = 0) -> Lay:
    """Just what a price is told of: a cloth and a length on it."""
    cloth = Cloth("main", "Check", 150 * CM, 10 * CM, length=remnant)
    return Lay(cloth, (), length, cloth.bolt(length), (), (), (), length, "", Proof.LENGTH)


@pytest.mark.parametrize(
    ("sure", "least", "says"),
    [
        (True, True, "The repeat costs 0.40 m of Check: 3.40 m with it, 3.00 m without."),
        (
            False,
            True,
            "The repeat costs at most 0.40 m of Check: at most 3.40 m with it, 3.00 m without.",
        ),
        (
            True,
            False,
            "The repeat costs at least 0.40 m of Check: 3.40 m with it, at most 3.00 m without.",
        ),
        (
            False,
            False,
            "The repeat costs about 0.40 m of Check: at most 3.40 m with it, at most 3.00 m "
            "without.",
        ),
    ],
)
def test_no_more_is_said_than_is_proved(sure: bool, least: bool, says: str) -> None:
    extra = price.Extra("main", "repeat", {})
    mine, theirs = lay(340 * CM), lay(300 * CM)
    assert _sentence(extra, mine, sure, theirs, least, System.CM) == says


def test_a_search_that_did_worse_without_a_repeat_tells_no_gain() -> None:
    extra = price.Extra("main", "repeat", {})
    said = _sentence(extra, lay(300 * CM), True, lay(320 * CM), False, System.CM)
    same = "3.00 m with it and without"
    assert said == f"The repeat costs nothing of Check, as far as was found: {same}."
    # Shrunk breadths may take less than full ones.
    extra = replace(extra, what="shrinkage")
    said = _sentence(extra, lay(300 * CM), True, lay(320 * CM), True, System.CM)
    assert said == "The shrinkage costs nothing of Check: 3.00 m with it, 3.20 m without."


@pytest.mark.slow
def test_the_time_asked_for_holds_with_prices() -> None:
    # Twenty-five checked pieces of many sizes, far from proved in a second.
    pieces = "\n".join(
        f'[piece.p{n}]\nlength = "{20 + 7 * n % 31} cm"\nbreadth = "{15 + 5 * n % 23} cm"\n'
        f'match = {{ set = "a", at = ["0 cm", "{n % 4} cm"] }}'
        for n in range(25)
    )
    text = (
        'title = "x"\nunits = "cm"\n[cloth.main]\nwidth = "90 cm"\n'
        f'repeat = {{ along = "7 cm" }}\nshrinkage = {{ warp = "3 %" }}\n{pieces}'
    )
    read = casefile.parse(text, "x.toml")
    decide.plan(read, seconds=0.1)  # loads what the search needs
    began = process_time()
    said = decide.plan(read, seconds=1.0).choices
    # A second over is promised, the rest is room; of work, on two threads, a busy machine or not.
    assert process_time() - began < 2 * (1 + 1 + 0.5)
    assert sum(" costs " in sentence for sentence in said) == 2


def test_where_no_time_is_left_the_price_is_not_guessed_unless_searches_are_counted() -> None:
    asked = ("39 1/2", 3, REPEAT.format(25), MATCH)
    assert told(*asked, seconds=0.0) == (
        "What the repeat of Blue check costs was not reckoned: no time was left; give more "
        "--seconds.",
    )
    assert told(*asked, seconds=0.0, iterations=3)[0].startswith("The repeat costs 5/8 yd")
