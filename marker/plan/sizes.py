"""The measures by which a shaped piece is known: its cut size, and its edges by name."""

from __future__ import annotations

from collections.abc import Iterator

from marker.geometry import Outline
from marker.geometry.outline import Edge
from marker.piece import Piece
from marker.plan.runs import reading
from marker.units import System

SAME = 16
"""Edges whose lengths differ by no more than 0.1 mm are told as one."""
STRAIGHT = 2
"""Two places this near in units count as level."""


def cut_size(piece: Piece) -> tuple[int, int]:
    """Length and breadth as they are told: of the box, or of a strip with slanting ends.

    A strip's length is that of its long edges, both the same, not of the box round it.
    """
    if piece.outline is not None and len(piece.outline.segments) == 4:
        long = [edge.length for edge in piece.outline.edges if _runs_along(edge)]
        if len(long) == 2 and abs(long[0] - long[1]) <= SAME:
            return round(long[0]), piece.breadth
    return piece.length, piece.breadth


def _runs_along(edge: Edge) -> bool:
    (_, first), (_, last) = edge.at(0)[0], edge.at(edge.length)[0]
    return len(edge.segments) == 1 and abs(first - last) <= STRAIGHT


def edge_sizes(piece: Piece, units: System) -> str:
    """The lengths of a piece's named edges: "waist 14.0, hem 42.0, 2 × seam 82.0 cm".

    They are measured along the cut edge, curved ones too, and rounded up.
    """
    if piece.outline is None:
        return ""
    told = [
        f"{f'{number} × ' if number > 1 else ''}{name} {reading(size, units)}"
        for name, size, number in _alike(piece.outline)
    ]
    return f"{', '.join(told)} {units.value}" if told else ""


def _alike(outline: Outline) -> Iterator[tuple[str, int, int]]:
    """Named edges with their lengths, and how many are the same."""
    found: list[tuple[str, int, int]] = []
    for edge in outline.edges:
        if not edge.name:
            continue
        size = round(edge.length)
        for at, (name, other, number) in enumerate(found):
            if name == edge.name and abs(size - other) <= SAME:
                found[at] = name, max(size, other), number + 1
                break
        else:
            found.append((edge.name, size, 1))
    yield from found
