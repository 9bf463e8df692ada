"""A figure of the case that is turned step by step, and the first step at which it fits.

Each step asks for less than the one before it, so that a step fits wherever an earlier one
did, and what is sought is found by halving. That no earlier step fits is proved where the one
just before is.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from itertools import pairwise
from math import log2
from time import monotonic

from marker.casefile import Case
from marker.casefile.changes import Changes
from marker.decide.reach.effort import Effort
from marker.decide.reach.losses import Losses
from marker.record import Record
from marker.solver.stop import asked

SMALLER = 20
"""Dials of this rank and over make pieces smaller, or fewer; others lay them otherwise."""
LEAST_STEP = 1.0
"""Seconds that any step may take: with less, cloths that share pieces are hardly looked at."""
PLANNING = 0.3
"""Part of the time that a plan may take at the end, however long the search took."""
AGAIN = 6
"""So many more plans are tried where one fails that was known to fit."""
DOUBTS = 6
"""So many steps are asked about that halving went past for a miss which isn't proved."""


def nothing_lost(_: int) -> Losses:
    """What only lays the pieces otherwise takes nothing of the garment."""
    return ()


@dataclass(frozen=True)
class Dial:
    """`size` steps, the first nearest to what is asked, each with the changes it makes.

    `words` tells a step; `lost` what it takes of the finished garment; `rank`
    orders what takes away as much. The steps of one that does not `fall` are tried in turn.
    `figure` is what a step comes to, in units, where that is wanted. `sure` is the
    plan of the last step, where that is known to fit.
    """

    name: str
    size: int
    changes: Callable[[int], Changes]
    words: Callable[[int], str]
    lost: Callable[[int], Losses] = nothing_lost
    rank: int = 0
    falls: bool = True
    figure: Callable[[int], int] | None = None
    sure: Record | None = None
    stretches: tuple[tuple[int, int], ...] = ()
    """From which step to before which one the pieces are alike in number; none for all of them."""
    proves: bool = True
    """Whether all steps before one that is refuted are refuted with it."""
    weighs: bool = False
    """Whether they take no less cloth by area, where they don't follow from one another."""


@dataclass(frozen=True)
class Turned:
    """How far a dial had to be turned: to step `at`, None where no step was found to fit.

    `refuted` says that the step before it, or where none was found the last, is proved not to
    fit; `beaten` is the last step that is proved not to, or -1. It is `late` where the time was
    out before all steps were asked about that should have been.
    """

    at: int | None
    record: Record | None
    refuted: bool
    beaten: int = -1
    late: bool = False


def turn(case: Case, dial: Dial, effort: Effort) -> Turned:
    """The first step of a dial at which the case fits, with its plan.

    Stretches are searched one after another; where a dial `proves` nothing, one step that is
    refuted says nothing of the others.
    """
    stretches = dial.stretches or ((0, dial.size),)
    until = monotonic() + effort.seconds
    refuted, beaten, found = True, -1, Turned(None, None, False)
    for number, (first, end) in enumerate(stretches):
        if effort.over:
            return Turned(None, None, False, beaten if dial.proves else -1, late=True)
        share = (until - monotonic()) / (len(stretches) - number)
        least = min(LEAST_STEP, effort.seconds)
        part = _part(dial, first, end)
        found = _Search(case, part, replace(effort, seconds=max(least, share))).run()
        if refuted:
            beaten = first + found.beaten
        refuted = refuted and found.refuted
        if found.at is not None:
            found = replace(found, at=first + found.at)
            break
    if not dial.proves:
        return _by_area(case, dial, effort, found)
    return replace(found, refuted=refuted, beaten=beaten)


def _by_area(case: Case, dial: Dial, effort: Effort, found: Turned) -> Turned:
    """What was found, with the steps that take more cloth than there is by area alone refuted.

    Shapes don't lie where larger ones did, but no shapes lie on less cloth than they hold.
    """
    first = dial.size if found.at is None else found.at
    low = -1
    if dial.weighs and not asked():
        high = first
        while high - low > 1:
            at = (low + high) // 2
            if effort.too_much(case, dial.changes(at)):
                low = at
            else:
                high = at
    return replace(found, refuted=low >= 0 and low == first - 1, beaten=low)


def _part(dial: Dial, first: int, end: int) -> Dial:
    """Some of the steps of a dial; only the last of them may be known to fit."""
    sure = dial.sure if end == dial.size else None
    return replace(dial, size=end - first, changes=lambda at: dial.changes(first + at), sure=sure)


def named(dial: Dial, whose: str) -> Dial:
    """The dial, its words saying which garment it is of."""
    return replace(
        dial, name=f"{whose}: {dial.name}", words=lambda at: f"{whose}: {dial.words(at)}"
    )


class _Search:
    def __init__(self, case: Case, dial: Dial, effort: Effort) -> None:
        self.case, self.dial, self.effort = case, dial, effort
        self.began = monotonic()
        self.end = max(self.began, min(effort.until, self.began + effort.seconds))
        self.until = self.end - PLANNING * (self.end - self.began)
        """When no more is asked, so that time is left for the plan of what was found."""
        self.fails, self.beaten = -1, -1
        self.late = False
        self.missed: list[int] = []
        """Steps that no lay was found for, proved or not."""
        self.fits: list[int] = []
        """Steps known to fit, the earliest last."""

    def run(self) -> Turned:
        last = self.dial.size - 1
        if not self.dial.falls:
            self._in_turn()
        elif self._last(last) and last and not asked():
            self._ask(0)
            self._halve(self._ask)
            self._doubt()
        return self._planned()

    def _last(self, last: int) -> bool:
        if self.dial.sure:
            self.fits.append(last)
            return True
        return self._ask(last)

    def _ask(self, at: int) -> bool:
        held, proved = self._share(1.0).holds(self.case, self.dial.changes(at))
        self._note(at, held, proved)
        return held

    def _share(self, times: float) -> Effort:
        """What one step may take: easy ones leave more to those that are hard to tell."""
        span = (self.fits[-1] if self.fits else self.dial.size) - self.fails
        rounds = log2(max(2, span)) + 3 if self.dial.falls else self.dial.size + 1
        left = max(0.0, self.until - monotonic())
        least = min(LEAST_STEP, self.effort.seconds, left / 2)
        return replace(self.effort, seconds=max(least, times * left / rounds))

    @property
    def _over(self) -> bool:
        """Whether the time for asking is out; by count it never is."""
        return self.effort.iterations is None and monotonic() >= self.until

    def _cut_short(self) -> bool:
        """Whether to ask no more, though there is more to ask."""
        self.late = self.late or self._over
        return self._over or asked()

    def _note(self, at: int, held: bool, proved: bool) -> None:
        if held:
            self.fits.append(at)
            return
        self.fails = max(self.fails, at)
        self.missed.append(at)
        if proved:
            self.beaten = max(self.beaten, at)

    def _in_turn(self) -> None:
        for at in range(self.dial.size):
            if (at and self._cut_short()) or self._ask(at):
                return

    def _halve(self, ask: Callable[[int], bool], most: int | None = None) -> None:
        tried = 0
        while self.fits and self.fits[-1] - self.fails > 1 and tried != most:
            if self._cut_short():
                return
            ask((self.fits[-1] + self.fails) // 2)
            tried += 1

    def _doubt(self) -> None:
        """Ask on between what is refuted and what fits: a miss may be chance, or want of time.

        The middle of the widest stretch that wasn't asked about comes next.
        """
        for _ in range(DOUBTS):
            first = self.beaten if self.dial.proves else -1
            if self._over or asked() or not self.fits:
                return
            if self.fits[-1] <= first:
                return
            known = sorted({first, self.fits[-1], *self._missed(first)})
            low, high = max(pairwise(known), key=lambda ends: (ends[1] - ends[0], ends[1]))
            if high - low < 2:
                return
            if self._ask((low + high) // 2):
                self.fails = max(self._missed(first), default=first)
                self._halve(self._ask)

    def _missed(self, first: int) -> list[int]:
        """What was missed between a step and what fits; what lies behind that is no matter."""
        return [at for at in self.missed if first < at < self.fits[-1]]

    def _turned(self, at: int | None, record: Record | None) -> Turned:
        """What was not looked at is not refuted."""
        last = self.dial.size if at is None else at
        refuted = self.beaten == last - 1 and not asked()
        return Turned(at, record, refuted, self.beaten, self.late)

    def _planned(self) -> Turned:
        """The plan of the earliest step that fits; what was found to fit is planned to the end."""
        plans: dict[int, Record | None] = {}
        known = {self.dial.size - 1: self.dial.sure}

        def ask(at: int) -> bool:
            enough = max(self._share(2.0).seconds, PLANNING * (self.end - self.began))
            effort = replace(self.effort, seconds=enough)
            plans[at] = known.get(at) or effort.planned(self.case, self.dial.changes(at))
            if plans[at] is None:
                self._note(at, False, False)
            elif at not in self.fits:
                self.fits.append(at)
            return plans[at] is not None

        while self.fits and not ask(self.fits[-1]):
            self.fits.pop()
            if asked() or (self.effort.iterations is None and monotonic() >= self.end):
                self.fits.clear()
        if self.fits and len(plans) > 1:
            self._halve(ask, AGAIN)
        if not self.fits or plans.get(self.fits[-1]) is None:
            return self._turned(None, None)
        at = self.fits[-1]
        return self._turned(at, plans[at])
