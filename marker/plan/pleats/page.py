"""The pages of the pleat plans: in the sheet, and by themselves as `pleats.pdf`."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from marker.gauging import Gauging, Pressed
from marker.plan.drawing.page import Paper, Point
from marker.plan.drawing.verbs import Drawing
from marker.plan.lays.svg import picture
from marker.plan.pleats.round import draw_round
from marker.plan.pleats.rows import draw_rows
from marker.plan.pleats.section import draw_folds, draw_section
from marker.plan.pleats.together import LETTERED, Shared, together
from marker.plan.pleats.told import Told, onto
from marker.plan.sheet.cloths import shorten
from marker.plan.typeset import typeset
from marker.units import Units, set_fractions

NAME = "pleats.pdf"


def pleats_files(title: str, plans: Sequence[Told], units: Units, paper: Paper) -> dict[str, bytes]:
    """The plans as a PDF by the name of its file; those of one kind share a page."""
    data = {
        "paper": {"width": paper.size[0] / 100, "height": paper.size[1] / 100},
        "title": title,
        "short": shorten(title, 110),
        "pleats": pleats_data(plans, units),
    }
    return {NAME: typeset("pleats/pages.typ", data)}


def pleats_data(plans: Sequence[Told], units: Units) -> list[dict[str, Any]]:
    """Everything that the template sets of each page, as plain words and drawings."""
    return [_data(shared, units) for shared in together(plans)]


def _data(shared: Shared, units: Units) -> dict[str, Any]:
    told = shared.first
    others = [plan.plan for plan in shared.plans[1:]]
    return {
        "title": shared.title,
        "way": told.way,
        "method": f"{told.method}, of {told.cloth.name}",
        "facts": [[name, value] for name, value in shared.facts],
        "broad": len(units.systems) > 1,
        "tables": [_table(table.title, table.heads, table.rows) for table in shared.tables],
        "whose": list(shared.rows) if shared.columns else [],
        "columns": [_table(part.title, part.heads, part.rows) for part in shared.columns],
        "lettered": LETTERED if any(apart for note in shared.notes for _, apart in note) else "",
        "notes": [[[set_fractions(text), apart] for text, apart in note] for note in shared.notes],
        "warnings": [set_fractions(said) for said in shared.warnings],
        "round": _figure(
            *draw_round(told.plan, told.garment, units.lead, others),
            f"skirt and {onto(told.garment)}",
        ),
        "details": _details(shared, units),
    }


def _table(title: str, heads: Sequence[str], rows: Sequence[Sequence[str]]) -> dict[str, Any]:
    return {
        "title": title,
        "heads": list(heads),
        "rows": [[set_fractions(cell) for cell in row] for row in rows],
    }


def _details(shared: Shared, units: Units) -> list[dict[str, Any]]:
    """The figures of a part of the top, each with what it shows and its scale."""
    plan, lead = shared.first.plan, units.lead
    every = [each.plan for each in shared.plans[1:]]
    if isinstance(plan, Gauging):
        sewn = [each for each in every if isinstance(each, Gauging)]
        drawing, size, n = draw_rows(plan, shared.first.garment, lead, sewn)
        return [_figure(drawing, size, f"Rows of stitches, {_scale(n)}")]
    folded = [each for each in every if isinstance(each, Pressed)]
    section, folds = draw_section(plan, lead, folded), draw_folds(plan, lead, folded)
    return [
        _figure(*section[:2], f"Section through the pleats, {_scale(section[2])}"),
        _figure(*folds[:2], f"Folds on the flat cloth, {_scale(folds[2])}"),
    ]


def _scale(n: int) -> str:
    return "at true size" if n == 1 else f"drawn 1:{n}"


def _figure(drawing: Drawing, size: Point, name: str) -> dict[str, Any]:
    return {"svg": picture(drawing, size), "width": size[0] / 100, "name": name}
