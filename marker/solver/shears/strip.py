"""A problem as rows of sizes for the compiled searches, and the plain handling of lays."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from marker.solver.problem import Ints, Kind, Problem
from marker.solver.spots import Spot, reach

Spots = tuple[Spot, ...]


@dataclass(frozen=True)
class Sizes:
    """All shapes of all kinds in one table: a row is (a, b, kind), a kind's shapes together.

    `other` leads from a shape to the same piece turned, or to itself.
    """

    shapes: Ints
    other: Ints
    counts: Ints

    @classmethod
    def of(cls, problem: Problem) -> Sizes:
        """The shapes of a problem in the order of its kinds."""
        rows: list[tuple[int, int, int]] = []
        other: list[int] = []
        for index, kind in enumerate(problem.kinds):
            first, many = len(rows), len(kind.shapes)
            rows += [(a, b, index) for a, b in kind.shapes]
            other += [first + (at + 1) % many for at in range(many)]
        counts = [kind.count for kind in problem.kinds]
        table = np.array(rows, np.int64).reshape(-1, 3)
        return cls(table, np.array(other, np.int64), np.array(counts, np.int64))

    @property
    def order(self) -> Ints:
        """The first shape of every copy, kind after kind."""
        kinds = self.shapes[:, 2]
        return np.repeat(np.searchsorted(kinds, np.arange(len(self.counts))), self.counts)

    def spot(self, shape: int, x: int, y: int) -> Spot:
        """A copy in the given shape."""
        a, b, kind = (int(value) for value in self.shapes[shape])
        return Spot(kind, a, b, int(x), int(y))


def swapped(problem: Problem, length: int) -> Problem:
    """The same pieces with the axes changed about, to lie on a strip as wide as `length`.

    Shapes longer than that are left out; a kind may keep none.
    """
    kinds = (
        Kind(tuple((b, a) for a, b in kind.shapes if a <= length), kind.count)
        for kind in problem.kinds
    )
    return Problem(length, tuple(kinds))


def first_lay(problem: Problem) -> Spots:
    """A plain lay of all pieces: rows across, the longest pieces first, each in the first
    row that has room."""
    rows: list[list[int]] = []  # x, length, breadth used
    spots = []
    shapes = ((min(kind.shapes), index) for index, kind in enumerate(problem.kinds))
    for (a, b), index in sorted(shapes, key=lambda item: (-item[0][0], -item[0][1], item[1])):
        for _ in range(problem.kinds[index].count):
            row = next((row for row in rows if row[2] + b <= problem.width), None)
            if row is None:
                row = [rows[-1][0] + rows[-1][1] if rows else 0, a, 0]
                rows.append(row)
            spots.append(Spot(index, a, b, row[0], row[2]))
            row[2] += b
    return tuple(spots)


def pushed(spots: Iterable[Spot]) -> Spots:
    """The same lay with every piece pushed towards the squared end, then the near selvedge.

    Pieces keep their order along either axis, so the lay grows no longer and no wider, and
    ends at a sum of sizes on both.
    """
    lain: list[Spot] = []
    for spot in sorted(spots, key=lambda spot: (spot.x, spot.y)):
        beside = (o.x + o.a for o in lain if o.y < spot.y + spot.b and spot.y < o.y + o.b)
        lain.append(replace(spot, x=max(beside, default=0)))
    done: list[Spot] = []
    for spot in sorted(lain, key=lambda spot: (spot.y, spot.x)):
        below = (o.y + o.b for o in done if o.x < spot.x + spot.a and spot.x < o.x + o.a)
        done.append(replace(spot, y=max(below, default=0)))
    return tuple(done)


def bands(spots: Sequence[Spot]) -> list[Spots]:
    """Part a lay wherever a straight line across meets no piece; each band starts at x = 0."""
    found: list[list[Spot]] = []
    end = 0
    for spot in sorted(spots, key=lambda spot: (spot.x, spot.y)):
        if not found or spot.x >= end:
            found.append([])
        found[-1].append(spot)
        end = max(end, spot.x + spot.a)
    return [shifted(band, -min(spot.x for spot in band)) for band in found]


def rows_of(problem: Problem, spots: Sequence[Spot]) -> list[list[tuple[int, int]]]:
    """The (kind, shape) of the pieces side by side in every row across a lay."""
    return [
        [
            (spot.kind, problem.kinds[spot.kind].shapes.index((spot.a, spot.b)))
            for spot in spots
            if spot.x <= x < spot.x + spot.a
        ]
        for x in sorted({spot.x for spot in spots})
    ]


def joined(rows: Iterable[Sequence[Spot]]) -> Spots:
    """Bands one behind the other, as one lay."""
    lay: list[Spot] = []
    at = 0
    for band in rows:
        lay += shifted(band, at)
        at += reach(band)
    return tuple(lay)


def shifted(spots: Iterable[Spot], by: int) -> Spots:
    """The same pieces further along the bolt."""
    return tuple(replace(spot, x=spot.x + by) for spot in spots)


def renamed(spots: Iterable[Spot], names: Mapping[int, int]) -> Spots:
    """The same lay with its kinds under other numbers."""
    return tuple(replace(spot, kind=names[spot.kind]) for spot in spots)


def counted(problem: Problem, spots: Iterable[Spot]) -> bool:
    """Whether a lay holds every copy of every kind, each in a shape it may lie in."""
    lain = list(spots)
    numbers = Counter(spot.kind for spot in lain)
    return all((s.a, s.b) in problem.kinds[s.kind].shapes for s in lain) and all(
        numbers[index] == kind.count for index, kind in enumerate(problem.kinds)
    )
