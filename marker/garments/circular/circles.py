"""Panels of a circle, for skirts cut round the waist and capes cut round the neck."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import Annotated, Literal

from pydantic import Field, PlainValidator

from marker.errors import BadInput
from marker.garments.curved.drafted import Topped
from marker.garments.curved.shape import Shape, shape_piece
from marker.garments.order import Order
from marker.garments.words import Length, picks
from marker.geometry import Outline
from marker.geometry.shapes import circle_panel, circle_radius
from marker.record import Item

PARTS = {"full": 1.0, "three-quarter": 0.75, "half": 0.5, "quarter": 0.25}
"""Which part of the whole circle a garment is."""
MIDDLE, EDGE = "middle", "edge"
LAY = {MIDDLE: "panels' middle along the warp", EDGE: "panels' edge along the warp"}
MOST = 100
COUNTS = (1, *range(2, 17, 2))
"""How many panels are tried where the file says nothing."""


class Circular(Topped):
    """The keys of a garment that is cut as part of a circle, beside its own."""

    circle: Literal["full", "three-quarter", "half", "quarter"] = Field(
        description='which part of the circle it is: "full", "three-quarter", "half", "quarter"'
    )
    panels: int | None = Field(
        default=None, ge=1, le=MOST, description="how many panels it is cut in"
    )
    grain: Annotated[tuple[str, ...], PlainValidator(picks(MIDDLE, EDGE))] = Field(
        default=(MIDDLE,), description="what lies along the warp, or a list of both to compare"
    )
    gathers: Length = Field(
        default=0, description='what the inner curve measures over the body, such as "10 cm"'
    )

    @property
    def part(self) -> float:
        """How much of the circle it is."""
        return PARTS[self.circle]


def panel_outline(
    order: Order, spec: Circular, inner: int, length: int, panels: int, grain: str
) -> Outline:
    """One panel, finished: all inner curves together measure `inner`, units.

    Their radius is inner / (2 pi x part). It is the seam line, and allowances are added outside
    the panels, so that seams take nothing of it. Raises `BadInput` where one panel would close
    the ring: an outline is one line round a piece, and a ring has two.
    """
    if spec.part == 1 and panels == 1:
        raise order.fault(
            "panels is 1, but a whole circle needs a seam for its opening, and in one piece it "
            "has none; write panels = 2 or more"
        )
    outline = circle_panel(float(inner), float(length), spec.part, panels)
    if grain == MIDDLE:
        return outline
    return outline.turned(math.degrees(math.pi * spec.part / panels)).at_nought()


def quarters(outline: Outline) -> tuple[tuple[str, float, str], ...]:
    """The quarter points of a panel's inner curve, and the middle of its hem."""
    inner, hem = outline.edge("start").length, outline.edge("end").length
    return (
        ("start", inner / 4, "quarter"),
        ("start", inner / 2, "middle"),
        ("start", 3 * inner / 4, "quarter"),
        ("end", hem / 2, "middle"),
    )


def fewest(
    order: Order, spec: Circular, shapes: Callable[[int], Sequence[Shape]]
) -> Sequence[Shape]:
    """The shapes of as many panels as asked, or of the fewest that lie within the cloth.

    `shapes` gives those of a number of panels. Raises `BadInput` where no number will do.
    """
    if spec.panels:
        return shapes(spec.panels)
    cloth = order.cloth("cloth", None)
    refused: BadInput | None = None
    for count in COUNTS[1:] if spec.part == 1 else COUNTS:
        found = shapes(count)
        try:
            for shape in found:
                shape_piece(order, "panels", shape, (cloth,))
        except BadInput as fault:
            refused = fault
        else:
            return found
    assert refused
    raise refused


def radii(spec: Circular, inner: int, length: int, curve: str) -> tuple[Item, ...]:
    """The radii to strike the seam line and the hem line with, from one centre."""
    radius = round(circle_radius(float(inner), spec.part))
    return (Item(f"radius of the {curve}", radius), Item("radius of the hem", radius + length))
