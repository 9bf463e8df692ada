"""What is tried when a cloth is drawn: how much is told, and what earlier attempts have taught."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import IntEnum

from marker.plan.drawing.page import Box

Stance = tuple[str, bool]
"""A letter, and whether the piece stands higher than it is broad."""


class Crowded(Exception):
    """So many pieces would be called out that no one could follow the leaders."""


class Effort(IntEnum):
    """How much is told on the plan itself."""

    FULL = 0
    """Pieces too small for their label are called out to the margin."""
    KEYS = 1
    """They get a key inside; only those too small for that are called out."""
    BARE = 2
    """None is called out; the smallest get nothing."""
    GUIDE = 3
    """Nothing is named but the stretches of a long bolt, which are drawn by themselves."""


@dataclass(frozen=True)
class State:
    """What earlier attempts at one scale have taught."""

    effort: Effort
    away: frozenset[int] = frozenset()
    """Tears whose ring has no room but in a margin."""
    outside: frozenset[str] = frozenset()
    """Pieces named in a margin."""
    forms: dict[Stance, int] = field(default_factory=dict)
    """The fullest form of label that every copy of a piece can hold."""


@dataclass(frozen=True)
class Around:
    """What of a bolt is drawn beside the part that is shown."""

    foreign: tuple[Box, ...] = ()
    """Pieces that belong to a neighbouring part; no label may stand on them."""
    beyond: int = 0
    """So much of the neighbour is drawn after the part, before the names of its sides."""


ALONE = Around()
"""Nothing is drawn beside it."""
