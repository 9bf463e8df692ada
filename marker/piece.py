"""A piece to be laid: its size, how it may lie, and the marks it carries.

A piece has a frame of its own: u runs along its length, v across its breadth, both from
0, in units of 1/160 mm. For a panel u = 0 is the waist; for a strip u runs end to end.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
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


class Side(StrEnum):
    """An edge of a piece, named as in `Edges`; `EITHER_SIDE` is low or high, as suits the lay."""

    START = "start"
    END = "end"
    LOW = "low"
    HIGH = "high"
    EITHER_SIDE = "either side"


@dataclass(frozen=True)
class AtSelvedge:
    """An edge that must lie at a selvedge: no further than `within` from the usable cloth's edge.

    Two of them, for low and high, ask for a selvedge on both.
    """

    edge: Side
    within: int = 0


class Wise(StrEnum):
    """The way in which a repeat comes round."""

    LENGTHWISE = "lengthwise"
    """Along the bolt."""
    CROSSWISE = "crosswise"
    """Across the width."""


@dataclass(frozen=True)
class Match:
    """A point of the piece's frame that falls in one place of the repeat for a whole set.

    All points of the set `name`, of whatever pieces, lie a whole number of repeats of the
    cloth apart, lengthwise or crosswise; where in the repeat is free. No two pieces of a set
    lie half a turn apart, since the print would run the other way from the point on. The point
    may lie off the piece: so each breadth of a skirt can go on where the last one ended.
    """

    name: str
    wise: Wise
    u: int = 0
    v: int = 0


@dataclass(frozen=True)
class Pieced:
    """A strip joined from segments. sum(segments) - 2 x seam x (k - 1) >= total.

    `strip` names the joined strip through the whole record. Before the lay is made one piece
    of count 1 stands for all segments, their number (up to `most`) and lengths (from `least`)
    free; in a lay every segment is a piece. With a `pitch`, the finished length of every
    segment (its length less two seams) is a whole number of pitches, so that joins meet the
    skirt's seams.
    """

    strip: str
    total: int
    seam: int
    least: int
    most: int
    pitch: int = 0


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
    torn: bool = True
    """False where no edge of it may be torn: tears beside it are cut along a thread."""
    selvedges: tuple[AtSelvedge, ...] = ()
    matches: tuple[Match, ...] = ()
    pieced: Pieced | None = None
    also: tuple[str, ...] = ()
    """Other cloths that it may be cut from as well as `cloth`, until a lay has settled it."""

    def __post_init__(self) -> None:
        if self.length <= 0 or self.breadth <= 0 or self.count <= 0:
            raise BadInput(f"piece {self.name!r}: length, breadth and count must be above nothing")

    def of_length(self, length: int) -> Piece:
        """The piece cut to another length, as a segment of a strip is.

        A mark in the half towards its end keeps its distance from that end.
        """
        moved = length - self.length

        def at(u: int) -> int:
            return u + moved if 2 * u > self.length else u

        marks = tuple(replace(mark, u0=at(mark.u0), u1=at(mark.u1)) for mark in self.marks)
        return replace(self, length=length, marks=marks)

    def turns(self, one_way: bool) -> tuple[int, ...]:
        """The quarter turns (degrees) in which the solvers may lay it; 180 is left to print.

        Turn 0 lays the length along the bolt, 90 across it. On one-way cloth an `either`
        piece keeps one turn, the one that lays `up` along the warp.
        """
        if self.grain is Grain.EITHER and one_way:
            return (0,) if self.up == "length" else (90,)
        return {Grain.ALONG: (0,), Grain.ACROSS: (90,), Grain.EITHER: (0, 90)}[self.grain]
