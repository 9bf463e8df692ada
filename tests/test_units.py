"""Lengths: every spelling reads, every wrong one gets one sentence, print rounds by name."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from marker.errors import BadInput
from marker.units import (
    CM,
    FOOT,
    INCH,
    METRE,
    MM,
    YARD,
    Rounding,
    System,
    ceil_to,
    format_bought,
    format_exact,
    format_length,
    format_number,
    is_rounded,
    parse,
    set_fractions,
)

HALF = INCH // 2


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("42 1/2 in", 42 * INCH + HALF),
        ('42.5"', 42 * INCH + HALF),
        ('42 1/2"', 42 * INCH + HALF),
        ("42½ in", 42 * INCH + HALF),
        ("½ in", HALF),
        ("3 ft 6 1/2 in", 3 * FOOT + 6 * INCH + HALF),
        ("3' 6 1/2\"", 3 * FOOT + 6 * INCH + HALF),
        ("1 yd 6 1/2 in", YARD + 6 * INCH + HALF),
        ("1 3/8 yd", YARD * 11 // 8),
        ("108 cm", 108 * CM),
        ("1.08 m", 108 * CM),
        ("1080 mm", 108 * CM),
        (" 1 M 8 CM ", 108 * CM),
        (".5 in", HALF),
        ("0 cm", 0),
    ],
)
def test_reads_every_spelling_of_the_trade(text: str, value: int) -> None:
    assert parse(text) == value


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("108", "no unit"),
        ("42 1/2", "no unit"),
        ("-3 cm", "negative"),
        ("nan", "not a length"),
        ("inf m", "not a length"),
        ("1e400", "not a length"),
        ("1e400 cm", "not a length"),
        ("5 furlongs", "not a length"),
        ("", "missing"),
        ("   ", "missing"),
        ("1/0 in", "divides by nothing"),
        ("1,5 m", "decimal point"),
        ("3 cm 2 in", "mixes its units"),
        ("2 in 3 ft", "mixes its units"),
        ("2 in 3 in", "mixes its units"),
        ("10000 m", "longer than 1 km"),
        ("9" * 500 + " cm", "not a length"),
        ("1 cm; rm", "not a length"),
        ("١٠ cm", "not a length"),
    ],
)
def test_a_wrong_length_gets_one_sentence(text: str, says: str) -> None:
    with pytest.raises(BadInput, match=says) as caught:
        parse(text)
    assert "\n" not in str(caught.value)
    assert len(str(caught.value)) < 250


def test_the_unit_is_exact_in_both_systems() -> None:
    # 1 in = 25.4 mm and 1 yd = 0.9144 m exactly (SI conversion; from memory).
    assert Fraction(INCH, MM) == Fraction("25.4")
    assert Fraction(YARD, METRE) == Fraction("0.9144")
    assert INCH % 32 == 0


@given(st.integers(0, 1000 * METRE))
def test_exact_print_reads_back(value: int) -> None:
    assert parse(format_exact(value)) == value


@given(st.integers(0, 100_000))
def test_centimetres_to_the_millimetre_read_back(millimetres: int) -> None:
    value = millimetres * MM
    assert not is_rounded(value, System.CM)
    assert parse(format_length(value, System.CM)) == value


@given(st.integers(0, 40_000))
def test_inches_to_the_eighth_read_back(eighths: int) -> None:
    value = eighths * (INCH // 8)
    assert parse(format_length(value, System.IN)) == value
    assert parse(set_fractions(format_length(value, System.IN))) == value


@given(st.integers(0, 10 * METRE), st.sampled_from(System), st.booleans())
def test_print_is_never_far_and_up_is_never_below(value: int, system: System, fine: bool) -> None:
    step = MM if system is System.CM else INCH // (16 if fine else 8)
    near = parse(format_length(value, system, fine=fine))
    up = parse(format_length(value, system, Rounding.UP, fine=fine))
    assert abs(near - value) * 2 <= step
    assert 0 <= up - value < step
    assert is_rounded(value, system, fine=fine) == (near != value)


@given(st.integers(0, 20 * METRE), st.sampled_from(System))
def test_what_is_bought_is_printed_up(value: int, system: System) -> None:
    assert parse(format_bought(value, system)) >= value


@given(st.integers(0, 10**9), st.integers(1, 10**6))
def test_rounding_up_to_a_step(value: int, step: int) -> None:
    up = ceil_to(value, step)
    assert up % step == 0
    assert 0 <= up - value < step


def test_shop_lengths_read_as_the_shop_says_them() -> None:
    assert format_bought(parse("340 cm"), System.CM) == "3.40 m"
    assert format_bought(parse("130 1/2 in"), System.IN) == "3 5/8 yd"
    assert format_bought(parse("126 in"), System.IN) == "3 1/2 yd"


def test_numbers_go_without_a_unit_and_fractions_stand_alone() -> None:
    assert format_number(HALF, System.IN) == "1/2"
    assert format_number(parse("31.5 cm"), System.CM) == "31.5"
