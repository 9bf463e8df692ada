"""Which pieces share a card: those alike, and straight ones that differ in nothing but sizes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby

from marker.lay import Lay
from marker.piece import Piece
from marker.plan.cards.rows import with_rows
from marker.plan.words.runs import rank
from marker.record import Garment, Record

MOST_SIZES = 12
"""A card's table of sizes has no more rows than this; further sizes have a card of their own."""


@dataclass(frozen=True)
class Own:
    """A piece, the lay it is cut from, and its garment; none where the record tells of none."""

    piece: Piece
    lay: Lay
    garment: Garment | None

    @property
    def drawn(self) -> Piece:
        """The piece as it is drawn, with a line for each row of gauging."""
        return with_rows(self.piece, self.garment)


@dataclass(frozen=True)
class Sort:
    """Pieces that are the same in all sizes and marks, of whatever wearers and cloths."""

    owned: tuple[Own, ...]

    @property
    def piece(self) -> Piece:
        """One of them."""
        return self.owned[0].piece

    @property
    def drawn(self) -> Piece:
        """One of them as it is drawn."""
        return self.owned[0].drawn

    @property
    def letters(self) -> tuple[str, ...]:
        """Their letters in order."""
        return tuple(dict.fromkeys(own.piece.letter for own in self.owned))

    @property
    def count(self) -> int:
        """How many copies are cut in all."""
        return sum(own.piece.count for own in self.owned)


@dataclass(frozen=True)
class Family:
    """What one card tells of: sorts of pieces of one make, whose sizes may differ."""

    sorts: tuple[Sort, ...]

    @property
    def piece(self) -> Piece:
        """The piece that is drawn."""
        return self.sorts[0].piece

    @property
    def owned(self) -> tuple[Own, ...]:
        """Every piece of the card."""
        return tuple(own for sort in self.sorts for own in sort.owned)

    @property
    def letters(self) -> tuple[str, ...]:
        """The letters of all of them."""
        return tuple(letter for sort in self.sorts for letter in sort.letters)

    @property
    def count(self) -> int:
        """How many copies are cut in all."""
        return sum(sort.count for sort in self.sorts)


def families(record: Record) -> tuple[Family, ...]:
    """The cards of a record's straight pieces, in the order of the pieces' letters."""
    owned = [own for own in owners(record) if own.piece.outline is None]
    made: dict[tuple[object, ...], list[Own]] = {}
    for own in owned:
        made.setdefault(_make(own), []).append(own)
    return tuple(
        Family(tuple(some)) for kin in made.values() for some in _parted(list(_sorts(kin)))
    )


def owners(record: Record) -> Iterator[Own]:
    """Every piece of a record with its lay and garment, in the order of the letters."""
    garments = {garment.key: garment for garment in record.garments}
    owned = [
        Own(piece, lay, garments.get(piece.garment)) for lay in record.lays for piece in lay.pieces
    ]
    return iter(sorted(owned, key=lambda own: rank(own.piece.letter)))


def _make(own: Own) -> tuple[object, ...]:
    """Equal for pieces that one drawing can tell of, with letters for what differs."""
    piece = own.drawn
    marks = tuple((mark.kind, mark.name, _runs(piece, i)) for i, mark in enumerate(piece.marks))
    name = own.garment.name if own.garment else piece.garment
    strip = bool(piece.pieced)
    return piece.name, name, piece.edges, piece.grain, piece.up, strip, piece.meets, marks


def _runs(piece: Piece, number: int) -> tuple[object, ...]:
    """Which way a mark runs, from which edges, and in which half of the piece it lies."""
    mark = piece.marks[number]
    u, v = (mark.u0 + mark.u1) > piece.length, (mark.v0 + mark.v1) > piece.breadth
    ends = mark.u0 == 0, mark.v0 == 0, mark.u1 == piece.length, mark.v1 == piece.breadth
    return mark.u0 == mark.u1, mark.v0 == mark.v1, u, v, ends


def _sorts(kin: list[Own]) -> Iterator[Sort]:
    def size(own: Own) -> tuple[object, ...]:
        return own.piece.length, own.piece.breadth, own.drawn.marks

    same: dict[tuple[object, ...], list[Own]] = {}
    for own in kin:
        same.setdefault(size(own), []).append(own)
    return (Sort(tuple(some)) for some in same.values())


def _parted(sorts: list[Sort]) -> Iterator[list[Sort]]:
    """Sorts in handfuls that a table can hold."""
    for _, some in groupby(enumerate(sorts), key=lambda one: one[0] // MOST_SIZES):
        yield [sort for _, sort in some]
