"""What the top of the skirt is drawn into: a band, or a tape with ties."""

from __future__ import annotations

from dataclasses import dataclass, replace

from pydantic import Field

from marker.cloth import Cloth
from marker.garments.joined import Asked, Joined, equal, free, free_only
from marker.garments.notions import Money, by_length
from marker.garments.order import Order, Usual
from marker.garments.strips import Lie, strip
from marker.garments.words import Length, Size, Strict, Text, Texts
from marker.garments.work.bands import Held
from marker.garments.work.chalk import QUARTER, inset
from marker.garments.work.hems import Rim
from marker.piece import Edges, Mark, MarkKind, Piece, Pieced
from marker.record import Notion

BAND = Usual("3 cm", "1 1/4 in")
UNDERLAP = Usual("7.5 cm", "3 in")
WAIST = ("waist", 'the girth at the waist, such as "70 cm"')
TIE = Usual("60 cm", "24 in")


class Band(Asked):
    """The keys of a waistband; all have a usual value. It is cut in one unless `strips` says so."""

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
    price: Money | None = Field(default=None, description='what it costs, such as "0.80 EUR/m"')


@dataclass(frozen=True)
class _Cut:
    """A band, or its lining, as it is cut: in one, or joined from strips."""

    name: str
    cloths: tuple[Cloth, ...]
    length: int
    count: int = 1
    pieced: Pieced | None = None

    @property
    def joined(self) -> bool:
        """Whether it has joins."""
        return self.count > 1 or self.pieced is not None


def band_pieces(order: Order, band: Band, waist: int, seam: int) -> tuple[Piece, ...]:
    """The band, folded or lined, and its lining; in one, or in strips joined end to end.

    Cut length = waist + ease + underlap + 2s, and every join takes 2s more. Cut width =
    2 x finished + 2s where it is folded, finished + 2s where it is lined.
    """
    free_only(order, "band", band)
    finished = order.usual(band.width, BAND)
    breadth = (finished if band.lining else 2 * finished) + 2 * seam
    parts = [("band", order.cloths_of("band.cloth", band.cloth))]
    if band.lining:
        parts.append(("band lining", (order.cloth("band.lining", band.lining),)))
    return tuple(_band(order, band, _cut(order, band, part, waist, seam), breadth, seam)
                 for part in parts)  # fmt: skip


def _cut(
    order: Order, band: Band, part: tuple[str, tuple[Cloth, ...]], waist: int, seam: int
) -> _Cut:
    (name, cloths), sewn = part, waist + band.ease + order.usual(band.underlap, UNDERLAP)
    joined = Joined("band", cloths, band.lie, band.torn, seam, sewn, sewn)
    if band.strips == "free":
        pieced = free(order, joined, band)
        if name != "band":
            pieced = replace(pieced, strip=f"{order.key}/{name}")
        return _Cut(f"{name} strip", cloths, pieced.total, pieced=pieced)
    if band.strips in (None, 1):
        return _Cut(name, cloths, sewn + 2 * seam)
    count = int(band.strips or 1)
    return _Cut(f"{name} strip", cloths, equal(order, joined, count, sewn + 2 * seam), count)


def _band(order: Order, band: Band, cut: _Cut, breadth: int, seam: int) -> Piece:
    underlap, length = order.usual(band.underlap, UNDERLAP), cut.length
    ends = "join" if cut.joined else "seam"
    marks = [
        Mark(MarkKind.SEAM, ends, seam, 0, seam, breadth),
        Mark(MarkKind.SEAM, ends, length - seam, 0, length - seam, breadth),
        Mark(MarkKind.SEAM, "seam", 0, seam, length, seam),
        Mark(MarkKind.SEAM, "seam", 0, breadth - seam, length, breadth - seam),
    ]
    if underlap and not cut.joined:
        begins = length - seam - underlap
        marks.append(Mark(MarkKind.NOTCH, "underlap begins", begins, 0, begins, seam))
    if not band.lining:
        marks.append(Mark(MarkKind.FOLD, "fold", 0, breadth // 2, length, breadth // 2))
    if not cut.joined:
        drawn = length - 2 * seam - underlap
        for u in (seam + drawn * k // 4 for k in (1, 2, 3)):
            marks.append(Mark(MarkKind.CHALK, QUARTER, u, 0, u, breadth))
    end = "underlap" if underlap else "end"
    start, end = ("join", "join") if cut.joined else ("end", end)
    return strip(
        order,
        "band",
        cut.cloths,
        band.lie,
        (length, breadth),
        name=cut.name,
        edges=Edges(
            start=start, end=end, low="skirt", high="upper edge" if band.lining else "inside"
        ),
        marks=tuple(marks),
        count=cut.count,
        torn=band.torn,
        pieced=cut.pieced,
    )


def held_by(
    order: Order,
    band: Band,
    pieces: tuple[Piece, ...],
    rim: Rim,
    drawn: int,
    whose: str,
    *,
    whipped: bool = False,
    opening: bool = True,
    notions: tuple[Notion, ...] = (),
) -> Held:
    """The band of these `pieces` and the top that it holds, as the order of work needs them."""
    return Held(
        rim,
        pieces,
        drawn,
        order.usual(band.underlap, UNDERLAP),
        inset(pieces[0], "low", "seam"),
        order.usual(band.width, BAND),
        whipped,
        whose,
        opening,
        notions,
    )


def tape_item(order: Order, tape: Tape, drawn: int, name: str = "waist tape") -> Notion:
    """The tape, or a drawstring, to buy: drawn length + 2 x tie."""
    length = drawn + 2 * order.usual(tape.tie, TIE)
    return by_length(order, name, length, tape.width, tape.price)
