"""A piece to be laid: its size and shape, how it may lie, and the marks it carries.

A piece has a frame of its own: u runs along its length, v across its breadth, both from
0, in units of 1/160 mm. For a panel u = 0 is the waist; for a strip u runs end to end.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum
from functools import cached_property

from marker.errors import BadInput
from marker.geometry import Outline, Polygon, Rect


class Grain(StrEnum):
    """Where a piece's length lies: along the warp, across the bolt, as suits, or on the bias."""

    ALONG = "along"
    ACROSS = "across"
    EITHER = "either"
    BIAS = "bias"
    """At 45 degrees to the warp, either way; only a piece with an outline lies so."""


TURNS = {
    Grain.ALONG: (0, 180),
    Grain.ACROSS: (90, 270),
    Grain.EITHER: (0, 90, 180, 270),
    Grain.BIAS: (45, 135, 225, 315),
}
"""The turns (degrees) that a grain allows on cloth without an up."""


class MarkKind(StrEnum):
    """What a line or point on a piece is for."""

    FOLD = "fold"
    HEM = "hem"
    SEAM = "seam"
    NOTCH = "notch"
    CHALK = "chalk"
    """Chalked while the piece is sewn, as quarter points are; plans of a lay leave it out."""


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

    @property
    def named(self) -> tuple[str, ...]:
        """The names that there are, each once."""
        return tuple(dict.fromkeys(filter(None, (self.start, self.end, self.low, self.high))))


FACE = "face"
"""Not an edge, but the cloth between them, on which a pocket is sewn."""


@dataclass(frozen=True)
class Meeting:
    """What one named edge of a piece is sewn to, or becomes, in the trade's words.

    `edge` is a name among the piece's `Edges`, or `FACE`; where two edges share the name it is
    said of both. `what` goes on after "meets": "the next panel's seam, notch to notch". `pieces`
    are the names of the pieces that it is sewn to, in the same garment; none where an edge is
    turned in or hemmed.
    """

    edge: str
    what: str
    pieces: tuple[str, ...] = ()


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


HALF_ROOT = 0.5**0.5
SETTLED = 4
"""Times an outline is set against 0, 0 anew, since its polygon is rounded where it stands."""


@dataclass(frozen=True)
class Piece:
    """A piece, cut `count` times: a rectangle, or of any `outline`.

    The outline is that of the cut piece in the piece's frame; its polygon stands against 0, 0
    and measures `length` by `breadth`, so `Piece.shaped` is the way to make one. `grain` says
    how its length may lie. `up` names the axis that points up when worn: "length" for a panel,
    "breadth" for a band or a facing; on one-way cloth every piece of `either` grain turns its
    `up` along the warp. Raises `BadInput` on an empty size, and where figures clash.
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
    outline: Outline | None = None
    """The true shape; a rectangle has none."""
    mirrored: int = 0
    """How many of the copies are cut turned over (v to breadth - v), as one of each pair is."""
    folds: bool = False
    """Whether it is the same on both sides of v = breadth / 2, so that it may lie on a fold."""
    meets: tuple[Meeting, ...] = ()
    """What its named edges are sewn to."""

    def __post_init__(self) -> None:
        if self.length <= 0 or self.breadth <= 0 or self.count <= 0:
            raise BadInput(f"piece {self.name!r}: length, breadth and count must be above nothing")
        if not 0 <= self.mirrored <= self.count:
            raise BadInput(
                f"piece {self.name!r}: mirrored copies are from none to all {self.count}"
            )
        if self.outline is None:
            if self.grain is Grain.BIAS:
                raise BadInput(
                    f"piece {self.name!r}: only a piece with an outline lies on the bias"
                )
        elif self.polygon.box != Rect(0, 0, self.length, self.breadth):
            raise BadInput(
                f"piece {self.name!r}: the outline does not measure length by breadth from 0, 0"
            )

    @classmethod
    def shaped(
        cls, letter: str, name: str, outline: Outline, count: int, cloth: str, **more: object
    ) -> Piece:
        """A piece of an outline, set against 0, 0, with length and breadth as it is laid.

        Marks and matches among the other fields, `more`, are of the outline's own frame; they
        move with it.
        """
        x, y = 0, 0
        for _ in range(SETTLED):
            box = outline.flatten().box
            if (box.x0, box.y0) == (0, 0):
                break
            x, y = x - box.x0, y - box.y0
            outline = outline.shifted(-box.x0, -box.y0)
        marks: tuple[Mark, ...] = more.pop("marks", ())  # type: ignore[assignment]
        moved = tuple(
            replace(mark, u0=mark.u0 + x, v0=mark.v0 + y, u1=mark.u1 + x, v1=mark.v1 + y)
            for mark in marks
        )
        matches: tuple[Match, ...] = more.pop("matches", ())  # type: ignore[assignment]
        carried = tuple(replace(match, u=match.u + x, v=match.v + y) for match in matches)
        fields = {"outline": outline, "marks": moved, "matches": carried, **more}
        return cls(letter, name, box.along, box.across, count, cloth, **fields)  # type: ignore[arg-type]

    @cached_property
    def polygon(self) -> Polygon:
        """The piece in its own frame, holding the true shape, within 0.1 mm of it."""
        if self.outline is None:
            return Polygon.of_rect(Rect(0, 0, self.length, self.breadth))
        return self.outline.flatten()

    @property
    def area2(self) -> int:
        """Twice the area of one copy as it is laid, square units."""
        return 2 * self.length * self.breadth if self.outline is None else self.polygon.area2

    def laid(self, turn: int, flip: bool = False) -> Polygon:
        """A copy turned by so many degrees (a multiple of 45), its box against 0, 0.

        With `flip` it is first turned over, v to breadth - v.
        """
        if (turn, flip) not in self._lying:
            self._lying[turn, flip] = self._laid(turn, flip)
        return self._lying[turn, flip]

    @cached_property
    def _lying(self) -> dict[tuple[int, bool], Polygon]:
        """What `laid` has given: drawings ask for every copy at every scale that they try."""
        return {}

    def _laid(self, turn: int, flip: bool) -> Polygon:
        if flip:
            # Turned over about the warp, a turn runs the other way round.
            return self.laid(-turn % 360).mirrored().turned(180)
        base = self._slanted if turn % 90 else self.polygon
        return base.turned((turn - turn % 90) % 360)

    def carried(self, turn: int, flip: bool, u: int, v: int) -> tuple[int, int]:
        """Where a point of the frame lies in `laid(turn, flip)`, to the nearest unit."""
        if flip:
            x, y = self.carried(-turn % 360, False, u, v)
            return x, self.laid(turn, flip).box.y1 - y
        x, y, along, across = u, v, self.length, self.breadth
        if turn % 90:
            corner, box = self._slant, self._slanted.box
            x, y = round((u - v) * HALF_ROOT) - corner[0], round((u + v) * HALF_ROOT) - corner[1]
            along, across = box.along, box.across
        for _ in range(turn // 90 % 4):
            x, y, along, across = across - y, x, across, along
        return x, y

    @cached_property
    def _raw(self) -> Polygon:
        """The outline turned by 45 degrees about 0, 0."""
        outline = self.outline
        if outline is None:
            raise BadInput(f"piece {self.name!r}: a rectangle is turned by quarters only")
        return outline.turned(45).flatten()

    @property
    def _slant(self) -> tuple[int, int]:
        return self._raw.box.x0, self._raw.box.y0

    @cached_property
    def _slanted(self) -> Polygon:
        x, y = self._slant
        return self._raw.shifted(-x, -y)

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

    def ways(self, one_way: bool) -> tuple[tuple[int, bool], ...]:
        """All turns, and whether turned over, in which copies of an outline may be laid.

        On one-way cloth the piece points up the warp: one turn, and on the bias one either
        side of the warp for copies turned over. Copies are turned over only where some are
        asked to be.
        """
        plain = TURNS[self.grain]
        if one_way:
            plain = (90,) if self.grain is Grain.EITHER and self.up != "length" else plain[:1]
        flips = [
            flip
            for flip, some in ((False, self.count - self.mirrored), (True, self.mirrored))
            if some
        ]
        return tuple((-turn % 360 if flip else turn, flip) for flip in flips for turn in plain)
