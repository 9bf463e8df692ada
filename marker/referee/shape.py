"""Is every piece with an outline what it is said to be: the polygon round it, its box, its fold?

The outline is looked at point by point, so close that its chords stray from it by about a
unit, and measured against the polygon that is laid; nothing is taken on trust but the outline.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

from marker.geometry import Arc, Cubic, Line, Outline, Polygon, Rect
from marker.lay import Lay
from marker.piece import Grain, Piece
from marker.referee.laid import frame
from marker.referee.words import figure, place, plain, spell

Spot = tuple[float, float]

OUTSIDE = 16
"""0.1 mm: how far a polygon may lie outside the true outline, in units."""
NOISE = 0.01
"""What floating-point places may be off, in units."""
_CHORD = 1.0
"""How far chords may stray from a curve, in units."""
_FINEST = 4000
"""The most chords of one segment."""
_HALF_ROOT = 0.5**0.5


def shape_faults(lay: Lay) -> Iterator[str]:
    """Faults of each piece's own shape, as it is laid square and, where it may be, on the bias."""
    for piece in lay.pieces:
        letter = plain(piece.letter)
        if not 0 <= piece.mirrored <= piece.count:
            yield (
                f"Piece {letter} is to be turned over {figure(piece.mirrored)} times, "
                f"but is cut {figure(piece.count)} times."
            )
        if piece.outline is not None:
            yield from _outline_faults(piece, piece.outline, letter)
        elif piece.grain == Grain.BIAS:
            yield f"Piece {letter} has no outline of its own, so it can't lie on the bias."


def _outline_faults(piece: Piece, outline: Outline, letter: str) -> Iterator[str]:
    shape = spots(outline)
    square = frame(piece, slanted=False)
    if square is None:
        yield f"No polygon of whole units can be drawn round piece {letter}."
        return
    size = Rect(0, 0, piece.length, piece.breadth)
    if square.box != size:
        yield (
            f"Piece {letter} measures {place(square.box)} in its own frame, but is said to "
            f"measure {place(size)}."
        )
    yield from (f"Piece {letter} {fault}." for fault in round_faults(outline, shape, square))
    if piece.grain == Grain.BIAS:
        slanted = frame(piece, slanted=True)
        if slanted is None:
            yield f"No polygon of whole units can be drawn round piece {letter} on the bias."
            return
        turned = [((x - y) * _HALF_ROOT, (x + y) * _HALF_ROOT) for x, y in shape]
        for fault in round_faults(outline, turned, slanted):
            yield f"Piece {letter}, on the bias, {fault}."
    if piece.folds and not is_symmetric(shape, piece.breadth):
        yield (
            f"Piece {letter} is said to fold, but it isn't the same on both sides of its "
            "middle line."
        )


def round_faults(outline: Outline, shape: Sequence[Spot], polygon: Polygon) -> Iterator[str]:
    """How a polygon fails to be drawn round a shape; at most one place of each kind is told."""
    cut = far = None
    for spot, inside, near in measured(shape, polygon.points, OUTSIDE + NOISE):
        if cut is None and not inside and near > NOISE:
            cut = spot
        if far is None and near > OUTSIDE + NOISE:
            far = spot
    if cut is not None:
        yield f"reaches out of the polygon that is laid for it, at {_told(cut)}"
    if far is None:
        # Each the other way about: no spike of the polygon stands off between two points.
        reach = OUTSIDE + _CHORD + NOISE
        corners = measured(polygon.points, shape, reach)
        far = next((spot for spot, _, near in corners if near > reach), None)
    if far is not None:
        yield f"lies more than 0.1 mm within the polygon that is laid for it, at {_told(far)}"
    over = polygon.area2 / 2 - outline.area
    most = outline.length * OUTSIDE
    noise = 1e-9 * outline.area
    if not -noise <= over <= most + noise:
        yield (
            f"has a polygon {over:.0f} square units larger than itself, which may be from 0 "
            f"to {most:.0f}"
        )


def _told(spot: Spot) -> str:
    if not all(map(math.isfinite, spot)):
        return "a place beyond all measure"
    return f"{spell(round(spot[0]))} along it and {spell(round(spot[1]))} over its breadth"


def is_symmetric(shape: Sequence[Spot], breadth: int) -> bool:
    """Whether a shape is the same on both sides of v = breadth / 2, to twice 0.1 mm.

    Once for either side, since the middle is that of the polygon's box.
    """
    reach = 2 * OUTSIDE
    mirrored = [(u, breadth - v) for u, v in shape]
    return all(near <= reach for _, _, near in measured(mirrored, shape, reach))


def same_ring(one: Sequence[Spot], other: Sequence[Spot]) -> bool:
    """Whether two rings run alike, to twice 0.1 mm, as two polygons round one shape do."""
    if set(one) == set(other):
        return True
    reach = 2 * OUTSIDE
    return all(
        near <= reach
        for first, second in ((one, other), (other, one))
        for _, _, near in measured(first, second, reach)
    )


def spots(outline: Outline) -> list[Spot]:
    """Points of an outline, in order, so close that no chord strays from it by over a unit."""
    return [spot for segment in outline.segments for spot in _along(segment)]


def _along(segment: Line | Arc | Cubic) -> Iterator[Spot]:
    """Points of one segment from its start on, its end left out."""
    if isinstance(segment, Line):
        # A few points between the ends too: a straight edge may be cut into from the side.
        (ax, ay), (bx, by) = segment.start, segment.end
        yield from ((ax + (bx - ax) * k / 4, ay + (by - ay) * k / 4) for k in range(4))
    elif isinstance(segment, Arc):
        widest = 2 * math.acos(max(0.0, 1 - _CHORD / max(segment.radius, _CHORD)))
        count = _count(abs(segment.sweep) / max(widest, 1e-9))
        start, step, radius = segment.first_angle, segment.sweep / count, segment.radius
        x, y = segment.centre
        for k in range(count):
            angle = start + k * step
            yield x + radius * math.cos(angle), y + radius * math.sin(angle)
    else:
        # A chord over 1/n of a cubic strays by at most |second derivative| / 8 n^2.
        poles = (segment.start, segment.first, segment.second, segment.end)
        bends = [
            math.hypot(a[0] - 2 * b[0] + c[0], a[1] - 2 * b[1] + c[1])
            for a, b, c in zip(poles, poles[1:], poles[2:], strict=False)
        ]
        count = _count(math.sqrt(6 * max(bends) / 8 / _CHORD))
        yield from (_cubic(poles, k / count) for k in range(count))


def _count(chords: float) -> int:
    return min(_FINEST, max(4, math.ceil(min(chords, _FINEST))))


def _cubic(poles: tuple[Spot, Spot, Spot, Spot], t: float) -> Spot:
    """The point of a cubic at a parameter, by halving between its poles (de Casteljau)."""
    row = list(poles)
    while len(row) > 1:
        row = [(a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t) for a, b in pairwise(row)]
    return row[0]


def measured(
    points: Sequence[Spot], ring: Sequence[Spot], reach: float
) -> Iterator[tuple[Spot, bool, float]]:
    """Each point with whether it lies inside the ring, and its distance from it.

    A distance of more than `reach` is told as endless. Edges are taken by their low x and
    dropped behind, so that every point meets the few edges near it alone.
    """
    sides = sorted(
        (min(a[0], b[0]) - reach, max(a[0], b[0]) + reach, *a, *b)
        for a, b in zip(ring, [*ring[1:], ring[0]], strict=True)
    )
    at, near = 0, []
    for x, y in sorted(points):
        while at < len(sides) and sides[at][0] <= x:
            near.append(sides[at])
            at += 1
        near = [side for side in near if side[1] >= x]
        yield (x, y), *_measure(x, y, near, reach)


def _measure(
    x: float, y: float, near: Sequence[tuple[float, ...]], reach: float
) -> tuple[bool, float]:
    """Whether an odd number of these edges lies above a point, and how far off the nearest is."""
    inside, least = False, math.inf
    for _, _, ax, ay, bx, by in near:
        if (ax > x) != (bx > x):
            inside ^= ay + (by - ay) * (x - ax) / (bx - ax) > y
        if min(ay, by) - reach <= y <= max(ay, by) + reach:
            least = min(least, _distance(x - ax, y - ay, bx - ax, by - ay))
    return inside, least if least <= reach else math.inf


def _distance(px: float, py: float, ux: float, uy: float) -> float:
    """How far a point lies from an edge that runs from 0, 0 along (ux, uy)."""
    size = ux * ux + uy * uy
    part = min(1.0, max(0.0, (px * ux + py * uy) / size)) if size > 0 else 0.0
    return math.hypot(px - part * ux, py - part * uy)
