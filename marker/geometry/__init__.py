"""Outlines on the cloth; x runs along the bolt, y from the near selvedge across."""

from marker.geometry.polygon import Polygon
from marker.geometry.rect import Rect

__all__ = ["Polygon", "Rect"]
