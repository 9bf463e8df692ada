"""What is bought besides cloth by the bolt: how prices are read, and the step tape is sold in."""

from __future__ import annotations

import re
from collections.abc import Callable
from decimal import Decimal
from typing import Annotated, Any

from pydantic import PlainValidator

from marker.cloth import EACH, Price
from marker.garments.order import Order, Usual
from marker.garments.words import refuse, shown
from marker.record import Notion

STEP = Usual("10 cm", "9 in")
"""Tape and binding are sold by 10 cm, or by the quarter yard (common practice, no source)."""

_PRICE = re.compile(
    r"([0-9]{1,9}(?:\.[0-9]{1,6})?)\s*([^\W\d_]{1,6}|[€£$])\s*(?:/\s*(m|yd)|\s+(each))"
)


def price(*per: str, such: str) -> Callable[[Any], Price]:
    """A validator of a price per one of these; `such` shows how to write it."""

    def check(value: Any) -> Price:
        match = _PRICE.fullmatch(value.strip()) if isinstance(value, str) else None
        unit = (match[3] or match[4]) if match else ""
        if match is None or unit not in per:
            refuse(f"{shown(value)} is not a price; write it as {such}")
        return Price(Decimal(match[1]), match[2], unit)

    return check


BY_LENGTH = '"12.50 EUR/m" or "9 USD/yd"'
ONE_BY_ONE = '"0.20 EUR each"'
Money = Annotated[Price, PlainValidator(price("m", "yd", such=BY_LENGTH))]
"""What a metre or a yard costs."""

MoneyEach = Annotated[Price, PlainValidator(price(EACH, such=ONE_BY_ONE))]
"""What one of a thing costs."""

MoneyEither = Annotated[
    Price, PlainValidator(price("m", "yd", EACH, such=f"{BY_LENGTH}, or {ONE_BY_ONE}"))
]
"""What a metre, a yard or one of a thing costs."""


def by_length(
    order: Order, name: str, length: int, width: int | None = None, cost: Price | None = None
) -> Notion:
    """Tape, binding or string that is bought in the usual steps."""
    return Notion(name, length, width=width or 0, step=STEP.of(order.system), price=cost)
