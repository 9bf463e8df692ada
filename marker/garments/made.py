"""What a part of a garment comes to: pieces, things to buy, and what the sheet tells of it."""

from __future__ import annotations

from dataclasses import dataclass

from marker.piece import Piece
from marker.record import Item, Notion


@dataclass(frozen=True)
class Made:
    """The pieces and notions of a part, figures to check by and sentences of advice."""

    pieces: tuple[Piece, ...] = ()
    notions: tuple[Notion, ...] = ()
    figures: tuple[Item, ...] = ()
    advice: tuple[str, ...] = ()

    def __add__(self, other: Made) -> Made:
        return Made(
            self.pieces + other.pieces,
            self.notions + other.notions,
            self.figures + other.figures,
            self.advice + other.advice,
        )
