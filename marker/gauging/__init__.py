"""Pleats: how many, where they lie, and how tight they stand. Reckoned from the record alone."""

from marker.gauging.guide import RowGuide, row_guide
from marker.gauging.read import gauging
from marker.gauging.stitched import Gauging

__all__ = ["Gauging", "RowGuide", "gauging", "row_guide"]
