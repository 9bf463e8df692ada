"""A straight hem facing, pieced from joined strips."""

from __future__ import annotations

from pydantic import Field

from marker.cloth import Cloth
from marker.garments.order import Order, Usual
from marker.garments.panel import Tube
from marker.garments.strips import Lie, strip
from marker.garments.words import Length, Size, Strict, Text
from marker.piece import Edges, Mark, MarkKind, Piece
from marker.units import CM, INCH, System, ceil_to

DEPTH = Usual("15 cm", "6 in")
TOP = Usual("1 cm", "1/2 in")
MOST = 1000
USUAL_DEPTH = {System.CM: (125 * CM // 10, 255 * CM // 10), System.IN: (5 * INCH, 10 * INCH)}
"""Facings are 5 to 10 in deep (common practice, no source)."""


class Facing(Strict):
    """The keys of a straight facing; all have a usual value."""

    depth: Size | None = Field(default=None, description='the finished depth, such as "15 cm"')
    strips: int | None = Field(
        default=None, ge=1, le=MOST, description=f"how many strips are joined, from 1 to {MOST}"
    )
    top: Length | None = Field(
        default=None, description='what the upper edge takes to finish, such as "1 cm"'
    )
    lie: Lie = Field(default="either", description="which way the strips' length lies on the cloth")
    cloth: Text | None = Field(default=None, description="the key of the cloth it is cut from")


def facing_piece(order: Order, facing: Facing, tube: Tube, seam: int, longest: int) -> Piece:
    """The strips of a facing that closes to the round hem.

    sum(strips) - 2s(k - 1) >= C + 2s: k - 1 joins, and the seam that closes the ring. The
    strips are equal, rounded up to a size that can be measured. Without `strips`, the fewest
    that lie within the cloth; strips along the bolt are no longer than `longest`, the panels'
    cut length, so that they come out beside the panels. Raises `BadInput` naming the key.
    """
    cloth = order.cloth("facing.cloth", facing.cloth)
    usable = cloth.usable.across
    limit = longest if facing.lie == "along" else usable
    count = facing.strips or _fewest(order, tube.round, limit, seam)
    length = _share(order, tube.round, count, seam, limit)
    if facing.lie == "across" and length > usable:
        raise order.fault(_too_few(order, tube.round, count, cloth, length))
    depth = order.usual(facing.depth, DEPTH) + seam + order.usual(facing.top, TOP)
    return strip(
        order,
        "facing",
        cloth,
        facing.lie,
        (length, depth),
        name="facing strip",
        edges=Edges(start="join", end="join", low="hem", high="top"),
        marks=_marks(length, depth, seam, order.usual(facing.top, TOP)),
        count=count,
    )


def _fewest(order: Order, around: int, limit: int, seam: int) -> int:
    """The least k with k x limit - 2s(k - 1) >= C + 2s."""
    if limit <= 2 * seam:
        raise order.fault(
            f"facing: strips of at most {order.spell(limit)} are all seam; give a wider cloth "
            "or a narrower seam"
        )
    fewest = -(-around // (limit - 2 * seam))
    if fewest > MOST:
        raise order.fault(f"facing takes {fewest} strips; {MOST} are the most")
    return fewest


def _share(order: Order, around: int, count: int, seam: int, limit: int) -> int:
    """The length of each of `count` equal strips, rounded up unless the cloth then ends."""
    exact = -(-(around + 2 * seam * count) // count)
    rounded = ceil_to(exact, order.grid)
    return limit if exact <= limit < rounded else rounded


def _too_few(order: Order, around: int, count: int, cloth: Cloth, length: int) -> str:
    return (
        f"facing.strips is {count}, and each would be {order.spell(length)} long across the "
        f"cloth {cloth.key!r}, which gives {order.spell(cloth.usable.across)}, to face "
        f"{order.spell(around)}; give more strips"
    )


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
    if piece.count % tube.panels and tube.panels % piece.count:
        said.append(
            f"The facing's {piece.count} joins do not all meet the skirt's {tube.panels} "
            f"{'seam' if tube.panels == 1 else 'seams'}; press them open so that they lie flat."
        )
    return tuple(said)
