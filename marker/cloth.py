"""Cloth as it is woven, sold and made ready to lay pieces on."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from marker.errors import BadInput
from marker.geometry import Rect
from marker.units import CM, METRE, YARD, System, ceil_to

THICKEST = 2 * CM
"""No single layer is thicker; a greater figure is a slip of the unit."""
EACH = "each"
"""What a price is per where things are counted, not measured."""


@dataclass(frozen=True)
class Price:
    """What a metre, a yard or one of a thing costs, in the shop's currency."""

    amount: Decimal
    currency: str
    per: str = "m"

    def cost(self, bought: int) -> Decimal:
        """Cost of a bought length (units), or of so many, to the cent, rounded half up."""
        exact = Fraction(self.amount) * bought / {EACH: 1, "yd": YARD}.get(self.per, METRE)
        cents = (exact * 100 + Fraction(1, 2)) // 1
        return Decimal(int(cents)) / 100


@dataclass(frozen=True)
class Repeat:
    """After how much a stripe, check or print comes round again; nought where it doesn't.

    `along` is the lengthwise repeat, measured along the bolt, `across` the crosswise one.
    """

    along: int = 0
    across: int = 0


@dataclass(frozen=True)
class Cloth:
    """A bolt sold by length, or a remnant in hand. Lengths in units of 1/160 mm.

    `selvedge` is the breadth of the firm edge on either side; it is torn off every part
    unless `keep_selvedges`. `squaring` is the strip lost to straighten the shop's cut end.
    A shrinkage, in per cent, above nought means that the cloth is washed before it is laid.
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
    tears: bool = True
    """Whether the cloth tears on the thread; where not, it is cut with shears."""
    length: int = 0
    """All there is of a remnant, as it came; nought for a bolt sold by length."""
    repeat: Repeat = Repeat()
    flaws: tuple[Rect, ...] = ()
    """Zones that no piece may touch, x from the squared end, as the cloth lies on the table."""
    torn_edge: int = 0
    """What a torn edge loses or ripples: pieces are torn larger by it at every torn edge."""
    least_strip: int = 0
    """Strips narrower than this are not torn but cut with shears along a thread."""
    margin: int = 0
    """What shears need between pieces: where they cut, pieces lie at least so far apart."""
    folded: bool = False
    """Laid folded lengthwise, right sides in, and cut through both layers with shears.

    A lay is told as it lies unfolded: every copy has its mirror image across the middle of the
    width, `laid_width` / 2, where the fold was; only pieces that fold lie across it. The image
    of a copy that is cut alone is a place left empty.
    """
    thickness: int = 0
    """Of one layer, as it lies pressed between others; nought where it isn't told."""

    def __post_init__(self) -> None:
        if self.width <= 0 or self.step <= 0:
            raise BadInput(f"cloth {self.key!r}: width and step must be more than nothing")
        if self.usable.across <= 0:
            raise BadInput(
                f"cloth {self.key!r}: two selvedges leave nothing of its width to use; "
                "give a narrower selvedge, or keep the selvedges"
            )
        if self.length and self.longest_lay(self.length) <= 0:
            raise BadInput(
                f"cloth {self.key!r}: squaring and shrinkage leave nothing of its length; "
                "give a narrower squaring, or a longer remnant"
            )
        if self.margin < 0:
            raise BadInput(f"cloth {self.key!r}: a margin between pieces is not below nothing")
        for value in (self.warp_shrinkage, self.weft_shrinkage):
            if not 0 <= value < 50:
                raise BadInput(f"cloth {self.key!r}: shrinkage is from 0 to under 50 per cent")

    @property
    def laid_width(self) -> int:
        """Width on the table: after washing, where the cloth is washed, rounded down."""
        if not self.weft_shrinkage:  # asked for all over, most often of such cloth
            return self.width
        return int(self.width * (1 - Fraction(self.weft_shrinkage) / 100) // 1)

    @property
    def usable(self) -> Rect:
        """The zone across the cloth in which pieces may lie; its x-extent is nothing."""
        edge = 0 if self.keep_selvedges else self.selvedge
        return Rect(0, edge, 0, self.laid_width - edge)

    @property
    def system(self) -> System:
        """The measure it is sold by, told by its step: 127 divides every eighth of an inch."""
        return System.IN if self.step % 127 == 0 else System.CM

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
        """Length to buy for a lay of `length`: the need in whole cutting steps, nought in hand."""
        return 0 if self.length else ceil_to(self.need(length), self.step)

    def taken(self, length: int) -> int:
        """Length that goes on the table for a lay of `length`: the remnant, or what is bought."""
        return self.length or self.buy(length)

    def longest_lay(self, bought: int) -> int:
        """Longest lay that a bought length holds, after washing and squaring."""
        kept = 1 - Fraction(self.warp_shrinkage) / 100
        return int(bought * kept // 1) - self.squaring

    def bolt(self, length: int) -> Rect:
        """The cloth in hand for a lay of `length`, x = 0 at the squared end."""
        return Rect(-self.squaring, 0, self.longest_lay(self.taken(length)), self.laid_width)
