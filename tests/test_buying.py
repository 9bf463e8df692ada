"""What the shop is asked for."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from example_lays import skirt

from marker import buying
from marker.cloth import Price
from marker.lay import Lay
from marker.record import Counter, Garment, Notion, Record
from marker.units import CM, INCH, METRE, YARD, System


def lay_with(length: int, **cloth: object) -> Lay:
    """A lay of that length; only its cloth and length count in buying."""
    lay = skirt()
    return replace(lay, cloth=replace(lay.cloth, **cloth), length=length)


def garment(key: str, *items: Notion) -> Garment:
    return Garment(
        key=key,
        name=key,
        wearer="Ada",
        panels=3,
        cut_length=METRE,
        round_hem=3 * METRE,
        drawn=METRE,
        opening=25 * CM,
        notions=items,
    )


def test_cost_is_of_what_is_bought_not_of_what_is_needed() -> None:
    lay = lay_with(
        3315 * METRE // 1000,
        step=10 * CM,
        squaring=0,
        price=Price(Decimal("12.50"), "EUR"),
    )
    assert lay.buy == 340 * CM
    assert buying.cost(lay) == Decimal("42.50")


def test_cost_by_the_yard() -> None:
    lay = lay_with(
        130 * INCH, step=YARD // 8, squaring=0, price=Price(Decimal("9.99"), "USD", "yd")
    )
    assert buying.cost(lay) == Decimal("36.21")  # 3 5/8 yd at 9.99 is 36.21375


def test_mass_is_area_bought_times_grams() -> None:
    lay = lay_with(2 * METRE, width=150 * CM, step=10 * CM, squaring=0, grams=Decimal("160.5"))
    assert buying.grams(lay) == 482  # 3 m2 x 160.5 = 481.5, halves up


def test_shrinkage_buys_more_and_weighs_what_leaves_the_shop() -> None:
    # L / (1 - s), not L x (1 + s): ISO 5077
    lay = lay_with(
        96 * CM,
        width=100 * CM,
        step=1 * CM,
        squaring=0,
        grams=Decimal(100),
        warp_shrinkage=Decimal(4),
        weft_shrinkage=Decimal(10),
    )
    assert lay.need == METRE
    assert buying.grams(lay) == 100


def test_what_is_not_known_is_none() -> None:
    lay = lay_with(METRE, price=None, grams=None)
    assert buying.cost(lay) is None
    assert buying.grams(lay) is None


def test_the_shopping_list() -> None:
    lay = lay_with(
        331 * CM,
        name="Blue linen",
        width=150 * CM,
        step=10 * CM,
        squaring=2 * CM,
        price=Price(Decimal("12.50"), "EUR"),
        grams=Decimal(100),
    )
    record = Record(
        title="Two skirts",
        units=System.CM,
        garments=(
            garment("first", Notion("waist tape", 190 * CM), Notion("hem binding", 3 * METRE)),
            garment("second", Notion("waist tape", 170 * CM)),
        ),
        lays=(lay,),
    )
    cloth, tape, binding = buying.shopping(record)
    assert (cloth.counter, cloth.name, cloth.width) == (Counter.CLOTH, "Blue linen", 150 * CM)
    assert (cloth.buy, cloth.need, cloth.step) == (340 * CM, 333 * CM, 10 * CM)
    assert (cloth.cost, cloth.currency, cloth.grams) == (Decimal("42.50"), "EUR", 510)
    assert (tape.name, tape.need, tape.whose) == ("waist tape", 360 * CM, ("first", "second"))
    assert (binding.name, binding.need, binding.whose) == ("hem binding", 3 * METRE, ("first",))
    bare = replace(record, lays=(lay_with(METRE, price=None, grams=None),), garments=())
    assert [(line.cost, line.grams) for line in buying.shopping(bare)] == [(None, None)]


def test_nothing_is_bought_of_a_remnant_in_hand() -> None:
    lay = skirt()
    cloth = replace(lay.cloth, length=METRE, width=60 * CM, squaring=2 * CM, selvedge=0)
    lay = replace(lay, cloth=cloth, length=80 * CM)
    (line,) = buying.shopping(Record("Scraps", System.CM, (), (lay,)))
    assert line.in_hand and (line.buy, line.need, line.step) == (0, 82 * CM, 0)
    assert (line.cost, line.currency, line.grams) == (None, "", None)
    assert buying.total((line,)) == buying.Total(None, (), ())
