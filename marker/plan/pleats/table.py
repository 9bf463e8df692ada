"""The pleat plans on the terminal, and as plain data."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from rich.console import Console
from rich.table import Table as Grid
from rich.text import Text

from marker.plan.pleats.told import Table, Told


def show(
    title: str,
    plans: Sequence[Told],
    others: Sequence[str],
    written: tuple[Path, ...],
    console: Console | None = None,
) -> None:
    """Print every plan, what is said of `others` that have no pleats, and the files written."""
    console = console or Console(highlight=False)
    console.print(Text(title, style="bold"))
    for plan in plans:
        console.print()
        console.print(Text(plan.title + (f" ({plan.way})" if plan.way else ""), style="bold"))
        console.print(Text(f"{plan.method}, of {plan.cloth.name}"))
        for said in plan.warnings:
            console.print(Text(f"Mind: {said}", style="bold"))
        console.print(_facts(plan))
        for table in plan.tables:
            console.print(_grid(table))
        for said in plan.notes:
            console.print(Text(said))
    if others:
        console.print()
    for said in others:
        console.print(Text(said))
    if written:
        paths = ", ".join(str(path) for path in written)
        console.print(Text(f"written: {paths}"), soft_wrap=True)


def _facts(plan: Told) -> Grid:
    grid = Grid(show_header=False, box=None, padding=(0, 2, 0, 0))
    grid.add_column(overflow="fold")
    grid.add_column(overflow="fold", style="bold")
    for name, value in plan.facts:
        grid.add_row(Text(name), Text(value))
    return grid


def _grid(table: Table) -> Grid:
    grid = Grid(title=Text(table.title), title_justify="left", title_style="bold")
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
