"""Nesting: any outlines on a strip of cloth, laid as short as a search finds them.

`nest` searches with compiled kernels on two threads. What the search proposes is brought to
whole units by a linear program and judged exactly by outlines alone, so that it never
certifies itself.
"""

from marker.solver.nest.crew import nest
from marker.solver.nest.kinds import Nested, NestKind, NestSpot, Phase, ShapeRule

__all__ = ["NestKind", "NestSpot", "Nested", "Phase", "ShapeRule", "nest"]
