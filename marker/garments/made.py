"""What a part of a garment comes to: pieces, things to buy, and how it is sewn."""

from __future__ import annotations

from dataclasses import dataclass

from marker.garments.work.job import Job, Sewn
from marker.piece import Piece
from marker.record import BiasJoins, Item, Notion


@dataclass(frozen=True)
class Made:
    """The pieces and notions of a part, figures to check by, sentences of advice, and the work.

    `work` are its jobs, to be put in order with those of the other parts; `sewn` says what the
    edges of its pieces meet. `bias_joins` are those of a facing out of one rectangle; a garment
    has one such facing at most.
    """

    pieces: tuple[Piece, ...] = ()
    notions: tuple[Notion, ...] = ()
    figures: tuple[Item, ...] = ()
    advice: tuple[str, ...] = ()
    work: tuple[Job, ...] = ()
    sewn: tuple[Sewn, ...] = ()
    bias_joins: BiasJoins | None = None

    def __add__(self, other: Made) -> Made:
        return Made(
            self.pieces + other.pieces,
            self.notions + other.notions,
            self.figures + other.figures,
            self.advice + other.advice,
            self.work + other.work,
            self.sewn + other.sewn,
            self.bias_joins or other.bias_joins,
        )
