"""The desk at which ways of cutting a case are laid: shares out time, and forgets nothing.

Ways that ask the same of a cloth share its lay. Strips to be pieced and pieces that several
cloths could give are settled first, for all cloths that they tie together.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import inf
from time import monotonic

from marker.casefile import Case
from marker.cloth import Cloth
from marker.decide.ways import Way, by_cloth, initials, pieces_of
from marker.errors import BadInput, CannotLay
from marker.lay import Lay, Mode, Proof
from marker.piece import Piece
from marker.solver import bounded, compare, fit, load, settle, solve, usual_mode
from marker.units import INCH, LONGEST, MM, System

LEAST_SECONDS = 0.05
SETTLING = 0.6
"""Part of a cloth's time that may go into settling which cloth gives what."""

MANY, BRIEFLY = 3, 0.4
"""From so many ways of curved pieces on all are tried briefly at first, in so much of the time."""
KEPT, CLOSE = 2, Fraction(11, 10)
"""So many of them then share what is left, if they buy no more than so much of the best one's."""
LETTING_OUT = 0.4
"""Part of the time that is kept back where panels may be let out."""

Progress = Callable[[int, int], None]
Settlement = tuple[tuple[Piece, ...], tuple[str, ...]]
"""Settled pieces, and sentences on what was settled."""
Asked = dict[str, tuple[Piece, ...]]
"""What a way asks of each cloth."""
Task = tuple[str, tuple[Piece, ...]]
"""A cloth and what is asked of it."""
Answer = tuple[Lay, Lay | None] | Exception
"""A lay and the one weighed against it, or why there is none."""


@dataclass(frozen=True)
class Budget:
    """How long a search may take: `seconds` a cloth, or `iterations` by count.

    A `mode` that the user asks for is not weighed against the other one. However many lays the
    seconds are shared out among, each gets the `least`.
    """

    seconds: float
    seed: int
    iterations: int | None
    progress: Progress | None
    mode: Mode | None = None
    least: float = LEAST_SECONDS


@dataclass(frozen=True)
class Laid:
    """A way of cutting the case, laid on every cloth that it uses.

    `sentences` say how strips and pieces were settled between cloths. `others` holds for each
    lay the one that was weighed against it, torn first or cut with shears alone, if any. A
    `brief` one was left after a first try, since others were shorter.
    """

    way: Way
    lays: tuple[Lay, ...]
    sentences: tuple[str, ...] = ()
    others: tuple[Lay | None, ...] = ()
    brief: bool = False

    @property
    def score(self) -> tuple[int, int, int, int]:
        """The goals in their order, over all cloths; the least score is the best.

        Least to buy, least length, the largest single remnant, fewest tears.
        """
        remnants = (rect.area for lay in self.lays for rect in lay.remnants)
        return (
            sum(lay.buy for lay in self.lays),
            sum(lay.length for lay in self.lays),
            -max(remnants, default=0),
            sum(lay.goals[-1].value if lay.goals else len(lay.tears) for lay in self.lays),
        )


@dataclass(frozen=True)
class Settled:
    """What one way asks of each cloth, every piece settled."""

    asked: Asked
    sentences: tuple[str, ...]


class Desk:
    """Lays ways within a budget of time for each cloth."""

    def __init__(
        self,
        case: Case,
        budget: Budget,
        kept_back: float = 0.0,
        whose: Mapping[str, str] | None = None,
    ) -> None:
        self.case = case
        self.budget = budget
        self.whose = initials(case) if whose is None else whose
        """The letters of the garments' wearers, where there are several."""
        self.kept_back = kept_back * budget.seconds
        """Seconds for what follows the lays of all ways."""
        self.left = dict.fromkeys(case.cloths, budget.seconds - self.kept_back)
        self.known: dict[Task, Answer] = {}
        self.brief: dict[Task, Answer] = {}
        """What a first try of curved pieces came to, where there are many ways."""

    def lay(self, ways: Sequence[Way]) -> list[Laid]:
        """Every way that can be laid; the first way's error where none can."""
        laid: list[Laid] = []
        faults: list[Exception] = []
        settled = [self._settled(way, len(ways)) for way in ways]
        asked = self._worth_more([each.asked for each in settled if isinstance(each, Settled)])
        for way, found in zip(ways, settled, strict=True):
            try:
                if not isinstance(found, Settled):
                    raise found
                both = [self._lay(key, found.asked[key], asked) for key in found.asked]
            except (BadInput, CannotLay) as error:
                faults.append(error)
            else:
                lays, others = tuple(lay for lay, _ in both), tuple(other for _, other in both)
                brief = found.asked not in asked and any(
                    (key, pieces) in self.brief and lay.proof is not Proof.LENGTH
                    for (key, pieces), lay in zip(found.asked.items(), lays, strict=True)
                )
                laid.append(Laid(way, lays, found.sentences, others, brief))
        if not laid:
            raise faults[0]
        return laid

    def _worth_more(self, asked: list[Asked]) -> list[Asked]:
        """The ways that get all the time left, once many have been tried briefly.

        By count every way gets all there is.
        """
        if self.budget.iterations is not None:
            return asked
        tasks = {(key, pieces) for each in asked for key, pieces in each.items() if shaped(pieces)}
        crowds = Counter(key for key, _ in tasks)
        for task in (task for each in asked for task in each.items()):
            many = crowds[task[0]]
            if task in tasks and task not in self.brief and many >= MANY:
                seconds = BRIEFLY * (self.budget.seconds - self.kept_back) / many
                self.brief[task] = self._solve(self.case.cloths[task[0]], task[1], seconds)
        if not self.brief:
            return asked
        bought = [(sum(self._brief_buy(task) for task in each.items()), at)
                  for at, each in enumerate(asked)]  # fmt: skip
        best = min(bought)[0]
        kept = [asked[at] for buys, at in sorted(bought)[:KEPT] if buys <= CLOSE * best]
        self.known |= {
            task: found
            for task, found in self.brief.items()
            if not any(task in each.items() for each in kept)
        }
        return kept

    def _brief_buy(self, task: Task) -> float:
        """What a first try buys; of what wasn't tried nothing is known."""
        found = self.brief.get(task)
        if found is None:
            return 0
        return inf if isinstance(found, Exception) else found[0].buy

    def within(self, way: Way, laid: Laid, seconds: float) -> tuple[Laid | None, bool]:
        """A way laid no longer than another on any cloth, or whether that was refuted.

        No piece of it may be smaller than in the other: then what bounds the other bounds it.
        """
        others = {lay.cloth.key: lay for lay in laid.lays}
        found = self._settled(way, 1)
        if not isinstance(found, Settled):
            return None, False
        lays = []
        for key, pieces in found.asked.items():
            other = others.get(key)
            lay, refuted = fit(
                self.case.cloths[key],
                pieces,
                other.length if other else 0,
                mode=other.mode if other else self.budget.mode,
                seconds=seconds,
                iterations=self.budget.iterations,
                seed=self.budget.seed,
            )
            if lay is None:
                # Where several cloths share the pieces, another sharing-out might yet fit.
                return None, refuted and not found.sentences
            if other and not found.sentences:
                lay = bounded(lay, other.bound, other.bound_by)
            lays.append(lay)
        return replace(laid, way=way, lays=tuple(lays), sentences=found.sentences), False

    def holds(self, way: Way, seconds: float) -> tuple[bool, bool]:
        """Whether what is there holds a way, or whether that was refuted.

        The search on a remnant goes on only until it is known whether its length is enough; of
        a bolt any length is. The `seconds` are for all cloths, and for settling what each gives.
        """
        end = monotonic() + seconds
        found = self._settled(way, 1)
        if not isinstance(found, Settled):
            return False, isinstance(found, BadInput) or found.proved
        for at, (key, pieces) in enumerate(found.asked.items()):
            share = (end - monotonic()) / (len(found.asked) - at)
            held, refuted = self._held(self.case.cloths[key], pieces, share)
            if not held:
                # Where several cloths share the pieces, another sharing-out might yet fit.
                return False, refuted and not found.sentences
        return True, False

    def _held(self, cloth: Cloth, pieces: tuple[Piece, ...], seconds: float) -> tuple[bool, bool]:
        """The same for one cloth; what any arrangement for the shears refutes, tears can't do."""
        within = cloth.longest_lay(cloth.length) if cloth.length else LONGEST
        step = INCH // 8 if cloth.system is System.IN else MM
        endless = replace(cloth, length=0, step=step)
        usual = self.budget.mode or usual_mode(cloth, pieces)
        either = usual is Mode.TEAR and self.budget.mode is None and shaped(pieces)
        modes = (usual, Mode.SHEARS) if either else (usual,)
        refuted = False
        for mode in modes:
            lay, refuted = fit(
                endless,
                pieces,
                within,
                mode=mode,
                seconds=max(LEAST_SECONDS, seconds / len(modes) if cloth.length else 0.0),
                iterations=self.budget.iterations,
                seed=self.budget.seed,
            )
            if lay is not None:
                return True, False
        return False, refuted

    def _settled(self, way: Way, ways: int) -> Settled | BadInput | CannotLay:
        """Every piece of a way on one cloth, of one length, under its letter."""
        every = pieces_of(way)
        tied = tied_cloths(every)
        settled_keys: set[frozenset[str]] = set()
        pieces: list[Piece] = []
        sentences: list[str] = []
        try:
            for piece in every:
                keys = next((keys for keys in tied if piece.cloth in keys), None)
                if keys is None:
                    pieces.append(piece)
                    continue
                if keys in settled_keys:
                    continue
                # All pieces of tied cloths are settled together, where the first of them stands.
                settled_keys.add(keys)
                settled, told = self._share_out(keys, every, ways)
                pieces += settled
                sentences += told
        except (BadInput, CannotLay) as error:
            return _named(error, self.case.file)
        return Settled(by_cloth(self.case.cloths, pieces, self.whose), tuple(sentences))

    def _share_out(
        self, keys: frozenset[str], pieces: Sequence[Piece], ways: int
    ) -> tuple[tuple[Piece, ...], tuple[str, ...]]:
        """Settle the pieces of cloths that are tied together."""
        cloths = {key: cloth for key, cloth in self.case.cloths.items() if key in keys}
        began = monotonic()
        try:
            return settle(
                cloths,
                [piece for piece in pieces if piece.cloth in keys],
                seconds=max(LEAST_SECONDS, SETTLING * min(self.left[key] for key in cloths) / ways),
                iterations=self.budget.iterations,
                seed=self.budget.seed,
                progress=self.budget.progress,
                units=self.case.units,
            )
        finally:
            for key in cloths:
                self.left[key] -= monotonic() - began

    def _torn(self, cloth: Cloth, pieces: Sequence[Piece]) -> bool:
        """Whether the user has curved pieces cut from regions that are torn off, come what may."""
        able = not cloth.folded and any(piece.torn for piece in pieces)
        return self.budget.mode is Mode.TEAR and shaped(pieces) and able

    def _lay(
        self, key: str, pieces: tuple[Piece, ...], asked: Sequence[Asked]
    ) -> tuple[Lay, Lay | None]:
        if (key, pieces) not in self.known:
            tasks = {pieces, *(other[key] for other in asked if key in other)}
            share = self.left[key] / sum((key, task) not in self.known for task in tasks)
            found = self._solve(self.case.cloths[key], pieces, share)
            before = self.brief.get((key, pieces), found)
            self.known[key, pieces] = min(found, before, key=_reaches)
        found = self.known[key, pieces]
        if isinstance(found, Exception):
            raise found
        return found

    def _solve(self, cloth: Cloth, pieces: tuple[Piece, ...], seconds: float) -> Answer:
        """One solve, with its fair share of the time left for this cloth."""
        if self.budget.iterations is None:
            load(cloth, pieces)
        began, budget = monotonic(), self.budget
        seconds = max(seconds, budget.least)
        torn = self._torn(cloth, pieces)
        try:
            if torn or not shaped(pieces):
                lay = solve(
                    cloth,
                    pieces,
                    mode=Mode.TEAR if torn else None,
                    seconds=seconds,
                    iterations=budget.iterations,
                    seed=budget.seed,
                    progress=budget.progress,
                )
                return lay, None
            return compare(
                cloth,
                pieces,
                seconds=seconds,
                iterations=budget.iterations,
                seed=budget.seed,
                progress=budget.progress,
            )
        except (BadInput, CannotLay) as error:
            return _named(error, self.case.file)
        finally:
            self.left[cloth.key] -= monotonic() - began


def _named(error: BadInput | CannotLay, file: str) -> BadInput | CannotLay:
    """The same error, with the file it is about."""
    text = f"{file}: {error}"
    return CannotLay(text, proved=error.proved) if isinstance(error, CannotLay) else BadInput(text)


def shaped(pieces: Sequence[Piece]) -> bool:
    """Whether any piece is curved."""
    return any(piece.outline is not None for piece in pieces)


def _reaches(found: Answer) -> tuple[float, float]:
    return (inf, inf) if isinstance(found, Exception) else (found[0].buy, found[0].length)


def tied_cloths(pieces: Sequence[Piece]) -> list[frozenset[str]]:
    """Sets of cloths that share pieces not yet settled, or give a strip to be pieced."""
    groups: list[frozenset[str]] = []
    for piece in pieces:
        if piece.pieced is None and not piece.also:
            continue
        keys = frozenset((piece.cloth, *piece.also))
        touched = [group for group in groups if group & keys]
        groups = [group for group in groups if not group & keys] + [keys.union(*touched)]
    return groups
