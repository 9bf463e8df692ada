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
from marker.piece import Grain
from marker.referee.laid import Laid
from marker.referee.words import place, plain, spell


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

    def buy(self, length: int) -> int:
        """Length to buy for a lay of `length`, in whole cutting steps."""
        steps = ceil((self.squaring + length) / self.kept / self.step)
        return steps * self.step

    def bolt(self, length: int) -> Rect:
        """The cloth in hand for a lay of `length`, after washing."""
        end = floor(self.buy(length) * self.kept) - self.squaring
        return Rect(-self.squaring, 0, end, self.width)


def shop(lay: Lay) -> Shop:
    """Work out the cloth of a lay; figures that make no sense are reported by `cloth_faults`."""
    cloth = lay.cloth
    width = floor(cloth.width * (1 - Fraction(cloth.weft_shrinkage) / 100))
    edge = 0 if cloth.keep_selvedges else cloth.selvedge
    kept = 1 - Fraction(cloth.warp_shrinkage) / 100
    return Shop(edge, width - edge, width, cloth.squaring, cloth.step, kept)


def cloth_faults(lay: Lay) -> Iterator[str]:
    """Figures of the cloth that no cloth has."""
    cloth = lay.cloth
    for field in ("selvedge", "squaring"):
        if getattr(cloth, field) < 0:
            yield f"The {field} of the cloth is {spell(getattr(cloth, field))}."


def bolt_faults(lay: Lay, goods: Shop) -> Iterator[str]:
    """The bolt must be what is bought for this length, no more and no less."""
    bolt = goods.bolt(lay.length)
    if lay.bolt != bolt:
        yield (
            f"The bolt lies at {place(lay.bolt)}, but {spell(goods.buy(lay.length))} is bought "
            f"for this lay, which leaves {place(bolt)}."
        )


def length_faults(lay: Lay, goods: Shop, pieces: Sequence[Laid]) -> Iterator[str]:
    """The length is the furthest edge of a piece, and never less than simple facts allow."""
    furthest = max((spot.rect.x1 for spot in pieces), default=0)
    if lay.length != furthest:
        yield (
            f"The lay is said to be {spell(lay.length)} long, "
            f"but the furthest piece ends at {spell(furthest)}."
        )
    area = sum(piece.length * piece.breadth * piece.count for piece in lay.pieces)
    if area > lay.length * (goods.high - goods.low):
        yield f"{spell(lay.length)} of this cloth has less area than its pieces."
    for piece in lay.pieces:
        least = {
            Grain.ALONG: piece.length,
            Grain.ACROSS: piece.breadth,
            Grain.EITHER: min(piece.length, piece.breadth),
        }[piece.grain]
        if least > lay.length:
            yield (
                f"Piece {plain(piece.letter)} takes {spell(least)} along the cloth, "
                f"more than the {spell(lay.length)} of the lay."
            )


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
    # One step less than is bought can't hold even the bound: then the step is proved.
    less = goods.buy(lay.length) - goods.step
    if floor(less * goods.kept) - goods.squaring < lay.bound <= lay.length:
        return Proof.STEP
    return Proof.OPEN
