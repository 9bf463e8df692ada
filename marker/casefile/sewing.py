"""The tables of what is sewn with: thread, time, and what the user brings to the shopping list."""

from __future__ import annotations

import re
from collections.abc import Sequence
from decimal import Decimal
from typing import Annotated, Any, Literal, Self

from pydantic import Field, PlainValidator, model_validator

from marker.casefile.complaints import nearest
from marker.cloth import EACH
from marker.errors import BadInput
from marker.garments.notions import MoneyEach, MoneyEither
from marker.garments.order import Order, Usual
from marker.garments.words import Length, Size, Strict, Text, refuse, shown
from marker.record import Counter, Notion, Stitch, Thread
from marker.units import Units, format_length

SPOOL = Usual("100 m", "110 yd")
ARM = Usual("60 cm", "24 in")
TAIL = Usual("10 cm", "4 in")
SLACK = Usual("15 cm", "6 in")
STITCH = Usual("3 mm", "1/8 in")
"""All common practice, no source."""
MOST_TEX = 1000
MOST_PACE = 10_000
MOST_COUNT = 100_000
_TEX = re.compile(r"[0-9]{1,4}(?:\.[0-9]{1,3})?")
_GRAMS = re.compile(r"([0-9]{1,6}(?:\.[0-9]{1,3})?)\s*(g|kg|oz)", re.ASCII)
GRAMS = {"g": Decimal(1), "kg": Decimal(1000), "oz": Decimal("28.349523125")}
"""One ounce in grams, exactly (yard and pound agreement, 1959; from memory)."""


def _tex(value: Any) -> Decimal:
    number = isinstance(value, int | float) and not isinstance(value, bool)
    text = shown(value)
    if not number or not _TEX.fullmatch(text) or not 0 < Decimal(text) <= MOST_TEX:
        refuse(
            f"{text} is not a tex count; write the grams that 1,000 m of it weigh, a number up to "
            f"{MOST_TEX}, such as 40"
        )
    return Decimal(text)


def _mass(value: Any) -> Decimal:
    match = _GRAMS.fullmatch(value.strip()) if isinstance(value, str) else None
    if match is None:
        refuse(f'{shown(value)} is not a weight; write it as "12 g", "0.5 kg" or "1.5 oz"')
    return Decimal(match[1]) * GRAMS[match[2]]


Tex = Annotated[Decimal, PlainValidator(_tex)]
Mass = Annotated[Decimal, PlainValidator(_mass)]


class ThreadTable(Strict):
    """The sewing thread; all keys have a usual value."""

    name: Text = Field(default="sewing thread", description='a name, such as "linen thread"')
    ask: Text | None = Field(default=None, description="what to ask for besides, such as a colour")
    tex: Tex = Field(default=Decimal(40), description="its tex count, such as 40")
    waxed: bool = Field(default=True, description="false where it is not waxed for the rows")
    spool: Size | None = Field(default=None, description='what a spool holds, such as "100 m"')
    arm: Size | None = Field(
        default=None, description='the arm-length threaded at a time, such as "60 cm"'
    )
    tail: Length | None = Field(
        default=None, description='what is left at either end of a row, such as "10 cm"'
    )
    slack: Length | None = Field(
        default=None, description='what a row pushed along has over to work with, such as "15 cm"'
    )
    stitch: Size | None = Field(
        default=None, description='the stitch of seams and hems, such as "3 mm"'
    )
    seams: Literal["backstitch", "running stitch"] = Field(
        default="backstitch", description="the stitch that seams are sewn by"
    )
    rows: Literal["flat", "pushed"] = Field(
        default="flat",
        description="whether rows are sewn flat and drawn up once, or pushed along while sewn",
    )
    price: MoneyEach | None = Field(
        default=None, description='what a spool costs, such as "2.40 EUR each"'
    )

    def thread(self, units: Units, file: str) -> Thread:
        """The thread, with the usual lengths of the case's own measure.

        Raises `BadInput` where an arm-length is no longer than the tail that it loses.
        """

        def length(given: int | None, usual: Usual) -> int:
            return usual.of(units.lead) if given is None else given

        arm, tail = length(self.arm, ARM), length(self.tail, TAIL)
        if arm <= tail:
            raise BadInput(
                f"{file}: thread.arm is {format_length(arm, units)}, no longer than the tail of "
                f"{format_length(tail, units)} that it loses; give a longer arm, or a shorter tail"
            )
        return Thread(
            spool=length(self.spool, SPOOL),
            arm=arm,
            tail=tail,
            slack=length(self.slack, SLACK),
            stitch=length(self.stitch, STITCH),
            name=self.name,
            tex=self.tex,
            seams=Stitch(self.seams),
            flat=self.rows == "flat",
            waxed=self.waxed,
            ask=self.ask or "",
            price=self.price,
        )


class TimeTable(Strict):
    """What an estimate of time is reckoned by."""

    stitches_per_minute: int = Field(
        ge=1, le=MOST_PACE, description="how many stitches are sewn in a minute, such as 30"
    )


class NotionTable(Strict):
    """Something that the user brings to the list: so much of it, or so many."""

    name: Text = Field(description='what it is, such as "ribbon"')
    counter: Literal["cloth", "thread", "tape and binding", "closures", "interfacing", "other"] = (
        Field(default="other", description="the counter of the shop it is asked for at")
    )
    length: Size | None = Field(default=None, description='how much of it, such as "3.20 m"')
    count: int | None = Field(
        default=None, ge=1, le=MOST_COUNT, description="how many of it, in place of a length"
    )
    step: Size | None = Field(
        default=None, description='the step it is sold in by length, such as "10 cm"'
    )
    width: Size | None = Field(default=None, description='the width to ask for, such as "2 cm"')
    ask: Text | None = Field(default=None, description="what to ask for besides")
    price: MoneyEither | None = Field(
        default=None, description='what it costs, such as "1.20 EUR/m" or "0.45 EUR each"'
    )
    weight: Mass | None = Field(default=None, description='what all of it weighs, such as "12 g"')
    garment: Text | None = Field(default=None, description="the key of the garment it is for")

    @model_validator(mode="after")
    def _agree(self) -> Self:
        """Refuse what is neither measured nor counted, or both, and prices that don't fit."""
        if (self.length is None) == (self.count is None):
            told = "both missing" if self.length is None else "both given"
            refuse(f"length and count are {told}; give how much of it, or how many")
        if self.count and self.step:
            refuse("step is for what is sold by length, and this is counted; take it out")
        if self.price and (self.price.per == EACH) is not bool(self.count):
            such = '"0.45 EUR each"' if self.count else '"1.20 EUR/m"'
            how = "counted" if self.count else "measured"
            refuse(f"price is per {self.price.per}, but it is {how}; write it as {such}")
        return self

    def notion(self) -> Notion:
        """The thing to buy."""
        return Notion(
            self.name,
            self.length or 0,
            Counter(self.counter),
            self.count or 0,
            self.width or 0,
            self.ask or "",
            self.step or 0,
            self.price,
            self.weight,
        )


def notions_of(
    tables: Sequence[NotionTable], orders: Sequence[Order], file: str
) -> dict[str, tuple[Notion, ...]]:
    """What the user brings, by the keys of the orders it is for; under "" for none of them.

    A garment that is made for several wearers takes it for each of them. Raises `BadInput`
    where no garment has the key named.
    """
    found: dict[str, tuple[Notion, ...]] = {}
    for number, table in enumerate(tables, 1):
        keys = [order.key for order in orders if order.table == table.garment]
        if table.garment is not None and not keys:
            hint = nearest(table.garment, list(dict.fromkeys(order.table for order in orders)))
            raise BadInput(
                f"{file}: notion (number {number}).garment names {shown(table.garment)}, which is "
                f"not in the file; {hint.replace('the keys here are', 'the file has')}"
            )
        for key in keys or [""]:
            found[key] = (*found.get(key, ()), table.notion())
    return found
