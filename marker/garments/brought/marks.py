"""What is marked on pieces that the user brings: stitching lines and the fold."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import pairwise

from marker.garments.curved.shape import chords
from marker.geometry import Outline
from marker.geometry.curves import Spot
from marker.piece import Mark, MarkKind, Piece
from marker.units import MM

SAG = MM // 2
"""Stitching lines that curve are marked by chords that leave them by no more than this."""
NOTCH = 5 * MM
"""How deep a fold's ends are marked where no seam allowance says it; common practice, no source."""


def stitching(
    finished: Outline, added: Mapping[str, int], seam: int, named: bool
) -> Iterator[Mark]:
    """The finished edges, wherever an allowance is added outside them; curves as chords.

    `added` are the allowances of edges by name, others have `seam`; lines bear their edges' names
    where these are `named`.
    """
    for edge in finished.edges:
        if added.get(edge.name, seam):
            name = edge.name if named and edge.name else "seam"
            for (u0, v0), (u1, v1) in pairwise(chords(edge, SAG)):
                yield Mark(MarkKind.SEAM, name, u0, v0, u1, v1)


def fold_line(name: str, ends: Sequence[Spot]) -> Mark:
    """The line on which a piece was unfolded, between its finished ends."""
    (u0, v0), (u1, v1) = ends
    return Mark(MarkKind.FOLD, name, round(u0), round(v0), round(u1), round(v1))


def notched(piece: Piece, name: str, *, across: bool, deep: int) -> Piece:
    """The piece with a notch at either end of the fold in its middle, along u or `across`."""
    middle = (piece.length if across else piece.breadth) // 2
    points = [(v, u) if across else (u, v) for u, v in piece.polygon.points]
    met = [
        a[0] if a[1] == b[1] else a[0] + round((b[0] - a[0]) * (middle - a[1]) / (b[1] - a[1]))
        for a, b in zip(points, points[1:] + points[:1], strict=True)
        if min(a[1], b[1]) <= middle <= max(a[1], b[1])
    ]
    deep = min(deep or NOTCH, (max(met) - min(met)) // 2)
    ends = ((min(met), min(met) + deep), (max(met) - deep, max(met)))
    marks = (
        Mark(MarkKind.NOTCH, name, *((middle, a, middle, b) if across else (a, middle, b, middle)))
        for a, b in ends
    )
    return replace(piece, marks=(*piece.marks, *marks))
