"""How the hem of a curved garment is finished, and the keys that every one of them shares."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import product
from typing import Literal

from pydantic import Field

from marker.garments.bias_keys import OnBias
from marker.garments.binding import Binding, binding_made
from marker.garments.curved.facing import DEPTH, SHAPED, CurvedFacing, Hem, curved_facing
from marker.garments.curved.shape import Shape
from marker.garments.facing import TOP
from marker.garments.made import Made
from marker.garments.order import SEAM, Order, Spec, Usual
from marker.garments.words import Length, Size
from marker.garments.work.curves import facing_joined, facing_sides
from marker.garments.work.hems import Rim, faced
from marker.garments.work.hems import hemmed as hemmed_up
from marker.garments.work.job import Sewn
from marker.geometry.shapes import INNER, facing
from marker.piece import MarkKind

OWN_HEM = Usual("2 cm", "3/4 in")
"""A curved hem is turned up narrowly, since it is longer than where it is sewn (common
practice, no source)."""
HEM_LINE = {"end": (MarkKind.HEM, "hem line")}


class Hemmed(Spec):
    """The keys of a garment with a curved hem, beside its own."""

    seam: Size | None = Field(default=None, description='the seam allowance, such as "1 cm"')
    hem: Literal["own hem", "facing", "none"] | None = Field(
        default=None, description="how the hem is finished"
    )
    take_up: Length | None = Field(
        default=None, description='what the hem takes of the length, such as "2 cm"'
    )
    facing: CurvedFacing | None = Field(default=None, description="a table for the facing")
    binding: Binding | None = Field(default=None, description="a table for the hem's binding")
    match: Literal["lengthwise", "crosswise", "both"] | None = Field(
        default=None, description="which way the pattern matches from panel to panel"
    )


@dataclass(frozen=True)
class Finish:
    """One way to finish the hem, its facing and its binding each had in one way, if at all.

    `way` says it in a few words where the file leaves several open.
    """

    hem: Hem
    facing: CurvedFacing | None
    binding: Binding | None
    way: str


def finishes(order: Order, spec: Hemmed, ring: bool = True, ends: int = 0) -> tuple[Finish, ...]:
    """Every way to finish the hem that the file leaves open, the first named first.

    A bound hem without a facing is cut off at the hem line, else a hem without either is
    turned up. Raises `BadInput` where keys clash.
    """
    if spec.facing and spec.hem not in (None, "facing"):
        raise order.fault(f'hem is "{spec.hem}", but there is a facing too; take one out')
    if spec.hem == "none" and spec.take_up:
        raise order.fault('take_up is given, but hem is "none"; take one out')
    wanted = spec.facing or (CurvedFacing() if spec.hem == "facing" else None)
    seam = order.usual(spec.seam, SEAM)
    if wanted:
        take_up = seam if spec.take_up is None else spec.take_up
    elif spec.hem == "none" or (spec.hem is None and spec.binding and spec.take_up is None):
        take_up = 0
    else:
        take_up = order.usual(spec.take_up, OWN_HEM)
    hem = Hem(take_up, seam, ring, ends)
    facings = wanted.each() if wanted else (None,)
    bindings = spec.binding.each() if spec.binding else (None,)
    return tuple(
        Finish(hem, faced, bound, way_words(wanted, faced, spec.binding, bound))
        for faced, bound in product(facings, bindings)
    )


def way_words(
    facing: OnBias | None, faced: OnBias | None, binding: OnBias | None, bound: OnBias | None
) -> str:
    """A few words for one of several ways; none where there is but one."""
    words = []
    if facing and faced and facing.open:
        words.append(faced.words("facing"))
    if binding and bound and binding.open:
        words.append(bound.words("binding"))
    return ", ".join(words)


def hem_finish(
    order: Order, finish: Finish, shapes: Sequence[Shape], sides: Sequence[Sewn]
) -> Made:
    """What the hem of all shapes together takes, in one way to finish it, and how it is sewn.

    `sides` are the seams between the shapes.
    """
    made, rim = Made(), Rim(tuple(shape.name for shape in shapes), "hem")
    around = math.ceil(sum(shape.measure("end") for shape in shapes))
    if finish.facing:
        made += curved_facing(order, finish.facing, shapes, finish.hem)
        if finish.facing.only == SHAPED:
            joined = tuple(facing_joined(order, made.pieces, finish.hem.seam))
            made += Made(work=joined, sewn=tuple(facing_sides(sides)))
        depth = order.usual(finish.facing.depth, DEPTH)
        top = order.usual(finish.facing.top, TOP)
        made += faced(order, made.pieces, rim, (depth, finish.hem.take_up), top)
    elif finish.hem.take_up:
        longer = _eased(order, finish.hem.take_up, shapes)
        made += Made(advice=longer)
        made += hemmed_up(order, rim, finish.hem.take_up, eased=bool(longer))
    elif not finish.binding:
        made += hemmed_up(order, rim, 0)
    if finish.binding:
        made += binding_made(order, finish.binding, around, rim, ring=finish.hem.ring)
    return made


def _eased(order: Order, take_up: int, shapes: Sequence[Shape]) -> tuple[str, ...]:
    """How much longer the edge of an own hem is than the place it is sewn to.

    It lies as far below the hem line as that place lies above it, so that the difference is
    twice that from the hem line to the place.
    """
    sides = [shape.outline.edge(side).length for shape in shapes for side in ("low", "high")]
    if take_up >= min(sides):
        raise order.fault(
            f"take_up is {order.spell(take_up)}, as deep as the garment is long; "
            "give a smaller figure"
        )
    shorter = sum(
        shape.measure("end")
        - shape.count * facing(shape.outline, "end", take_up).edge(INNER).length
        for shape in shapes
    )
    surplus = math.ceil(2 * shorter)
    if surplus < order.grid:
        return ()
    return (
        f"The hem's cut edge is {order.spell(surplus)} longer than the place it is sewn to; "
        "ease it in evenly, or face the hem.",
    )


def hemmed(shape: Shape, finish: Finish) -> Shape:
    """The shape with what the hem takes added below it."""
    return replace(
        shape,
        added={**shape.added, "end": finish.hem.take_up},
        lines={**shape.lines, **HEM_LINE},
    )
