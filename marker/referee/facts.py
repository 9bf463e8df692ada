"""Simple facts that no lay can undercut, whatever a search says."""

from __future__ import annotations

from collections.abc import Iterator
from math import floor

from marker.lay import Lay
from marker.piece import Grain, Piece, Wise
from marker.referee.words import figure, plain, spell


def short_faults(lay: Lay, usable: int) -> Iterator[str]:
    """Ways in which a lay is said to be shorter than its pieces can be; `usable` is across."""
    area2 = sum(_area2(piece) * piece.count for piece in lay.pieces)
    if area2 > 2 * lay.length * usable:
        yield f"{spell(lay.length)} of this cloth has less area than its pieces."
    row = 0
    for piece in lay.pieces:
        sizes = _sizes(piece)
        least = min(along for along, _ in sizes)
        if least > lay.length:
            yield (
                f"Piece {plain(piece.letter)} takes {spell(least)} along the cloth, "
                f"more than the {spell(lay.length)} of the lay."
            )
        # Outlines may reach into one another's boxes, so only rectangles must stand in a row.
        if piece.outline is None and all(2 * across > usable for _, across in sizes):
            row += least * piece.count
            yield from _phase_faults(lay, piece, least)
    if row > lay.length:
        yield (
            f"Pieces broader than half the cloth take {spell(row)} one after another, "
            f"more than the {spell(lay.length)} of the lay."
        )


def _area2(piece: Piece) -> int:
    """Twice the area that a copy takes at least, square units; an outline's is rounded down."""
    if piece.outline is None:
        return 2 * piece.length * piece.breadth
    return floor(2 * piece.outline.area)


def _sizes(piece: Piece) -> tuple[tuple[int, int], ...]:
    """What a piece may take along the cloth and across it at least, by its grain alone."""
    along, across = (piece.length, piece.breadth), (piece.breadth, piece.length)
    if piece.grain == Grain.BIAS and piece.outline is not None:
        x0, y0, x1, y1 = piece.outline.turned(45).box
        along = floor(x1 - x0), floor(y1 - y0)
        across = along[::-1]
    return {
        Grain.ALONG: (along,),
        Grain.ACROSS: (across,),
        Grain.EITHER: (along, across),
        Grain.BIAS: (along, across),
    }[piece.grain]


def _phase_faults(lay: Lay, piece: Piece, least: int) -> Iterator[str]:
    """Copies that lie one after another and in one phase begin whole repeats apart.

    No two copies of a match lie half a turn apart, so what holds of the matched point holds
    of where they begin: n of them take n - 1 times their size rounded up to the repeat, and
    once their size.
    """
    repeat = lay.cloth.repeat.along
    matched = any(match.wise == Wise.LENGTHWISE for match in piece.matches)
    if repeat <= 0 or piece.grain == Grain.EITHER or not matched:
        return
    pitch = -(-least // repeat) * repeat
    need = (piece.count - 1) * pitch + least
    if need > lay.length:
        yield (
            f"{figure(piece.count)} copies of piece {plain(piece.letter)} in one place of the "
            f"{spell(repeat)} repeat take {spell(need)}, more than the "
            f"{spell(lay.length)} of the lay."
        )
