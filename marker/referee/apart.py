"""Do pieces lie as far apart as the shears that part them need?"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from marker.geometry import Polygon, Rect
from marker.geometry.segments import edges, near_pairs
from marker.lay import Lay, Mode
from marker.referee.laid import Laid, Point
from marker.referee.room import abreast
from marker.referee.words import plain, spell

_MOST = 200
"""Pairs too close named one by one; the rest tell nothing new."""

Side = tuple[Point, Point]


def margin_faults(lay: Lay, pieces: Sequence[Laid]) -> Iterator[str]:
    """Pieces that are parted by shears and lie nearer to one another than the margin.

    What a tear parts needs none.
    """
    margin, found = lay.cloth.margin, 0
    if margin <= 0:
        return
    for group in _groups(lay, pieces):
        for one, other in too_close(group, margin):
            if found == _MOST:
                yield f"More than {_MOST} pairs lie too close; the rest aren't listed."
                return
            found += 1
            yield (
                f"{plain(one.id)} and {plain(other.id)} lie nearer to one another than the "
                f"{spell(margin)} that shears need between them."
            )


def _groups(lay: Lay, pieces: Sequence[Laid]) -> Iterator[Sequence[Laid]]:
    """Pieces that shears part from one another: all, or in a lay to be torn those of a region."""
    if lay.mode == Mode.SHEARS:
        yield pieces
        return
    for region in dict.fromkeys(lay.regions):
        yield [spot for spot in pieces if region.holds(spot.rect)]


def too_close(pieces: Sequence[Laid], margin: int) -> Iterator[tuple[Laid, Laid]]:
    """Every pair that shares no cloth, but lies closer than the margin.

    Pairs that share some are told as such; a heap of them is not looked through for others.
    """
    heaped = 0
    for i, j in abreast([spot.rect for spot in pieces], margin):
        one, other = pieces[i], pieces[j]
        first, second = one.cover, other.cover
        if not _close(first, second, margin):
            continue
        if not first.overlaps(second):
            yield one, other
            continue
        heaped += 1
        if heaped > _MOST:
            return


def _close(first: Polygon, second: Polygon, margin: int) -> bool:
    """Whether any two sides lie closer than the margin; squares of distances stay whole."""
    ours = [_reaching(side, margin) for side in _within(first, second.box, margin)]
    theirs = _within(second, first.box, margin)
    sides = [side for side, _ in ours]
    return any(
        nearer(sides[i], theirs[j], margin)
        for i, j in near_pairs([reach for _, reach in ours], theirs)
    )


def _within(polygon: Polygon, box: Rect, margin: int) -> list[Side]:
    """Sides of a polygon whose boxes come as near to another box as the margin."""
    low_x, high_x = box.x0 - margin, box.x1 + margin
    low_y, high_y = box.y0 - margin, box.y1 + margin
    return [
        (a, b)
        for a, b in edges(polygon.points)
        if min(a[0], b[0]) <= high_x
        and max(a[0], b[0]) >= low_x
        and min(a[1], b[1]) <= high_y
        and max(a[1], b[1]) >= low_y
    ]


def _reaching(side: Side, margin: int) -> tuple[Side, Side]:
    """A side, and the corners of its box grown by the margin."""
    (ax, ay), (bx, by) = side
    low = min(ax, bx) - margin, min(ay, by) - margin
    return side, (low, (max(ax, bx) + margin, max(ay, by) + margin))


def nearer(one: Side, other: Side, margin: int) -> bool:
    """Whether two sides that don't cross lie closer than the margin.

    Then one end of either is the nearest place.
    """
    return any(
        _point_nearer(point, side, margin)
        for ends, side in ((one, other), (other, one))
        for point in ends
    )


def _point_nearer(point: Point, side: Side, margin: int) -> bool:
    (ax, ay), (bx, by) = side
    ux, uy, px, py = bx - ax, by - ay, point[0] - ax, point[1] - ay
    along, size = px * ux + py * uy, ux * ux + uy * uy
    if along <= 0:
        return px * px + py * py < margin * margin
    if along >= size:
        return (px - ux) ** 2 + (py - uy) ** 2 < margin * margin
    # The height over the side, squared, is cross^2 / size.
    return (px * uy - py * ux) ** 2 < margin * margin * size
