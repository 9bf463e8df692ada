"""A practice swatch: what to sew on a strip of the cloth before all of it is gauged."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from marker.gauging.stitched import Gauging
from marker.units import CM, INCH, System


@dataclass(frozen=True)
class Practice:
    """A strip sewn as the garment will be: `pleats` of the fitted stitch between two marks.

    `strip` is the length between the marks, at most 10 cm or 4 in and a whole number of pleats
    where one goes into it; `expected` is what the estimate says it draws up to, nought where
    nothing is known. Units of 1/160 mm.
    """

    strip: Fraction
    pleats: int
    expected: Fraction


def practice(plan: Gauging, units: System) -> Practice:
    """The swatch for a plan, in the measure it is printed in."""
    longest = 4 * INCH if units is System.IN else 10 * CM
    pleats = max(1, int(longest // (2 * plan.fitted)))
    return Practice(2 * pleats * plan.fitted, pleats, pleats * plan.packed)
