"""The few phrases that the terminal, the plan and the sheet must say alike."""

from __future__ import annotations

from fractions import Fraction

from marker.lay import Lay, Mode, Proof
from marker.units import (
    CM,
    INCH,
    Rounding,
    System,
    Units,
    beside,
    ceil_to,
    format_bought,
    format_length,
)


def buy(lay: Lay, units: Units) -> str:
    """The length to ask for in the shop, "3.40 m", or that the cloth is there already."""
    return "in hand" if lay.cloth.length else format_bought(lay.buy, units)


def heading(lay: Lay, units: Units) -> str:
    """What the cloth costs in length: "Buy 3.40 m", or what is used of a remnant in hand."""
    if not lay.cloth.length:
        return f"Buy {buy(lay, units)}"
    whole, taken, left = remnant(lay, units)
    return f"From the remnant of {whole}: {taken} used, {left} left"


def remnant(lay: Lay, units: Units) -> tuple[str, str, str]:
    """A remnant's length, what is used of it and what is left; the three agree in print.

    What there is is rounded down and what is used up, to 1 cm or 1/8 in, so that nothing is
    promised that isn't there.
    """
    whole, taken, left = (
        beside(units, lambda system, at=at: _remnant(lay, system)[at])  # type: ignore[misc]
        for at in range(3)
    )
    return whole, taken, left


def _remnant(lay: Lay, system: System) -> tuple[str, str, str]:
    grid = CM if system is System.CM else INCH // 8
    whole = lay.cloth.length // grid * grid
    taken = min(ceil_to(lay.need, grid), whole)
    spell = format_bought if system is System.CM else format_length
    return spell(whole, system), spell(taken, system), spell(whole - taken, system)


def need(lay: Lay, units: Units) -> str:
    """The exact length taken off the bolt, rounded up in print."""
    return format_length(lay.need, units, Rounding.UP)


def proof(lay: Lay, units: Units) -> str:
    """Which of the two is proved of the length, and no more than that."""
    if lay.proof is Proof.LENGTH:
        return "proved: no shorter lay"
    if lay.cloth.length:
        bound = "the area's bound" if area_alone(lay) else "the bound"
        return f"it fits; the least use is open, within {gap(lay)} of {bound}"
    if lay.proof is Proof.STEP:
        step = format_length(lay.cloth.step, units)
        return f"proved: one step ({step}) less is not enough"
    if area_alone(lay):
        return f"open: within {gap(lay)} of the area's bound"
    return f"open: within {gap(lay)} of the bound"


def area_alone(lay: Lay) -> bool:
    """Whether nothing bounds a lay of shaped pieces better than their area over the width."""
    return lay.shaped and lay.bound <= -(-lay.used // lay.cloth.usable.across)


def parted(lay: Lay) -> str:
    """How pieces come off this cloth, in a word: torn or cut."""
    return "torn" if lay.mode is Mode.TEAR else "cut"


def side(lay: Lay) -> str:
    """What the two sides of a cloth are: a selvedge, or the mere edge of a scrap."""
    asked = any(piece.selvedges for piece in lay.pieces)
    return "selvedge" if lay.cloth.selvedge or asked else "edge"


def order(lay: Lay) -> str:
    """The heading over the steps."""
    if lay.mode is Mode.SHEARS:
        return "Chalk and cut in this order"
    if lay.regions:
        return "Tear, then chalk and cut, in this order"
    cuts = any(tear.cut for tear in lay.tears)
    return "Tear and cut in this order" if cuts else "Tear in this order"


def gap(lay: Lay) -> str:
    """How far the length may be above the shortest, in per cent of the bound, rounded up."""
    tenths = -(-(lay.length - lay.bound) * 1000 // lay.bound)
    return f"{tenths / 10:.1f} %"


def used(lay: Lay) -> str:
    """Share of the lay that becomes pieces: area of pieces / area of lay, to 0.1 % rounded down.

    The lay is taken over the whole width, selvedges counted (marker efficiency as in NIMI,
    Trade Theory 2024, p. 32).
    """
    return f"{lay.used * 1000 // (lay.length * lay.cloth.laid_width) / 10:.1f} %"


def waste(lay: Lay) -> str:
    """Share of the whole cloth that becomes neither a piece nor a remnant to keep, to 0.1 %.

    It is all that is thrown away: what is squared off, selvedges that are parted from the
    pieces, and what lies between and behind them. This is the one meaning of the word.
    """
    return share(Fraction(lay.wasted, lay.bolt.area))


def share(part: Fraction) -> str:
    """A part of a whole, to the nearest 0.1 %."""
    tenths = (2000 * part.numerator + part.denominator) // (2 * part.denominator)
    if part and not tenths:
        return "under 0.1 %"
    return f"{tenths / 10:.1f} %"
