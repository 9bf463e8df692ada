"""Does every piece lie on usable cloth, alone, and does the cloth add up?"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import chain

from marker.geometry import Polygon, Rect
from marker.lay import Lay
from marker.referee.laid import Laid
from marker.referee.words import figure, place, plain, span

_MOST = 200
"""Overlaps named one by one; in a heap of a thousand pieces the rest tell nothing new."""

Cover = tuple[str, Rect, Polygon | None]
"""A name, a box, and the cloth within the box where that isn't all of it."""


def edge_faults(lay: Lay, low: int, high: int, pieces: Sequence[Laid]) -> Iterator[str]:
    """Pieces outside 0..length along the cloth, or outside `low`..`high` across it."""
    for spot in pieces:
        rect, name = spot.rect, plain(spot.id)
        if rect.y0 < low or rect.y1 > high:
            yield (
                f"{name} lies at {span(rect.y0, rect.y1)} across, "
                f"outside the usable cloth of {span(low, high)}."
            )
        if rect.x0 < 0 or rect.x1 > lay.length:
            yield (
                f"{name} lies at {span(rect.x0, rect.x1)} along, "
                f"outside the lay of {span(0, lay.length)}."
            )


def overlap_faults(lay: Lay, pieces: Sequence[Laid]) -> Iterator[str]:
    """Pieces and offcuts that claim the same cloth, by a sweep along the bolt."""
    covers: list[Cover] = [(plain(spot.id), spot.rect, spot.polygon) for spot in pieces]
    covers += [(f"offcut-{at}", offcut.rect, None) for at, offcut in enumerate(lay.offcuts, 1)]
    for found, (one, other, shared) in enumerate(overlaps(covers)):
        if found == _MOST:
            yield f"More than {_MOST} pairs lie over one another; the rest aren't listed."
            return
        yield f"{one} and {other} lie over one another at {place(shared)}."


def overlaps(covers: Sequence[Cover]) -> Iterator[tuple[str, str, Rect]]:
    """Every pair that shares cloth, with what their boxes share.

    Rectangles share all of that; where there is an outline, whether they do is told exactly.
    """
    full = [cover for cover in covers if cover[1].x0 < cover[1].x1 and cover[1].y0 < cover[1].y1]
    for i, j in abreast([rect for _, rect, _ in full], 0):
        (one, box, cloth), (other, held, more) = full[i], full[j]
        if cloth or more:
            first, second = cloth or Polygon.of_rect(box), more or Polygon.of_rect(held)
            if not first.overlaps(second):
                continue
        yield one, other, shared(box, held)


def shared(one: Rect, other: Rect) -> Rect:
    """What two boxes share; turned inside out where that is nothing."""
    return Rect(
        max(one.x0, other.x0), max(one.y0, other.y0), min(one.x1, other.x1), min(one.y1, other.y1)
    )


def abreast(rects: Sequence[Rect], reach: int) -> Iterator[tuple[int, int]]:
    """Index pairs of rectangles that lie closer than `reach` along and across, or share cloth.

    They are taken by their low x; only those that still reach past it are compared, so a lay
    takes time in proportion to its pieces times the few that lie abreast.
    """
    open_now: list[int] = []
    for i in sorted(range(len(rects)), key=rects.__getitem__):
        rect = rects[i]
        open_now = [j for j in open_now if rects[j].x1 + reach > rect.x0]
        for j in open_now:
            held = rects[j]
            if max(rect.y0, held.y0) < min(rect.y1, held.y1) + reach:
                yield j, i
        open_now.append(i)


def area_faults(lay: Lay, pieces: Sequence[Laid]) -> Iterator[str]:
    """The area of pieces and offcuts must be the area of the bolt.

    Beside outlines it isn't: there, offcuts are rectangles out of what is left. On folded cloth
    the place of an image that is missing is cut through, and so is no offcut.
    """
    if any(spot.polygon for spot in pieces):
        return
    rects = chain((spot.rect for spot in pieces), (offcut.rect for offcut in lay.offcuts))
    total, whole = sum(map(_area, rects)), _area(lay.bolt)
    if total > whole or (total < whole and not lay.cloth.folded):
        more = "more" if total > whole else "less"
        yield (
            f"Pieces and offcuts add up to {figure(abs(total - whole))} square units "
            f"{more} than the bolt, which has {figure(whole)}."
        )


def _area(rect: Rect) -> int:
    return (rect.x1 - rect.x0) * (rect.y1 - rect.y0)
