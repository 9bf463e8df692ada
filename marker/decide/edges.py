"""The edges of pieces as recipes call them: which are seams, and how long each is."""

from __future__ import annotations

from marker.piece import Piece

JOINED = ("seam", "join", "opening")
TOWARDS = ("to panel ", "towards ")
"""How recipes call edges that are sewn to another piece of the same kind."""
SIDES = ("start", "end", "low", "high")


def is_seam(name: str) -> bool:
    """Whether an edge of this name is sewn to another piece of its kind, or to itself."""
    return name in JOINED or name.startswith(TOWARDS)


def edge_length(piece: Piece, side: str) -> int:
    """How long one edge of the cut piece is, in units."""
    if piece.outline is not None:
        return round(piece.outline.edge(side).length)
    return piece.breadth if side in ("start", "end") else piece.length
