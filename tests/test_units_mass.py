"""Masses as print spells them: by grams, or by pounds and ounces where a case is told in inches."""

from __future__ import annotations

import json
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

import marker
from marker.decide.weighed import with_weight
from marker.plan.sheet.sewing import sewing_page
from marker.plan.words.sewing import square_weight
from marker.units import OUNCE, Both, System, Units, format_mass

OUT = Path(__file__).parents[1] / "out"


@pytest.mark.parametrize(
    ("grams", "metric", "imperial"),
    [
        (0, "0 g", "0 oz"), (Fraction(1, 4), "under 1 g", "under 1/4 oz"), (7, "7 g", "1/4 oz"),
        (28, "28 g", "1 oz"), (16 * OUNCE, "454 g", "1 lb"), (999, "999 g", "2 lb 3 1/4 oz"),
        (16 * OUNCE - 4, "450 g", "15 3/4 oz"),
(16 * OUNCE - 1, "453 g", "1 lb"), (1235, "1.24 kg", "2 lb 11 1/2 oz"),
        (17 * OUNCE, "482 g", "1 lb 1 oz"),
    ],
)  # fmt: skip
def test_a_mass_is_told_in_the_measure_of_its_case(
    grams: Fraction | int, metric: str, imperial: str
) -> None:
    assert format_mass(grams, System.CM) == metric
    assert format_mass(grams, System.IN) == imperial
    assert format_mass(grams, Both.CM_IN) == f"{metric} ({imperial})"
    assert format_mass(grams, Both.IN_CM) == f"{imperial} ({metric})"


def test_a_coarse_mass_is_in_one_unit() -> None:
    # 2 kg are 4.409 lb (one pound is 453.59237 g exactly, from memory).
    assert format_mass(2000, Both.CM_IN, coarse=True) == "2 kg (4.4 lb)"
    assert format_mass(3456, System.CM, coarse=True) == "3.5 kg"


def test_the_weight_of_cloth_is_told_by_its_own_square() -> None:
    # 1 oz/yd2 is 33.9057 g/m2 (SOURCES: reckoned from the yard and the ounce).
    assert square_weight(Fraction(339057, 2000), System.IN) == "5.0 oz/yd²"
    assert square_weight(Fraction(170), Both.CM_IN) == "170 g/m² (5.0 oz/yd²)"


@pytest.mark.parametrize("units", [System.CM, System.IN, Both.CM_IN])
def test_no_page_tells_a_mass_in_another_measure(units: Units) -> None:
    record = replace(marker.load_record(OUT / "whole-list" / "lay.json"), units=units)
    page = json.dumps(sewing_page(record), ensure_ascii=False)
    words = page.replace('"', " ").replace(")", " ").replace(",", " ").split()
    assert ({"g", "kg"} & set(words) != set()) == (System.CM in units.systems)
    assert ({"oz"} & set(words) != set()) == (System.IN in units.systems)


def test_advice_on_a_heavy_garment_is_in_the_case_s_measure() -> None:
    record = marker.load_record(OUT / "whole-list" / "lay.json")
    (bare,) = (replace(garment, advice=()) for garment in record.garments)
    heavy = replace(bare.notions[0], name="lead", counter=bare.notions[0].counter, grams=9000)
    for units, said in ((System.IN, "over 4.4 lb a band"), (System.CM, "over 2 kg a band")):
        one = replace(record, units=units, garments=(replace(bare, notions=(heavy,)),))
        assert said in " ".join(with_weight(one).garments[0].advice)
