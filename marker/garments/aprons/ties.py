"""An apron's band and what ties it: strips sewn to its ends, band and ties in one, or tape."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from marker.garments.joined import Asked, Joined, equal, fewest, free, free_only
from marker.garments.made import Made
from marker.garments.notions import Money, by_length
from marker.garments.order import Order, Usual
from marker.garments.strips import Lie, strip
from marker.garments.words import Length, Size, Strict, Texts
from marker.piece import Edges, Mark, MarkKind, Piece

BAND = Usual("4 cm", "1 1/2 in")
TIE = Usual("75 cm", "30 in")
WIDTH = Usual("4 cm", "1 1/2 in")


class Band(Strict):
    """The keys of a band that an apron is gathered into; all have a usual value."""

    width: Size | None = Field(default=None, description='the finished width, such as "4 cm"')
    lie: Lie = Field(default="either", description="which way the band's length lies on the cloth")
    cloth: Texts | None = Field(
        default=None, description="the key of the cloth it is cut from, or a list of them"
    )
    torn: bool = Field(default=True, description="false where no edge of it may be torn")


class Ties(Asked):
    """The keys of the ties; all have a usual value."""

    cut: Literal["strips", "in one", "tape"] = Field(
        default="strips", description="two strips, the band and the ties in one, or bought tape"
    )
    length: Length | None = Field(
        default=None, description='the finished length of one tie, such as "75 cm"'
    )
    width: Size | None = Field(default=None, description='the finished width, such as "4 cm"')
    lie: Lie | None = Field(default=None, description="which way their length lies on the cloth")
    cloth: Texts | None = Field(
        default=None, description="the key of the cloth they are cut from, or a list of them"
    )
    price: Money | None = Field(default=None, description='what tape costs, such as "0.80 EUR/m"')


def tied(order: Order, band: Band, ties: Ties, drawn: int, seam: int) -> Made:
    """The band of an apron drawn into `drawn`, and its ties, or both in one.

    Raises `BadInput` naming the key.
    """
    _agree(order, ties)
    length = order.usual(ties.length, TIE)
    if ties.cut == "in one":
        return Made((_in_one(order, band, ties, drawn + 2 * length, seam),))
    piece = _band(order, band, drawn + 2 * seam, seam)
    if ties.cut == "tape":
        tape = by_length(order, "tape for the ties", 2 * (length + seam), ties.width, ties.price)
        return Made((piece,), (tape,))
    size = (length + 2 * seam, 2 * order.usual(ties.width, WIDTH) + 2 * seam)
    cloths = order.cloths_of("ties.cloth", ties.cloth)
    tie = strip(
        order,
        "ties",
        cloths,
        ties.lie or "either",
        size,
        name="tie",
        edges=Edges(start="band", end="end", low="seam", high="seam"),
        marks=doubled(*size, seam),
        count=2,
    )
    return Made((piece, tie))


def _agree(order: Order, ties: Ties) -> None:
    """Refuse keys that say nothing of the way the ties are cut."""
    only = {
        "strips": ("strips", "shortest", "most", "price"),
        "in one": ("width", "cloth", "price"),
        "tape": ("strips", "shortest", "most", "lie", "cloth"),
    }
    for key in only[ties.cut]:
        if getattr(ties, key) is not None:
            raise order.fault(f'ties.{key} is given, but ties.cut is "{ties.cut}"; take one out')
    free_only(order, "ties", ties)


def doubled(length: int, breadth: int, seam: int) -> tuple[Mark, ...]:
    """The seams and the fold of a strip that is sewn double, as bands and ties are."""
    return (
        Mark(MarkKind.SEAM, "seam", seam, 0, seam, breadth),
        Mark(MarkKind.SEAM, "seam", length - seam, 0, length - seam, breadth),
        Mark(MarkKind.SEAM, "seam", 0, seam, length, seam),
        Mark(MarkKind.SEAM, "seam", 0, breadth - seam, length, breadth - seam),
        Mark(MarkKind.FOLD, "fold", 0, breadth // 2, length, breadth // 2),
    )


def _band(order: Order, band: Band, length: int, seam: int) -> Piece:
    """Cut length = drawn + 2s, cut width = 2 x finished + 2s (common practice, no source)."""
    breadth = 2 * order.usual(band.width, BAND) + 2 * seam
    return strip(
        order,
        "band",
        order.cloths_of("band.cloth", band.cloth),
        band.lie,
        (length, breadth),
        name="band",
        edges=Edges(start="tie", end="tie", low="apron", high="inside"),
        marks=doubled(length, breadth, seam),
        torn=band.torn,
    )


def _in_one(order: Order, band: Band, ties: Ties, sewn: int, seam: int) -> Piece:
    """Band and ties in one strip, joined where the cloth is too narrow for it."""
    lie = ties.lie or band.lie
    cloths = order.cloths_of("band.cloth", band.cloth)
    joined = Joined("ties", cloths, lie, band.torn, seam, sewn, sewn)
    pieced, count = None, 1
    if ties.strips == "free":
        pieced = free(order, joined, ties)
        length = pieced.total
    else:
        asked = ties.strips if isinstance(ties.strips, int) else None
        count = asked or fewest(order, joined, joined.across)
        length = equal(order, joined, count, joined.across)
    breadth = 2 * order.usual(band.width, BAND) + 2 * seam
    name = "band and ties" if count == 1 and pieced is None else "band and ties strip"
    return strip(
        order,
        "ties",
        cloths,
        lie,
        (length, breadth),
        name=name,
        edges=Edges(start="end", end="end", low="apron", high="inside"),
        marks=doubled(length, breadth, seam),
        count=count,
        torn=band.torn,
        pieced=pieced,
    )
