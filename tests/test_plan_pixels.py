"""The plan as it comes out of the printer: pages of the PDF rendered in grey and measured."""

from __future__ import annotations

import math
import re
import shutil
import subprocess
from functools import cache
from io import BytesIO
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import numpy as np
import pytest
from plan_lays import drawn
from pypdf import PdfReader

from marker.lay import Direction
from marker.plan.drawing import style
from marker.plan.drawing.page import Box, Paper
from marker.plan.drawing.verbs import Field
from marker.plan.lays.svg import emit
from marker.plan.sheet.setting import compile_sheet

pytestmark = pytest.mark.skipif(
    not shutil.which("pdftoppm"), reason="no pdftoppm of poppler here to render the sheet with"
)
DPI = 150
"""As coarse as a home printer gets."""
PER = DPI / 2540
"""Dots to 1/100 mm."""
CASE = "inches"
"""Torn, with tears across and along, hatched waste and remnants, folds and seams."""


@cache
def sheet() -> bytes:
    record, lay, plan = drawn(CASE, Paper.A4)
    return compile_sheet(record, {lay.cloth.key: emit(record, lay, plan)}, Paper.A4)


@cache
def grey() -> np.ndarray:
    """The page of the plan in grey, 0 black to 255 white, row by row."""
    with TemporaryDirectory() as folder:
        path = Path(folder) / "sheet.pdf"
        path.write_bytes(sheet())
        command = ["pdftoppm", "-gray", "-r", f"{DPI}", "-f", "2", "-l", "2", path]
        data = subprocess.run(command, capture_output=True, check=True, timeout=60).stdout
    match = re.match(rb"P5\s+(\d+)\s+(\d+)\s+255\s", data)
    assert match
    width, height = int(match[1]), int(match[2])
    assert (width, height) == (math.ceil(29700 * PER), math.ceil(21000 * PER))
    return np.frombuffer(data[match.end() :], np.uint8).reshape(height, width).astype(int)


def dots(box: Box) -> np.ndarray:
    """The pixels of a box in 1/100 mm."""
    x0, y0, x1, y1 = (round(value * PER) for value in (box.x0, box.y0, box.x1, box.y1))
    return grey()[y0:y1, x0:x1]


def edge(line: np.ndarray) -> float:
    """Where the one thin line across a row of pixels lies, weighed by how dark each is."""
    ink = 255 - line
    assert ink.max() > 60
    return float((ink * (np.arange(line.size) + 0.5)).sum() / ink.sum())


def test_the_test_square_is_five_centimetres() -> None:
    plan = drawn(CASE, Paper.A4)[2]
    (frame,) = (m.box for m in plan.drawing.over
                if isinstance(m, Field) and m.box.width == style.SQUARE)  # fmt: skip
    assert frame.height == style.SQUARE
    places = []
    for side in (frame.x0, frame.x1):
        strip = Box(side - 80, frame.y1 - 400, side + 80, frame.y1 - 200)
        places.append(round((side - 80) * PER) + edge(dots(strip).mean(axis=0)))
    assert (places[1] - places[0]) / PER == pytest.approx(5000, abs=30)
    tall = []
    for side in (frame.y0, frame.y1):
        strip = Box(frame.x1 - 400, side - 80, frame.x1 - 200, side + 80)
        tall.append(round((side - 80) * PER) + edge(dots(strip).mean(axis=1)))
    assert (tall[1] - tall[0]) / PER == pytest.approx(5000, abs=30)


def test_the_number_of_a_tear_stands_over_its_line() -> None:
    """A ring with figures in it, and from it ink all the way to the line, or the line itself."""
    _, lay, plan = drawn(CASE, Paper.A4)
    rings = {label.owner: label.box for label in plan.drawing.labels if label.kind == "ring"}
    seen = 0
    for tear in lay.tears:
        box = rings.get(f"{tear.number}")
        across = tear.direction is Direction.ACROSS
        if box is None:
            continue
        inner = dots(box.grown(-110))
        assert inner.min() < 90 and inner.max() > 240  # figures, black on white
        rim = dots(Box(box.middle[0] - 20, box.y0 - 30, box.middle[0] + 20, box.y0 + 60))
        assert rim.min() < 110
        x, y = plan.view.point((tear.at, tear.at))
        x, y = x + plan.corner[0], y + plan.corner[1]
        if across and tear.in_hand.across == lay.bolt.across:
            top = plan.corner[1]
            leader = dots(Box(x - 40, box.y1, x + 40, top)).min(axis=1)
            assert abs(box.middle[0] - x) < 100 and leader.max() < 200
            seen += 1
        elif not across and box.y0 < y < box.y1:
            beside = dots(Box(box.x1 + 10, y - 40, box.x1 + 400, y + 40)).min(axis=0)
            assert (beside < 110).mean() > 0.4  # dashes
            seen += 1
    assert seen >= 6


def test_hatching_and_tint_survive_in_grey() -> None:
    _, lay, plan = drawn(CASE, Paper.A4)
    kept = [plan.view.box(o.rect).moved(*plan.corner) for o in lay.offcuts if o.keep]
    corner = max(kept, key=lambda box: box.height * box.width)
    hatched = dots(Box(corner.x0 + 60, corner.y0 + 300, corner.x0 + 700, corner.y0 + 900))
    spread, level = hatched.std(), hatched.mean()
    assert spread > 15 and 200 < level < 252  # lines on white, not a wash of grey
    lines = [int((np.diff((row < 225).astype(int)) == 1).sum()) for row in hatched]
    assert max(lines) >= 1 and min(hatched.min(axis=0)) < 200
    label = next(one.box for one in plan.drawing.labels if one.owner == "A-1")
    tint = dots(Box(label.x0 - 500, label.y0, label.x0 - 100, label.y0 + 100))
    assert tint.std() < 6 and 230 < tint.mean() < 250  # seen beside white paper
    white = dots(Box(100, 100, 900, 900))
    assert white.min() == 255


def test_no_word_of_the_sheet_leaves_its_page() -> None:
    with TemporaryDirectory() as folder:
        path = Path(folder) / "sheet.pdf"
        path.write_bytes(sheet())
        command = ["pdftotext", "-bbox", path, "-"]
        told = subprocess.run(command, capture_output=True, check=True, timeout=60, text=True)
    pages = told.stdout.split("<page ")[1:]
    assert len(pages) >= 3
    for page in pages:
        width, height = map(float, re.findall(r'(?:width|height)="([\d.]+)"', page)[:2])
        words = re.findall(
            r'<word xMin="(-?[\d.]+)" yMin="(-?[\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)"', page
        )
        assert len(words) > 20
        for x0, y0, x1, y1 in (map(float, word) for word in words):
            assert 14 < x0 < x1 < width - 14  # half a centimetre, which printers leave white
            assert 14 < y0 < y1 < height - 14


def test_nothing_in_the_sheet_is_under_two_millimetres_tall() -> None:
    """Capitals of Source Sans are 0.660 of its size (tests/test_drawing_style.py)."""
    sizes: list[tuple[float, str]] = []

    def visit(text: str, cm: Any, tm: Any, _font: Any, size: float) -> None:
        if text.strip():
            one = abs(cm[0] * cm[3] - cm[1] * cm[2]) * abs(tm[0] * tm[3] - tm[1] * tm[2])
            sizes.append((size * math.sqrt(one), text.strip()))

    for page in PdfReader(BytesIO(sheet())).pages:
        page.extract_text(visitor_text=visit)
    assert len(sizes) > 100
    small = [(size, text) for size, text in sizes if size * 25.4 / 72 * 0.66 < 1.98]
    assert small == []


def test_the_sheet_is_tagged_and_names_itself() -> None:
    reader = PdfReader(BytesIO(sheet()))
    catalogue = reader.trailer["/Root"]
    assert catalogue["/MarkInfo"]["/Marked"]
    assert str(catalogue["/Lang"]).startswith("en")
    assert reader.metadata and reader.metadata.title == drawn(CASE, Paper.A4)[0].title
    assert "panel 1 of 4" in reader.pages[1].extract_text()
