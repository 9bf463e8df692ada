"""The one shopping list: counters, steps, spools, prices and what a sum leaves out."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from example_cases import case_of
from example_lays import skirt

from marker import buying, decide
from marker.cloth import Price
from marker.plan.words import shopping as words
from marker.plan.words.figures import Figures
from marker.record import Counter, Garment, Notion, Record, Sewn, Stage, Stitch, Thread
from marker.units import CM, INCH, METRE, YARD, Both, System

EUR = Price(Decimal("0.80"), "EUR", "m")
EACH = Price(Decimal("0.25"), "EUR", "each")


def sewn(thread: int, pushed: int = 0) -> Sewn:
    return Sewn(Stage.JOIN, "seams", Stitch.BACK, METRE, 100, thread, pushed)


def record(*garments: Garment, thread: Thread | None = None, **more: object) -> Record:
    lay = skirt()
    lay = replace(lay, cloth=replace(lay.cloth, price=None))
    return Record("A list", System.CM, garments, (lay,), thread=thread, **more)  # type: ignore[arg-type]


def garment(name: str, *notions: Notion, sewing: tuple[Sewn, ...] = ()) -> Garment:
    return Garment(name, name, "Ada", 1, notions=notions, sewing=sewing)


def besides(case: Record) -> list[buying.Line]:
    return [line for line in buying.shopping(case) if line.counter is not Counter.CLOTH]


def test_lengths_are_summed_before_they_are_rounded_up_to_a_step() -> None:
    tape = Notion("tape", 184 * CM, step=10 * CM, price=EUR)
    (line,) = besides(record(garment("one", tape), garment("two", tape)))
    # 2 x 184 = 368 cm: 370 cm, not 2 x 190; at 0.80 a metre 2.96
    assert (line.need, line.buy, line.cost) == (368 * CM, 370 * CM, Decimal("2.96"))
    assert line.whose == ("one", "two")


def test_a_quarter_of_a_yard_is_a_step() -> None:
    tape = Notion("tape", 37 * INCH, step=9 * INCH, price=Price(Decimal(2), "USD", "yd"))
    (line,) = besides(record(garment("one", tape)))
    assert (line.buy, line.cost) == (45 * INCH, Decimal("2.50"))  # 1 1/4 yd
    assert words.to_buy(line, System.IN) == "1 1/4 yd"


def test_things_of_another_width_or_price_are_other_lines() -> None:
    wide = Notion("tape", METRE, width=2 * CM)
    lines = besides(record(garment("one", wide, replace(wide, width=CM), replace(wide, price=EUR))))
    assert len(lines) == 3
    told = [words.name(line, System.CM) for line in lines]
    assert told == ["tape, 2 cm wide", "tape, 1 cm wide", "tape, 2 cm wide"]


def test_the_counters_stand_in_their_order() -> None:
    hooks = Notion("hooks and eyes", counter=Counter.CLOSURES, count=2, price=EACH)
    ribbon = Notion("ribbon", METRE, Counter.OTHER)
    stiff = Notion("petersham", 74 * CM, Counter.STIFFENING)
    case = record(
        garment("one", ribbon, stiff, hooks, Notion("tape", METRE), sewing=(sewn(METRE),)),
        thread=Thread(),
        notions=(Notion("pattern paper", counter=Counter.OTHER, count=4),),
    )
    assert [line.name for line in buying.shopping(case)] == [
        "indigo sprig cotton", "sewing thread", "tape", "hooks and eyes", "petersham",
        "pattern paper", "ribbon",
    ]  # fmt: skip
    assert besides(case)[2].cost == Decimal("0.50")
    assert besides(case)[4].whose == ()


def test_thread_is_bought_in_whole_spools_for_everybody_together() -> None:
    # Two rows of 3.40 m, and 500 cm of stitches in needlefuls that lose a tail: 10 of 60 cm.
    thread = Thread(price=Price(Decimal("2.40"), "EUR", "each"), spool=10 * METRE)
    sewing = (sewn(500 * CM), sewn(340 * CM, 107 * CM), sewn(340 * CM, 107 * CM))
    one = garment("one", sewing=sewing)
    (line,) = besides(record(one, thread=thread))
    assert (line.need, line.count, line.cost) == (1280 * CM, 2, Decimal("4.80"))
    (both,) = besides(record(one, replace(one, key="two", name="two"), thread=thread))
    assert (both.need, both.count) == (2560 * CM, 3)  # not twice 2 spools
    assert words.to_buy(both, System.CM) == "3 spools of 10 m"
    (pushed,) = besides(record(one, thread=replace(thread, flat=False)))
    assert pushed.need == 600 * CM + 2 * 107 * CM
    assert (both.grams, thread.tex) == (1, 40)  # 25.6 m x 40 g/km = 1.024 g


def test_a_sum_says_what_it_leaves_out() -> None:
    tape, hooks = Notion("tape", METRE, price=EUR), Notion("hooks", count=2)
    total = buying.total(buying.shopping(record(garment("one", tape, hooks))))
    assert total == buying.Total(Decimal("0.80"), ("EUR",), ("indigo sprig cotton", "hooks"))
    assert words.sum_of(total) == "0.80 EUR"
    assert words.uncounted(total) == "Not counted, for want of a price: indigo sprig cotton, hooks."


def test_several_currencies_are_not_summed() -> None:
    dollars = Price(Decimal(1), "USD", "yd")
    case = record(
        garment("one", Notion("tape", METRE, price=EUR), Notion("cord", YARD, price=dollars))
    )
    total = buying.total(buying.shopping(case))
    assert (total.amount, words.sum_of(total)) == (None, "")
    assert words.uncounted(total).startswith("Prices are in EUR and USD, so there is no sum.")
    told = list(words.besides(buying.shopping(case), total, System.CM))
    assert told[-1].startswith("Prices are in EUR and USD")


def test_without_any_price_no_sum_is_told() -> None:
    total = buying.total(buying.shopping(record(garment("one", Notion("tape", METRE)))))
    assert (words.sum_of(total), words.uncounted(total)) == ("", "")


def test_what_the_user_brings_goes_to_its_garment_or_to_none() -> None:
    more = """
    [[notion]]
    name = "ribbon"
    counter = "tape and binding"
    length = "3.20 m"
    step = "50 cm"
    price = "1.20 EUR/m"
    garment = "skirt"
    [[notion]]
    name = "tailor's chalk"
    count = 2
    price = "0.90 EUR each"
    weight = "15 g"
    """
    planned = decide.plan(case_of("cm", more), iterations=5, prices=False)
    ribbon = planned.garments[0].notions[-1]
    assert (ribbon.name, ribbon.length, ribbon.counter) == ("ribbon", 320 * CM, Counter.TAPE)
    (chalk,) = planned.notions
    assert (chalk.name, chalk.count, chalk.counter, chalk.grams) == (
        "tailor's chalk", 2, Counter.OTHER, Decimal(15),
    )  # fmt: skip
    lines = {line.name: line for line in buying.shopping(planned)}
    assert (lines["ribbon"].buy, lines["ribbon"].cost) == (350 * CM, Decimal("4.20"))
    assert lines["tailor's chalk"].cost == Decimal("1.80")


def test_other_things_of_the_thread_counter_are_no_spools() -> None:
    cord = Notion("cord", 120 * CM, Counter.THREAD, step=50 * CM)
    case = record(garment("one", cord, sewing=(sewn(METRE),)), thread=Thread())
    (counter,) = words.counters(case, buying.shopping(case), Figures(System.CM))
    assert [(line["name"], line["buy"], line["detail"]) for line in counter["lines"]] == [
        ("sewing thread", "1 spool of 100 m", "tex 40"), ("cord", "1.50 m", ""),
    ]  # fmt: skip


def test_both_measures_and_short_forms() -> None:
    (line,) = besides(record(garment("one", Notion("tape", 100 * CM, width=2 * CM))))
    assert words.to_buy(line, Both.CM_IN) == "1.00 m (1 1/8 yd)"
    assert (
        words.mass(1235, Both.CM_IN) == "1.24 kg (2 lb 11½ oz)"
        and words.mass(None, System.IN) == ""
    )
    figures = Figures(System.CM)
    assert words.amount(Notion("hooks", count=3), figures) == "3"
