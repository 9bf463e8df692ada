"""A number of panels that is left open: each is drafted and laid, and the choice is told."""

from __future__ import annotations

import pytest

from marker import casefile, decide
from marker.casefile import Case
from marker.errors import BadInput
from marker.record import Record

SKIRT = """
title = "Numbers"
units = "cm"
[wearer.ilka]
name = "Ilka"
waist = "72 cm"
length = "{length} cm"
[cloth.main]
width = "150 cm"
selvedge = "1 cm"
squaring = "2 cm"
[garment.skirt]
name = "Skirt"
seam = "1 cm"
[garment.skirt.panels]
{panels}
"""


def case(panels: str, length: int = 88) -> Case:
    return casefile.parse(SKIRT.format(panels=panels, length=length), "x.toml")


def planned(panels: str, length: int = 88) -> Record:
    return decide.plan(case(panels, length), iterations=5)


def fault(panels: str) -> str:
    with pytest.raises(BadInput) as caught:
        planned(panels)
    assert "\n" not in str(caught.value)
    return str(caught.value)


def test_the_number_that_takes_least_is_chosen_and_the_others_are_told() -> None:
    # 88 + 6 + 5 cm: a drop of 99 cm for each full breadth, and 8 cm for the band below them, or
    # beside a half-used drop, which full breadths don't leave.
    record = planned("count = [2, 4]")
    assert record.garments[0].panels == 2
    assert record.choices == (
        "2 panels: 2.10 m to buy; with 3 panels it would be 3.10 m, with 4 panels it would be "
        "4.10 m.",
    )


def test_each_number_is_what_the_file_gives_with_that_number() -> None:
    open_drafts = decide.draft(case("count = [2, 4]"))[0]
    for count, found in zip((2, 3, 4), open_drafts, strict=True):
        (alone,) = decide.draft(case(f"count = {count}"))[0]
        assert (found.pieces, found.garment) == (alone.pieces, alone.garment)


def test_an_open_number_never_takes_more_than_any_of_its_numbers() -> None:
    chosen = planned('count = [3, 5]\nround = "3.20 m"').lays[0]
    for count in (3, 4, 5):
        assert chosen.buy <= planned(f'count = {count}\nround = "3.20 m"').lays[0].buy


def test_numbers_that_do_not_reach_the_round_hem_are_left_out_and_told() -> None:
    record = planned('count = [2, 4]\nround = "3.20 m"')
    assert record.garments[0].panels >= 3
    assert record.garments[0].round_hem >= 320 * 1600
    assert record.choices[-1] == (
        "2 panels won't do: 2 full breadths go only 292 cm round, not 320 cm."
    )


def test_numbers_too_few_for_the_waist_are_left_out_and_told() -> None:
    said = planned('count = [1, 2]\nwidth = "50 cm"').choices
    assert said == (
        "1 panel won't do: panels go 48 cm round, less than the 72 cm they are drawn into.",
    )


def test_where_no_number_will_do_the_most_is_told() -> None:
    assert fault('count = [1, 2]\nround = "9 m"').startswith(
        "x.toml: garment.skirt.panels.count goes up to 2, and 2 full breadths go only 292 cm round"
    )


def test_a_tube_that_is_the_same_for_every_number_is_laid_once() -> None:
    ways = [
        draft.way
        for draft in decide.draft(case('count = [3, 5]\nround = "3 m"\nlie = "either"'))[0]
    ]
    assert ways == ["3 panels", "panels railroaded", "4 panels", "5 panels"]
    ways = [draft.way for draft in decide.draft(case('count = [2, 3]\nlie = "either"'))[0]]
    three = ["3 panels", "3 panels railroaded as one"]
    assert ways == ["2 panels", "2 panels railroaded as one", *three]


def test_what_bars_a_railroaded_skirt_is_told_once() -> None:
    said = planned('count = [2, 3]\nlie = "either"', length=140).choices
    assert said[-1] == (
        "The panels can't be railroaded: the cut length of 151 cm is more than the 148 cm that "
        "the cloth 'main' gives."
    )
    assert sum("railroaded" in sentence for sentence in said) == 1


def test_number_and_width_may_both_be_open() -> None:
    record = planned('count = [2, 3]\nwidth = ["60 cm", "full"]')
    assert record.garments[0].panels == 2
    assert record.choices[0].startswith("2 panels: ")
    assert "may be 60 cm to 148 cm wide" in record.choices[-1]


BAD = {
    "[]": "panels.count: [] is empty; write the fewest and the most panels, such as [2, 4]",
    "[4, 2]": "panels.count: [4, 2] runs backwards; write the smaller number first",
    "[2]": "panels.count: [2] doesn't hold two numbers",
    "[0, 2]": "panels.count: 0 is not a number of panels; write whole numbers from 1 to 1000",
    "[1, true]": "panels.count: true is not a number of panels",
    '["2", 3]': "panels.count: '2' is not a number of panels",
    "[1, 1000000]": "1000000 is not a number of panels",
    "[1, 900]": "panels.count: [1, 900] leaves 900 numbers open, and 8 are the most",
}


@pytest.mark.parametrize(("count", "says"), BAD.items(), ids=BAD)
def test_a_bad_range_is_refused_in_one_sentence(count: str, says: str) -> None:
    assert says in fault(f"count = {count}")
