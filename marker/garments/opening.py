"""The opening in one seam, and the placket that finishes it."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from marker.garments.lengths import Levels
from marker.garments.order import Order, Usual
from marker.garments.panel import Tube
from marker.garments.strips import Lie, strip
from marker.garments.words import Size, Strict, Text
from marker.piece import Edges, Mark, MarkKind, Piece
from marker.units import INCH

LENGTH = Usual("26 cm", "10 1/2 in")
LEAST = 10 * INCH
"""About 10 in, better a little more (common practice, no source)."""
WIDTH = Usual("2 cm", "3/4 in")
OPENING_ENDS = "opening ends"
WORN = {"front": "in front", "side": "at the side", "back": "at the back"}


class Opening(Strict):
    """The keys of the opening; all have a usual value."""

    length: Size | None = Field(
        default=None, description='its length below the band, such as "26 cm"'
    )
    at: Literal["front", "side", "back"] = Field(default="side", description="the seam it lies in")
    placket: Literal["turned", "strip"] = Field(
        default="turned",
        description="how it is finished: seam allowances turned in, or bound by a strip",
    )
    width: Size | None = Field(
        default=None, description='the finished width of the strip, such as "2 cm"'
    )
    lie: Lie = Field(default="either", description="which way the strip's length lies on the cloth")
    cloth: Text | None = Field(
        default=None, description="the key of the cloth the strip is cut from"
    )
    torn: bool = Field(
        default=True, description="false where no edge of the placket strip may be torn"
    )


def opened(order: Order, opening: Opening, length: int) -> int:
    """How long the opening is, in a seam of a length; raises `BadInput` if it takes all of it."""
    found = order.usual(opening.length, LENGTH)
    if found >= length:
        raise order.fault(
            f"opening.length is {order.spell(found)}, as long as the skirt itself; "
            "give a shorter opening"
        )
    return found


def opening_marks(order: Order, opening: Opening, tube: Tube, levels: Levels) -> tuple[Mark, Mark]:
    """The notches where the opening ends, one on each side of a seam.

    All panels are cut alike, so that each carries them; one seam alone is left open.
    """
    u = levels.depth(opening.at) + opened(order, opening, levels.finished[opening.at])
    name = "opening ends (in one seam)"
    return (
        Mark(MarkKind.NOTCH, name, u, 0, u, tube.seam),
        Mark(MarkKind.NOTCH, name, u, tube.width - tube.seam, u, tube.width),
    )


def in_any_seam(order: Order, seams: int, at: str, opening: int) -> str:
    """Say where the opening of a skirt is whose panels are all alike: any seam may hold it."""
    down = f"{order.spell(opening)} down from the waist"
    if seams == 1:
        return f"The opening is in the one seam, {down}; wear it {WORN[at]}."
    return f"The opening is in any one seam, {down}; wear that seam {WORN[at]}."


def short_opening(order: Order, opening: Opening) -> list[str]:
    """Say where an opening is shorter than goes over the hips easily."""
    length = order.usual(opening.length, LENGTH)
    if length >= LEAST:
        return []
    return [
        f"The opening of {order.spell(length)} is short; "
        f"{order.spell(LEAST)}, or a little more, goes over the hips more easily."
    ]


def placket_pieces(order: Order, opening: Opening, seam: int) -> tuple[Piece, ...]:
    """The strip that runs down one side of the opening and up the other, if one is wanted.

    Cut length = 2 x opening + 2s, cut width = 2 x finished + 2s (common practice, no source).
    """
    if opening.placket == "turned":
        for key, usual in (("width", None), ("cloth", None), ("torn", True)):
            if getattr(opening, key) is not usual:
                raise order.fault(
                    f'opening.{key} is for a placket strip; write opening.placket = "strip", '
                    "or take it out"
                )
        return ()
    length = 2 * order.usual(opening.length, LENGTH) + 2 * seam
    breadth = 2 * order.usual(opening.width, WIDTH) + 2 * seam
    seams = [Mark(MarkKind.SEAM, "seam", 0, v, length, v) for v in (seam, breadth - seam)]
    fold = Mark(MarkKind.FOLD, "fold", 0, breadth // 2, length, breadth // 2)
    cloth = order.cloth("opening.cloth", opening.cloth)
    return (
        strip(
            order,
            "opening",
            (cloth,),
            opening.lie,
            (length, breadth),
            name="placket strip",
            edges=Edges(start="waist", end="waist", low="skirt", high="inside"),
            marks=(*seams, fold),
            up="length",
            torn=opening.torn,
        ),
    )
