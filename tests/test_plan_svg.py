"""The SVG itself: goldens from stored lays, the group that is read back, safe text, true print.

Goldens are redrawn from the stored records, never from a solve. To rewrite them after a
change that was looked at: MARKER_REWRITE=1 pytest tests/test_plan_svg.py
"""

from __future__ import annotations

import os
import re
import xml.etree.ElementTree as ET
from dataclasses import replace
from pathlib import Path

import pytest
from plan_lays import RECORDS, drawn, scrap, skirt, worked_out

from marker import referee
from marker.lay import Lay
from marker.plan.drawing import style
from marker.plan.drawing.page import Paper
from marker.plan.lays.svg import draw, emit
from marker.record import Record, dump, load

GOLDEN = Path(__file__).parent / "golden"
REWRITE = bool(os.environ.get("MARKER_REWRITE"))
STORED = [(name, Paper.A4) for name in RECORDS if name != "long"] + [("skirt", Paper.LETTER)]
NAMES = [f"{name}-{paper}" for name, paper in STORED]
SVG = "{http://www.w3.org/2000/svg}"


def stored(name: str) -> Record:
    path = GOLDEN / f"{name}.lay.json"
    if REWRITE:
        path.write_text(dump(RECORDS[name]()), encoding="utf-8")
    return load(path)


def differs(drawn: str, golden: Path) -> str:
    """The first line in which a drawing differs from a golden; empty if none does."""
    old = golden.read_text(encoding="utf-8")
    if old == drawn:
        return ""
    pairs = zip(old.splitlines(), drawn.splitlines(), strict=False)
    where = next((f"{a}\n{b}" for a, b in pairs if a != b), "one is longer")
    return f"{golden.name} differs; first lines:\n{where}"


@pytest.mark.parametrize(("name", "paper"), STORED, ids=NAMES)
def test_stored_lays_are_redrawn_byte_for_byte(name: str, paper: Paper) -> None:
    record = stored(name)
    drawn = emit(record, record.lays[0], worked_out(record, record.lays[0], paper))
    golden = GOLDEN / f"{name}-{paper.value}.svg"
    if REWRITE:
        golden.write_text(drawn, encoding="utf-8")
    assert differs(drawn, golden) == ""


def test_the_comparison_with_goldens_can_fail(tmp_path: Path) -> None:
    record = stored("skirt")
    drawn = draw(record, record.lays[0], Paper.A4)
    golden = tmp_path / "golden.svg"
    golden.write_text(drawn.replace('id="A-2"', 'id="A-9"'), encoding="utf-8")
    assert "A-9" in differs(drawn, golden)
    golden.write_text(drawn[:-1], encoding="utf-8")
    assert differs(drawn, golden)
    assert draw(replace(record, title="Another"), record.lays[0], Paper.A4) != drawn


@pytest.mark.parametrize("name", RECORDS)
@pytest.mark.parametrize("paper", list(Paper))
def test_the_referee_reads_the_lay_back(name: str, paper: Paper) -> None:
    record, lay, plan = drawn(name, paper)
    assert referee.check_drawing(emit(record, lay, plan), lay) == ()


def parsed() -> tuple[Record, Lay, ET.Element]:
    record = skirt()
    return record, record.lays[0], ET.fromstring(draw(record, record.lays[0], Paper.A4))


def test_the_group_lay_holds_the_exact_figures_of_the_cloth() -> None:
    _, lay, root = parsed()
    group = next(one for one in root.iter(f"{SVG}g") if one.get("id") == "lay")
    found = {one.get("id"): one for one in group}
    for spot in lay.placements:
        rect = spot.rect(lay.piece(spot.letter))
        wanted = [str(value) for value in (rect.x0, rect.y0, rect.along, rect.across)]
        assert [found[spot.id].get(k) for k in ("x", "y", "width", "height")] == wanted
    for number, offcut in enumerate(lay.offcuts, 1):
        assert found[f"offcut-{number}"].get("x") == str(offcut.rect.x0)
    assert found["bolt"].get("width") == str(lay.bolt.along)
    assert len(found) == len(lay.placements) + len(lay.offcuts) + len(lay.tears) + 1


def test_lines_in_the_lay_are_as_heavy_on_paper_as_the_table_says() -> None:
    record, lay, root = parsed()
    group = next(one for one in root.iter(f"{SVG}g") if one.get("id") == "lay")
    match = re.search(r"scale\(([\d.]+) -([\d.]+)\)", group.get("transform") or "")
    assert match
    assert match[1] == match[2]
    scale = float(match[1])
    heavy = {one.get("id"): float(one.get("stroke-width") or 0) * scale for one in group}
    assert heavy["A-1"] == pytest.approx(style.OUTLINE, abs=0.01)
    assert heavy["bolt"] == pytest.approx(style.EDGE, abs=0.01)
    assert heavy["tear-2"] == pytest.approx(style.TEAR, abs=0.01)
    assert all(heavy[f"tear-{tear.number}"] >= style.TEAR_LEAST - 0.01 for tear in lay.tears)
    assert "vector-effect" not in draw(record, lay, Paper.A4)


def test_the_page_is_true_to_size_with_whole_units() -> None:
    record = skirt()
    for paper, size in ((Paper.A4, ("297mm", "210mm")), (Paper.LETTER, ("279.4mm", "215.9mm"))):
        root = ET.fromstring(draw(record, record.lays[0], paper))
        assert (root.get("width"), root.get("height")) == size
        assert root.get("viewBox") == "0 0 {} {}".format(*paper.size)
        assert root.find(f"{SVG}title") is not None
        assert "Buy 3.40 m" in (root.findtext(f"{SVG}desc") or "")


def test_hostile_titles_and_names_are_harmless() -> None:
    record = scrap()
    text = draw(record, record.lays[0], Paper.A4)
    root = ET.fromstring(text)
    assert not list(root.iter(f"{SVG}script"))
    assert "<script" not in text
    assert not re.search(r"[\x00-\x09\x0b-\x1f\x7f]", text)
    shown = [one.text or "" for one in root.iter(f"{SVG}text")]
    assert any(line.startswith("<script>alert(1)</script>") and line[-1] == "…" for line in shown)


def test_families_with_figures_are_quoted() -> None:
    """Browsers drop a whole font list that names a family beginning with a figure unquoted."""
    for family in style.FONTS.split(", "):
        words = family.strip("'").split()
        plain = all(re.match(r"[A-Za-z-]", word) for word in words)
        assert plain or family.startswith("'")


def test_no_dates_and_no_machine() -> None:
    record = skirt()
    text = draw(record, record.lays[0], Paper.A4)
    assert not re.search(r"\b20\d\d-\d\d", text)
    assert not any(str(place) in text for place in (Path.cwd(), Path.home(), Path(__file__).parent))


@pytest.mark.parametrize("name", ["skirt", "strips"])
@pytest.mark.slow
def test_the_typesetter_takes_the_drawing(name: str, tmp_path: Path) -> None:
    """At true size, with the text as text in the font that the sheet is set in."""
    import font_source_sans_pro
    import pypdf
    import typst

    record = RECORDS[name]()
    (tmp_path / "plan.svg").write_text(draw(record, record.lays[0], Paper.A4), encoding="utf-8")
    page = "#set page(width: 297mm, height: 210mm, margin: 0pt)\n#image({})\n"
    (tmp_path / "page.typ").write_text(page.format('"plan.svg", width: 297mm'), encoding="utf-8")
    found = typst.compile(
        tmp_path / "page.typ",
        font_paths=[font_source_sans_pro.font_directory],
        ignore_system_fonts=True,
    )
    (tmp_path / "page.pdf").write_bytes(found)
    (sheet,) = pypdf.PdfReader(tmp_path / "page.pdf").pages
    assert "Tear in this order" in sheet.extract_text()
    assert float(sheet.mediabox.width) == pytest.approx(297 / 25.4 * 72, abs=0.1)
