"""Does every piece lie on usable cloth, alone, and does the cloth add up?"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import chain

from marker.geometry import Rect
from marker.lay import Lay
from marker.referee.laid import Laid
from marker.referee.words import figure, place, plain, span

_MOST = 200
"""Overlaps named one by one; in a heap of a thousand pieces the rest tell nothing new."""

Named = tuple[str, Rect]


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
    shapes: list[Named] = [(plain(spot.id), spot.rect) for spot in pieces]
    shapes += [(f"offcut-{at}", offcut.rect) for at, offcut in enumerate(lay.offcuts, 1)]
    for found, (one, other, shared) in enumerate(overlaps(shapes)):
        if found == _MOST:
            yield f"More than {_MOST} pairs lie over one another; the rest aren't listed."
            return
        yield f"{one} and {other} lie over one another at {place(shared)}."


def overlaps(shapes: Sequence[Named]) -> Iterator[tuple[str, str, Rect]]:
    """Every pair of rectangles that share cloth, with what they share.

    Shapes are taken by their low x; only those that still reach past it are compared, so
    a lay takes time in proportion to its pieces times the few that lie abreast.
    """
    open_now: list[Named] = []
    for name, rect in sorted(shapes, key=lambda shape: shape[1]):
        if rect.x0 >= rect.x1 or rect.y0 >= rect.y1:
            continue
        open_now = [shape for shape in open_now if shape[1].x1 > rect.x0]
        for other, held in open_now:
            low, high = max(rect.y0, held.y0), min(rect.y1, held.y1)
            if low < high:
                yield other, name, Rect(rect.x0, low, min(rect.x1, held.x1), high)
        open_now.append((name, rect))


def area_faults(lay: Lay, pieces: Sequence[Laid]) -> Iterator[str]:
    """The area of pieces and offcuts must be the area of the bolt."""
    rects = chain((spot.rect for spot in pieces), (offcut.rect for offcut in lay.offcuts))
    total, whole = sum(map(_area, rects)), _area(lay.bolt)
    if total != whole:
        more = "more" if total > whole else "less"
        yield (
            f"Pieces and offcuts add up to {figure(abs(total - whole))} square units "
            f"{more} than the bolt, which has {figure(whole)}."
        )


def _area(rect: Rect) -> int:
    return (rect.x1 - rect.x0) * (rect.y1 - rect.y0)
