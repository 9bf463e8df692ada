"""May the cloth be parted as the lay says, and does a lay for the shears hold together?"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import chain

from marker.geometry import Rect
from marker.lay import Lay, Mode
from marker.referee.laid import Laid
from marker.referee.words import place


def mode_faults(lay: Lay) -> Iterator[str]:
    """A lay to be torn asks for cloth that tears, laid open, and something that may be torn."""
    if lay.mode != Mode.TEAR:
        return
    if not lay.cloth.tears:
        yield "The lay is to be torn, but this cloth doesn't tear."
    if lay.cloth.folded:
        yield "The lay is to be torn, but this cloth is laid folded, to be cut in two layers."
    if lay.pieces and not lay.regions and not any(piece.torn for piece in lay.pieces):
        yield "The lay is to be torn, but none of its pieces may be."


def shears_faults(lay: Lay) -> Iterator[str]:
    """A lay for the shears lists no tears, and its offcuts are true parts of the bolt.

    That they overlap nothing and make up the bolt with the pieces is judged elsewhere; all
    three together make them exactly what straight pieces leave.
    """
    if lay.tears:
        count = "a tear" if len(lay.tears) == 1 else f"{len(lay.tears)} tears"
        yield f"The lay is for shears, but it lists {count}."
    if lay.regions:
        count = "a region" if len(lay.regions) == 1 else f"{len(lay.regions)} regions"
        yield f"The lay is for shears, but it lists {count} to be torn free."
    for at, offcut in enumerate(lay.offcuts, 1):
        rect = offcut.rect
        if rect.x0 >= rect.x1 or rect.y0 >= rect.y1:
            yield f"offcut-{at} lies at {place(rect)}, which holds no cloth."
        elif not lay.bolt.holds(rect):
            yield f"offcut-{at} lies at {place(rect)}, beyond the bolt at {place(lay.bolt)}."


def straight_cuts(lay: Lay, pieces: Sequence[Laid]) -> int:
    """How many straight cuts free the pieces, and square the cloth where it is squared.

    A cut runs along edges of pieces that lie in one line and meet or overlap. An edge of a
    piece on the edge of the bolt needs none.
    """
    bolt = lay.bolt
    lines: dict[tuple[str, int], list[tuple[int, int]]] = {}
    if bolt.x0 < 0:
        lines["across", 0] = [(bolt.y0, bolt.y1)]
    for spot in pieces:
        rect = spot.rect
        for x in {rect.x0, rect.x1} - {bolt.x0, bolt.x1}:
            lines.setdefault(("across", x), []).append((rect.y0, rect.y1))
        for y in {rect.y0, rect.y1} - {bolt.y0, bolt.y1}:
            lines.setdefault(("along", y), []).append((rect.x0, rect.x1))
    return sum(_runs(spans) for spans in lines.values())


def _runs(spans: list[tuple[int, int]]) -> int:
    """How many stretches are left when those that meet are taken as one."""
    runs, reach = 0, None
    for low, high in sorted(spans):
        if reach is None or low > reach:
            runs += 1
            reach = high
        reach = max(reach, high)
    return runs


def largest_gap(zone: Rect, rects: Sequence[Rect], least: int, over: int) -> int:
    """Area of the largest rectangle of `zone` that no rect reaches into, if more than `over`.

    Only rectangles of no side under `least` count; `over` where there is none larger. From
    each place where a gap can begin, the gaps are followed along until rects close them or
    they can't become large enough any more.
    """
    order = sorted(rect for rect in rects if zone.overlaps(rect))
    best, begun, after = over, [], 0
    for start in sorted({zone.x0, *(rect.x1 for rect in order)}):
        while after < len(order) and order[after].x0 < start:
            begun.append(order[after])
            after += 1
        begun = [rect for rect in begun if rect.x1 > start]
        ahead = chain(begun, (order[at] for at in range(after, len(order))))
        best = _follow(Rect(start, zone.y0, zone.x1, zone.y1), ahead, least, best)
    return best


def _follow(room: Rect, ahead: Iterable[Rect], least: int, best: int) -> int:
    """The largest gap that begins where `room` does; `ahead` are the rects in it, by low x."""
    gaps = [(room.y0, room.y1)]
    for rect in ahead:
        wide = max((high - low for low, high in gaps), default=0)
        if wide < least or wide * room.along <= best:
            return best
        best = max(best, _closed(gaps, rect, room.x0, least))
        gaps = _parted(gaps, rect)
    return max(best, _area(room.along, gaps, least))


def _closed(gaps: Sequence[tuple[int, int]], rect: Rect, start: int, least: int) -> int:
    """Largest area of the gaps that a rect closes, from `start` to where it begins."""
    met = [(low, high) for low, high in gaps if rect.y0 < high and low < rect.y1]
    return _area(rect.x0 - start, met, least)


def _parted(gaps: Sequence[tuple[int, int]], rect: Rect) -> list[tuple[int, int]]:
    """The gaps with a rect's breadth taken out of them.

    What is left on either side of it is still one gap from the start; none is lost.
    """
    left = []
    for low, high in gaps:
        if rect.y0 >= high or low >= rect.y1:
            left.append((low, high))
            continue
        left += [side for side in ((low, rect.y0), (rect.y1, high)) if side[0] < side[1]]
    return left


def _area(along: int, gaps: Sequence[tuple[int, int]], least: int) -> int:
    """The largest area of gaps so long with no side under `least`; below nought for none."""
    wide = max((high - low for low, high in gaps), default=0)
    return along * wide if min(along, wide) >= least else -1
