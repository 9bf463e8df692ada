"""Cloth as it is woven, sold and made ready to lay pieces on."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from marker.errors import BadInput
from marker.geometry import Rect
from marker.units import METRE, YARD, ceil_to


@dataclass(frozen=True)
class Price:
    """What a metre or a yard costs, in the shop's currency."""

    amount: Decimal
    currency: str
    per: str = "m"

    def cost(self, bought: int) -> Decimal:
        """Cost of a bought length (units), to the cent, rounded half up."""
        exact = Fraction(self.amount) * bought / (YARD if self.per == "yd" else METRE)
        cents = (exact * 100 + Fraction(1, 2)) // 1
        return Decimal(int(cents)) / 100


@dataclass(frozen=True)
class Cloth:
    """One bolt of cloth. Lengths in units of 1/160 mm, shrinkage in per cent.

    `selvedge` is the breadth of the firm edge on either side; it is torn off every part
    unless `keep_selvedges`. `squaring` is the strip lost to straighten the shop's cut end.
    A shrinkage above nought means that the cloth is washed before it is laid.
    Raises `BadInput` where the figures clash.
    """

    key: str
    name: str
    width: int
    step: int
    selvedge: int = 0
    keep_selvedges: bool = False
    squaring: int = 0
    one_way: bool = False
    warp_shrinkage: Decimal = Decimal(0)
    weft_shrinkage: Decimal = Decimal(0)
    price: Price | None = None
    grams: Decimal | None = None
    """Mass in g/m2."""

    def __post_init__(self) -> None:
        if self.width <= 0 or self.step <= 0:
            raise BadInput(f"cloth {self.key!r}: width and step must be more than nothing")
        if self.usable.across <= 0:
            raise BadInput(
                f"cloth {self.key!r}: two selvedges leave nothing of its width to use; "
                "give a narrower selvedge, or keep the selvedges"
            )
        for value in (self.warp_shrinkage, self.weft_shrinkage):
            if not 0 <= value < 50:
                raise BadInput(f"cloth {self.key!r}: shrinkage is from 0 to under 50 per cent")

    @property
    def laid_width(self) -> int:
        """Width on the table: after washing, where the cloth is washed, rounded down."""
        return int(self.width * (1 - Fraction(self.weft_shrinkage) / 100) // 1)

    @property
    def usable(self) -> Rect:
        """The zone across the cloth in which pieces may lie; its x-extent is nothing."""
        edge = 0 if self.keep_selvedges else self.selvedge
        return Rect(0, edge, 0, self.laid_width - edge)

    @property
    def washed(self) -> bool:
        """Whether the cloth is washed, and so shrunk, before it is laid."""
        return bool(self.warp_shrinkage or self.weft_shrinkage)

    def need(self, length: int) -> int:
        """Exact length of cloth that a lay of `length` takes off the bolt, rounded up a unit.

        need = (squaring + length) / (1 - shrinkage): the cloth shrinks by a part of what
        is bought, so adding the percentage falls short (change in per cent of the length
        before washing: ISO 5077).
        """
        kept = 1 - Fraction(self.warp_shrinkage) / 100
        return int(-(-(self.squaring + length) / kept // 1))

    def buy(self, length: int) -> int:
        """Length to buy for a lay of `length`: the need in whole cutting steps."""
        return ceil_to(self.need(length), self.step)

    def longest_lay(self, bought: int) -> int:
        """Longest lay that a bought length holds, after washing and squaring."""
        kept = 1 - Fraction(self.warp_shrinkage) / 100
        return int(bought * kept // 1) - self.squaring

    def bolt(self, length: int) -> Rect:
        """The cloth in hand for a lay of `length`, x = 0 at the squared end."""
        return Rect(-self.squaring, 0, self.longest_lay(self.buy(length)), self.laid_width)
