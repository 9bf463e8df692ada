"""Random cloths with curved and straight pieces that ask every rule, for the tests of lays."""

from __future__ import annotations

from dataclasses import replace
from random import Random

from strategies import STRAIGHT

from marker.cloth import Cloth, Repeat
from marker.geometry import Outline, Rect
from marker.geometry.shapes import bias_strip, facing, gore, ring_sector
from marker.piece import AtSelvedge, Grain, Match, Piece, Side, Wise
from marker.units import CM, MM

SYMMETRIC = (True, False, True, True, False, False)
"""Which of the outlines below are their own mirror images."""


def outlined(seed: int) -> tuple[Cloth, tuple[Piece, ...]]:
    """A cloth, open or folded, and up to four pieces, each cut up to five times."""
    dice = Random(seed)
    corners = [(dice.randint(0, 100) * CM, dice.randint(0, 120) * CM) for _ in range(2)]
    flaws = tuple(
        Rect(x, y, x + dice.randint(1, 8) * CM, y + dice.randint(1, 8) * CM)
        for x, y in corners[: dice.choice([0, 0, 0, 1, 2])]
    )
    cloth = Cloth(
        "c", "cloth", dice.randint(90, 160) * CM + dice.choice([0, 0, 1]), 10 * CM,
        selvedge=dice.choice([0, CM, 12 * MM + 1]), keep_selvedges=dice.random() < 0.3,
        squaring=dice.choice([0, 2 * CM]), one_way=dice.random() < 0.25,
        tears=dice.random() < 0.8, folded=dice.random() < 0.35,
        margin=dice.choice([0, 0, 0, 5 * MM]), flaws=flaws,
        repeat=dice.choice([Repeat(), Repeat(), Repeat(9 * CM), Repeat(7 * CM, 8 * CM)]),
        length=dice.choice([0] * 6 + [300 * CM]),
    )  # fmt: skip
    return cloth, tuple(_piece(dice, chr(ord("A") + at)) for at in range(dice.randint(1, 4)))


def _piece(dice: Random, letter: str) -> Piece:
    if dice.random() < 0.4:
        piece = Piece(
            letter, "board", dice.randint(10, 90) * CM, dice.randint(5, 90) * CM,
            dice.randint(1, 3), "c", grain=dice.choice(STRAIGHT), torn=dice.random() < 0.85,
        )  # fmt: skip
    else:
        which, count = dice.randrange(len(SYMMETRIC)), dice.randint(1, 5)
        own = SYMMETRIC[which]
        grains = [Grain.ALONG, Grain.ALONG, Grain.ACROSS, Grain.EITHER, Grain.BIAS]
        piece = Piece.shaped(
            letter, "sail", _outline(dice, which), count, "c", grain=dice.choice(grains),
            mirrored=0 if own else dice.choice([0, count // 2]),
            folds=own and dice.random() < 0.8,
        )  # fmt: skip
    if dice.random() < 0.15:
        at = dice.randint(0, piece.length), dice.randint(0, piece.breadth)
        piece = replace(piece, matches=(Match("m", dice.choice(list(Wise)), *at),))
    if dice.random() < 0.12:
        wish = AtSelvedge(dice.choice(list(Side)), dice.choice([0, CM]))
        piece = replace(piece, selvedges=(wish,))
    return piece


def _outline(dice: Random, which: int) -> Outline:
    def some(low: int, high: int) -> int:
        return dice.randint(low * 1000, high * 1000) * CM // 1000

    if which == 0:
        return gore(some(3, 15), some(15, 45), some(20, 80))
    if which == 1:
        return bias_strip(some(20, 80), some(2, 8))
    if which == 2:
        return ring_sector(some(0, 30), some(40, 80), dice.uniform(0.3, 2.5))
    if which == 3:
        return facing(gore(some(5, 15), some(20, 45), some(40, 80)), "end", some(3, 8))
    if which == 4:
        return Outline.through(
            [(0, 0), (some(20, 40), some(0, 3)), (some(20, 40), some(10, 20)),
             (some(5, 15), some(20, 30))]
        )  # fmt: skip
    arm, foot = some(8, 10), some(10, 12)
    long, high = some(30, 40), some(25, 30)
    return Outline.through([(0, 0), (long, 0), (long, arm), (foot, arm), (foot, high), (0, high)])
