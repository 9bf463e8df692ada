"""What laying a company together saves against laying each wearer alone, in a sentence a cloth."""

from __future__ import annotations

from collections.abc import Container, Iterator, Sequence
from decimal import Decimal

from marker.cloth import Cloth
from marker.decide.company import Company, in_a_row
from marker.lay import Lay
from marker.units import Rounding, Units, format_bought, format_length

UNTOLD = (
    "Too little time was left to lay each wearer's pieces alone, so it isn't told what laying "
    "them together saves."
)
IN_A_ROW = "No shorter lay was found than one wearer's pieces behind another's, so they lie so."


def saved(
    company: Company, lays: Sequence[Lay], kept: Container[str], system: Units
) -> Iterator[str]:
    """For each cloth that several wearers share, its lay against the lays one by one.

    On cloths that are `kept` the lays one behind the other were the better ones.
    """
    known = {lay.cloth.key: lay for lay in lays}
    for key, singles in company.shared().items():
        if key in known:
            name = f"{known[key].cloth.name}: " if len(lays) > 1 else ""
            alone = [lay for _, lay in singles]
            who = [single.wearing.somebody for single, _ in singles]
            whose = f"{sum(who)} wearers" if sum(who) > 1 else "a wearer"
            whose += "" if all(who) else " and those for nobody in particular"
            told = _sentence(known[key], alone, whose, system)
            row = key in kept and in_a_row(known[key], company)
            yield name + told + (f" {IN_A_ROW}" if row else "")


def _sentence(lay: Lay, alone: Sequence[Lay], whose: str, system: Units) -> str:
    cloth = lay.cloth
    if cloth.length:
        together, apart = lay.length, sum(one.length for one in alone)
        return (
            f"Laid together, the pieces of {whose} use {_used(together, system)}; laid "
            f"each alone they would use {_used(apart, system)} in all"
            f"{_at_least(alone, system)}: {_most(alone, apart - together)}"
            f"{_difference(apart - together, '', system)}."
        )
    apart = sum(one.buy for one in alone)
    saving = _money(cloth, alone, lay)
    return (
        f"Laid together, the pieces of {whose} take {_bought(cloth, [lay], system)} to "
        f"buy; laid each alone and bought one by one, {_bought(cloth, alone, system)}"
        f"{_at_least(alone, system)}: {_most(alone, apart - lay.buy)}"
        f"{_difference(apart - lay.buy, saving, system)}."
    )


def _used(length: int, system: Units) -> str:
    return format_length(length, system, Rounding.UP)


def _bought(cloth: Cloth, lays: Sequence[Lay], system: Units) -> str:
    """A sum of lengths, and what they cost each by itself."""
    length = format_bought(sum(lay.buy for lay in lays), system)
    if cloth.price is None:
        return length
    return f"{length} ({_cost(cloth, lays):.2f} {cloth.price.currency})"


def _cost(cloth: Cloth, lays: Sequence[Lay]) -> Decimal:
    return (
        sum((cloth.price.cost(lay.buy) for lay in lays), Decimal(0)) if cloth.price else Decimal(0)
    )


def _money(cloth: Cloth, alone: Sequence[Lay], lay: Lay) -> str:
    if cloth.price is None:
        return ""
    return f" and {abs(_cost(cloth, alone) - _cost(cloth, [lay])):.2f} {cloth.price.currency}"


def _difference(saving: int, money: str, system: Units) -> str:
    """What is saved; where strips and cloths were settled otherwise it may be less than nothing."""
    if not saving:
        return "nothing is saved"
    how = "saved" if saving > 0 else "more"
    return f"{format_bought(abs(saving), system)}{money} {how}"


def _most(alone: Sequence[Lay], saving: int) -> str:
    """Where lays alone might be shorter, no more is saved than was found."""
    return "at most " if saving > 0 and _open(alone) else ""


def _open(alone: Sequence[Lay]) -> bool:
    cloth = alone[0].cloth
    if cloth.length:
        return any(one.bound < one.length for one in alone)
    return any(cloth.buy(one.bound) < one.buy for one in alone)


def _at_least(alone: Sequence[Lay], system: Units) -> str:
    """Where lays alone aren't proved, what no shorter ones could undercut."""
    cloth = alone[0].cloth
    if cloth.length:
        least, found = sum(one.bound for one in alone), sum(one.length for one in alone)
        shown = _used(least, system)
    else:
        least, found = sum(cloth.buy(one.bound) for one in alone), sum(one.buy for one in alone)
        shown = format_bought(least, system)
    return f" (not all are proved shortest; {shown} at least)" if least < found else ""
