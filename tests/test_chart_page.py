"""Charts as they are told: on the terminal, on paper, as data, and all files or none."""

from __future__ import annotations

import io
import json
import re
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree

import pytest
from chart_cases import PANELS, SKIRT, case
from click.testing import CliRunner
from rich.console import Console

import marker
from marker.cli import main
from marker.decide.chart import Cell, Chart, Figure, chart
from marker.plan.chart import table as chart_table
from marker.plan.chart.page import _packed, chart_files
from marker.plan.chart.words import Entry, chart_words, shares
from marker.plan.counting import counting
from marker.plan.drawing.page import Paper
from marker.plan.drawing.verbs import Words as Text
from marker.plan.thumbs.grid import room_of
from marker.units import CM

ROOT = Path(__file__).parents[1]
MANY = """
lengths = { from = "70 cm", to = "115 cm", step = "1 cm" }
widths = { from = "50 cm", to = "160 cm", step = "5 cm" }
"""
LAWN = """
hem = "facing"
[garment.skirt.facing]
cloth = "lawn"
[cloth.lawn]
name = "White lawn"
width = "90 cm"
"""
SIZES = """
widths = ["30 cm", "110 cm", "150 cm"]
sizes = [{ name = "S", waist = "60 cm" }, { name = "M", waist = "72 cm", length = "92 cm" }]
"""


@pytest.fixture(scope="module")
def sized() -> Chart:
    """Two sizes at three widths, the first too narrow, with a facing of another cloth."""
    return chart(case(SIZES, panels=LAWN + PANELS, more=""), iterations=3)


def filled(like: Chart, down: int, across: int) -> Chart:
    """A chart of so many rows and columns, its figures made up."""
    figure = {"main": Figure(333 * CM, 333 * CM)}
    row = replace(like.rows[0], name="", measures={"length": 95 * CM})
    return replace(
        like,
        rows=(row,) * down,
        widths=tuple(range(100 * CM, (100 + across) * CM, CM)),
        cells=((Cell(figure, rounds=(260 * CM,)),) * across,) * down,
    )


def test_figures_stand_in_both_measures_with_marks_and_their_notes(sized: Chart) -> None:
    words = chart_words(sized)
    metres, yards, *lawn = words.tables
    assert metres.heading == "Metres of Red linen, sold by the 10 cm"
    assert yards.heading == "Yards of Red linen, sold by the 1/8 yd"
    assert metres.stub == ("size", "waist, cm", "length, cm")
    assert [line.entries[0] for line in metres.lines] == [Entry("–", mark="a")] * 2
    assert metres.lines[0].entries[2].whole == "2.00"
    assert (yards.lines[0].entries[2].whole, yards.lines[0].entries[2].part) == ("2", "1/8")
    assert lawn == []
    assert any(note.startswith("Besides, every one takes") for note in words.notes)
    assert any(note.startswith("a: garment.skirt.panels.width") for note in words.notes)
    assert "Every figure is proved: a step less is not enough." in words.notes


def test_open_and_lent_figures_are_marked_and_told(sized: Chart) -> None:
    (bad, one, two), second = sized.cells
    open_one = replace(one, figures={"main": Figure(210 * CM, 190 * CM)})
    lent = replace(two, figures={"main": Figure(200 * CM, 200 * CM, like=(1, 2))})
    words = chart_words(replace(sized, cells=((bad, open_one, lent), second)))
    assert [entry.mark for entry in words.tables[0].lines[0].entries] == ["a", "*", "†"]
    # 20 cm over 190 cm are 10.53 %, told as no less than they are.
    assert "* Not proved: S on 110 cm within 10.6 % of the least. The others are proved." in (
        words.notes
    )
    assert any(note.startswith("† S on 150 cm: as for M on 150 cm") for note in words.notes)


def test_where_ways_are_open_proofs_are_of_the_way_chosen(sized: Chart) -> None:
    assert not sized.ways
    said = chart_words(replace(sized, ways=True)).notes
    assert (
        "Every figure is proved of the way of cutting that was chosen: a step less is not enough."
        in said
    )
    panels = '\n[garment.skirt.panels]\ncount = [3, 4]\nwidth = "40 cm"\n'
    assert chart(case('widths = ["150 cm"]\nlengths = ["80 cm"]', panels=panels), iterations=3).ways


def test_where_nothing_is_proved_no_others_are_told_to_be(sized: Chart) -> None:
    cells = (
        (
            Cell({"main": Figure(210 * CM, 150 * CM)}),
            *(Cell({"main": Figure(210 * CM, 140 * CM)}),) * 2,
        ),
    ) * 3
    made = replace(sized, rows=sized.rows[:1] * 3, cells=cells)
    assert "* Not proved, but within 40.0 to 50.0 % of the least." in chart_words(made).notes


def test_one_measure_may_be_proved_where_the_other_is_not(sized: Chart) -> None:
    # 199 to 200 cm: either way 2 m, but 2 1/4 yd are 205.7 cm and 2 1/8 yd only 194.3 cm.
    figure = Figure(200 * CM, 191 * CM)
    made = replace(sized, cells=((Cell({"main": figure}),) * 3,) * 2)
    metres, yards = chart_words(made).tables[:2]
    assert metres.lines[0].entries[0].mark == ""
    assert yards.lines[0].entries[0].mark == "*"


def test_cells_that_were_not_reached_are_told(sized: Chart) -> None:
    row = (Cell(stopped=True), *sized.cells[0][1:])
    words = chart_words(replace(sized, cells=(row, sized.cells[1])))
    assert words.tables[0].lines[0].entries[0] == Entry("…")
    assert "… Not reckoned: the search was stopped." in words.notes


def test_a_further_cloth_has_a_table_where_it_varies(sized: Chart) -> None:
    def taking(need: int) -> Cell:
        return Cell({"main": Figure(CM, CM), "lawn": Figure(need, need)})

    rows = tuple((taking(need), taking(need), Cell(fault="no")) for need in (50 * CM, 90 * CM))
    lawn = chart_words(replace(sized, cells=rows)).tables[2]
    assert (lawn.columns, lawn.over) == (("any width",), "")
    assert [line.entries[0].whole for line in lawn.lines] == ["0.50", "0.90"]
    mixed = ((taking(CM), taking(30 * CM), taking(CM)), rows[1])
    lawn = chart_words(replace(sized, cells=mixed)).tables[2]
    assert (len(lawn.columns), lawn.over) == (3, "width of Red linen, cm")


def test_many_reasons_share_the_last_letter(sized: Chart) -> None:
    rows = tuple((Cell(fault=f"fault {n}"),) * 3 for n in range(20))
    words = chart_words(replace(sized, rows=sized.rows[:1] * 20, cells=rows))
    assert words.tables[0].lines[19].entries[0].mark == "h"
    assert "h: fault 7 (12 more reasons like this)." in words.notes


def test_the_terminal_folds_at_eighty_columns(sized: Chart) -> None:
    for made in (sized, filled(sized, 3, 30)):
        page = io.StringIO()
        chart_table.show(chart_words(made), (), Console(file=page, width=80, highlight=False))
        lines = page.getvalue().splitlines()
        assert max(map(len, lines)) <= 80
        heads = "".join(line for line in lines if line.startswith("┃"))
        assert all(str(width // CM) in heads for width in made.widths)


def test_columns_are_shared_out_evenly() -> None:
    assert shares(8, 6) == [(0, 4), (4, 8)]
    assert shares(3, 6) == [(0, 3)]


@pytest.mark.parametrize("paper", Paper, ids=lambda paper: paper.value)
@pytest.mark.parametrize("size", [(2, 3), (60, 8), (5, 30), (40, 25)])
def test_every_table_fits_the_page_and_no_words_collide(
    sized: Chart, paper: Paper, size: tuple[int, int]
) -> None:
    room, tall = room_of(paper)
    words = chart_words(filled(sized, *size))
    shown = 0
    for block in _packed(words.tables, room, tall - 700):
        assert block.height <= tall - 700
        boxes = [mark.box for mark in block.drawing.over if isinstance(mark, Text)]
        assert all(box.x0 >= 0 and box.x1 <= room for box in boxes)
        clashes = [(a, b) for at, a in enumerate(boxes) for b in boxes[at + 1 :] if a.hits(b)]
        assert clashes == []
        shown += sum(isinstance(m, Text) and m.text == "3.40" for m in block.drawing.over)
    assert shown == size[0] * size[1]


def test_the_drawing_is_read_back(sized: Chart) -> None:
    words = chart_words(sized)
    files = chart_files(words, Paper.A4)
    tree = ElementTree.fromstring(files["chart.svg"])
    texts = [text.text for text in tree.iter("{http://www.w3.org/2000/svg}text")]
    for table in words.tables:
        for line in table.lines:
            for entry in line.entries:
                assert not entry.whole or entry.whole in texts
    assert "⅛" in texts
    assert not any(re.search(r"\d/\d", text or "") for text in texts)
    assert files["chart.pdf"].startswith(b"%PDF")
    assert files == chart_files(words, Paper.A4)


def test_the_chart_of_the_gallery_is_drawn_anew_byte_for_byte() -> None:
    made = chart(marker.read_case(ROOT / "cases" / "charted-skirt.toml"), iterations=20)
    drawn = chart_files(chart_words(made), Paper.A4)["chart.svg"]
    assert drawn == (ROOT / "out" / "charted-skirt" / "chart.svg").read_bytes()


TABLE = '[chart]\nwidths = ["110 cm", "150 cm"]\nlengths = ["80 cm", "95 cm"]\n'


def test_the_command_writes_both_files_and_tells_data(tmp_path: Path) -> None:
    file = tmp_path / "skirt.toml"
    file.write_text(SKIRT + PANELS + TABLE, encoding="utf-8")
    asked = ["chart", str(file), "--out", str(tmp_path / "o"), "--iterations", "3", "--json"]
    done = CliRunner().invoke(main, asked)
    assert done.exit_code == 0, done.stderr
    told = json.loads(done.stdout)
    assert sorted(path.name for path in (tmp_path / "o").iterdir()) == ["chart.pdf", "chart.svg"]
    assert told["cells"][0][0]["main"]["metres"] == "1.90"
    assert told["cells"][0][0]["main"]["proved"] == {"metres": True, "yards": True}
    assert told["rows"][0] == {
        "name": "",
        "length": {"length": 128000, "cm": "80 cm", "in": "31 1/2 in"},
    }
    table = CliRunner().invoke(main, asked[:-1])
    assert "1.90" in table.stdout
    assert "written: " in table.stdout


def test_a_folder_that_cannot_be_written_keeps_nothing(tmp_path: Path) -> None:
    file = tmp_path / "skirt.toml"
    file.write_text(SKIRT + PANELS + TABLE, encoding="utf-8")
    out = tmp_path / "o"
    (out / "chart.pdf").mkdir(parents=True)
    done = CliRunner().invoke(main, ["chart", str(file), "--out", str(out)])
    assert done.exit_code == 5
    assert [path.name for path in out.iterdir()] == ["chart.pdf"]


def test_the_bar_is_for_a_terminal_alone() -> None:
    for terminal in (True, False):
        page = io.StringIO()
        console = Console(file=page, force_terminal=terminal, width=80)
        with counting("cells", console=console) as told:
            told(3, 80)
        assert ("cells" in page.getvalue()) is terminal
