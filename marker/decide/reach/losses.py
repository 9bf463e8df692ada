"""A loss: what a change takes of one measure of one garment."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class What(StrEnum):
    """What of a garment may become less."""

    ROUND = "round hem"
    LENGTH = "length"
    FACING = "facing"
    TURN_DOWN = "turn-down"


@dataclass(frozen=True)
class Loss:
    """So much is taken of what was asked for of a garment, by its table; units."""

    garment: str
    what: What
    taken: int
    whole: int


Losses = tuple[Loss, ...]


def loss(garment: str, what: What, asked: int, left: int) -> Losses:
    """What is lost where so much is left of what was asked; nothing where it is no less."""
    return (Loss(garment, what, asked - left, asked),) if left < asked else ()
