"""The repeat of a cloth under a lay: which edges are matched, and where its lines fall."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from marker.lay import Lay, Placement
from marker.piece import MarkKind, Match, Piece, Wise


@dataclass(frozen=True)
class Point:
    """One matched point of a copy, carried to the cloth."""

    spot: Placement
    piece: Piece
    match: Match
    x: int
    y: int

    @property
    def edge(self) -> str:
        """The name of the edge that it lies on or beyond, or of the line that is marked there."""
        edges, piece = self.piece.edges, self.piece
        if self._runs_long:
            at, low, high = self.match.u, edges.start, edges.end
        else:
            at, low, high = self.match.v, edges.low, edges.high
        if self.on_edge:
            return low if at <= 0 else high
        marked = (
            mark.name
            for mark in piece.marks
            if mark.kind is not MarkKind.CHALK
            and ((mark.u0, mark.u1) if self._runs_long else (mark.v0, mark.v1)) == (at, at)
        )
        return next(marked, "")

    @property
    def on_edge(self) -> bool:
        """Whether it lies on or beyond an edge, not inside."""
        at, end = (
            (self.match.u, self.piece.length)
            if self._runs_long
            else (self.match.v, self.piece.breadth)
        )
        return not 0 < at < end

    @property
    def _runs_long(self) -> bool:
        """Whether the repeat comes round along the piece's own length as it lies."""
        return (self.spot.turn in (0, 180)) == (self.match.wise is Wise.LENGTHWISE)


@dataclass(frozen=True)
class MatchedSet:
    """All points that fall in one place of the repeat."""

    name: str
    wise: Wise
    points: tuple[Point, ...]

    @property
    def edge(self) -> str:
        """The one name of all its edges; empty where they have several or none."""
        names = {point.edge for point in self.points}
        return names.pop() if len(names) == 1 else ""


def matched_sets(lay: Lay) -> tuple[MatchedSet, ...]:
    """Every set that this cloth's repeat binds, in the order of its first piece."""
    found: dict[tuple[str, Wise], list[Point]] = {}
    for point in _points(lay):
        found.setdefault((point.match.name, point.match.wise), []).append(point)
    return tuple(MatchedSet(name, wise, tuple(all_)) for (name, wise), all_ in found.items())


def _points(lay: Lay) -> Iterator[Point]:
    pieces = {piece.letter: piece for piece in lay.pieces}
    for spot in lay.placements:
        piece = pieces[spot.letter]
        for match in piece.matches:
            if repeat_of(lay, match.wise):
                yield Point(spot, piece, match, *spot.to_cloth(piece, match.u, match.v))


def repeat_of(lay: Lay, wise: Wise) -> int:
    """The cloth's repeat in one way, nought where it has none."""
    repeat = lay.cloth.repeat
    return repeat.along if wise is Wise.LENGTHWISE else repeat.across


def lines(lay: Lay, wise: Wise, every: int = 1) -> tuple[int, ...]:
    """Where the repeat comes round on the bolt: through the points of the largest set.

    Only one line in `every` repeats, the first matched point's among them. Other sets may
    fall elsewhere in the repeat. Nothing where no set is matched.
    """
    sets = [one for one in matched_sets(lay) if one.wise is wise]
    if not sets:
        return ()
    first = max(sets, key=lambda one: len(one.points)).points[0]
    step, bolt = repeat_of(lay, wise) * every, lay.bolt
    if wise is Wise.LENGTHWISE:
        return tuple(range(bolt.x0 + (first.x - bolt.x0) % step, bolt.x1 + 1, step))
    return tuple(range(bolt.y0 + (first.y - bolt.y0) % step, bolt.y1 + 1, step))
