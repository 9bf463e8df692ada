"""The search for a short lay by rules: a quick fill, betterment part by part, and proof.

Where lays are torn, the model knows nothing of tears at first. A lay that it finds and that
can't be torn apart holds a knot; the knot is forbidden and the search goes on, so that the
length it ends at is the shortest for tears too, and every bound on the way holds.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from random import Random
from time import monotonic

from marker.lay import Mode
from marker.solver.model import FEW, Limits, Outcome, run
from marker.solver.rules.better import UNIT, parts, room, window
from marker.solver.rules.fill import TRIES, fill
from marker.solver.rules.model import Bound, Posed, alike, box, order, pose, tie
from marker.solver.rules.order import part, reorder
from marker.solver.rules.question import Question, Spot
from marker.solver.separate import knots
from marker.solver.stop import asked, keeping_best

SEARCHED = "every shorter lay was searched through and ruled out"
ROWS = "the fullest rows across the cloth, each set of pieces in its place of the repeat"
SMALL, MIDDLING = 12, 36
"""So many pieces are laid and proved as a whole; more are bettered first; still more, only so."""
PATIENCE = 400
"""Rounds without a shorter lay after which betterment gives up."""
ORDERS = 400
"""Orders of the parts that are tried in one go."""
ROUND = 1.0
"""Effort of a round, about seconds."""
KNOTTED = 4
"""So many lays that can't be torn are taken in before the model is told of their knots."""


@dataclass
class Budget:
    """Clock time, or effort that is the same on any machine, still to be spent."""

    until: float | None
    effort: float | None

    @property
    def over(self) -> bool:
        """Whether nothing is left, or the user has asked to stop."""
        if asked():
            return True
        if self.effort is not None:
            return self.effort <= 0
        return self.until is not None and monotonic() >= self.until

    def part(self, share: float, most: float, seed: int) -> Limits:
        """A share of what is left, at most so many seconds or so much effort."""
        if self.effort is not None:
            return Limits(None, min(most, share * self.effort), seed)
        now = monotonic()
        left = most if self.until is None else share * (self.until - now)
        return Limits(now + min(most, left), None, seed)

    def spend_of(self, part: Budget, given: Limits) -> None:
        """Take off what was spent of a part that was given out."""
        if self.effort is not None and part.effort is not None and given.effort is not None:
            self.effort -= max(given.effort - part.effort, 0.01)

    def spend(self, outcome: Outcome) -> None:
        """Take off the effort that a search took."""
        if self.effort is not None:
            self.effort -= max(outcome.effort, 0.01)


@dataclass
class Search:
    """A search under way: the best lay so far, and a bound on all lays."""

    question: Question
    mode: Mode
    budget: Budget
    seed: int
    bound: int
    bound_by: str
    goal: int
    """A length that is enough; the search ends with it."""
    tell: Callable[[int, int], None]
    best: list[Spot] | None = None
    bounds: list[Bound] = field(default_factory=list)
    stopped: bool = False

    @property
    def length(self) -> int:
        """Length of the best lay, or the most that one may have while there is none."""
        if self.best is None:
            return self.question.most or self.question.longest()
        return max(spot.rect.x1 for spot in self.best)

    @property
    def over(self) -> bool:
        """Whether the search is done: proved, good enough, refuted, or out of time."""
        enough = self.best is not None and self.length <= max(self.bound, self.goal)
        refuted = self.goal > 0 and self.bound > self.goal
        impossible = 0 < self.question.most < self.bound
        return self.stopped or enough or refuted or impossible or self.budget.over

    def run(self, given: Sequence[Spot] | None) -> None:
        """Search until done; Ctrl-C keeps the best, and never ends it without a quick lay."""
        with keeping_best():
            self._begin(given)
            if self.question.count > SMALL:
                self._rows()
                if self.question.count <= MIDDLING:
                    self._better(0.35)
            if self.question.count <= MIDDLING:
                self._whole()
            self._better(1.0)
        self.stopped = asked()
        if self.best is None and self.stopped:
            found = fill(self.question, Random(self.seed), 1, None)
            if found is not None:
                self._offer(found)

    def _begin(self, given: Sequence[Spot] | None) -> None:
        random = Random(self.seed)
        quick = self.budget.part(0.1, 3.0, self.seed)
        found = fill(self.question, random, TRIES, quick.until)
        if found is not None:
            self._offer(found)
        if given is not None and not self._offer(given):
            self._set_right(given)
        if self.best is not None and not self.over:
            self._reorder(parts(self.best), random, ORDERS)
        self.tell(self.length, self.bound)

    def _set_right(self, given: Sequence[Spot]) -> None:
        """Take what parts of a lay keep the rules by themselves, and set them in a new order."""
        for most in (UNIT, self.question.count):
            taken = [
                spots
                for whole in parts(given, most)
                for spots in ([whole] if self._movable(whole) else [(spot,) for spot in whole])
            ]
            if all(self.question.agrees(spots) for spots in taken):
                self._reorder(taken, Random(self.seed), 4 * ORDERS)

    def _movable(self, spots: Sequence[Spot]) -> bool:
        """Whether spots can move as one: they agree, and are tied to no more than one set."""
        kinds = self.question.kinds
        sets = {name for spot in spots for name, _ in kinds[spot.kind].ways[spot.way].along}
        return len(sets) < 2 and self.question.agrees(spots)

    def _reorder(self, taken: Sequence[tuple[Spot, ...]], random: Random, rounds: int) -> bool:
        limits = self.budget.part(0.2, 2.0, self.seed)
        ready = [part(self.question, spots) for spots in taken]
        found = reorder(self.question, ready, random, rounds, limits.until, self.mode is Mode.TEAR)
        if self.budget.effort is not None:
            self.budget.effort -= 0.1
        return found is not None and self._offer(found, equal=True)

    def _offer(self, spots: Sequence[Spot], *, equal: bool = False) -> bool:
        """Keep a lay that is shorter, or `equal`, and can be had; says whether it was kept."""
        length = max(spot.rect.x1 for spot in spots)
        if self.best is not None and length >= self.length + equal:
            return False
        if self.mode is Mode.TEAR and knots([spot.rect for spot in spots]):
            return False
        if not self.question.holds(spots):
            return False
        self.best = list(spots)
        return True

    def _raise(self, bound: int, why: str) -> None:
        if bound > self.bound:
            self.bound, self.bound_by = bound, why

    def _kinds(self) -> list[int]:
        return [at for at, kind in enumerate(self.question.kinds) for _ in kind.copies]

    def _lengths(self) -> tuple[int, int]:
        """The lengths still open: up to the best, or to the goal where that is all we ask."""
        most = self.length
        return self.bound, min(most, self.goal) if self.goal else most

    def _take(self, outcome: Outcome, most: int, why: str) -> None:
        """Account for a search of all lengths up to `most`."""
        self.budget.spend(outcome)
        self.stopped = self.stopped or outcome.stopped
        along = self.question.steps[0]
        bound = outcome.bound * along
        if outcome.closed and outcome.values is None:
            bound = (most // along + 1) * along
        self._raise(bound if self.best is None else min(bound, max(self.length, self.bound)), why)

    def _rows(self) -> None:
        """A bound from rows alone, wherever pieces lie across: it comes sooner."""
        if self.over:
            return
        least, most = self._lengths()
        posed = pose(self.question, self._kinds(), (least, most), flat=True)
        limits = self.budget.part(0.1, 5.0, self.seed)
        self._take(run(posed.made.model, [], limits, lambda *_: True), most, ROWS)
        self.tell(self.length, self.bound)

    def _whole(self) -> None:
        """All pieces at once, again and again while lays turn up that can't be torn."""
        while not self.over:
            least, most = self._lengths()
            posed = pose(self.question, self._kinds(), (least, most))
            posed.forbid(self.bounds)
            if self.best is not None and self.length <= most:
                posed.hint(order(self.best))
            limits = self.budget.part(1.0 if self.mode is Mode.SHEARS else 0.5, 600.0, self.seed)
            before = len(self.bounds)
            outcome = self._solve(posed, limits)
            self._take(outcome, most, SEARCHED)
            self.tell(self.length, self.bound)
            if len(self.bounds) == before and (outcome.closed or self.mode is Mode.SHEARS):
                return

    def _solve(self, posed: Posed, limits: Limits) -> Outcome:
        """Run a model, keeping what is better, and the knots of what can't be torn."""
        knotted = 0

        def hear(values: tuple[int, ...], low: int) -> bool:
            nonlocal knotted
            spots = posed.spots(values)
            if self._offer(spots):
                self.tell(self.length, max(self.bound, low * self.question.steps[0]))
                return self.goal == 0 or self.length > self.goal
            if not posed.kept and max(spot.rect.x1 for spot in spots) < self.length:
                knotted += self._knotted(spots, posed)
            return knotted < KNOTTED

        proving = not posed.kept and len(posed.kinds) <= FEW
        outcome = run(posed.made.model, posed.made.asked(), limits, hear, proving=proving)
        if outcome.values is not None:
            hear(outcome.values, outcome.bound)
        return outcome

    def _knotted(self, spots: Sequence[Spot], posed: Posed) -> int:
        """Note the knots of a lay that can't be torn."""
        found = knots([spot.rect for spot in spots])
        new = [bound for knot in found for bound in alike(posed.kinds, knot)]
        self.bounds += [bound for bound in new if bound not in self.bounds]
        return 1

    def _better(self, share: float) -> None:
        """Rounds of betterment: some parts of the best lay are laid afresh, the rest kept."""
        random = Random(self.seed + 1)
        end = self.budget.part(share, 600.0, self.seed)
        rest = 0.0 if self.budget.effort is None else self.budget.effort - (end.effort or 0)
        idle = 0
        while self.best is not None and not self.over and idle < PATIENCE:
            spent = self.budget.effort is not None and self.budget.effort <= rest
            if spent or (end.until is not None and monotonic() >= end.until):
                return
            idle = 0 if self._round(random) else idle + 1

    def _round(self, random: Random) -> bool:
        """Lay some parts afresh, or all of them in a new order; says whether that was shorter."""
        assert self.best is not None
        before, dice = self.length, random.random()
        middling = self.question.count <= MIDDLING
        if dice < 0.2:
            self._reorder(parts(self.best, random.choice((1, 3, UNIT))), random, ORDERS)
        elif dice < (0.5 if middling else 0.9):
            self._relay(random)
        else:
            self._shift(random)
        if self.length < before:
            self.tell(self.length, self.bound)
        return self.length < before

    def _shift(self, random: Random) -> None:
        """Lay some parts afresh among all the others, which may move along the cloth."""
        assert self.best is not None
        free, kept = window(self.best, random)
        free = order(free)
        posed = pose(self.question, [spot.kind for spot in free], self._lengths(), kept)
        posed.hint(free)
        outcome = self._solve(posed, self.budget.part(0.3, ROUND, random.randrange(1 << 30)))
        self.budget.spend(outcome)
        self.stopped = self.stopped or outcome.stopped

    def _relay(self, random: Random) -> None:
        """Lay the pieces of a room afresh so that it ends sooner; then all parts close up."""
        assert self.best is not None
        free, at = room(self.best, self.question.cloth.usable, random)
        free = order(free)
        shorter = box(free).x1 - at.x0 - self.question.steps[0]
        kinds = [spot.kind for spot in free]
        posed = pose(self.question, kinds, (0, shorter), room=at)
        tie(posed, [spot for spot in self.best if spot not in free])
        limits = self.budget.part(0.3, ROUND / 3, random.randrange(1 << 30))
        outcome = run(posed.made.model, posed.made.asked(), limits, lambda *_: True)
        self.budget.spend(outcome)
        self.stopped = self.stopped or outcome.stopped
        if outcome.values is None:
            return
        spots = [spot for spot in self.best if spot not in free] + posed.spots(outcome.values)
        if self._offer(spots, equal=True):
            self._reorder(parts(self.best), random, ORDERS // 8)
