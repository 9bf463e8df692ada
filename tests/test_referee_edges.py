"""The referee at the edges of what it tells; found by spoiling its code on purpose."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from asked_lays import flawed
from changes import recloth
from test_referee_sheet import pdf
from test_referee_template import drawn
from test_referee_template import record as bodice

from marker.geometry import Rect
from marker.record import Notion, Thread
from marker.referee import check_template, findings
from marker.referee.paper import pages
from marker.referee.record import notion_faults
from marker.referee.room import overlaps
from marker.referee.sewing import thread_faults
from marker.referee.template import _runs


def test_what_holds_no_cloth_lies_over_nothing() -> None:
    piece = ("A-1", Rect(0, 0, 10, 10), None)
    for empty in (Rect(5, 2, 5, 8), Rect(2, 5, 8, 5), Rect(8, 2, 2, 8)):
        assert list(overlaps([piece, ("offcut-1", empty, None)])) == []
    assert len(list(overlaps([piece, ("offcut-1", Rect(5, 5, 6, 6), None)]))) == 1


def test_flaws_under_pieces_are_told_in_bounds() -> None:
    lay = flawed()
    spot = lay.placements[0].rect(lay.piece(lay.placements[0].letter))
    for many, said in ((200, 200), (201, 201)):
        flaws = tuple(Rect(spot.x0 + 2 * at, spot.y0, spot.x0 + 2 * at + 1, spot.y0 + 1)
                      for at in range(many))  # fmt: skip
        told = findings(recloth(lay, flaws=flaws))
        assert sum("lies over flaw" in one or "lies over a flaw" in one for one in told) == said
    assert "More than 200 times a piece lies over a flaw; the rest aren't listed." in told


def test_the_finest_thread_that_can_be_is_no_fault() -> None:
    finest = Thread(name="silk", spool=1, stitch=1, tail=0, slack=0, arm=1, tex=1)
    assert list(thread_faults(finest)) == []
    for wrong in ({"spool": 0}, {"stitch": 0}, {"tail": -1}, {"slack": -1}, {"tex": 0}):
        assert len(list(thread_faults(replace(finest, **wrong)))) == 1
    assert len(list(thread_faults(replace(finest, arm=0)))) == 1


def test_one_matrix_is_taken_after_the_other() -> None:
    (page,) = pages(pdf("2 3 5 7 11 13 cm 17 19 23 29 31 37 cm 1 1 m 2 3 l S 4 5 m 6 7 l S"))
    first, second = (
        [(x * 72 / 25.4, 210 * 72 / 25.4 - y * 72 / 25.4) for x, y in run] for run in page.runs
    )
    # 1, 1 comes to 71, 85 by the nearer matrix, and from there to 578, 821 by the further one.
    assert first[0] == pytest.approx((2 * 71 + 5 * 85 + 11, 3 * 71 + 7 * 85 + 13))
    assert first[1] == pytest.approx((2 * 134 + 5 * 162 + 11, 3 * 134 + 7 * 162 + 13))
    assert len(second) == 2


@pytest.mark.parametrize("side", range(4))
def test_what_one_cuts_off_another_does_not_bring_back(side: int) -> None:
    """Two windows one in the other, the smaller first or last; a line lies in the larger alone."""
    small = ["30 0 270 210", "0 30 297 180", "0 0 270 210", "0 0 297 180"][side]
    spot = ["10 100", "100 10", "290 100", "100 200"][side]
    small, large = f"{small} re W n", "0 0 297 210 re W n"
    drawn = f"{spot} m {spot} l S 150 100 m 151 100 l S"
    for windows in (f"{small} {large}", f"{large} {small}"):
        (page,) = pages(pdf(f"q {72 / 25.4} 0 0 {72 / 25.4} 0 0 cm {windows} {drawn} Q"))
        assert len(page.runs) == 1
    (page,) = pages(pdf(f"q {72 / 25.4} 0 0 {72 / 25.4} 0 0 cm q {small} Q {large} {drawn} Q"))
    assert len(page.runs) == 2


def test_what_is_bought_is_measured_or_counted() -> None:
    assert list(notion_faults([Notion("tape", 160), Notion("hook", count=3)])) == []
    for less in ({"length": -1}, {"count": -1}, {"step": -1}):
        (fault,) = notion_faults([replace(Notion("tape", 160), **less)])
        assert fault == "tape is less than nothing."
    (fault,) = notion_faults([Notion("tape", 160, count=2)])
    assert fault == "tape is both counted and measured."


def test_templates_that_cannot_be_read_are_told() -> None:
    front, back = (piece for piece in bodice().lays[0].pieces if piece.letter in ("A", "B"))
    (fault,) = check_template(["<svg"], front)
    assert fault.startswith("A page of A isn't sound XML: ")
    good = next(page for page in drawn(1)[1] if 'id="cut-B-1"' in page)
    bad = {
        "The window of B-1 isn't one rectangle.":
            re.sub(r'(<clipPath id="window-B-1">)', r'\1<path d="M0 0" />', good),
        "The cut line of B-1 isn't made of M, L, C and Z.":
            re.sub(r'( d=")M', r"\1Q", good),
    }  # fmt: skip
    for said, page in bad.items():
        assert page != good
        assert said in check_template([page], back)
    for data in ("M 1 2 L", "M 1 2 L x", "L 1 2", "M 1 L 2 3", "M 1 2 A 1 2"):
        assert _runs(data) is None
    assert _runs("M 1 2 L 3 4 Z") is not None
    square = replace(back, outline=None)
    said = "B has no outline, so no template is asked for."
    assert said in check_template([good], square)
