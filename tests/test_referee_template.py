"""The referee against templates that are drawn wrong in one way each."""

from __future__ import annotations

import re
from functools import lru_cache
from pathlib import Path

import pytest

from marker.errors import Refused
from marker.piece import Piece
from marker.plan.drawing.page import Paper
from marker.plan.templates import making
from marker.plan.templates.page import Sheet, draw_page
from marker.plan.templates.shapes import Template, templates
from marker.plan.templates.tiling import overlap, tile
from marker.record import Record, load
from marker.referee import check_template

OUT = Path(__file__).parents[1] / "out"


@lru_cache
def record() -> Record:
    return load(OUT / "drawn-bodice" / "lay.json")


@lru_cache
def drawn(number: int) -> tuple[Template, tuple[str, ...]]:
    """A template of the bodice with its pages: 0 is the front, half of it, 1 the back."""
    template = templates(record())[number]
    sheet, lap = Sheet(Paper.A4), overlap(record().units)
    tiling = tile(template, (sheet.window.width, sheet.window.height), lap)
    pages = (draw_page(tiling, at, sheet, record().units) for at in range(len(tiling.tiles)))
    return template, tuple(pages)


def back() -> tuple[Piece, list[str]]:
    template, pages = drawn(1)
    return template.piece, list(pages)


def test_it_passes_what_is_drawn() -> None:
    for number in (0, 1):
        template, pages = drawn(number)
        assert check_template(pages, template.piece, half=template.half) == ()


def test_half_a_piece_does_not_pass_for_the_whole() -> None:
    template, pages = drawn(0)
    assert template.half
    found = check_template(pages, template.piece)
    assert any("leaves some of the outline out" in fault for fault in found)
    assert any("show on no page" in fault for fault in found)


def test_a_page_that_is_missing_is_missed() -> None:
    piece, pages = back()
    found = check_template(pages[:-1], piece)
    assert len(found) == 1
    assert re.fullmatch(r"\d+ of \d+ places on the outline of B show on no page\.", found[0])
    assert check_template([], piece) == ("No page shows B.",)


@pytest.mark.parametrize(
    ("pattern", "change", "fault"),
    [
        (r'width="210mm"', 'width="205mm"', "isn't at full size"),
        (r'width="210mm"', 'width="100%"', "doesn't tell its size in millimetres"),
        (r"matrix\(0\.625 0 0 -0\.625", "matrix(0.62 0 0 -0.62", "isn't drawn at full size"),
        (r"matrix\(0\.625 0 0 -0\.625", "matrix(0.625 0 0 0.625", "right side up"),
        (r'(width|height)="50[08]0"', r'\1="4990"', "has no test square"),
        (r'clip-path="[^"]*"', "", "isn't cut off at its own window"),
        (r'id="cut-B-\d"', 'id="cut"', "lacks its matrix, its window or its cut line"),
        (r' d="M [^ ]+ [^ ]+ ', ' d="M 1 1 Q ', "isn't made of M, L, C and Z"),
    ],
)
def test_a_page_at_fault(pattern: str, change: str, fault: str) -> None:
    piece, pages = back()
    pages[1], count = re.subn(pattern, change, pages[1])
    assert count
    found = check_template(pages, piece)
    assert any(fault in one for one in found), found


def test_a_corner_drawn_a_fifth_of_a_millimetre_off() -> None:
    piece, pages = back()
    for by, some in ((0.05, False), (0.2, True)):

        def moved(match: re.Match[str], by: float = by) -> str:
            x, y = (float(match[at]) - by * 160 for at in (1, 2))
            return f' d="M {x:.2f} {y:.2f} L'

        changed = re.sub(r' d="M (\S+) (\S+) L', moved, pages[1])
        assert changed != pages[1]
        found = check_template([pages[0], changed, pages[2]], piece)
        assert any("strays from the outline" in fault for fault in found) is some


def test_nothing_is_written_where_it_refuses(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(making.referee, "check_template", lambda *_, **__: ("It strays.",))
    with pytest.raises(Refused, match=r"the template of A Front: refused by the referee\. It str"):
        making.write(record(), tmp_path / "new", Paper.A4)
    assert not (tmp_path / "new").exists()
