"""The lay as a problem in small whole numbers: kinds of rectangle on a strip of cloth.

Equal sizes are one kind, whichever pieces they come from. Each axis is divided by the
greatest common divisor of the piece sizes on it, and the width is floored to the widest
row of pieces it can hold: in a lay pushed to the near corner every edge stands at a sum of
piece sizes, so nothing is lost. `a` is a size along the bolt, `b` a size across it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import gcd

import numpy as np
from numpy.typing import NDArray

from marker.cloth import Cloth
from marker.errors import BadInput, CannotLay
from marker.piece import Grain, Piece
from marker.units import format_length

Ints = NDArray[np.int64]
Shape = tuple[int, int]


@dataclass(frozen=True)
class Kind:
    """A size of rectangle, to be cut `count` times; `shapes` are the (a, b) it may lie in."""

    shapes: tuple[Shape, ...]
    count: int

    @property
    def area(self) -> int:
        """Area of one copy."""
        return self.shapes[0][0] * self.shapes[0][1]


@dataclass(frozen=True)
class Problem:
    """Kinds to be torn from a strip `width` across, as short as can be. Scaled integers."""

    width: int
    kinds: tuple[Kind, ...]

    @cached_property
    def area(self) -> int:
        """Area of all copies of all kinds."""
        return sum(kind.area * kind.count for kind in self.kinds)

    @cached_property
    def pieces(self) -> int:
        """Number of rectangles to be cut."""
        return sum(kind.count for kind in self.kinds)

    @cached_property
    def narrowest(self) -> int:
        """Least size across of any rectangle in any turn it may lie in."""
        return min(b for kind in self.kinds for _, b in kind.shapes)

    def sums(self, axis: int, limit: int) -> Ints:
        """All lengths up to `limit` that pieces laid in a row fill; axis 0 along, 1 across."""
        return reachable(
            (tuple(shape[axis] for shape in kind.shapes), kind.count, limit) for kind in self.kinds
        )

    def sums_across(self) -> Ints:
        """All breadths up to the width that pieces side by side fill exactly."""
        return self.sums(1, self.width)


@dataclass(frozen=True)
class Scaled:
    """A problem with the way back to cloth: units of 1/160 mm per step on each axis."""

    problem: Problem
    along: int
    across: int


def reachable(kinds: Iterable[tuple[tuple[int, ...], int, int]]) -> Ints:
    """Subset sums, ascending, of kinds given as (sizes to choose from, count, limit)."""
    sums, limit = 1, 0
    for sizes, count, limit in kinds:
        mask = (1 << (limit + 1)) - 1
        for _ in range(count):
            wider = sums
            for size in set(sizes):
                wider |= sums << size
            wider &= mask
            if wider == sums:
                break
            sums = wider
    raw = np.frombuffer(sums.to_bytes(limit // 8 + 1, "little"), dtype=np.uint8)
    return np.flatnonzero(np.unpackbits(raw, bitorder="little")).astype(np.int64)


def shapes_of(piece: Piece, cloth: Cloth) -> dict[Shape, int]:
    """The (along, across) in which a piece fits the cloth, each with the turn that lays it so.

    Raises `CannotLay` with the sizes and a remedy where it fits in no allowed turn.
    """
    found: dict[Shape, int] = {}
    for turn in piece.turns(cloth.one_way):
        shape = (piece.length, piece.breadth) if turn == 0 else (piece.breadth, piece.length)
        if shape[1] <= cloth.usable.across:
            found.setdefault(shape, turn)
    if not found:
        raise CannotLay(_too_wide(piece, cloth), proved=True)
    return found


def _too_wide(piece: Piece, cloth: Cloth) -> str:
    system = cloth.system
    across = piece.breadth if piece.turns(cloth.one_way)[0] == 0 else piece.length
    fits_turned = min(piece.length, piece.breadth) <= cloth.usable.across
    remedy = "take a wider cloth, or join the piece from narrower ones"
    if fits_turned and piece.grain is not Grain.EITHER:
        remedy = "let it turn (grain either), take a wider cloth, or join it from narrower ones"
    return (
        f"piece {piece.letter} ({piece.name}, {format_length(piece.length, system)} by "
        f"{format_length(piece.breadth, system)}) needs {format_length(across, system)} across, "
        f"and cloth {cloth.key!r} has {format_length(cloth.usable.across, system)} of usable "
        f"width; {remedy}"
    )


def check(cloth: Cloth, pieces: Sequence[Piece]) -> None:
    """Raise `BadInput` where there is nothing to lay or two pieces share a letter."""
    if not pieces:
        raise BadInput(f"cloth {cloth.key!r}: there is no piece to lay; give at least one")
    for letter, times in Counter(piece.letter for piece in pieces).items():
        if times > 1:
            raise BadInput(f"two pieces are lettered {letter!r}; give each a letter of its own")


def read(cloth: Cloth, pieces: Sequence[Piece]) -> Scaled:
    """Set up the problem for these pieces on this cloth.

    Raises `BadInput` where there is nothing to lay or two pieces share a letter, and
    `CannotLay` where a piece is too wide.
    """
    check(cloth, pieces)
    counts: Counter[tuple[Shape, ...]] = Counter()
    for piece in pieces:
        counts[tuple(sorted(shapes_of(piece, cloth)))] += piece.count
    along = gcd(*(a for shapes in counts for a, _ in shapes))
    across = gcd(*(b for shapes in counts for _, b in shapes))
    kinds = [
        Kind(tuple((a // along, b // across) for a, b in shapes), count)
        for shapes, count in counts.items()
    ]
    kinds.sort(key=lambda kind: (-kind.area, kind.shapes))
    problem = Problem(cloth.usable.across // across, tuple(kinds))
    return Scaled(Problem(int(problem.sums_across()[-1]), problem.kinds), along, across)


def set_apart(problem: Problem) -> tuple[tuple[int, ...], Problem]:
    """Take out the kinds beside which nothing fits in any turn: each is a band of its own.

    No other piece can share the x-range of such a piece, so the lay splits at its edges and
    the rest closes up: the split loses nothing. Returns the indices of those kinds and the
    problem that is left, whose kinds keep their order.
    """
    alone: list[int] = []
    width = problem.width
    while True:
        left = [index for index in range(len(problem.kinds)) if index not in alone]
        if not left:
            return tuple(alone), Problem(width, ())
        rest = Problem(width, tuple(problem.kinds[index] for index in left))
        width = int(rest.sums_across()[-1])
        found = [
            index
            for index in left
            if all(b + rest.narrowest > width for _, b in problem.kinds[index].shapes)
        ]
        if not found:
            return tuple(alone), Problem(width, rest.kinds)
        alone += found
