"""The printed sheet: its pages, its words, and that a plan keeps its true size."""

from __future__ import annotations

import io
import math
import re
import subprocess
from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest
from example_lays import facing, record, skirt, squares
from pypdf import PdfReader

from marker.lay import Proof
from marker.plan.drawing.page import Paper
from marker.plan.sheet import cloths as sheet_cloth
from marker.plan.sheet import words as sheet_words
from marker.plan.sheet.setting import compile_sheet
from marker.plan.typeset import printable
from marker.plan.words.sums import check_sum, leftovers
from marker.plan.words.tearing import full_steps
from marker.record import Record
from marker.units import System, set_fractions

BAR = 5000
"""Length of the test drawing's bar in 1/100 mm."""


def drawing(paper: Paper, name: str = "plan") -> str:
    """A drawing as large as the paper, with a bar of 5 cm that starts 3 cm from the left."""
    width, height = paper.size
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width / 100}mm" '
        f'height="{height / 100}mm" viewBox="0 0 {width} {height}">'
        f'<rect x="3000" y="10000" width="{BAR}" height="400" fill="#000"/>'
        f'<text x="3000" y="5000" font-size="600" font-family="Source Sans Pro">{name}</text></svg>'
    )


def set_sheet(told: Record, paper: Paper = Paper.A4) -> bytes:
    return compile_sheet(
        told, {lay.cloth.key: drawing(paper, lay.cloth.key) for lay in told.lays}, paper
    )


def pages(pdf: bytes) -> list[str]:
    """The words of each page, the spaces between them made single."""
    return [" ".join(page.extract_text().split()) for page in PdfReader(io.BytesIO(pdf)).pages]


@pytest.fixture(scope="module")
def told() -> list[str]:
    return pages(set_sheet(record()))


def plain(text: str) -> str:
    return " ".join(set_fractions(text).split())


@pytest.mark.parametrize(
    ("paper", "width", "height"),
    # ISO 216 A4 is 297 x 210 mm, Letter 11 x 8 1/2 in (both from memory), landscape; 72 pt an inch.
    [(Paper.A4, 297 / 25.4 * 72, 210 / 25.4 * 72), (Paper.LETTER, 792, 612)],
)
def test_pages_have_the_papers_size(paper: Paper, width: float, height: float) -> None:
    for page in PdfReader(io.BytesIO(set_sheet(record(), paper))).pages:
        assert float(page.mediabox.width) == pytest.approx(width, abs=0.02)
        assert float(page.mediabox.height) == pytest.approx(height, abs=0.02)


def test_a_page_to_buy_by_then_a_plan_and_its_tears_for_each_cloth(told: list[str]) -> None:
    assert len(told) == 8
    assert "To buy" in told[0] and "Pieces" in told[0] and "Take care" in told[4]
    assert told[1].startswith("main") and told[3].startswith("facing")
    assert "Tear by tear" in told[2] and "Tear by tear" in told[4]
    assert "Piece cards" in told[5]
    for number, page in enumerate(told, start=1):
        assert f"{number} of {len(told)}" in page
        assert "date" in page or number in (2, 4)  # there it is drawn


def test_every_piece_is_listed_with_its_size(told: list[str]) -> None:
    rows = (
        "A panel 3 × 108 × 112 cm along the warp indigo sprig cotton Ilse, dance skirt",
        "B band 1 × 78 × 7.5 cm across indigo sprig cotton Ilse, dance skirt",
        # 43 1/2 x 7 in = 110.49 x 17.78 cm, printed up and marked.
        "F hem facing 3 × 110.5* × 17.8 cm* across unbleached calico Ilse, dance skirt",
        "G pocket 12 × 16.6* × 17.8 cm* along the warp unbleached calico Ilse, dance skirt",
        "T tie 1 × 7.7* × 101.6 cm along the warp unbleached calico Ilse, dance skirt",
    )
    for row in rows:
        assert row in told[0]


def test_the_shopping_list_has_what_to_buy_and_what_it_comes_to(told: list[str]) -> None:
    # 3.40 m at 12.50 = 42.50; 3.40 x 1.14 m at 145 g/m2 = 562.02 g.
    assert "3.40 m 334 cm 42.50 EUR 562 g" in told[0]
    # 40 1/2 in = 1.0287 m, which print shows as 1.03 m and marks.
    assert "1.03 m* 96.6 cm*" in told[0]
    assert "tape and binding hem binding 3.32 m 332 cm" in told[0]
    assert "Not counted, for want of a price:" in told[0]
    assert "* rounded in print to 1 mm; what is bought or cut is rounded up." in told[0]


def test_the_garment_is_told_with_its_turn_downs(told: list[str]) -> None:
    for fact in (
        "panels 3", "cut length of a panel 108 cm", "round the hem 330 cm", "drawn up to 76 cm",
        "fulness 4.3 to 1", "opening 26 cm", "front 98 cm 8 cm", "side 99 cm 7 cm",
        "back 100 cm 6 cm", "Under 3.6 m round the hem the skirt stays light.",
        "The band is torn across the cloth after the panels.",
    ):  # fmt: skip
        assert fact in told[0]


@pytest.mark.parametrize("units", System)
def test_every_step_sum_and_leftover_is_printed(units: System) -> None:
    case = record(units)
    printed = pages(set_sheet(case))
    for lay, page in zip(case.lays, printed[2:5:2], strict=True):
        for step in full_steps(lay, units):
            assert f"{step.numbers} {plain(step.text)}" in page
        assert plain(check_sum(lay, units)) in page
        for line in leftovers(lay, units):
            assert plain(line) in page
        assert plain(lay.bound_by) in page


def test_a_wearer_is_not_named_twice() -> None:
    told = record()
    garment = replace(told.garments[0], name="Ilse's skirt")
    first = pages(set_sheet(replace(told, garments=(garment,))))[0]
    assert "along the warp indigo sprig cotton Ilse's skirt B band" in first
    assert "Ilse's skirt panels 3" in first


def test_cautions_are_printed(told: list[str]) -> None:
    for caution in (*sheet_words.TEARING, *sheet_words.CAUTIONS):
        assert caution.replace("'", "’") in told[4].replace("'", "’")


def test_nothing_rounded_no_mark() -> None:
    only = replace(record(), lays=(skirt(),))
    assert "*" not in "".join(pages(set_sheet(only)))
    inches = replace(record(System.IN), lays=(facing(),), garments=())
    assert "*" not in "".join(pages(set_sheet(inches)))


def test_a_proved_step_and_an_open_gap_are_told_apart() -> None:
    bound = skirt().length - 16_000  # 10 cm
    step = replace(record(), lays=(replace(skirt(), bound=bound + 15_000, proof=Proof.STEP),))
    assert "Proved: one step (10 cm) less is not enough." in pages(set_sheet(step))[2]
    gap = replace(record(), lays=(replace(skirt(), bound=bound, proof=Proof.OPEN, goals=()),))
    words = pages(set_sheet(gap))[2]
    # (331.5 - 321.5) / 321.5 = 3.11 %, told no smaller than it is.
    assert "Open: within 3.2 % of the bound." in words
    assert "none can be shorter than 321.5 cm" in words
    assert "Shortest" not in words


def test_squaring_is_told_where_the_need_is(told: list[str]) -> None:
    assert "2.5 cm of the need for squaring the end" in told[0]


def test_washing_one_way_and_kept_selvedges_are_told() -> None:
    cloth = replace(
        skirt().cloth, one_way=True, keep_selvedges=True, warp_shrinkage=Decimal(3),
        weft_shrinkage=Decimal(1),
    )  # fmt: skip
    words = pages(set_sheet(replace(record(), lays=(replace(skirt(), cloth=cloth),))))[0]
    assert "selvedges kept (1 cm), one way, wash before laying" in words
    assert "shrinks 3 % in length, 1 % in width, to 112.9 cm" in words


def test_prices_of_several_cloths_are_summed() -> None:
    other = replace(
        skirt(), cloth=replace(skirt().cloth, key="other", name="red wool"), pieces=skirt().pieces
    )
    assert (
        "all that is priced 85.00 EUR"
        in pages(set_sheet(replace(record(), lays=(skirt(), other))))[0]
    )


HOSTILE = '#panic("x") *bold* $x^2$ <b> @ref `raw` \\ // /* [ ] = # "q" {{ }} <script>'


def test_markup_in_names_prints_as_text() -> None:
    told = record(title=HOSTILE)
    garment = replace(told.garments[0], name=HOSTILE, wearer=HOSTILE, advice=(HOSTILE,))
    lay = replace(skirt(), cloth=replace(skirt().cloth, name=HOSTILE))
    lay = replace(lay, pieces=tuple(replace(piece, name=HOSTILE) for piece in lay.pieces))
    words = "".join(
        pages(set_sheet(replace(told, garments=(garment,), lays=(lay,), choices=(HOSTILE,))))
    )
    bare = re.sub(r"\s", "", words)
    # Title, garment, wearer twice, advice, choice, cloth, and two pieces in the list.
    assert bare.count(re.sub(r"\s", "", HOSTILE)) >= 9


@pytest.mark.slow
def test_a_title_of_any_length_or_script_is_set() -> None:
    for title in ("x" * 300, "word " * 80, "Żniwny taniec — Šaty Žatva Ďug", "a\x07b\u200bc"):
        assert len(pages(set_sheet(record(title=title)))) >= 5


def test_emoji_print_as_a_star_and_not_as_a_box() -> None:
    title = "Lantern \U0001f483\U0001f3fd\u200d\u2640\ufe0f walk \U0001f56f\ufe0f \U0001f33e"
    assert printable(title) == "Lantern * walk * *"
    assert printable("½ → ✓ Ž №") == "½ → ✓ Ž №"
    (first, *_) = pages(set_sheet(record(title=title)))
    assert "Lantern * walk * *" in first


@pytest.mark.slow
def test_a_long_list_of_tears_runs_on_in_columns() -> None:
    case = replace(record(System.IN), lays=(squares(), facing()), garments=())
    printed = pages(set_sheet(case))
    assert "33 to 256" in printed[2]
    many = full_steps(squares(), System.IN)
    told = [replace(step, text=f"{step.text} {i}") for i in range(12) for step in many]
    lots = replace(case, lays=(squares(),))
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(sheet_cloth, "full_steps", lambda *_: tuple(told))
        printed = pages(set_sheet(lots))
    assert len(printed) > 3
    text = " ".join(printed[2:])
    for step in told:
        assert f"{step.numbers} {plain(step.text)}" in text


def test_the_same_record_gives_the_same_bytes() -> None:
    assert set_sheet(record()) == set_sheet(record())
    assert set_sheet(record()) != set_sheet(record(title="Another"))


def test_no_date_is_kept() -> None:
    about = PdfReader(io.BytesIO(set_sheet(record()))).metadata
    assert about is not None and about.title == "Harvest dance, first skirt"
    assert "/CreationDate" not in about and "/ModDate" not in about


def test_only_the_packages_own_faces_are_used() -> None:
    names = set()
    for page in PdfReader(io.BytesIO(set_sheet(record()))).pages:
        fonts = page["/Resources"].get_object().get("/Font", {}).get_object()
        names |= {font.get_object()["/BaseFont"].partition("+")[2] for font in fonts.values()}
    assert names and all(name.startswith("SourceSansPro-") for name in names)


def test_no_type_is_too_small_to_read() -> None:
    # Capitals of the face are 0.66 of its size; 2 mm is 5.67 pt.
    sizes: set[float] = set()

    def see(text: str, cm: list[float], tm: list[float], _: object, size: float) -> None:
        if text.strip():
            # Words that read upwards have their height in the other column.
            sizes.add(size * math.hypot(*tm[2:4]) * math.hypot(*cm[2:4]))

    texts = list(PdfReader(io.BytesIO(set_sheet(record()))).pages)
    for page in texts[:1] + texts[2::2] + texts[5::2]:
        page.extract_text(visitor_text=see)
    assert sizes and min(sizes) * 0.66 >= 5.67


@pytest.mark.parametrize("paper", Paper)
def test_the_bar_on_the_plan_is_printed_five_centimetres_long(
    paper: Paper, tmp_path: Path, need_tool: Callable[[str], str]
) -> None:
    pdf = tmp_path / "sheet.pdf"
    pdf.write_bytes(set_sheet(record(), paper))
    run = [need_tool("pdftoppm"), "-r", "254", "-f", "2", "-l", "2", "-gray", str(pdf)]
    subprocess.run([*run, str(tmp_path / "page")], check=True)
    picture = next(tmp_path.glob("page*.pgm")).read_bytes()
    size = re.match(rb"P5\s+(\d+)\s+(\d+)\s+255\s", picture)
    assert size
    width, row = int(size[1]), 1020  # ten dots to the millimetre: 102 mm down, through the bar
    line = picture[size.end() + row * width : size.end() + (row + 1) * width]
    dark = [x for x, tone in enumerate(line) if tone < 128]
    assert abs(dark[0] - 300) <= 1
    assert abs(len(dark) - BAR // 10) <= 1
