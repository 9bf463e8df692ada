"""Lengths that no nest undercuts, all exact."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from marker.geometry import Polygon
from marker.geometry.segments import edges
from marker.solver.nest.kinds import NestKind

AREA = "the area of the pieces"
LONGEST = "the longest piece"
WIDEST = "the widest pieces, which all cross the middle of the cloth"


def least_length(kinds: Sequence[NestKind], width: int) -> tuple[int, str]:
    """The best of the bounds, and in words where it comes from."""
    area = -(-sum(kind.area2 for kind in kinds) // (2 * width))
    longest = max(min(shape.box.along for shape in _fitting(kind, width)) for kind in kinds)
    middle = sum(kind.count * _least_chord(kind, width) for kind in kinds)
    return max(
        (longest, LONGEST), (-(-middle.numerator // middle.denominator), WIDEST), (area, AREA),
        key=lambda bound: bound[0],
    )  # fmt: skip


def _fitting(kind: NestKind, width: int) -> Iterator[Polygon]:
    return (shape for shape in kind.shapes if shape.box.across <= width)


def _least_chord(kind: NestKind, width: int) -> Fraction:
    """The least cloth that a copy takes of the line along the middle, wherever it lies.

    Pieces lie apart, so what all take of one line lies end to end on it at best. An outline
    of breadth h lies with its height y on the line, h - width / 2 <= y <= width / 2.
    """
    return min(_chord(shape, width) for shape in _fitting(kind, width))


def _chord(shape: Polygon, width: int) -> Fraction:
    """The least chord of the heights that can come to lie on the middle.

    Between two corners' heights the chord's length runs straight, so its least value lies at
    a corner's height, from above or below, or at an end of the range.
    """
    low, high = shape.box.across - Fraction(width, 2), Fraction(width, 2)
    if low <= 0:
        return Fraction(0)
    heights = {low, high} | {Fraction(y) for _, y in shape.points if low < y < high}
    return min(
        _chord_at(shape, y, above)
        for y in heights
        for above in (True, False)
        if low < high or above
    )


def _chord_at(shape: Polygon, y: Fraction, above: bool) -> Fraction:
    """Length of an outline's cross-section just above, or just below, a height."""
    total = Fraction(0)
    for (ax, ay), (bx, by) in edges(shape.points):
        low, high = min(ay, by), max(ay, by)
        if (low <= y < high) if above else (low < y <= high):
            x = ax + Fraction(bx - ax) * (y - ay) / (by - ay)
            total += x if by > ay else -x
    return total
