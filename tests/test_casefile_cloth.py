"""What a case file may say of a cloth: shears, remnants, repeats, flaws, torn edges."""

from __future__ import annotations

import re

import pytest
from example_cases import case_of, draft_of
from hypothesis import given
from hypothesis import strategies as st

from marker.cloth import Cloth, Repeat
from marker.errors import BadInput
from marker.geometry import Rect
from marker.units import CM, METRE, MM

PLAIN = 'width = "114 cm"\nselvedge = "1 cm"'


def cloth_of(more: str) -> Cloth:
    return case_of("cm", cloth=f"{PLAIN}\n{more}").cloths["main"]


def fault(more: str) -> str:
    with pytest.raises(BadInput) as raised:
        cloth_of(more)
    told = str(raised.value)
    assert told.startswith("a.toml: ") and "\n" not in told and not re.search(r"\. [A-Z]", told)
    return told


def test_what_is_not_said_of_a_cloth() -> None:
    cloth = cloth_of("")
    assert cloth.tears and cloth.length == 0 and cloth.repeat == Repeat()
    assert (cloth.flaws, cloth.torn_edge, cloth.least_strip) == ((), 0, 0)


def test_a_layer_thicker_than_any_cloth_is_a_slip_of_the_unit() -> None:
    assert cloth_of('thickness = "2 cm"').thickness == 2 * CM
    assert "cloth.main.thickness is more than 2 cm" in fault('thickness = "4 in"')


def test_cloth_for_the_shears_and_for_the_hand() -> None:
    assert not cloth_of("tears = false").tears
    cloth = cloth_of('torn_edge = "2 mm"\nleast_strip = "4 cm"')
    assert (cloth.torn_edge, cloth.least_strip) == (2 * MM, 4 * CM)


def test_a_repeat_either_way_or_both() -> None:
    assert cloth_of('repeat = { along = "12 cm", across = "8 cm" }').repeat == Repeat(
        12 * CM, 8 * CM
    )
    assert cloth_of('repeat = { along = "12 cm" }').repeat == Repeat(12 * CM, 0)
    assert cloth_of('repeat = { across = "8 cm" }').repeat == Repeat(0, 8 * CM)


def test_a_length_makes_a_remnant_of_which_nothing_is_bought() -> None:
    cloth = cloth_of('length = "1.20 m"\nsquaring = "2 cm"')
    assert cloth.length == 120 * CM and cloth.longest_lay(cloth.length) == 118 * CM
    assert cloth.buy(METRE) == 0
    assert case_of("cm", cloth=f'{PLAIN}\nlength = "1.20 m"').orders[0].drafts()
    assert draft_of(
        "in", cloth='width = "45 in"\nlength = "40 in"'
    ).pieces  # too short, yet drafted


def test_flaws_are_measured_from_the_cut_end() -> None:
    # x of the lay begins at the squared end, 2 cm in
    flaws = cloth_of(
        'squaring = "2 cm"\n'
        'flaws = [{ along = ["40 cm", "46 cm"], across = ["10 cm", "15 cm"] }, '
        '{ along = ["1 cm", "3 cm"] }]'
    ).flaws
    assert flaws == (
        Rect(38 * CM, 10 * CM, 44 * CM, 15 * CM),
        Rect(-1 * CM, 0, 1 * CM, 114 * CM),  # right across, selvedges and all
    )


def test_flaws_lie_on_the_cloth_as_it_is_after_washing() -> None:
    # 114 cm less 5 % lie 108.3 cm wide; 1.20 m less 10 % lie 1.08 m long
    washed = 'length = "1.20 m"\nshrinkage = { warp = "10 %", weft = "5 %" }\n'
    (flaw,) = cloth_of(washed + 'flaws = [{ along = ["1 m", "108 cm"] }]').flaws
    assert flaw == Rect(100 * CM, 0, 108 * CM, 1083 * MM)
    assert fault(washed + 'flaws = [{ along = ["1 m", "108.1 cm"] }]').endswith(
        "cloth.main.flaws (number 1).along goes to 108.1 cm, but the remnant lies 108 cm long; "
        "measure it from the cut end"
    )
    assert "across goes to 108.4 cm, but the cloth lies 108.3 cm wide" in fault(
        washed + 'flaws = [{ along = ["1 m", "108 cm"], across = ["0 cm", "108.4 cm"] }]'
    )


def test_squaring_counts_in_the_length_of_a_remnant() -> None:
    remnant = 'length = "1.20 m"\nsquaring = "3 cm"\nflaws = [{ along = ["1 m", "120 cm"] }]'
    assert cloth_of(remnant).flaws == (Rect(97 * CM, 0, 117 * CM, 114 * CM),)
    assert "but the remnant lies 120 cm long" in fault(remnant.replace('"120 cm"', '"120.1 cm"'))


@given(st.integers(0, 20), st.integers(0, 200), st.integers(1, 50), st.integers(0, 113))
def test_a_flaw_keeps_its_size_wherever_the_cloth_is_squared(
    squaring: int, begins: int, long: int, near: int
) -> None:
    (flaw,) = cloth_of(
        f'squaring = "{squaring} cm"\n'
        f'flaws = [{{ along = ["{begins} cm", "{begins + long} cm"], '
        f'across = ["{near} cm", "{near + 1} cm"] }}]'
    ).flaws
    assert (flaw.along, flaw.across, flaw.y0) == (long * CM, CM, near * CM)
    assert flaw.x0 == (begins - squaring) * CM


FAULTS = {
    "step of a remnant": (
        'length = "1 m"\nstep = "10 cm"',
        "cloth.main.step is for cloth sold by length, and cloth.main.length makes this a "
        "remnant in hand; take one of the two out",
    ),
    "price of a remnant": (
        'length = "1 m"\nprice = "9 EUR/m"',
        "cloth.main.price is for cloth sold by length, and cloth.main.length makes",
    ),
    "remnant of nothing": ('length = "0 cm"', "cloth.main.length: '0 cm' is nothing"),
    "remnant all squaring": (
        'length = "2 cm"\nsquaring = "2 cm"',
        "cloth 'main': squaring and shrinkage leave nothing of its length",
    ),
    "figure for a repeat": (
        'repeat = "12 cm"',
        "cloth.main.repeat is '12 cm', not a table; give a table, such as { along",
    ),
    "empty repeat": ("repeat = {}", "cloth.main.repeat is empty; give along, across or both"),
    "repeat of nothing": (
        'repeat = { along = "0 cm" }',
        "cloth.main.repeat.along: '0 cm' is nothing; give a length above nought",
    ),
    "unknown repeat": (
        'repeat = { alnog = "3 cm" }',
        "cloth.main.repeat.alnog is not a key; did you mean 'along'?",
    ),
    "figure for flaws": (
        'flaws = "40 cm"',
        "cloth.main.flaws is '40 cm', not a list in square brackets; give a list of zones, such",
    ),
    "figure for a flaw": (
        'flaws = ["40 cm"]',
        "cloth.main.flaws (number 1) is '40 cm', not a table",
    ),
    "flaw nowhere along": (
        'flaws = [{ across = ["1 cm", "2 cm"] }]',
        "cloth.main.flaws (number 1).along is missing; give from where to where, such as",
    ),
    "flaw at a point": (
        'flaws = [{ along = "40 cm" }]',
        "cloth.main.flaws (number 1).along: '40 cm' is not a stretch; write where it begins",
    ),
    "flaw with three ends": (
        'flaws = [{ along = ["1 cm", "2 cm", "3 cm"] }]',
        "cloth.main.flaws (number 1).along: ['1 cm', '2 cm', '3 cm'] is not a stretch",
    ),
    "flaw reversed": (
        'flaws = [{ along = ["1 cm", "2 cm"] }, { along = ["46 cm", "40 cm"] }]',
        "cloth.main.flaws (number 2).along: ['46 cm', '40 cm'] does not run onwards; write the "
        "smaller figure first",
    ),
    "flaw of no size": (
        'flaws = [{ along = ["40 cm", "40 cm"] }]',
        "cloth.main.flaws (number 1).along: ['40 cm', '40 cm'] does not run onwards",
    ),
    "negative flaw": (
        'flaws = [{ along = ["-1 cm", "40 cm"] }]',
        "cloth.main.flaws (number 1).along: '-1 cm' is negative; a length is zero or more",
    ),
    "flaw without a unit": (
        'flaws = [{ along = [40, "46 cm"] }]',
        "cloth.main.flaws (number 1).along: '40' has no unit",
    ),
    "flaw off the cloth": (
        'flaws = [{ along = ["4 cm", "5 cm"], across = ["1 m", "115 cm"] }]',
        "cloth.main.flaws (number 1).across goes to 115 cm, but the cloth lies 114 cm wide; "
        "measure it from the outer edge of the near selvedge",
    ),
    "negative torn edge": ('torn_edge = "-1 mm"', "cloth.main.torn_edge: '-1 mm' is negative"),
    "torn edge without a unit": ("torn_edge = 2", "cloth.main.torn_edge: '2' has no unit"),
    "least strip as a word": ('least_strip = "thin"', "cloth.main.least_strip: 'thin' is not a"),
    "word for tears": ('tears = "no"', "cloth.main.tears is 'no', not true or false; give true"),
}


@pytest.mark.parametrize(("more", "said"), FAULTS.values(), ids=FAULTS)
def test_what_can_not_be_said_of_a_cloth(more: str, said: str) -> None:
    assert said in fault(more)
