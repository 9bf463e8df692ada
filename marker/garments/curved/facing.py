"""The facing of a hem that isn't straight: shaped to its curve, or cut on the bias."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Annotated

from pydantic import Field, PlainValidator

from marker.errors import BadInput
from marker.garments.bias import Bias, bias, facing_lines
from marker.garments.bias_keys import CUTS, OnBias
from marker.garments.curved.shape import Shape, shape_piece
from marker.garments.facing import TOP
from marker.garments.made import Made
from marker.garments.order import Order, Usual
from marker.garments.words import Length, Size, picks
from marker.geometry import Outline
from marker.geometry.shapes import INNER, facing
from marker.piece import MarkKind
from marker.record import Item

SHAPED = "shaped"
DEPTH = Usual("8 cm", "3 in")
"""A curved facing is shallower than a straight one (common practice, no source)."""


FacingCuts = Annotated[tuple[str, ...], PlainValidator(picks(SHAPED, *CUTS))]


class CurvedFacing(OnBias):
    """The keys of a curved hem's facing; all have a usual value."""

    depth: Size | None = Field(default=None, description='the finished depth, such as "8 cm"')
    cut: FacingCuts = Field(
        default=(SHAPED,), description="how it is cut, or a list of ways to compare"
    )
    top: Length | None = Field(
        default=None, description='what the upper edge takes to finish, such as "1 cm"'
    )


@dataclass(frozen=True)
class Hem:
    """How a hem is sewn: what is taken up below it, and what joins take.

    A `ring` goes all round; where the garment is open in front, `ends` is what is turned in
    at either end.
    """

    take_up: int
    seam: int
    ring: bool = True
    ends: int = 0


def curved_facing(order: Order, wanted: CurvedFacing, shapes: Sequence[Shape], hem: Hem) -> Made:
    """The facing of the hem of all `shapes`, cut in one way.

    Shaped, it is the strip of its depth inside the very edge it faces, in as many pieces as the
    panels and joined at the same seams. On the bias it is one strip as long as the hem. Raises
    `BadInput` naming the key.
    """
    depth = order.usual(wanted.depth, DEPTH)
    for side in ("low", "high"):
        if depth >= min(shape.outline.edge(side).length for shape in shapes):
            raise order.fault(
                f"facing.depth is {order.spell(depth)}, as deep as the garment is long; "
                "give a smaller depth"
            )
    top = order.usual(wanted.top, TOP)
    if wanted.only == SHAPED:
        return _shaped(order, wanted, shapes, (depth, hem.take_up, top))
    around = math.ceil(sum(shape.measure("end") for shape in shapes))
    strip = Bias(
        part="facing",
        name="bias facing",
        joined=around + 2 * hem.ends,
        width=hem.take_up + depth + top,
        seam=hem.seam,
        ring=hem.ring,
        strips=wanted.count,
        shortest=wanted.shortest,
        across=wanted.across,
        lines=facing_lines(hem.take_up, depth, top),
    )
    made = bias(order, strip, wanted.only, wanted.cloth)
    surplus = math.ceil(around - sum(_inner(order, shape, depth) for shape in shapes))
    if surplus < order.grid:
        return made
    eased = (
        f"The upper edge of the bias facing is {order.spell(surplus)} longer than the place it is "
        "sewn to; shrink it in with the iron before it is sewn down."
    )
    return made + Made(advice=(eased,))


def _shaped(
    order: Order, wanted: CurvedFacing, shapes: Sequence[Shape], sizes: tuple[int, int, int]
) -> Made:
    """A strip of the panel's own shape for every panel."""
    depth, take_up, top = sizes
    cloths = order.cloths_of("facing.cloth", wanted.cloth)
    pieces = tuple(
        shape_piece(order, "facing", _strip_of(order, shape, depth, take_up, top), cloths)
        for shape in shapes
    )
    inner = round(sum(_inner(order, shape, depth) for shape in shapes))
    return Made(pieces, figures=(Item("upper edge of the shaped facing", inner),))


def _strip_of(order: Order, shape: Shape, depth: int, take_up: int, top: int) -> Shape:
    """The shape of the facing of one panel, its edges called as the panel's are."""
    outline = _faced(order, shape, depth).renamed({INNER: "start"})
    middle = outline.edge("end").length / 2
    return replace(
        shape,
        name=f"{shape.name} facing",
        outline=outline,
        added={**shape.added, "end": take_up, "start": top},
        edges=replace(shape.edges, start="top"),
        lines={"end": (MarkKind.HEM, "hem seam"), "start": (MarkKind.FOLD, "upper edge")},
        notches=(("end", middle, "middle"),),
    )


def _faced(order: Order, shape: Shape, depth: int) -> Outline:
    try:
        return facing(shape.outline, "end", depth)
    except BadInput as fault:
        raise order.fault(f"facing.depth is {order.spell(depth)}: {fault}") from None


def _inner(order: Order, shape: Shape, depth: int) -> float:
    """What all copies of a panel measure a depth above the hem."""
    return shape.count * _faced(order, shape, depth).edge(INNER).length
