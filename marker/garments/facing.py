"""A straight hem facing: the keys it is ordered by, and the joined strips it is pieced from."""

from __future__ import annotations

from dataclasses import replace
from typing import Literal

from pydantic import Field

from marker.garments.joined import Asked, Joined, equal, fewest, free, free_only
from marker.garments.order import Order, Usual
from marker.garments.panel import Tube
from marker.garments.strips import Lie, strip
from marker.garments.words import Length, Size, Texts
from marker.piece import Edges, Mark, MarkKind, Piece, Pieced
from marker.units import CM, INCH, System

DEPTH = Usual("15 cm", "6 in")
TOP = Usual("1 cm", "1/2 in")
USUAL_DEPTH = {System.CM: (125 * CM // 10, 255 * CM // 10), System.IN: (5 * INCH, 10 * INCH)}
"""Facings are 5 to 10 in deep (common practice, no source)."""


class Facing(Asked):
    """The keys of a straight facing; all have a usual value."""

    depth: Size | None = Field(default=None, description='the finished depth, such as "15 cm"')
    joins: Literal["anywhere", "meet seams"] | None = Field(
        default=None, description="where the joins of free strips fall"
    )
    top: Length | None = Field(
        default=None, description='what the upper edge takes to finish, such as "1 cm"'
    )
    lie: Lie = Field(default="either", description="which way the strips' length lies on the cloth")
    cloth: Texts | None = Field(
        default=None, description="the key of the cloth it is cut from, or a list of them"
    )
    torn: bool = Field(default=True, description="false where no edge of it may be torn")


def facing_piece(order: Order, facing: Facing, tube: Tube, longest: int) -> Piece:
    """The strips of a facing that closes to the round hem.

    sum(strips) - 2s(k - 1) >= C + 2s: k - 1 joins, and the seam that closes the ring. Strips
    are equal unless they are free. Raises `BadInput` naming the key.
    """
    _agree(order, facing)
    cloths = order.cloths_of("facing.cloth", facing.cloth)
    pieced = None
    around = tube.widest.round
    joined = Joined("facing", cloths, facing.lie, facing.torn, tube.seam, tube.round, around)
    if facing.strips == "free":
        pieced = _pieced(order, facing, tube, joined)
        length, count = pieced.total, 1
    else:
        length, count = _equal(order, facing, joined, longest)
    depth = order.usual(facing.depth, DEPTH) + tube.seam + order.usual(facing.top, TOP)
    return strip(
        order,
        "facing",
        cloths,
        facing.lie,
        (length, depth),
        name="facing strip",
        edges=Edges(start="join", end="join", low="hem", high="top"),
        marks=_marks(length, depth, tube.seam, order.usual(facing.top, TOP)),
        count=count,
        torn=facing.torn,
        pieced=pieced,
    )


def _agree(order: Order, facing: Facing) -> None:
    """Refuse the keys of free strips where the strips are not."""
    free_only(order, "facing", facing)
    if facing.strips != "free" and facing.joins is not None:
        raise order.fault(
            'facing.joins is for strips of free lengths; write facing.strips = "free", or take it '
            "out"
        )


def _pieced(order: Order, facing: Facing, tube: Tube, joined: Joined) -> Pieced:
    """Strips of free number and lengths; where their joins meet seams, from seam to seam."""
    found = free(order, joined, facing)
    pitch = tube.pitch if facing.joins == "meet seams" else 0
    if pitch and tube.most and found.least > tube.width:
        raise order.fault(
            f"facing.shortest is {order.spell(found.least)}, longer than from one seam to the next "
            f"where the panels are {order.spell(tube.width)} wide; give a smaller length, or "
            'joins = "anywhere"'
        )
    return replace(found, pitch=pitch)


def _equal(order: Order, facing: Facing, joined: Joined, longest: int) -> tuple[int, int]:
    """Length and number of equal strips, rounded up to a size that can be measured.

    Without `strips`, the fewest that lie within every cloth they may come from; strips along
    the bolt are no longer than `longest`, the panels' cut length, so that they come out
    beside the panels.
    """
    limit = longest if facing.lie == "along" else joined.across
    count = facing.strips if isinstance(facing.strips, int) else fewest(order, joined, limit)
    length = equal(order, joined, count, limit)
    rooms = {cloth.key: joined.room(cloth) for cloth in joined.cloths}
    widest = max(rooms, key=lambda key: rooms[key])
    if facing.lie == "across" and length > rooms[widest]:
        raise order.fault(
            f"facing.strips is {count}, and each would be {order.spell(length)} long across the "
            f"cloth {widest!r}, which gives {order.spell(rooms[widest])}, to face "
            f"{order.spell(joined.sewn)}; give more strips"
        )
    return length, count


def _marks(length: int, depth: int, seam: int, top: int) -> tuple[Mark, ...]:
    joins = tuple(Mark(MarkKind.SEAM, "join", u, 0, u, depth) for u in (seam, length - seam))
    hem = Mark(MarkKind.HEM, "hem seam", 0, seam, length, seam)
    fold = Mark(MarkKind.FOLD, "upper edge", 0, depth - top, length, depth - top)
    return (*joins, hem, fold) if top else (*joins, hem)


def facing_advice(order: Order, facing: Facing, piece: Piece, tube: Tube) -> tuple[str, ...]:
    """What to mind about a facing, in whole sentences."""
    said = []
    depth = order.usual(facing.depth, DEPTH)
    low, high = USUAL_DEPTH[order.system]
    if not low <= depth <= high:
        said.append(
            f"The facing is {order.spell(depth)} deep; hem facings are mostly "
            f"{order.spell(low)} to {order.spell(high)}."
        )
    if piece.pieced:
        return tuple(said)
    if piece.count % tube.panels and tube.panels % piece.count:
        said.append(
            f"The facing's {piece.count} joins do not all meet the skirt's {tube.panels} "
            f"{'seam' if tube.panels == 1 else 'seams'}; press them open so that they lie flat."
        )
    return tuple(said)
