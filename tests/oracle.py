"""A slow oracle: tries every cut tree of a tiny case from the whole cloth down.

It shares nothing with the solver: no blocks, no dominance, no bounds. A set of pieces comes
out of a rectangle if one tear parts it so that both halves of some split of the set do.
"""

from __future__ import annotations

from functools import cache

Size = tuple[int, int]
"""Along the bolt, across it."""


def shortest_torn(pieces: tuple[tuple[Size, ...], ...], width: int) -> int:
    """The least length of a strip `width` across that tears into all pieces.

    Each piece is given as the sizes in which it may lie; small whole numbers only.
    """

    @cache
    def comes_out(chosen: frozenset[int], along: int, across: int) -> bool:
        if len(chosen) == 1:
            (only,) = chosen
            return any(a <= along and b <= across for a, b in pieces[only])
        if sum(a * b for a, b in (pieces[index][0] for index in chosen)) > along * across:
            return False
        first, *rest = sorted(chosen)
        for mask in range(2 ** len(rest) - 1):
            low = frozenset([first, *(p for i, p in enumerate(rest) if mask >> i & 1)])
            high = chosen - low
            if any(
                comes_out(low, at, across) and comes_out(high, along - at, across)
                for at in range(1, along)
            ) or any(
                comes_out(low, along, at) and comes_out(high, along, across - at)
                for at in range(1, across)
            ):
                return True
        return False

    everything = frozenset(range(len(pieces)))
    length = 1
    while not comes_out(everything, length, width):
        length += 1
    return length
