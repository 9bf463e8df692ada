"""Recipes at the edges of what they take; found by spoiling their code on purpose."""

from __future__ import annotations

from itertools import product

import pytest
from example_cases import draft_of, piece_of
from test_garments_bias import order_on
from test_garments_strips import FREE

from marker.errors import BadInput
from marker.garments.bias import Bias, bias
from marker.garments.bias_keys import CONTINUOUS
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
