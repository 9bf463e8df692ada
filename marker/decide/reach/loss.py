"""What a change takes away: so much of a round hem, a length, a facing.

Changes are ordered by one measure that holds for all of them: the part of the finished cloth
that goes. A garment counts with its round hem by its length and what is turned in or faced; so a
shorter hem, fewer panels and a facing left off can be weighed against each other, and nothing
ever takes more than all.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction

from marker.decide.reach.lengths import facing_depth, finished
from marker.decide.reach.losses import Loss, Losses, What
from marker.decide.reach.stands import Stand
from marker.garments.drawn_up import TURN_DOWN
from marker.garments.petticoat import Petticoat
from marker.garments.straight_skirt import StraightSkirt


def turn_down(stand: Stand) -> int:
    """What a gauged top turns in; nought for any other."""
    spec = stand.order.spec
    if isinstance(spec, StraightSkirt | Petticoat) and spec.top == "gauged":
        return stand.order.usual(spec.turn_down, TURN_DOWN)
    return 0


def part(stands: Iterable[Stand], losses: Losses) -> Fraction:
    """The part of the finished cloth of all garments that goes, nought to one."""
    whole = left = 0
    for stand in stands:
        own = [loss for loss in losses if loss.garment == stand.table]
        around, long = stand.draft.garment.round_hem, finished(stand)
        inside = facing_depth(stand) + turn_down(stand)
        kept = max(0, around - _taken(own, What.ROUND))
        deep = long + inside - _taken(own, What.LENGTH, What.FACING, What.TURN_DOWN)
        whole += len(stand.orders) * around * (long + inside)
        left += len(stand.orders) * kept * max(0, deep)
    return 1 - Fraction(left, whole) if whole else Fraction(0)


def _taken(losses: Sequence[Loss], *what: What) -> int:
    return sum(loss.taken for loss in losses if loss.what in what)
