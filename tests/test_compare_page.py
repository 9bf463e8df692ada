"""The comparison as it is read: on the terminal, as JSON, and on paper."""

from __future__ import annotations

import io
import json
import re
import xml.etree.ElementTree as ET
from dataclasses import replace
from itertools import combinations
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from compare_cases import BOLTS, PRICED, bolts, compared, given
from example_cases import text_of
from rich.console import Console

import marker
from marker import casefile
from marker.cli import main
from marker.decide import limit
from marker.decide.comparison import Comparison, Row, compare
from marker.decide.options import Refusal
from marker.plan.compare import page as compare_page
from marker.plan.compare import table as compare_table
from marker.plan.compare import words as say
from marker.plan.drawing.page import Box, Paper
from marker.plan.drawing.verbs import Words
from marker.plan.thumbs.grid import room_of
from marker.plan.thumbs.thumb import LETTER
from marker.units import parse

ROOT = Path(__file__).parents[1]
SVG = "{http://www.w3.org/2000/svg}"


def printed(found: Comparison, width: int = 80) -> list[str]:
    """What the terminal shows, line by line."""
    out = io.StringIO()
    compare_table.show(found, (Path("compare.svg"),), Console(file=out, width=width))
    return out.getvalue().splitlines()


def texts(svg: str) -> list[str]:
    return [node.text or "" for node in ET.fromstring(svg).iter(f"{SVG}text")]


# On the terminal.


def test_the_table_is_readable_in_80_places() -> None:
    lines = printed(bolts())
    assert max(map(len, lines)) <= 80
    head = next(number for number, line in enumerate(lines) if "option" in line)
    for name in ("cost", "buy", "lay", "remnant", "tears", "round"):
        assert any(re.search(rf"\b{name}", line) for line in lines[: head + 1]), name
    best = bolts().rows[0]
    first = next(line for line in lines if line.startswith(" 1 "))
    assert say.figures(best, bolts())["cost"] in first
    table = lines[: next(n for n, line in enumerate(lines) if line.startswith("Ranked"))]
    words = {word for line in table for word in line.split()}
    for key in compare_table.columns(bolts(), 80):
        assert set(say.headings(bolts())[key].split()) <= words
        for row in bolts().rows:
            assert set(say.figures(row, bolts())[key].split()) <= words
    assert {word for row in bolts().rows for word in row.option.words.split()} <= words


def test_every_option_is_told_in_full_below_the_table() -> None:
    told = " ".join(line.strip() for line in printed(bolts()))
    for place, row in enumerate(bolts().rows, 1):
        assert f"{place}. {row.option.words}" in told
        assert say.change(row) in re.sub(r"\s+", " ", told)
    assert "Ranked by cost, then length to buy" in told
    assert "(as the case has it" in told


def test_the_table_shows_what_it_is_ranked_by() -> None:
    text = BOLTS + '[compare]\nfacing = "straight"\npanels = [2, 3]\n'
    found = compared(text, order=("seams", "waste"), cloth=PRICED)
    assert list(compare_table.columns(found, 80))[:3] == ["seams", "buy", "waste"]


def test_without_prices_no_cost_is_shown_anywhere() -> None:
    found = compared("[compare]\npanels = [2, 3]\n")
    assert not any("cost" in line.lower() for line in printed(found))
    assert "cost" not in say.headings(found)
    data = compare_table.summary(found, ())
    assert all(one["cost"] is None for one in data["options"])
    drawn = compare_page.draw(found, Paper.A4)[compare_page.SVG].decode()
    assert not any("cost" in text or "0.00" in text for text in texts(drawn))


def test_mixed_currencies_are_told_cloth_by_cloth() -> None:
    text = BOLTS.replace("EUR", "USD") + '[compare]\nfacing = "straight"\npanels = 3\n'
    found = compared(text, order=("cost", "buy"), cloth=PRICED)
    told = " ".join(printed(found))
    assert "prices are in EUR and USD" in re.sub(r"\s+", " ", told)
    assert "USD)" in told
    assert "EUR)" in told


def test_what_is_common_to_all_is_told_once() -> None:
    found = bolts()
    one = found.rows[0]
    (worn,) = one.worth.worn
    shared = tuple(
        replace(row, worth=replace(row.worth, worn=(replace(worn, advice=("Mind the dog.",)),)))
        for row in found.rows
    )
    told = " ".join(printed(replace(found, rows=shared)))
    assert told.count("Mind the dog.") == 1


def test_what_cannot_be_made_and_a_stop_are_told() -> None:
    found = bolts()
    gone = Refusal(found.rows[0].option, "there is no room")
    told = re.sub(r"\s+", " ", " ".join(printed(replace(found, refused=(gone,), left=3))))
    assert f"{found.rows[0].option.words}: there is no room." in told
    assert f"Stopped: 3 of {3 + len(found.rows)} options were not laid." in told


def test_garments_that_differ_are_told_by_name_and_many_by_their_least_and_greatest() -> None:
    found = bolts()
    row = found.rows[0]
    (worn,) = row.worth.worn

    def of(*sizes: str) -> Row:
        made = tuple(
            replace(worn, garment=replace(worn.garment, name=f"Skirt {n}", round_hem=parse(size)))
            for n, size in enumerate(sizes, 1)
        )
        return replace(row, worth=replace(row.worth, worn=made))

    two, many = of("200 cm", "190 cm"), of("200 cm", "190 cm", "230 cm", "210 cm")
    assert say.figures(two, found)["round"] == "200 / 190"
    assert say.figures(of("2 m", "2 m"), found)["round"] == "200"
    assert say.figures(many, found)["round"] == "190 to 230"
    told = list(say.details(two, found))
    assert told[1].startswith("Skirt 1: 200 cm round the hem, fulness ")
    assert told[2].startswith("Skirt 2: 190 cm round the hem, fulness ")
    assert list(say.details(many, found))[1].startswith("190 to 230 cm round the hem")


def test_a_case_in_inches_with_two_cloths_keeps_within_80_places() -> None:
    asks = casefile.read(ROOT / "cases" / "faced-skirt.toml")
    record = marker.load_record(ROOT / "out" / "faced-skirt" / "lay.json")
    lines = printed(given(asks, record))
    assert max(map(len, lines)) <= 80
    assert any("3 5/8 +" in line for line in lines)
    assert {"hem,", "remnant,", "cost,"} & {word for line in lines[:6] for word in line.split()}
    assert not any(line.split()[-1:] in (["ro"], ["h"], ["rem"]) for line in lines[:6])
    assert compare_table._folded("119 1/2 × 15 1/2") == "119 1/2 ×\n15 1/2"
    assert compare_table._folded("14.5 × 28.3") == "14.5 × 28.3"


# As JSON.


def test_json_tells_everything_in_plain_data() -> None:
    data = json.loads(json.dumps(compare_table.summary(bolts(), (Path("a.svg"),))))
    assert data["ranked_by"] == list(bolts().order)
    for one, row in zip(data["options"], bolts().rows, strict=True):
        assert one["buy"] == row.worth.buy
        assert one["cost"] == f"{row.worth.cost:.2f}"
        assert one["garments"][0]["round_hem"] == row.worth.rounds[0]
        assert [cloth["lay_length"] for cloth in one["cloths"]] == [
            lay.length for lay in row.worth.record.lays
        ]
    assert data["files"] == ["a.svg"]


# On paper.


def test_the_drawing_holds_every_option_best_first_and_the_table() -> None:
    found = bolts()
    drawn = compare_page.draw(found, Paper.A4)[compare_page.SVG].decode()
    root = ET.fromstring(drawn)
    assert root.get("width") == "297mm"
    assert root.findtext(f"{SVG}title", "").endswith("8 options compared")
    assert root.findtext(f"{SVG}desc")
    told = texts(drawn)
    marks = [text for text in told if text in {f"{n}" for n in range(1, 9)}]
    # first over the lays, then in the table, then with what to mind
    assert "".join(marks).replace("1234", "x", 3).count("x") >= 2
    for row in found.rows:
        assert say.figures(row, found)["cost"] in told
        buys = sum(text.startswith("Buy ") for text in told)
        assert buys == len(found.rows)
    assert any(text.startswith("all drawn at 1:") for text in told)
    assert b"%PDF" in compare_page.draw(found, Paper.LETTER)[compare_page.PDF][:8]


def test_no_words_on_paper_collide_or_are_too_small() -> None:
    for found in (bolts(), replace(bolts(), refused=(Refusal(bolts().rows[0].option, "why"),))):
        across, _ = room_of(Paper.A4)
        for block in compare_page.blocks(found, Paper.A4):
            labels = block.drawing.labels
            page = Box(0, 0, across, block.height).grown(20)
            assert [label.owner for label in labels if not page.holds(label.box)] == []
            for a, b in combinations(labels, 2):
                assert not a.box.hits(b.box), (a.owner, b.owner)
            words = [mark for mark in block.drawing.over if isinstance(mark, Words)]
            assert all(mark.size >= LETTER for mark in words)


def test_the_gallery_is_what_comparing_gives_again() -> None:
    asks = casefile.read(ROOT / "cases" / "three-bolts.toml")
    found = compare(asks, iterations=20)
    drawn = compare_page.draw(found, Paper.A4)[compare_page.SVG]
    assert drawn == (ROOT / "out" / "three-bolts" / "compare.svg").read_bytes()


# The command.


@pytest.fixture
def small(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    text = text_of("cm", '[compare]\npanels = [2, 3]\nlie = "along"\n')
    (tmp_path / "a.toml").write_text(text, encoding="utf-8")
    return tmp_path


def test_the_command_writes_both_files_and_prints_the_table(small: Path) -> None:
    run = CliRunner().invoke(main, ["compare", "a.toml", "--iterations", "3"])
    assert run.exit_code == 0, run.output
    assert sorted(path.name for path in (small / "out" / "a").iterdir()) == [
        "compare.pdf", "compare.svg",
    ]  # fmt: skip
    assert "2 panels" in run.stdout
    assert "written: " in run.stdout


@pytest.mark.usefixtures("small")
def test_json_is_all_that_is_printed() -> None:
    args = ["compare", "a.toml", "--iterations", "3", "--json", "--order", "round"]
    run = CliRunner().invoke(main, args)
    assert run.exit_code == 0
    data = json.loads(run.stdout)
    assert [one["option"] for one in data["options"]] == ["3 panels", "2 panels"]
    assert data["ranked_by"] == ["round"]


@pytest.mark.parametrize(
    ("args", "says"),
    [
        (["a.toml", "--order", "price"], "--order: 'price' is nothing to rank by"),
        (["a.toml", "--order", ","], "--order: the order is empty"),
        (["b.toml"], "b.toml is not there"),
    ],
)
def test_bad_input_is_one_sentence_and_nothing_is_written(
    small: Path, args: list[str], says: str
) -> None:
    run = CliRunner().invoke(main, ["compare", *args])
    assert run.exit_code == 2
    assert says in run.stderr
    assert len(run.stderr.strip().splitlines()) == 1
    assert not (small / "out").exists()


def test_all_is_written_or_none(small: Path) -> None:
    folder = small / "there"
    (folder / "compare.pdf").mkdir(parents=True)
    run = CliRunner().invoke(main, ["compare", "a.toml", "--iterations", "3", "--out", "there"])
    assert run.exit_code == 5
    assert "a folder stands where a file should" in run.stderr
    assert [path.name for path in folder.iterdir()] == ["compare.pdf"]


def test_a_stop_keeps_what_is_laid(small: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    whole = limit.abreast

    def stopped(*asked: Any) -> object:
        found = whole(*asked)
        return [found[0], *(None for _ in found[1:])]

    monkeypatch.setattr(limit, "abreast", stopped)
    run = CliRunner().invoke(main, ["compare", "a.toml", "--iterations", "3"])
    assert run.exit_code == 0
    assert "Stopped: 1 of 2 options were not laid." in run.stdout
    assert (small / "out" / "a" / "compare.svg").exists()


def test_nothing_is_told_of_a_hem_or_pleats_where_there_are_none() -> None:
    asks = casefile.read(ROOT / "cases" / "drawn-bodice.toml")
    record = marker.load_record(ROOT / "out" / "drawn-bodice" / "lay.json")
    told = " ".join(printed(given(asks, record)))
    assert "round the hem" not in told
    assert "pleats to" not in told
