"""Rows of gauging stitches as lines on a panel's card, where a tape finds them."""

from __future__ import annotations

from dataclasses import replace

from marker.piece import Mark, MarkKind, Piece
from marker.record import Garment

ROW = "row of stitches"
"""What the lines are named."""
TURNED = "fold of the turn-down"
"""What recipes call the fold that the rows are measured from."""
TOP = "waist"
LEVELLED = ("(front)", "(side)", "(back)")
"""How names of lines end that lie deeper at one place of the waist than at another."""


def with_rows(piece: Piece, garment: Garment | None) -> Piece:
    """A straight panel with a line for each row; the piece as it is where it has none.

    Rows are measured from the fold, without a turn-down from the cut edge, and so told only where
    that lies at one depth all along, and not where the top is levelled at the waist.
    """
    pleating = garment.pleating if garment else None
    folds = {mark.u0 for mark in piece.marks if mark.name.startswith(TURNED)}
    drawn = piece.up == "length" and piece.edges.start == TOP and piece.name == "panel"
    levelled = any(mark.name.endswith(LEVELLED) for mark in piece.marks)
    if pleating is None or not pleating.rows or not drawn or levelled:
        return piece
    top = min(folds, default=0) + pleating.first
    places = [top + number * pleating.spacing for number in range(pleating.rows)]
    lines = [
        Mark(MarkKind.SEAM, ROW, at, 0, at, piece.breadth)
        for at in places
        if 0 < at < piece.length // 2
    ]
    return replace(piece, marks=(*piece.marks, *lines))
