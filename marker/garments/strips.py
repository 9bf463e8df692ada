"""What all straight strips share: the way they lie, and whether they fit."""

from __future__ import annotations

from typing import Literal

from marker.cloth import Cloth
from marker.garments.order import Order
from marker.piece import Edges, Grain, Mark, Piece

Lie = Literal["along", "across", "either"]


def strip(
    order: Order,
    part: str,
    cloth: Cloth,
    lie: Lie,
    size: tuple[int, int],
    *,
    name: str,
    edges: Edges,
    marks: tuple[Mark, ...] = (),
    count: int = 1,
    up: str = "breadth",
) -> Piece:
    """A strip of (length, breadth), worn with its length level unless `up` is "length".

    Raises `BadInput` naming the part where the cloth is too narrow for the way it must lie,
    or where it would point sideways on one-way cloth.
    """
    sideways = "along" if up == "breadth" else "across"
    if cloth.one_way and lie == sideways:
        raise order.fault(
            f"{part}.lie is {lie!r}, but the cloth {cloth.key!r} has an up and a down along the "
            f'bolt, and the {name} would point sideways; write "either"'
        )
    length, breadth = size
    usable = cloth.usable.across
    fits = {"along": breadth, "across": length, "either": min(length, breadth)}[lie]
    if fits > usable:
        raise order.fault(
            f"{part}: the {name} of {order.spell(length)} by {order.spell(breadth)} doesn't lie "
            f"within the {order.spell(usable)} that the cloth {cloth.key!r} gives; "
            "let it lie another way, or take a wider cloth"
        )
    return Piece(
        letter="",
        name=name,
        length=length,
        breadth=breadth,
        count=count,
        cloth=cloth.key,
        grain=Grain(lie),
        up=up,
        edges=edges,
        marks=marks,
        garment=order.key,
        wearer=order.wearer.name,
    )
