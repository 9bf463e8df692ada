"""Whether a garment goes on over the wearer's hips, and round them, where they are measured."""

from __future__ import annotations

from collections.abc import Iterator

from marker.garments.order import Order, Usual
from marker.units import ceil_to

DEPTH = Usual("20 cm", "8 in")
"""How far below the waist the hips are greatest (common practice, no source)."""


def hips(order: Order) -> int:
    """The wearer's girth there; nought where nobody measured it."""
    return order.wearer.measures.get("hip", 0)


def tight_opening(order: Order, rim: int, opening: int) -> Iterator[str]:
    """Say where the top can't pass over the hips, however far its opening is spread.

    `rim` is the band or tape from end to end; both edges of the opening laid out in one line
    add twice its length, which is more than any top can go round (plain geometry).
    """
    most, hip = rim + 2 * opening, hips(order)
    if most < hip:
        least = ceil_to(-(-(hip - rim) // 2), order.grid)
        yield (
            f"With an opening of {order.spell(opening)} the top goes {order.spell(most)} round at "
            f"the very most, less than hips of {order.spell(hip)}: it can't be put on over them; "
            f"give an opening of more than {order.spell(least)}."
        )


def scant_at_hips(order: Order, around: int, remedy: str) -> Iterator[str]:
    """Say where the garment goes less far round than the hips, that far below the waist."""
    hip = hips(order)
    if around < hip:
        yield (
            f"The skirt measures {order.spell(around)} round at the hips, less than the wearer's "
            f"{order.spell(hip)}; {remedy}."
        )
