"""Flounces, tucks, petticoats and aprons go all the way: laid, and passed by the referee."""

from __future__ import annotations

from collections import Counter

import pytest
from example_cases import case_of

from marker.decide import plan
from marker.lay import Mode
from marker.units import INCH

TOP = 'seam = "1/2 in"\nturn_down = "2 1/2 in"'
RING = '[garment.skirt.flounce]\ndepth = "8 in"\ncut = "ring"\nfulness = 1.5\n'
TUCKED = (
    '[garment.skirt.tucks]\ndepth = "1/2 in"\ngap = "1 in"\ncount = 3\nabove = "2 in"\n'
    '[garment.skirt.flounce]\ndepth = "8 in"\n'
)
APRON = (
    'kind = "apron"\ncorners = "round"\nlength = "24 in"\npocket = { corners = "round" }\n'
    'ties = { cut = "in one" }'
)


@pytest.mark.parametrize(
    ("garment", "panels", "more"),
    [
        (TOP, "count = 2", TUCKED),
        ('kind = "petticoat"\nseam = "1/2 in"', "count = 2", RING + 'sewn = "over"\n'),
        (APRON, "count = 2", ""),
    ],
    ids=["skirt", "petticoat", "apron"],
)
def test_they_are_laid_and_passed(garment: str, panels: str, more: str) -> None:
    case = case_of("in", more=more, garment=garment, panels=panels, band="")
    record = plan(case, iterations=1, seed=1)
    (told,) = record.garments
    (lay,) = record.lays
    assert told.figures
    asked = Counter({piece.name: piece.count for piece in lay.pieces})
    assert Counter(lay.piece(spot.letter).name for spot in lay.placements) == asked
    assert lay.shaped == (more != TUCKED)


def test_tears_alone_lay_a_skirt_of_tiers() -> None:
    more = "".join(
        f'[[garment.skirt.flounce]]\ndepth = "{keys}\n'
        for keys in ('9 in"', '10 in"\nhem = "1/2 in"')
    )
    case = case_of(
        "in", more=more, garment=TOP, cloth='width = "45 in"', band='width = "1 in"\nlie = "along"'
    )
    record = plan(case, iterations=1, seed=1, mode=Mode.TEAR)
    (lay,) = record.lays
    # three panels of 20 + 2 1/2 + 1/2 in, five strips of 10 in, and eight of 11 in above one
    # another: the band lies beside nothing, since every breadth is whole
    counts = {piece.name: piece.count for piece in lay.pieces}
    assert counts["first flounce strip"] == 5
    assert counts["second flounce strip"] == 8
    drops = 3 * 23 + 5 * 10 + 8 * 11
    assert lay.length >= drops * INCH
    assert lay.length <= (drops + 30) * INCH
