"""Lays for the shears: rectangles in any arrangement on a strip, as short as can be.

`free` searches (`lay`, `search`): bounds, annealed orders of pieces on a skyline (`chains`,
`skyline`), all lays of a length gone through (`raising`, `exhaust`, `tree`), constraint
programming. `cuts` tells what is left over and how many straight cuts there are.
"""

from __future__ import annotations

from marker.solver.shears.cuts import least_cuts, leftovers, straight_cuts
from marker.solver.shears.lay import Free, free

__all__ = ["Free", "free", "least_cuts", "leftovers", "straight_cuts"]
