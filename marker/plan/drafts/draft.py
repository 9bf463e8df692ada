"""A shaped piece as it is drafted: its corners, and what runs from each to the next.

Places are told in the piece's own frame: `along` from the left edge of its box and `up`
from the lower one, as the piece is drawn with its length from left to right.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import groupby

from marker.geometry.curves import Arc, Line, Segment, Spot, cross
from marker.geometry.outline import Edge
from marker.lay import Lay
from marker.piece import Grain, Mark, MarkKind, Piece
from marker.plan.words.sizes import edge_name, is_strip
from marker.record import Record
from marker.units import CM, INCH, MM, System

SMOOTH = math.radians(2)
"""Segments that meet at a smaller angle run on into one another without a corner."""
ROUND = 0.1 * MM
"""Arcs whose centres and radii differ by less are one arc."""
MOST_ARCS = 4
"""A run of more arcs than this follows some other curve, and is told by points on it."""
TRIES = 240
"""Places along an edge that are tried for the one nearest a mark."""


@dataclass(frozen=True)
class Stretch:
    """What runs from one corner to the next: a straight line, an arc, or another curve."""

    name: str
    segments: tuple[Segment, ...]

    @property
    def start(self) -> Spot:
        """The corner it starts from."""
        return self.segments[0].start

    @property
    def end(self) -> Spot:
        """The corner it runs to, counter-clockwise round the piece."""
        return self.segments[-1].end

    @property
    def length(self) -> float:
        """Length along the cut edge, units."""
        return self.edge.length

    @cached_property
    def edge(self) -> Edge:
        """The same as an edge."""
        return Edge(self.name, self.segments)

    @cached_property
    def tried(self) -> tuple[tuple[float, Spot], ...]:
        """Lengths along it with their places, close enough to tell which is nearest a spot."""
        lengths = [self.length * part / TRIES for part in range(TRIES + 1)]
        return tuple((length, self.edge.at(length)[0]) for length in lengths)

    @property
    def straight(self) -> bool:
        """Whether it is a straight line."""
        return all(isinstance(segment, Line) for segment in self.segments)

    @cached_property
    def arc(self) -> Arc | None:
        """The first arc of a stretch that is one circle's arc; None where it is not."""
        first = self.segments[0]
        if not isinstance(first, Arc) or not all(_run_on(first, s) for s in self.segments):
            return None
        return first

    @property
    def sweep(self) -> float:
        """The angle that an arc takes of its circle, radians."""
        return self.length / self.arc.radius if self.arc else 0.0

    def offsets(self) -> tuple[float, float]:
        """How far an arc lies from the line between its ends, at a quarter and half way."""
        arc = self.arc
        if arc is None or self.sweep >= math.pi:
            raise ValueError("only an arc of less than half a circle is told by offsets")
        radius, half = arc.radius, math.dist(self.start, self.end) / 2
        deep = math.sqrt(max(0.0, radius * radius - half * half))
        return math.sqrt(radius * radius - half * half / 4) - deep, radius - deep

    def points(self, system: System) -> tuple[Spot, ...]:
        """Places on it between its ends, about every 5 cm or 2 in along the edge."""
        step = 5 * CM if system is System.CM else 2 * INCH
        parts = max(4, math.ceil(self.length / step))
        return tuple(self.edge.spot(self.length * part / parts) for part in range(1, parts))


@dataclass(frozen=True)
class Draft:
    """A piece to be drafted, and the letters of all pieces that are cut alike."""

    piece: Piece
    letters: tuple[str, ...]
    stretches: tuple[Stretch, ...]

    @property
    def curved(self) -> bool:
        """Whether an edge is curved, so that a tape measure alone can't draw it."""
        return not all(stretch.straight for stretch in self.stretches)

    @property
    def corners(self) -> tuple[Spot, ...]:
        """The corners, counter-clockwise; stretch i runs from corner i. A circle has none."""
        if len(self.stretches) == 1:
            return ()
        return tuple(stretch.start for stretch in self.stretches)

    def nearest(self, spot: Spot) -> tuple[int, float, float]:
        """The stretch nearest a place, how far along it, and how far off, units."""
        return min(
            ((number, *nearest(stretch, spot)) for number, stretch in enumerate(self.stretches)),
            key=lambda found: found[2],
        )

    @cached_property
    def notches(self) -> tuple[Mark, ...]:
        """The notches, each from the edge inwards."""
        found = (mark for mark in self.piece.marks if mark.kind is MarkKind.NOTCH)
        return tuple(self._inwards(mark) for mark in found)

    def _inwards(self, mark: Mark) -> Mark:
        first, last = (self.nearest(spot)[2] for spot in ends(mark))
        if first <= last:
            return mark
        return replace(mark, u0=mark.u1, v0=mark.v1, u1=mark.u0, v1=mark.v0)

    def off(self, number: int, spot: Spot) -> float:
        """How far a place is off a stretch, units."""
        return nearest(self.stretches[number], spot)[1]


def ends(mark: Mark) -> tuple[Spot, Spot]:
    """The two ends of a mark in its piece's frame."""
    return (float(mark.u0), float(mark.v0)), (float(mark.u1), float(mark.v1))


def drafts(record: Record) -> tuple[Draft, ...]:
    """Every shape of a record that has to be drafted, in the order of the pieces.

    Strips on the bias are ruled from one another and told of elsewhere.
    """
    pieces = [piece for lay in record.lays for piece in _shapes(lay)]
    found: list[Draft] = []
    kinds: dict[tuple[object, ...], int] = {}
    for piece in pieces:
        kind = piece.outline, piece.marks, piece.edges, piece.grain
        if kind in kinds:
            known = found[kinds[kind]]
            letters = tuple(dict.fromkeys((*known.letters, piece.letter)))
            found[kinds[kind]] = Draft(known.piece, letters, known.stretches)
        else:
            kinds[kind] = len(found)
            found.append(Draft(piece, (piece.letter,), stretches(piece)))
    return tuple(found)


def _shapes(lay: Lay) -> Iterator[Piece]:
    for piece in lay.pieces:
        if piece.outline is not None and not on_bias(piece):
            yield piece


def on_bias(piece: Piece) -> bool:
    """Whether it is a strip on the bias, which is ruled from its like and needs no draft."""
    return piece.grain is Grain.BIAS and is_strip(piece)


def stretches(piece: Piece) -> tuple[Stretch, ...]:
    """The outline of a piece parted at its corners."""
    edges = piece.outline.edges if piece.outline else ()
    runs: list[Stretch] = []
    # A drawn curve without a name comes as an edge for every arc of it.
    for name, alike in groupby(edges, key=lambda edge: edge_name(piece, edge)):
        whole = [segment for edge in alike for segment in edge.segments]
        runs += [Stretch(name, tuple(part)) for part in _parted(whole)]
    # The ring may start in the middle of a stretch.
    while len(runs) > 1 and _one(runs[-1], runs[0]):
        runs[0] = Stretch(runs[0].name, runs.pop().segments + runs[0].segments)
    return tuple(runs)


def _one(before: Stretch, after: Stretch) -> bool:
    whole = before.segments + after.segments
    return before.name == after.name and len(_parted(whole)) == 1


def _parted(segments: Sequence[Segment]) -> list[list[Segment]]:
    """The segments of one edge, those that make one line, arc or curve together."""
    smooth: list[list[Segment]] = []
    for segment in segments:
        if smooth and _smoothly(smooth[-1][-1], segment):
            smooth[-1].append(segment)
        else:
            smooth.append([segment])
    return [part for run in smooth for part in _arcs(run)]


def _arcs(run: list[Segment]) -> list[list[Segment]]:
    """A smooth run as the few arcs it is made of, or whole where it is another curve."""
    parts: list[list[Segment]] = []
    for segment in run:
        if parts and _run_on(parts[-1][0], segment):
            parts[-1].append(segment)
        else:
            parts.append([segment])
    few = len(parts) <= MOST_ARCS and all(isinstance(part[0], Arc) for part in parts)
    return parts if few else [run]


def _smoothly(before: Segment, after: Segment) -> bool:
    """Whether one runs on into the other without a corner, both straight or both curved."""
    if isinstance(before, Line) != isinstance(after, Line):
        return False
    a, b = before.heading(before.length), after.heading(0.0)
    return abs(math.atan2(cross(a, b), a[0] * b[0] + a[1] * b[1])) <= SMOOTH


def _run_on(first: Segment, second: Segment) -> bool:
    """Whether both are of one arc."""
    if not (isinstance(first, Arc) and isinstance(second, Arc)) or first.ccw != second.ccw:
        return False
    apart = math.dist(first.centre, second.centre)
    return apart <= ROUND and abs(first.radius - second.radius) <= ROUND


def nearest(stretch: Stretch, spot: Spot) -> tuple[float, float]:
    """How far along a stretch lies the place nearest a spot, and how far off that is."""
    edge, long = stretch.edge, stretch.length

    def off(length: float) -> float:
        return math.dist(edge.spot(min(max(length, 0.0), long)), spot)

    step = long / TRIES
    best = min(stretch.tried, key=lambda one: math.dist(one[1], spot))[0]
    while step > 1:
        step /= 2
        best = min((best - step, best, best + step), key=off)
    best = min(max(best, 0.0), long)
    return best, off(best)
