"""A piece to be laid: its size, how it may lie, and the marks it carries.

A piece has a frame of its own: u runs along its length, v across its breadth, both from
0, in units of 1/160 mm. For a panel u = 0 is the waist; for a strip u runs end to end.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from marker.errors import BadInput


class Grain(StrEnum):
    """Where a piece's length lies: along the warp, across the bolt, or as suits the lay."""

    ALONG = "along"
    ACROSS = "across"
    EITHER = "either"


class MarkKind(StrEnum):
    """What a line or point on a piece is for."""

    FOLD = "fold"
    HEM = "hem"
    SEAM = "seam"
    NOTCH = "notch"


@dataclass(frozen=True)
class Mark:
    """A line on a piece from (u0, v0) to (u1, v1); a notch is a short line in from an edge."""

    kind: MarkKind
    name: str
    u0: int
    v0: int
    u1: int
    v1: int


@dataclass(frozen=True)
class Edges:
    """What each edge becomes: `start` is u = 0, `end` u = length, `low` v = 0, `high` v = breadth.

    An edge without a name of its own is an empty string.
    """

    start: str = ""
    end: str = ""
    low: str = ""
    high: str = ""


@dataclass(frozen=True)
class Piece:
    """A rectangular piece, cut `count` times.

    `grain` says how its length may lie. `up` names the axis that points up when worn:
    "length" for a panel, "breadth" for a band or a facing; on one-way cloth every piece
    of `either` grain turns its `up` along the warp. Raises `BadInput` on an empty size.
    """

    letter: str
    name: str
    length: int
    breadth: int
    count: int
    cloth: str
    grain: Grain = Grain.ALONG
    up: str = "length"
    edges: Edges = Edges()
    marks: tuple[Mark, ...] = ()
    garment: str = ""
    wearer: str = ""

    def __post_init__(self) -> None:
        if self.length <= 0 or self.breadth <= 0 or self.count <= 0:
            raise BadInput(f"piece {self.name!r}: length, breadth and count must be above nothing")

    def turns(self, one_way: bool) -> tuple[int, ...]:
        """The quarter turns (degrees) in which the solvers may lay it; 180 is left to print.

        Turn 0 lays the length along the bolt, 90 across it. On one-way cloth an `either`
        piece keeps one turn, the one that lays `up` along the warp.
        """
        if self.grain is Grain.EITHER and one_way:
            return (0,) if self.up == "length" else (90,)
        return {Grain.ALONG: (0,), Grain.ACROSS: (90,), Grain.EITHER: (0, 90)}[self.grain]
