"""The breadths of an apron: side by side, hemmed at both sides and below, gathered above."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from marker.cloth import Cloth
from marker.garments.allowance import grow
from marker.garments.curved.rounded import rounded
from marker.garments.curved.shape import Shape, shape_piece
from marker.garments.order import Order
from marker.garments.tucks import Tucked
from marker.piece import Edges, Mark, MarkKind, Piece

HEM_LINE = MarkKind.HEM, "hem line"
SEAM_LINE = MarkKind.SEAM, "seam"


@dataclass(frozen=True)
class Breadths:
    """`count` breadths of cut `width`, `length` long when finished.

    The hem takes `take_up` of the length, either side edge `sides` of the width; the lower
    corners are arcs of `radius`, or square where it is nought.
    """

    length: int
    width: int
    count: int
    seam: int
    take_up: int
    sides: int
    tucked: Tucked
    radius: int
    torn: bool

    @property
    def cut_length(self) -> int:
        """Finished length + the seam at the band + what hem and tucks take."""
        return self.length + self.seam + self.take_up + self.tucked.takes

    @property
    def across(self) -> int:
        """The finished width: each seam between breadths takes its allowance of both."""
        return self.count * self.width - 2 * self.seam * (self.count - 1) - 2 * self.sides

    @property
    def edge(self) -> int:
        """Down one side, along the hem and up the other, round the corners."""
        return 2 * self.length + self.across - math.floor((4 - math.pi) * self.radius)


def apron_panels(order: Order, sizes: Breadths, cloth: Cloth) -> tuple[Piece, ...]:
    """The breadths as they are cut; raises `BadInput` naming the key.

    With round corners those at the two sides are a pair, one of them cut turned over.
    """
    if sizes.radius and sizes.count == 1:
        return (_shaped(order, sizes, cloth, sizes.across),)
    if sizes.radius:
        outer = sizes.width - sizes.sides - sizes.seam
        return (_shaped(order, sizes, cloth, outer), *_middle(order, sizes, cloth))
    if sizes.count == 1:
        return (_straight(order, sizes, cloth, ("panel", "side", "side"), 1),)
    return (
        _straight(order, sizes, cloth, ("right panel", "side", "seam"), 1),
        *_middle(order, sizes, cloth),
        _straight(order, sizes, cloth, ("left panel", "seam", "side"), 1),
    )


def _middle(order: Order, sizes: Breadths, cloth: Cloth) -> tuple[Piece, ...]:
    count = sizes.count - 2
    names = ("middle panel", "seam", "seam")
    return (_straight(order, sizes, cloth, names, count),) if count else ()


def _shaped(order: Order, sizes: Breadths, cloth: Cloth, breadth: int) -> Piece:
    """A breadth with round corners: both, or of a pair the one at the side."""
    alone = sizes.count == 1
    shape = Shape(
        "panel" if alone else "side panel",
        rounded(order, "radius", (sizes.length, breadth), sizes.radius, alone),
        count=1 if alone else 2,
        mirrored=0 if alone else 1,
        folds=alone,
        added={
            "start": sizes.seam,
            "low": sizes.sides,
            "end": sizes.take_up,
            "high": sizes.sides if alone else sizes.seam,
        },
        edges=Edges(start="band", end="hem", low="side", high="side" if alone else "seam"),
        lines={
            "start": (MarkKind.SEAM, "gathering line"),
            "low": HEM_LINE,
            "end": HEM_LINE,
            "high": HEM_LINE if alone else SEAM_LINE,
        },
    )
    return shape_piece(order, "radius", shape, (cloth,))


def _straight(
    order: Order, sizes: Breadths, cloth: Cloth, names: tuple[str, str, str], count: int
) -> Piece:
    """A rectangular breadth; `names` are its own and those of its low and its high edge."""
    name, low, high = names
    piece = Piece(
        letter="",
        name=name,
        length=sizes.cut_length,
        breadth=sizes.width,
        count=count,
        cloth=cloth.key,
        edges=Edges(start="band", end="hem", low=low, high=high),
        marks=tuple(_marks(sizes, low, high)),
        garment=order.key,
        wearer=order.wearer.name,
        torn=sizes.torn,
    )
    return grow(piece, (cloth,))


def _marks(sizes: Breadths, low: str, high: str) -> Iterator[Mark]:
    length, width = sizes.cut_length, sizes.width
    yield Mark(MarkKind.SEAM, "gathering line", sizes.seam, 0, sizes.seam, width)
    for edge, outer in ((low, 0), (high, width)):
        takes = sizes.sides if edge == "side" else sizes.seam
        if takes:
            v = abs(outer - takes)
            kind, name = HEM_LINE if edge == "side" else SEAM_LINE
            yield Mark(kind, name, 0, v, length, v)
    hem = length - sizes.take_up
    if sizes.take_up:
        yield Mark(MarkKind.HEM, "hem line", hem, 0, hem, width)
    for up in sizes.tucked.folds():
        yield Mark(MarkKind.FOLD, "tuck", hem - up, 0, hem - up, width)
