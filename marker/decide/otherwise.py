"""The same case planned otherwise, with some values changed, in the time that is left."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from time import monotonic

from marker import referee
from marker.casefile import changed
from marker.casefile.changes import Changes
from marker.decide.desk import LEAST_SECONDS, Desk, Laid
from marker.decide.ways import ways
from marker.errors import BadInput, CannotLay
from marker.lay import Lay, Mode

KEPT_BACK = 0.2
"""Part of the time that is kept for this, where there is anything to compare."""
UNTOLD = "no time was left; give more --seconds"


@dataclass
class Rest:
    """What is left of the `whole` time since `began`, shared out among the plans still to make.

    Searches that are `counted` go on by count, and time doesn't matter.
    """

    whole: float
    began: float
    plans: int
    counted: bool

    @property
    def over(self) -> bool:
        """Whether there is no time left."""
        return not self.counted and self._left <= 0

    @property
    def _left(self) -> float:
        return self.whole - (monotonic() - self.began)

    def share(self) -> float:
        """Seconds for the next plan on each cloth."""
        plans, self.plans = max(1, self.plans), self.plans - 1
        return max(LEAST_SECONDS, self._left / plans)


def otherwise(desk: Desk, key: str, changes: Changes, rest: Rest) -> tuple[Lay, bool] | None:
    """The lay of one cloth in the case with these changes, and whether less is proved impossible.

    Other cloths that are not touched keep the desk's lays. None where the case can't be so.
    """
    seconds = rest.share()
    try:
        bare = changed(desk.case, changes)
        if desk.budget.mode is not None:
            bare = bare.parted(tears=desk.budget.mode is Mode.TEAR)
        other = Desk(bare, replace(desk.budget, seconds=seconds))
        other.known |= {
            task: answer
            for task, answer in desk.known.items()
            if task[0] != key and bare.cloths[task[0]] == desk.case.cloths[task[0]]
        }
        laid = other.lay(ways(tuple(order.drafts() for order in bare.orders), bare.file))
    except (BadInput, CannotLay):
        return None
    best = min(laid, key=lambda option: option.score)
    for lay in best.lays:
        referee.check(lay)
    found = lay_on(best, key)
    return (found, sure(best, laid)) if found else None


def lay_on(option: Laid, key: str) -> Lay | None:
    """The lay of one cloth, if anything is cut from it."""
    return next((lay for lay in option.lays if lay.cloth.key == key), None)


def sure(best: Laid, laid: Sequence[Laid]) -> bool:
    """Whether no way at all takes less, as far as lays are bounded and nothing was shared out."""
    if any(option.sentences for option in laid):
        return False
    bought = sum(map(taken, best.lays))
    return all(
        sum(lay.cloth.buy(lay.bound) or lay.cloth.need(lay.bound) for lay in option.lays) >= bought
        for option in laid
    )


def taken(lay: Lay) -> int:
    """What a lay takes: the length to buy, or of a remnant the length used."""
    return lay.buy or lay.need
