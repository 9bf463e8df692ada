"""The shortest free lay by filling a board cell by cell: slow, plain, nothing shared."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

Kind = tuple[tuple[tuple[int, int], ...], int]
"""The (a, b) a rectangle may lie in, and how many there are."""


def fits(width: int, length: int, kinds: Sequence[Kind]) -> bool:
    """Whether all rectangles find room on a board `width` across and `length` along.

    The first free cell is either the corner of some rectangle or left empty for good.
    Whole numbers lose nothing: pushed towards a corner, every lay stands at sums of sizes.
    Good for boards of some eighty cells.
    """
    cells = width * length
    full = (1 << cells) - 1
    area = sum(shapes[0][0] * shapes[0][1] * count for shapes, count in kinds)

    @cache
    def goes(board: int, left: tuple[int, ...], waste: int) -> bool:
        if not any(left):
            return True
        if waste < 0 or board == full:
            return False
        cell = (~board & (board + 1)).bit_length() - 1
        x, y = divmod(cell, width)
        for at, (shapes, _) in enumerate(kinds):
            if left[at]:
                fewer = (*left[:at], left[at] - 1, *left[at + 1 :])
                for a, b in shapes:
                    if x + a <= length and y + b <= width:
                        mask = sum(((1 << b) - 1) << ((x + i) * width + y) for i in range(a))
                        if not board & mask and goes(board | mask, fewer, waste):
                            return True
        return goes(board | (1 << cell), left, waste - 1)

    return goes(0, tuple(count for _, count in kinds), cells - area)


def shortest(width: int, kinds: Sequence[Kind]) -> int:
    """The least length at which all rectangles fit; every one fits the width in some shape."""
    length = 1
    while not fits(width, length, kinds):
        length += 1
    return length
