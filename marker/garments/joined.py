"""Strips joined end to end into one: whole breadths, equal strips, or any that suit the cloth."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from pydantic import Field

from marker.cloth import Cloth
from marker.garments.allowance import longest_across
from marker.garments.order import Order, Usual
from marker.garments.words import MOST_STRIPS, Size, Strict, Strips
from marker.piece import Pieced
from marker.units import ceil_to

SHORTEST = Usual("20 cm", "8 in")
SEGMENTS = 12
"""The most segments of a strip pieced freely, where the file says nothing."""
MOST_SEGMENTS = 100


class Asked(Strict):
    """The keys of what is joined from strips: how many, or "free", and then what free ones are."""

    strips: Strips | None = Field(
        default=None,
        description=f'how many equal strips are joined, from 1 to {MOST_STRIPS}, or "free"',
    )
    shortest: Size | None = Field(
        default=None, description='the shortest cut length of a free strip, such as "20 cm"'
    )
    most: int | None = Field(
        default=None,
        ge=1,
        le=MOST_SEGMENTS,
        description=f"how many free strips there may be, from 1 to {MOST_SEGMENTS}",
    )


@dataclass(frozen=True)
class Joined:
    """A strip to be joined: `part` names its table in the file, `cloths` may give it.

    `sewn` is what it must measure once joined, without the seams at its two ends; `widest`
    is that length where the width of the garment's panels is open and they are at their widest.
    """

    part: str
    cloths: Sequence[Cloth]
    lie: str
    torn: bool
    seam: int
    sewn: int
    widest: int

    @property
    def across(self) -> int:
        """The longest strip that lies across every one of the cloths."""
        return min(self.room(cloth) for cloth in self.cloths)

    def room(self, cloth: Cloth) -> int:
        """The longest strip that lies across one of them."""
        return longest_across(cloth, self.cloths, self.lie, self.torn)


def free_only(order: Order, part: str, asked: Asked) -> None:
    """Refuse the keys of free strips where the strips are not."""
    for key in ("shortest", "most"):
        if asked.strips != "free" and getattr(asked, key) is not None:
            raise order.fault(
                f'{part}.{key} is for strips of free lengths; write {part}.strips = "free", '
                "or take it out"
            )


def fewest(order: Order, joined: Joined, longest: int) -> int:
    """The least k with k x longest - 2s(k - 1) >= sewn + 2s, for the widest garment.

    So a garment that is let out asks for longer strips, and for no more of them. For whole
    breadths this is the ruffle's width over that of the cloth, up to the next whole (Baldt,
    Clothing for Women, 1916). Raises `BadInput` where a strip is all seam.
    """
    room = longest - 2 * joined.seam
    if room <= 0:
        raise order.fault(
            f"{joined.part}: strips of at most {order.spell(max(longest, 0))} are all seam; give "
            "a wider cloth or a narrower seam"
        )
    count = -(-joined.widest // room)
    if count > MOST_STRIPS:
        raise order.fault(f"{joined.part} takes {count} strips; {MOST_STRIPS} are the most")
    return count


def equal(order: Order, joined: Joined, count: int, longest: int) -> int:
    """The cut length of each of `count` equal strips, rounded up to what can be measured.

    Where what they are cut from, `longest`, ends before the next measurable length, so do they.
    """
    exact = -(-(joined.sewn + 2 * joined.seam * count) // count)
    rounded = ceil_to(exact, order.grid)
    return longest if exact <= longest < rounded else rounded


def free(order: Order, joined: Joined, asked: Asked) -> Pieced:
    """What strips of free number and lengths must come to once joined: sewn + 2s."""
    shortest = order.usual(asked.shortest, SHORTEST)
    if shortest <= 2 * joined.seam:
        raise order.fault(
            f"{joined.part}.shortest is {order.spell(shortest)}, and two seams of "
            f"{order.spell(joined.seam)} leave nothing of it; give a greater length"
        )
    total = joined.sewn + 2 * joined.seam
    if shortest > total:
        raise order.fault(
            f"{joined.part}.shortest is {order.spell(shortest)}, and all of it takes "
            f"{order.spell(total)}; give a smaller length"
        )
    return Pieced(
        strip=f"{order.key}/{joined.part}",
        total=total,
        seam=joined.seam,
        least=shortest,
        most=asked.most or SEGMENTS,
    )
