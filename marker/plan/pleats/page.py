"""The pages of the pleat plans: in the sheet, and by themselves as `pleats.pdf`."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from marker.gauging import Gauging
from marker.plan.drawing.page import Paper, Point
from marker.plan.drawing.verbs import Drawing
from marker.plan.lays.svg import picture
from marker.plan.pleats.round import draw_round
from marker.plan.pleats.rows import draw_rows
from marker.plan.pleats.section import draw_folds, draw_section
from marker.plan.pleats.told import Told
from marker.plan.sheet.cloths import shorten
from marker.plan.typeset import typeset
from marker.units import Units, set_fractions

NAME = "pleats.pdf"


def pleats_files(title: str, plans: Sequence[Told], units: Units, paper: Paper) -> dict[str, bytes]:
    """The plans as a PDF, a plan to a page, by the name of its file."""
    data = {
        "paper": {"width": paper.size[0] / 100, "height": paper.size[1] / 100},
        "title": title,
        "short": shorten(title, 110),
        "pleats": pleats_data(plans, units),
    }
    return {NAME: typeset("pleats/pages.typ", data)}


def pleats_data(plans: Sequence[Told], units: Units) -> list[dict[str, Any]]:
    """Everything that the template sets of each plan, as plain words and drawings."""
    return [_data(plan, units) for plan in plans]


def _data(told: Told, units: Units) -> dict[str, Any]:
    return {
        "title": told.title,
        "way": told.way,
        "method": f"{told.method}, of {told.cloth.name}",
        "facts": [[name, value] for name, value in told.facts],
        "broad": len(units.systems) > 1,
        "tables": [
            {
                "title": table.title,
                "heads": table.heads,
                "rows": [[set_fractions(cell) for cell in row] for row in table.rows],
            }
            for table in told.tables
        ],
        "notes": [set_fractions(said) for said in told.notes],
        "warnings": [set_fractions(said) for said in told.warnings],
        "round": _figure(*draw_round(told.plan, told.garment, units.lead), "skirt and band"),
        "details": _details(told, units),
    }


def _details(told: Told, units: Units) -> list[dict[str, Any]]:
    """The figures of a part of the top, each with what it shows and its scale."""
    plan = told.plan
    if isinstance(plan, Gauging):
        drawing, size, n = draw_rows(plan, told.garment, units.lead)
        return [_figure(drawing, size, f"Rows of stitches, {_scale(n)}")]
    section, folds = draw_section(plan, units.lead), draw_folds(plan, units.lead)
    return [
        _figure(*section[:2], f"Section through the pleats, {_scale(section[2])}"),
        _figure(*folds[:2], f"Folds on the flat cloth, {_scale(folds[2])}"),
    ]


def _scale(n: int) -> str:
    return "at true size" if n == 1 else f"drawn 1:{n}"


def _figure(drawing: Drawing, size: Point, name: str) -> dict[str, Any]:
    return {"svg": picture(drawing, size), "width": size[0] / 100, "name": name}
