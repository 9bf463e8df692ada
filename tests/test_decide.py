"""Planning a case: letters, ways compared, choices told, and check values of the trade."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from importlib import import_module
from pathlib import Path
from typing import Any

import pytest
from example_cases import case_of, text_of
from example_lays import in_drops

from marker import referee
from marker.casefile import Case, parse, read
from marker.cloth import Cloth
from marker.decide import draft, plan
from marker.decide.ways import MOST_WAYS, letter
from marker.errors import BadInput, CannotLay, Refused
from marker.lay import Lay, Proof
from marker.piece import Grain, Piece
from marker.record import Record, dump
from marker.units import CM, format_bought
from marker.units import parse as length

CASES = sorted((Path(__file__).parents[1] / "cases").glob("*.toml"))
EITHER = 'count = 3\nlie = "either"'


def one_by_one(cloth: Cloth, pieces: tuple[Piece, ...], **_: Any) -> Lay:
    """A lay that needs no search: every copy in a drop of its own, its least turn that fits."""
    usable = cloth.usable.across
    drops = []
    for piece in pieces:
        sizes = {0: (piece.length, piece.breadth), 90: (piece.breadth, piece.length)}
        fit = [t for t in piece.turns(cloth.one_way) if sizes[t][1] <= usable]
        turn = min(fit, key=lambda t: sizes[t][0])
        drops += [(sizes[turn][0], [(piece.letter, turn, 1)])] * piece.count
    return in_drops(cloth, pieces, drops)


@pytest.fixture
def simple(monkeypatch: pytest.MonkeyPatch) -> list[dict[str, Any]]:
    """Lay one by one instead of searching; gives what each solve was asked."""
    asked: list[dict[str, Any]] = []

    def solve(cloth: Cloth, pieces: tuple[Piece, ...], **options: Any) -> Lay:
        asked.append({"cloth": cloth, "pieces": pieces, **options})
        return one_by_one(cloth, pieces)

    monkeypatch.setattr("marker.decide.desk.solve", solve)
    return asked


def lay_of(record: Record, key: str = "main") -> Lay:
    (found,) = [lay for lay in record.lays if lay.cloth.key == key]
    return found


# --- strips and several cloths ----------------------------------------------------------------


@pytest.mark.slow
def test_what_a_free_strip_is_tied_to_is_cut_once() -> None:
    more = '[garment.skirt.facing]\nstrips = "free"\n'
    record = plan(case_of("cm", more), iterations=3)
    names = [piece.name for piece in lay_of(record).pieces]
    assert names.count("panel") == names.count("band") == 1
    assert referee.check_record(record) == ()


# --- letters and drafts -------------------------------------------------------------------


def test_letters_go_on_after_z() -> None:
    assert [letter(i) for i in (0, 1, 25, 26, 27, 51, 52, 701, 702)] == [
        "A", "B", "Z", "AA", "AB", "AZ", "BA", "ZZ", "AAA",
    ]  # fmt: skip


@pytest.mark.usefixtures("simple")
def test_letters_run_through_the_whole_case() -> None:
    more = '[garment.skirt.facing]\ncloth = "lawn"\n[cloth.lawn]\nwidth = "36 in"\n'
    case = parse(
        text_of("in", more, garment='wearers = ["ada", "bea"]')
        + '[wearer.bea]\nwaist = "26 in"\nlength = "39 in"\n',
        "a.toml",
    )
    record = plan(case)
    letters = {lay.cloth.key: [piece.letter for piece in lay.pieces] for lay in record.lays}
    # panel, facing, band of the one, then of the other: alike, yet each with its own letter
    assert letters == {"main": ["A1", "A3", "B1", "B3"], "lawn": ["A2", "B2"]}
    assert [garment.key for garment in record.garments] == ["skirt-ada", "skirt-bea"]


def test_every_order_is_drafted_in_every_way() -> None:
    drafts = draft(case_of("cm", panels=EITHER))
    assert [[d.way for d in options] for options in drafts] == [
        ["panels along the bolt", "panels railroaded"]
    ]


# --- choosing -----------------------------------------------------------------------------


@pytest.mark.usefixtures("simple")
def test_the_way_that_buys_less_is_taken_and_told() -> None:
    # one by one: three panels of 108 cm and a 7.5 cm band, or one railroaded piece of
    # 3 x (112 - 2.5) + 2.5 = 331 cm and the band
    record = plan(case_of("cm", panels=EITHER))
    assert lay_of(record).length == length("331.5 cm")
    assert record.choices == (
        "Panels along the bolt: 3.40 m to buy either way, "
        "and 331.5 cm used against 338.5 cm with panels railroaded.",
    )
    record = plan(case_of("cm", panels='round = "2.25 m"\nlie = "either"'))
    assert lay_of(record).length == length("235 cm")
    assert record.choices == (
        "Panels railroaded: 2.40 m to buy against 3.40 m with panels along the bolt.",
    )
    assert record.garments[0].panels == 1


@pytest.mark.usefixtures("simple")
def test_a_tie_in_length_goes_to_the_fewer_tears() -> None:
    record = plan(case_of("cm", panels='round = "3.215 m"\nlie = "either"'))
    assert record.garments[0].panels == 1
    assert record.choices == (
        "Panels railroaded or panels along the bolt: 3.40 m to buy either way, "
        "and the same length is used; the first is kept for its fewer tears.",
    )


@pytest.mark.usefixtures("simple")
def test_a_stop_is_told_where_ways_are_compared(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(import_module("marker.decide.choices"), "asked", lambda: True)
    told = "The search was stopped: these ways are compared as far as they had been searched."
    assert plan(case_of("cm", panels=EITHER)).choices[-1] == told
    assert told not in plan(case_of("cm")).choices


def test_each_garment_is_chosen_for_itself(simple: list[dict[str, Any]]) -> None:
    text = text_of("cm", garment='name = "Skirt"', panels='round = "2.25 m"\nlie = "either"')
    more = (
        '[garment.coat]\nname = "Coat skirt"\n'
        'panels = { count = 3, lie = "either" }\ntake_up = "2 cm"\n'
    )
    record = plan(parse(text + more, "a.toml"))
    assert [garment.panels for garment in record.garments] == [1, 3]
    assert [said.split(":")[0] for said in record.choices] == [
        "Skirt for ada",
        "Coat skirt for ada",
    ]
    assert len(simple) == 4


def test_the_same_pieces_are_laid_once(simple: list[dict[str, Any]]) -> None:
    more = '[garment.skirt.facing]\ncloth = "lawn"\n[cloth.lawn]\nwidth = "90 cm"\n'
    plan(case_of("cm", more, panels=EITHER))
    assert [asked["cloth"].key for asked in simple] == ["main", "lawn", "main"]


def test_many_garments_are_compared_one_at_a_time(simple: list[dict[str, Any]]) -> None:
    wearers = [f"w{index}" for index in range(8)]
    tables = "".join(f'[wearer.{w}]\nwaist = "66 cm"\nlength = "100 cm"\n' for w in wearers)
    named = ", ".join(f'"{wearer}"' for wearer in wearers)
    panels = 'round = "3.10 m"\nlie = "either"'
    text = text_of("cm", tables, garment=f"wearers = [{named}]", panels=panels)
    record = plan(parse(text, "a.toml"))
    assert len(simple) == 10 <= MOST_WAYS  # all along, all railroaded, each one by itself
    assert record.choices == (
        "Of 10 ways to cut the garments this one takes 25.60 m, the next best 27.00 m; "
        "other mixtures were not tried.",
        "Laid together, the pieces of 8 wearers take 25.60 m to buy; laid each alone and bought "
        "one by one, 25.60 m: nothing is saved.",
    )


@pytest.mark.usefixtures("simple")
def test_cloth_that_nothing_is_cut_from_is_told() -> None:
    record = plan(case_of("cm", '[cloth.spare]\nname = "Red lawn"\nwidth = "90 cm"\n'))
    assert record.choices == ("No piece is cut from Red lawn.",)
    assert [lay.cloth.key for lay in record.lays] == ["main"]


# --- what the solver is asked, and what it may answer -------------------------------------


def test_time_is_for_each_cloth_and_shared_by_its_ways(
    simple: list[dict[str, Any]], monkeypatch: pytest.MonkeyPatch
) -> None:
    def told(best: int, bound: int) -> None: ...

    more = '[garment.skirt.facing]\ncloth = "lawn"\n[cloth.lawn]\nwidth = "90 cm"\n'
    case = case_of("cm", more, panels=EITHER)
    monkeypatch.setattr("marker.decide.desk.monotonic", lambda: 0.0)  # as if it took no time
    plan(case, seconds=8, seed=5, iterations=7, progress=told)
    spent = {asked["cloth"].key: asked["seconds"] for asked in simple[:2]}
    assert spent == {"main": 4, "lawn": 8}
    assert simple[2]["seconds"] == 8
    assert {(a["seed"], a["iterations"], a["progress"]) for a in simple} == {(5, 7, told)}


def fails_for(grain: Grain, error: Exception) -> Callable[..., Lay]:
    def solve(cloth: Cloth, pieces: tuple[Piece, ...], **_: Any) -> Lay:
        if any(piece.name == "panel" and piece.grain is grain for piece in pieces):
            raise error
        return one_by_one(cloth, pieces)

    return solve


def test_a_way_that_can_not_be_laid_is_left(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("marker.decide.desk.solve", fails_for(Grain.ALONG, CannotLay("no lay")))
    record = plan(case_of("cm", panels=EITHER))
    assert record.garments[0].panels == 1


@pytest.mark.parametrize("kind", [CannotLay, BadInput])
def test_where_none_can_be_laid_the_file_is_named(
    monkeypatch: pytest.MonkeyPatch, kind: type[Exception]
) -> None:
    monkeypatch.setattr("marker.decide.desk.solve", fails_for(Grain.ALONG, kind("no lay of it")))
    with pytest.raises(kind) as raised:
        plan(case_of("cm"))
    assert str(raised.value) == "a.toml: no lay of it"


def test_nothing_leaves_unjudged(monkeypatch: pytest.MonkeyPatch) -> None:
    def solve(cloth: Cloth, pieces: tuple[Piece, ...], **_: Any) -> Lay:
        lay = one_by_one(cloth, pieces)
        moved = replace(lay.placements[0], x=lay.placements[0].x + CM)
        return replace(lay, placements=(moved, *lay.placements[1:]))

    monkeypatch.setattr("marker.decide.desk.solve", solve)
    with pytest.raises(Refused):
        plan(case_of("cm"))


def test_over_a_thousand_pieces_are_refused(simple: list[dict[str, Any]]) -> None:
    with pytest.raises(BadInput) as raised:
        plan(case_of("cm", panels="count = 1000"))
    assert str(raised.value) == (
        "a.toml: the garments take 1001 pieces, and 1000 are the most; "
        "split the case into several files"
    )
    assert not simple


# --- with the true solver -------------------------------------------------------------------


def planned(case: Case) -> Record:
    """A plan that ends by count, not by the clock, so that every machine makes the same.

    Few steps where outlines are nested: each tries many places.
    """
    drafts = [option for options in draft(case) for option in options]
    nested = any(piece.outline for option in drafts for piece in option.pieces)
    return plan(case, seconds=60, iterations=2 if nested else 40)


@pytest.mark.parametrize(
    ("units", "panels", "cloth", "used", "buy"),
    [
        # a band torn across the cloth of the panels: common practice, no source
        ("in", "count = 3", 'width = "45 in"\nselvedge = "1/2 in"', "130 1/2 in", "3 5/8 yd"),
        ("cm", "count = 3", 'width = "114 cm"\nselvedge = "1 cm"', "331.5 cm", "3.40 m"),
        ("in", "count = 2", 'width = "54 in"', "88 in", "2 1/2 yd"),
        ("cm", "count = 2", 'width = "137 cm"', "223.5 cm", "2.30 m"),
    ],
)
def test_full_breadths_and_a_band_are_proved(
    units: str, panels: str, cloth: str, used: str, buy: str
) -> None:
    record = planned(case_of(units, panels=panels, cloth=cloth))
    lay = lay_of(record)
    assert (lay.length, lay.bound, lay.proof) == (length(used), length(used), Proof.LENGTH)
    assert format_bought(lay.buy, record.units) == buy


def test_three_panels_alone_are_just_over_what_is_often_advised() -> None:
    # 127 1/2 in: 3 1/2 yd is 1 1/2 in short (common practice, no source)
    record = planned(case_of("in", "[garment.skirt.tape]\n", band=""))
    assert lay_of(record).length == length("127 1/2 in")
    assert format_bought(lay_of(record).buy, record.units) == "3 5/8 yd"


def test_the_same_case_gives_the_same_record() -> None:
    case = read(CASES[0])
    assert dump(planned(case)) == dump(planned(case))
