"""Comparisons, charts and slips that read well: nothing cut short, nothing unexplained."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from chart_cases import SKIRT
from chart_cases import case as chart_case
from company_cases import company_text
from compare_cases import PRICED, bolts, case, planned
from example_cases import text_of
from rich.console import Console
from test_slips import record_of

from marker.casefile import parse
from marker.decide.chart import chart
from marker.decide.comparison import Comparison, compare
from marker.errors import CannotLay
from marker.plan.chart import table as chart_table
from marker.plan.chart.page import _packed
from marker.plan.chart.words import chart_words
from marker.plan.compare import table as compare_table
from marker.plan.compare import words as say
from marker.plan.counting import counting
from marker.plan.drawing.page import Paper
from marker.plan.drawing.verbs import Words
from marker.plan.sheet.slips import slips_data, told_to_all
from marker.plan.thumbs.grid import Shown, bar, grid, room_of
from marker.plan.thumbs.letters import for_all
from marker.plan.thumbs.page import heading_block
from marker.record import load
from marker.units import INCH, System

ROOM = room_of(Paper.A4)[0]
APRON = '[garment.apron]\nkind = "apron"\n[garment.apron.panels]\ncount = 1\n'
LONG = "Long" * 45


def words_of(drawing: object) -> str:
    return " ".join(mark.text for mark in drawing.over if isinstance(mark, Words))  # type: ignore[attr-defined]


def printed(width: int, show: object) -> list[str]:
    page = io.StringIO()
    show(Console(file=page, width=width, highlight=False))  # type: ignore[operator]
    return page.getvalue().splitlines()


def with_apron(more: str = "[compare]\npanels = [2, 3]\n") -> Comparison:
    return compare(case(APRON + more, cloth=PRICED), iterations=5)


def test_a_cloth_without_a_name_is_told_by_its_key() -> None:
    record = planned(case('[cloth.other]\nwidth = "90 cm"\n'))
    assert "No piece is cut from cloth other." in record.choices


def test_the_lower_edge_of_an_apron_is_no_round_hem() -> None:
    found = with_apron()
    for row in found.rows:
        skirt, apron = (worn.garment.round_hem for worn in row.worth.worn)
        assert apron and row.worth.around == skirt
        assert say.figures(row, found)["round"].endswith(f" / {say.NONE}")


def test_where_there_are_aprons_alone_their_lower_edge_is_told() -> None:
    text = text_of("cm", "").partition("[garment.skirt]")[0]
    found = compare(parse(f"{text}{APRON}[compare]\npanels = [1, 2]\n", "a.toml"), iterations=5)
    assert say.headings(found)["round"].startswith("lower edge")
    assert "along the lower edge" in say.around(found.rows[0], found)


def test_what_to_buy_is_never_left_out_and_empty_columns_are() -> None:
    found = bolts()
    for width in (60, 80, 120):
        shown = compare_table.columns(found, width)
        assert "buy" in shown
    unpriced = compare(case("[compare]\npanels = [2, 3]\n"), iterations=5, order=("cost", "round"))
    assert list(compare_table.columns(unpriced, 80))[:2] == ["round", "buy"]
    assert "mass" not in compare_table.columns(unpriced, 200)
    assert any(said.endswith("so cost is left out of the ranking.") for said in unpriced.notes)


def test_scraps_that_are_too_short_point_to_reach() -> None:
    scrap = 'width = "112 cm"\nlength = "60 cm"'
    with pytest.raises(CannotLay, match="marker reach"):
        compare(case("[compare]\npanels = [2, 3]\n", cloth=scrap), iterations=5)


@pytest.mark.parametrize("title", ["word " * 40, "W" * 300])
def test_a_long_title_is_told_in_full(title: str) -> None:
    block = heading_block(title.strip(), "below", ROOM)
    told = "".join(words_of(block.drawing).split())
    assert "".join(title.split()) in told and "…" not in told
    assert all(label.box.x1 <= ROOM for label in block.drawing.labels)


@pytest.mark.parametrize("n", [1, 20, 25, 30, 40, 50, 75, 90, 125, 400, 1000])
def test_a_bar_in_inches_is_whole_inches(n: int) -> None:
    length, fields = bar(n, System.IN)
    assert (length % INCH == 0 and length * 2 % (fields * INCH) == 0) or n == 1
    assert 3_000 < length * 5 / 8 / n < 5_600


def test_letters_are_explained_once_or_with_each_option() -> None:
    lays = load(Path("out/three-bolts/lay.json")).lays
    told = for_all([lays])
    assert all(piece.name in told for lay in lays for piece in lay.pieces)
    drawn = [
        words_of(block.drawing)
        for block in grid([Shown("a", lays)] * 3, Paper.A4, System.CM).blocks
    ]
    assert sum(told in words for words in drawn) == 1
    other = load(Path("out/remnant-skirt/lay.json")).lays
    assert not for_all([lays, other])
    both = grid([Shown("a", lays), Shown("b", other)], Paper.A4, System.CM).blocks
    assert told in " ".join(words_of(block.drawing) for block in both)


def test_a_name_of_many_letters_cuts_no_figure() -> None:
    made = chart(
        chart_case(
            f'sizes = [{{name = "S", waist = "70 cm"}}, {{name = "{LONG}", waist = "80 cm"}}]\n'
            'widths = ["112 cm", "150 cm"]'
        ),
        iterations=5,
    )
    words = chart_words(made)
    figures = [entry.text for line in words.tables[0].lines for entry in line.entries]
    for width in (40, 80):
        lines = printed(width, lambda console: chart_table.show(words, (), console))
        rows = " ".join(line for line in lines if line.startswith("│"))
        assert max(map(len, lines)) <= width
        assert all(rows.count(figure) >= figures.count(figure) for figure in figures)
    drawn = [mark for b in _packed(words.tables, *room_of(Paper.A4)) for mark in b.drawing.over]
    told = [mark for mark in drawn if isinstance(mark, Words)]
    assert all(mark.box.x1 <= ROOM for mark in told)
    assert all(figure in {mark.text for mark in told} for figure in figures)
    assert LONG not in {mark.text for mark in told}


def test_rows_that_no_piece_hangs_on_are_told() -> None:
    made = chart(chart_case('hips = ["90 cm", "96 cm"]\nwidths = ["112 cm"]'), iterations=5)
    assert any("the same pieces" in note for note in chart_words(made).notes)
    assert "[chart]" not in SKIRT


def test_progress_is_counted_on_a_narrow_terminal() -> None:
    for width in (30, 40, 80):
        page = io.StringIO()
        console = Console(file=page, force_terminal=True, width=width)
        with counting("options laid", console=console) as told:
            told(3, 24)
        assert "3/24" in page.getvalue()


def test_a_wearer_without_a_name_is_told_alike_and_common_advice_once() -> None:
    slips = slips_data(record_of(company_text(3).replace('name = "Ada"\n', "")))
    assert slips[0]["name"] == "ada"
    for slip in slips:
        slip["garments"][0]["advice"] = ["for all", *(["hers"] if slip is slips[0] else [])]
    assert told_to_all(slips) == ["for all"]
    assert [slip["garments"][0]["advice"] for slip in slips] == [["hers"], [], []]
