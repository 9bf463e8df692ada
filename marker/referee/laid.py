"""The cloth that every placed copy covers, worked out by the referee for itself."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, lru_cache
from math import isqrt

from marker.errors import BadInput
from marker.geometry import Outline, Polygon, Rect
from marker.lay import Lay
from marker.piece import Piece
from marker.referee.words import figure

QUARTERS = (0, 90, 180, 270)
EIGHTHS = tuple(range(0, 360, 45))
_WAY = {0: (1, 0), 90: (0, 1), 180: (-1, 0), 270: (0, -1)}
"""Which way a piece's length runs on the cloth (along, across) by its turn."""

Point = tuple[int, int]


@dataclass(frozen=True)
class Laid:
    """One copy of a known piece on the cloth.

    `rect` is the cloth of a rectangle, or the box around a piece with an outline, whose
    cloth is `polygon`. The frame of the piece, on the bias first turned by 45 degrees, comes
    to the cloth by the whole numbers of `matrix` and then `shift`.
    """

    id: str
    piece: Piece
    turn: int
    flip: bool
    rect: Rect
    polygon: Polygon | None
    matrix: tuple[int, int, int, int]
    shift: Point

    @property
    def level(self) -> int:
        """The turn that it would have were it not turned over: that runs the turn backwards."""
        return -self.turn % 360 if self.flip else self.turn

    @cached_property
    def cover(self) -> Polygon:
        """Its cloth as a polygon, also where it is a rectangle."""
        return self.polygon or Polygon.of_rect(self.rect)


def by_letter(lay: Lay) -> dict[str, Piece]:
    """The pieces by letter; where a letter is given twice, the first holds."""
    known: dict[str, Piece] = {}
    for piece in lay.pieces:
        known.setdefault(piece.letter, piece)
    return known


def copy_id(letter: str, copy: int) -> str:
    """Name of a copy on plan and drawing: "A-1"."""
    return f"{letter}-{figure(copy)}"


def may_lie(piece: Piece, turn: int) -> bool:
    """Whether any copy of a piece can be laid at a turn at all, whatever its grain."""
    return turn in (QUARTERS if piece.outline is None else EIGHTHS)


def frame(piece: Piece, slanted: bool) -> Polygon | None:
    """The polygon of an outline in its own frame, or of the outline turned by 45 degrees.

    None where no polygon of whole units can be drawn round it.
    """
    return None if piece.outline is None else drawn_round(piece.outline, slanted)


@lru_cache(maxsize=256)
def drawn_round(outline: Outline, slanted: bool) -> Polygon | None:
    """The polygon round an outline, kept: lay, pieces and drawing are judged by the same ones."""
    try:
        return (outline.turned(45) if slanted else outline).flatten()
    except (BadInput, ValueError, OverflowError):
        return None


def laid(lay: Lay) -> tuple[Laid, ...]:
    """Every placement whose cloth can be known; one of no known piece or turn has none."""
    known = by_letter(lay)
    frames: dict[tuple[str, bool], Polygon | None] = {}
    ways: dict[tuple[str, int, bool], Laid | None] = {}
    found = []
    for spot in lay.placements:
        piece = known.get(spot.letter)
        if piece is None or not may_lie(piece, spot.turn):
            continue
        way = spot.letter, spot.turn, spot.flip
        if way not in ways:
            key = spot.letter, spot.turn % 90 != 0
            if key not in frames:
                frames[key] = frame(piece, key[1])
            ways[way] = _way(piece, spot.turn, spot.flip, frames[key])
        base = ways[way]
        if base is not None:
            found.append(_moved(base, copy_id(spot.letter, spot.copy), spot.x, spot.y))
    return tuple(found)


def _way(piece: Piece, turn: int, flip: bool, base: Polygon | None) -> Laid | None:
    """A copy laid so, its box against 0, 0.

    Turned over is v to -v before the turn. On the bias the frame has been turned by 45
    degrees before it is turned over, which runs that turn backwards: so it is turned by 90 more.
    """
    if base is None and piece.outline is not None:
        return None
    if turn % 90:
        cos, sin = _WAY[(turn + 45 if flip else turn - 45) % 360]
    else:
        cos, sin = _WAY[turn]
    over = -1 if flip else 1
    matrix = (cos, -sin * over, sin, cos * over)
    corners = base.points if base else ((0, 0), (piece.length, piece.breadth))
    points = [_through(matrix, *point) for point in corners]
    low_x, low_y = (min(point[axis] for point in points) for axis in (0, 1))
    points = [(x - low_x, y - low_y) for x, y in points]
    high_x, high_y = (max(point[axis] for point in points) for axis in (0, 1))
    polygon = Polygon.of(points) if base else None
    rect = Rect(0, 0, high_x, high_y)
    return Laid("", piece, turn, flip, rect, polygon, matrix, (-low_x, -low_y))


def _through(matrix: tuple[int, int, int, int], x: int, y: int) -> Point:
    a, b, c, d = matrix
    return a * x + b * y, c * x + d * y


def _moved(base: Laid, name: str, x: int, y: int) -> Laid:
    """The same laid anywhere, under its name."""
    rect = Rect(x, y, x + base.rect.x1, y + base.rect.y1)
    polygon = base.polygon.shifted(x, y) if base.polygon else None
    shift = base.shift[0] + x, base.shift[1] + y
    return Laid(name, base.piece, base.turn, base.flip, rect, polygon, base.matrix, shift)


def carry(spot: Laid, u: int, v: int) -> Point:
    """Carry a point of a piece's own frame to the cloth, on the bias to the nearest unit."""
    if spot.turn % 90:
        u, v = _halved_root(u - v), _halved_root(u + v)
    x, y = _through(spot.matrix, u, v)
    return x + spot.shift[0], y + spot.shift[1]


def _halved_root(value: int) -> int:
    """The nearest whole number to value / root 2, which is root (2 x value^2) / 2."""
    near = (isqrt(2 * value * value) + 1) // 2
    return near if value >= 0 else -near
