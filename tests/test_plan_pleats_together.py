"""Pleat plans of a company: told once, with a row of figures for each wearer that she finds."""

from __future__ import annotations

import io
import re
from functools import cache
from pathlib import Path

import pytest
from company_cases import company
from rich.console import Console
from sheet_text import pages

import marker
from marker.casefile import Case
from marker.plan.drawing.page import Paper
from marker.plan.drawing.verbs import Words
from marker.plan.pleats import table as pleats_table
from marker.plan.pleats.case import of_case
from marker.plan.pleats.page import pleats_data, pleats_files
from marker.plan.pleats.round import draw_round
from marker.plan.pleats.together import Shared, together
from marker.plan.pleats.told import Told
from marker.units import System

ROOT = Path(__file__).parents[1]


@cache
def village() -> tuple[Told, ...]:
    return of_case(marker.read_case(ROOT / "cases" / "village-company.toml"))[0]


@cache
def troupe() -> Case:
    """Four wearers of a skirt of four panels, four of one of three."""
    return company(8)


def own(shared: Shared, number: int) -> dict[str, str]:
    """What the columns tell one wearer, by their heads under their titles."""
    return {
        f"{part.title} {head}".strip(): cell
        for part in shared.columns
        for head, cell in zip(part.heads, part.rows[number], strict=True)
    }


def test_every_wearer_finds_all_her_figures() -> None:
    (shared,) = together(village())
    assert len(shared.plans) == 6
    for number, plan in enumerate(shared.plans):
        hers = own(shared, number)
        told = dict(shared.facts) | hers
        assert dict(plan.facts).items() <= told.items()
        letters = {head.removeprefix("Letters "): cell for head, cell in hers.items()}
        notes = tuple(
            "".join(letters[text] if apart else text for text, apart in note)
            for note in shared.notes
        )
        assert notes == plan.notes
        rows, points, steps = plan.tables
        assert [hers[f"Rows of stitches: drawn into row {row[0]}"] for row in rows.rows] == [
            row[2] for row in rows.rows
        ]
        assert {row[0]: row[1] for row in points.rows[1:-1]} == {
            head.removeprefix("Quarter points: band "): cell
            for head, cell in hers.items()
            if head.startswith("Quarter points: band")
        }
        for row in steps.rows:
            assert hers[f"With longer or shorter stitches: on 10 cm {row[0]}"] == row[4]


def test_what_is_the_same_of_all_is_told_once() -> None:
    (shared,) = together(village())
    assert ("pleats", "60 in each panel, 180 in all") in shared.facts
    assert ("rows of stitches, below the fold", "0.3 cm, 1.6 cm, 2.9 cm") in shared.facts
    assert [table.heads for table in shared.tables] == [
        ("worn at", "pleats", "on the skirt"), ("stitch", "fitted", "panel", "all")
    ]  # fmt: skip
    assert all(
        len(set(values)) > 1 for part in shared.columns for values in zip(*part.rows, strict=True)
    )


def test_plans_that_are_the_same_need_no_columns_and_one_alone_is_as_it_was() -> None:
    hesse, *_ = village()
    (same,) = together((hesse, hesse))
    assert same.columns == () and same.facts == hesse.facts and same.tables == hesse.tables
    (alone,) = together((hesse,))
    assert alone.title == hesse.title == "Pleats of Round skirt, for Hesse"
    assert [note for ((note, _),) in alone.notes] == list(hesse.notes)


def test_other_garments_and_other_panels_are_told_apart() -> None:
    told = together(of_case(troupe())[0])
    assert [shared.title for shared in told] == [
        "Pleats of Round skirt, for Ada, Bea, Cora, Dorrit",
        "Pleats of Walking skirt, for Elke, Fenna, Gerda, Hilke",
    ]
    assert [shared.first.plan.panels for shared in told] == [4, 3]


def test_a_company_fits_on_a_page_with_everybody_named() -> None:
    (text,) = pages(pleats_files("Village", village(), System.CM, Paper.A4)["pleats.pdf"])
    for plan in village():
        row = rf"^{plan.garment.wearer} {re.escape(dict(plan.facts)['drawn into'])} "
        assert re.search(row, text, re.MULTILINE), plan.garment.wearer
    assert "Letters in heavy type stand for figures that differ" in text


def test_the_figure_holds_no_reading_that_is_only_somebodys() -> None:
    first, *others = village()
    every = [plan.plan for plan in others]
    drawing, _ = draw_round(first.plan, first.garment, System.CM, every)
    words = {mark.text for mark in drawing.over if isinstance(mark, Words)}
    assert {"after pleat 45", "panel 1, 72 cm", "see the table"} <= words
    assert not words & {"17 cm", "34 cm", "51 cm", "68 cm"}
    alone, _ = draw_round(first.plan, first.garment, System.CM)
    assert {"17 cm", "68 cm"} <= {mark.text for mark in alone.over if isinstance(mark, Words)}


def test_a_warning_names_her_whom_it_is_for() -> None:
    cloth = 'width = "150 cm"\nselvedge = "1 cm"\nthickness = "0.9 mm"'
    plans = of_case(company(4, cloth=cloth))[0]
    shared, _ = together(plans)
    assert [plan.garment.wearer for plan in plans[:2] if plan.warnings] == ["Ada"]
    assert shared.warnings == (f"Ada: {plans[0].warnings[0]}",)
    (data, _) = pleats_data(plans, System.CM)
    assert data["whose"] == ["Ada", "Bea"] and data["warnings"][0].startswith("Ada: ")


def test_the_terminal_tells_a_company_once() -> None:
    console = Console(file=io.StringIO(), width=100, highlight=False)
    pleats_table.show("Village", village(), [], (), console)
    text = console.file.getvalue()  # type: ignore[attr-defined]
    assert text.count("Practice swatch") == text.count("cloth round the top") == 1
    for plan in village():
        assert f"│ {plan.garment.wearer:6} │ {dict(plan.facts)['drawn into']}" in text


@pytest.mark.parametrize("name", ["pleated-skirt", "whole-list"])
def test_the_plan_of_one_garment_is_a_page_of_whole_columns(name: str) -> None:
    case = marker.read_case(ROOT / "cases" / f"{name}.toml")
    plans = of_case(case)[0]
    (text,) = pages(pleats_files(case.title, plans, case.units, Paper.A4)["pleats.pdf"])
    # Sentences stand in their order, none of them after the tables.
    flat = " ".join(text.split())
    places = [flat.index(" ".join(said.split())) for said in plans[0].notes]
    assert places == sorted(places)
    assert places[-1] < flat.index("Quarter points worn at")
