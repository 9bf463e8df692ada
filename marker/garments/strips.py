"""What all straight strips share: the way they lie, which cloths may give them, and their fit."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Literal

from marker.cloth import Cloth
from marker.garments.allowance import grow
from marker.garments.order import Order
from marker.piece import Edges, Grain, Mark, Piece, Pieced

Lie = Literal["along", "across", "either"]


def strip(
    order: Order,
    part: str,
    cloths: Sequence[Cloth],
    lie: Lie,
    size: tuple[int, int],
    *,
    name: str,
    edges: Edges,
    marks: tuple[Mark, ...] = (),
    count: int = 1,
    up: str = "breadth",
    torn: bool = True,
    pieced: Pieced | None = None,
) -> Piece:
    """A strip of cut (length, breadth), worn with its length level unless `up` is "length".

    It may come from any of `cloths` that is wide enough for the way it must lie; torn edges
    are given their allowance. Raises `BadInput` naming the part where none is, or where it
    would point sideways on one-way cloth.
    """
    sideways = "along" if up == "breadth" else "across"
    for cloth in cloths:
        if cloth.one_way and lie == sideways:
            raise order.fault(
                f"{part}.lie is {lie!r}, but the cloth {cloth.key!r} has an up and a down along "
                f'the bolt, and the {name} would point sideways; write "either"'
            )
    length, breadth = size
    piece = Piece(
        letter="",
        name=name,
        length=length,
        breadth=breadth,
        count=count,
        cloth=cloths[0].key,
        grain=Grain(lie),
        up=up,
        edges=edges,
        marks=marks,
        garment=order.key,
        wearer=order.wearer.name,
        torn=torn,
        pieced=pieced,
    )
    piece = grow(piece, cloths)
    keys = [cloth.key for cloth in cloths if _across(piece) <= cloth.usable.across]
    if not keys:
        raise order.fault(_too_wide(order, part, piece, cloths))
    return replace(piece, cloth=keys[0], also=tuple(keys[1:]))


def _across(piece: Piece) -> int:
    """The least that it takes of the width, lying as it may; of a pieced strip one segment."""
    length = piece.pieced.least if piece.pieced else piece.length
    return {
        Grain.ALONG: piece.breadth,
        Grain.ACROSS: length,
        Grain.EITHER: min(length, piece.breadth),
    }[piece.grain]


def _too_wide(order: Order, part: str, piece: Piece, cloths: Sequence[Cloth]) -> str:
    widest = max(cloths, key=lambda cloth: cloth.usable.across)
    length = piece.pieced.least if piece.pieced else piece.length
    return (
        f"{part}: the {piece.name} of {order.spell(length)} by {order.spell(piece.breadth)} "
        f"doesn't lie within the {order.spell(widest.usable.across)} that the cloth "
        f"{widest.key!r} gives; let it lie another way, or take a wider cloth"
    )
