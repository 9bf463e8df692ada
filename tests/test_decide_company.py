"""Many wearers on one bolt: what is saved, and that together is never longer than one by one."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from random import Random
from typing import Any

import pytest
from company_cases import CLOTH, company, company_text
from test_decide import one_by_one

from marker import decide, referee, solver
from marker.casefile import Case, parse
from marker.casefile.changes import changed
from marker.cloth import Cloth
from marker.decide.saved import IN_A_ROW, UNTOLD
from marker.decide.ways import MOST_WAYS
from marker.errors import CannotLay
from marker.geometry import Rect
from marker.lay import Lay, Proof
from marker.piece import Piece
from marker.plan.table import summary
from marker.plan.words.whose import initial
from marker.record import Alone, Record
from marker.units import CM, format_bought

ROUNDS = 1


def several(pieces: tuple[Piece, ...]) -> bool:
    return len({initial(piece.letter) for piece in pieces}) > 1


@pytest.fixture
def clumsy(monkeypatch: pytest.MonkeyPatch) -> None:
    """A search that lays each wearer well, but all of them together one copy after another."""

    def solve(cloth: Cloth, pieces: tuple[Piece, ...], **options: Any) -> Lay:
        if several(pieces):
            return one_by_one(cloth, pieces)
        return solver.solve(cloth, pieces, **options)

    monkeypatch.setattr("marker.decide.desk.solve", solve)


def plan(case: Case, **options: Any) -> Record:
    record = decide.plan(case, iterations=ROUNDS, **options)
    assert referee.check_record(record) == ()
    return record


def one_by_one_length(record: Record) -> int:
    return sum(one.length for one in record.alone)


def without_others(case: Case, wearer: str) -> Case:
    """The case as it would be written for one wearer."""
    orders = tuple(order for order in case.orders if order.wearer.key == wearer)
    return replace(case, orders=orders)


@pytest.mark.parametrize("seed", range(3))
def test_the_company_lay_is_never_longer_than_the_single_lays(seed: int) -> None:
    random = Random(seed)
    width = random.choice(("112 cm", "140 cm", "158 cm"))
    cloth = f'width = "{width}"\nselvedge = "1 cm"\nsquaring = "{random.randrange(4)} cm"'
    text = company_text(random.randint(2, 4), seed, cloth, random.choice(("facing", "own hem")))
    text = text.replace('"full"', '"70 cm"')
    record = plan(parse(text, "a.toml"))
    assert len(record.alone) == len({one.letter for one in record.alone}) > 1
    assert record.lays[0].length <= one_by_one_length(record)
    assert record.lays[0].buy <= sum(one.buy for one in record.alone)


def test_what_one_takes_alone_is_what_planning_her_alone_gives() -> None:
    case = company(2, seed=4, hem="own hem")
    record = plan(case)
    for one, wearer in zip(record.alone, case.wearers, strict=True):
        (lay,) = plan(without_others(case, wearer)).lays
        assert (one.length, one.bound, one.buy) == (lay.length, lay.bound, lay.buy)


def test_the_saving_is_told_in_length_and_money() -> None:
    record = plan(company(2))
    (lay,) = record.lays
    apart = sum(one.buy for one in record.alone)
    price = lay.cloth.price
    assert price is not None
    cost = sum((price.cost(one.buy) for one in record.alone), Decimal(0))
    together = format_bought(lay.buy, record.units)
    assert record.choices[0].startswith(
        f"Laid together, the pieces of 2 wearers take {together} ({price.cost(lay.buy):.2f} EUR)"
    )
    less = cost - price.cost(lay.buy)
    told = f"{format_bought(apart - lay.buy, record.units)} and {less:.2f} EUR saved."
    assert apart > lay.buy and record.choices[0].endswith(told)
    (saved,) = summary(record, ())["saved"]
    assert saved["alone_buy"] == apart and saved["saved_cost"] == f"{less:.2f}"
    assert summary(record, ())["wearers"] == {"A": "Ada", "B": "Bea"}


def test_without_a_price_no_money_is_told() -> None:
    record = plan(company(2, cloth='width = "150 cm"'))
    assert "EUR" not in record.choices[0] and "saved_cost" not in summary(record, ())["saved"][0]


@pytest.mark.usefixtures("clumsy")
@pytest.mark.parametrize("more", ["", "one_way = true"])
def test_where_the_search_together_is_longer_the_single_lays_are_kept(more: str) -> None:
    text = company_text(2, cloth=f"{CLOTH}\n{more}", hem="own hem")
    record = plan(parse(text, "a.toml"))
    (lay,) = record.lays
    assert lay.length == one_by_one_length(record)
    assert record.choices[0].endswith(IN_A_ROW)
    assert lay.length < one_by_one(lay.cloth, lay.pieces).length


def test_where_both_are_as_long_nothing_changes(monkeypatch: pytest.MonkeyPatch) -> None:
    text = company_text(2, hem="own hem").replace("74 cm", "full")
    alone = plan(parse(text, "a.toml"))
    monkeypatch.setattr("marker.decide.lay_alone", lambda *_: None)
    plain = decide.plan(parse(text, "a.toml"), iterations=ROUNDS)
    assert alone.lays == plain.lays
    assert not any(IN_A_ROW in said for said in alone.choices)


def test_past_flaws_each_goes_on_where_the_one_before_ended() -> None:
    case = company(2, hem="own hem")
    cloth = case.cloths["main"]
    flawed = replace(cloth, flaws=(Rect(120 * CM, 20 * CM, 126 * CM, 50 * CM),))
    cloths = {"main": flawed}
    orders = tuple(replace(order, cloths=cloths) for order in case.orders)
    record = plan(replace(case, cloths=cloths, orders=orders))
    assert record.lays[0].length <= one_by_one_length(record)


def test_a_remnant_that_holds_the_single_lays_holds_the_company(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def solve(cloth: Cloth, pieces: tuple[Piece, ...], **options: Any) -> Lay:
        if several(pieces):
            raise CannotLay("no lay was found")
        return solver.solve(cloth, pieces, **options)

    monkeypatch.setattr("marker.decide.desk.solve", solve)
    text = company_text(2, cloth='width = "150 cm"\nlength = "11 m"')
    record = plan(parse(text, "a.toml"))
    assert record.lays[0].length == one_by_one_length(record)
    assert "they would use" in record.choices[0] and "EUR" not in record.choices[0]
    short = text.replace("11 m", "6 m")
    with pytest.raises(CannotLay, match="no lay was found"):
        plan(parse(short, "a.toml"))


@pytest.mark.usefixtures("clumsy")
def test_a_mixture_of_ways_that_suits_each_alone_is_tried_together() -> None:
    either = company_text(5, hem="own hem").replace(
        'width = "full"', 'width = "full"\nlie = "either"'
    )
    either = either.replace('width = "74 cm"', 'width = "74 cm"\nlie = "either"')
    case = parse(either, "a.toml")
    record = plan(case)
    assert 2 ** len(case.orders) > MOST_WAYS
    assert record.lays[0].length == one_by_one_length(record)


def test_too_little_time_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("marker.decide.company.LATEST", -1.0)
    record = decide.plan(company(2, hem="own hem"), seconds=1.0)
    assert record.alone == () and record.choices[-1] == UNTOLD


def test_one_wearer_saves_nothing_and_is_told_nothing() -> None:
    record = plan(company(1))
    assert record.alone == () and record.choices == () and "saved" not in summary(record, ())


def test_wearers_of_different_cloths_share_none() -> None:
    other = '[cloth.lawn]\nwidth = "140 cm"\n'
    case = parse(company_text(2) + other, "a.toml")
    apart = changed(case, {("garment", "round", "cloth"): "lawn",
                           ("garment", "walking", "cloth"): "main"})  # fmt: skip
    assert plan(apart).alone == ()


def test_what_is_for_nobody_counts_and_is_called_so() -> None:
    bag = '[piece.bag]\nname = "bag"\nlength = "30 cm"\nbreadth = "20 cm"\n'
    record = plan(parse(company_text(2, hem="own hem") + bag, "a.toml"))
    assert "the pieces of 2 wearers and those for nobody in particular take" in record.choices[0]


def test_by_count_any_number_of_cores_gives_the_same_record(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    found = []
    for many in (1, 3):
        monkeypatch.setattr("marker.decide.abreast.cores", lambda many=many: many)
        found.append(plan(company(3, hem="own hem")))
    assert found[0] == found[1]


def test_single_lays_that_are_not_proved_are_told_with_their_bound(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def solve(cloth: Cloth, pieces: tuple[Piece, ...], **options: Any) -> Lay:
        lay = solver.solve(cloth, pieces, **options)
        return lay if several(pieces) else replace(lay, bound=lay.length // 2, proof=Proof.OPEN)

    monkeypatch.setattr("marker.decide.desk.solve", solve)
    record = decide.plan(company(2), iterations=ROUNDS)
    least = sum(record.lays[0].cloth.buy(one.bound) for one in record.alone)
    shown = format_bought(least, record.units)
    assert f"(not all are proved shortest; {shown} at least)" in record.choices[0]


RECORD = plan(company(2, hem="own hem"))
ONE = RECORD.alone[0]


def claimed(letter: str, length: int) -> Alone:
    """A wearer who is said to take so much alone, whatever she does."""
    return Alone(letter, "main", length, 1, RECORD.lays[0].cloth.buy(length))


# A little shorter than the company's lay in all, though as much is bought.
SHORTER = claimed("A", RECORD.lays[0].length - 2 * CM), claimed("B", CM)


@pytest.mark.parametrize(
    ("alone", "fault"),
    [
        ((ONE, ONE), "is told twice."),
        ((replace(ONE, cloth="lawn"),), "has no such cloth."),
        ((replace(ONE, bound=ONE.length + 1),), "is no bound of it."),
        ((replace(ONE, length=ONE.length + ONE.buy),), "is bought, not"),
        ((replace(ONE, bound=0.5),), "isn't told in whole numbers"),
        ((ONE,), "more than the wearers' lays one behind the other"),
        (SHORTER, "more than the wearers' lays one behind the other"),
    ],
)
def test_the_referee_judges_what_is_told_of_wearers_alone(
    alone: tuple[Alone, ...], fault: str
) -> None:
    faults = referee.check_record(replace(RECORD, alone=alone))
    assert any(fault in told for told in faults)


@pytest.mark.slow
def test_what_is_saved_is_told_where_time_for_single_lays_ran_out_at_once(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("marker.decide.company.LATER", 0.0)
    monkeypatch.setattr("marker.decide.company.LATEST", 100.0)  # however busy the machine is
    record = decide.plan(company(12, seed=1, hem="own hem"), seconds=2)
    assert UNTOLD not in record.choices
    assert any("laid each alone and bought one by one" in said for said in record.choices)
    assert len(record.alone) == 12
