"""The shortest torn lay by trying every cut tree: slow, plain, nothing shared with the solver."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cache

Size = tuple[int, int]


def shortest(width: int, pieces: Sequence[tuple[Size, ...]]) -> int | None:
    """Least length from which all pieces can be torn, each given by the (a, b) it may lie in.

    Every set of pieces is parted in two in every way, one behind the other or side by side;
    no size is dropped for being beaten by another. Good for about six pieces. None where
    some piece is too wide.
    """

    @cache
    def sizes(chosen: int) -> frozenset[Size]:
        """All (a, b) of rectangles that hold exactly the chosen pieces, within the width."""
        if chosen & (chosen - 1) == 0:
            return frozenset(size for size in pieces[chosen.bit_length() - 1] if size[1] <= width)
        made = (
            size
            for part in _parts(chosen)
            for one in sizes(part)
            for two in sizes(chosen ^ part)
            for size in _joins(one, two)
        )
        return frozenset(size for size in made if size[1] <= width)

    return min((a for a, _ in sizes((1 << len(pieces)) - 1)), default=None)


def _parts(chosen: int) -> Iterator[int]:
    """Every way to pick some, not all, of the chosen pieces."""
    part = (chosen - 1) & chosen
    while part:
        yield part
        part = (part - 1) & chosen


def _joins(one: Size, two: Size) -> tuple[Size, Size]:
    """One behind the other, and side by side."""
    return (one[0] + two[0], max(one[1], two[1])), (max(one[0], two[0]), one[1] + two[1])
