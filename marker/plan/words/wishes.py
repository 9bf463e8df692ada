"""The names of a piece's edges as it lies: those that were to lie at a selvedge say so."""

from __future__ import annotations

from collections.abc import Iterator

from marker.cloth import Cloth
from marker.lay import Placement
from marker.piece import AtSelvedge, Edges, Piece, Side

BESIDE = {0: Side.LOW, 90: Side.START, 180: Side.HIGH, 270: Side.END}
"""Which edge of a piece lies nearest the near selvedge at each turn."""
ACROSS = {Side.LOW: Side.HIGH, Side.HIGH: Side.LOW, Side.START: Side.END, Side.END: Side.START}


def edge_names(cloth: Cloth, piece: Piece, spot: Placement) -> Edges:
    """The edges with "on selvedge", or "by selvedge", behind those whose wish is met there."""
    names = {
        Side.START: piece.edges.start, Side.END: piece.edges.end,
        Side.LOW: piece.edges.low, Side.HIGH: piece.edges.high,
    }  # fmt: skip
    for side, word in _met(cloth, piece, spot):
        names[side] = f"{names[side]} {word}".strip()
    return Edges(names[Side.START], names[Side.END], names[Side.LOW], names[Side.HIGH])


def _met(cloth: Cloth, piece: Piece, spot: Placement) -> Iterator[tuple[Side, str]]:
    if piece.outline is not None:
        return  # its edges are those of the outline, wherever they run
    rect, usable = spot.rect(piece), cloth.usable
    near = BESIDE[spot.turn]
    away = {near: rect.y0 - usable.y0, ACROSS[near]: usable.y1 - rect.y1}
    firm = cloth.keep_selvedges or not cloth.selvedge
    told: set[Side] = set()
    for wish in piece.selvedges:
        for side in _sides(wish):
            if side in away and away[side] <= wish.within and side not in told:
                told.add(side)
                yield side, "on selvedge" if firm and away[side] == 0 else "by selvedge"


def _sides(wish: AtSelvedge) -> tuple[Side, ...]:
    return (Side.LOW, Side.HIGH) if wish.edge is Side.EITHER_SIDE else (wish.edge,)


def wish_words(piece: Piece) -> str:
    """What a piece asks of the selvedges, for the piece list: "hem at a selvedge"."""
    names = {
        Side.START: piece.edges.start, Side.END: piece.edges.end, Side.LOW: piece.edges.low,
        Side.HIGH: piece.edges.high, Side.EITHER_SIDE: "one side",
    }  # fmt: skip
    told = [names[wish.edge] or f"{wish.edge} edge" for wish in piece.selvedges]
    return f"{' and '.join(dict.fromkeys(told))} at a selvedge" if told else ""
