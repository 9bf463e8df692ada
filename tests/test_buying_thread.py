"""Thread: rows by both methods, the geometry of stitches, arm-lengths, spools and mass."""

from __future__ import annotations

import math
from decimal import Decimal
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from marker.buying import thread as yarn
from marker.record import Garment, Sewn, Stage, Stitch, Thread
from marker.units import CM, INCH, METRE, MM, YARD

lengths = st.integers(1, 10 * METRE)


def test_rows_of_the_skirt_of_common_practice() -> None:
    # 126 in into 26 in, three rows: common practice, no source; tails of 4 in, slack of 6 in
    flat = yarn.flat_row(126 * INCH, tail=4 * INCH)
    pushed = yarn.pushed_row(26 * INCH, slack=6 * INCH, tail=4 * INCH)
    assert (flat, pushed) == (134 * INCH, 40 * INCH)
    assert (yarn.arm_lengths(flat, 24 * INCH), yarn.arm_lengths(pushed, 24 * INCH)) == (6, 2)
    assert yarn.spools(3 * flat, 110 * YARD) == 1
    assert 3 * flat == YARD * Fraction(402, 36)


@given(lengths, lengths, lengths, lengths)
def test_flat_takes_no_less_where_the_cloth_is_more_than_drawn_and_slack(
    around: int, drawn: int, slack: int, tail: int
) -> None:
    flat, pushed = yarn.flat_row(around, tail), yarn.pushed_row(drawn, slack, tail)
    assert (flat >= pushed) == (around >= drawn + slack)


@pytest.mark.parametrize(
    ("stitch", "through", "taken"),
    [
        (Stitch.RUNNING, 0, 6.0),  # 3 over, 3 under
        (Stitch.RUNNING, 1, 8.0),  # and twice through 1 mm
        (Stitch.BACK, 0, 9.0),  # 3 over, 6 under
        (Stitch.BACK, 1, 11.0),
        (Stitch.HEMMING, 0, 2 * math.hypot(1.5, 1.5)),
        (Stitch.WHIP, 0, 2 * math.hypot(1.5, 3)),
    ],
)
def test_a_stitch_of_3_mm_by_its_geometry(stitch: Stitch, through: int, taken: float) -> None:
    found = yarn.per_stitch(stitch, 3 * MM, through * MM)
    assert 0 <= found - taken * MM < 1


@given(st.sampled_from(Stitch), st.integers(1, 10 * CM), st.integers(0, CM), st.integers(0, CM))
def test_thicker_cloth_never_takes_less_thread(stitch: Stitch, long: int, a: int, b: int) -> None:
    thin, thick = sorted((a, b))
    assert yarn.per_stitch(stitch, long, thin) <= yarn.per_stitch(stitch, long, thick)
    # nor does any stitch take less than the way it goes on
    assert yarn.per_stitch(stitch, long, thin) >= yarn.spacing(stitch, long)


def test_a_zigzag_is_rounded_up() -> None:
    assert yarn.zigzag(6, 4) == 10  # 3, 4, 5 and back
    assert yarn.zigzag(2, 1) == 3  # 2.83


@given(lengths, st.integers(1, METRE))
def test_arm_lengths_reach_and_no_fewer_do(length: int, arm: int) -> None:
    count = yarn.arm_lengths(length, arm)
    assert (count - 1) * arm < length <= count * arm
    assert yarn.spools(length, arm) == count


def test_mass_is_tex_by_the_kilometre() -> None:
    # tex = g per km (ISO 1144, from memory)
    assert yarn.grams(1000 * METRE, Decimal(40)) == 40
    assert yarn.grams(25 * METRE, Decimal("27.5")) == Fraction("0.6875")


def garment(rows: int) -> Garment:
    row = Sewn(Stage.GAUGE, "row", Stitch.RUNNING, 320 * CM, 266, 340 * CM, 107 * CM)
    seam = Sewn(Stage.JOIN, "seams", Stitch.BACK, METRE, 334, 301 * CM)
    return Garment("skirt", "skirt", "Ada", 2, sewing=(seam, *(row,) * rows))


def test_a_garment_takes_its_rows_and_its_needlefuls() -> None:
    # 301 cm in needlefuls of 60 cm that lose 10: 7 of them, 420 cm
    thread = Thread()
    assert yarn.needlefuls(garment(3), thread) == 7
    assert yarn.of_garment(garment(3), thread) == 3 * 340 * CM + 420 * CM
    assert yarn.of_garment(garment(3), Thread(flat=False)) == 3 * 107 * CM + 420 * CM


def test_more_rows_never_take_less_thread() -> None:
    for thread in (Thread(), Thread(flat=False)):
        taken = [yarn.of_garment(garment(rows), thread) for rows in range(8)]
        assert all(more > less for less, more in pairwise(taken))
