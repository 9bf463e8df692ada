"""What a part of a garment comes to: pieces, things to buy, and how it is sewn."""

from __future__ import annotations

from dataclasses import dataclass

from marker.garments.work.job import Job, Sewn
from marker.piece import Piece
from marker.record import Item, Notion


@dataclass(frozen=True)
class Made:
    """The pieces and notions of a part, figures to check by, sentences of advice, and the work.

    `work` are its jobs, to be put in order with those of the other parts; `sewn` says what the
    edges of its pieces meet.
    """

    pieces: tuple[Piece, ...] = ()
    notions: tuple[Notion, ...] = ()
    figures: tuple[Item, ...] = ()
    advice: tuple[str, ...] = ()
    work: tuple[Job, ...] = ()
    sewn: tuple[Sewn, ...] = ()

    def __add__(self, other: Made) -> Made:
        return Made(
            self.pieces + other.pieces,
            self.notions + other.notions,
            self.figures + other.figures,
            self.advice + other.advice,
            self.work + other.work,
            self.sewn + other.sewn,
        )
