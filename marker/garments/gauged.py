"""How a garment's top is drawn up: the keys of its running stitches."""

from __future__ import annotations

from pydantic import Field

from marker.garments.order import Usual
from marker.garments.words import Size, Strict

STITCH = Usual("6 mm", "1/4 in")
"""Over and under alike (common practice, no source)."""


class Gauging(Strict):
    """The keys of the stitches; all have a usual value."""

    stitch: Size | None = Field(
        default=None, description='one running stitch, as long as its space, such as "6 mm"'
    )
