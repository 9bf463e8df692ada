"""Paper: every PDF has pages of the paper's own size, and every SVG says how large it is.

A4 is 210 x 297 mm (ISO 216, from memory), Letter 8 1/2 x 11 in; both lie landscape. A point is
1/72 in; in SVG 1 in = 96 px = 25.4 mm (W3C, CSS lengths).
"""

from __future__ import annotations

import io
import re
from fractions import Fraction
from pathlib import Path

import pytest
from pypdf import PdfReader

from marker.plan.drawing.page import Paper
from marker.plan.pleats.page import pleats_files
from marker.plan.thumbs.grid import room_of
from marker.plan.thumbs.page import heading_block, pages, pdf, whole, words_blocks
from marker.units import System

OUT = Path(__file__).parents[1] / "out"
SHAPES = {
    Paper.A4: (Fraction(297), Fraction(210)),
    Paper.LETTER: (Fraction(2794, 10), Fraction(2159, 10)),
}
"""Width and height in mm."""
DRAWN = sorted(OUT.glob("*/**/*.svg"))


def points(paper: Paper) -> tuple[float, float]:
    width, height = SHAPES[paper]
    return float(width / Fraction(254, 10) * 72), float(height / Fraction(254, 10) * 72)


def test_the_papers_have_their_sizes_in_points() -> None:
    assert points(Paper.LETTER) == (792, 612)
    assert points(Paper.A4) == pytest.approx((841.8898, 595.2756), abs=1e-4)
    for paper, (width, height) in SHAPES.items():
        assert paper.size == (width * 100, height * 100)


def sizes(data: bytes) -> set[tuple[float, float]]:
    boxes = (page.mediabox for page in PdfReader(io.BytesIO(data)).pages)
    return {(round(float(box.width), 1), round(float(box.height), 1)) for box in boxes}


@pytest.mark.parametrize("paper", Paper)
def test_pages_of_compare_chart_and_reach_have_the_papers_size(paper: Paper) -> None:
    blocks = (
        heading_block("Harvest", "", 20000),
        *words_blocks("Notes", ["one", "two"] * 60, 20000),
    )
    drawn = pages(blocks, paper, "Harvest", "Words")
    assert len(drawn) > 1
    assert sizes(pdf(drawn, "Harvest")) == {tuple(round(side, 1) for side in points(paper))}
    assert room_of(paper)[0] < paper.size[0]


@pytest.mark.parametrize("paper", Paper)
def test_the_page_of_pleats_has_the_papers_size(paper: Paper) -> None:
    (data,) = pleats_files("Harvest", [], System.CM, paper).values()
    assert sizes(data) == {tuple(round(side, 1) for side in points(paper))}


def test_a_picture_of_all_is_as_broad_as_the_paper() -> None:
    drawn = whole((heading_block("Harvest", "", 20000),), Paper.LETTER, "Harvest", "Words")
    assert 'width="279.4mm"' in drawn


@pytest.mark.parametrize("path", DRAWN, ids=lambda path: "-".join(path.relative_to(OUT).parts))
def test_a_unit_of_every_picture_is_a_hundredth_of_a_millimetre(path: Path) -> None:
    """So that 2540 of them are an inch, and 96 px, in a browser, in which mm are what they say."""
    # Pages of a long bolt stand in it one below the other, each in a picture within.
    head, *within = re.findall(r"<svg [^>]*>", path.read_text(encoding="utf-8"))
    sides = [re.search(rf' {side}="([\d.]+)mm"', head) for side in ("width", "height")]
    box = re.search(r' viewBox="0 0 (\d+) (\d+)"', head)
    assert box and all(sides)
    assert [Fraction(side[1]) * 100 for side in sides if side] == [int(box[1]), int(box[2])]
    if path.name.startswith("plan-"):
        width, height = Paper.A4.size
        assert (int(box[1]), int(box[2])) == (width, height * (len(within) + 1))
