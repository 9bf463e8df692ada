"""The tables of thread, of time, and of what the user brings: read strictly."""

from __future__ import annotations

from decimal import Decimal

import pytest
from example_cases import case_of, fault

from marker.record import Stitch, Thread
from marker.units import CM, INCH, METRE, MM, YARD


def test_thread_has_usual_values_in_the_measure_of_the_case() -> None:
    # all common practice, no source
    assert case_of("cm").thread == Thread() == Thread(
        spool=100 * METRE, arm=60 * CM, tail=10 * CM, slack=15 * CM, stitch=3 * MM
    )  # fmt: skip
    inches = case_of("in").thread
    assert (inches.spool, inches.arm, inches.stitch) == (110 * YARD, 24 * INCH, INCH // 8)
    assert (inches.tail, inches.slack) == (4 * INCH, 6 * INCH)
    assert (inches.tex, inches.waxed, inches.flat, inches.seams) == (40, True, True, Stitch.BACK)


def test_thread_is_read_as_it_is_written() -> None:
    keys = 'tex = 27.5\nspool = "250 m"\narm = "50 cm"\nrows = "pushed"\nseams = "running stitch"'
    thread = case_of("cm", f'[thread]\n{keys}\nwaxed = false\nprice = "3 EUR each"').thread
    assert (thread.tex, thread.spool, thread.arm) == (Decimal("27.5"), 250 * METRE, 50 * CM)
    assert (thread.flat, thread.waxed, thread.seams) == (False, False, Stitch.RUNNING)
    assert thread.price and thread.price.cost(2) == 6


def test_time_is_off_unless_asked_for() -> None:
    assert case_of().pace == 0
    assert case_of(more="[time]\nstitches_per_minute = 30").pace == 30


RIBBON = '[[notion]]\nname = "ribbon"\n'


@pytest.mark.parametrize(
    ("more", "told"),
    [
        ("[thread]\ntex = 0", "thread.tex: 0 is not a tex count; write the grams that 1,000 m"),
        ('[thread]\ntex = "40"', "thread.tex: '40' is not a tex count"),
        ("[thread]\ntex = true", "thread.tex: true is not a tex count"),
        ("[thread]\ntex = nan", "thread.tex: nan is not a tex count"),
        ("[thread]\ntex = 2000", "thread.tex: 2000 is not a tex count"),
        ('[thread]\narm = "4 in"', "thread.arm is 4 in, no longer than the tail of 4 in that it"),
        ('[thread]\nspool = "0 m"', "thread.spool: '0 m' is nothing"),
        ('[thread]\nprice = "3 EUR/m"', "thread.price: '3 EUR/m' is not a price; write it as"),
        ('[thread]\nseams = "chain"', "thread.seams is 'chain'; write 'backstitch' or 'running"),
        ("[thread]\nspools = 2", "thread.spools is not a key; did you mean 'spool'?"),
        ("[time]\nstitches_per_minute = 0", "time.stitches_per_minute is 0, but should be"),
        ("[time]", "time.stitches_per_minute is missing; give how many stitches"),
        (RIBBON, "notion (number 1): length and count are both missing; give how much"),
        (
            RIBBON + 'count = 1\nlength = "1 m"',
            "notion (number 1): length and count are both given",
        ),
        (RIBBON + 'count = 1\nstep = "1 m"', "step is for what is sold by length"),
        (
            RIBBON + 'count = 1\nprice = "1 EUR/m"',
            'price is per m, but it is counted; write it as "',
        ),
        (RIBBON + 'length = "1 m"\nprice = "1 EUR each"', "price is per each, but it is measured"),
        (
            RIBBON + 'count = 1\nweight = "heavy"',
            "weight: 'heavy' is not a weight; write it as \"12",
        ),
        (RIBBON + 'count = 1\ncounter = "till"', "notion (number 1).counter is 'till'; write"),
        (RIBBON + 'count = 1\ngarment = "skirts"', "garment names 'skirts', which is not in the"),
        ("[[notion]]\ncount = 1", "notion (number 1).name is missing; give what it is"),
    ],
)
def test_bad_tables_are_refused_in_one_sentence(more: str, told: str) -> None:
    assert told in fault(more=more)
