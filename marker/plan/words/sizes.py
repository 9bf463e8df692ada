"""The measures by which a shaped piece is known: its cut size, and its edges by name."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import asdict

from marker.geometry.outline import Edge
from marker.piece import Piece
from marker.plan.drawing.lettering import clean
from marker.plan.words.runs import reading
from marker.units import System, Units, beside

SAME = 16
"""Edges whose lengths differ by no more than 0.1 mm are told as one."""
STRAIGHT = 2
"""Two places this near in units count as level."""


def cut_size(piece: Piece) -> tuple[int, int]:
    """Length and breadth as they are told: of the box, or of a strip with slanting ends.

    A strip's length is that of its long edges, both the same, not of the box round it.
    """
    long = _long_edges(piece)
    return (round(max(long)), piece.breadth) if long else (piece.length, piece.breadth)


def is_strip(piece: Piece) -> bool:
    """Whether it has an outline of four straight edges, the two long ones equal and level."""
    return bool(_long_edges(piece))


def _long_edges(piece: Piece) -> list[float]:
    if piece.outline is None or len(piece.outline.segments) != 4:
        return []
    long = [edge.length for edge in piece.outline.edges if _runs_along(edge)]
    return long if len(long) == 2 and abs(long[0] - long[1]) <= SAME else []


def _runs_along(edge: Edge) -> bool:
    (_, first), (_, last) = edge.at(0)[0], edge.at(edge.length)[0]
    return len(edge.segments) == 1 and abs(first - last) <= STRAIGHT


def edge_name(piece: Piece, edge: Edge) -> str:
    """What an edge of an outline is called; empty where it has no name of its own.

    "start", "end", "low" and "high" only say where an edge runs; the piece names those.
    """
    given = asdict(piece.edges)
    return clean(given.get(edge.name, edge.name))


def quoted(name: str) -> str:
    """An edge's name set apart in a sentence, where "towards the back" would read on."""
    return f"“{name}”"


def spoken(name: str) -> str:
    """An edge's name in a sentence that tells of the edge alone: quoted if it is a phrase."""
    return quoted(name) if " " in name else name


def listed(words: Sequence[str]) -> str:
    """Words in a row: "seam, hem and fold"."""
    head = ", ".join(words[:-1])
    return f"{head} and {words[-1]}" if head else "".join(words)


def named_edges(piece: Piece) -> Iterator[tuple[str, Edge]]:
    """The edges of a piece's outline that have names."""
    for edge in piece.outline.edges if piece.outline else ():
        if name := edge_name(piece, edge):
            yield name, edge


def edge_sizes(piece: Piece, units: Units) -> str:
    """The lengths of a piece's named edges: "waist 14.0, hem 42.0, 2 × seam 82.0 cm".

    They are measured along the cut edge, curved ones too, and rounded up.
    """
    if not (alike := list(_alike(piece))):
        return ""

    def told(system: System) -> str:
        sizes = (
            f"{f'{number} × ' if number > 1 else ''}{name} {reading(size, system)}"
            for name, size, number in alike
        )
        return f"{', '.join(sizes)} {system.value}"

    return beside(units, told)


def _alike(piece: Piece) -> Iterator[tuple[str, int, int]]:
    """Named edges with their lengths, and how many are the same."""
    found: list[tuple[str, int, int]] = []
    for name, edge in named_edges(piece):
        size = round(edge.length)
        for at, (known, other, number) in enumerate(found):
            if name == known and abs(size - other) <= SAME:
                found[at] = name, max(size, other), number + 1
                break
        else:
            found.append((name, size, 1))
    yield from found
