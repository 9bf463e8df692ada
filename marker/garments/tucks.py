"""Tucks: stitched folds, level with the hem, each of which takes twice its depth of the length."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from pydantic import Field

from marker.garments.made import Made
from marker.garments.order import Order
from marker.garments.words import Length, Size, Strict
from marker.garments.work.job import Job
from marker.record import Stage

MOST = 200
"""More tucks than any garment has: a larger figure is a slip."""


class Tucks(Strict):
    """The keys of tucks: their `depth`, the `gap` between them, and how many, or `over` what."""

    depth: Size = Field(description='the depth of one tuck, such as "1 cm"')
    gap: Size = Field(
        description='how far apart they are, from stitches to stitches, such as "2 cm"'
    )
    count: int | None = Field(
        default=None, ge=1, le=MOST, description=f"how many tucks there are, from 1 to {MOST}"
    )
    over: Size | None = Field(
        default=None, description='the finished length that the tucks fill, such as "20 cm"'
    )
    edge: Length = Field(
        default=0,
        description='how far within that length the outer tucks are stitched, such as "1.5 cm"',
    )
    above: Length | None = Field(
        default=None,
        description='how far above the hem the tucks, or the length they fill, begin, as "5 cm"',
    )


@dataclass(frozen=True)
class Tucked:
    """Tucks as they are made: finished heights above the lower edge, and folds on the flat cloth.

    The lowest is stitched `lowest` above the edge, the next ones `gap` apart.
    """

    count: int = 0
    depth: int = 0
    gap: int = 0
    lowest: int = 0

    @property
    def takes(self) -> int:
        """What all tucks take of the length: each twice its depth (Baldt, 1916)."""
        return 2 * self.depth * self.count

    @property
    def highest(self) -> int:
        """The finished height of the uppermost stitches; nought where there are no tucks."""
        return self.lowest + (self.count - 1) * self.gap if self.count else 0

    def flat(self, height: int) -> int:
        """Where a finished height lies on the flat cloth, above the same edge."""
        below = sum(self.lowest + k * self.gap < height for k in range(self.count))
        return height + 2 * self.depth * below

    def folds(self) -> tuple[int, ...]:
        """Where each tuck is creased on the flat cloth, above the edge, the lowest first.

        It is stitched to itself a depth below the crease and a depth above it.
        """
        step = self.gap + 2 * self.depth
        return tuple(self.lowest + self.depth + k * step for k in range(self.count))


def fitting(over: int, gap: int, edge: int) -> int:
    """How many tucks fill a length: one, and one more for each gap between the outer two.

    (over - 2 x edge) / gap + 1 gives the 31 tucks that the National Instructional Media
    Institute, Dress Making, p. 209, prints for 39 cm, a gap of 1.2 and 1.5 from either edge.
    """
    return (over - 2 * edge) // gap + 1 if over >= 2 * edge else 0


def tucked(order: Order, part: str, tucks: Tucks | None, room: int) -> Tucked:
    """The tucks of a part, which has `room` for them above its edge once they are made.

    Raises `BadInput` naming `part`, the key of their table, where they don't go in.
    """
    if tucks is None:
        return Tucked()
    if (tucks.count is None) == (tucks.over is None):
        told = "both given" if tucks.count else "both missing"
        raise order.fault(
            f"{part}: count and over are {told}; give how many tucks there are, or the length "
            "that they fill"
        )
    count = tucks.count or fitting(tucks.over or 0, tucks.gap, tucks.edge)
    if not 1 <= count <= MOST:
        raise order.fault(
            f"{part}.over is {order.spell(tucks.over or 0)}, which {count} tucks would fill; give "
            f"a length, edge and gap that take 1 to {MOST}"
        )
    above = tucks.depth if tucks.above is None else tucks.above
    made = Tucked(count, tucks.depth, tucks.gap, above + tucks.edge)
    if made.highest > room:
        raise order.fault(
            f"{part}: the uppermost of {count} tucks would be stitched "
            f"{order.spell(made.highest)} above the edge, and there is room up to "
            f"{order.spell(room)}; give fewer, or a smaller gap"
        )
    return made


def tucks_made(
    order: Order, whose: str, made: Tucked, pieces: tuple[str, ...], seam: str = ""
) -> Made:
    """How the tucks of some `pieces` are sewn, and what to mind about them.

    `seam` names the seam that the edge is sewn on by, where it isn't a finished one.
    """
    if not made.count:
        return Made()
    job = Job(Stage.JOIN, _sewn(order, whose, made, seam), pieces)
    return Made(advice=tuple(_advice(order, whose, made, seam)), work=(job,))


def _sewn(order: Order, whose: str, made: Tucked, seam: str) -> str:
    edge = seam or "finished edge"
    first, depth = (order.spell(length) for length in (made.folds()[0], made.depth))
    every, takes = (order.spell(length) for length in (made.gap + 2 * made.depth, made.takes))
    if made.count == 1:
        return (
            f"Crease the tuck of {whose} {first} above the {edge} and stitch it {depth} "
            f"from the crease; it takes {takes} of the length."
        )
    return (
        f"Crease the {made.count} tucks of {whose} {first} above the {edge} and then "
        f"every {every}, and stitch each {depth} from its crease; together they take {takes} "
        "of the length."
    )


def _advice(order: Order, whose: str, made: Tucked, seam: str) -> Iterator[str]:
    """Whether the tucks lie over one another or over the edge."""
    if made.count > 1 and made.gap < made.depth:
        yield (
            f"The tucks of {whose} lie {order.spell(made.depth - made.gap)} over the stitches "
            "of the next."
        )
    if made.lowest < made.depth:
        yield (
            f"The lowest tuck of {whose} hangs {order.spell(made.depth - made.lowest)} below "
            f"{f'the {seam}' if seam else 'its edge'}."
        )
