"""Stripes and checks that match in pieces that the user brings."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence

from marker import units
from marker.garments.brought.piece import OwnPiece, own_fault
from marker.garments.matching import no_repeat
from marker.garments.order import Order
from marker.geometry.curves import Spot
from marker.piece import Match


def own_matches(order: Order, own: OwnPiece, carry: Callable[[Spot], Spot]) -> Iterator[Match]:
    """The point that the piece is to match by, in its own frame, to which `carry` brings places.

    Raises `BadInput` where a cloth has no repeat for it, or the place lies off the outline.
    """
    one = own.matched
    if one is None:
        return
    for wise in one.wise:
        for key in own.cloths:
            if lacking := no_repeat(order.cloths[key], wise):
                raise own_fault(order, own, f".match: {lacking}, or take match out")
    x0, y0, x1, y1 = own.outline.box
    u, v = one.at
    if not (x0 <= u <= x1 and y0 <= v <= y1):
        size = " by ".join(
            units.format_length(round(side), order.units, fine=True) for side in (x1 - x0, y1 - y0)
        )
        raise own_fault(
            order, own, f".match.at lies off the outline, which is {size}; give a place on it"
        )
    u, v = carry(one.at)
    for wise in one.wise:
        yield Match(f"{order.key}/{one.set}", wise, round(u), round(v))


def sets_agree(order: Order, pieces: Sequence[OwnPiece]) -> None:
    """Refuse a set of one: it would match nothing."""
    matched = [(own, own.matched) for own in pieces if own.matched]
    found = Counter[tuple[str, str]]()
    for own, one in matched:
        for wise in one.wise:
            found[one.set, wise] += own.count
    for own, one in matched:
        for wise in one.wise:
            if found[one.set, wise] < 2:
                raise own_fault(
                    order,
                    own,
                    f".match.set is {one.set!r}, and nothing else is in that set {wise}; give the "
                    "piece that it is to match the same set, or take match out",
                )


def unmatched(order: Order, pieces: Sequence[OwnPiece]) -> Iterator[str]:
    """Say where a cloth has a repeat that no piece heeds."""
    for key in dict.fromkeys(key for own in pieces for key in own.cloths):
        repeat = order.cloths[key].repeat
        if (repeat.along or repeat.across) and not any(
            own.matched for own in pieces if key in own.cloths
        ):
            yield (
                f"No piece is matched to the repeat of the cloth {key!r}; give those that meet a "
                "match of one set."
            )
