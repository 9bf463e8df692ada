"""Does the lay reach what is told of its goals, and can the bounds on them be true?

An offcut is useful where some rectangle of its usable cloth, without selvedge, squaring and
flaws, is at least 10 cm either way (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from marker.geometry import Rect
from marker.lay import Aim, Goal, Lay, Mode
from marker.referee.bought import Shop
from marker.referee.laid import Laid
from marker.referee.regions import cut_out
from marker.referee.shears import largest_gap, straight_cuts
from marker.referee.words import figure, plain, several, spell
from marker.units import CM

_USEFUL = 10 * CM
_MOST_FLAWS = 50
"""What holds more flaws than this is worth nothing."""
_ORDER = (Aim.BUY, Aim.LENGTH, Aim.REMNANT, Aim.TEARS)


def keep_faults(lay: Lay, goods: Shop) -> Iterator[str]:
    """Offcuts marked to be kept that aren't useful, or useful ones that aren't marked."""
    for at, offcut in enumerate(lay.offcuts, 1):
        usable = _usable(offcut.rect, goods)
        useful = _useful(usable, lay.cloth.flaws) > 0
        if offcut.keep == useful:
            continue
        size = f"{spell(max(usable.along, 0))} by {spell(max(usable.across, 0))}"
        if any(flaw.overlaps(usable) for flaw in lay.cloth.flaws):
            size += " with flaws in it"
        marked = "is" if offcut.keep else "isn't"
        yield (
            f"offcut-{at} {marked} marked to be kept, but its usable cloth is {size}; "
            f"what has {spell(_USEFUL)} or more either way is kept."
        )


def goal_faults(lay: Lay, goods: Shop, pieces: Sequence[Laid]) -> Iterator[str]:
    """The four goals in order, each with its true value and a bound on its right side."""
    told = tuple(goal.aim for goal in lay.goals)
    if told != _ORDER:
        yield (
            f"The goals of a lay are {several(_ORDER)}, in this order; this one tells "
            f"{several(told)}."
        )
        return
    buy, length, remnant, tears = lay.goals
    yield from _value_faults(buy, goods.buy(lay.length))
    yield from _value_faults(length, lay.length)
    flaws = lay.cloth.flaws
    left = max((_useful(_usable(offcut.rect, goods), flaws) for offcut in lay.offcuts), default=0)
    yield from _value_faults(remnant, left)
    torn = lay.mode == Mode.TEAR
    yield from _value_faults(tears, _cuts(lay, pieces, torn))
    yield from _same_faults(buy, goods.buy(lay.bound), lay.bound)
    yield from _same_faults(length, lay.bound, lay.bound)
    yield from _bound_faults(remnant, tears)
    if not torn:
        yield from _gap_faults(lay, goods, pieces, remnant)
    for goal in lay.goals:
        if not goal.bound_by.strip():
            yield f"Nothing says how the bound on the goal {plain(goal.aim)} was found."


def _cuts(lay: Lay, pieces: Sequence[Laid], torn: bool) -> int:
    """Tears, and a cut round every piece that is cut out; straight cuts where all is straight."""
    if not torn and not any(spot.polygon for spot in pieces):
        return straight_cuts(lay, pieces)
    return (len(lay.tears) if torn else 0) + cut_out(lay, pieces)


def _usable(rect: Rect, goods: Shop) -> Rect:
    """What of an offcut lies behind the squared end and between the usable cloth's edges."""
    return Rect(max(rect.x0, 0), max(rect.y0, goods.low), rect.x1, min(rect.y1, goods.high))


def _useful(usable: Rect, flaws: Sequence[Rect]) -> int:
    """The area of its largest part clear of flaws, where that is worth keeping.

    What is clear of a flaw lies before it, behind it, below it or above it.
    """
    flaws = [flaw for flaw in flaws if flaw.overlaps(usable)]
    if len(flaws) > _MOST_FLAWS:
        return 0
    best, waiting, seen = 0, [usable], set[Rect]()
    while waiting:
        part = waiting.pop()
        worth = part.along >= _USEFUL and part.across >= _USEFUL
        if not worth or part in seen or part.along * part.across <= best:
            continue
        seen.add(part)
        flaw = next((flaw for flaw in flaws if flaw.overlaps(part)), None)
        if flaw is None:
            best = part.along * part.across
            continue
        waiting += [
            replace(part, x1=flaw.x0), replace(part, x0=flaw.x1),
            replace(part, y1=flaw.y0), replace(part, y0=flaw.y1),
        ]  # fmt: skip
    return best


def _shown(aim: Aim, value: int) -> str:
    """Spell what a goal counts: a length, an area, or a number of tears."""
    if aim in (Aim.BUY, Aim.LENGTH):
        return spell(value)
    return f"{figure(value)} square units" if aim == Aim.REMNANT else figure(value)


def _value_faults(goal: Goal, value: int) -> Iterator[str]:
    if goal.value != value:
        yield (
            f"The goal {plain(goal.aim)} is told to be {_shown(goal.aim, goal.value)}, "
            f"but this lay makes it {_shown(goal.aim, value)}."
        )


def _same_faults(goal: Goal, bound: int, length: int) -> Iterator[str]:
    """The bounds of the first two goals are the lay's own bound, told again."""
    if goal.bound != bound:
        yield (
            f"The bound on the goal {plain(goal.aim)} is {spell(goal.bound)}, but the lay's "
            f"bound of {spell(length)} makes it {spell(bound)}."
        )


def _bound_faults(remnant: Goal, tears: Goal) -> Iterator[str]:
    """No lay betters a true bound, and so this one doesn't."""
    if remnant.bound < remnant.value:
        yield (
            f"The bound on the goal remnant is {_shown(Aim.REMNANT, remnant.bound)}, less than "
            f"the {_shown(Aim.REMNANT, remnant.value)} told, so one of them is false."
        )
    if tears.bound > tears.value:
        yield (
            f"The bound on the goal tears is {figure(tears.bound)}, more than the "
            f"{figure(tears.value)} told, so one of them is false."
        )
    if tears.bound < 0:
        yield f"The bound on the goal tears is {figure(tears.bound)}; it can't be under nought."


def _gap_faults(lay: Lay, goods: Shop, pieces: Sequence[Laid], remnant: Goal) -> Iterator[str]:
    """Shears may leave any empty rectangle whole, so none is larger than a true bound."""
    zone = Rect(0, goods.low, lay.bolt.x1, goods.high)
    gap = largest_gap(zone, [spot.rect for spot in pieces], _USEFUL, max(remnant.bound, 0))
    if gap > max(remnant.bound, 0):
        yield (
            f"The bound on the goal remnant is {_shown(Aim.REMNANT, remnant.bound)}, but the "
            f"pieces leave a rectangle of {_shown(Aim.REMNANT, gap)}."
        )
