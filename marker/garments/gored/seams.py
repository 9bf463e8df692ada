"""The seams of a gored skirt: how long each is when sewn, and which of them holds the opening."""

from __future__ import annotations

from collections.abc import Sequence

from marker.garments.gored.gores import PLACES, Waistline, Worn, opening_seam, seams
from marker.garments.gored.shapes import GoreShapes, Top
from marker.garments.opening import in_any_seam
from marker.garments.order import Order
from marker.record import Item

MIDDLES = {PLACES[at]: f"in the middle of the {at}" for at in ("front", "back")}
BESIDE = {
    "front": "beside the middle of the front",
    "side": "nearest to the side",
    "back": "beside the middle of the back",
}


def seam_figures(
    worn: Sequence[Worn], waistline: Waistline, names: Sequence[str]
) -> tuple[Item, ...]:
    """What every seam measures when sewn, from waist to hem; one figure where all are one length.

    Edges that meet may be cut to different lengths, since allowances meet the hem at different
    slants: the seam lines agree.
    """
    found = {}
    for place, (before, _), (after, _) in seams(worn):
        name = f"seam {_short(names[before])} to {_short(names[after])}, sewn"
        found[name] = round(waistline.at(place))
    if len(set(found.values())) == 1:
        return (Item("every seam, sewn", next(iter(found.values()))),)
    return tuple(Item(name, length) for name, length in found.items())


def _short(name: str) -> str:
    return name.replace(" gore", "")


def opening_advice(order: Order, worn: Sequence[Worn], gores: GoreShapes, top: Top) -> str:
    """Which seam holds the opening, and how far it goes down."""
    at = top.opening_at
    if gores.alike:
        return in_any_seam(order, gores.shapes[0].count, at, top.opening)
    place, sides = opening_seam(worn, at)
    down = f"{order.spell(top.opening)} down from the waist"
    if place in MIDDLES:
        where = "" if place == PLACES[at] else f", the nearest to the {at}"
        return f"The opening is in the seam {MIDDLES[place]}{where}, {down}."
    names = [gores.names[index] for index, _ in sides]
    where = "at the side" if place == PLACES[at] else BESIDE[at]
    return f"The opening is in one of the seams between {_both(*names)}, {where}, {down}."


def _both(one: str, other: str) -> str:
    """Two gores by their names: "gores 4 and 5", or "the side gore and the back gore"."""
    if one == other:
        return f"two {one}s"
    (kind, _, number), (also, _, next_number) = one.rpartition(" "), other.rpartition(" ")
    if kind == also and number.isdigit():
        return f"{kind}s {number} and {next_number}"
    return " and ".join(name if name[-1].isdigit() else f"the {name}" for name in (one, other))
