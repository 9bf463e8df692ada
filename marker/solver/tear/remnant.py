"""The further goals among lays of one length: the largest remnant, then the fewest tears.

Best effort, not proved: every band of the lay in hand is tried as the last, the other
bands in their order, and every way of parting it along with the shop's end still on it.
The order of parts within a band, and other lays of the same length, are not gone through.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from marker.cloth import Cloth
from marker.geometry import Rect
from marker.lay import Direction, Part, leaves, tears
from marker.piece import Piece
from marker.solver.goals import useful
from marker.solver.tear.block import Block
from marker.solver.tear.tree import Blank, Cutter, build, last_parts

Score = tuple[int, int]
"""The largest useful offcut, and the tears, counted downwards."""


def largest_remnant(cloth: Cloth, pieces: Sequence[Piece], bands: Sequence[Block]) -> Part:
    """The cut tree with the largest useful remnant, and of those the fewest tears."""
    scores = list(_scores(cloth, bands))
    _, index, split = max(scores, key=lambda found: found[0])
    return build(cloth, pieces, [*bands[:index], *bands[index + 1 :], bands[index]], split)


def _scores(cloth: Cloth, bands: Sequence[Block]) -> Iterator[tuple[Score, int, int]]:
    """The score with each distinct band as the last, by its place, and each way to part it.

    What a band leaves doesn't depend on where it lies, so each is parted by itself.
    """
    length = sum(band.a for band in bands)
    bolt = cloth.bolt(length)
    cutter = Cutter(cloth, Blank())
    inner = {
        band: _score(cloth, [cutter.band(band, Rect(0, 0, band.a, bolt.y1))])
        for band in dict.fromkeys(bands)
    }
    tears_inside = sum(inner[band][1] for band in bands)
    ranked = sorted(range(len(bands)), key=lambda at: -inner[bands[at]][0])
    for index, band in enumerate(bands):
        if band in bands[:index]:
            continue
        best_other = next((inner[bands[at]][0] for at in ranked if at != index), 0)
        for split in _splits(band, len(bands), length, bolt):
            parts = last_parts(cutter, band, split, length - band.a, bolt)
            remnant, count = _score(cloth, parts)
            across = 1 - len(parts)
            yield (
                (max(remnant, best_other), tears_inside - inner[band][1] + count + across),
                index,
                split,
            )


def _splits(band: Block, bands: int, length: int, bolt: Rect) -> Iterable[int]:
    """The ways to part the last band: 0, and those that keep the shop's end on.

    The end can stay on only where a tear across comes before the last band.
    """
    if bolt.x1 == length or (bands == 1 and bolt.x0 == 0):
        return (0,)
    return range(1 + (len(band.parts) if band.direction is Direction.ALONG else 1))


def _score(cloth: Cloth, parts: Sequence[Part]) -> Score:
    left = (useful(cloth, leaf.rect) for part in parts for leaf in leaves(part) if not leaf.placed)
    return max(left, default=0), -sum(len(tears(part)) for part in parts)
