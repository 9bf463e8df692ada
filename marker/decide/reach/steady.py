"""Whether a dial may be turned by halving: what its steps ask for, drafted.

Each step must ask for less of the same pieces. Where their number changes on the way (a smaller
round hem takes fewer, but longer, strips) the dial is parted there, and each stretch is searched
by itself. What has an outline is seldom held by what is larger, so that nothing follows from one
step for the others; nor where stripes that go on over the seams would fall otherwise.
"""

from __future__ import annotations

from dataclasses import replace

from marker.casefile import Case
from marker.casefile.changes import changed
from marker.decide import draft
from marker.decide.reach.dial import Dial
from marker.errors import BadInput
from marker.garments.circular.circles import Circular
from marker.garments.order import Draft, Order, Spec
from marker.piece import Piece, Wise

MOST_STRETCHES = 12
"""With more of them the dial is searched as one, and proves nothing."""

Drafted = tuple[tuple[Spec, tuple[Draft, ...]], ...]
"""The recipe of each order, and all its drafts."""


def steady(case: Case, dial: Dial) -> Dial:
    """The dial without last steps that can't be drafted, parted, and told whether it proves."""
    if not dial.falls:
        return dial
    drafting = _Drafting(case, dial)
    dial = replace(dial, size=drafting.last() + 1)
    starts = sorted(drafting.cuts(0, dial.size - 1))
    ends = [*starts[1:], dial.size] if starts else []
    if len(starts) > MOST_STRETCHES:
        return replace(dial, proves=False)
    stretches = tuple(zip(starts, ends, strict=True))
    proves = all(drafting.less(first, end - 1) for first, end in stretches)
    # In one stretch alone: where strips grow fewer they may take more in all.
    weighs = not proves and len(starts) == 1 and drafting.lighter(0, dial.size - 1)
    return replace(dial, stretches=stretches, proves=proves, weighs=weighs)


class _Drafting:
    def __init__(self, case: Case, dial: Dial) -> None:
        self.case, self.dial = case, dial
        self.known: dict[int, Drafted | None] = {}

    def at(self, step: int) -> Drafted | None:
        """What a step asks for; None where it can't be drafted."""
        if step not in self.known:
            try:
                case = changed(self.case, self.dial.changes(step))
                found = zip(case.orders, draft(case), strict=True)
                self.known[step] = tuple((_spec(order), options) for order, options in found)
            except BadInput:
                self.known[step] = None
        return self.known[step]

    def last(self) -> int:
        """The last step that can be drafted; the very last where none was found that can."""
        last = self.dial.size - 1
        starts = (last, 0, last // 4, last // 2, 3 * last // 4)
        fits = next((step for step in starts if self.at(step)), last)
        while last - fits > 1:
            step = (fits + last) // 2
            if self.at(step):
                fits = step
            else:
                last = step
        return fits

    def cuts(self, low: int, high: int) -> set[int]:
        """The first step, and every one with other numbers of pieces than the one before."""
        found = {0}
        waiting = [(low, high)]
        while waiting and len(found) <= MOST_STRETCHES + 1:
            low, high = waiting.pop()
            if _numbers(self.at(low)) == _numbers(self.at(high)):
                continue
            if high - low == 1:
                found.add(high)
                continue
            middle = (low + high) // 2
            waiting += [(low, middle), (middle, high)]
        return found

    def less(self, first: int, last: int) -> bool:
        """Whether a later step of a stretch asks for no more than the first."""
        more, less = self.at(first), self.at(last)
        if more is None or less is None:
            return more is less  # nothing that can't be drafted can be had
        return all(
            _held(big, small, isinstance(spec, Circular))
            for (spec, options), (_, fewer) in zip(more, less, strict=True)
            for one, other in zip(options, fewer, strict=True)
            for big, small in zip(one.pieces, other.pieces, strict=True)
        )

    def lighter(self, first: int, last: int) -> bool:
        """Whether no piece of a later step has more area than its fellow in the first."""
        more, less = self.at(first), self.at(last)
        if more is None or less is None:
            return False
        return all(
            small.area2 <= big.area2
            for (_, options), (_, fewer) in zip(more, less, strict=True)
            for one, other in zip(options, fewer, strict=True)
            for big, small in zip(one.pieces, other.pieces, strict=True)
        )


def _spec(order: Order) -> Spec:
    return order.spec


def _numbers(drafted: Drafted | None) -> object:
    """How many pieces of each name every draft has."""
    return drafted and tuple(
        tuple((piece.name, piece.count) for piece in one.pieces)
        for _, options in drafted
        for one in options
    )


def _held(big: Piece, small: Piece, circular: bool) -> bool:
    """Whether the smaller piece lies wherever the larger one did."""
    if replace(big, marks=()) == replace(small, marks=()):
        return True
    if (big.outline or small.outline) and not circular:
        return False
    crosswise = any(match.wise is Wise.CROSSWISE for match in (*big.matches, *small.matches))
    if crosswise and big.breadth != small.breadth:
        return False
    return small.length <= big.length and small.breadth <= big.breadth
