"""What an option is worth: joins of bias out of one rectangle, and fulness without aprons."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from functools import cache

import pytest
from compare_cases import case, given, planned
from test_legible import APRON

from marker.decide.comparison import RANKED
from marker.decide.worth import Joins, Worth, worth
from marker.gauging import Pressed
from marker.plan.compare import words as say
from marker.record import Record
from marker.units import System

FACING = """
[garment.skirt.facing]
depth = "8 cm"
cut = "{cut}"
{more}
"""


@cache
def laid(cut: str, more: str = "") -> Record:
    return planned(case(FACING.format(cut=cut, more=more)))


def joins(record: Record) -> Joins | None:
    (worn,) = worth(record).worn
    return worn.joins


@pytest.mark.parametrize("cut", ["bias rectangle", "continuous bias"])
def test_bias_out_of_one_rectangle_has_the_joins_that_the_sheet_tells(cut: str) -> None:
    record = laid(cut, 'across = "60 cm"')
    found = joins(record)
    assert found is not None
    (told,) = [said for said in record.garments[0].advice if "of true bias" in said]
    assert f"{found.count} joins on the straight thread" in told
    assert found.count > 1 and not found.meet
    assert any(f"facing's {found.count} joins do not all meet" in said
               for said in worth(record).worn[0].advice)  # fmt: skip


def test_its_joins_are_sewn_like_those_of_single_strips() -> None:
    record = laid("bias rectangle", 'across = "60 cm"')
    hidden = record.garments[0].bias_joins
    assert hidden is not None
    bare = replace(record, garments=(replace(record.garments[0], bias_joins=None),))
    assert worth(record).seams == worth(bare).seams + hidden.count
    assert worth(record).sewn == worth(bare).sewn + hidden.count * hidden.length
    # A strip 8 cm deep, with seams, is crossed on the slant: its join is longer than it is wide.
    assert hidden.length > 8 * 1600 * 1.414


def test_single_strips_and_bindings_hide_no_joins() -> None:
    assert laid("bias strips").garments[0].bias_joins is None
    found = joins(laid("bias strips"))
    assert found is not None and found.count >= 1


def test_an_apron_adds_nothing_to_the_fulness_of_skirts() -> None:
    asks = case(APRON + "[compare]\npanels = 3\n")
    record = planned(case(APRON))
    (row,) = given(asks, record).rows[:1]
    skirt, apron = row.worth.worn
    assert apron.garment.fulness > 0
    own = Fraction(skirt.garment.round_hem, skirt.garment.drawn)
    assert row.worth.fulness == own
    assert RANKED["fulness"](row.worth) == -own
    found = given(asks, record)
    assert say.figures(row, found)["fulness"] == f"{float(own):.1f} / {say.NONE}"
    alone: Worth = replace(row.worth, worn=(apron,))
    assert alone.fulness == Fraction(apron.garment.round_hem, apron.garment.drawn)
    assert say.figures(replace(row, worth=alone), found)["fulness"] != say.NONE


def test_pressed_pleats_are_counted_on_the_band_too() -> None:
    """3 panels of 62.5 cm with 1.25 cm seams go 180 cm round, into 60 cm: 12 pleats."""
    record = planned(
        case(
            "[garment.skirt.pleats]\ncount = 12\n",
            garment='seam = "1.25 cm"\ntop = "box pleated"\ntake_up = "2 cm"',
            panels='count = 3\nwidth = "62.5 cm"',
            wearer='waist = "60 cm"\nlength = "100 cm"',
        )
    )
    (worn,) = worth(record).worn
    assert isinstance(worn.pleats, Pressed) and worn.pleats.pleats == 12
    assert worn.pleats_per(System.CM) == pytest.approx(2)
    assert not any("close up" in said for said in worn.advice)
