"""The referee judges whole records: each lay, and what must agree between them."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from lays import GOOD, nap, record, skirt, squared

from marker.record import Item, Record, TurnDown, dump, parse
from marker.referee import check_record
from marker.units import CM, MM


def retold(at: int, **changes: Any) -> Record:
    """The record with one garment told otherwise."""
    good = record()
    garments = list(good.garments)
    garments[at] = replace(garments[at], **changes)
    return replace(good, garments=tuple(garments))


def relaid(at: int, /, **changes: Any) -> Record:
    """The record with the first lay's piece told otherwise; its lay then has faults too."""
    good = record()
    lay = good.lays[0]
    pieces = list(lay.pieces)
    pieces[at] = replace(pieces[at], **changes)
    return replace(good, lays=(replace(lay, pieces=tuple(pieces)), *good.lays[1:]))


def test_a_good_record_passes_and_so_does_its_text() -> None:
    assert check_record(record()) == ()
    assert check_record(parse(dump(record()), "lay.json")) == ()


def test_every_good_lay_passes_in_a_record() -> None:
    lays = tuple(make() for make in GOOD.values())
    assert check_record(replace(record(), lays=lays)) == ()


def test_the_bounds_of_a_garment_are_allowed() -> None:
    edge = (TurnDown("front", 102 * CM, 6 * CM), TurnDown("back", 108 * CM, 0))
    for good in (
        retold(0, turn_downs=edge),
        retold(0, drawn=330 * CM),
        retold(0, round_hem=336 * CM),
        retold(0, round_hem=168 * CM),
        retold(0, drawn=0),
    ):
        assert check_record(good) == ()


BROKEN: list[tuple[str, Record, str]] = [
    ("no title", replace(record(), title=" "), "The record has no title."),
    ("no lay", replace(record(), lays=()), "The record has no lay."),
    ("a cloth twice", replace(record(), lays=(nap(), nap())),
     "The cloth velvet stands 2 times in the record."),
    ("a letter on two cloths", replace(record(), lays=(nap(), nap())),
     "The letter E is used on cloths velvet and velvet."),
    ("a garment twice", replace(record(), garments=record().garments[:1] * 2),
     "The garment skirt stands 2 times in the record."),
    ("a lay's own fault", replace(record(), lays=(skirt(), replace(squared(), bound=0))),
     "Cloth lining: The bound is 0 mm; it must be more than nothing."),
    ("a garment missing", replace(record(), garments=record().garments[:1]),
     "Piece C is for garment petticoat, which the record doesn't have."),
    ("no panels", retold(0, panels=0), "Garment skirt: Its panels is 0."),
    ("no cut length", retold(1, cut_length=0), "Garment petticoat: Its cut length is 0 mm."),
    ("no hem", retold(1, round_hem=-1), "Garment petticoat: Its round hem is -0.00625 mm."),
    ("drawn out, not up", retold(1, drawn=87 * CM),
     "Garment petticoat: A round hem of 860 mm can't be drawn into 870 mm."),
    ("an opening too long", retold(1, opening=90 * CM),
     "Garment petticoat: An opening of 900 mm doesn't fit a cut length of 900 mm."),
    ("an empty notion", retold(1, notions=(Item("tape", 0),)),
     "Garment petticoat: tape is 0 mm long."),
    ("a turn-down the wrong way",
     retold(0, turn_downs=(TurnDown("front", 107 * CM, -CM),)),
     "Garment skirt: At front it is 1070 mm long with -10 mm turned down."),
    ("nothing left to wear", retold(0, turn_downs=(TurnDown("front", 0, 106 * CM),)),
     "Garment skirt: At front it is 0 mm long with 1060 mm turned down."),
    ("turn-downs that don't level",
     retold(0, turn_downs=(TurnDown("front", 99 * CM, 7 * CM), TurnDown("back", 98 * CM, 7 * CM))),
     "Garment skirt: Finished length and turn-down don't make one sum: "
     "1060 mm at front, 1050 mm at back."),
    ("turn-downs beyond the cut",
     retold(0, turn_downs=(TurnDown("front", 102 * CM, 7 * CM),)),
     "Garment skirt: Finished length and turn-down make 1090 mm, "
     "more than the cut length of 1080 mm."),
    ("a panel too few", retold(0, panels=4), "Garment skirt: It has 4 panels, but 3 are cut."),
    ("a panel cut short", relaid(0, length=107 * CM),
     "Garment skirt: Panel A is cut 1070 mm long, not 1080 mm."),
    ("a hem too wide", retold(0, round_hem=337 * CM),
     "Garment skirt: Its panels are 3360 mm broad in all, "
     "which 3 even seams can't close to a round hem of 3370 mm."),
    ("a hem of uneven seams", retold(0, round_hem=330 * CM + 1),
     "Garment skirt: Its panels are 3360 mm broad in all, "
     "which 3 even seams can't close to a round hem of 3300.00625 mm."),
    ("a hem lost in its seams", retold(0, round_hem=150 * CM),
     "Garment skirt: Its panels are 3360 mm broad in all, "
     "which 3 even seams can't close to a round hem of 1500 mm."),
]  # fmt: skip


@pytest.mark.parametrize(("broken", "sentence"), [row[1:] for row in BROKEN],
                         ids=[row[0] for row in BROKEN])  # fmt: skip
def test_a_broken_record_is_told(broken: Record, sentence: str) -> None:
    assert sentence in check_record(broken)


def test_huge_figures_in_a_garment_never_raise() -> None:
    huge = 10**5000
    told = check_record(retold(0, panels=huge, cut_length=-huge, round_hem=huge, opening=huge))
    assert told
    assert check_record(replace(record(), garments=(), lays=()))


def test_a_record_of_another_panel_length_is_told_once() -> None:
    # Only the garment's own sentence: the lay itself is whole.
    assert check_record(retold(1, cut_length=90 * CM + MM)) == (
        "Garment petticoat: Panel C is cut 900 mm long, not 901 mm.",
    )
