"""Is the bolt what the shop sells for this lay, and does the bound prove what is claimed?

Need, shrinkage and cutting step are worked out here afresh from the trade's own formulas
(need = (squaring + length) / (1 - shrinkage), bought in whole steps; common practice, and
ISO 5077 for the sense of a percentage).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, floor

from marker.geometry import Rect
from marker.lay import Lay, Proof
from marker.referee.facts import short_faults
from marker.referee.laid import Laid
from marker.referee.words import place, spell


@dataclass(frozen=True)
class Shop:
    """The referee's own account of a cloth, in units."""

    low: int
    high: int
    """Usable cloth across, from the near selvedge."""
    width: int
    squaring: int
    step: int
    kept: Fraction
    """What of a length is left after washing."""
    in_hand: int = 0
    """All there is of a remnant, before washing; nought where the cloth is bought."""

    def buy(self, length: int) -> int:
        """Length to buy for a lay of `length`, in whole cutting steps; nothing of a remnant."""
        if self.in_hand:
            return 0
        steps = ceil((self.squaring + length) / self.kept / self.step)
        return steps * self.step

    def bolt(self, length: int) -> Rect:
        """The cloth in hand for a lay of `length`, after washing."""
        taken = self.in_hand or self.buy(length)
        end = floor(taken * self.kept) - self.squaring
        return Rect(-self.squaring, 0, end, self.width)


def shop(lay: Lay) -> Shop:
    """Work out the cloth of a lay; figures that make no sense are reported by `cloth_faults`."""
    cloth = lay.cloth
    width = floor(cloth.width * (1 - Fraction(cloth.weft_shrinkage) / 100))
    edge = 0 if cloth.keep_selvedges else cloth.selvedge
    kept = 1 - Fraction(cloth.warp_shrinkage) / 100
    return Shop(edge, width - edge, width, cloth.squaring, cloth.step, kept, cloth.length)


def cloth_faults(lay: Lay) -> Iterator[str]:
    """Figures of the cloth that no cloth has."""
    cloth = lay.cloth
    figures = {
        "selvedge": cloth.selvedge,
        "squaring": cloth.squaring,
        "length": cloth.length,
        "lengthwise repeat": cloth.repeat.along,
        "crosswise repeat": cloth.repeat.across,
        "allowance for a torn edge": cloth.torn_edge,
        "least strip to tear": cloth.least_strip,
        "margin between pieces": cloth.margin,
    }
    for field, value in figures.items():
        if value < 0:
            yield f"The {field} of the cloth is {spell(value)}."


def bolt_faults(lay: Lay, goods: Shop) -> Iterator[str]:
    """The bolt is what is bought for this length, no more and no less, or the whole remnant."""
    bolt = goods.bolt(lay.length)
    if goods.in_hand:
        yield from _remnant_faults(lay, bolt, goods.in_hand)
    elif lay.bolt != bolt:
        yield (
            f"The bolt lies at {place(lay.bolt)}, but {spell(goods.buy(lay.length))} is bought "
            f"for this lay, which leaves {place(bolt)}."
        )


def _remnant_faults(lay: Lay, bolt: Rect, in_hand: int) -> Iterator[str]:
    if lay.bolt != bolt:
        yield (
            f"The bolt lies at {place(lay.bolt)}, but the remnant in hand is {spell(in_hand)}, "
            f"which leaves {place(bolt)}."
        )
    if lay.length > bolt.x1:
        yield (
            f"The lay is {spell(lay.length)} long, but the remnant in hand leaves only "
            f"{spell(bolt.x1)} for it."
        )


def length_faults(lay: Lay, goods: Shop, pieces: Sequence[Laid]) -> Iterator[str]:
    """The length is the furthest edge of a piece, and never less than simple facts allow."""
    furthest = max((spot.rect.x1 for spot in pieces), default=0)
    if lay.length != furthest:
        yield (
            f"The lay is said to be {spell(lay.length)} long, "
            f"but the furthest piece ends at {spell(furthest)}."
        )
    yield from short_faults(lay, goods.high - goods.low)


def proof_faults(lay: Lay, goods: Shop) -> Iterator[str]:
    """The claim must be exactly what the bound proves: no more, and nothing held back."""
    if lay.bound <= 0:
        yield f"The bound is {spell(lay.bound)}; it must be more than nothing."
    if lay.bound > lay.length:
        yield (
            f"The bound of {spell(lay.bound)} is above the length of {spell(lay.length)}, "
            "so one of them is false."
        )
    if not lay.bound_by.strip():
        yield "Nothing says how the bound was found."
    proved = _proved(lay, goods)
    if lay.proof != proved:
        yield (
            f"The claim is {lay.proof!s}, but a bound of {spell(lay.bound)} under a length of "
            f"{spell(lay.length)} makes it {proved!s}."
        )


def _proved(lay: Lay, goods: Shop) -> Proof:
    if lay.bound == lay.length:
        return Proof.LENGTH
    # One step less than is bought can't hold even the bound: then the step is proved. Of a
    # remnant nothing is bought, so that no step can be saved; a shorter use may exist.
    less = goods.buy(lay.length) - goods.step
    if floor(less * goods.kept) - goods.squaring < lay.bound <= lay.length:
        return Proof.STEP
    return Proof.OPEN
