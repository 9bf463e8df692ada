"""A slip for each wearer, to cut apart: her pieces, finished measures, notions, no one else's."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from io import BytesIO
from itertools import groupby

import pytest
from company_cases import company, company_text
from pypdf import PdfReader

from marker.casefile import parse
from marker.decide import draft
from marker.decide.ways import by_cloth, initials, pieces_of
from marker.plan.drawing.page import Paper
from marker.plan.sheet.setting import compile_sheet
from marker.plan.sheet.slips import slips_data
from marker.record import Alone, Notion, Record
from marker.solver import solve
from marker.solver.joined import joined

BAG = '[piece.bag]\nname = "bag"\nlength = "30 cm"\nbreadth = "20.05 cm"\n'


@cache
def record_of(text: str) -> Record:
    """Every wearer's pieces laid alone, one wearer behind the other."""
    case = parse(text, "a.toml")
    way = tuple(options[0] for options in draft(case))
    (pieces,) = by_cloth(case.cloths, pieces_of(way), initials(case)).values()
    cloth = case.cloths["main"]
    each = [
        solve(cloth, tuple(own), iterations=1)
        for _, own in groupby(sorted(pieces, key=lambda p: p.letter[0]), key=lambda p: p.letter[0])
    ]
    lay = joined(cloth, each) if len(each) > 1 else each[0]
    return Record(case.title, case.units, tuple(chosen.garment for chosen in way), (lay,))


def pages_of(record: Record, paper: Paper = Paper.A4) -> list[str]:
    """The words of the sheet's pages; in place of the plans stand blank pages."""
    across, down = paper.size
    blank = f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {across} {down}"></svg>'
    plans = {lay.cloth.key: blank for lay in record.lays}
    reader = PdfReader(BytesIO(compile_sheet(record, plans, paper)))
    return [page.extract_text() for page in reader.pages]


def test_every_wearer_has_her_own_pieces_and_no_others() -> None:
    record = record_of(company_text(3))
    slips = slips_data(record)
    assert [(slip["letter"], slip["name"]) for slip in slips] == [
        ("A", "Ada"), ("B", "Bea"), ("C", "Cora"),
    ]  # fmt: skip
    told = [
        (slip["letter"], row["letter"], row["count"])
        for slip in slips
        for part in slip["garments"]
        for row in part["pieces"]
    ]
    pieces = record.lays[0].pieces
    assert sorted(told) == sorted((p.letter[0], p.letter, str(p.count)) for p in pieces)
    assert [slip["count"] for slip in slips] == [
        sum(p.count for p in pieces if p.letter[0] == slip["letter"]) for slip in slips
    ]


def test_a_slip_tells_finished_measures_and_what_else_is_to_be_had() -> None:
    record = record_of(company_text(2))
    tape = Notion("waist tape", 16000)
    garments = tuple(replace(garment, notions=(tape,)) for garment in record.garments)
    (part,) = slips_data(replace(record, garments=garments))[0]["garments"]
    facts = dict(part["facts"])
    assert {"round the hem", "drawn up to", "opening", "cut length of a panel"} <= facts.keys()
    assert [turn["place"] for turn in part["turns"]] == ["front", "side", "back"]
    assert part["notions"] == [{"name": "waist tape", "length": "10 cm"}]
    assert {row["cloth"] for row in part["pieces"]} == {"Madder linen"}


def test_what_she_would_take_alone_is_on_her_slip() -> None:
    record = record_of(company_text(2))
    alone = (Alone("A", "main", 480000, 480000, 496000), Alone("B", "main", 480000, 480000, 512000))
    slips = slips_data(replace(record, alone=alone))
    assert slips[0]["alone"] == "Laid alone, these pieces would take 3.10 m of Madder linen."
    assert "3.20 m" in slips[1]["alone"]


def test_nobodys_pieces_have_a_slip_and_rounded_figures_are_explained_on_it() -> None:
    slips = slips_data(record_of(company_text(2) + BAG))
    assert slips[2]["name"] == "Nobody in particular" and slips[2]["rounded"]
    assert slips[2]["number"] == "1 piece" and not slips[0]["rounded"]


def test_one_wearer_needs_no_slip() -> None:
    record = record_of(company_text(1))
    assert slips_data(record) == []
    assert not any("Slips for the wearers" in page for page in pages_of(record))


@pytest.mark.parametrize("paper", Paper, ids=lambda paper: paper.value)
@pytest.mark.slow
def test_slips_stand_several_to_a_page_at_the_end(paper: Paper) -> None:
    record = record_of(company_text(5))
    pages = pages_of(record, paper)
    slips = [page for page in pages if "Slips for the wearers" in page]
    assert pages[-len(slips) :] == slips and len(slips) <= 3
    for name in ("Ada", "Bea", "Cora", "Dorrit", "Elke"):
        assert sum(name in page for page in slips) == 1
    assert "Each has a slip at the end" in pages[0]


@pytest.mark.slow
def test_a_slip_longer_than_a_page_names_its_wearer_on_every_part() -> None:
    record = record_of(company_text(2))
    first = record.garments[0]
    advice = tuple(f"Heed number {number}, which is a sentence of its own." for number in range(90))
    long = replace(record, garments=(replace(first, advice=advice), *record.garments[1:]))
    pages = [page for page in pages_of(long) if "Heed number" in page]
    assert sum(page.count("Ada") for page in pages) >= 2
    assert all(any(f"Heed number {at}," in page for page in pages) for at in range(90))
    assert company(2).title == record.title
