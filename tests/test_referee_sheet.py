"""The referee reads a written sheet back, and finds in its PDF what the lay has, or says so."""

from __future__ import annotations

import zlib
from dataclasses import replace
from pathlib import Path

import pytest
from asked_lays import ASKED
from curved_lays import CURVED
from lays import GOOD, record, skirt
from test_referee_drawing import drawing

from marker.errors import Refused
from marker.lay import Lay
from marker.plan import files
from marker.plan.drawing.page import Paper
from marker.referee import check_drawing, check_sheet
from marker.referee.drawing import wanted
from marker.referee.paper import Unreadable, pages

MM = 72 / 25.4
HIGH = 210 * MM


def pdf(*contents: str, packed: bool = True) -> bytes:
    """A plain PDF with a page for each of these contents."""
    many = len(contents)
    kids = " ".join(f"{3 + 2 * at} 0 R" for at in range(many))
    parts = [
        b"<</Type/Catalog/Pages 2 0 R>>",
        f"<</Type/Pages/Kids[{kids}]/Count {many}>>".encode(),
    ]
    for at, text in enumerate(contents):
        data = zlib.compress(text.encode()) if packed else text.encode()
        filtered = "/Filter/FlateDecode" if packed else ""
        box = f"/MediaBox[0 0 {297 * MM} {HIGH}]"
        parts.append(f"<</Type/Page/Parent 2 0 R{box}/Contents {4 + 2 * at} 0 R>>".encode())
        parts.append(
            f"<</Length {len(data)}{filtered}>>\nstream\n".encode() + data + b"\nendstream"
        )
    made, places = b"%PDF-1.7\n", []
    for number, part in enumerate(parts, 1):
        places.append(len(made))
        made += f"{number} 0 obj\n".encode() + part + b"\nendobj\n"
    rows = "".join(f"{place:010} 00000 n\r\n" for place in places)
    table = f"xref\n0 {len(places) + 1}\n0000000000 65535 f\r\n{rows}"
    end = f"trailer\n<</Size {len(places) + 1}/Root 1 0 R>>\nstartxref\n{len(made)}\n%%EOF"
    return made + (table + end).encode()


def steps(lay: Lay) -> list[str]:
    """What a page with the plan of `drawing` draws, a step for each thing of the lay.

    The page's unit is the millimetre, y up; the group lies at 12.5, 190 at 1 to 12.5.
    """
    found = []
    for shape in wanted(lay).values():
        rect = shape.rect
        corners = shape.ring or (
            (rect.x0, rect.y0), (rect.x1, rect.y0), (rect.x1, rect.y1), (rect.x0, rect.y1)
        )  # fmt: skip
        if shape.tag == "line":
            corners = ((rect.x0, rect.y0), (rect.x1, rect.y1))
        first, *others = (f"{12.5 + x * 0.0005:.4f} {20 + y * 0.0005:.4f}" for x, y in corners)
        found.append(f"{first} m {' '.join(f'{other} l' for other in others)} h S")
    return found


def page(drawn: list[str]) -> str:
    return f"q {MM} 0 0 {MM} 0 0 cm BT (40 0 m \\) S) Tj ET " + "\n".join(drawn) + " Q"


@pytest.mark.parametrize("name", GOOD | ASKED | CURVED)
def test_a_true_sheet_passes(name: str) -> None:
    lay = (GOOD | ASKED | CURVED)[name]()
    svg = drawing(lay)
    sheet = pdf(page(["0 0 m 9 9 l S"]), page(steps(lay)))
    assert check_drawing(svg, lay) == ()
    assert check_sheet(sheet, [(svg, lay)]) == ()


def told(drawn: list[str], before: str = "", lay: Lay | None = None) -> tuple[str, ...]:
    lay = lay or skirt()
    return check_sheet(pdf(before + page(drawn)), [(drawing(lay), lay)])


def test_each_thing_that_is_not_drawn_is_told() -> None:
    names, drawn = list(wanted(skirt())), steps(skirt())
    for at, name in enumerate(names):
        left_out = told(drawn[:at] + drawn[at + 1 :])
        if name == "bolt":
            assert left_out == ("No page of the sheet shows the bolt of cloth main at its scale.",)
        else:
            said = f"On the sheet, {name} of cloth main isn't drawn where it lies."
            assert left_out == (said,)


def test_what_is_drawn_a_little_off_is_told() -> None:
    drawn = steps(skirt())
    for at in range(1, len(drawn)):
        for off in ("0.02 0", "0 -0.02"):
            moved = f"q 1 0 0 1 {off} cm {drawn[at]} Q"
            assert len(told([*drawn[:at], moved, *drawn[at + 1 :]])) == 1
    kept = f"q 1 0 0 1 0.005 0 cm {drawn[1]} Q"
    assert told([drawn[0], kept, *drawn[2:]]) == ()


def test_a_plan_on_another_page_or_at_another_place_is_found_but_none_of_another_size() -> None:
    assert told(steps(skirt()), "q 1 0 0 1 3 -5 cm ") == ()
    missed = ("No page of the sheet shows the bolt of cloth main at its scale.",)
    assert told(steps(skirt()), "q 1.001 0 0 1.001 0 0 cm ") == missed
    assert told(steps(skirt()), "q 0 1 -1 0 0 0 cm ") == missed


def test_a_plan_parted_over_two_pages_is_not_shown() -> None:
    drawn, lay = steps(skirt()), skirt()
    sheet = pdf(page(drawn[:3]), page([drawn[0], *drawn[3:]]))
    assert len(check_sheet(sheet, [(drawing(lay), lay)])) == 1


def test_what_is_cut_off_or_not_painted_is_not_shown() -> None:
    drawn = steps(skirt())
    assert told(drawn, "0 0 900 600 re W n ") == ()
    assert len(told(drawn, "0 0 300 600 re W n ")) == 1
    assert len(told([*drawn[:1], drawn[1].replace("S", "n"), *drawn[2:]])) == 1
    inside = f"q 0 0 1 1 re W n {drawn[1]} Q"
    assert len(told([drawn[0], inside, *drawn[2:]])) == 1


def test_corners_may_begin_anywhere_and_run_either_way_but_none_may_differ() -> None:
    lay = CURVED["wedges"]()
    drawn, names = steps(lay), list(wanted(lay))
    at = next(at for at, shape in enumerate(wanted(lay).values()) if shape.ring)
    corners = drawn[at].removesuffix(" h S").replace(" m", "").replace(" l", "").split()
    spots = list(zip(corners[::2], corners[1::2], strict=True))

    def said(ring: list[tuple[str, str]]) -> tuple[str, ...]:
        first, *others = (" ".join(spot) for spot in ring)
        path = f"{first} m {' '.join(f'{other} l' for other in others)} h f"
        return told([*drawn[:at], path, *drawn[at + 1 :]], lay=lay)

    assert said(spots[1:] + spots[:1]) == said(spots[::-1]) == said([*spots, spots[0]]) == ()
    fault = (f"On the sheet, {names[at]} of cloth wool isn't drawn where it lies.",)
    assert said([spots[1], spots[0], *spots[2:]]) == fault
    assert said(spots[:-1]) == fault


def test_rectangles_and_curves_are_read() -> None:
    (found,) = pages(pdf("0 0 10 20 re f 0 0 m 1 1 2 2 3 3 c 5 5 6 6 v 7 7 8 8 y B*", packed=False))
    square, curve = found.runs
    assert [x * MM for x, _ in square] == pytest.approx([0, 10, 10, 0])
    assert [HIGH - y * MM for _, y in square] == pytest.approx([0, 0, 20, 20])
    assert [x * MM for x, _ in curve] == pytest.approx([0, 3, 6, 8])


GONE = [  # of equal length, so that the table still holds
    (b"%%EOF", b"", "no end"), (b"/FlateDecode", b"/FlatoDecode", "packed otherwise"),
    (b"/Parent 2 0 R", b"/Rotate    90", "turned"), (b"xref\n0", b"xxxx\n0", "no table"),
    (b"/MediaBox", b"/MediaCan", "no size"), (b"/Root", b"/Boot", "no root"),
    (b"4 0 obj", b"4 0 abc", "no such object"),
]  # fmt: skip


@pytest.mark.parametrize(("old", "new", "why"), GONE, ids=[why for *_, why in GONE])
def test_what_cannot_be_read_is_refused(old: bytes, new: bytes, why: str) -> None:
    sheet, lay = pdf(page(steps(skirt()))), skirt()
    broken = sheet.replace(old, new)
    assert broken != sheet, why
    with pytest.raises(Unreadable):
        pages(broken)
    (fault,) = check_sheet(broken, [(drawing(lay), lay)])
    assert fault.startswith("The sheet can't be read back")


def test_a_drawing_without_a_scale_is_told() -> None:
    lay = skirt()
    svg = drawing(lay).replace('width="297mm"', 'width="297"')
    (fault,) = check_sheet(pdf(page(steps(lay))), [(svg, lay)])
    assert fault == "The plan of cloth main doesn't tell its scale, so the sheet can't be judged."


def test_nothing_is_written_where_the_sheet_shows_another_lay(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    case = record()
    files.write(case, tmp_path / "good", Paper.A4)
    first = case.lays[0]
    spot = first.placements[0]
    moved = replace(first, placements=(replace(spot, y=spot.y + 160), *first.placements[1:]))
    wrong = {first.cloth.key: files.draw(case, moved, Paper.A4)}
    setting = files.compile_sheet
    monkeypatch.setattr(
        files, "compile_sheet", lambda told, plans, *more: setting(told, {**plans, **wrong}, *more)
    )
    with pytest.raises(Refused, match=f"{spot.id} of cloth {first.cloth.key} isn't drawn where"):
        files.write(case, tmp_path / "bad", Paper.A4)
    assert not (tmp_path / "bad").exists()
