"""Cloth by the bolt: what a lay of it costs, and what leaves the shop weighs."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

from marker.lay import Lay
from marker.units import METRE, nearest


def cost(lay: Lay) -> Decimal | None:
    """Cost of the cloth bought, to the cent, in the currency of its price; None without one."""
    price = lay.cloth.price
    return price.cost(lay.buy) if price else None


def grams(lay: Lay) -> int | None:
    """Mass of the cloth bought, as it leaves the shop, to the gram: area x g/m2."""
    if lay.cloth.grams is None:
        return None
    square_metres = Fraction(lay.buy * lay.cloth.width, METRE * METRE)
    return nearest(square_metres * Fraction(lay.cloth.grams))
