"""Whether a garment goes on over the hips, and round them, is told where they are measured."""

from __future__ import annotations

import math

import pytest

from marker.casefile import parse
from marker.record import Garment
from marker.units import CM

CASE = """title = "Hips"
units = "cm"
[wearer.ada]
name = "Ada"
waist = "60 cm"
length = "90 cm"
{hip}
[cloth.main]
name = "Wool"
width = "150 cm"
[garment.skirt]
seam = "1 cm"
{keys}
band = {{ underlap = "{underlap}" }}
opening = {{ length = "{opening}" }}
"""
STRAIGHT = 'panels = { count = 3, width = "100 cm" }'
KINDS = {
    "straight skirt": STRAIGHT,
    "petticoat": f'kind = "petticoat"\ntop = "band"\n{STRAIGHT}',
    "gored skirt": 'kind = "gored skirt"\ngores = { count = 6, round = "3 m" }',
    "circle skirt": 'kind = "circle skirt"\ncircle = "half"',
}


def made(kind: str, hip: int, opening: str, underlap: str = "4 cm") -> Garment:
    """What is told of a garment for a waist of 60 cm; nought where hips aren't measured."""
    measured = f'hip = "{hip} cm"' if hip else ""
    text = CASE.format(keys=KINDS[kind], hip=measured, opening=opening, underlap=underlap)
    (order,) = parse(text, "a.toml").orders
    return order.drafts()[0].garment


def tight(garment: Garment) -> list[str]:
    return [said for said in garment.advice if "put on" in said]


@pytest.mark.parametrize("kind", KINDS)
def test_an_opening_too_short_for_the_hips_is_told(kind: str) -> None:
    # A band of 60 and an underlap of 4, and both edges of 12: 88 at the very most.
    assert tight(made(kind, 88, "12 cm")) == []
    assert tight(made(kind, 89, "12 cm")) == [
        "With an opening of 12 cm the top goes 88 cm round at the very most, less than hips of "
        "89 cm: it can't be put on over them; give an opening of more than 12.5 cm."
    ]
    assert tight(made(kind, 89, "12.5 cm")) == []
    assert tight(made(kind, 85, "12 cm", underlap="0 cm"))


def test_nothing_is_said_where_nobody_measured_the_hips() -> None:
    assert all(tight(made(kind, 0, "5 cm")) == [] for kind in KINDS)


def test_a_petticoat_s_opening_may_be_short_too() -> None:
    said = " ".join(made("petticoat", 80, "20 cm").advice)
    assert "The opening of 20 cm is short" in said


def test_a_circle_too_scant_at_the_hips_is_told() -> None:
    # A half circle grows by pi x 20 cm down to the hips: 60 + 62.8 = 122.8 cm.
    most = int((60 * CM + math.pi * 20 * CM) / CM)
    assert most == 122
    told = [said for said in made("circle skirt", 123, "40 cm").advice if "hips" in said]
    assert told == [
        "The skirt measures 122.8 cm round at the hips, less than the wearer's 123 cm; take more "
        "of the circle, or gathers at the waist."
    ]
    assert not [said for said in made("circle skirt", 122, "40 cm").advice if "hips" in said]
