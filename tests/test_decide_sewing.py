"""What is sewn of a planned case, its stitches and thread, the time it takes, and its page."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from example_cases import case_of

from marker import decide, referee
from marker.buying.hours import Hours, hours
from marker.plan.pleats.case import of_case
from marker.plan.pleats.words import of_record
from marker.plan.sheet.sewing import sewing_page
from marker.plan.words import sewing as words
from marker.plan.words.shopping import thread_words
from marker.record import Garment, Record, Sewn, Stage, Stitch, Thread
from marker.units import CM, INCH


def planned(more: str = "", **parts: str) -> Record:
    return decide.plan(case_of("in", more, **parts), iterations=5, prices=False)


@pytest.fixture(scope="module")
def skirt() -> Record:
    """Three breadths of 44 in, 40 1/2 in less seams... drawn into 26 in; all by hand."""
    return planned()


def sewn(record: Record, what: str, stitch: Stitch | None = None) -> Sewn:
    (found,) = (
        one
        for one in record.garments[0].sewing
        if one.what == what and stitch in (None, one.stitch)
    )
    return found


def test_seams_and_hem_are_as_long_as_they_are_cut(skirt: Record) -> None:
    # Cut length 39 + 2 1/2 + 1 = 42 1/2 in, three seams; three breadths of 44 in at the hem.
    seams = sewn(skirt, "seams")
    assert (seams.length, seams.stitch) == (3 * 85 * INCH // 2, Stitch.BACK)
    assert seams.stitches == 3 * 85 * 8 // 2  # eight to the inch
    assert seams.thread == 3 * seams.length  # over once, under twice
    hem = sewn(skirt, "hem")
    assert (hem.length, hem.stitch) == (3 * 44 * INCH, Stitch.HEMMING)
    # the band: 30 in hemmed down inside, its two ends 3 in folded
    assert sewn(skirt, "inside of the band").length == 30 * INCH
    assert sewn(skirt, "ends of the band").length == 3 * INCH


def test_rows_are_told_by_both_methods(skirt: Record) -> None:
    # 3 x 43 in round; tails 4 in, slack 6 in; a pleat is two stitches of 1/4 in: 86 a panel
    rows = [one for one in skirt.garments[0].sewing if one.stage is Stage.GAUGE]
    assert [one.stitches for one in rows] == [258] * 3
    assert [one.thread for one in rows] == [137 * INCH] * 3
    assert [one.pushed for one in rows] == [40 * INCH, 40 * INCH + INCH // 4, 40 * INCH + INCH // 2]
    whipped = sewn(skirt, "pleats to the band")
    assert (whipped.stitches, whipped.length) == (258, 26 * INCH)


def test_a_bound_hem_is_sewn_twice_and_a_facing_takes_the_place_of_a_hem() -> None:
    binding = "[garment.skirt.binding]\n"
    found = planned(binding)
    assert sewn(found, "binding", Stitch.BACK).length == 130 * INCH  # 129 round and 1 in lap
    assert sewn(found, "binding", Stitch.HEMMING).length == 130 * INCH
    faced = planned('[garment.skirt.facing]\ndepth = "6 in"\n', garment='seam = "1/2 in"')
    whats = {one.what for one in faced.garments[0].sewing}
    assert "facing" in whats and "hem" not in whats


def test_running_seams_take_less_thread() -> None:
    running = sewn(planned('[thread]\nseams = "running stitch"'), "seams")
    assert (running.thread, running.stitch) == (running.length, Stitch.RUNNING)


def test_thickness_takes_thread() -> None:
    cloth = 'width = "45 in"\nselvedge = "1/2 in"\nthickness = "0.5 mm"'
    seams = sewn(planned(cloth=cloth), "seams")
    assert seams.thread == 3 * seams.length + seams.stitches * 2 * 2 * 80  # two layers, twice


def test_the_referee_judges_the_rows(skirt: Record) -> None:
    assert referee.check_record(skirt) == ()
    (garment,) = skirt.garments

    def faults(**other: object) -> str:
        rows = tuple(
            replace(one, **other) if one.pushed else one  # type: ignore[arg-type]
            for one in garment.sewing
        )
        return " ".join(
            referee.check_record(replace(skirt, garments=(replace(garment, sewing=rows),)))
        )

    assert "Thread of 3454.4 mm for 'row 1', not 3479.8 mm." in faults(thread=136 * INCH)
    assert "pushed along, not 1016 mm and up to 12.7 mm" in faults(pushed=41 * INCH)
    assert "257 stitches of 'row 1' don't share out evenly" in faults(stitches=257)
    assert "with no thread or no stitches" in faults(stitches=0)
    assert "the record has no thread" in " ".join(referee.check_record(replace(skirt, thread=None)))
    seam = Sewn(Stage.JOIN, "seams", Stitch.BACK, 2 * CM, 3, CM)
    thin = replace(skirt, garments=(replace(garment, sewing=(seam,)),))
    assert "seams is 20 mm long, more than its thread of 10 mm." in " ".join(
        referee.check_record(thin)
    )


def test_the_referee_judges_the_thread(skirt: Record) -> None:
    assert skirt.thread is not None

    def faults(**other: object) -> tuple[str, ...]:
        thread = replace(skirt.thread, **other)  # type: ignore[type-var]
        return referee.check_record(replace(skirt, thread=thread))

    assert "'sewing thread' has a length or a mass below nothing." in faults(spool=0)
    (told,) = faults(arm=4 * INCH)
    assert told.endswith("101.6 mm at a time, no longer than the tail of 101.6 mm.")


def test_time_is_rounded_up_to_quarters_and_off_by_default(skirt: Record) -> None:
    lines = (
        Sewn(Stage.JOIN, "seams", Stitch.BACK, CM, 450, CM),  # 15 min at 30 a minute
        Sewn(Stage.GAUGE, "row 1", Stitch.RUNNING, CM, 226, CM, CM),
        Sewn(Stage.GAUGE, "row 2", Stitch.RUNNING, CM, 225, CM, CM),  # 451 with row 1: 2 quarters
    )
    told = Garment("a", "a", "Ada", sewing=lines)
    assert hours(told, 30) == (
        Hours("seams and flounces", 450, 1), Hours("rows of the pleats", 451, 2),
    )  # fmt: skip
    assert hours(told, 0) == () and sewing_page(skirt)["hours"] == []
    spelled = [words.quarter_hours(quarters) for quarters in (0, 1, 4, 9)]
    assert spelled == ["0 min", "15 min", "1 h", "2 h 15 min"]


def test_the_page_says_all_three_where_they_are_known(skirt: Record) -> None:
    page = sewing_page(skirt)
    assert page["title"] == "Thread" and page["weights"] == []
    assert page["rows"] == [
        {
            "name": "skirt, ada", "rows": "3", "flat": "3⅞ yd", "flat_arms": "6",
            "flat_all": "11½ yd", "pushed": "1⅛ yd", "pushed_arms": "2",
            "pushed_all": "3⅜ yd",
        }
    ]  # fmt: skip
    cloth = 'width = "45 in"\nselvedge = "1/2 in"\nweight = "5 oz/yd2"'
    full = sewing_page(planned("[time]\nstitches_per_minute = 30", cloth=cloth))
    assert full["title"] == "Thread, weight and time"
    assert full["hours"][0]["stages"][0]["stage"] == "seams and flounces"
    assert "at 30 stitches a minute" in full["time_note"]
    assert full["weights"][0]["unknown"] == "hooks and eyes"


def test_the_pleat_plan_tells_the_thread_of_its_rows(skirt: Record) -> None:
    (plan,) = of_record(skirt)
    assert plan.notes[-1] == (
        "Thread for a row: sewn flat and drawn up once 3⅞ yd, 6 arm lengths of 24 in; pushed along "
        "as it is sewn 1⅛ yd, 2. All 3 rows: 11½ yd or 3⅜ yd. Wax it first."
    )
    assert of_case(case_of("in"))[0][0].notes[-1] == plan.notes[-1]
    bare = of_record(replace(skirt, thread=None))[0]
    assert not any("Thread" in note for note in bare.notes)


def test_without_rows_nothing_is_said_of_them() -> None:
    found = planned(garment='kind = "petticoat"\nseam = "1/2 in"', band="")
    page = sewing_page(found)
    assert page["rows"] == [] and len(page["thread_notes"]) == 1
    assert page["thread_notes"][0].startswith("All stitches are an estimate for hand sewing")
    assert thread_words(found.thread or Thread(), rows=False) == "tex 40"
    assert thread_words(Thread(tex=Decimal("27.50")), rows=True) == "tex 27.5; wax it for the rows"
    assert thread_words(Thread(waxed=False), rows=True) == "tex 40"


def test_a_slip_tells_her_own_thread_and_weight(skirt: Record) -> None:
    (work,) = words.works(skirt)
    assert words.in_short(work, skirt.units).startswith("Thread ")
    assert words.sewing_data(skirt)[0]["rows"][0] == {"flat": 137 * INCH, "pushed": 40 * INCH}
    bare = replace(work, thread=0, hours=())
    assert words.in_short(bare, skirt.units) == ""
