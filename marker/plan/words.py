"""The few phrases that the terminal, the plan and the sheet must say alike."""

from __future__ import annotations

from marker.lay import Lay, Proof
from marker.units import Rounding, System, format_bought, format_length


def buy(lay: Lay, units: System) -> str:
    """The length to ask for in the shop: "3.40 m"."""
    return format_bought(lay.buy, units)


def need(lay: Lay, units: System) -> str:
    """The exact length taken off the bolt, rounded up in print."""
    return format_length(lay.need, units, Rounding.UP)


def proof(lay: Lay, units: System) -> str:
    """What is known of the length, and no more than that."""
    if lay.proof is Proof.LENGTH:
        return "shortest there is (proved)"
    if lay.proof is Proof.STEP:
        step = format_length(lay.cloth.step, units)
        return f"no shorter lay saves a step of {step} (proved)"
    return f"within {gap(lay)} of the bound"


def gap(lay: Lay) -> str:
    """How far the length may be above the shortest, in per cent of the bound, rounded up."""
    tenths = -(-(lay.length - lay.bound) * 1000 // lay.bound)
    return f"{tenths / 10:.1f} %"


def used(lay: Lay) -> str:
    """Share of the lay that becomes pieces: area of pieces / area of lay, to 0.1 % rounded down.

    The lay is taken over the whole width, selvedges counted (marker efficiency as in NIMI,
    Trade Theory 2024, p. 32).
    """
    return f"{_used_tenths(lay) / 10:.1f} %"


def waste(lay: Lay) -> str:
    """The rest of the lay, so that used and waste make 100 %."""
    return f"{(1000 - _used_tenths(lay)) / 10:.1f} %"


def _used_tenths(lay: Lay) -> int:
    return lay.used * 1000 // (lay.length * lay.cloth.laid_width)
