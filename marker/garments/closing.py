"""What closes a band and what stiffens it: hooks, buttons, press studs, ties; interfacing."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field

from marker.cloth import EACH
from marker.garments.notions import STEP, Money, MoneyEither, by_length
from marker.garments.order import Order, Usual
from marker.garments.waist import BAND, UNDERLAP, Band
from marker.garments.words import Size, Strict, Text
from marker.record import Counter, Notion

EACH_WIDE = Usual("2.5 cm", "1 in")
"""One hook, button or press stud for each such width of the band, or part of it (common
practice, no source)."""
TIE = Usual("40 cm", "16 in")
MOST = 100
MOST_KINDS = 8
NAMES = {"hooks": "hooks and eyes", "buttons": "buttons", "press studs": "press studs"}


class Closing(Strict):
    """The keys of what closes the band; all have a usual value."""

    kind: Literal["hooks", "buttons", "press studs", "ties", "none"] = Field(
        default="hooks", description="what closes it"
    )
    count: int | None = Field(
        default=None, ge=1, le=MOST, description=f"how many there are, from 1 to {MOST}"
    )
    length: Size | None = Field(default=None, description='the length of one tie, such as "40 cm"')
    width: Size | None = Field(default=None, description='the width of the ties, such as "1 cm"')
    ask: Text | None = Field(
        default=None, description='what to ask for besides, such as "horn, 15 mm"'
    )
    price: MoneyEither | None = Field(
        default=None, description='what one costs, such as "0.20 EUR each"; of ties a length'
    )


def _as_list(value: Any) -> Any:
    return [value] if isinstance(value, dict) else value


Closings = Annotated[list[Closing], Field(max_length=MOST_KINDS), BeforeValidator(_as_list)]
"""One table, or a list of tables for what closes it in several ways."""


class Interfacing(Strict):
    """The keys of what stiffens the band; all have a usual value."""

    kind: Literal["interfacing", "petersham"] = Field(
        default="interfacing", description="what it is"
    )
    width: Size | None = Field(
        default=None, description="its width, unless it is as wide as the finished band"
    )
    goods: Size | None = Field(
        default=None,
        description='how wide the goods are that it is cut from, such as "90 cm", unless it is '
        "sold in the width of the band",
    )
    ask: Text | None = Field(
        default=None, description='what to ask for besides, such as "woven, firm"'
    )
    price: Money | None = Field(default=None, description='what it costs, such as "3.20 EUR/m"')


class Closed(Strict):
    """The keys of a garment that is held by a band."""

    closing: Closings = Field(
        default=[], description='a table such as { kind = "hooks", count = 2 }, or a list of them'
    )
    interfacing: Interfacing | None = Field(
        default=None, description="a table for what stiffens the band"
    )


def band_notions(order: Order, spec: Closed, band: Band, girth: int) -> tuple[Notion, ...]:
    """What is bought for a band round a girth: its closing, and its interfacing if asked for.

    Raises `BadInput` naming the key.
    """
    found = [
        notion
        for closing in spec.closing or [Closing()]
        for notion in _closing(order, closing, order.usual(band.width, BAND))
    ]
    if spec.interfacing:
        around = girth + band.ease + order.usual(band.underlap, UNDERLAP)
        found.append(_stiffening(order, spec.interfacing, band, around))
    return tuple(found)


def no_band(order: Order, spec: Closed, instead: str) -> None:
    """Refuse the keys of a band where a tape or a string is tied in its place."""
    for key in ("closing", "interfacing"):
        if getattr(spec, key):
            raise order.fault(f"{key} is for a band, and the garment has a {instead}; take it out")


def _closing(order: Order, closing: Closing, width: int) -> tuple[Notion, ...]:
    _agree(order, closing)
    if closing.kind == "none":
        return ()
    if closing.kind == "ties":
        whole = (closing.count or 2) * order.usual(closing.length, TIE)
        tape = by_length(order, "tape for ties", whole, closing.width, closing.price)
        return (tape,)
    count = closing.count or -(-width // EACH_WIDE.of(order.system))
    ask, price = closing.ask or "", closing.price
    return (
        Notion(NAMES[closing.kind], counter=Counter.CLOSURES, count=count, ask=ask, price=price),
    )


def _agree(order: Order, closing: Closing) -> None:
    """Refuse the keys of another kind of closing."""
    only = {"ties": ("ask",), "none": ("count", "length", "width", "ask", "price")}
    for key in only.get(closing.kind, ("length", "width")):
        if getattr(closing, key) is not None:
            raise order.fault(
                f'closing.{key} is given, but closing.kind is "{closing.kind}"; take one out'
            )
    counted = closing.kind != "ties"
    if closing.price and (closing.price.per == EACH) is not counted:
        such = '"0.20 EUR each"' if counted else '"0.80 EUR/m"'
        raise order.fault(
            f"closing.price is per {closing.price.per}, and {closing.kind} are sold "
            f"{'one by one' if counted else 'by length'}; write it as {such}"
        )


def _stiffening(order: Order, keys: Interfacing, band: Band, around: int) -> Notion:
    """A strip as long and as wide as the finished band, so that no seam holds it (common
    practice, no source).

    From broad goods strips are cut along or across, whichever takes less, and butted.
    """
    width = keys.width or order.usual(band.width, BAND)
    length, told = around, width
    if keys.goods:
        if keys.goods < width:
            raise order.fault(
                f"interfacing.goods is {order.spell(keys.goods)}, narrower than the strip of "
                f"{order.spell(width)}; give wider goods, or take goods out"
            )
        length, told = min(around, -(-around // keys.goods) * width), keys.goods
    return Notion(
        keys.kind,
        length,
        Counter.STIFFENING,
        width=told,
        ask=keys.ask or "",
        step=STEP.of(order.system),
        price=keys.price,
    )
