"""What the solvers' bounds rest on, at its edges; found by spoiling the code on purpose."""

from __future__ import annotations

import pytest

from marker.cloth import Cloth
from marker.errors import CannotLay
from marker.piece import Grain, Piece
from marker.solver.problem import read
from marker.units import CM

BOARD = Cloth("main", "linen", width=100 * CM, step=CM)
WIDER, TURN = "; take a wider cloth", "; let it turn (grain either)"


@pytest.mark.parametrize(
    ("length", "breadth", "grain", "needs", "remedy"),
    [
        (50, 200, Grain.ALONG, 200, TURN),
        (200, 50, Grain.ACROSS, 200, TURN),
        (100, 101, Grain.ALONG, 101, TURN),
        (300, 200, Grain.ALONG, 200, WIDER),
        (300, 200, Grain.ACROSS, 300, WIDER),
        (300, 200, Grain.EITHER, 200, WIDER),
        (101, 101, Grain.ALONG, 101, WIDER),
    ],
)
def test_a_piece_too_wide_is_told_with_its_size_across_and_what_helps(
    length: int, breadth: int, grain: Grain, needs: int, remedy: str
) -> None:
    piece = Piece("A", "panel", length * CM, breadth * CM, 1, "main", grain=grain)
    with pytest.raises(CannotLay) as told:
        read(BOARD, [piece])
    assert f"needs {needs} cm across, and cloth 'main' has 100 cm" in str(told.value)
    assert remedy in str(told.value)
    assert told.value.proved
