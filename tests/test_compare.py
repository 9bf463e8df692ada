"""Comparing options: each is what `plan` gives, ranked and set against the others by the rule."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest
from compare_cases import BOLTS, PRICED, WIDE, bolts, case, compared, planned, row
from example_cases import text_of
from hypothesis import given, settings
from hypothesis import strategies as st

import marker
from marker import casefile, decide
from marker.casefile import changed, parse
from marker.decide import limit
from marker.decide.asked import asked
from marker.decide.comparison import RANKED, Comparison, _beaten, compare, ranked
from marker.decide.options import options
from marker.decide.worth import Joins, Worth, worth
from marker.errors import BadInput, CannotLay
from marker.lay import Proof
from marker.piece import Piece, Pieced
from marker.plan.compare.words import details
from marker.plan.words import phrases
from marker.units import CM, format_bought
from marker.units import parse as length

ROOT = Path(__file__).parents[1]


def rank(found: Comparison, at: int) -> list[Fraction | int]:
    return [RANKED[key](found.rows[at].worth) for key in found.order]


# Check values (common practice, no source): three breadths of 45 in cloth and a band of 3 in take
# 130 1/2 in, two of wide cloth 88 in; in centimetres 331.5 and 223.5.


@pytest.mark.parametrize(
    ("units", "narrow", "wide", "figures"),
    [
        ("in", "45 in", "54 in", ("130 1/2 in", "3 5/8 yd", "88 in", "2 1/2 yd")),
        ("cm", "114 cm", "140 cm", ("331.5 cm", "3.40 m", "223.5 cm", "2.30 m")),
    ],
)
def test_two_panels_of_wide_cloth_against_three(
    units: str, narrow: str, wide: str, figures: tuple[str, ...]
) -> None:
    found = compared(
        f'[cloth.wide]\nname = "Wide"\nwidth = "{wide}"\n[compare]\npanels = [2, 3]\nlie = "along"',
        units,
        cloth=f'name = "Narrow"\nwidth = "{narrow}"',
    )
    three, two = (row(found, words).worth for words in ("3 panels, Narrow", "2 panels, Wide"))
    need, buy, wide_need, wide_buy = figures
    assert (three.length, format_bought(three.buy, found.units)) == (length(need), buy)
    assert (two.length, format_bought(two.buy, found.units)) == (length(wide_need), wide_buy)
    assert three.proof is two.proof is Proof.LENGTH
    assert found.rows.index(row(found, "2 panels, Wide")) < found.rows.index(
        row(found, "3 panels, Narrow")
    )


def test_a_row_is_what_plan_gives_for_the_changes_it_tells() -> None:
    asks = case(BOLTS, cloth=PRICED)
    found = bolts()
    assert len(found.rows) == 8
    for one in found.rows:
        record = planned(changed(asks, one.option.changes))
        assert record == one.worth.record
        assert one.worth.buy == sum(lay.buy for lay in record.lays)
        assert one.worth.length == sum(lay.length for lay in record.lays)


def test_what_is_written_into_the_file_gives_the_same() -> None:
    found = row(bolts(), "2 panels, Twill, railroaded")
    assert found.option.written == (
        'garment.skirt.panels.count = 2, garment.skirt.cloth = "twill", '
        'garment.skirt.panels.lie = "across"'
    )
    text = text_of("cm", BOLTS, cloth=PRICED, panels='count = 2\nlie = "across"').replace(
        "[garment.skirt]\n", '[garment.skirt]\ncloth = "twill"\n'
    )
    assert planned(parse(text, "a.toml")) == found.worth.record


def test_the_best_comes_first_by_the_order_of_goals() -> None:
    found = bolts()
    assert found.order == ("cost", "buy", "length", "remnant", "tears")
    ranks = [rank(found, at) for at in range(len(found.rows))]
    assert ranks == sorted(ranks)
    assert [one.worth.cost for one in found.rows] == sorted(
        one.worth.cost or 0 for one in found.rows
    )


def test_the_user_may_rank_otherwise() -> None:
    text = BOLTS + '[compare]\npanels = [2, 3]\nfacing = "straight"\n'
    found = compared(text, order=("round", "seams"), cloth=PRICED)
    rounds = [one.worth.rounds[0] for one in found.rows]
    assert rounds == sorted(rounds, reverse=True)
    widest = [one.worth.sewn for one in found.rows if one.worth.rounds[0] == rounds[0]]
    assert widest == sorted(widest)
    same = bolts('panels = [2, 3]\norder = ["round", "seams"]')
    assert [one.option.words for one in same.rows] == [one.option.words for one in found.rows]


def test_one_option_more_never_makes_the_best_worse() -> None:
    fewer, more = (bolts(f"panels = [{low}, 3]") for low in (3, 2))
    assert len(more.rows) > len(fewer.rows)
    assert rank(more, 0) <= rank(fewer, 0)
    # What was compared before is what it was.
    for one in fewer.rows:
        words = f"3 panels, {one.option.words}"
        assert row(more, words).worth == one.worth


# What an option comes to.


def test_the_figures_of_an_option_are_reckoned_from_its_pieces() -> None:
    one = row(bolts(), "3 panels, Twill, along the bolt")
    (lay,), (worn,) = one.worth.record.lays, one.worth.worn
    # three panels of 150 cm with seams of 1.25 cm go 3 x 147.5 cm round
    assert one.worth.rounds == (length("442.5 cm"),)
    assert worn.garment.fulness == pytest.approx(442.5 / 66)
    # three side seams, and three facing strips closed to a ring: each join as deep as the strip
    panel = next(piece for piece in lay.pieces if piece.name == "panel")
    strip = next(piece for piece in lay.pieces if piece.name == "facing strip")
    assert one.worth.seams == 3 + strip.count
    assert one.worth.sewn == 3 * panel.length + strip.count * strip.breadth
    assert worn.joins == Joins(strip.count, strip.count == 3)
    assert one.worth.cost == Decimal(14) * one.worth.buy / (100 * CM)
    area = sum(piece.length * piece.breadth * piece.count for piece in lay.pieces)
    assert one.worth.grams == round(area / (100 * CM) ** 2 * 200)
    # Waste is told as the plan tells it: what becomes neither a piece nor a remnant to keep.
    kept = sum(cut.rect.along * cut.rect.across for cut in lay.offcuts if cut.keep)
    assert kept
    whole = lay.cloth.buy(lay.length) * lay.cloth.width
    assert one.worth.waste == 1 - Fraction(area + kept, whole)
    assert f"waste {phrases.waste(lay)}," in " ".join(details(one, bolts()))
    # pleats of 6 mm stitches: 442.5 cm hold 3 x 123, which is 55.9 to 10 cm of 66 cm
    assert worn.pleats is not None
    assert worn.pleats.pleats == 3 * 123
    assert worn.pleats_per(one.worth.record.units) == pytest.approx(369 * 10 / 66)


def test_a_railroaded_tube_has_one_seam() -> None:
    one = row(bolts(), "2 panels, Twill, railroaded")
    (lay,) = one.worth.record.lays
    strip = next(piece for piece in lay.pieces if piece.name == "facing strip")
    assert one.worth.seams == 1 + strip.count
    (worn,) = one.worth.worn
    assert worn.joins == Joins(strip.count, strip.count == 1)


@pytest.mark.parametrize("meet", [False, True])
def test_free_strips_meet_seams_where_they_are_asked_to(meet: bool) -> None:
    record = row(bolts(), "3 panels, Twill, along the bolt").worth.record
    (lay,) = record.lays
    (strip,) = [piece for piece in lay.pieces if piece.name == "facing strip"]
    # Two segments of unlike lengths, as a free strip stands in a lay.
    free = Pieced("skirt/facing", strip.length * 3, strip.length // 9, 1, 9, pitch=5 * meet)
    cut = [replace(strip, count=1, pieced=free), replace(strip, count=1, length=9, pieced=free)]
    pieces = (*(piece for piece in lay.pieces if piece is not strip), *cut)
    (worn,) = worth(replace(record, lays=(replace(lay, pieces=pieces),))).worn
    assert worn.joins == Joins(2, meet)


def test_advice_is_in_plain_words() -> None:
    # common practice, no source: heavy over about 3.6 m round, a petticoat under about 1.8 m
    thick = BOLTS.replace('width = "150 cm"', 'width = "150 cm"\nthickness = "1 mm"')
    found = bolts("panels = [1, 3]", thick)

    def said(words: str) -> str:
        return " ".join(row(found, words).worth.worn[0].advice)

    heavy = said("3 panels, Twill, along the bolt")
    assert "over 3.60 m a skirt grows heavy" in heavy
    # 369 pleats of four layers of 1 mm are 147.6 cm, and 66 cm are given
    assert "The pleats can't close up: 369 of them, 4 layers each, take 147.6 cm" in heavy
    assert "the band gives 66 cm" in heavy
    # C x 4 t / (2 x drawn) = 442.5 x 4 / 132 mm = 13.41 mm, rounded up for what is sewn
    assert "take stitches of at least 1.4 cm" in heavy
    light = said("1 panel, Twill, along the bolt")
    assert "under 1.80 m a skirt hangs like a petticoat" in light
    assert "close up" not in said("2 panels, cloth main, along the bolt")
    off = said("2 panels, Twill, railroaded")
    assert "joins do not all meet" in off


# Without prices, and in several currencies.


def test_without_a_price_there_is_no_cost() -> None:
    found = compared(WIDE + "[compare]\npanels = [2, 3]\n", "in")
    assert not found.by_cost
    assert found.order == ("buy", "length", "remnant", "tears")
    assert found.notes == ()


def test_one_cloth_without_a_price_leaves_the_cost_out_and_is_named() -> None:
    found = bolts("panels = 3", BOLTS.replace('price = "14 EUR/m"\n', ""))
    assert not found.by_cost
    assert found.notes == ("No cost is told, since Twill has no price.",)


def test_currencies_are_neither_summed_nor_ranked() -> None:
    text = BOLTS.replace("EUR", "USD") + '[compare]\nfacing = "straight"\npanels = 3\n'
    found = compared(text, order=("cost", "buy"), cloth=PRICED)
    assert not found.by_cost
    assert found.order == ("buy",)
    assert "prices are in EUR and USD" in found.notes[0]
    assert len(found.notes) == 1 and "ranked" in found.notes[0]


def test_a_remnant_costs_nothing_and_needs_no_price() -> None:
    scrap = '[cloth.scrap]\nname = "Scrap"\nwidth = "60 cm"\nlength = "150 cm"\n'
    facing = '[garment.skirt.facing]\ncloth = "scrap"\ndepth = "15 cm"\n'
    found = compared(scrap + facing + '[compare]\nfacing = "straight"\npanels = 3', cloth=PRICED)
    assert found.by_cost
    one = next(one for one in found.rows if "Scrap" in one.option.words)
    assert one.worth.cost == Decimal(10) * one.worth.buy / (100 * CM)


# Which are bettered.


def made(cost: int, around: int, sewn: int, joins: int) -> Worth:
    """A worth of these figures alone."""
    base = bolts().rows[0].worth
    worn = replace(
        base.worn[0],
        garment=replace(base.worn[0].garment, round_hem=around),
        joins=Joins(joins, True),
    )
    return replace(base, cost=Decimal(cost), sewn=sewn, worn=(worn,))


FIGURES = st.tuples(*(st.integers(1, 3) for _ in range(4)))


@given(st.lists(FIGURES, min_size=1, max_size=6))
@settings(max_examples=40)
def test_bettered_means_no_worse_in_anything_and_better_in_something(
    figures: list[tuple[int, int, int, int]],
) -> None:
    worths = [made(*each) for each in figures]
    for at, (cost, around, sewn, joins) in enumerate(figures):
        better = [
            place
            for place, (c, r, s, j) in enumerate(figures, 1)
            if c <= cost and r >= around and s <= sewn and j <= joins
            and (c, r, s, j) != (cost, around, sewn, joins)
        ]  # fmt: skip
        assert _beaten(worths, at, by_cost=True) == (better[0] if better else None)


def test_without_prices_the_area_bought_counts() -> None:
    one = made(1, 1, 1, 1)
    dear = replace(one, cost=Decimal(9), area=one.area - 1)
    assert _beaten([one, dear], 0, by_cost=False) == 2
    assert _beaten([one, dear], 1, by_cost=True) == 1


# What can't be made, and a search that is stopped.


def test_what_cannot_be_made_is_listed_with_its_reason() -> None:
    narrow = '[cloth.tape]\nname = "Tape"\nwidth = "2 cm"\n'
    found = compared(narrow + "[compare]\npanels = 3\n")
    assert [one.option.words for one in found.refused] == ["Tape, along the bolt"]
    assert "a.toml" not in found.refused[0].reason
    assert found.refused[0].reason.startswith("garment.skirt.")
    assert all("main" in one.option.words for one in found.rows)


def test_where_none_can_be_made_that_is_an_error() -> None:
    with pytest.raises(BadInput, match=r"none of the 2 options can be made; the first: garment"):
        compare(case("[compare]\npanels = [1, 2]\n", cloth='width = "20 cm"'), iterations=5)


def test_a_stop_keeps_what_is_laid() -> None:
    asks = case('[compare]\npanels = [2, 4]\nlie = "along"\n')
    found = options(asks, asked(asks))
    records = [planned(each) for _, each in found.able]
    kept = ranked(asks, found, [records[0], None, None], None)
    assert [one.option.words for one in kept.rows] == ["2 panels"]
    assert kept.left == 2
    with pytest.raises(CannotLay, match="stopped before any option was laid"):
        ranked(asks, found, [None, None, None], None)


def test_a_lay_that_cannot_be_had_is_listed_too() -> None:
    asks = case('[compare]\npanels = [2, 3]\nlie = "along"\n')
    found = options(asks, asked(asks))
    kept = ranked(asks, found, [planned(found.able[0][1]), CannotLay("a.toml: no room")], None)
    assert [(one.option.words, one.reason) for one in kept.refused] == [("3 panels", "no room")]


def test_what_outlines_need_is_loaded_once_and_only_for_them(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    asked_for: list[tuple[Piece, ...]] = []
    monkeypatch.setattr(limit, "load", lambda _, pieces: asked_for.append(pieces))
    record = bolts().rows[0].worth.record
    monkeypatch.setattr(decide, "plan", lambda *_, **__: record)
    compare(case("[compare]\npanels = 3\n"))
    assert asked_for == []
    compare(casefile.read(ROOT / "cases" / "gored-walking-skirt.toml"))
    assert [piece.outline is not None for pieces in asked_for for piece in pieces] == [True]


@pytest.mark.parametrize(
    ("words", "meet"), [("shaped facing", True), ("facing of bias strips", False)]
)
def test_the_joins_of_a_curved_facing(words: str, meet: bool) -> None:
    asks = casefile.read(ROOT / "cases" / "gored-walking-skirt.toml")
    (draft, *_), *_ = next(
        [order.drafts() for order in each.orders]
        for option, each in options(asks, asked(asks)).able
        if option.words == words
    )
    # What is cut is all that matters here; where it lies does not.
    record = marker.load_record(ROOT / "out" / "gored-walking-skirt" / "lay.json")
    (lay,) = record.lays
    (worn,) = worth(
        replace(record, garments=(draft.garment,), lays=(replace(lay, pieces=draft.pieces),))
    ).worn
    assert worn.joins is not None
    assert worn.joins.count == 5 or not meet
    assert worn.joins.meet is meet
