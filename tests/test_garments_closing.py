"""What closes a band and what stiffens it, and what tape and binding cost."""

from __future__ import annotations

from decimal import Decimal

import pytest
from example_cases import draft_of, fault

from marker.cloth import Price
from marker.record import Counter, Notion
from marker.units import CM, INCH

BAND = 'width = "1 1/4 in"\nunderlap = "3 in"'
SEAM = 'seam = "1/2 in"'


def bought(more: str = "", band: str = BAND, units: str = "in") -> tuple[Notion, ...]:
    """What is bought for a skirt with these keys of its own, or tables below it."""
    if more.lstrip().startswith("["):
        return draft_of(units, more, band=band).garment.notions
    return draft_of(units, band=band, garment=f"{SEAM}\n{more}").garment.notions


@pytest.mark.parametrize(
    ("width", "hooks"), [("1/2 in", 1), ("1 in", 1), ("1 1/4 in", 2), ("2 in", 2), ("2 1/8 in", 3)]
)
def test_a_hook_for_each_inch_of_the_band(width: str, hooks: int) -> None:
    # one for each inch of width, or part of it: common practice, no source
    (found,) = bought(band=f'width = "{width}"')
    assert (found.name, found.counter) == ("hooks and eyes", Counter.CLOSURES)
    assert (found.count, found.length, found.price) == (hooks, 0, None)


def test_a_hook_for_each_2_5_cm_where_the_case_is_metric() -> None:
    (found,) = bought(band='width = "2.5 cm"', units="cm")
    assert found.count == 1
    (found,) = bought(band='width = "2.6 cm"', units="cm")
    assert found.count == 2


def test_other_closings_are_asked_for_by_kind() -> None:
    more = """
    [[garment.skirt.closing]]
    kind = "buttons"
    count = 3
    ask = "horn, 15 mm"
    price = "0.45 EUR each"
    [[garment.skirt.closing]]
    kind = "ties"
    length = "20 in"
    width = "1/2 in"
    """
    buttons, tape = bought(more)
    assert (buttons.name, buttons.count, buttons.ask) == ("buttons", 3, "horn, 15 mm")
    assert buttons.price == Price(Decimal("0.45"), "EUR", "each")
    assert buttons.price.cost(buttons.count) == Decimal("1.35")
    assert (tape.name, tape.length, tape.width) == ("tape for ties", 40 * INCH, INCH // 2)
    assert (tape.counter, tape.step) == (Counter.TAPE, 9 * INCH)  # a quarter of a yard
    assert bought('closing = { kind = "none" }') == ()


def test_interfacing_is_as_long_and_as_wide_as_the_finished_band() -> None:
    # 26 in waist + 3 in underlap; no seams: common practice, no source
    _, found = bought('interfacing = { kind = "petersham" }')
    assert (found.name, found.counter) == ("petersham", Counter.STIFFENING)
    assert (found.length, found.width) == (29 * INCH, 5 * INCH // 4)


def test_interfacing_from_broad_goods_lies_the_way_that_takes_less() -> None:
    _, narrow = bought('interfacing = { goods = "20 in" }')
    assert (narrow.length, narrow.width) == (2 * 5 * INCH // 4, 20 * INCH)  # two strips across
    _, least = bought('interfacing = { goods = "1 1/4 in" }')
    assert least.length == 29 * INCH  # 24 strips across would take 30 in


def test_tape_and_binding_have_steps_and_prices() -> None:
    more = '[garment.skirt.tape]\nprice = "0.80 EUR/m"\n'
    (tape,) = draft_of("cm", more, band="").garment.notions
    assert tape.price == Price(Decimal("0.80"), "EUR", "m") and tape.step == 10 * CM
    binding = '[garment.skirt.binding]\nprice = "1 USD/yd"\n'
    assert bought(binding)[-1].price == Price(Decimal(1), "USD", "yd")


@pytest.mark.parametrize(
    ("more", "told"),
    [
        ('closing = { kind = "zip" }', "closing (number 1).kind is 'zip'; write"),
        (
            "closing = { count = 0 }",
            "closing (number 1).count is 0, but should be greater than or equal",
        ),
        ('closing = { length = "20 in" }', 'closing.length is given, but closing.kind is "hooks"'),
        ('closing = { kind = "none", count = 2 }', "closing.count is given, but closing.kind is"),
        ('closing = { kind = "ties", ask = "silk" }', "closing.ask is given, but"),
        ('closing = { price = "0.20 EUR/m" }', "closing.price is per m, and hooks are sold one by"),
        ('closing = { kind = "ties", price = "1 EUR each" }', "and ties are sold by length"),
        (
            'closing = { price = "cheap" }',
            "closing (number 1).price: 'cheap' is not a price; write it as",
        ),
        (
            'closing = { price = "2 EUR each yd" }',
            "closing (number 1).price: '2 EUR each yd' is not a price",
        ),
        ('interfacing = { price = "2 EUR each" }', "interfacing.price: '2 EUR each' is not a"),
        ('interfacing = { goods = "1 in" }', "interfacing.goods is 1 in, narrower than the strip"),
        ("closings = 2", "closings is not a key; did you mean 'closing'?"),
        ('binding = { price = "1 EUR/m", cut = "bias strips" }', "price is for a binding that is"),
    ],
)
def test_closings_are_refused_in_one_sentence(more: str, told: str) -> None:
    assert told in fault(garment=f"{SEAM}\n{more}", band=BAND)


@pytest.mark.parametrize("key", ["closing", "interfacing"])
def test_a_tape_has_no_closing(key: str) -> None:
    told = fault(garment=f"{key} = {{}}\ntape = {{}}", band="")
    assert f"{key} is for a band, and the garment has a tape; take it out" in told
