"""Rectangles with rounded lower corners: pockets, and aprons."""

from __future__ import annotations

from marker.garments.order import Order
from marker.geometry import Arc, Line, Outline


def rounded(
    order: Order, part: str, size: tuple[int, int], radius: int, both: bool = True
) -> Outline:
    """A rectangle, `size` long and broad, whose corners at the end are arcs of `radius`.

    Its edges are "start", "low", "end" and "high", the arcs being of the end; where not
    `both` of them are round, the one on the low side is. Raises `BadInput` naming `part`, the
    key of the radius, where the arcs don't go into it.
    """
    length, breadth = size
    most = min(length, breadth // 2 if both else breadth)
    if radius >= most:
        raise order.fault(
            f"{part} is {order.spell(radius)}, and there is room for less than "
            f"{order.spell(max(most, 0))}; give a smaller radius"
        )
    near, far = length - radius, breadth - radius
    ring: list[Line | Arc] = [
        Line((0, 0), (near, 0), "low"),
        Arc((near, 0), (length, radius), (near, radius), True, "end"),
    ]
    if both:
        ring += [
            Line((length, radius), (length, far), "end"),
            Arc((length, far), (near, breadth), (near, far), True, "end"),
            Line((near, breadth), (0, breadth), "high"),
        ]
    else:
        ring += [
            Line((length, radius), (length, breadth), "end"),
            Line((length, breadth), (0, breadth), "high"),
        ]
    return Outline((*ring, Line((0, breadth), (0, 0), "start")))
