"""Every figure of the printed sheet of every demo case, read back from its PDF, equals the lay."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from sheet_cards import card_faults
from sheet_judge import judge
from sheet_known import unexplained, unexplained_before
from sheet_lengths import STEP, UNITS, counted, value
from sheet_sums import Judge
from sheet_text import IDS, NUMBER, Sheet, Told, figures, pages, sheet_of, steps

import marker
from marker.plan.drawing.page import Paper
from marker.plan.sheet.setting import compile_sheet
from marker.record import Record
from marker.units import MM

OUT = Path(__file__).parents[1] / "out"
STORED = sorted(path.parent.name for path in OUT.glob("*/lay.json"))
EVERY = pytest.mark.parametrize(
    "name",
    [
        name if at % 2 else pytest.param(name, marks=pytest.mark.slow)
        for at, name in enumerate(STORED)
    ],
)
"""All demo cases, half of them by the slow tests."""
CHANGED = ("faced-skirt", "flawed-bolt", "half-circle-skirt", "village-company")


def record_of(name: str) -> Record:
    return marker.load_record(OUT / name / "lay.json")


def printed(record: Record, name: str) -> bytes:
    """The sheet, with the drawings that the gallery keeps of this record."""
    plans = {
        lay.cloth.key: (OUT / name / f"plan-{lay.cloth.key}.svg").read_text(encoding="utf-8")
        for lay in record.lays
    }
    return compile_sheet(record, plans, Paper.A4)


@cache
def told(name: str) -> list[str]:
    return pages(printed(record_of(name), name))


@cache
def read(name: str) -> Sheet:
    return sheet_of(told(name))


@EVERY
def test_every_figure_of_the_sheet_equals_the_lay(name: str) -> None:
    assert judge(record_of(name), read(name)) == []


@EVERY
def test_no_figure_of_the_sheet_is_of_a_kind_unknown(name: str) -> None:
    record, sheet = record_of(name), read(name)
    found = list(unexplained_before(record, sheet.front))
    for lay, cloth in zip(record.lays, sheet.cloths, strict=True):
        found += unexplained(record, lay, cloth.plan, cloth.words)
    assert found == []


@EVERY
def test_every_figure_of_the_cards_equals_the_pieces(name: str) -> None:
    assert card_faults(record_of(name), read(name).cards) == []


@EVERY
def test_no_page_of_the_sheet_holds_a_plain_fraction(name: str) -> None:
    assert [line for page in told(name) for line in re.findall(r".*\d ?/ ?\d.*", page)] == []


@pytest.mark.slow
def test_both_readers_of_pdf_find_the_same_figures() -> None:
    pdf = printed(record_of("faced-skirt"), "faced-skirt")
    assert judge(record_of("faced-skirt"), sheet_of(pages(pdf, "pypdf"))) == []
    ours, theirs = (figures(" ".join(pages(pdf, tool))) for tool in ("pypdf", ""))
    # One reader parts the two digits of a number that stands turned.
    assert sorted("".join(ours)) == sorted("".join(theirs))


# --- what is wrong is seen ----------------------------------------------------------------------


def altered(told: list[Told], system: str) -> list[list[Told]]:
    """The steps with one figure a millimetre, or an eighth, too great: each figure in turn."""
    found = []
    for at, step in enumerate(told):
        plain = IDS.sub(lambda name: "#" * len(name[0]), step.text)
        for match in NUMBER.finditer(plain):
            more = counted(int(value(match[0], UNITS[system]) // STEP[system]) + 1, system)
            text = step.text[: match.start()] + more + step.text[match.end() :]
            found.append([*told[:at], replace(step, text=text), *told[at + 1 :]])
    return found


@pytest.mark.parametrize("name", CHANGED)
def test_any_figure_in_the_steps_off_by_the_least_is_seen(name: str) -> None:
    record = record_of(name)
    for lay, cloth in zip(record.lays, read(name).cloths, strict=True):
        wrong = altered(steps(cloth.words), record.units.lead.value)
        assert len(wrong) >= 10
        for told in wrong:
            one = Judge(record, lay)
            one.steps(told)
            assert one.found, told


def moved(record: Record) -> Record:
    """The record with its second tear a millimetre further on."""
    lay = record.lays[0]
    tears = list(lay.tears)
    tears[1] = replace(tears[1], at=tears[1].at + MM)
    return replace(record, lays=(replace(lay, tears=tuple(tears)), *record.lays[1:]))


def swapped(record: Record) -> Record:
    """The record with its last piece as broad as it was long."""
    lay = record.lays[0]
    last = lay.pieces[-1]
    pieces = (*lay.pieces[:-1], replace(last, length=last.breadth, breadth=last.length))
    return replace(record, lays=(replace(lay, pieces=pieces), *record.lays[1:]))


def longer(record: Record) -> Record:
    """The record with a lay that takes 1 mm more."""
    lay = record.lays[0]
    return replace(record, lays=(replace(lay, length=lay.length + MM), *record.lays[1:]))


def one_more(record: Record) -> Record:
    """The record with one more copy of its last piece in the list."""
    lay = record.lays[0]
    pieces = (*lay.pieces[:-1], replace(lay.pieces[-1], count=lay.pieces[-1].count + 1))
    return replace(record, lays=(replace(lay, pieces=pieces), *record.lays[1:]))


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        (moved, "step 2, tear 2, should tell 95.1 cm"),
        (swapped, "the list of pieces lacks B, 1 × 8 × 79.5 cm"),
        (longer, "'Exact need 203.1 cm' is not told"),
        (one_more, "the list of pieces lacks B, 2 × 79.5 × 8 cm"),
    ],
)
def test_a_record_that_differs_from_the_print_is_seen(
    wrong: Callable[[Record], Record], said: str
) -> None:
    found = judge(wrong(record_of("flawed-bolt")), read("flawed-bolt"))
    assert any(said in one for one in found), found


def test_a_wrong_sum_size_or_purchase_is_seen() -> None:
    record, sheet = record_of("flawed-bolt"), read("flawed-bolt")
    cloth = sheet.cloths[0]
    for old, new, said in (
        ("95 + 8 + 3 waste", "95 + 9 + 3 waste", "check sum"),
        ("7 cm left, 210", "8 cm left, 210", "should leave 7 cm"),
        ("Buy 2.10 m", "Buy 2.00 m", "'Buy 2.10 m' is not told"),
    ):
        assert old in cloth.words
        words = cloth.words.replace(old, new)
        found = judge(record, replace(sheet, cloths=(replace(cloth, words=words),)))
        assert any(said in one for one in found), found
    plan = re.sub(r"95 × 66 cm", "95 × 67 cm", cloth.plan, count=1)
    found = judge(record, replace(sheet, cloths=(replace(cloth, plan=plan),)))
    assert any("95 × 67 cm, which nothing has" in one for one in found), found
    strange = cloth.words.replace(
        "Check sum along the bolt", "17.3 cm over\nCheck sum along the bolt"
    )
    assert list(unexplained(record, record.lays[0], cloth.plan, strange))


def marked(record: Record) -> Record:
    """The record with one mark of its first piece a millimetre further in."""
    lay = record.lays[0]
    first = lay.pieces[0]
    at = next(n for n, mark in enumerate(first.marks) if mark.u0 == mark.u1)
    mark = first.marks[at]
    marks = list(first.marks)
    marks[at] = replace(mark, u0=mark.u0 + MM, u1=mark.u1 + MM)
    pieces = (replace(first, marks=tuple(marks)), *lay.pieces[1:])
    return replace(record, lays=(replace(lay, pieces=pieces), *record.lays[1:]))


def test_cards_that_differ_from_the_pieces_are_seen() -> None:
    record, cards = record_of("flawed-bolt"), read("flawed-bolt").cards
    for wrong, said in ((marked, "should tell"), (swapped, "cut 8 × 79.5"), (one_more, "cuts 1")):
        assert any(said in one for one in card_faults(wrong(record), cards))
    for old, new, said in (
        ("cut 95 × 66 cm", "cut 95 × 66.1 cm", "should be cut 95 × 66 cm"),
        ("\nhem line\n", "\n17.3\nhem line\n", "tells '17.3'"),
        ("\nB band", "\nQ band", "names ['Q']"),
    ):
        assert old in cards
        found = card_faults(record, cards.replace(old, new, 1))
        assert any(said in one for one in found), found
