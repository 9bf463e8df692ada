"""Outlines of curved pieces: closed rings of lines, arcs and cubics with named edges."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from functools import cached_property

from marker.errors import BadInput
from marker.geometry.curves import (
    NOISE,
    Arc,
    Cubic,
    Line,
    Segment,
    Spot,
    cross,
    has_length,
    minus,
    unit,
)
from marker.geometry.flatten import chords, straightened
from marker.geometry.outward import SHIFT, outward
from marker.geometry.polygon import QUARTERS, Polygon, self_touch
from marker.geometry.segments import told
from marker.units import MM

TOLERANCE = 16
"""0.1 mm: how far the polygon that is laid may lie outside the true shape, in units."""
LEAST_TOLERANCE = 4
FINE = 64
"""Whole steps in a unit when an outline is tried for crossing itself."""
LEAST_AREA = float(MM * MM)
"""An outline of less than a square millimetre is a slip of the pen."""


@dataclass(frozen=True)
class Edge:
    """A named edge of an outline: one segment, or several that follow one another."""

    name: str
    segments: tuple[Segment, ...]

    @cached_property
    def length(self) -> float:
        """Length in units."""
        return math.fsum(segment.length for segment in self.segments)

    def at(self, length: float) -> tuple[Spot, Spot]:
        """Point, and direction of length one, at a length along the edge from its start.

        The piece lies to the left of the direction. Raises `BadInput` off the edge's ends.
        """
        segment, length = self._within(length)
        return segment.at(length), segment.heading(length)

    def spot(self, length: float) -> Spot:
        """The point alone, in half the time. Raises `BadInput` off the edge's ends."""
        segment, length = self._within(length)
        return segment.at(length)

    def _within(self, length: float) -> tuple[Segment, float]:
        """The segment at a length along the edge, and the length along the segment."""
        if not -NOISE <= length <= self.length + NOISE:
            raise BadInput(
                f"edge {self.name!r} is {self.length / MM:.1f} mm long, so nothing can be "
                f"marked {length / MM:.1f} mm along it; give a length within it"
            )
        for segment in self.segments[:-1]:
            if length <= segment.length:
                break
            length -= segment.length
        else:
            segment = self.segments[-1]
        return segment, min(max(length, 0.0), segment.length)


@dataclass(frozen=True)
class Outline:
    """A closed, simple, counter-clockwise ring of segments, in units of 1/160 mm.

    Segments of one name that follow one another are one edge. Raises `BadInput` in one
    sentence where the ring is open, crosses or touches itself, runs clockwise or encloses
    nothing; `Outline.of` turns a clockwise ring round first. Parts of the ring that come
    within 1/160 mm of one another count as touching.
    """

    segments: tuple[Segment, ...]

    def __post_init__(self) -> None:
        fault = _fault(self.segments)
        if fault:
            raise BadInput(fault)

    @classmethod
    def of(cls, segments: Iterable[Segment]) -> Outline:
        """The outline of these segments, either way round."""
        ring = tuple(segments)
        if _area(ring) < 0:
            ring = tuple(segment.backwards() for segment in reversed(ring))
        return cls(ring)

    @classmethod
    def through(cls, spots: Iterable[Spot], names: Iterable[str] = ()) -> Outline:
        """The straight-edged outline through these corners; name i is of the edge from corner i.

        A last corner that repeats the first is left out.
        """
        ring = [(float(x), float(y)) for x, y in spots]
        if len(ring) > 1 and math.dist(ring[0], ring[-1]) <= NOISE:
            ring.pop()
        given = list(names) or [""] * len(ring)
        return cls.of(
            Line(a, b, name) for a, b, name in zip(ring, ring[1:] + ring[:1], given, strict=True)
        )

    @cached_property
    def area(self) -> float:
        """Area in square units, from the same segments that are drawn."""
        return _area(self.segments)

    @cached_property
    def edges(self) -> tuple[Edge, ...]:
        """The edges in order, counter-clockwise; segments without a name stand alone."""
        return tuple(Edge(run[0].name, tuple(run)) for run in _runs(self.segments))

    @property
    def length(self) -> float:
        """Length all round, units."""
        return math.fsum(segment.length for segment in self.segments)

    @cached_property
    def box(self) -> tuple[float, float, float, float]:
        """The smallest upright rectangle that holds the outline: x0, y0, x1, y1 in units."""
        spots = [spot for segment in self.segments for spot in segment.extremes()]
        xs, ys = [x for x, _ in spots], [y for _, y in spots]
        return min(xs), min(ys), max(xs), max(ys)

    def edge(self, name: str) -> Edge:
        """The one edge of a name; KeyError where there is none, or more than one."""
        found = [edge for edge in self.edges if edge.name == name]
        if len(found) != 1:
            raise KeyError(f"{len(found)} edges are named {name!r}")
        return found[0]

    def shifted(self, dx: float, dy: float) -> Outline:
        """The outline moved by dx along and dy across."""
        return self._moved(lambda spot: (spot[0] + dx, spot[1] + dy))

    def turned(self, degrees: float) -> Outline:
        """The outline turned counter-clockwise about 0, 0; quarter turns are exact."""
        turn = degrees % 360
        if turn in QUARTERS:
            cos, sin = (float(value) for value in QUARTERS[int(turn)])
        else:
            cos, sin = math.cos(math.radians(turn)), math.sin(math.radians(turn))
        return self._moved(
            lambda spot: (spot[0] * cos - spot[1] * sin, spot[0] * sin + spot[1] * cos)
        )

    def mirrored(self) -> Outline:
        """The outline turned over end for end (x to -x)."""
        return self._moved(lambda spot: (-spot[0], spot[1]), flips=True)

    def at_nought(self) -> Outline:
        """The outline set against 0, 0, as a piece to be laid is."""
        return self.shifted(-self.box[0], -self.box[1])

    def renamed(self, names: dict[str, str]) -> Outline:
        """The outline with edges named anew: old name to new; the others keep theirs."""
        return Outline._known(
            tuple(replace(seg, name=names.get(seg.name, seg.name)) for seg in self.segments)
        )

    def flatten(self, tolerance: int = TOLERANCE) -> Polygon:
        """The polygon of whole units that holds the outline and lies within `tolerance` of it.

        Tangents on bulges, chords in hollows, corners rounded outwards; so the area added is
        less than the polygon's length times the tolerance. An outline of straight edges
        between whole places comes out as it is. Raises `BadInput` where a slit or a detail is
        finer than that.
        """
        if tolerance < LEAST_TOLERANCE:
            raise ValueError(f"no polygon of whole units lies within {tolerance} of every shape")
        stray = tolerance - SHIFT
        try:
            return outward(straightened(self.segments, stray), tolerance)
        except BadInput:
            # Finer curves leave room in the tolerance to merge what is too fine to place.
            return outward(straightened(self.segments, stray / 3), tolerance)

    def _moved(self, move: Callable[[Spot], Spot], flips: bool = False) -> Outline:
        moved = tuple(segment.moved(move, flips) for segment in self.segments)
        if flips:
            moved = tuple(segment.backwards() for segment in reversed(moved))
        return Outline._known(moved)

    @classmethod
    def _known(cls, segments: tuple[Segment, ...]) -> Outline:
        """An outline known to be sound, being another one moved: nothing to prove again."""
        made = object.__new__(cls)
        object.__setattr__(made, "segments", segments)
        return made


def closed_up(ring: list[Segment]) -> tuple[Segment, ...]:
    """The ring with each end set to the very start of the next, which it meets but for noise."""
    closed = []
    for segment, after in zip(ring, ring[1:] + ring[:1], strict=True):
        near = math.dist(segment.end, after.start) <= 1e3 * NOISE
        closed.append(replace(segment, end=after.start) if near else segment)
    return tuple(closed)


def _area(segments: Iterable[Segment]) -> float:
    return math.fsum(segment.area_to_origin for segment in segments)


def _runs(segments: tuple[Segment, ...]) -> list[list[Segment]]:
    """Segments gathered into edges, the ring's start moved to where an edge starts."""
    runs: list[list[Segment]] = []
    for segment in segments:
        if runs and segment.name and runs[-1][-1].name == segment.name:
            runs[-1].append(segment)
        else:
            runs.append([segment])
    if len(runs) > 1 and runs[0][0].name and runs[0][0].name == runs[-1][-1].name:
        runs[0] = runs.pop() + runs[0]
    return runs


def _fault(segments: tuple[Segment, ...]) -> str:
    """What is wrong with a ring of segments, in one sentence; nothing where it is sound."""
    if not segments:
        return "an outline needs at least two curves or three lines; this one is empty"
    for before, segment in zip(segments[-1:] + segments[:-1], segments, strict=True):
        gap = math.dist(before.end, segment.start)
        if gap > NOISE:
            return (
                f"the outline is open by {gap / MM:.2f} mm at {told(before.end)}; "
                "close it, so that it ends where it starts"
            )
        if not has_length(segment):
            return f"the outline has an edge of no length at {told(segment.start)}; leave it out"
    nothing = "the outline encloses next to nothing; give one with an area"
    if _is_flat(segments):
        return nothing
    crossing = _crossing(segments)
    if crossing:
        return crossing
    area = _area(segments)
    if abs(area) < LEAST_AREA:
        return nothing
    return "" if area > 0 else "the outline runs clockwise; give it counter-clockwise"


def _is_flat(segments: tuple[Segment, ...]) -> bool:
    """Whether the ring runs out and back along one line; it crosses itself all the way then."""
    start = segments[0].start
    far = max((seg.end for seg in segments), key=lambda spot: math.dist(start, spot))
    if not all(isinstance(seg, Line) for seg in segments) or far == start:
        return False
    along = unit(minus(far, start))
    return all(abs(cross(along, minus(seg.start, start))) < 1 for seg in segments)


def _crossing(segments: tuple[Segment, ...]) -> str:
    """Try the ring for crossing itself, on chords half a unit off at most."""
    fine = [(round(x * FINE), round(y * FINE)) for x, y in chords(segments, 0.5)]
    ring = [
        spot for before, spot in zip(fine[-1:] + fine[:-1], fine, strict=True) if spot != before
    ]
    met = self_touch(ring)
    if met is None:
        return ""
    return (
        f"the outline crosses or touches itself near {told((met[0] / FINE, met[1] / FINE))}; "
        "draw it as one simple line round the piece"
    )


__all__ = ["TOLERANCE", "Arc", "Cubic", "Edge", "Line", "Outline", "Segment", "Spot"]
