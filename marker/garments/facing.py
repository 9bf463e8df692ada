"""A straight hem facing: the keys it is ordered by, and the joined strips it is pieced from."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from pydantic import Field

from marker.cloth import Cloth
from marker.garments.allowance import longest_across
from marker.garments.order import Order, Usual
from marker.garments.panel import Tube
from marker.garments.strips import Lie, strip
from marker.garments.words import MOST_STRIPS, Length, Size, Strict, Strips, Texts
from marker.piece import Edges, Mark, MarkKind, Piece, Pieced
from marker.units import CM, INCH, System, ceil_to

DEPTH = Usual("15 cm", "6 in")
TOP = Usual("1 cm", "1/2 in")
SHORTEST = Usual("20 cm", "8 in")
SEGMENTS = 12
"""The most segments of a strip pieced freely, where the file says nothing."""
MOST_SEGMENTS = 100
USUAL_DEPTH = {System.CM: (125 * CM // 10, 255 * CM // 10), System.IN: (5 * INCH, 10 * INCH)}
"""Facings are 5 to 10 in deep (common practice, no source)."""


class Facing(Strict):
    """The keys of a straight facing; all have a usual value."""

    depth: Size | None = Field(default=None, description='the finished depth, such as "15 cm"')
    strips: Strips | None = Field(
        default=None,
        description=f'how many strips are joined, from 1 to {MOST_STRIPS}, or "free"',
    )
    shortest: Size | None = Field(
        default=None, description='the shortest cut length of a free strip, such as "20 cm"'
    )
    most: int | None = Field(
        default=None,
        ge=1,
        le=MOST_SEGMENTS,
        description=f"how many free strips there may be, from 1 to {MOST_SEGMENTS}",
    )
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
    if facing.strips == "free":
        pieced = _pieced(order, facing, tube)
        length, count = pieced.total, 1
    else:
        length, count = _equal(order, facing, tube, cloths, longest)
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
    for key in ("shortest", "most", "joins"):
        if facing.strips != "free" and getattr(facing, key) is not None:
            raise order.fault(
                f"facing.{key} is for strips of free lengths; write facing.strips = "
                '"free", or take it out'
            )


def _pieced(order: Order, facing: Facing, tube: Tube) -> Pieced:
    """What strips of free number and lengths must come to: C + 2s, once joined.

    Where the joins are to meet the skirt's seams, each strip runs from seam to seam.
    """
    seam = tube.seam
    least = order.usual(facing.shortest, SHORTEST)
    if least <= 2 * seam:
        raise order.fault(
            f"facing.shortest is {order.spell(least)}, and two seams of {order.spell(seam)} "
            "leave nothing of it; give a greater length"
        )
    total = tube.round + 2 * seam
    if least > total:
        raise order.fault(
            f"facing.shortest is {order.spell(least)}, and all of the facing takes "
            f"{order.spell(total)}; give a smaller length"
        )
    pitch = tube.pitch if facing.joins == "meet seams" else 0
    if pitch and tube.most and least > tube.width:
        raise order.fault(
            f"facing.shortest is {order.spell(least)}, longer than from one seam to the next "
            f"where the panels are {order.spell(tube.width)} wide; give a smaller length, or "
            'joins = "anywhere"'
        )
    return Pieced(
        strip=f"{order.key}/facing",
        total=total,
        seam=seam,
        least=least,
        most=facing.most or SEGMENTS,
        pitch=pitch,
    )


def _equal(
    order: Order, facing: Facing, tube: Tube, cloths: Sequence[Cloth], longest: int
) -> tuple[int, int]:
    """Length and number of equal strips, rounded up to a size that can be measured.

    Without `strips`, the fewest that lie within every cloth they may come from; strips along
    the bolt are no longer than `longest`, the panels' cut length, so that they come out
    beside the panels. Their number is that of the widest tube where the width is open, so
    that wider panels ask for longer strips, and for nothing else.
    """
    seam = tube.seam
    rooms = {cloth.key: longest_across(cloth, cloths, facing.lie, facing.torn) for cloth in cloths}
    limit = longest if facing.lie == "along" else min(rooms.values())
    count = facing.strips if isinstance(facing.strips, int) else None
    count = count or _fewest(order, tube.widest.round, limit, seam)
    length = _share(order, tube.round, count, seam, limit)
    widest = max(rooms, key=lambda key: rooms[key])
    if facing.lie == "across" and length > rooms[widest]:
        raise order.fault(
            f"facing.strips is {count}, and each would be {order.spell(length)} long across the "
            f"cloth {widest!r}, which gives {order.spell(rooms[widest])}, to face "
            f"{order.spell(tube.round)}; give more strips"
        )
    return length, count


def _fewest(order: Order, around: int, limit: int, seam: int) -> int:
    """The least k with k x limit - 2s(k - 1) >= C + 2s."""
    if limit <= 2 * seam:
        raise order.fault(
            f"facing: strips of at most {order.spell(max(limit, 0))} are all seam; give a wider "
            "cloth or a narrower seam"
        )
    fewest = -(-around // (limit - 2 * seam))
    if fewest > MOST_STRIPS:
        raise order.fault(f"facing takes {fewest} strips; {MOST_STRIPS} are the most")
    return fewest


def _share(order: Order, around: int, count: int, seam: int, limit: int) -> int:
    """The length of each of `count` equal strips, rounded up unless the cloth then ends."""
    exact = -(-(around + 2 * seam * count) // count)
    rounded = ceil_to(exact, order.grid)
    return limit if exact <= limit < rounded else rounded


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
