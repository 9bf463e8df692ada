"""What shears leave over, and how many straight cuts they make. Exact integers throughout."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence

from marker.geometry import Rect

Span = tuple[int, int]


def leftovers(bolt: Rect, taken: Sequence[Rect], usable: Rect) -> tuple[Rect, ...]:
    """Part what the pieces leave of the bolt into rectangles that do not overlap.

    The largest empty rectangle of usable cloth (x from 0 on, y from `usable.y0` to
    `usable.y1`) comes first, then the largest of what is left, and so on; the squaring strip
    and trimmed selvedges follow. Of equal rectangles the one nearest the squared end, then
    the near selvedge, is taken. Lengths in 1/160 mm; the pieces lie within the bolt.
    """
    zone = Rect(max(0, bolt.x0), usable.y0, bolt.x1, usable.y1)
    empty = _largest_empty(zone, taken)
    found = []
    while empty:
        best = min(empty, key=lambda rect: (-rect.area, rect))
        found.append(best)
        empty = _without(empty, best)
    return (*found, *_rims(bolt, zone))


def _rims(bolt: Rect, zone: Rect) -> Iterator[Rect]:
    """The squaring strip over all the width, then what is trimmed of both selvedges."""
    rims = (
        Rect(bolt.x0, bolt.y0, zone.x0, bolt.y1),
        Rect(zone.x0, bolt.y0, bolt.x1, zone.y0),
        Rect(zone.x0, zone.y1, bolt.x1, bolt.y1),
    )
    return (rim for rim in rims if rim.along > 0 and rim.across > 0)


def _largest_empty(zone: Rect, taken: Iterable[Rect]) -> list[Rect]:
    """Every empty rectangle of a zone that no wider or longer one holds."""
    if zone.along <= 0 or zone.across <= 0:
        return []
    empty = [zone]
    for rect in taken:
        empty = _without(empty, rect)
    return empty


def _without(empty: list[Rect], taken: Rect) -> list[Rect]:
    """The largest empty rectangles once `taken` is cut away from those there were.

    Only the parts of rectangles that were cut can lie within another one: what was whole
    before was not within any, and the parts are smaller than they were.
    """
    whole = [rect for rect in empty if not rect.overlaps(taken)]
    touching = [rect for rect in whole if _meet(rect, taken)]
    parts = sorted(
        {part for rect in empty if rect.overlaps(taken) for part in _around(rect, taken)},
        key=lambda rect: (-rect.area, rect),
    )
    kept: list[Rect] = []
    for part in parts:
        if not any(other.holds(part) for other in touching) and not any(
            other.holds(part) for other in kept
        ):
            kept.append(part)
    return whole + kept


def _meet(one: Rect, two: Rect) -> bool:
    """Whether two rectangles share at least a point: a part left by `two` touches it."""
    return one.x0 <= two.x1 and two.x0 <= one.x1 and one.y0 <= two.y1 and two.y0 <= one.y1


def _around(rect: Rect, taken: Rect) -> Iterator[Rect]:
    """What is left of a rectangle before, behind, below and above what is taken from it."""
    if taken.x0 > rect.x0:
        yield Rect(rect.x0, rect.y0, taken.x0, rect.y1)
    if taken.x1 < rect.x1:
        yield Rect(taken.x1, rect.y0, rect.x1, rect.y1)
    if taken.y0 > rect.y0:
        yield Rect(rect.x0, rect.y0, rect.x1, taken.y0)
    if taken.y1 < rect.y1:
        yield Rect(rect.x0, taken.y1, rect.x1, rect.y1)


def straight_cuts(bolt: Rect, taken: Sequence[Rect]) -> int:
    """Count the straight cuts that free all pieces: lines along their edges, as long as they go.

    Edges that lie on one line and meet or overlap are one cut, on whichever side the pieces
    lie; an edge on the bolt's own edge needs none.
    """
    across: dict[int, list[Span]] = defaultdict(list)
    along: dict[int, list[Span]] = defaultdict(list)
    for rect in taken:
        for x in (rect.x0, rect.x1):
            if bolt.x0 < x < bolt.x1:
                across[x].append((rect.y0, rect.y1))
        for y in (rect.y0, rect.y1):
            if bolt.y0 < y < bolt.y1:
                along[y].append((rect.x0, rect.x1))
    return sum(_runs(spans) for lines in (across, along) for spans in lines.values())


def _runs(spans: list[Span]) -> int:
    """How many stretches these spans make where those that meet are one."""
    runs, end = 0, None
    for begin, until in sorted(spans):
        if end is None or begin > end:
            runs, end = runs + 1, until
        end = max(end, until)
    return runs


def least_cuts(pieces: int) -> int:
    """The fewest straight cuts that can part cloth into so many pieces, waste not counted.

    Draw v cuts along the bolt: cloth is in v + 1 parts at most. A cut across meets each of
    them once at most, so it runs through v + 1 parts at most, and parts each in two: h cuts
    across make (h + 1)(v + 1) parts at most. Of m cuts that is most where half run each way,
    so m cuts free no more than (m // 2 + 1)((m + 1) // 2 + 1) pieces.
    """
    cuts = 0
    while (cuts // 2 + 1) * ((cuts + 1) // 2 + 1) < pieces:
        cuts += 1
    return cuts
