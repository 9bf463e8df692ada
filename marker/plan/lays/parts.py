"""How a long bolt is parted into stretches that are drawn by themselves, page by page."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise

from marker.geometry import Rect
from marker.lay import Direction, Lay, Mode, Offcut, Placement, Tear
from marker.plan.words.drops import clear_lines
from marker.units import CM, METRE

LONG = 4 * METRE
"""A longer bolt is drawn in stretches."""
MOST = 3 * METRE
"""About so much of it makes one of them."""
SHORT = 6 * METRE // 5
"""A shorter bolt is never parted."""
OVERLAP = 15 * CM
"""So much of the stretches before and after is shown at either end."""
NEAR = 4
"""A clear line is taken for an end if it lies within this part of a stretch of where it should."""


@dataclass(frozen=True)
class Part:
    """One stretch: the lay of what belongs to it, and where it begins and ends.

    Every piece belongs to the stretch that its middle lies in. `lay.bolt` reaches from `low`
    to `high`, and further where a piece does. `others` are letters and places of pieces of its
    neighbours that reach to within `OVERLAP` of that.
    """

    lay: Lay
    low: int
    high: int
    others: tuple[tuple[str, Rect], ...] = ()


Placed = tuple[Placement, Rect]


@lru_cache(maxsize=4)
def parts(lay: Lay) -> tuple[Part, ...]:
    """The stretches of a lay, if it is drawn in stretches; none of a very short one.

    They end where a line runs clear across the cloth, or else where they must. Kept, since
    every scale at which its page is tried asks for them.
    """
    bolt = lay.bolt
    if bolt.along <= SHORT:
        return ()
    number = max(2, -(-bolt.along // MOST))
    lines = sorted({at for at in _lines(lay) if 0 < at < bolt.x1})
    cuts = set()
    for place in range(1, number):
        want = bolt.x0 + bolt.along * place // number
        line = min(lines, key=lambda at: (abs(at - want), at), default=want)
        cuts.add(line if abs(line - want) * NEAR * number <= bolt.along else want)
    known = {piece.letter: piece for piece in lay.pieces}
    every = [(spot, spot.rect(known[spot.letter])) for spot in lay.placements]
    return tuple(_part(lay, *ends, every) for ends in pairwise((bolt.x0, *sorted(cuts), bolt.x1)))


def _lines(lay: Lay) -> Iterator[int]:
    """Where the whole cloth is torn, or could be cut, right across."""
    if lay.mode is Mode.SHEARS:
        yield from clear_lines(lay)
    for tear in lay.tears:
        if tear.direction is Direction.ACROSS and tear.in_hand.across == lay.bolt.across:
            yield tear.at


def _part(lay: Lay, low: int, high: int, every: Sequence[Placed]) -> Part:
    own = {spot: rect for spot, rect in every if low <= (rect.x0 + rect.x1) // 2 < high}
    start = min((low, *(rect.x0 for rect in own.values())))
    end = max((high, *(rect.x1 for rect in own.values())))
    others = tuple(
        (spot.letter, rect)
        for spot, rect in every
        if rect.x1 > start - OVERLAP and rect.x0 < end + OVERLAP and spot not in own
    )
    letters = {spot.letter for spot in own}
    offcuts = (cut for cut in lay.offcuts if _reaches(cut.rect, start, end))
    regions = (region for region in lay.regions if _reaches(region, start, end))
    alone = replace(
        lay,
        pieces=tuple(piece for piece in lay.pieces if piece.letter in letters),
        length=min(end, lay.length),
        bolt=Rect(start, lay.bolt.y0, end, lay.bolt.y1),
        placements=tuple(own),
        tears=tuple(_tears(lay, (low, high), (start, end))),
        offcuts=tuple(Offcut(_clip(cut.rect, start, end), cut.keep) for cut in offcuts),
        regions=tuple(_clip(region, start, end) for region in regions),
    )
    return Part(alone, low, high, others)


def _tears(lay: Lay, own: tuple[int, int], seen: tuple[int, int]) -> Iterator[Tear]:
    """The tears of a stretch: those across that end in it, those along as far as they are seen."""
    for tear in lay.tears:
        if not _reaches(tear.in_hand, *seen):
            continue
        if tear.direction is Direction.ALONG or own[0] < tear.at <= own[1]:
            yield replace(tear, in_hand=_clip(tear.in_hand, *seen))


def _reaches(rect: Rect, low: int, high: int) -> bool:
    """Whether some of a rectangle lies between two places."""
    return max(rect.x0, low) < min(rect.x1, high)


def _clip(rect: Rect, low: int, high: int) -> Rect:
    """What of a rectangle lies between two places, where something does."""
    return Rect(max(rect.x0, low), rect.y0, min(rect.x1, high), rect.y1)
