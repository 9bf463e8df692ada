"""The cloth that every placed copy covers, worked out by the referee for itself."""

from __future__ import annotations

from dataclasses import dataclass

from marker.geometry import Rect
from marker.lay import Lay
from marker.piece import Piece
from marker.referee.words import figure

QUARTERS = (0, 90, 180, 270)
_WAY = {0: (1, 0), 90: (0, 1), 180: (-1, 0), 270: (0, -1)}
"""Which way a piece's length runs on the cloth (along, across) by its turn."""


@dataclass(frozen=True, slots=True)
class Laid:
    """One copy of a known piece on the cloth, lying square to it."""

    id: str
    piece: Piece
    turn: int
    rect: Rect


def by_letter(lay: Lay) -> dict[str, Piece]:
    """The pieces by letter; where a letter is given twice, the first holds."""
    known: dict[str, Piece] = {}
    for piece in lay.pieces:
        known.setdefault(piece.letter, piece)
    return known


def copy_id(letter: str, copy: int) -> str:
    """Name of a copy on plan and drawing: "A-1"."""
    return f"{letter}-{figure(copy)}"


def laid(lay: Lay) -> tuple[Laid, ...]:
    """Every placement whose size can be known; one of no known piece or turn has none."""
    known = by_letter(lay)
    found = []
    for spot in lay.placements:
        piece = known.get(spot.letter)
        if piece is None or spot.turn not in QUARTERS:
            continue
        # A piece's length lies along the bolt at 0 and 180 degrees, else its breadth does.
        sides = [piece.length, piece.breadth]
        along, across = sides if spot.turn % 180 == 0 else reversed(sides)
        rect = Rect(spot.x, spot.y, spot.x + along, spot.y + across)
        found.append(Laid(copy_id(spot.letter, spot.copy), piece, spot.turn, rect))
    return tuple(found)


def carry(spot: Laid, u: int, v: int) -> tuple[int, int]:
    """Carry a point of a piece's own frame to the cloth.

    The frame is turned about its origin, and then shifted so that the turned piece covers
    the copy's rectangle.
    """
    cos, sin = _WAY[spot.turn]
    length, breadth = spot.piece.length, spot.piece.breadth
    low_x = min(0, cos * length) + min(0, -sin * breadth)
    low_y = min(0, sin * length) + min(0, cos * breadth)
    x, y = cos * u - sin * v, sin * u + cos * v
    return spot.rect.x0 + x - low_x, spot.rect.y0 + y - low_y
