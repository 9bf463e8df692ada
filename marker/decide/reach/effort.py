"""Whether what is there holds a case, asked with so much effort."""

from __future__ import annotations

from collections import Counter
from collections.abc import Container
from dataclasses import dataclass, replace
from math import inf, prod
from time import monotonic

from marker.casefile import Case
from marker.casefile.changes import Changes, changed
from marker.decide import draft, plan
from marker.decide.desk import LEAST_SECONDS, Budget, Desk
from marker.decide.limit import used
from marker.decide.ways import ways
from marker.errors import BadInput, CannotLay
from marker.garments.order import Draft
from marker.record import Record
from marker.solver.stop import asked


@dataclass(frozen=True)
class Effort:
    """How long one question may take: `seconds`, or by count where `iterations` are given.

    By the clock nothing is asked past `until`, a time of the monotonic clock.
    """

    seconds: float
    iterations: int | None
    seed: int
    until: float = inf

    def within(self, seconds: float) -> Effort:
        """So much for a question, and for all that it asks in its turn."""
        if self.iterations is not None:
            return self
        return replace(self, seconds=seconds, until=min(self.until, monotonic() + seconds))

    @property
    def over(self) -> bool:
        """Whether there is no more time, so that nothing should be begun."""
        return self.iterations is None and monotonic() >= self.until

    def holds(self, case: Case, changes: Changes) -> tuple[bool, bool]:
        """Whether what is there holds the case so changed; if not, whether that is proved.

        It is proved only where every way of cutting the case is refuted. What can't be drafted
        can't be had.
        """
        try:
            wanted = changed(case, changes)
            drafts = draft(wanted)
            every = ways(drafts, wanted.file)
        except BadInput:
            return False, True
        refuted = len(every) == prod(len(options) for options in drafts)
        end = min(self.until, monotonic() + self.seconds)
        for at, way in enumerate(every):
            if asked():
                return False, False
            share = self.seconds if self.iterations else (end - monotonic()) / (len(every) - at)
            share = max(LEAST_SECONDS, share)
            desk = Desk(wanted, Budget(share, self.seed, self.iterations, None))
            held, proved = desk.holds(way, share)
            if held:
                return True, False
            refuted = refuted and proved
        return False, refuted

    def too_much(self, case: Case, changes: Changes) -> bool:
        """Whether the case so changed takes more cloth by area than there is, cut in any way."""
        try:
            wanted = changed(case, changes)
            drafts = draft(wanted)
        except BadInput:
            return False
        room = {
            key: 2 * cloth.longest_lay(cloth.length) * cloth.usable.across
            for key, cloth in wanted.cloths.items()
            if cloth.length
        }
        least = Counter[frozenset[str]]()
        for options in drafts:
            # Of every order the draft that takes least of the same cloths.
            taken = [_taken(each, room) for each in options]
            for keys in set().union(*taken):
                least[keys] += min(each[keys] for each in taken)
        groups = [*(frozenset([key]) for key in room), frozenset(room)]
        return any(
            sum(area for keys, area in least.items() if keys <= group)
            > sum(room[key] for key in group)
            for group in groups
        )

    def planned(self, case: Case, changes: Changes) -> Record | None:
        """The plan of the case so changed; None where none is found."""
        try:
            wanted = changed(case, changes)
            return plan(
                wanted,
                seconds=max(LEAST_SECONDS, self.seconds / used(wanted)),
                iterations=self.iterations,
                seed=self.seed,
            )
        except (BadInput, CannotLay):
            return None


def _taken(drafted: Draft, remnants: Container[str]) -> Counter[frozenset[str]]:
    """Twice the area that a draft takes of each set of cloths, where all of them are remnants."""
    found = Counter[frozenset[str]]()
    for piece in drafted.pieces:
        keys = frozenset((piece.cloth, *piece.also))
        if all(key in remnants for key in keys):
            found[keys] += piece.area2 * piece.count
    return found


def drafts(case: Case, changes: Changes) -> bool:
    """Whether the case so changed can be drafted at all, however much cloth there is."""
    try:
        draft(changed(case, changes))
    except BadInput:
        return False
    return True
