"""A ring that flares from its upper edge, cut in panels: sectors with seams, below a whole ring."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from marker.cloth import Cloth
from marker.errors import BadInput
from marker.garments.curved.shape import Shape, shape_piece
from marker.garments.order import Order
from marker.geometry.shapes import ring_flounce
from marker.piece import Edges, MarkKind, Piece

MOST = 100
"""More panels than any ring is cut in."""
HALF = math.pi + 1e-9
"""Radians: sectors wider than half rings lie badly, so they are cut only when asked for."""
EDGES = Edges(start="upper edge", end="hem", low="seam", high="seam")


@dataclass(frozen=True)
class Ring:
    """A flounce's finished edges and depth, and what its seams and its hem take.

    `edge` is what its lower edge is called; `kind` and `line` say what its finished line is.
    """

    top: int
    bottom: int
    depth: int
    seam: int
    hem: int
    edge: str = "hem"
    kind: MarkKind = MarkKind.HEM
    line: str = "hem line"

    @property
    def radius(self) -> float:
        """Radius of the upper curve, top x depth / (bottom - top) (Baldt, 1916, fig. 56)."""
        return self.top * self.depth / (self.bottom - self.top)

    @property
    def angle(self) -> float:
        """The angle of the whole flounce, radians; over 2 pi it is more than a whole ring."""
        return (self.bottom - self.top) / self.depth

    def panel(self, name: str, panels: int) -> Shape:
        """One of so many panels, the same on both sides; each must be less than a whole ring."""
        outline = ring_flounce(self.top, self.bottom, self.depth, panels)
        middles = ((edge, outline.edge(edge).length / 2, "middle") for edge in ("start", "end"))
        return Shape(
            f"{name} panel",
            outline,
            count=panels,
            folds=True,
            added={"start": self.seam, "low": self.seam, "high": self.seam, "end": self.hem},
            edges=replace(EDGES, end=self.edge),
            lines={"end": (self.kind, self.line)},
            notches=tuple(middles),
        )


def ring_panels(
    order: Order, part: str, name: str, ring: Ring, cloths: Sequence[Cloth], panels: int | None
) -> Piece:
    """The panels of a ring; without a number the fewest below half rings that fit the cloth.

    Raises `BadInput` naming `part` where they close the ring, or don't lie within the cloth.
    """
    whole = math.floor(ring.angle / math.tau) + 1
    if panels and panels < whole:
        raise order.fault(
            f"{part}.panels is {panels}, and each would be "
            f"{math.degrees(ring.angle / panels):.0f} degrees of a ring, which is whole at 360; "
            f"give {whole} or more"
        )
    if panels:
        return shape_piece(order, f"{part}.panels is {panels}", ring.panel(name, panels), cloths)
    for count in range(max(1, math.ceil(ring.angle / HALF)), MOST):
        try:
            return shape_piece(order, part, ring.panel(name, count), cloths)
        except BadInput:
            continue
    return shape_piece(order, part, ring.panel(name, max(MOST, whole)), cloths)
