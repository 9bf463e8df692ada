"""The exact judgement of a nest, from outlines alone: nothing of the search is trusted."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from marker.geometry import Polygon, Rect
from marker.geometry.segments import Point, edges, turn
from marker.solver.nest.kinds import NestKind, NestSpot


def sound(
    outlines: Sequence[Polygon], width: int, margin: int = 0, flaws: Sequence[Rect] = ()
) -> bool:
    """Whether outlines lie on the cloth, clear of flaws and of each other by the margin.

    No margin is asked beside flaws and the edges of the cloth; touching is no overlap.
    """
    return not any(p.box.x0 < 0 or p.box.y0 < 0 or p.box.y1 > width for p in outlines) and not any(
        clashes(outlines, margin, flaws)
    )


def obeys(kinds: Sequence[NestKind], spots: Sequence[NestSpot], repeat: tuple[int, int]) -> bool:
    """Whether copies lie where their rules allow, and each set falls in one place of a repeat."""
    phases: dict[tuple[int, str], int] = {}
    for spot in spots:
        rule = kinds[spot.kind].rule(spot.shape)
        for place, limits in zip((spot.x, spot.y), rule.limits, strict=True):
            if limits is not None and not limits[0] <= place <= limits[1]:
                return False
        for match in rule.matches:
            phase = ((spot.x, spot.y)[match.axis] + match.at) % repeat[match.axis]
            if phases.setdefault((match.axis, match.name), phase) != phase:
                return False
    return True


def clashes(
    outlines: Sequence[Polygon], margin: int = 0, flaws: Sequence[Rect] = ()
) -> Iterator[tuple[int, int]]:
    """Pairs that lie too close, by their indices, the lesser one first.

    The flaws are counted on from the last outline.
    """
    zones = [Polygon.of_rect(flaw) for flaw in flaws]
    count, every = len(outlines), [*outlines, *zones]
    active: list[int] = []
    for p in sorted(range(len(every)), key=lambda index: every[index].box.x0):
        box = every[p].box
        active = [q for q in active if every[q].box.x1 + margin > box.x0]
        for q in active:
            other = every[q].box
            if other.y0 >= box.y1 + margin or box.y0 >= other.y1 + margin:
                continue
            first, second = min(p, q), max(p, q)
            asked = margin if second < count else 0
            if first < count and not apart(every[first], every[second], asked):
                yield first, second
        active.append(p)


def apart(first: Polygon, second: Polygon, margin: int) -> bool:
    """Whether two outlines share no cloth and lie no closer than the margin, exactly."""
    if first.overlaps(second):
        return False
    if not margin:
        return True
    return _clear(first, second, margin) and _clear(second, first, margin)


def _clear(corners: Polygon, sides: Polygon, margin: int) -> bool:
    """Whether every corner of one keeps the margin from every side of the other."""
    box = sides.box
    close = [
        (x, y)
        for x, y in corners.points
        if box.x0 - margin < x < box.x1 + margin and box.y0 - margin < y < box.y1 + margin
    ]
    return all(_keeps(point, a, b, margin) for point in close for a, b in edges(sides.points))


def _keeps(point: Point, a: Point, b: Point, margin: int) -> bool:
    """Whether a point lies no closer than the margin to a segment; squares stay whole."""
    ux, uy = b[0] - a[0], b[1] - a[1]
    px, py = point[0] - a[0], point[1] - a[1]
    along, size = px * ux + py * uy, ux * ux + uy * uy
    if along <= 0:
        return px * px + py * py >= margin * margin
    if along >= size:
        return (px - ux) ** 2 + (py - uy) ** 2 >= margin * margin
    return turn(a, b, point) ** 2 >= margin * margin * size
