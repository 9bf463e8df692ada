"""Lengths at the edge of what is read, told and rounded; found by spoiling the code on purpose."""

from __future__ import annotations

from fractions import Fraction

import pytest

from marker.errors import BadInput
from marker.units import (
    INCH,
    LONGEST,
    METRE,
    System,
    format_length,
    is_rounded,
    nearest,
    parse,
    print_step,
    set_fractions,
)


def test_a_kilometre_is_read_and_nothing_longer() -> None:
    assert parse("1000 m") == LONGEST == 1000 * METRE
    with pytest.raises(BadInput, match="longer than 1 km"):
        parse("1000.01 m")


@pytest.mark.parametrize(("many", "shown"), [(40, "x" * 40), (41, "x" * 37 + "...")])
def test_what_is_no_length_is_shown_up_to_forty_characters(many: int, shown: str) -> None:
    with pytest.raises(BadInput, match=f"^'{shown}' is not a length"):
        parse("x" * many)


def test_inches_are_told_in_eighths_unless_finer_ones_are_asked() -> None:
    odd = 5 * INCH // 16
    assert print_step(System.IN) == INCH // 8
    assert is_rounded(odd, System.IN)
    assert not is_rounded(odd, System.IN, fine=True)
    assert format_length(odd, System.IN) == "3/8 in"
    assert format_length(odd, System.IN, fine=True) == "5/16 in"


def test_below_nought_the_nearest_is_the_nearest_too() -> None:
    assert [nearest(Fraction(part, 4)) for part in (-3, -2, -1, 1, 2, 3)] == [-1, 0, 0, 0, 1, 1]


def test_only_true_parts_are_set_as_fractions() -> None:
    assert set_fractions("15/16 in, 16/16, 17/16") == "¹⁵⁄₁₆ in, 16/16, 17/16"
