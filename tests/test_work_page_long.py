"""An order of work that is a little too long is set smaller, rather than run on for a few lines."""

from __future__ import annotations

from dataclasses import replace
from io import BytesIO

import pytest
from pypdf import PdfReader

from marker import decide
from marker.casefile import parse
from marker.plan.drawing.page import Paper
from marker.plan.lays.svg import draw
from marker.plan.sheet.setting import compile_sheet
from marker.record import Garment, Record

CLOTH = """
title = "Dancers"
units = "cm"
[cloth.main]
width = "150 cm"
selvedge = "1 cm"
"""
WEARER = """
[wearer.w{at}]
name = "Dancer {at}"
waist = "{waist} cm"
length = "{length} cm"
[garment.s{at}]
name = "Skirt"
wearer = "w{at}"
seam = "1 cm"
turn_down = "6 cm"
hem = "facing"
facing = {{ depth = "8 cm" }}
panels = {{ count = 3, width = "{panel} cm" }}
band = {{ width = "3 cm" }}
opening = {{ placket = "strip" }}
"""


def garment(at: int) -> tuple[Garment, Record]:
    """A dancer's skirt as it is in a company, planned by itself, which takes far less time."""
    text = CLOTH + WEARER.format(at=at, waist=64 + 2 * at, length=88 + at, panel=60 + at)
    record = decide.plan(parse(text, "dancers.toml"), iterations=0, prices=False)
    (skirt,) = record.garments
    mine = {letter: f"{'ABCDEF'[at - 1]}{number}" for number, letter in enumerate("ABCD", 1)}
    work = tuple(replace(task, letters=tuple(map(mine.get, task.letters))) for task in skirt.work)
    return replace(skirt, work=work), record


@pytest.mark.slow
@pytest.mark.parametrize("wearers", [1, 6])
def test_an_order_of_work_stands_on_one_page_while_it_can(wearers: int) -> None:
    skirts, records = zip(*map(garment, range(1, wearers + 1)), strict=True)
    (lay,) = records[0].lays
    plan = draw(records[0], lay, Paper.A4)
    sheet = compile_sheet(replace(records[0], garments=skirts), {"main": plan}, Paper.A4)
    texts = [page.extract_text() for page in PdfReader(BytesIO(sheet)).pages]
    (found,) = (text for text in texts if "order of work" in text and "on this page" in text)
    assert "never leave it lying" in " ".join(found.split())
    assert ("stand for figures that differ" in " ".join(found.split())) is (wearers > 1)
