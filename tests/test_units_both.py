"""Both measures side by side: what is told in one is told in the other, and each rounds alone."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction

import pytest
from compare_cases import compared
from hypothesis import given
from hypothesis import strategies as st
from plan_lays import RECORDS, skirt

from marker import casefile, decide, referee
from marker.errors import BadInput
from marker.newcase import compose
from marker.plan.compare import words as compare_words
from marker.plan.drawing.page import Paper
from marker.plan.lays.layout import layout
from marker.plan.lays.svg import emit
from marker.plan.sheet.cloths import cloth_words
from marker.plan.words import phrases
from marker.plan.words.figures import Figures
from marker.plan.words.steps import steps
from marker.plan.words.sums import check_sum, leftovers
from marker.record import dump
from marker.record import parse as parse_record
from marker.units import (
    CM,
    INCH,
    METRE,
    YARD,
    Both,
    Rounding,
    System,
    format_bought,
    format_length,
    is_rounded,
    parse,
)

NUMBER = re.compile(r"\d+(?:\.\d+)?|[¼½¾⅛⅜⅝⅞]")
CASE = """
title = "Guest night"
units = {}
wearer.lova = {{ waist = "72 cm", length = "88 cm" }}
cloth.main = {{ width = "148 cm" }}
garment.skirt = {{ panels.count = 3 }}
"""


def numbers(text: str) -> list[str]:
    return NUMBER.findall(text)


def test_lengths_are_told_in_both_the_leading_one_first() -> None:
    assert format_length(99 * CM, Both.CM_IN) == "99 cm (39 in)"
    assert format_length(39 * INCH, Both.IN_CM) == "39 in (99.1 cm)"
    assert format_bought(2 * METRE, Both.CM_IN) == "2.00 m (2 1/4 yd)"
    assert format_bought(2 * YARD, Both.IN_CM) == "2 yd (1.83 m)"


@given(st.integers(0, 5 * METRE), st.sampled_from([Both.CM_IN, Both.IN_CM]))
def test_each_measure_rounds_up_on_its_own(value: int, units: Both) -> None:
    """What is bought or cut is never told short in either, nor by a whole step too long."""
    first, second = format_length(value, units, Rounding.UP).removesuffix(")").split(" (")
    for told, step in ((first, CM // 10), (second, INCH // 8)) if units is Both.CM_IN else (
        (first, INCH // 8), (second, CM // 10)):  # fmt: skip
        assert 0 <= parse(told) - value < step
    bought = format_bought(value, units).removesuffix(")").split(" (")
    assert all(parse(told) >= value for told in bought)
    assert is_rounded(value, units) == any(Fraction(value) % s for s in (CM // 10, INCH // 8))


@pytest.mark.parametrize(
    ("said", "units"),
    [('"cm"', System.CM), ('"in"', System.IN), ('"both"', Both.CM_IN),
     ('"cm and in"', Both.CM_IN), ('"in and cm"', Both.IN_CM)],
)  # fmt: skip
def test_a_case_says_what_is_printed(said: str, units: System | Both) -> None:
    case = casefile.parse(CASE.format(said), "a.toml")
    assert case.units is units
    # Usual sizes and steps follow the measure named first.
    assert case.cloths["main"].step == (METRE // 10 if units.lead is System.CM else YARD // 8)
    draft = case.orders[0].drafts()[0]
    seam = {mark.v0 for piece in draft.pieces for mark in piece.marks if mark.name == "seam"}
    assert (CM if units.lead is System.CM else INCH // 2) in seam


def test_a_wrong_measure_is_refused_with_those_there_are() -> None:
    with pytest.raises(BadInput, match="units is 'ell'; write 'cm', 'in', 'both'"):
        casefile.parse(CASE.format('"ell"'), "a.toml")
    with pytest.raises(BadInput, match="'ell' is not a measure"):
        compose("Harvest", "ell", {})
    assert casefile.parse(compose("Harvest", "both", {}), "a.toml").units is Both.CM_IN


@pytest.mark.parametrize("name", ["skirt", "inches", "strips", "gores", "flawed", "remnant"])
def test_all_words_hold_the_figures_of_both(name: str) -> None:
    """Every figure that either measure alone would give stands in the words, in its order."""
    record = RECORDS[name]()
    (lay, *_) = record.lays
    for tell in (
        lambda units: " ".join(step.text for step in steps(lay, units)),
        lambda units: check_sum(lay, units),
        lambda units: " ".join(leftovers(lay, units)),
        lambda units: phrases.heading(lay, units),
        lambda units: str(cloth_words(lay, Figures(units))),
    ):
        both = numbers(tell(Both.CM_IN))
        for system in System:
            left = iter(both)
            assert all(figure in left for figure in numbers(tell(system)))
        assert "((" not in tell(Both.CM_IN)
        assert "))" not in tell(Both.CM_IN).replace("), ", "")


@pytest.mark.parametrize("units", list(Both))
def test_the_plan_is_drawn_with_both_and_read_back(units: Both) -> None:
    record = replace(skirt(), units=units)
    drawn = emit(record, record.lays[0], layout(record, record.lays[0], Paper.A4))
    assert referee.check_drawing(drawn, record.lays[0]) == ()
    shown = re.findall(r"<text[^>]*>([^<]*)</text>", drawn)
    assert {"cm", "in"} <= set(shown)  # both scales of the tape
    assert shown.count("108 × 112 cm") == shown.count("42⅝ × 44⅛ in") == 3
    tape = {text for text in shown if re.fullmatch(r"[\d.]+ \([\d¼½¾⅛⅜⅝⅞]+\)|\S+ \(\S+\)", text)}
    assert "108 (42⅝)" in tape if units is Both.CM_IN else "42⅝ (108)" in tape


def test_a_record_in_both_is_stored_and_read_again() -> None:
    record = replace(skirt(), units=Both.IN_CM)
    assert '"units": "in and cm"' in dump(record)
    assert parse_record(dump(record), "lay.json") == record
    assert '"units": "cm"' in dump(skirt())


def test_sentences_of_a_plan_are_in_both() -> None:
    """What recipes say too; sizes exact in the leading one are not told exactly again."""
    text = CASE.format('"both"').replace(
        "panels.count = 3", 'panels = { count = 3, width = "60 cm" }'
    )
    record = decide.plan(casefile.parse(text, "a.toml"), iterations=5)
    (said,) = (one for one in record.garments[0].advice if "round" in one and "hem" in one)
    assert "174 cm (68 1/2 in)" in said
    assert "1.80 m (2 yd)" in said
    assert not any("exactly" in one for one in record.garments[0].advice)


def test_options_are_compared_in_both() -> None:
    found = compared("[compare]\npanels = [2, 3]", "both")
    heads, first = compare_words.headings(found), compare_words.figures(found.rows[0], found)
    assert (heads["buy"], heads["round"]) == ("buy, m (yd)", "round hem, cm (in)")
    assert heads["pleats"] == "pleats to 10 cm (the inch)"
    for system in System:
        alone = compare_words.figures(found.rows[0], replace(found, units=system))
        assert all(figure in numbers(first[key]) for key in first for figure in numbers(alone[key]))
    (around, *_) = (one for one in compare_words.details(found.rows[0], found) if "hem" in one)
    assert re.search(r"\d cm \([\d /]+ in\) round the hem", around)
