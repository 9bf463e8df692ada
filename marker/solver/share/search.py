"""The goals of sharing out taken up one after another, each kept while the next is bettered."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from marker.solver.model import run
from marker.solver.rules.model import Bound
from marker.solver.rules.search import KNOTTED, Budget
from marker.solver.share.model import Share, Shares, Task

PARTS = (0.35, 0.45, 0.7, 1.0)
"""Part of the time still left that each goal may take."""
BUY, LENGTH, SEGMENTS, EVEN = range(4)


@dataclass
class Goals:
    """What is known of the goals: the best answer and its values, and which are proved best.

    `kept` and `proved` stand for least to buy, least length off the bolts, fewest segments and
    even ones, as far as they were taken up.
    """

    task: Task
    budget: Budget
    seed: int
    cap: int | None
    """What is known to be enough to buy."""
    best: Shares | None = None
    kept: list[int] = field(default_factory=list)
    proved: list[bool] = field(default_factory=list)
    bounds: list[Bound] = field(default_factory=list)
    values: tuple[int, ...] = ()
    now: int | None = None
    """The best value met of the goal in hand."""
    stopped: bool = False

    def run(self) -> None:
        """Take up the goals in their order, until time is out or Ctrl-C ends it."""
        for goal in range(len(PARTS)):
            self._take_up(goal)
            if self.now is None or self.stopped:
                return

    @property
    def impossible(self) -> bool:
        """Whether it is proved that the pieces can't be had at all."""
        return self.best is None and self.proved == [True] and self.cap is None

    def _take_up(self, goal: int) -> None:
        """Better one goal, again and again while answers turn up that can't be torn."""
        limits = self.budget.part(self._part(goal), 600.0, self.seed)
        stage, closed = Budget(limits.until, limits.effort), False
        self.now = None
        while not (closed or stage.over or self.stopped):
            share = self._posed()
            before = len(self.bounds)
            aims = [share.bought(), share.off_bolts(), share.segments()][: goal + 1]
            aims += [share.unevenness()] if goal == EVEN else []
            for aim, most in zip(aims, self.kept, strict=False):
                share.made.model.add(aim <= most)
            if goal == BUY and self.cap is not None:
                share.made.model.add(aims[BUY] <= self.cap)
            share.made.model.minimize(aims[goal])
            hear = self._ear(share)
            asked = [*share.asked(), *aims]
            limits = stage.part(1.0, 600.0, self.seed)
            outcome = run(share.made.model, asked, limits, hear)
            if outcome.values is not None:
                hear(outcome.values, outcome.bound)
            stage.spend(outcome)
            self.budget.spend(outcome)
            self.stopped = outcome.stopped
            closed = outcome.closed and len(self.bounds) == before
        self.proved.append(closed)
        if self.now is not None:
            self.kept.append(self.now)

    def _part(self, goal: int) -> float:
        """Part of what is left for a goal: all of it where nothing is bought, so that any will do.

        Of scraps alone the first answer ends it, and without one there is nothing to better.
        """
        bought = any(not cloth.length for cloth in self.task.cloths.values())
        return PARTS[goal] if bought or self.values else 1.0

    def _posed(self) -> Share:
        share = Share(self.task)
        share.build()
        share.forbid(self.bounds)
        if self.values:
            share.hint(self.values)
        return share

    def _ear(self, share: Share) -> Callable[[Sequence[int], int], bool]:
        """Keeps an answer that can be had, if it is better by this goal; notes knots of others."""
        knotted = 0

        def hear(values: Sequence[int], _: int) -> bool:
            nonlocal knotted
            found = share.knotted(values)
            if found:
                self.bounds += [bound for bound in found if bound not in self.bounds]
                knotted += 1
            elif self.now is None or values[-1] < self.now:
                self.now = values[-1]
                self.values, self.best = tuple(values), share.shares(values)
            return knotted < KNOTTED

        return hear
