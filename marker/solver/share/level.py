"""Segments that lie on one cloth made alike, so that no sliver has to be parted off one of them.

The search spreads what a strip needs as evenly as it can, to a step of the tape; a total that
doesn't divide leaves segments of two lengths a step apart, and which of them lie side by side
is chance.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from marker.piece import Pieced
from marker.solver.share.model import Segment, Shares
from marker.units import CM

NEAR = CM
"""Segments of one cloth that differ by less are made as long as the longest of them."""


def level(found: Sequence[Segment], pieced: Pieced) -> tuple[Segment, ...]:
    """The segments of a strip with those of one cloth alike where they nearly are.

    What they gain is taken off segments that have a cloth to themselves, the longest first, as
    far as the least length allows.
    """
    if pieced.pitch:
        return tuple(found)  # from seam to seam, and no other lengths
    made = list(found)
    for at, segment in enumerate(made):
        mates = [each.length for each in found if each.cloth == segment.cloth]
        near = max(length for length in mates if length - segment.length < NEAR)
        made[at] = replace(segment, length=near)
    spare = sum(each.length for each in made) - sum(each.length for each in found)
    alone = [at for at, each in enumerate(made) if sum(e.cloth == each.cloth for e in made) == 1]
    for at in sorted(alone, key=lambda at: -made[at].length):
        less = min(spare, max(0, made[at].length - pieced.least))
        made[at] = replace(made[at], length=made[at].length - less)
        spare -= less
    return tuple(made)


def lots(found: Sequence[Segment]) -> int:
    """How many kinds of segments there are, by cloth and length."""
    return len(set(found))


def levelled(shares: Shares, pieced: dict[int, Pieced]) -> Shares:
    """Shares whose strips are levelled where that leaves fewer kinds of segments."""
    segments = {}
    for at, found in shares.segments.items():
        made = level(found, pieced[at])
        segments[at] = made if lots(made) < lots(found) else found
    return Shares(shares.copies, segments)
