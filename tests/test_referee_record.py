"""The referee judges whole records: each lay, and what must agree between them."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from asked_lays import ASKED, grown, one, pieced, two
from changes import recloth, recut
from lays import GOOD, nap, record, skirt, squared

from marker.record import Item, Notion, Record, TurnDown, dump, parse
from marker.referee import check_record, findings
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


def test_records_of_joined_strips_and_grown_panels_pass() -> None:
    assert check_record(pieced()) == ()
    assert check_record(parse(dump(pieced()), "lay.json")) == ()
    assert check_record(grown()) == ()


@pytest.mark.parametrize("name", ASKED)
def test_a_record_keeps_all_that_a_lay_may_ask(name: str) -> None:
    good = replace(record(), garments=(), lays=(ASKED[name](),))
    assert parse(dump(good), "lay.json") == good


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
    ("no panels", retold(0, panels=0), "Garment skirt: It has 0 panels, but 3 are cut."),
    ("fewer panels than none", retold(0, panels=-1), "Garment skirt: Its panels is -1."),
    ("no cut length", retold(1, cut_length=0, opening=0),
     "Garment petticoat: Panel C is cut 900 mm long, not 0 mm."),
    ("no hem", retold(1, round_hem=0),
     "Garment petticoat: Its panels are 900 mm broad in all, "
     "which 2 even seams can't close to a round hem of 0 mm."),
    ("a negative hem", retold(1, round_hem=-1), "Garment petticoat: Its round hem is -0.00625 mm."),
    ("drawn into less than nothing", retold(1, drawn=-1),
     "Garment petticoat: Its drawn length is -0.00625 mm."),
    ("a negative opening", retold(1, opening=-1),
     "Garment petticoat: Its opening is -0.00625 mm."),
    ("an empty figure", retold(1, figures=(Item("waist curve", 0),)),
     "Garment petticoat: 'waist curve' is 0 mm long."),
    ("drawn out, not up", retold(1, drawn=87 * CM),
     "Garment petticoat: A round hem of 860 mm can't be drawn into 870 mm."),
    ("an opening too long", retold(1, opening=90 * CM),
     "Garment petticoat: An opening of 900 mm doesn't fit a cut length of 900 mm."),
    ("an empty notion", retold(1, notions=(Notion("tape"),)),
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


def rejoined(at: int, **changes: Any) -> Record:
    """The joined strip with one lay's segments on other terms."""
    lays = [two(), one()]
    terms = lays[at].pieces[0].pieced
    assert terms is not None
    lays[at] = recut(lays[at], 0, pieced=replace(terms, **changes))
    return replace(pieced(), lays=tuple(lays))


def resized(at: int, **changes: Any) -> Record:
    """The joined strip with one lay's segments of another size, which has faults of its own."""
    lays = [two(), one()]
    lays[at] = recut(lays[at], 0, **changes)
    return replace(pieced(), lays=tuple(lays))


def both(**changes: Any) -> Record:
    """The joined strip with all its segments on other terms."""
    first, last = rejoined(0, **changes).lays[0], rejoined(1, **changes).lays[1]
    return replace(pieced(), lays=(first, last))


STRIPS: list[tuple[str, Record, str]] = [
    ("too short", both(total=131 * CM + 1),
     "Strip 'hem facing': Its 3 segments join to 1310 mm, short of the 1310.00625 mm that it "
     "must have."),
    ("too short for wider seams", both(seam=19 * CM // 2, pitch=CM),
     "Strip 'hem facing': Its 3 segments join to 970 mm, short of the 1300 mm that it must have."),
    ("half of it left out", replace(pieced(), lays=(two(),)),
     "Strip 'hem facing': Its 2 segments join to 980 mm, short of the 1300 mm that it must have."),
    ("too many", both(most=2),
     "Strip 'hem facing': It is joined from 3 segments, and 2 are the most."),
    ("two totals", rejoined(1, total=120 * CM),
     "Strip 'hem facing': Its segments don't agree on its total: 1300 mm and 1200 mm."),
    ("two seams", rejoined(1, seam=2 * CM),
     "Strip 'hem facing': Its segments don't agree on its seam: 10 mm and 20 mm."),
    ("two least lengths", rejoined(0, least=CM),
     "Strip 'hem facing': Its segments don't agree on its least: 10 mm and 300 mm."),
    ("two greatest numbers", rejoined(0, most=3),
     "Strip 'hem facing': Its segments don't agree on its most: 3 and 4."),
    ("two pitches", rejoined(1, pitch=0),
     "Strip 'hem facing': Its segments don't agree on its pitch: 30 mm and 0 mm."),
    ("two breadths", resized(1, breadth=7 * CM),
     "Strip 'hem facing': Its segments are of several breadths: 80 mm and 70 mm."),
    ("two garments", resized(1, garment="bodice"),
     "Strip 'hem facing': Its segments are for several garments: apron and bodice."),
    ("a letter of two segments", resized(1, letter="S"),
     "The letter S is used on cloths blue-scrap and red-scrap."),
    ("a segment's own fault", rejoined(1, least=36 * CM),
     "Cloth red-scrap: Piece T, a segment of strip 'hem facing', is 350 mm long, "
     "under the shortest of 360 mm."),
]  # fmt: skip


@pytest.mark.parametrize(("broken", "sentence"), [row[1:] for row in STRIPS],
                         ids=[row[0] for row in STRIPS])  # fmt: skip
def test_a_broken_strip_is_told(broken: Record, sentence: str) -> None:
    assert sentence in check_record(broken)


def test_a_piece_listed_twice_for_one_garment_is_told() -> None:
    good = record().lays[0]
    first = good.pieces[0]
    twin = replace(first, letter="Z", count=first.count + 1)
    told = findings(replace(good, pieces=(*good.pieces, twin)))
    assert (
        f"Pieces {first.letter} and Z are one and the same, for garment {first.garment}, "
        "and listed twice." in told
    )
    for other in ({"name": "pocket"}, {"length": first.length + MM}, {"garment": "other"}):
        changed = replace(twin, **other)
        assert "twice" not in " ".join(findings(replace(good, pieces=(*good.pieces, changed))))


def test_strips_may_just_reach_and_bear_other_names() -> None:
    assert check_record(both(total=131 * CM)) == ()
    assert check_record(both(most=3)) == ()
    # Two strips, each of its own segments: both too short by themselves.
    told = check_record(rejoined(1, strip="other"))
    assert [sentence.split(":")[0] for sentence in told] == ["Strip 'hem facing'", "Strip other"]


def test_terms_that_do_not_agree_are_listed_in_bounds() -> None:
    def told(count: int) -> str:
        lays = [recut(one(), 0, letter=f"T{at}") for at in range(count)]
        lays = [
            replace(recut(lay, 0, pieced=replace(terms, total=total)),
                    cloth=replace(lay.cloth, key=f"red-{total}"))
            for total, lay in enumerate(lays, 1)
            if (terms := lay.pieces[0].pieced)
        ]  # fmt: skip
        found = check_record(replace(pieced(), lays=tuple(lays)))
        return next(sentence for sentence in found if "agree on its total" in sentence)

    four = "0.00625 mm and 0.0125 mm and 0.01875 mm and 0.025 mm"
    assert told(4).endswith(f"agree on its total: {four}.")
    assert told(7).endswith(f"agree on its total: {four} and 3 more.")


def regrown(**changes: Any) -> Record:
    """The skirt with torn edges, its panels otherwise."""
    lay = grown().lays[0]
    return replace(grown(), lays=(recut(lay, 0, **changes),))


def test_panels_are_grown_by_their_torn_edges() -> None:
    told = "Garment skirt: Panel A is cut 600 mm long, not 600 mm and 10 mm for torn edges."
    assert told in check_record(regrown(length=60 * CM))
    told = "Garment skirt: Panel A is cut 611 mm long, not 600 mm and 10 mm for torn edges."
    assert told in check_record(regrown(length=611 * MM))
    # What isn't torn isn't grown.
    told = "Garment skirt: Panel A is cut 610 mm long, not 600 mm."
    assert told in check_record(regrown(torn=False))
    cut = replace(grown(), lays=(recloth(grown().lays[0], tears=False),))
    assert told in check_record(cut)


def test_a_railroaded_panel_ends_at_kept_selvedges() -> None:
    lay = recut(recloth(grown().lays[0], keep_selvedges=True), 0, grain="across")
    for length, good in ((60 * CM, True), (605 * MM, True), (61 * CM, True), (611 * MM, False),
                         (599 * MM, False)):  # fmt: skip
        told = check_record(replace(grown(), lays=(recut(lay, 0, length=length),)))
        assert any("Panel A is cut" in sentence for sentence in told) != good
    # Where the selvedges come off, the ends are torn edges as any other.
    lay = recut(recloth(lay, keep_selvedges=False), 0, length=605 * MM)
    told = "Garment skirt: Panel A is cut 605 mm long, not 600 mm and 10 mm for torn edges."
    assert told in check_record(replace(grown(), lays=(lay,)))


def test_huge_figures_of_a_strip_never_raise() -> None:
    huge = 10**5000
    for value in (huge, -huge):
        told = check_record(both(total=value, seam=value, least=value, most=value, pitch=value))
        assert told
        assert all(sentence.endswith(".") for sentence in told)
