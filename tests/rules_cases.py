"""Small random cloths and pieces that ask every rule, in combination, for the tests of lays."""

from __future__ import annotations

from random import Random

from strategies import STRAIGHT

from marker.cloth import Cloth, Repeat
from marker.geometry import Rect
from marker.piece import AtSelvedge, Match, Piece, Side, Wise

MOST = 11
"""A length up to which the oracle looks, in units."""


def asked(seed: int) -> tuple[Cloth, list[Piece]]:
    """A cloth a few units wide and up to four pieces, with any rules at all in combination."""
    dice = Random(seed)
    width, count = dice.randint(3, 6), dice.randint(2, 4)
    repeat = Repeat(dice.choice([0, 2, 3]), dice.choice([0, 0, 2, 3]))
    flaws: tuple[Rect, ...] = ()
    if dice.random() < 0.4:
        x, y = dice.randint(-1, 4), dice.randint(-1, width - 1)
        flaws = (Rect(x, y, x + dice.randint(1, 2), y + dice.randint(1, 2)),)
    cloth = Cloth(
        "c", "cloth", width=width, step=1, repeat=repeat, flaws=flaws,
        one_way=dice.random() < 0.3, length=dice.choice([0, 0, 0, dice.randint(3, 9)]),
    )  # fmt: skip
    pieces = [_piece(dice, chr(ord("A") + at)) for at in range(count)]
    while sum(piece.count for piece in pieces) > 4:
        pieces.pop()
    return cloth, pieces


def _piece(dice: Random, letter: str) -> Piece:
    length, breadth = dice.randint(1, 4), dice.randint(1, 3)
    matches: tuple[Match, ...] = ()
    if dice.random() < 0.6:
        matches += (Match("hem", Wise.LENGTHWISE, dice.choice([0, length, 1]), 0),)
    if dice.random() < 0.4:
        matches += (Match("side", Wise.CROSSWISE, 0, dice.choice([0, breadth, 1])),)
    wishes: tuple[AtSelvedge, ...] = ()
    if dice.random() < 0.25:
        wishes += (AtSelvedge(dice.choice(list(Side)), dice.choice([0, 0, 1])),)
    if dice.random() < 0.1:
        wishes += (AtSelvedge(Side.HIGH), AtSelvedge(Side.LOW))
    return Piece(
        letter, "piece", length, breadth, dice.choice([1, 1, 1, 2]), "c",
        grain=dice.choice(STRAIGHT), up=dice.choice(["length", "breadth"]),
        matches=matches, selvedges=wishes,
    )  # fmt: skip
