"""Outlines on the cloth; x runs along the bolt, y from the near selvedge across."""

from marker.geometry.curves import Arc, Cubic, Line
from marker.geometry.outline import Edge, Outline
from marker.geometry.polygon import Polygon
from marker.geometry.rect import Rect

__all__ = ["Arc", "Cubic", "Edge", "Line", "Outline", "Polygon", "Rect"]
