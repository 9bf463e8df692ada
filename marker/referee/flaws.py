"""Does any piece lie over a flaw of the cloth?"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from marker.geometry import Polygon, Rect
from marker.lay import Lay
from marker.referee.laid import Laid
from marker.referee.room import shared
from marker.referee.words import place, plain

_MOST = 200
"""Pieces over flaws named one by one; the rest tell nothing new."""


def flaw_faults(lay: Lay, pieces: Sequence[Laid]) -> Iterator[str]:
    """Flaws that hold no cloth, and pieces that lie over one; edges may touch."""
    flaws: list[tuple[int, Rect]] = []
    for at, flaw in enumerate(lay.cloth.flaws, 1):
        if flaw.x0 < flaw.x1 and flaw.y0 < flaw.y1:
            flaws.append((at, flaw))
        else:
            yield f"Flaw {at} of the cloth lies at {place(flaw)}, which holds no cloth."
    for found, (spot, at, both) in enumerate(_over(flaws, pieces)):
        if found == _MOST:
            yield f"More than {_MOST} times a piece lies over a flaw; the rest aren't listed."
            return
        yield f"{plain(spot.id)} lies over flaw {at} of the cloth at {place(both)}."


def _over(
    flaws: Sequence[tuple[int, Rect]], pieces: Sequence[Laid]
) -> Iterator[tuple[Laid, int, Rect]]:
    """Every piece and flaw that share cloth, with what they share, by a sweep along the bolt."""
    events: list[tuple[int, int, Laid | None, Rect]] = [
        (flaw.x0, at, None, flaw) for at, flaw in flaws
    ]
    events += [(spot.rect.x0, 0, spot, spot.rect) for spot in pieces]
    spots: list[Laid] = []
    open_flaws: list[tuple[int, Rect]] = []
    for x, at, spot, rect in sorted(events, key=lambda event: event[:2]):
        if spot is None:
            spots = [held for held in spots if held.rect.x1 > x]
            open_flaws.append((at, rect))
            met = [(held, at, shared(held.rect, rect)) for held in spots]
        else:
            open_flaws = [held for held in open_flaws if held[1].x1 > x]
            spots.append(spot)
            met = [(spot, number, shared(rect, flaw)) for number, flaw in open_flaws]
        yield from (pair for pair in met if _meets(pair[0], pair[2]))


def _meets(spot: Laid, both: Rect) -> bool:
    """Whether a piece has cloth in what its box shares with a flaw."""
    if both.x0 >= both.x1 or both.y0 >= both.y1:
        return False
    return spot.polygon is None or spot.polygon.overlaps(Polygon.of_rect(both))
