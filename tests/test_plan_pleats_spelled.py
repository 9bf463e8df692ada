"""How stitches and folds are spelled: as they are sewn, and as a tape reads them."""

from __future__ import annotations

from fractions import Fraction

import pytest
from example_cases import case_of

from marker.gauging import Pressed
from marker.plan.drawing.verbs import Words
from marker.plan.pleats.case import of_case
from marker.plan.pleats.section import draw_section
from marker.plan.pleats.spell import fine, measured
from marker.units import CM, INCH, MM, Both, System, Units, set_fractions


@pytest.mark.parametrize(
    ("length", "units", "told"),
    [
        (6 * MM, System.CM, "6 mm"), (963, System.CM, "6.02 mm"), (16 * MM, System.CM, "1.6 cm"),
        (INCH // 4, System.IN, "¼ in"), (1020, System.IN, "0.251 in"), (CM, System.CM, "1 cm"),
    ],
)  # fmt: skip
def test_stitches_are_spelled_finely(length: int, units: System, told: str) -> None:
    assert fine(length, units) == told


@pytest.mark.parametrize(
    ("length", "units", "told"),
    [
        (Fraction(28, 10) * INCH, System.IN, "2¹³⁄₁₆ in, reckoned 2.8 in"),
        (Fraction(5, 2) * INCH, System.IN, "2½ in"),
        (Fraction(505, 100) * CM, System.CM, "5.1 cm, reckoned 5.05 cm"),
        (Fraction(715, 1000) * CM, System.CM, "0.7 cm, reckoned 0.715 cm"),
        (7 * MM, System.CM, "0.7 cm"),
        (Fraction(505, 100) * CM, Both.CM_IN, "5.1 cm, reckoned 5.05 cm (2 in, reckoned 1.988 in)"),
    ],
)
def test_a_fold_is_told_as_a_tape_reads_it(length: Fraction, units: Units, told: str) -> None:
    assert measured(length, units) == told


@pytest.mark.parametrize("top", ["knife pleated", "box pleated", "inverted pleated"])
def test_pressed_pleats_are_spelled_as_in_the_order_of_work(top: str) -> None:
    case = case_of("in", garment=f'top = "{top}"\nseam = "1/2 in"\ntake_up = "1 in"',
                   panels='count = 3\nwidth = "25 in"')  # fmt: skip
    (order,) = case.orders
    (told,) = of_case(case)[0]
    assert isinstance(told.plan, Pressed)
    (work,) = (
        set_fractions(job.text)
        for draft in order.drafts() for job in draft.work if "to the next" in job.text
    )  # fmt: skip
    facts = dict(told.facts)
    for name in ("depth of a fold", "from pleat to pleat"):
        read = facts[name].partition(", reckoned")[0]
        assert f"{read} " in work
        drawn = [mark.text for mark in draw_section(told.plan, System.IN)[0].over
                 if isinstance(mark, Words)]  # fmt: skip
        assert read in drawn


def test_a_raw_top_is_spread_along_its_band() -> None:
    (told,) = of_case(
        case_of("cm", garment='top = "stroke gathered"\nseam = "1.25 cm"\ntake_up = "2 cm"')
    )[0]
    said = " ".join(told.notes)
    assert "Spread the pleats evenly along the band" in said and "one stitch" not in said
