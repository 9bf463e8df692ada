"""The further goals among lays of one length: the largest remnant, then the fewest tears.

Best effort, not proved: every band of the lay in hand is tried as the last, the other
bands in their order, and every way of parting it along with the shop's end still on it.
The order of parts within a band, and other lays of the same length, are not gone through.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from marker.cloth import Cloth
from marker.lay import Direction, Offcut, Part, leaves, tears
from marker.piece import Piece
from marker.solver.goals import kept, largest
from marker.solver.tear.block import Block
from marker.solver.tear.tree import build


def offcuts(cloth: Cloth, tree: Part) -> tuple[Offcut, ...]:
    """All that is left over, in the order of work."""
    return kept(cloth, [leaf.rect for leaf in leaves(tree) if leaf.placed is None])


def largest_remnant(cloth: Cloth, pieces: Sequence[Piece], bands: Sequence[Block]) -> Part:
    """The cut tree with the largest useful remnant, and of those the fewest tears."""
    trees = (build(cloth, pieces, order, split) for order, split in _arrangements(cloth, bands))
    return max(trees, key=lambda tree: _score(cloth, tree))


def _score(cloth: Cloth, tree: Part) -> tuple[int, int]:
    return largest(cloth, offcuts(cloth, tree)), -len(tears(tree))


def _arrangements(cloth: Cloth, bands: Sequence[Block]) -> Iterator[tuple[list[Block], int]]:
    """Rows of the bands with each distinct one last, and the ways to part the last."""
    length = sum(band.a for band in bands)
    bolt = cloth.bolt(length)
    # The shop's end can stay on only where a tear across comes before the last band.
    holds_end = bolt.x1 > length and (len(bands) > 1 or bolt.x0 < 0)
    seen = set()
    for index, band in enumerate(bands):
        if band in seen:
            continue
        seen.add(band)
        order = [*bands[:index], *bands[index + 1 :], band]
        yield order, 0
        if holds_end:
            ways = len(band.parts) if band.direction is Direction.ALONG else 1
            for split in range(1, ways + 1):
                yield order, split
