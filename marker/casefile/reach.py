"""The table that says what to make most of from cloth that is there."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from marker.garments.words import Strict, Text

Most = Literal["round", "length", "facing"]


class ReachTable(Strict):
    """What `marker reach` is to make most of, and of which garment."""

    most: Most | None = Field(default=None, description="what to make most of")
    garment: Text | None = Field(default=None, description="the key of the garment")
