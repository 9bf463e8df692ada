"""Cases of flounces on the skirt of the tests, and what is read of their drafts."""

from __future__ import annotations

from example_cases import draft_of, fault

from marker.garments.order import Draft
from marker.piece import Piece


def flounce(keys: str) -> str:
    return f"[garment.skirt.flounce]\n{keys}\n"


TOP = 'seam = "1/2 in"\nturn_down = "2 1/2 in"'
YARDS = 'width = "45 in"'
"""Three breadths of it go 132 in round."""


def flounced(keys: str, **parts: str) -> Draft:
    """The skirt of the tests with one flounce at its edge, which takes the place of a hem."""
    return draft_of("in", more=flounce(keys), **{"garment": TOP, "cloth": YARDS, **parts})


def refused(keys: str, **parts: str) -> str:
    return fault(more=flounce(keys), **{"garment": TOP, "cloth": YARDS, **parts})


def figures(draft: Draft) -> dict[str, int]:
    return {item.name: item.length for item in draft.garment.figures}


def lines(piece: Piece, name: str) -> list[int]:
    return [mark.v0 for mark in piece.marks if mark.name == name]
