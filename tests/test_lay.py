"""Pieces turned on the cloth, and cut trees walked into tears."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from marker.cloth import Cloth
from marker.errors import BadInput
from marker.geometry import Rect
from marker.lay import Direction, Part, Placement, Proof, leaves, prove, tears
from marker.piece import Grain, Piece
from marker.units import CM

PIECE = Piece("A", "panel", length=100, breadth=30, count=1, cloth="main")


@pytest.mark.parametrize("turn", [0, 90, 180, 270])
def test_a_turned_piece_keeps_its_corners_on_its_own_rectangle(turn: int) -> None:
    placed = Placement("A", 1, 7, 11, turn)
    corners = [placed.to_cloth(PIECE, u, v) for u in (0, 100) for v in (0, 30)]
    rect = placed.rect(PIECE)
    assert {x for x, _ in corners} == {rect.x0, rect.x1}
    assert {y for _, y in corners} == {rect.y0, rect.y1}


@given(st.integers(0, 100), st.integers(0, 30))
def test_turns_are_turns_and_not_mirrors(u: int, v: int) -> None:
    # The cross product of the images of the two axes keeps its sign in a true turn.
    for turn in (0, 90, 180, 270):
        placed = Placement("A", 1, 0, 0, turn)
        (ox, oy), (ux, uy), (vx, vy) = (
            placed.to_cloth(PIECE, u + du, v + dv) for du, dv in ((0, 0), (1, 0), (0, 1))
        )
        assert (ux - ox) * (vy - oy) - (uy - oy) * (vx - ox) == 1


def test_one_way_cloth_turns_up_along_the_warp() -> None:
    band = Piece("B", "band", 80, 8, 1, "main", grain=Grain.EITHER, up="breadth")
    flap = Piece("C", "flap", 80, 8, 1, "main", grain=Grain.EITHER)
    assert band.turns(one_way=False) == (0, 90)
    assert band.turns(one_way=True) == (90,)
    assert flap.turns(one_way=True) == (0,)
    assert Piece("D", "tie", 80, 8, 1, "main", grain=Grain.ACROSS).turns(one_way=False) == (90,)


def test_an_empty_piece_is_refused() -> None:
    with pytest.raises(BadInput, match="above nothing"):
        Piece("A", "panel", 0, 30, 1, "main")


def tree() -> Part:
    """A bolt squared, one breadth torn off, and a strip torn into a band and an offcut."""
    panel = Part(Rect(0, 0, 10, 20), placed=Placement("A", 1, 0, 0, 0))
    band = Part(Rect(10, 0, 13, 15), placed=Placement("B", 1, 10, 0, 90))
    strip = Part(
        Rect(10, 0, 13, 20), Direction.ALONG, (band, Part(Rect(10, 15, 13, 20)))
    )  # fmt: skip
    parts = (Part(Rect(-2, 0, 0, 20)), panel, strip, Part(Rect(13, 0, 14, 20)))
    return Part(Rect(-2, 0, 14, 20), Direction.ACROSS, parts)


def test_tears_follow_the_order_of_work() -> None:
    found = tears(tree())
    assert [(tear.number, tear.direction.value, tear.at) for tear in found] == [
        (1, "across", 0), (2, "across", 10), (3, "across", 13), (4, "along", 15),
    ]  # fmt: skip
    assert [tear.frees for tear in found] == [(), ("A-1",), (), ("B-1",)]
    assert found[1].in_hand == Rect(0, 0, 14, 20)
    assert found[1].falls == Rect(0, 0, 10, 20)
    assert found[1].stays == Rect(10, 0, 14, 20)
    assert [tear.distance for tear in found] == [2, 10, 3, 15]


def test_leaves_cover_the_tree_once() -> None:
    whole = tree()
    parts = leaves(whole)
    assert sum(part.rect.area for part in parts) == whole.rect.area
    assert [part.placed.id for part in parts if part.placed] == ["A-1", "B-1"]


def test_proof_is_claimed_only_as_far_as_the_bound_goes() -> None:
    cloth = Cloth("main", "linen", width=140 * CM, step=10 * CM)
    assert prove(cloth, 332 * CM, 332 * CM) is Proof.LENGTH
    assert prove(cloth, 332 * CM, 331 * CM) is Proof.STEP
    assert prove(cloth, 332 * CM, 330 * CM) is Proof.OPEN
