"""What to mind about a skirt as a whole, in whole sentences for the sheet."""

from __future__ import annotations

from collections.abc import Sequence

from marker import units
from marker.garments.lengths import Levels
from marker.garments.opening import Opening, short_opening
from marker.garments.order import Order, Usual
from marker.garments.panel import Tube
from marker.piece import Piece
from marker.units import System

HEAVY = Usual("3.6 m", "4 yd")
SCANT = Usual("1.8 m", "2 yd")
"""Advice on the round hem is common practice, no source."""


def skirt_advice(
    order: Order, opening: Opening, levels: Levels, tube: Tube, gauged: bool
) -> list[str]:
    """What is unusual about its round hem and its opening, and where its top goes deeper."""
    said = []
    around, system = tube.round, order.system
    limits = {usual: units.format_bought(usual.of(system), order.units) for usual in (HEAVY, SCANT)}
    if around > HEAVY.of(system):
        said.append(
            f"The hem goes {order.spell(around)} round; over {limits[HEAVY]} a skirt grows heavy."
        )
    if around < SCANT.of(system):
        said.append(
            f"The hem goes {order.spell(around)} round; under {limits[SCANT]} a skirt hangs "
            "like a petticoat."
        )
    said += short_opening(order, opening)
    return said if gauged else [*said, *uneven_advice(order, levels)]


def uneven_advice(order: Order, levels: Levels) -> list[str]:
    """How deep a top that isn't turned down is taken into the band, where that differs."""
    if levels.level:
        return []
    deeper = ", ".join(f"{place} {order.spell(levels.depth(place))}" for place in levels.finished)
    return [f"Take the top into the band by: {deeper}."]


def rounding_advice(order: Order, pieces: Sequence[Piece]) -> list[str]:
    """Say which cut sizes print rounded; the record holds them exactly.

    Numbered panels are alike in size, the lengths of free strips are not known yet, and the
    box round an outline is not measured.
    """
    grid = "1/8 in" if order.system is System.IN else "the millimetre"
    told = {
        f"{piece.name.rstrip(' 0123456789')} {units.format_exact(size)}": None
        for piece in pieces
        if piece.outline is None
        for size in ((piece.breadth,) if piece.pieced else (piece.length, piece.breadth))
        if units.is_rounded(size, order.system)
    }
    if not told:
        return []
    return [f"Sizes that print rounded to {grid}, exactly: {', '.join(told)}."]
