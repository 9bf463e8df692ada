"""Rectangles that stand in for curved pieces while it is settled which cloth gives what.

The question over several cloths is one of rectangles. A curved piece asks about as much cloth
as its area and what nests leave between pieces, over its own length; the lay that follows
knows its true outline. Mirrored pairs aren't split between cloths.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from marker.cloth import Cloth
from marker.geometry import Polygon
from marker.piece import Grain, Piece

NESTED = 120
"""Per cent of its area that a curved piece takes up in a lay, or near enough."""
SIGN = "outline "


def stand_ins(cloths: Mapping[str, Cloth], pieces: Sequence[Piece]) -> list[Piece]:
    """The same pieces, a rectangle in place of each outline."""
    return [
        piece if piece.outline is None else _stand_in(cloths, piece, at)
        for at, piece in enumerate(pieces)
    ]


def _stand_in(cloths: Mapping[str, Cloth], piece: Piece, at: int) -> Piece:
    """A rectangle as long as the piece lies on its first cloth, where it lies narrowest."""
    shape = _narrowest(cloths[piece.cloth], piece)
    along = shape.box.along
    across = min(shape.box.across, -(-NESTED * shape.area2 // (200 * along)))
    able = [key for key in (piece.cloth, *piece.also) if _fits(cloths, piece, key)]
    first, *others = able or [piece.cloth]
    return Piece(
        f"{SIGN}{at}", piece.name, along, across, piece.count, first, also=tuple(others),
        grain=Grain.EITHER if piece.grain is Grain.EITHER else Grain.ALONG,
        garment=piece.garment, wearer=piece.wearer, torn=False, mirrored=piece.mirrored,
    )  # fmt: skip


def _narrowest(cloth: Cloth, piece: Piece) -> Polygon:
    shapes = (piece.laid(turn, flip) for turn, flip in piece.ways(cloth.one_way))
    return min(shapes, key=lambda shape: shape.box.across)


def _fits(cloths: Mapping[str, Cloth], piece: Piece, key: str) -> bool:
    cloth = cloths[key]
    return _narrowest(cloth, piece).box.across <= cloth.usable.across


def restored(pieces: Sequence[Piece], settled: Sequence[Piece]) -> tuple[Piece, ...]:
    """Settled pieces with their outlines back; of copies turned over each cloth gives its part."""
    left = {at: (piece.count, piece.mirrored) for at, piece in enumerate(pieces)}
    found = []
    for piece in settled:
        if not piece.letter.startswith(SIGN):
            found.append(piece)
            continue
        at = int(piece.letter.removeprefix(SIGN))
        count, over = left[at]
        mine = (2 * over * piece.count + count) // (2 * count)
        left[at] = count - piece.count, over - mine
        found.append(
            replace(pieces[at], count=piece.count, mirrored=mine, cloth=piece.cloth, also=())
        )
    return tuple(found)
