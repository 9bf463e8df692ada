"""Which cloth gives curved pieces: rectangles stand in for them, and outlines come back."""

from __future__ import annotations

from dataclasses import replace

import pytest
import shaped_lays
from strategies import STRAIGHT

from marker.cloth import Cloth
from marker.piece import Grain, Piece, Pieced
from marker.solver import settle, solve
from marker.solver.stand_in import restored, stand_ins
from marker.units import CM, METRE


def two(length: int = 0, width: int = 140 * CM) -> dict[str, Cloth]:
    wool = shaped_lays.cloth()
    return {"wool": wool, "linen": replace(wool, key="linen", width=width, length=length)}


def test_a_stand_in_asks_a_little_more_than_the_area_of_its_piece() -> None:
    for piece in (shaped_lays.gores(), shaped_lays.yoke(), shaped_lays.strips()):
        (stand,) = stand_ins(two(), [piece])
        assert stand.outline is None
        assert stand.grain in STRAIGHT
        true = piece.area2 / 2
        assert true <= stand.length * stand.breadth <= 1.21 * true


def test_what_is_straight_stands_for_itself() -> None:
    band = shaped_lays.band()
    assert stand_ins(two(), [band]) == [band]
    assert restored([band], [band]) == (band,)


def test_fixed_pieces_come_back_as_they_were() -> None:
    strip = Piece("D", "binding", 90 * CM, 6 * CM, 1, "wool", grain=Grain.EITHER,
                  pieced=Pieced("binding", 90 * CM, CM, 20 * CM, 4))  # fmt: skip
    gores = shaped_lays.gores(4)
    settled, told = settle(two(), [gores, shaped_lays.yoke(), strip], iterations=1)
    assert settled[:2] == (gores, shaped_lays.yoke())
    assert sum(piece.count for piece in settled[2:]) >= 1
    assert told


def test_copies_go_to_a_remnant_in_hand() -> None:
    """A remnant costs nothing, so it gives as many yokes as it holds."""
    yokes = replace(shaped_lays.yoke(), count=6, mirrored=3, also=("linen",))
    cloths = two(length=48 * CM)
    settled, _ = settle(cloths, [yokes, shaped_lays.gores(2)], iterations=2)
    given = [piece for piece in settled if piece.name == "yoke"]
    assert sum(piece.count for piece in given) == 6
    assert sum(piece.mirrored for piece in given) == 3
    assert any(piece.cloth == "linen" for piece in given)
    assert all(piece.outline == yokes.outline and not piece.also for piece in given)
    for key, cloth in cloths.items():
        mine = [
            replace(piece, letter=chr(ord("A") + at))
            for at, piece in enumerate(settled)
            if piece.cloth == key
        ]
        assert solve(cloth, mine, iterations=2).length


def test_a_cloth_too_narrow_for_the_outline_is_not_asked() -> None:
    gores = shaped_lays.gores(4, also=("linen",))
    (stand,) = stand_ins(two(METRE, 43 * CM), [gores])
    assert stand.also == ()
    (stand,) = stand_ins(two(METRE, 44 * CM), [gores])
    assert stand.also == ("linen",)


@pytest.mark.parametrize(
    ("counts", "mirrored"),
    [((6,), [3]), ((4, 2), [2, 1]), ((1, 5), [1, 2]), ((3, 2, 1), [2, 1, 0])],
)
def test_turned_over_copies_are_shared_out_alike(
    counts: tuple[int, ...], mirrored: list[int]
) -> None:
    yokes = replace(shaped_lays.yoke(), count=6, mirrored=3)
    (stand,) = stand_ins(two(), [yokes])
    found = restored([yokes], [replace(stand, count=count, mirrored=0) for count in counts])
    assert [piece.mirrored for piece in found] == mirrored


@pytest.mark.parametrize(("count", "mirrored", "lot"), [(2, 1, 2), (6, 3, 2), (3, 1, 3)])
def test_mirrored_pairs_are_not_split_between_cloths(count: int, mirrored: int, lot: int) -> None:
    """Singly cut, one goes to a remnant 42 cm wide that holds no whole lot."""
    yokes = replace(shaped_lays.yoke(), count=count, mirrored=mirrored, also=("linen",))
    cloths = two(length=32 * CM, width=42 * CM)
    settled, _ = settle(cloths, [replace(yokes, mirrored=0)], iterations=2)
    assert ("linen", 1) in {(piece.cloth, piece.count) for piece in settled}
    settled, _ = settle(cloths, [yokes], iterations=2)
    assert all(piece.count % lot == 0 for piece in settled)
    assert all(piece.count == 2 * piece.mirrored for piece in settled if lot == 2)
