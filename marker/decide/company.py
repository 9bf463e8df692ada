"""Many wearers on one bolt: what each would take alone, and what laying them together saves.

Every wearer's pieces are planned by themselves, as if nobody else were there: all ways of
cutting them are tried, abreast on all cores. The lays one behind the other are a lay of the
whole company, so what is kept is never longer than they are together. On cloth with flaws a
wearer's lay hangs on where it begins; there each goes on where the one before her ended.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from math import inf
from time import monotonic

from marker.casefile import Case
from marker.cloth import Cloth
from marker.decide.abreast import abreast
from marker.decide.desk import Budget, Desk, Laid, shaped
from marker.decide.ways import Way, initials, ways
from marker.errors import CannotLay
from marker.garments.order import Draft
from marker.geometry import Rect
from marker.lay import Lay, Mode
from marker.record import Alone
from marker.solver import bounded, load
from marker.solver.cores import cores
from marker.solver.joined import joined

ALONE = 0.25
"""Part of the time for laying each wearer's pieces alone; what they leave of it is not lost."""
MOST = 2.5
"""Times her even share that one may take, since the others' few straight pieces take
milliseconds. A nest takes all that it is given."""
LATER, LATEST = 2.5 * ALONE, 3.5 * ALONE
"""Parts of the time after which they are laid in no time, so that what is saved is told at least
roughly, and after which nobody is begun with any more, where the machine is slow."""

Drafts = tuple[tuple[Draft, ...], ...]


@dataclass(frozen=True)
class Wearing:
    """The orders of one wearer, by their places in the case, and her letter.

    What is for nobody in particular is laid as if it were one wearer's.
    """

    letter: str
    orders: tuple[int, ...]
    somebody: bool = True


@dataclass(frozen=True)
class Single:
    """One wearer's pieces laid alone: which draft of each order, and the lays."""

    wearing: Wearing
    chosen: tuple[int, ...]
    lays: tuple[Lay, ...]
    sentences: tuple[str, ...]


@dataclass(frozen=True)
class Company:
    """All wearers of a case, each laid alone, and their lays one behind the other.

    `row` is None where the cloths can't hold them so.
    """

    singles: tuple[Single, ...]
    row: Laid | None

    def shared(self) -> dict[str, list[tuple[Single, Lay]]]:
        """The single lays on each cloth that several wearers share."""
        found: dict[str, list[tuple[Single, Lay]]] = {}
        for single in self.singles:
            for lay in single.lays:
                found.setdefault(lay.cloth.key, []).append((single, lay))
        return {key: lays for key, lays in found.items() if len(lays) > 1}

    def ways(self, every: Sequence[Way]) -> list[Way]:
        """All ways to lay together: also the one in which each is cut as suits her best alone."""
        mine = self.row.way if self.row else ()
        known = any(all(a is b for a, b in zip(way, mine, strict=False)) for way in every)
        return [*every, mine] if mine and not known else list(every)

    def alone(self) -> tuple[Alone, ...]:
        """What each wearer takes of every cloth, for the record."""
        return tuple(
            Alone(single.wearing.letter, lay.cloth.key, lay.length, lay.bound, lay.buy)
            for single in self.singles
            for lay in single.lays
        )


def wearings(case: Case) -> tuple[Wearing, ...]:
    """Who is to be laid alone: every wearer where several share a cloth, else nobody."""
    whose = initials(case)
    orders: dict[str, list[int]] = {}
    for at, order in enumerate(case.orders):
        if whose:
            orders.setdefault(whose[order.key], []).append(at)
    return tuple(
        Wearing(letter, tuple(places), case.orders[places[0]].wearer.key != "")
        for letter, places in sorted(orders.items(), key=lambda one: (len(one[0]), one[0]))
    )


def share_cloth(who: Sequence[Wearing], drafts: Drafts) -> bool:
    """Whether pieces of several wearers may come from one cloth."""
    cloths = Counter(
        key
        for one in who
        for key in {
            key
            for at in one.orders
            for draft in drafts[at]
            for piece in draft.pieces
            for key in (piece.cloth, *piece.also)
        }
    )
    return any(many > 1 for many in cloths.values())


def lay_alone(case: Case, drafts: Drafts, desk: Desk) -> Company | None:
    """Lay each wearer's pieces alone; None where no cloth is shared, or the time was too short.

    The time that it takes is no longer left at the `desk`.
    """
    who = wearings(case)
    if not share_cloth(who, drafts):
        return None
    _made_ready(case, drafts)
    began = monotonic()
    try:
        return _laid_alone(case, drafts, desk.budget, who)
    finally:
        desk.left = {key: left - (monotonic() - began) for key, left in desk.left.items()}


def _made_ready(case: Case, drafts: Drafts) -> None:
    """Load once what searches need, so that not every process does in its time.

    What hangs on how many pieces there are is needed for all together.
    """
    pieces = [piece for options in drafts for piece in options[0].pieces]
    for key, cloth in case.cloths.items():
        if mine := [piece for piece in pieces if piece.cloth == key]:
            load(cloth, mine)


def _laid_alone(
    case: Case, drafts: Drafts, budget: Budget, who: Sequence[Wearing]
) -> Company | None:
    hands = min(cores(), len(who))
    flawed = any(cloth.flaws for cloth in case.cloths.values())
    seconds = ALONE * budget.seconds * (1 if flawed else hands) / len(who)
    if not any(shaped(draft.pieces) for options in drafts for draft in options):
        seconds *= MOST
    task = _Task(case, drafts, replace(budget, seconds=seconds, progress=None), initials(case))
    if budget.iterations is None:
        now = monotonic()
        task = task.until(now + LATER * budget.seconds, now + LATEST * budget.seconds)
    found: Sequence[object] = _in_a_row(task, who) if flawed else abreast(task, who)
    singles = tuple(one for one in found if isinstance(one, Single))
    if len(singles) < len(who):
        return None
    return Company(singles, _row(case, drafts, singles))


@dataclass(frozen=True)
class _Task:
    """Lays one wearer alone: briefly after `end`, and not at all after `last`."""

    case: Case
    drafts: Drafts
    budget: Budget
    whose: Mapping[str, str]
    end: float = inf
    last: float = inf

    def until(self, end: float, last: float) -> _Task:
        return replace(self, end=end, last=last)

    def __call__(self, who: Wearing) -> Single | None:
        return self.on(who, self.case.cloths)

    def on(self, who: Wearing, cloths: Mapping[str, Cloth]) -> Single | None:
        now = monotonic()
        if now > self.last:
            return None
        seconds = max(0.0, min(self.budget.seconds, self.end - now))
        orders = tuple(self.case.orders[at] for at in who.orders)
        options = tuple(self.drafts[at] for at in who.orders)
        case = replace(self.case, orders=orders, cloths=cloths)
        budget = replace(self.budget, seconds=seconds, least=seconds)
        laid = Desk(case, budget, whose=self.whose).lay(ways(options, case.file))
        best = min(laid, key=lambda option: option.score)
        chosen = tuple(
            next(at for at, draft in enumerate(drafts) if draft is mine)
            for drafts, mine in zip(options, best.way, strict=True)
        )
        return Single(who, chosen, best.lays, best.sentences)


def _in_a_row(task: _Task, who: Sequence[Wearing]) -> list[Single | None]:
    """Everybody from where the one before her ended, past the flaws that lie there."""
    cloths = dict(task.case.cloths)
    found: list[Single | None] = []
    for one in who:
        single = task.on(one, cloths)
        if single is None:
            return found
        found.append(single)
        for lay in single.lays:
            gap = lay.cloth.margin if lay.mode is Mode.SHEARS else 0
            cloths[lay.cloth.key] = _behind(cloths[lay.cloth.key], lay.length + gap)
    return found


def _behind(cloth: Cloth, length: int) -> Cloth:
    """The cloth as it lies behind so much of it."""
    flaws = tuple(
        Rect(max(flaw.x0 - length, 0), flaw.y0, flaw.x1 - length, flaw.y1)
        for flaw in cloth.flaws
        if flaw.x1 > length
    )
    return replace(cloth, flaws=flaws)


def _row(case: Case, drafts: Drafts, singles: Sequence[Single]) -> Laid | None:
    """Everybody's lays one behind the other, on each cloth."""
    way = {
        at: drafts[at][number]
        for single in singles
        for at, number in zip(single.wearing.orders, single.chosen, strict=True)
    }
    lays = []
    for key, cloth in case.cloths.items():
        own = [lay for single in singles for lay in single.lays if lay.cloth.key == key]
        with suppress(CannotLay):
            lays += [joined(cloth, own)] if own else []
            continue
        return None
    return Laid(
        tuple(way[at] for at in sorted(way)),
        tuple(lays),
        tuple(sentence for single in singles for sentence in single.sentences),
        (None,) * len(lays),
    )


def together(best: Laid, company: Company, laid: Sequence[Laid]) -> tuple[Laid, frozenset[str]]:
    """The better of what was laid together and of everybody's lays one behind the other.

    Where both ask the same pieces of a cloth, that holds for each cloth by itself. Also the
    cloths on which the lays one behind the other were the better ones.
    """
    row = company.row
    if row is None:
        return best, frozenset()
    if row.score[:2] < best.score[:2]:
        lays = tuple(_bounded(lay, laid) for lay in row.lays)
        return replace(row, lays=lays), frozenset(lay.cloth.key for lay in lays)
    shorter = {
        lay.cloth.key: _bounded(lay, laid)
        for lay in row.lays
        for other in best.lays
        if lay.cloth.key == other.cloth.key
        and lay.length < other.length
        and set(lay.pieces) == set(other.pieces)
    }
    lays = tuple(shorter.get(lay.cloth.key, lay) for lay in best.lays)
    return replace(best, lays=lays), frozenset(shorter)


def _bounded(lay: Lay, laid: Sequence[Laid]) -> Lay:
    """A row of lays under the bound that the search for the same pieces together has found."""
    pieces = set(lay.pieces)
    for other in (other for option in laid for other in option.lays):
        if set(other.pieces) == pieces and other.bound <= lay.length:
            lay = bounded(lay, other.bound, other.bound_by)
    return lay


def in_a_row(lay: Lay, company: Company) -> bool:
    """Whether a lay is everybody's lays one behind the other."""
    rows = company.row.lays if company.row else ()
    return any(row.placements == lay.placements for row in rows if row.cloth.key == lay.cloth.key)
