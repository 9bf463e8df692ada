"""The one shopping list of a case: a line for everything bought, in the order of the counters."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from marker.buying import thread as yarn
from marker.buying.cloth import cost, grams
from marker.cloth import EACH, Price
from marker.lay import Lay
from marker.record import Counter, Notion, Record
from marker.units import ceil_to, nearest


@dataclass(frozen=True)
class Line:
    """One line of the list; lengths in units, what does not apply is nought.

    `need` is the exact length that is used up and `buy` what to ask for, in whole steps; or
    `count` is how many to ask for, of thread spools that hold a `step` each. `cost` is none
    where no price is known, and so is `grams`. `key` is that of a cloth. Nothing is bought of a
    remnant, which is `in_hand`. `whose` names the garments that it is for, none where it is for
    no garment in particular.
    """

    counter: Counter
    name: str
    need: int = 0
    buy: int = 0
    count: int = 0
    width: int = 0
    step: int = 0
    ask: str = ""
    cost: Decimal | None = None
    currency: str = ""
    grams: int | None = None
    key: str = ""
    in_hand: bool = False
    whose: tuple[str, ...] = ()


@dataclass(frozen=True)
class Total:
    """What the priced lines of a list come to, and the names of those without a price.

    `amount` is none where prices are in several `currencies`, or there is no price at all.
    """

    amount: Decimal | None
    currencies: tuple[str, ...]
    unpriced: tuple[str, ...]


def shopping(record: Record) -> tuple[Line, ...]:
    """The list: a line for each cloth, then what is bought besides, by the counters of the shop.

    Equal things for several garments stand in one line; their lengths are summed before they
    are rounded up to the step.
    """
    lines = [*map(_cloth, record.lays), *_thread(record), *_notions(record)]
    order = list(Counter)
    return tuple(sorted(lines, key=lambda line: order.index(line.counter)))


def total(lines: Sequence[Line]) -> Total:
    """What all that is priced costs together."""
    bought = [line for line in lines if not line.in_hand]
    priced = [line for line in bought if line.cost is not None]
    currencies = tuple(dict.fromkeys(line.currency for line in priced))
    amount = sum((line.cost or Decimal(0) for line in priced), Decimal(0))
    return Total(
        amount if len(currencies) == 1 else None,
        currencies,
        tuple(line.name for line in bought if line.cost is None),
    )


def _cloth(lay: Lay) -> Line:
    cloth, in_hand = lay.cloth, bool(lay.cloth.length)
    return Line(
        Counter.CLOTH,
        cloth.name,
        need=lay.need,
        buy=lay.buy,
        width=cloth.width,
        step=0 if in_hand else cloth.step,
        cost=None if in_hand else cost(lay),
        currency=cloth.price.currency if cloth.price and not in_hand else "",
        grams=None if in_hand else grams(lay),
        key=cloth.key,
        in_hand=in_hand,
    )


def _thread(record: Record) -> Iterator[Line]:
    """The sewing thread for all garments, in whole spools; none where nothing is sewn."""
    thread = record.thread
    if thread is None:
        return
    whose = dict.fromkeys(garment.name for garment in record.garments if garment.sewing)
    need = sum(yarn.of_garment(garment, thread) for garment in record.garments)
    if need:
        count = yarn.spools(need, thread.spool)
        yield Line(
            Counter.THREAD,
            thread.name,
            need=need,
            count=count,
            step=thread.spool,
            ask=thread.ask,
            cost=thread.price.cost(count) if thread.price else None,
            currency=thread.price.currency if thread.price else "",
            grams=nearest(yarn.grams(need, thread.tex)),
            whose=tuple(whose),
        )


Kind = tuple[Counter, str, int, int, str, Price | None]
"""What makes two notions the same thing to ask for."""


def _notions(record: Record) -> Iterator[Line]:
    found: dict[Kind, list[tuple[Notion, str]]] = {}
    whole = [(notion, "") for notion in record.notions]
    for notion, whose in whole + [
        (notion, garment.name) for garment in record.garments for notion in garment.notions
    ]:
        kind = (notion.counter, notion.name, notion.width, notion.step, notion.ask, notion.price)
        found.setdefault(kind, []).append((notion, whose))
    for same in found.values():
        yield _line([notion for notion, _ in same], tuple(dict.fromkeys(w for _, w in same if w)))


def _line(same: Sequence[Notion], whose: tuple[str, ...]) -> Line:
    """All of one thing: of several garments their sum."""
    first = same[0]
    need, count = sum(one.length for one in same), sum(one.count for one in same)
    known = [one.grams for one in same if one.grams is not None]
    buy = ceil_to(need, first.step) if first.step else need
    price = first.price
    return Line(
        first.counter,
        first.name,
        need=need,
        buy=buy,
        count=count,
        width=first.width,
        step=first.step,
        ask=first.ask,
        cost=price.cost(count if price.per == EACH else buy) if price else None,
        currency=price.currency if price else "",
        grams=nearest(Fraction(sum(known))) if len(known) == len(same) else None,
        whose=whose,
    )
