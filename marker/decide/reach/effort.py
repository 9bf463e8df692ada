"""Whether what is there holds a case, asked with so much effort."""

from __future__ import annotations

from dataclasses import dataclass
from math import prod

from marker.casefile import Case
from marker.casefile.changes import Changes, changed
from marker.decide import draft, plan
from marker.decide.desk import Budget, Desk
from marker.decide.ways import ways
from marker.errors import BadInput, CannotLay
from marker.record import Record
from marker.solver.stop import asked


@dataclass(frozen=True)
class Effort:
    """How long one question may take: `seconds`, or by count where `iterations` are given."""

    seconds: float
    iterations: int | None
    seed: int

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
        desk = Desk(wanted, Budget(self.seconds, self.seed, self.iterations, None))
        refuted = len(every) == prod(len(options) for options in drafts)
        for way in every:
            if asked():
                return False, False
            held, proved = desk.holds(way, self.seconds / len(every))
            if held:
                return True, False
            refuted = refuted and proved
        return False, refuted

    def planned(self, case: Case, changes: Changes) -> Record | None:
        """The plan of the case so changed; None where none is found."""
        try:
            return plan(
                changed(case, changes),
                seconds=self.seconds,
                iterations=self.iterations,
                seed=self.seed,
            )
        except (BadInput, CannotLay):
            return None


def drafts(case: Case, changes: Changes) -> bool:
    """Whether the case so changed can be drafted at all, however much cloth there is."""
    try:
        draft(changed(case, changes))
    except BadInput:
        return False
    return True
