"""A band or a facing that may lie either way: which it does, and what the other would take."""

from __future__ import annotations

from typing import Any

import pytest

from marker import casefile, decide

SKIRT = """
title = "Lies"
units = "cm"
[wearer.ilka]
name = "Ilka"
waist = "{waist} cm"
length = "88 cm"
[cloth.main]
width = "{width} cm"
{cloth}
[garment.skirt]
name = "Skirt"
seam = "1 cm"
{skirt}
[garment.skirt.panels]
count = 4
width = "{panel} cm"
[garment.skirt.band]
{band}
"""
EITHER = 'lie = "either"'


def told(band: str = EITHER, **more: Any) -> tuple[str, ...]:
    asked = {"waist": 72, "width": 150, "panel": 68, "cloth": "", "skirt": "", **more}
    text = SKIRT.format(band=band, **asked)
    return decide.plan(casefile.parse(text, "x.toml"), iterations=5).choices


def test_the_band_beside_the_panels_would_cost_a_drop_across() -> None:
    # 88 + 6 + 5 cm, two abreast: two drops of 99 cm, and 14 cm beside them for the band, which is
    # 8 cm broad. Across it lies below them: 198 + 8 cm.
    assert told() == (
        "The band of Skirt lies along the bolt: 2.00 m to buy against 2.10 m across.",
    )


def test_the_band_below_full_breadths_would_cost_its_length_along() -> None:
    # Without room beside them it lies across, 396 + 8 cm; along, it takes 81.5 cm.
    assert told(panel=150) == (
        "The band of Skirt lies across the bolt: 4.10 m to buy against 4.80 m along.",
    )


def test_a_band_that_cannot_lie_across_says_so() -> None:
    assert told(waist=120, width=110, panel=48) == (
        "The band of Skirt lies along the bolt: it can't lie across.",
    )


def test_what_comes_to_the_same_is_told_with_the_length_used() -> None:
    # Sold by a metre and a half, 198 cm along and 206 cm across take two of them alike.
    said = told(cloth='step = "1.5 m"')
    assert said == (
        "The band of Skirt lies along the bolt: 3.00 m to buy either way, and 198 cm used against "
        "206 cm across.",
    )


def test_facings_are_told_too_and_each_by_itself() -> None:
    facing = 'hem = "facing"\n[garment.skirt.facing]\nlie = "either"'
    band, strips = told(skirt=facing)
    assert band.startswith("The band of Skirt lies ")
    assert strips.startswith("The facing of Skirt lies ")


def test_where_no_time_is_left_the_other_way_is_not_guessed() -> None:
    text = SKIRT.format(band=EITHER, waist=72, width=150, panel=68, cloth="", skirt="")
    said = decide.plan(casefile.parse(text, "x.toml"), seconds=0.0).choices
    assert said == (
        "The band of Skirt lies along the bolt; what it takes across was not reckoned: no time "
        "was left; give more --seconds.",
    )


@pytest.mark.parametrize("band", ["", 'lie = "across"', 'lie = "along"'])
def test_nothing_is_told_where_the_file_does_not_ask(band: str) -> None:
    assert told(band) == ()
