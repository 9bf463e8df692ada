"""The pleat plans on the terminal, and as plain data."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from rich.console import Console
from rich.table import Table as Grid
from rich.text import Text

from marker.plan.pleats.together import LETTERED, Shared, together
from marker.plan.pleats.told import Table, Told
from marker.plan.terminal import files_written, terminal


def show(
    title: str,
    plans: Sequence[Told],
    others: Sequence[str],
    written: tuple[Path, ...],
    console: Console | None = None,
) -> None:
    """Print every plan, what is said of `others` that have no pleats, and the files written.

    Plans of several wearers that are made in one way are told once, with a row for each.
    """
    console = console or terminal()
    console.print(Text(title, style="bold"))
    for shared in together(plans):
        _show(shared, console)
    if others:
        console.print()
    for said in others:
        console.print(Text(said))
    if written:
        console.print(files_written(written), soft_wrap=True)


def _show(shared: Shared, console: Console) -> None:
    plan = shared.first
    console.print()
    console.print(Text(shared.title + (f" ({plan.way})" if plan.way else ""), style="bold"))
    console.print(Text(f"{plan.method}, of {plan.cloth.name}"))
    for said in shared.warnings:
        console.print(Text(f"Mind: {said}", style="bold"))
    console.print(_facts(shared))
    for part in shared.columns:
        rows = tuple((whose, *row) for whose, row in zip(shared.rows, part.rows, strict=True))
        console.print(_grid(Table(part.title, ("wearer", *part.heads), rows)))
    for table in shared.tables:
        console.print(_grid(table))
    if any(apart for note in shared.notes for _, apart in note):
        console.print(Text(LETTERED.replace("in heavy type", "in brackets")))
    for note in shared.notes:
        console.print(Text("".join(f"[{text}]" if apart else text for text, apart in note)))


def _facts(plan: Shared) -> Grid:
    grid = Grid(show_header=False, box=None, padding=(0, 2, 0, 0))
    grid.add_column(overflow="fold")
    grid.add_column(overflow="fold", style="bold")
    for name, value in plan.facts:
        grid.add_row(Text(name), Text(value))
    return grid


def _grid(table: Table) -> Grid:
    title = Text(table.title) if table.title else None
    grid = Grid(title=title, title_justify="left", title_style="bold")
    for head in table.heads:
        grid.add_column(Text(head), overflow="fold")
    for row in table.rows:
        grid.add_row(*(Text(cell) for cell in row))
    return grid


def summary(
    title: str, plans: Sequence[Told], others: Sequence[str], written: tuple[Path, ...]
) -> dict[str, Any]:
    """The same as plain data, keys in a fixed order, for `--json`."""
    return {
        "title": title,
        "plans": [
            {
                "garment": plan.garment.key,
                "name": plan.garment.name,
                "wearer": plan.garment.wearer,
                "way": plan.way,
                "cloth": plan.cloth.key,
                "method": plan.garment.pleating.method.value if plan.garment.pleating else "",
                **plan.data,
                "quarters": [list(row) for row in _quarters(plan).rows],
                "notes": list(plan.notes),
                "warnings": list(plan.warnings),
            }
            for plan in plans
        ],
        "others": list(others),
        "files": [str(path) for path in written],
    }


def _quarters(plan: Told) -> Table:
    return next(table for table in plan.tables if table.title.startswith("Quarter"))
