"""The bib of an apron, pinned, or held by a strap round the neck."""

from __future__ import annotations

from pydantic import Field

from marker.garments.aprons.ties import doubled
from marker.garments.order import Order, Usual
from marker.garments.strips import strip
from marker.garments.words import Length, Size, Strict, Texts
from marker.piece import Edges, Mark, MarkKind, Piece

WIDTH = Usual("26 cm", "10 in")
HEIGHT = Usual("28 cm", "11 in")
SIDES = Usual("1.5 cm", "5/8 in")
TOP = Usual("3 cm", "1 1/4 in")
STRAP = Usual("3 cm", "1 1/4 in")


class Bib(Strict):
    """The keys of a bib; all have a usual value."""

    width: Size | None = Field(default=None, description='the finished width, such as "26 cm"')
    height: Size | None = Field(default=None, description='the finished height, such as "28 cm"')
    top: Length | None = Field(default=None, description='what the hem above takes, such as "3 cm"')
    sides: Length | None = Field(
        default=None, description='what the hem at either side takes, such as "1.5 cm"'
    )
    strap: Size | None = Field(
        default=None, description='the finished length of a strap round the neck, such as "60 cm"'
    )
    strap_width: Size | None = Field(
        default=None, description='the finished width of the strap, such as "3 cm"'
    )
    cloth: Texts | None = Field(
        default=None, description="the key of the cloth it is cut from, or a list of them"
    )


def bib_pieces(order: Order, bib: Bib, drawn: int, seam: int) -> tuple[Piece, ...]:
    """The bib, hemmed above and at the sides and seamed into the band, and its strap.

    Raises `BadInput` where it is wider than what the apron is drawn into.
    """
    width = order.usual(bib.width, WIDTH)
    if width > drawn:
        raise order.fault(
            f"bib.width is {order.spell(width)}, wider than the {order.spell(drawn)} that the "
            "apron is drawn into; give a smaller width"
        )
    if bib.strap_width and not bib.strap:
        raise order.fault(
            "bib.strap_width is given, but bib.strap is not; give the strap's length, or take it "
            "out"
        )
    top, sides = order.usual(bib.top, TOP), order.usual(bib.sides, SIDES)
    length = order.usual(bib.height, HEIGHT) + top + seam
    breadth = width + 2 * sides
    cloths = order.cloths_of("bib.cloth", bib.cloth)
    marks = [Mark(MarkKind.SEAM, "seam", length - seam, 0, length - seam, breadth)]
    if top:
        marks.append(Mark(MarkKind.FOLD, "fold of the hem", top, 0, top, breadth))
    if sides:
        marks += [Mark(MarkKind.HEM, "hem line", 0, v, length, v) for v in (sides, breadth - sides)]
    piece = strip(
        order,
        "bib",
        cloths,
        "along",
        (length, breadth),
        name="bib",
        edges=Edges(start="top", end="band", low="side", high="side"),
        marks=tuple(marks),
        up="length",
    )
    if not bib.strap:
        return (piece,)
    size = (bib.strap + 2 * seam, 2 * order.usual(bib.strap_width, STRAP) + 2 * seam)
    strap = strip(
        order,
        "bib.strap",
        cloths,
        "either",
        size,
        name="neck strap",
        edges=Edges(start="bib", end="bib", low="seam", high="seam"),
        marks=doubled(*size, seam),
    )
    return (piece, strap)
