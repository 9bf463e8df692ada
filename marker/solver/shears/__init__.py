"""Lays for the shears: rectangles in any arrangement on a strip, as short as can be.

`free` searches (`lay`, `search`): bounds, annealed orders of pieces on a skyline (`chains`,
`skyline`), pieces crowded and moved apart (`crowds`, `crowd`), all lays of a length gone through
(`raising`, `exhaust`, `tree`), constraint programming (`ruling` asks it for single lengths).
`cuts` tells what is left over and how many straight cuts there are.
"""

from __future__ import annotations

from marker.solver.shears.cuts import least_cuts, leftovers, straight_cuts
from marker.solver.shears.lay import Free, free

__all__ = ["Free", "free", "least_cuts", "leftovers", "straight_cuts"]
