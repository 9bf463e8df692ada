"""What the shop is asked for: lengths in whole cutting steps, cost and mass."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from marker.lay import Lay
from marker.record import Record
from marker.units import METRE, Rounding, System, format_bought, format_length, nearest


@dataclass(frozen=True)
class Line:
    """One line of the shopping list, in words; what isn't known is an empty string.

    `buy` is what to ask for, `need` the exact length that is used up, `step` how the cloth
    is sold. A notion has no step: it is bought to the length needed. Nothing is bought of a
    remnant in hand.
    """

    what: str
    buy: str
    need: str = ""
    step: str = ""
    cost: str = ""
    mass: str = ""


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


def shopping(record: Record) -> tuple[Line, ...]:
    """The shopping list: a line for each cloth, then one for each notion.

    Equal notions of several garments stand in one line, their lengths summed.
    """
    cloths = tuple(_cloth_line(lay, record.units) for lay in record.lays)
    notions: dict[str, int] = {}
    for garment in record.garments:
        for item in garment.notions:
            notions[item.name] = notions.get(item.name, 0) + item.length
    return cloths + tuple(
        Line(name, format_length(length, record.units, Rounding.UP))
        for name, length in notions.items()
    )


def _cloth_line(lay: Lay, system: System) -> Line:
    cloth, paid, mass = lay.cloth, cost(lay), grams(lay)
    if cloth.length:
        there = f"{format_length(cloth.length, system)} by {format_length(cloth.width, system)}"
        return Line(
            what=f"{cloth.name}, {there} in hand",
            buy="nothing",
            need=format_length(lay.need, system, Rounding.UP),
        )
    return Line(
        what=f"{cloth.name}, {format_length(cloth.width, system)} wide",
        buy=format_bought(lay.buy, system),
        need=format_length(lay.need, system, Rounding.UP),
        step=format_length(cloth.step, system),
        cost=f"{paid:.2f} {cloth.price.currency}" if cloth.price and paid is not None else "",
        mass="" if mass is None else f"{mass} g",
    )
