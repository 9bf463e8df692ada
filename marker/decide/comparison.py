"""Lay every option of a case, and set them in order, best first.

Each option is planned by itself as `marker plan` would plan it, with the same seed and count, so
none is the worse for being compared with others. By the clock all share one limit.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from marker import decide
from marker.casefile import Case
from marker.casefile.comparing import ORDER, order_of
from marker.decide.abreast import Told
from marker.decide.asked import asked
from marker.decide.limit import Limit, made_ready, used
from marker.decide.options import Option, Options, Refusal, options, short
from marker.decide.worth import Worth, flat, priced, worth
from marker.errors import BadInput, CannotLay, MarkerError
from marker.record import Record
from marker.solver.stop import asked as stopping
from marker.units import Units

RANKED: dict[str, Callable[[Worth], Fraction | int]] = {
    "cost": lambda one: Fraction(one.cost or 0),
    "buy": lambda one: one.buy,
    "length": lambda one: one.length,
    "remnant": lambda one: -one.remnant,
    "tears": lambda one: one.tears,
    "round": lambda one: -one.around,
    "fulness": lambda one: -one.fulness,
    "seams": lambda one: one.sewn,
    "joins": lambda one: one.joins,
    "mass": lambda one: one.grams or 0,
    "waste": lambda one: one.waste,
}
"""What options are ranked by; the least comes first."""


REACH = "; marker reach tells what would fit cloth in hand"


@dataclass(frozen=True)
class Row:
    """An option laid. `beaten_by` is the place, from 1, of one that is better in every way."""

    option: Option
    worth: Worth
    beaten_by: int | None = None


@dataclass(frozen=True)
class Comparison:
    """All options of a case, the best first by `order`; and those that can't be made.

    `by_cost` tells whether all of them have a cost in one currency, `notes` what the ranking
    leaves out, in whole sentences. `left` counts options not laid since the user stopped it, or
    where it is `late` since the time was out.
    """

    title: str
    units: Units
    rows: tuple[Row, ...]
    refused: tuple[Refusal, ...]
    order: tuple[str, ...]
    by_cost: bool
    notes: tuple[str, ...] = ()
    left: int = 0
    late: bool = False


def compare(
    case: Case,
    *,
    order: Sequence[str] | None = None,
    seconds: float = 60.0,
    iterations: int | None = None,
    seed: int = 0,
    told: Told | None = None,
) -> Comparison:
    """Plan every option of a case, on all cores, and rank them.

    All options together have `seconds`; `iterations` bound each of them by count. `order` says
    by what to rank, before the case's own table does. Raises `BadInput` where the table
    or the order is at fault, or the options are too many; and where none can be made, the
    first one's fault.
    """
    table = asked(case)
    if order is not None and (fault := order_of(tuple(order))):
        raise BadInput(f"--order: {fault}")
    found = options(case, table)
    made_ready(each for _, each in found.able)
    limit = Limit.of(seconds, iterations)

    def plan(task: tuple[Option, Case], share: float) -> Record:
        seconds = share / used(task[1])
        return decide.plan(task[1], seconds=seconds, iterations=iterations, seed=seed)

    made = limit.shared(plan, found.able, told)
    late = limit.over and not stopping()
    return replace(ranked(case, found, made, tuple(order) if order else table.order), late=late)


def ranked(
    case: Case,
    found: Options,
    made: Sequence[Record | MarkerError | None],
    order: tuple[str, ...] | None,
) -> Comparison:
    """Set what was made of the options in order, best first."""
    laid: list[tuple[Option, Worth]] = []
    refused, faults = list(found.refused), list(found.faults)
    for (option, _), record in zip(found.able, made, strict=True):
        if isinstance(record, BadInput | CannotLay):
            refused.append(Refusal(option, short(record, case)))
            faults.append(record)
        elif isinstance(record, MarkerError):
            raise record
        elif record is not None:
            laid.append((option, worth(record, flat(case))))
    left = sum(record is None for record in made)
    if not laid:
        raise _none(case, faults)
    by_cost, notes = _costs([one for _, one in laid])
    keys = tuple(key for key in order or ORDER if by_cost or key != "cost")
    if order and "cost" in order and not by_cost:
        (said,) = notes or ("No cloth has a price.",)
        if "ranked" not in said:
            notes = (f"{said.removesuffix('.')}, so cost is left out of the ranking.",)
    places = sorted(
        range(len(laid)), key=lambda at: [*(RANKED[key](laid[at][1]) for key in keys), at]
    )
    best = [laid[at] for at in places]
    rows = tuple(
        Row(option, one, _beaten([each for _, each in best], at, by_cost))
        for at, (option, one) in enumerate(best)
    )
    return Comparison(case.title, case.units, rows, tuple(refused), keys, by_cost, notes, left)


def _none(case: Case, faults: Sequence[BadInput | CannotLay]) -> MarkerError:
    """Why there is nothing to rank."""
    if not faults:
        return CannotLay(f"{case.file}: stopped before any option was laid")
    fault, in_hand = faults[0], any(cloth.length for cloth in case.cloths.values())
    more = REACH if isinstance(fault, CannotLay) and in_hand else ""
    if len(faults) > 1:
        begin = f"{case.file}: none of the {len(faults)} options can be made; the first: "
        return type(fault)(f"{begin}{short(fault, case)}{more}")
    return type(fault)(f"{fault}{more}") if more else fault


def _costs(found: Sequence[Worth]) -> tuple[bool, tuple[str, ...]]:
    """Whether every option has a cost in one and the same currency; if not, why in a sentence."""
    currencies: set[str] = set()
    unpriced: dict[str, str] = {}
    for one in found:
        money, keys = priced(one.record.lays)
        currencies |= money
        unpriced |= {
            lay.cloth.key: lay.cloth.name for lay in one.record.lays if lay.cloth.key in keys
        }
    if unpriced:
        if not currencies:
            return False, ()
        names = " and ".join(unpriced.values())
        verb = "has" if len(unpriced) == 1 else "have"
        return False, (f"No cost is told, since {names} {verb} no price.",)
    if len(currencies) > 1:
        told = " and ".join(sorted(currencies))
        return False, (
            f"No cost is summed or ranked, since prices are in {told}; each cloth's own is told "
            "below.",
        )
    return bool(currencies), ()


def _beaten(found: Sequence[Worth], at: int, by_cost: bool) -> int | None:
    """The first option that is no worse in anything that counts, and better in one thing."""
    mine = _counts(found[at], by_cost)
    for place, other in enumerate(found):
        theirs = _counts(other, by_cost)
        if theirs != mine and all(a <= b for a, b in zip(theirs, mine, strict=True)):
            return place + 1
    return None


def _counts(one: Worth, by_cost: bool) -> tuple[Fraction | int, ...]:
    """What an option must be no worse in to stand above another; less is better in all of it."""
    paid = Fraction(one.cost or 0) if by_cost else one.area
    return (paid, *(-size for size in one.rounds), one.sewn, one.joins)
