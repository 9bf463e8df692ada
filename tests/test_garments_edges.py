"""Recipes at the edges of what they take; found by spoiling their code on purpose."""

from __future__ import annotations

from itertools import product

import pytest
from example_cases import draft_of, piece_of
from test_garments_bias import order_on
from test_garments_strips import FREE
from work_cases import HEAD

from marker.casefile import parse as parse_case
from marker.errors import BadInput
from marker.garments.bias import Bias, bias
from marker.garments.bias_keys import CONTINUOUS
from marker.garments.gored.outline import gore_outline
from marker.units import CM, MM

PANELS = 'count = 3\nwidth = "74 cm"'
"""So broad that a facing takes 217 cm."""


def test_a_strip_may_be_asked_for_in_one_piece_and_no_longer() -> None:
    whole = draft_of("cm", FREE + 'shortest = "217 cm"\n', panels=PANELS)
    pieced = piece_of(whole, "facing strip").pieced
    assert pieced is not None
    assert pieced.least == pieced.total == 217 * CM
    with pytest.raises(BadInput, match="and all of it takes 217 cm"):
        draft_of("cm", FREE + 'shortest = "217.1 cm"\n', panels=PANELS)


def test_how_far_joins_lie_apart_is_told_from_two_rows_on() -> None:
    seen = set()
    for across, length in product((25, 40, 60), (50, 100, 200)):
        wanted = Bias("hem", "strip", length * CM, 120 * MM, 0)
        made = bias(order_on(across * CM), wanted, CONTINUOUS, None)
        rows = int(made.advice[0].split("rule ")[1].split()[0])
        seen.add(rows)
        assert sum("mostly apart" in item.name for item in made.figures) == (rows > 1)
    assert {2, 3} <= seen


def test_a_gore_that_hardly_flares_has_a_sloping_top_too() -> None:
    gore = gore_outline(4000, 4000, 9000, 8999, 8998)
    measured = {name: gore.edge(name).length for name in ("start", "low", "end", "high")}
    assert measured == pytest.approx({"start": 4000, "low": 9000, "end": 4000, "high": 8998}, abs=1)
    assert gore.box == pytest.approx((0, 0, 9000, 4000), abs=2)


def test_a_petticoats_band_has_the_ease_that_is_asked() -> None:
    drawn = [
        parse_case(f'{HEAD}[garment.a]\nkind = "petticoat"\ntop = "band"\n'
                   f'panels = {{ count = 2, width = "120 cm" }}\nband = {{ ease = "{ease}" }}\n',
                   "a.toml").orders[0].drafts()[0].garment.drawn
        for ease in ("0 cm", "2 cm")
    ]  # fmt: skip
    assert drawn == [70 * CM, 72 * CM]


def test_seams_may_take_nearly_all_of_a_breadth_but_not_all() -> None:
    def drafts(seam: str) -> object:
        cloth = '[cloth.ribbon]\nwidth = "10 cm"\n'
        skirt = f'[garment.a]\ncloth = "ribbon"\nseam = "{seam}"\nhem = "none"\ntape = {{}}\n'
        panels = 'panels = { count = 200, width = "full" }\n'
        return parse_case(f"{HEAD}{cloth}{skirt}{panels}", "a.toml").orders[0].drafts()

    with pytest.raises(BadInput, match="seam takes 10 cm of a breadth, all that the cloth"):
        drafts("5 cm")
    with pytest.raises(BadInput) as told:  # what is left is no more than thread
        drafts("4.9 cm")
    assert "of a breadth, all that" not in str(told.value)
