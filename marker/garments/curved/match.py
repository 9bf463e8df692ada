"""Stripes and checks that match in panels of any outline, whose seams slant across them."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

from marker.cloth import Cloth
from marker.garments.curved.shape import Shape
from marker.garments.matching import WISE, no_repeat
from marker.garments.order import Order
from marker.geometry import Edge
from marker.piece import Match, Wise
from marker.units import Rounding, format_length


def curves_matched(
    order: Order, match: str | None, shapes: Sequence[Shape], cloth: Cloth
) -> list[Shape]:
    """The shapes with points to match, all of them in one place of the repeat.

    Lengthwise they are where each finished hem meets the seam; crosswise, in the hem's middle, so
    that one place of the stripe runs down the middle of every panel. Raises `BadInput` where the
    cloth has no such repeat, or a panel's middle does not lie along the thread.
    """
    wanted = WISE.get(match or "", ())
    for wise in wanted:
        if lacking := no_repeat(cloth, wise):
            raise order.fault(f"match is {match!r}, but {lacking}, or take match out")
    if Wise.CROSSWISE in wanted and not all(
        _upright(shape.outline.edge("end")) for shape in shapes
    ):
        raise order.fault(
            f"match is {match!r}, but with an edge along the warp no stripe runs down the middle "
            'of a panel; write grain = "middle", or match lengthwise only'
        )
    return [replace(shape, matches=tuple(_points(order, shape, wanted))) for shape in shapes]


def _points(order: Order, shape: Shape, wanted: Sequence[Wise]) -> Iterator[Match]:
    hem = shape.outline.edge("end")
    for wise in wanted:
        if wise is Wise.LENGTHWISE:
            name, (u, v) = "hem", hem.segments[0].start
        else:
            name, (u, v) = "middle", hem.at(hem.length / 2)[0]
        yield Match(f"{order.key}/{name}", wise, round(u), round(v))


def _upright(hem: Edge) -> bool:
    """Whether a hem lies evenly about the thread that runs down its middle."""
    return abs(hem.segments[0].start[0] - hem.segments[-1].end[0]) < 1


def unmatched(
    order: Order, match: str | None, part: str, shapes: Sequence[Shape], cloth: Cloth
) -> Iterator[str]:
    """Say that a pattern is not matched; or how far out it is in seams of panels that differ.

    The seam of a panel that flares more slants more, so that it rises less along the thread.
    """
    wanted = WISE.get(match or "", ())
    if not wanted and (cloth.repeat.along or cloth.repeat.across):
        way = "lengthwise" if cloth.repeat.along else "crosswise"
        yield (
            f'The {part} are not matched to the repeat of the cloth {cloth.key!r}; match = "{way}" '
            "would have them match."
        )
    if Wise.LENGTHWISE in wanted:
        sides = [shape.outline.edge("low") for shape in shapes]
        rise = [abs(side.at(0)[0][0] - side.at(side.length)[0][0]) / side.length for side in sides]
        out = math.ceil((max(rise) - min(rise)) * max(side.length for side in sides))
        if out >= order.grid:
            yield (
                f"The pattern meets in every seam at the hem; in seams between {part} that differ "
                f"it is up to {format_length(out, order.units, Rounding.UP)} out at the top."
            )
