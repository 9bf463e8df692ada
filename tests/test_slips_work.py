"""What a slip points to: the order of work and the pleats that its bearer shares with others."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

import pytest
from test_slips import pages_of

import marker
from marker.plan.sheet.slips import slips_data
from marker.plan.work.alike import orders
from marker.units import set_fractions

VILLAGE = marker.load_record(Path(__file__).parents[1] / "out" / "village-company" / "lay.json")
NAMES = [garment.wearer for garment in VILLAGE.garments]


@cache
def pages() -> list[str]:
    return [" ".join(page.split()) for page in pages_of(VILLAGE)]


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.slow
def test_a_slip_names_the_pages_that_tell_its_bearer_what_to_do(name: str) -> None:
    found = [
        (int(work), int(pleats))
        for page in pages() if "Slips for the wearers" in page
        for work, pleats in re.findall(
            rf" {name} Midsummer company.*?Order of work: page (\d+)\..*?Pleats: page (\d+)\.", page
        )
    ]  # fmt: skip
    ((work, pleats),) = found
    assert re.search(rf"^Order of work Round skirt, for [^.]*{name}", pages()[work - 1])
    assert re.search(rf"^Pleats of Round skirt, for [^.]*{name}", pages()[pleats - 1])


@pytest.mark.parametrize("at", range(len(NAMES)))
def test_letters_on_a_slip_are_her_own_figures(at: int) -> None:
    (garment,) = slips_data(VILLAGE)[at]["garments"]
    letters = dict(garment["work"]["letters"])
    order = orders(VILLAGE.garments)[garment["work"]["page"]]
    told = [
        "".join(letters[text] if apart else text for text, apart in task.words)
        for task in order.tasks
    ]
    assert letters
    assert told == [set_fractions(task.text) for task in VILLAGE.garments[at].work]
