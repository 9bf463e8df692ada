"""What can be had from cloth that is there: whether a case fits, what would, and the most.

Every change that is offered is one to the case's own keys, and every lay is planned by
`decide.plan` from the case so changed; so the user who writes the change into the file gets the
same. What can't fit is told so only where that is proved.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from fractions import Fraction
from typing import TypeVar

from marker.casefile import Case
from marker.casefile.changes import Changes, changed
from marker.decide.abreast import Told
from marker.decide.limit import Limit, made_ready
from marker.decide.reach.dial import Dial, Turned, named, turn
from marker.decide.reach.effort import Effort
from marker.decide.reach.found import Miss, Most, Offer, Reached, Standing
from marker.decide.reach.gives import gives, shears
from marker.decide.reach.loss import part as share_of
from marker.decide.reach.most import garment_of, kind, most_of, raised
from marker.decide.reach.pairs import pairs
from marker.decide.reach.short import Short, shortages
from marker.decide.reach.stands import Stand, stands
from marker.decide.reach.steady import steady
from marker.errors import BadInput, MarkerError
from marker.record import Record
from marker.solver.stop import asked, listening

__all__ = ["Miss", "Most", "Offer", "Reached", "Standing", "having", "reach"]

T = TypeVar("T")
R = TypeVar("R")

AS_ASKED, MISSES, SINGLE = 0.3, 0.2, 0.6
"""Parts of the time that is then left, for whether it fits and again for its plan, for what is
lacking, and for single changes. What is not used of one is there for the next."""
MUCH = Fraction(1, 2)
"""Where every single change takes more of the finished cloth than this, two at once are tried."""
MOST_RANK = 32
"""Where what the search for the most came to stands among changes that take as much."""


def having(case: Case, lengths: Mapping[str, str]) -> Case:
    """The case with its cloths remnants of these lengths, as the file would say them.

    Raises `BadInput` where a cloth is not in the file, or a length can't be one.
    """
    changes: dict[tuple[str, ...], str | None] = {}
    for key, length in lengths.items():
        if key not in case.cloths:
            raise BadInput(
                f"{case.file}: --have names the cloth {key!r}, which is not in the file; it has: "
                f"{', '.join(case.cloths)}"
            )
        for sold in ("step", "price"):
            changes[("cloth", key, sold)] = None
        changes[("cloth", key, "length")] = length
    return changed(case, changes)


def reach(
    case: Case,
    *,
    most: str | None = None,
    seconds: float = 60.0,
    iterations: int | None = None,
    seed: int = 0,
    told: Told | None = None,
) -> Reached:
    """Whether a case fits what is there, by how much it misses, what would fit, and the most.

    `most`, "round", "length" or "facing", takes the place of the case's own `reach.most`.
    All questions together have `seconds`; `iterations` bound each of them by count. Raises
    `BadInput` where the case holds no remnant, or what is to be made most of is not to be had.
    """
    if not any(cloth.length for cloth in case.cloths.values()):
        raise BadInput(
            f"{case.file}: no cloth has a length, so none is there to reach with; give "
            f'cloth.{next(iter(case.cloths))}.length, such as "1.50 m", or --have'
        )
    found = stands(case)
    table = case.tables.get("reach", {})
    most = most or table.get("most")
    named = table.get("garment")
    grown = garment_of(case, found, most, named) if most else None
    with suppress(BadInput):  # too wide for what is there, though less of it may do
        made_ready([case])
    with listening():
        desk = _Desk(case, found, Effort(seconds, iterations, seed), told)
        return desk.reach(most or "", grown)


class _Desk:
    def __init__(
        self, case: Case, found: Sequence[Stand], effort: Effort, told: Told | None
    ) -> None:
        self.case, self.found, self.effort, self.told = case, found, effort, told
        self.limit = Limit.of(effort.seconds, effort.iterations)
        self.unasked: list[str] = []
        """What the time was out for."""

    def reach(self, most: str, grown: Stand | None) -> Reached:
        record, standing = self._as_asked()
        fits = standing is Standing.FITS
        misses: tuple[Miss, ...] = ()
        offers: list[Offer] = []
        several, dials = False, list[Dial]()
        if not fits:
            misses = self._misses()
            dials = [] if asked() else self._dials()
            offers = self._offers(dials, standing, SINGLE)
        best = None
        if grown and not asked():
            best = most_of(self.case, grown, most, record, self._turned)
        if best and not fits:
            best = raised(best, offers)
            offers = self._with(offers, best)
        least = min((offer.lost for offer in offers), default=Fraction(1))
        if not fits and least > MUCH and not asked():
            both = self._offers(list(pairs(dials)), standing, 1.0, both=True)
            several = not offers
            offers += [offer for offer in both if offer.lost < least]
        offers.sort(key=_nearness)
        return Reached(
            self.case,
            standing,
            record,
            misses,
            tuple(offers),
            several and bool(offers),
            most,
            best,
            asked(),
            kind(grown) if grown else "skirt",
            () if asked() else tuple(self.unasked),
        )

    def _as_asked(self) -> tuple[Record | None, Standing]:
        held, proved = self.effort.within(AS_ASKED * self.limit.left).holds(self.case, {})
        effort = self.effort.within(AS_ASKED * self.limit.left)
        record = effort.planned(self.case, {}) if held else None
        if record:
            return record, Standing.FITS
        return None, Standing.REFUTED if proved else Standing.OPEN

    def _misses(self) -> tuple[Miss, ...]:
        def ask(short: Short, seconds: float) -> tuple[Miss, ...]:
            return short(self.effort.within(seconds))

        found = self._abreast(ask, shortages(self.case), MISSES)
        if any(misses is None for misses in found):
            self.unasked.append("by how much it misses")
        return tuple(miss for misses in found if misses for miss in misses)

    def _dials(self) -> list[Dial]:
        able = [stand for stand in self.found if stand.in_hand]
        every = [
            named(dial, stand.name) if len(self.found) > 1 else dial
            for stand in able
            for dial in gives(self.case, stand)
        ]
        return [*shears(self.case), *every]

    def _offers(
        self, dials: Sequence[Dial], standing: Standing, part: float, both: bool = False
    ) -> list[Offer]:
        """What makes it fit.

        The first step of a dial is one from what is asked. Where `both` of two are turned in step,
        less of one of them might do.
        """
        return [
            Offer(
                dial.name,
                dial.words(found.at),
                dial.changes(found.at),
                found.record,
                dial.falls and dial.size > 1 and not both,
                found.refuted and (found.at > 0 or standing is Standing.REFUTED),
                dial.lost(found.at),
                share_of(self.found, dial.lost(found.at)),
                dial.rank,
                dial.figure(found.at) if dial.figure else None,
            )
            for dial, found in zip(dials, self._turned(dials, part), strict=True)
            if found and found.at is not None and found.record
        ]

    def _with(self, offers: Sequence[Offer], best: Most) -> list[Offer]:
        """The offers, with what the search for the most came to wherever that is nearer."""
        found = list(offers)
        for most in (best, *best.others):
            lost = share_of(self.found, most.losses)
            mates = [offer for offer in found if _alike(offer.changes, most.changes)]
            if any(offer.lost <= lost for offer in mates):
                continue
            name = mates[0].name if mates else most.words
            found = [offer for offer in found if offer not in mates]
            found.append(
                Offer(name, most.words, most.changes, most.record, True, most.refuted,
                      most.losses, lost, MOST_RANK, most.figure)
            )  # fmt: skip
        return found

    def _turned(self, dials: Sequence[Dial], part: float) -> list[Turned | None]:
        """Dials turned abreast, in a part of the time that is left."""

        def turned(dial: Dial, seconds: float) -> Turned:
            effort = self.effort.within(seconds)
            return turn(self.case, steady(self.case, dial), effort)

        found = self._abreast(turned, dials, part)
        self.unasked += [
            dial.name
            for dial, one in zip(dials, found, strict=True)
            if one is None or (one.late and one.at is None)
        ]
        return found

    def _abreast(
        self, ask: Callable[[T, float], R], tasks: Sequence[T], part: float
    ) -> list[R | None]:
        """Questions asked at once; None for those that came to nothing or were not begun."""
        answers = self.limit.part(part).shared(ask, tasks, self.told)
        return [None if isinstance(answer, MarkerError) else answer for answer in answers]


def _nearness(offer: Offer) -> tuple[Fraction, bool, int]:
    """What takes less away comes first; of as much, what asks for nothing to be bought."""
    return offer.lost, offer.bought, offer.rank


def _alike(one: Changes, other: Changes) -> bool:
    """Whether two changes turn the same figure: the same keys, and of as many panels."""
    counts = [
        {key: value for key, value in each.items() if key[-1] == "count"} for each in (one, other)
    ]
    return one.keys() == other.keys() and counts[0] == counts[1]
