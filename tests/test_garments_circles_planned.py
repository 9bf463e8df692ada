"""Gored skirts, circle skirts and capes go all the way: laid, and passed by the referee."""

from __future__ import annotations

from collections import Counter

import pytest

from marker import referee
from marker.casefile import parse
from marker.decide import plan
from marker.record import Record

WEARER = 'waist = "70 cm"\nneck = "38 cm"\nfront = "80 cm"\nside = "81 cm"\nback = "83 cm"'
GORED = (
    'kind = "gored skirt"\nhem = "facing"\n[garment.skirt.gores]\ncount = 4\nround = "2.2 m"\n'
    '[garment.skirt.facing]\ncut = ["shaped", "bias strips"]\nstrips = 4'
)
CIRCLE = 'kind = "circle skirt"\ncircle = "half"\npanels = 2\ngrain = "edge"\ntake_up = "2 cm"'
CAPE = (
    'kind = "cape"\ncircle = "half"\npanels = 4\nlength = "60 cm"\n'
    '[garment.skirt.binding]\ncut = "continuous bias"\nacross = "40 cm"'
)


def planned(garment: str, cloth: str = "", width: str = "150 cm") -> Record:
    """The case planned, few steps of the search for each way."""
    text = (
        f'title = "A case"\nunits = "cm"\n[wearer.ada]\n{WEARER}\n'
        f'[cloth.main]\nwidth = "{width}"\nselvedge = "1 cm"\n{cloth}\n[garment.skirt]\n{garment}\n'
    )
    return plan(parse(text, "a.toml"), iterations=1, seed=1)


@pytest.mark.parametrize("garment", [GORED, CIRCLE, CAPE], ids=["gored", "circle", "cape"])
def test_they_are_laid_and_passed(garment: str) -> None:
    record = planned(garment, "tears = false")
    assert referee.check_record(record) == ()
    (lay,) = record.lays
    asked = Counter({piece.letter: piece.count for piece in lay.pieces})
    assert Counter(spot.letter for spot in lay.placements) == asked
    turned = Counter(spot.letter for spot in lay.placements if spot.flip)
    assert turned == {p.letter: p.mirrored for p in lay.pieces if p.mirrored}
    if garment is GORED:
        (told,) = record.choices
        assert "shaped facing" in told.lower() and "facing of 4 bias strips" in told.lower()


def test_pairs_lie_on_one_another_where_the_cloth_is_folded() -> None:
    record = planned(CIRCLE, "folded = true", width="230 cm")
    (lay,) = record.lays
    panels = [spot for spot in lay.placements if lay.piece(spot.letter).name == "panel"]
    assert sorted(spot.flip for spot in panels) == [False, True]
    one, other = (spot.polygon(lay.piece(spot.letter)).box for spot in panels)
    assert (one.x0, one.x1) == (other.x0, other.x1)
    assert one.y0 + other.y1 == lay.cloth.laid_width


def test_on_napped_cloth_no_panel_lies_upside_down() -> None:
    record = planned(
        GORED.replace('["shaped", "bias strips"]\nstrips = 4', '"shaped"'), "one_way = true"
    )
    (lay,) = record.lays
    turns = {
        spot.turn
        for spot in lay.placements
        if "gore" in lay.piece(spot.letter).name and not spot.flip
    }
    assert len(turns) == 1
