"""A lay: where every piece lies, the tears that free it, and what is proved of its length."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from marker.cloth import Cloth
from marker.geometry import Polygon, Rect
from marker.piece import Piece
from marker.units import CM


class Proof(StrEnum):
    """How much is known of the length."""

    LENGTH = "length"
    """The bound equals the length: no shorter lay exists."""
    STEP = "step"
    """A shorter lay may exist, but none that saves a cutting step in the shop."""
    OPEN = "open"
    """Neither is proved; the bound and the gap are told."""


class Mode(StrEnum):
    """How pieces are parted from the cloth."""

    TEAR = "tear"
    """Along threads, every tear from edge to edge of the part in hand."""
    SHEARS = "shears"
    """By shears around every piece, wherever it lies."""


class Direction(StrEnum):
    """Which way a tear runs."""

    ACROSS = "across"
    """Along the weft, from selvedge to selvedge; it stands at an x."""
    ALONG = "along"
    """Along the warp; it stands at a y."""


@dataclass(frozen=True)
class Placement:
    """One copy of a piece on the cloth, its lower left corner at (x, y), turned by `turn`.

    The turn is counter-clockwise seen from above with x to the right and y away from the
    near selvedge: 0, 90, 180 or 270 degrees, and for a piece with an outline 45 more. With
    `flip` the copy was first turned over (v to breadth - v). The corner is that of its box.
    """

    letter: str
    copy: int
    x: int
    y: int
    turn: int
    flip: bool = False

    @property
    def id(self) -> str:
        """Name of this copy on the plan: "A-1"."""
        return f"{self.letter}-{self.copy}"

    def rect(self, piece: Piece) -> Rect:
        """The cloth this copy covers, or for a piece with an outline the box around it."""
        if piece.outline is not None:
            box = piece.laid(self.turn, self.flip).box
            return Rect(box.x0 + self.x, box.y0 + self.y, box.x1 + self.x, box.y1 + self.y)
        upright = self.turn in (0, 180)
        along = piece.length if upright else piece.breadth
        across = piece.breadth if upright else piece.length
        return Rect(self.x, self.y, self.x + along, self.y + across)

    def polygon(self, piece: Piece) -> Polygon:
        """The cloth this copy covers, exactly as it was laid and judged."""
        return piece.laid(self.turn, self.flip).shifted(self.x, self.y)

    def to_cloth(self, piece: Piece, u: int, v: int) -> tuple[int, int]:
        """Carry a point of the piece's own frame to the cloth; on the bias to the nearest unit."""
        if self.turn % 90 or self.flip:
            x, y = piece.carried(self.turn, self.flip, u, v)
            return self.x + x, self.y + y
        if self.turn == 0:
            return self.x + u, self.y + v
        if self.turn == 90:
            return self.x + piece.breadth - v, self.y + u
        if self.turn == 180:
            return self.x + piece.length - u, self.y + piece.breadth - v
        return self.x + v, self.y + piece.length - u


@dataclass(frozen=True)
class Part:
    """A node of the cut tree: a rectangle of cloth, torn into `parts` by parallel tears.

    Without parts it is a leaf: a placed piece, a region for the shears where `region`, or
    an offcut.
    """

    rect: Rect
    direction: Direction | None = None
    parts: tuple[Part, ...] = ()
    placed: Placement | None = None
    region: bool = False


@dataclass(frozen=True)
class Tear:
    """One tear: `in_hand` is parted at `at`, and the part on the low side, `falls`, comes off.

    `frees` lists the pieces that this tear frees, on either side. Tear 1 is the squaring
    where the cloth is squared.
    """

    number: int
    in_hand: Rect
    direction: Direction
    at: int
    frees: tuple[str, ...]
    cut: bool = False
    """By shears along a thread: the strip is too narrow to tear, or a piece beside it may not."""

    @property
    def falls(self) -> Rect:
        """What comes off: the part nearer the free end or the near selvedge."""
        hand = self.in_hand
        if self.direction is Direction.ACROSS:
            return Rect(hand.x0, hand.y0, self.at, hand.y1)
        return Rect(hand.x0, hand.y0, hand.x1, self.at)

    @property
    def stays(self) -> Rect:
        """What stays in hand."""
        hand = self.in_hand
        if self.direction is Direction.ACROSS:
            return Rect(self.at, hand.y0, hand.x1, hand.y1)
        return Rect(hand.x0, self.at, hand.x1, hand.y1)

    @property
    def distance(self) -> int:
        """What to measure from the last torn edge before snipping."""
        return self.falls.along if self.direction is Direction.ACROSS else self.falls.across


USEFUL = 10 * CM
"""Least side of what is left over and worth keeping (common practice, no source)."""


@dataclass(frozen=True)
class Offcut:
    """Cloth left over; `keep` where enough of it is clear of flaws to name it as a remnant."""

    rect: Rect
    keep: bool


class Aim(StrEnum):
    """The goals of a lay, in their order."""

    BUY = "buy"
    """The length to buy; less is better."""
    LENGTH = "length"
    """The length used; less is better."""
    REMNANT = "remnant"
    """The area of the largest useful rectangle left over; more is better."""
    TEARS = "tears"
    """The number of tears, or of straight cuts with shears; fewer are better.

    Where any piece has an outline, each that is cut out with shears counts for one.
    """


@dataclass(frozen=True)
class Goal:
    """What a lay reaches of one goal, and a bound that no lay of equal earlier goals betters.

    The bound is a least value, for the remnant a greatest; `bound_by` says how it was found.
    """

    aim: Aim
    value: int
    bound: int
    bound_by: str

    @property
    def proved(self) -> bool:
        """Whether nothing better exists."""
        return self.value == self.bound


@dataclass(frozen=True)
class Lay:
    """The lay of all pieces cut from one cloth.

    `length` runs from the squared end to the last piece; `bolt` is the whole cloth bought
    or in hand, from x = -squaring. `bound` is a length that no lay can undercut, and
    `bound_by` says in plain words how it was found. A lay for shears has no tears, and its
    offcuts are all that is left of the bolt, in rectangles. `goals` are the four in order.

    Pieces with an outline are always cut with shears. In a lay that is torn they lie in
    `regions`: parts that tears free like a piece, from which everything that lies in them,
    straight pieces too, is then cut out. Where such pieces lie, offcuts are rectangles that no
    piece touches, not all that is left.
    """

    cloth: Cloth
    pieces: tuple[Piece, ...]
    length: int
    bolt: Rect
    placements: tuple[Placement, ...]
    tears: tuple[Tear, ...]
    offcuts: tuple[Offcut, ...]
    bound: int
    bound_by: str
    proof: Proof
    mode: Mode = Mode.TEAR
    goals: tuple[Goal, ...] = ()
    regions: tuple[Rect, ...] = ()

    @property
    def shaped(self) -> bool:
        """Whether any piece has an outline of its own."""
        return any(piece.outline is not None for piece in self.pieces)

    @property
    def buy(self) -> int:
        """Length to buy, in whole cutting steps."""
        return self.cloth.buy(self.length)

    @property
    def need(self) -> int:
        """Exact length taken off the bolt, squaring and shrinkage counted."""
        return self.cloth.need(self.length)

    @property
    def used(self) -> int:
        """Area of all pieces, square units."""
        return sum(piece.area2 * piece.count for piece in self.pieces) // 2

    @property
    def wasted(self) -> int:
        """Area of the whole cloth that becomes neither a piece nor a remnant to keep."""
        kept = sum(offcut.rect.area for offcut in self.offcuts if offcut.keep)
        return self.bolt.area - self.used - kept

    @property
    def remnants(self) -> tuple[Rect, ...]:
        """Of each offcut that is kept the largest rectangle clear of flaws, in their order."""
        kept = (offcut.rect for offcut in self.offcuts if offcut.keep)
        return tuple(rect.clear_of(self.cloth.flaws, USEFUL) or rect for rect in kept)

    def piece(self, letter: str) -> Piece:
        """The piece of that letter; KeyError if the lay has none."""
        for piece in self.pieces:
            if piece.letter == letter:
                return piece
        raise KeyError(letter)


def prove(cloth: Cloth, length: int, bound: int) -> Proof:
    """Say what a lower bound proves of a length on this cloth."""
    if bound == length:
        return Proof.LENGTH
    return Proof.STEP if cloth.buy(bound) == cloth.buy(length) else Proof.OPEN


def tears(tree: Part) -> tuple[Tear, ...]:
    """Walk a cut tree in the order of work.

    The part in hand is torn through from its low side to its high side; then each part
    that came off is taken up in turn.
    """
    found: list[Tear] = []

    def walk(part: Part) -> None:
        for index, piece in enumerate(part.parts[:-1]):
            last = index == len(part.parts) - 2
            freed = (piece, part.parts[-1]) if last else (piece,)
            low, high = piece.rect, part.rect
            found.append(
                Tear(
                    number=len(found) + 1,
                    in_hand=Rect(low.x0, low.y0, high.x1, high.y1),
                    direction=part.direction or Direction.ACROSS,
                    at=low.x1 if part.direction is Direction.ACROSS else low.y1,
                    frees=tuple(leaf.placed.id for leaf in freed if leaf.placed),
                )
            )
        for piece in part.parts:
            walk(piece)

    walk(tree)
    return tuple(found)


def leaves(tree: Part) -> tuple[Part, ...]:
    """All leaves of a cut tree in the order of work."""
    if not tree.parts:
        return (tree,)
    return tuple(leaf for part in tree.parts for leaf in leaves(part))
