"""What the top of the skirt is drawn into: a band, or a tape with ties."""

from __future__ import annotations

from pydantic import Field

from marker.garments.order import Order, Usual
from marker.garments.strips import Lie, strip
from marker.garments.words import Length, Size, Strict, Text, Texts
from marker.piece import Edges, Mark, MarkKind, Piece
from marker.record import Item

BAND = Usual("3 cm", "1 1/4 in")
UNDERLAP = Usual("7.5 cm", "3 in")
WAIST = ("waist", 'the girth at the waist, such as "70 cm"')
TIE = Usual("60 cm", "24 in")


class Band(Strict):
    """The keys of a waistband; all have a usual value."""

    width: Size | None = Field(default=None, description='the finished width, such as "3 cm"')
    ease: Length = Field(
        default=0, description='what is added to the waist measure, such as "2 cm"'
    )
    underlap: Length | None = Field(default=None, description='the underlap, such as "7.5 cm"')
    lie: Lie = Field(default="either", description="which way the band's length lies on the cloth")
    cloth: Texts | None = Field(
        default=None, description="the key of the cloth it is cut from, or a list of them"
    )
    lining: Text | None = Field(default=None, description="the key of the cloth it is lined with")
    torn: bool = Field(default=True, description="false where no edge of it may be torn")


class Tape(Strict):
    """The keys of a waist tape, bought by length; its ends are the ties."""

    tie: Length | None = Field(default=None, description='the length of one tie, such as "60 cm"')
    ease: Length = Field(
        default=0, description='what is added to the waist measure, such as "2 cm"'
    )
    width: Size | None = Field(default=None, description='the width to ask for, such as "2 cm"')


def band_pieces(order: Order, band: Band, waist: int, seam: int) -> tuple[Piece, ...]:
    """The band, folded or lined, and its lining.

    Cut length = waist + ease + underlap + 2s. Cut width = 2 x finished + 2s where it is
    folded, finished + 2s where it is lined.
    """
    underlap = order.usual(band.underlap, UNDERLAP)
    finished = order.usual(band.width, BAND)
    drawn = waist + band.ease
    length = drawn + underlap + 2 * seam
    breadth = (finished if band.lining else 2 * finished) + 2 * seam
    marks = [
        Mark(MarkKind.SEAM, "seam", seam, 0, seam, breadth),
        Mark(MarkKind.SEAM, "seam", length - seam, 0, length - seam, breadth),
        Mark(MarkKind.SEAM, "seam", 0, seam, length, seam),
        Mark(MarkKind.SEAM, "seam", 0, breadth - seam, length, breadth - seam),
    ]
    if underlap:
        end = seam + drawn
        marks.append(Mark(MarkKind.NOTCH, "underlap begins", end, 0, end, seam))
    if not band.lining:
        marks.append(Mark(MarkKind.FOLD, "fold", 0, breadth // 2, length, breadth // 2))
    high = "upper edge" if band.lining else "inside"
    parts = [("band", order.cloths_of("band.cloth", band.cloth))]
    if band.lining:
        parts.append(("band lining", (order.cloth("band.lining", band.lining),)))
    return tuple(
        strip(
            order,
            "band",
            cloths,
            band.lie,
            (length, breadth),
            name=name,
            edges=Edges(start="end", end="underlap" if underlap else "end", low="skirt", high=high),
            marks=tuple(marks),
            torn=band.torn,
        )
        for name, cloths in parts
    )


def tape_item(order: Order, tape: Tape, drawn: int, name: str = "waist tape") -> Item:
    """The tape, or a drawstring, to buy: drawn length + 2 x tie."""
    width = f", {order.spell(tape.width)} wide" if tape.width else ""
    return Item(f"{name}{width}", drawn + 2 * order.usual(tape.tie, TIE))
