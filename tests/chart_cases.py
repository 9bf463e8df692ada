"""Cases that the tests of charts share."""

from __future__ import annotations

from marker import casefile
from marker.casefile import Case

SKIRT = """
title = "Chart"
units = "cm"
[wearer.tove]
waist = "72 cm"
front = "84 cm"
side = "86 cm"
back = "88 cm"
[cloth.main]
name = "Red linen"
width = "150 cm"
selvedge = "1 cm"
squaring = "2 cm"
[garment.skirt]
seam = "1 cm"
"""
PANELS = """
[garment.skirt.panels]
count = 4
width = "40 cm"
"""


def case(chart: str, *, panels: str = PANELS, more: str = "") -> Case:
    """A straight skirt with a chart; `more` are further tables."""
    return casefile.parse(f"{SKIRT}{panels}{more}\n[chart]\n{chart}\n", "skirt.toml")
