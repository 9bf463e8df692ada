"""Pleats: how many, where they lie, and how tight they stand. Reckoned from the record alone."""

from marker.gauging.guide import RowGuide, row_guide
from marker.gauging.pressed import Crease, Leg, Pressed
from marker.gauging.quarters import Quarter, quarters
from marker.gauging.read import gauging, pressed
from marker.gauging.steps import advised, around
from marker.gauging.stitched import Gauging
from marker.gauging.swatch import Practice, practice

__all__ = [
    "Crease",
    "Gauging",
    "Leg",
    "Practice",
    "Pressed",
    "Quarter",
    "RowGuide",
    "advised",
    "around",
    "gauging",
    "practice",
    "pressed",
    "quarters",
    "row_guide",
]
