"""Letters and numbers on the plan tell whose piece is whose."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from company_cases import company, company_text
from example_cases import case_of

from marker import referee
from marker.casefile import parse
from marker.decide import draft
from marker.decide.ways import by_cloth, initials, pieces_of
from marker.piece import Piece
from marker.plan.lays.notes import notes
from marker.plan.words.runs import join_ids
from marker.plan.words.whose import company as is_company
from marker.plan.words.whose import initial, wearers, wearers_on
from marker.record import Record
from marker.solver import solve

OWN = '[piece.bag]\nname = "bag"\nlength = "30 cm"\nbreadth = "20 cm"\ncloth = "main"\n'


def lettered(text: str) -> list[Piece]:
    case = parse(text, "a.toml")
    way = tuple(options[0] for options in draft(case))
    found = by_cloth(case.cloths, pieces_of(way), initials(case))
    return [piece for pieces in found.values() for piece in pieces]


def record_of(text: str) -> Record:
    case = parse(text, "a.toml")
    pieces = tuple(lettered(text))
    lay = solve(case.cloths["main"], pieces, iterations=1)
    garments = tuple(options[0].garment for options in draft(case))
    return Record(case.title, case.units, garments, (lay,))


def test_each_wearer_has_a_letter_and_her_pieces_numbers() -> None:
    pieces = lettered(company_text(3))
    assert [piece.letter for piece in pieces] == [
        *("A1", "A2", "A3", "A4"), *("B1", "B2", "B3", "B4"), *("C1", "C2", "C3", "C4"),
    ]  # fmt: skip
    assert [piece.wearer for piece in pieces] == ["Ada"] * 4 + ["Bea"] * 4 + ["Cora"] * 4


def test_letters_follow_the_list_of_wearers_not_the_garments() -> None:
    text = company_text(4)
    first, second = text.index("[garment.round]"), text.index("[garment.walking]")
    turned = text[:first] + text[second:] + text[first:second]
    whose = {piece.wearer: initial(piece.letter) for piece in lettered(turned)}
    assert whose == {"Ada": "A", "Bea": "B", "Cora": "C", "Dorrit": "D"}


def test_wearers_past_the_alphabet_get_two_letters() -> None:
    whose = dict.fromkeys(initial(piece.letter) for piece in lettered(company_text(28)))
    assert list(whose)[24:] == ["Y", "Z", "AA", "AB"]


def test_what_is_for_nobody_has_a_letter_too() -> None:
    (own,) = [piece for piece in lettered(company_text(2) + OWN) if not piece.wearer]
    assert own.letter == "C1"


@pytest.mark.parametrize("more", ["", OWN], ids=["alone", "with a bag"])
def test_with_one_wearer_letters_stay_as_they_are(more: str) -> None:
    letters = [piece.letter for piece in lettered(company_text(1) + more)]
    assert letters == ["A", "B", "C", "D", "E"][: len(letters)]
    assert initials(case_of("cm")) == {}


def test_a_wearer_for_whom_nothing_is_made_takes_no_letter() -> None:
    idle = '[wearer.zoe]\nname = "Zoe"\nwaist = "70 cm"\nlength = "90 cm"\n'
    text = company_text(2).replace("[wearer.ada]", idle + "[wearer.ada]")
    assert initials(parse(text, "a.toml")) == {"round-ada": "A", "walking-bea": "B"}


def test_the_plan_says_who_is_who() -> None:
    record = record_of(company_text(2) + OWN)
    told = notes(record, record.lays[0], 20, frozenset()).wearers
    assert told == "A\xa0Ada, B\xa0Bea, C\xa0nobody in particular"
    assert wearers_on(record, record.lays[0]) == wearers(record)


def test_letters_of_one_wearer_name_nobody() -> None:
    record = record_of(company_text(1))
    assert wearers(record) == {} and not is_company(record)
    assert notes(record, record.lays[0], 20, frozenset()).wearers == ""


def test_the_referee_tells_a_piece_under_another_wearers_letter() -> None:
    record = record_of(company_text(2))
    assert referee.check_record(record) == ()
    (lay,) = record.lays
    pieces = tuple(replace(p, wearer="Bea") if p.letter == "A2" else p for p in lay.pieces)
    faults = referee.check_record(replace(record, lays=(replace(lay, pieces=pieces),)))
    assert faults == ("Piece A2 is for Bea, but others of the letter A are for Ada.",)


def test_ids_stand_in_the_order_of_wearers_then_numbers() -> None:
    ids = [("B1", 1), ("A10", 1), ("A2", 2), ("A2", 1), ("AA1", 1), ("A2", 3)]
    assert join_ids(ids) == ["A2-1 to A2-3", "A10-1", "B1-1", "AA1-1"]


def test_every_copy_is_named_on_the_plan() -> None:
    from marker.plan.drawing.page import Paper
    from marker.plan.lays.svg import draw

    record = record_of(company_text(2))
    svg = draw(record, record.lays[0], Paper.A4)
    ids = {spot.id for spot in record.lays[0].placements}
    assert ids <= set(re.findall(r'id="([A-Z]+\d+-\d+)"', svg))
    assert referee.check_drawing(svg, record.lays[0]) == ()
    assert company(2).title == record.title
