"""Longer and shorter stitches: what each comes to, and which this cloth takes."""

from __future__ import annotations

from dataclasses import replace

from marker.gauging.stitched import Gauging
from marker.units import INCH, MM, System, ceil_to

ROWS = 5
"""So many stitches are weighed against one another."""


def step(units: System) -> int:
    """The step that stitches are changed by: 1 mm, or 1/16 in."""
    return INCH // 16 if units is System.IN else MM


def around(plan: Gauging, units: System) -> tuple[Gauging, ...]:
    """The plan with five stitches a step apart, its own in their middle where that can be.

    None is so long that a panel takes no whole pleat of it.
    """
    by, longest = step(units), plan.panel / 2
    least = plan.stitch - min(2, (plan.stitch - 1) // by) * by
    stitches = [least + row * by for row in range(ROWS)]
    return tuple(replace(plan, stitch=each) for each in stitches if each <= longest)


def advised(plan: Gauging, units: System) -> int | None:
    """The shortest stitch, in whole steps, whose pleats close up; thicker cloth takes longer ones.

    Never under 1/8 in or 3 mm, the finest that Hand Sewing Lessons, Model 12, teaches. None
    where nothing is known of the cloth, or where not even one pleat a panel closes up.
    """
    finest = 2 * step(units) if units is System.IN else 3 * MM
    if not plan.packed:
        return None
    most = int(plan.drawn // (plan.panels * plan.packed))
    if not most:
        return None
    return max(finest, ceil_to(-int(-plan.panel / (2 * most) // 1), step(units)))
