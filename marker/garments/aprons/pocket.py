"""A patch pocket: straight, or with its lower corners rounded."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from marker.garments.curved.rounded import rounded
from marker.garments.curved.shape import Shape, shape_piece
from marker.garments.order import Order, Usual
from marker.garments.strips import strip
from marker.garments.words import Length, Size, Strict, Texts
from marker.piece import Edges, Mark, MarkKind, Piece

WIDTH = Usual("15 cm", "6 in")
DEPTH = Usual("17 cm", "6 3/4 in")
HEM = Usual("3 cm", "1 1/4 in")
RADIUS = Usual("5 cm", "2 in")
MOST = 12
EDGES = Edges(start="top", end="bottom", low="side", high="side")


class Pocket(Strict):
    """The keys of a patch pocket; all have a usual value."""

    count: int = Field(default=1, ge=1, le=MOST, description=f"how many, from 1 to {MOST}")
    width: Size | None = Field(default=None, description='the finished width, such as "15 cm"')
    depth: Size | None = Field(default=None, description='the finished depth, such as "17 cm"')
    corners: Literal["square", "round"] = Field(
        default="square", description="the shape of its lower corners"
    )
    radius: Size | None = Field(
        default=None, description='the radius of round corners, such as "5 cm"'
    )
    hem: Length | None = Field(
        default=None, description='what the hem of its opening takes, such as "3 cm"'
    )
    cloth: Texts | None = Field(
        default=None, description="the key of the cloth it is cut from, or a list of them"
    )


def pocket_piece(order: Order, pocket: Pocket, seam: int) -> Piece:
    """The pocket with its hem above and a seam at the sides and below.

    Raises `BadInput` naming the key where the corners don't go into the pocket.
    """
    if pocket.corners == "square" and pocket.radius is not None:
        raise order.fault(
            'pocket.radius is for round corners; write pocket.corners = "round", or take it out'
        )
    cloths = order.cloths_of("pocket.cloth", pocket.cloth)
    width, depth = order.usual(pocket.width, WIDTH), order.usual(pocket.depth, DEPTH)
    hem = order.usual(pocket.hem, HEM)
    if pocket.corners == "round":
        radius = order.usual(pocket.radius, RADIUS)
        shape = Shape(
            "pocket",
            rounded(order, "pocket.radius", (depth, width), radius),
            count=pocket.count,
            folds=True,
            added={"start": hem, "low": seam, "end": seam, "high": seam},
            edges=EDGES,
            lines={"start": (MarkKind.FOLD, "fold of the hem")},
        )
        return shape_piece(order, "pocket", shape, cloths)
    length, breadth = depth + hem + seam, width + 2 * seam
    marks = [
        Mark(MarkKind.SEAM, "seam", 0, seam, length, seam),
        Mark(MarkKind.SEAM, "seam", 0, breadth - seam, length, breadth - seam),
        Mark(MarkKind.SEAM, "seam", length - seam, 0, length - seam, breadth),
    ]
    if hem:
        marks.append(Mark(MarkKind.FOLD, "fold of the hem", hem, 0, hem, breadth))
    return strip(
        order,
        "pocket",
        cloths,
        "along",
        (length, breadth),
        name="pocket",
        edges=EDGES,
        marks=tuple(marks),
        count=pocket.count,
        up="length",
    )
