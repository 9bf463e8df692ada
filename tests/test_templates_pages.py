"""Templates parsed back out of the PDF, for every demo case: outlines, squares, overlaps."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import lru_cache
from io import BytesIO
from pathlib import Path

import pytest
from drawn_pdf import Drawn, Page, Spot, pages, squares
from pypdf import PdfReader
from shapely import LineString, Polygon, box
from shapely.affinity import translate

from marker.geometry.outline import TOLERANCE
from marker.plan.drawing import style
from marker.plan.drawing.page import Paper
from marker.plan.templates.guides import Made
from marker.plan.templates.making import make
from marker.plan.templates.shapes import Template, templates
from marker.plan.templates.tiling import overlap
from marker.plan.unscaled import unscaled
from marker.record import Record, load
from marker.units import MM

OUT = Path(__file__).parents[1] / "out"
CURVED = ("apron", "drawn-bodice", "gored-walking-skirt", "half-circle-skirt")
"""The demo cases that have curved pieces."""
CUT = style.CUT / 100
"""The cut line is the one path of this weight, mm."""
CLOSE = 0.1
"""What the geometry is exact to, mm."""


@lru_cache
def record(case: str) -> Record:
    return load(OUT / case / "lay.json")


@lru_cache
def made(case: str, paper: Paper = Paper.A4) -> Made:
    return make(record(case), paper)


@lru_cache
def sheets(case: str, name: str) -> list[Page]:
    return pages(made(case).files[name])


def shapes() -> Iterator[tuple[str, Template]]:
    for case in CURVED:
        for template in templates(record(case)):
            yield case, template


SHAPES = list(shapes())
NAMED = [f"{case} {template.letter}" for case, template in SHAPES]
SMALL = ("apron", "drawn-bodice")
EACH = [
    pytest.param(case, template, marks=[] if case in SMALL else [pytest.mark.slow])
    for case, template in SHAPES
]
"""Templates of many pages take long to read back."""


def cuts(page: Page) -> list[Drawn]:
    """The cut lines on a page: they alone run behind a window and have their weight."""
    return [path for path in page.paths if abs(path.stroke - CUT) < 0.005 and path.clip]


@lru_cache
def parted(case: str) -> list[list[Page]]:
    """The pages template by template: those that follow one another and show one outline."""
    found: list[list[Page]] = []
    last: tuple[float, ...] = ()
    for page in sheets(case, "templates-a4.pdf"):
        for cut in cuts(page):
            x0, y0, x1, y1 = cut.box
            size = round(x1 - x0, 1), round(y1 - y0, 1)
            if size != last:
                found.append([])
            found[-1].append(page)
            last = size
    return found


def its_pages(case: str, template: Template) -> list[Page]:
    """The pages of one template, without the first page of all."""
    order = [shape.letter for shape in templates(record(case))]
    assert len(parted(case)) == len(order)
    return parted(case)[order.index(template.letter)]


def wanted(template: Template, turned: bool) -> list[Spot]:
    """Places on the true outline that is drawn, in mm, as it is seen; about 2 mm apart."""
    found = []
    for run in template.cut:
        for segment in run:
            count = max(2, math.ceil(segment.length / (2 * MM)))
            found += [segment.at(segment.length * k / count) for k in range(count + 1)]
    if turned:
        return [(v / MM, u / MM) for u, v in found]
    return [(u / MM, -v / MM) for u, v in found]


def at_nought(spots: list[Spot]) -> list[Spot]:
    x, y = min(x for x, _ in spots), min(y for _, y in spots)
    return [(a - x, b - y) for a, b in spots]


def strays(drawn: list[Spot], true: list[Spot]) -> float:
    """How far the drawn line and the true one lie apart at most, whichever is looked from."""
    return LineString(drawn).hausdorff_distance(LineString(true))


@pytest.mark.parametrize(("case", "template"), EACH, ids=NAMED)
def test_every_page_draws_the_outline_to_a_tenth_of_a_millimetre(
    case: str, template: Template
) -> None:
    found = its_pages(case, template)
    assert found
    ways = [at_nought(wanted(template, turned)) for turned in (False, True)]
    for page in found:
        (cut,) = cuts(page)
        assert min(strays(at_nought(cut.spots), way) for way in ways) < CLOSE


@pytest.mark.parametrize(("case", "template"), EACH, ids=NAMED)
def test_the_large_sheet_draws_it_too(case: str, template: Template) -> None:
    (name,) = (name for name in made(case).files if name in LARGE)
    found = [cut for page in sheets(case, name) for cut in cuts(page)]
    ways = [at_nought(wanted(template, turned)) for turned in (False, True)]
    assert any(strays(at_nought(cut.spots), way) < CLOSE for cut in found for way in ways)


LARGE = ("templates-a0.pdf", "templates-roll.pdf")


def windows(found: list[Page]) -> list[tuple[float, float, float, float]]:
    """The pages' windows as they lie on the template, whose upper left corner is at 0, 0."""
    told = []
    for page in found:
        (cut,) = cuts(page)
        x, y = (min(spot[axis] for spot in cut.spots) for axis in (0, 1))
        assert cut.clip
        left, top, right, bottom = cut.clip
        told.append((left - x, top - y, right - x, bottom - y))
    return told


@pytest.mark.parametrize(("case", "template"), EACH, ids=NAMED)
def test_pages_show_all_of_the_outline_and_overlap_evenly(case: str, template: Template) -> None:
    found = its_pages(case, template)
    parts, lap = windows(found), overlap(record(case).units) / 100
    (cut,) = cuts(found[0])
    line = LineString(at_nought(cut.spots))
    boxes = [box(*part) for part in parts]
    shown = boxes[0]
    for other in boxes[1:]:
        shown = shown.union(other)
    assert line.difference(shown).length == 0
    for one in parts:
        for other in parts:
            across, down = (abs(one[axis] - other[axis]) for axis in (0, 1))
            wide, high = one[2] - one[0], one[3] - one[1]
            # Windows stand in one grid, whose steps leave the overlap.
            for apart, size in ((across, wide), (down, high)):
                steps = apart / (size - lap)
                assert abs(steps - round(steps)) * (size - lap) < 0.02


@pytest.mark.parametrize(("case", "template"), EACH, ids=NAMED)
def test_no_page_is_empty_and_none_is_missing(case: str, template: Template) -> None:
    parts = windows(its_pages(case, template))
    turned = strays_turned(case, template)
    ring = [(v / MM, u / MM) if turned else (u / MM, -v / MM) for u, v in template.polygon.points]
    shape = Polygon(ring)
    shape = translate(shape, -shape.bounds[0], -shape.bounds[1])
    boxes = [box(*part) for part in parts]
    assert all(one.intersection(shape).area > 0 for one in boxes)
    rest = shape
    for one in boxes:
        rest = rest.difference(one)
    # The polygon lies up to 0.1 mm outside the outline that the windows were measured from.
    assert rest.area <= 2 * TOLERANCE / MM * shape.length


def strays_turned(case: str, template: Template) -> bool:
    (cut,) = cuts(its_pages(case, template)[0])
    return strays(at_nought(cut.spots), at_nought(wanted(template, True))) < CLOSE


@pytest.mark.parametrize("case", CURVED)
@pytest.mark.slow
def test_pages_are_iso_paper_and_every_one_has_a_square_to_measure(case: str) -> None:
    inches = record(case).units.lead.value == "in"
    usual = 50.8 if inches else 50.0
    for number, page in enumerate(sheets(case, "templates-a4.pdf")):
        # ISO 216: 210 x 297 mm; a point is 1/72 in.
        assert page.size == pytest.approx((210 / 25.4 * 72, 297 / 25.4 * 72), abs=0.01)
        if cuts(page) or not number:
            assert any(abs(side - usual) < 0.005 for side in squares(page))
    (name,) = (name for name in made(case).files if name in LARGE)
    for page in sheets(case, name):
        assert sorted(squares(page)) == pytest.approx([50.0, 50.8], abs=0.005)
        if name == "templates-a0.pdf":
            # ISO 216: 841 x 1189 mm.
            mm = sorted(side / 72 * 25.4 for side in page.size)
            assert mm == pytest.approx([841, 1189], abs=0.01)
        else:
            assert page.size[0] == pytest.approx(914 / 25.4 * 72, abs=0.01)
            assert page.size[1] <= 14400


@pytest.mark.parametrize(("case", "template"), EACH, ids=NAMED)
def test_the_first_page_of_a_piece_has_both_squares(case: str, template: Template) -> None:
    first, *others = its_pages(case, template)
    assert sorted(squares(first)) == pytest.approx([50.0, 50.8], abs=0.005)
    assert all(len(squares(page)) == 1 for page in others)


def test_letter_paper_is_eight_and_a_half_by_eleven_inches() -> None:
    found = pages(made("drawn-bodice", Paper.LETTER).files["templates-letter.pdf"])
    assert len(found) > 1
    for page in found:
        assert page.size == pytest.approx((8.5 * 72, 11 * 72), abs=0.01)
    assert all(len(cuts(page)) == 1 for page in found[1:])


@pytest.mark.parametrize(("case", "template"), EACH, ids=NAMED)
def test_every_page_says_what_it_is(case: str, template: Template) -> None:
    found = its_pages(case, template)
    piece = template.piece
    for number, page in {1: found[0], len(found): found[-1]}.items():
        assert page.words.count(template.name) >= 2, "in the stamp and at the foot"
        assert f"cut {piece.count}" in page.words
        assert page.words.count(record(case).title) >= 2
        assert "Print at 100 %, never “fit to page”" in page.words
        if len(found) > 1:
            assert f"page {template.letter} {number} of {len(found)}" in page.words


def test_neighbours_are_named_on_both_sides_of_a_join() -> None:
    found = sheets("drawn-bodice", "templates-a4.pdf")
    first, second, third = found[1:4]
    assert "A 2 is laid up to the dashed line" in first.words
    assert "cut along this edge, lay it on A 1" in second.words
    assert "A 3 is laid up to the dashed line" in second.words
    assert "laid up to" not in third.words


def test_half_a_piece_is_offered_where_it_is_laid_on_the_fold() -> None:
    halves = {f"{case} {template.letter}" for case, template in SHAPES if template.half}
    assert halves == {"drawn-bodice A"}
    (first,) = (page for page in its_pages("drawn-bodice", SHAPES[2][1])[1:2])
    assert "on the fold of the cloth: don't cut here" in first.words


def test_the_first_page_says_how_and_which_pieces_have_none() -> None:
    first = sheets("drawn-bodice", "templates-a4.pdf")[0].words
    assert "Straight pieces and strips have no template" in first
    assert "a tape measure draws them faster and truer" in first
    assert "(C, D)" in first
    assert "templates-a0.pdf" in first
    assert sorted(squares(sheets("drawn-bodice", "templates-a4.pdf")[0])) == pytest.approx(
        [50.0, 50.8], abs=0.005
    )


@pytest.mark.parametrize("case", ["drawn-bodice", "apron"])
def test_print_programs_are_asked_not_to_scale(case: str) -> None:
    for content in made(case).files.values():
        root = PdfReader(BytesIO(content), strict=True).root_object
        assert root["/ViewerPreferences"]["/PrintScaling"] == "/None"
        assert root["/Type"] == "/Catalog"
        assert unscaled(b"no PDF that is known") == b"no PDF that is known"
