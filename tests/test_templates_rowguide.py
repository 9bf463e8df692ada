"""The row guide: dots parsed back out of the PDF, each at its own fraction of the panel."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from pathlib import Path

import pytest
from drawn_pdf import Drawn, Page, pages, squares

from marker.errors import BadInput
from marker.gauging import RowGuide, row_guide
from marker.plan.drawing.page import Paper
from marker.plan.templates import making
from marker.plan.templates.guides import make_guides
from marker.plan.templates.making import write
from marker.plan.templates.rowguide import Strip, draw_guide, guide_words
from marker.plan.typeset import typeset
from marker.record import Method, Pleating, Record, load
from marker.units import CM, INCH, MM, System

OUT = Path(__file__).parents[1] / "out"
ODD = RowGuide(Fraction(148 * CM, 2 * 97), Fraction(148 * CM), 97, (320, 2400, 4480), True, CM)
"""97 pleats in 148 cm: no stitch of a whole number of units comes out even."""


def printed(guide: RowGuide, paper: Paper = Paper.A4, units: System = System.CM) -> Page:
    svg = draw_guide(guide, "Skirt", "Odd case", paper, units)
    assert svg
    (page,) = pages(typeset("thumbs/pages.typ", {"title": "x", "pages": [svg]}))
    return page


def dots(page: Page) -> list[tuple[float, float]]:
    """The middles of the small filled discs, mm, row by row."""
    found = []
    for path in page.paths:
        x0, y0, x1, y1 = path.box
        if path.filled and 0.5 < x1 - x0 < 0.9 and abs(x1 - x0 - y1 + y0) < 0.01:
            found.append(((y0 + y1) / 2, (x0 + x1) / 2))
    return [(x, y) for y, x in sorted((round(y, 3), x) for y, x in found)]


def strip(page: Page) -> Drawn:
    """The strip's own outline: the widest closed box on the page but the white page itself."""
    boxes = [path for path in page.paths if path.stroke and len(set(path.corners)) == 4]
    return max(boxes, key=lambda path: path.box[2] - path.box[0])


@pytest.mark.parametrize("paper", list(Paper))
def test_every_dot_stands_at_its_own_fraction(paper: Paper) -> None:
    page = printed(ODD, paper)
    left, top, right, _ = strip(page).box
    held = Strip(ODD, paper).pleats
    assert held > 10
    found = dots(page)
    assert len(found) == 2 * held * len(ODD.rows)
    # Half a stitch from the seam line, then a stitch apart: common practice, no source.
    for at, (x, y) in enumerate(found):
        row, number = divmod(at, 2 * held)
        true = (Fraction(1, 2) + number) * Fraction(148 * CM, 194) / MM
        assert x - left == pytest.approx(float(true), abs=0.01)
        assert y - top == pytest.approx(ODD.rows[row] / MM, abs=0.01)
    assert right - left == pytest.approx(float(held * 2 * ODD.pitch / MM), abs=0.01)


@pytest.mark.slow
def test_both_ends_are_alike_so_that_the_strip_can_be_moved_on() -> None:
    page = printed(ODD)
    left, _, right, _ = strip(page).box
    row = [x for x, _ in dots(page)[: 2 * Strip(ODD, Paper.A4).pleats]]
    assert row[0] - left == pytest.approx(right - row[-1], abs=0.02)
    for words in ("continue here", "this end on the seam line", "this edge along the fold"):
        assert words in page.words
    assert sorted(squares(page)) == pytest.approx([50.0, 50.8], abs=0.005)
    # Landscape A4 (ISO 216).
    assert page.size == pytest.approx((297 / 25.4 * 72, 210 / 25.4 * 72), abs=0.01)


def test_the_panel_ends_on_the_strip_where_its_count_does() -> None:
    held = Strip(ODD, Paper.A4).pleats
    whole, rest = divmod(97, held)
    page = printed(ODD)
    assert f"after {whole} strips the panel ends at this line" in page.words
    left, top, *_ = strip(page).box
    upright = [
        path.box[0] - left
        for path in page.paths
        if path.stroke and path.box[2] - path.box[0] < 0.01 and path.box[3] - path.box[1] > 0.5
        and abs(path.stroke - 0.25) < 0.005 and path.box[1] >= top - 0.01
    ]  # fmt: skip
    wanted = float(rest * 2 * ODD.pitch / MM)
    assert any(x == pytest.approx(wanted, abs=0.01) for x in upright)


def test_a_long_row_of_readings_is_told_to_go_on() -> None:
    long = replace(ODD, panel=Fraction(148 * CM * 4), pleats=97 * 4)
    assert "cm, and so on." in " ".join(guide_words(Strip(long, Paper.A4), System.CM))


def test_the_tape_readings_check_whole_strips() -> None:
    even = RowGuide(Fraction(6 * MM), Fraction(66 * CM), 55, (3 * MM, 16 * MM, 29 * MM), True, CM)
    told = " ".join(guide_words(Strip(even, Paper.A4), System.CM))
    # 20 pleats of 12 mm to a strip: 24 and 48 cm, then 15 pleats more.
    assert "A panel has 55 pleats, 110 dots a row, over 66 cm" in told
    assert "strips end at 24, 48 cm" in told
    assert "broken line of strip 3" in told


@pytest.mark.parametrize(
    ("pitch", "units", "told"),
    [
        (Fraction(INCH, 4), System.IN, "dots stand ¼ in apart"),
        (Fraction(INCH, 4), System.CM, "dots stand 6.35 mm apart"),
        (Fraction(42 * INCH, 134), System.IN, "dots stand 0.313 in apart"),
    ],
)
def test_dots_are_told_in_the_measure_of_the_case(
    pitch: Fraction, units: System, told: str
) -> None:
    guide = replace(ODD, pitch=pitch, panel=134 * pitch, pleats=67)
    assert told in guide_words(Strip(guide, Paper.A4), units)[0]


def test_a_guide_too_deep_for_the_page_is_not_drawn() -> None:
    deep = replace(ODD, rows=(320, 18 * CM))
    assert draw_guide(deep, "Skirt", "Odd case", Paper.A4, System.CM) is None
    wide = replace(ODD, pitch=Fraction(20 * CM), pleats=3)
    assert draw_guide(wide, "Skirt", "Odd case", Paper.A4, System.CM) is None


def gauged() -> Record:
    """A kept record whose skirt is gauged by a quarter of an inch in three rows."""
    record = load(OUT / "plain-skirt" / "lay.json")
    pleating = Pleating(Method.GAUGED, INCH // 4, 3, INCH // 2, INCH // 8, seam=CM)
    (skirt,) = record.garments
    return replace(record, garments=(replace(skirt, pleating=pleating),))


def test_a_gauged_skirt_gets_the_dots_of_its_own_count() -> None:
    record = gauged()
    made = make_guides(record, Paper.A4)
    assert list(made.files) == ["row-guide-a4.pdf"]
    (page,) = pages(made.files["row-guide-a4.pdf"])
    guide = row_guide(record.garments[0], record.lays[0].cloth)
    assert guide
    row = dots(page)[: 2 * Strip(guide, Paper.A4).pleats]
    steps = [b[0] - a[0] for a, b in pairwise(row)]
    skirt = record.garments[0]
    pitch = skirt.round_hem / skirt.panels / (2 * guide.pleats) / MM
    assert steps == pytest.approx([pitch] * len(steps), abs=0.02)
    assert record.title in page.words


def test_wearers_whose_panels_are_alike_share_a_page() -> None:
    record = gauged()
    (skirt,) = record.garments
    pleating = skirt.pleating
    assert pleating
    other = replace(skirt, wearer="Juna")
    coarse = replace(skirt, wearer="Keta", pleating=replace(pleating, stitch=INCH // 2))
    made = make_guides(replace(record, garments=(skirt, other, coarse)), Paper.A4)
    first, second = pages(made.files["row-guide-a4.pdf"])
    assert "Plain gauged skirt (Ilka, Juna)" in first.words
    assert "Plain gauged skirt (Keta)" in second.words
    assert len(dots(second)) < len(dots(first))


def test_rows_beyond_the_page_are_told_and_nothing_is_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    # The referee would miss the thread of rows so far apart.
    monkeypatch.setattr(making.referee, "check_record", lambda _: ())
    record = gauged()
    (skirt,) = record.garments
    assert skirt.pleating
    deep = replace(skirt, pleating=replace(skirt.pleating, spacing=10 * CM))
    with pytest.raises(BadInput, match="the rows reach too far down for a guide on this paper"):
        write(replace(record, garments=(deep,)), tmp_path / "new", Paper.A4)
    assert not (tmp_path / "new").exists()


def test_no_guide_without_a_gauged_top() -> None:
    record = load(OUT / "drawn-bodice" / "lay.json")
    assert make_guides(record, Paper.A4).files == {}
