"""A yardage chart on the terminal, folded into blocks of widths, and as plain data."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

from rich.console import Console
from rich.table import Table as Grid
from rich.text import Text

from marker.decide.chart import Cell, Chart, Figure
from marker.plan.chart.words import NAMED, Line, Table, Words, figure_text, shares
from marker.plan.sheet.cloths import shorten
from marker.plan.terminal import files_written, terminal
from marker.units import System, format_length

NAMES = {System.CM: "metres", System.IN: "yards"}
EDGE = 3
"""Besides its words, a column takes so many places for its edge and the space about them."""


LEAST = 8
"""Letters of a name that are always told."""


def show(words: Words, written: tuple[Path, ...], console: Console | None = None) -> None:
    """Print the tables, the notes and the files written."""
    console = console or terminal()
    console.print(Text(words.title, style="bold"))
    console.print(Text(words.subtitle))
    for table in (_short(each, max(LEAST, console.width // 3)) for each in words.tables):
        for first, last in _blocks(table, console.width):
            on = ", continued" if first else ""
            over = f"; {table.over}" if table.over else ""
            heading = f"{table.heading}{over}{on}"
            console.print()
            console.print(Text(heading, style="bold"))
            console.print(_grid(table, first, last, _stubs(table, console.width)))
    console.print()
    for sentence in (*words.notes, *words.sizes):
        console.print(Text(sentence))
    console.print(files_written(written), soft_wrap=True)


def _short(table: Table, most: int) -> Table:
    """Without the measures of sizes that have a name: those are told below the tables.

    Names are shortened to so many letters, so that figures never are.
    """
    if table.stub[0] != NAMED:
        return table
    lines, feet = (
        tuple(replace(line, stub=(shorten(line.stub[0], most),)) for line in each)
        for each in (table.lines, table.feet)
    )
    return replace(table, stub=table.stub[:1], lines=lines, feet=feet)


def _blocks(table: Table, across: int) -> list[tuple[int, int]]:
    """Runs of columns that stand side by side within the terminal, as equal as can be."""
    sizes = _sizes(table)
    room = across - 1 - sum(size + EDGE for size in _stubs(table, across))
    return shares(len(sizes), len(sizes) if sum(sizes) <= room else max(1, room // max(sizes)))


def _sizes(table: Table) -> list[int]:
    """The places that each column of figures takes."""
    return [
        max(map(len, (name, *_column(table, at)))) + EDGE for at, name in enumerate(table.columns)
    ]


def _stubs(table: Table, across: int) -> list[int]:
    """The places for words at the side: whole lines if any column fits beside them, else words."""
    cells = [
        (name, *(line.stub[at] for line in (*table.lines, *table.feet)))
        for at, name in enumerate(table.stub)
    ]
    whole = [max(map(len, told)) for told in cells]
    if sum(size + EDGE for size in whole) + max(_sizes(table)) < across:
        return whole
    return [max(len(word) for text in told for word in (text.split() or [""])) for told in cells]


def _column(table: Table, at: int) -> list[str]:
    """A column's figures, those without a mark set off by as much as the marks take."""
    entries = [line.entries[at] for line in (*table.lines, *table.feet)]
    marks = max(len(entry.mark) for entry in entries)
    return [entry.text + entry.mark.ljust(marks) for entry in entries]


def _grid(table: Table, first: int, last: int, stubs: list[int]) -> Grid:
    grid = Grid()
    for name, size in zip(table.stub, stubs, strict=True):
        grid.add_column(name, justify="right" if "," in name else "left", width=size)
    for at in range(first, last):
        grid.add_column(table.columns[at], justify="right", no_wrap=True)
    columns = [_column(table, at) for at in range(first, last)]
    lines: tuple[Line, ...] = (*table.lines, *table.feet)
    for number, line in enumerate(lines):
        grid.add_row(
            *(Text(text) for text in line.stub),
            *(Text(column[number]) for column in columns),
            end_section=number == len(table.lines) - 1 and bool(table.feet),
        )
    return grid


def summary(chart: Chart, words: Words, written: tuple[Path, ...]) -> dict[str, Any]:
    """The chart as plain data, keys in a fixed order, for `--json`; lengths in 1/160 mm."""
    return {
        "title": chart.title,
        "wearer": chart.wearer.key,
        "cloth": chart.cloth.key,
        "cloths": {
            key: {
                "name": chart.cloths[key].name,
                "steps": {NAMES[system]: chart.step(key, system) for system in System},
            }
            for key in (chart.cloth.key, *chart.others)
        },
        "widths": [_length(width) for width in chart.widths],
        "rows": [
            {"name": row.name, **{name: _length(size) for name, size in row.measures.items()}}
            for row in chart.rows
        ],
        "cells": [[_cell(chart, cell) for cell in row] for row in chart.cells],
        "notes": list(words.notes),
        "files": [str(path) for path in written],
    }


def _length(value: int) -> dict[str, Any]:
    return {"length": value, **{system.value: format_length(value, system) for system in System}}


def _cell(chart: Chart, cell: Cell) -> dict[str, Any]:
    if cell.stopped:
        return {"stopped": True}
    if cell.fault:
        return {"fault": cell.fault}
    return {key: _figure(chart, key, figure) for key, figure in cell.figures.items()}


def _figure(chart: Chart, key: str, figure: Figure) -> dict[str, Any]:
    steps = {system: chart.step(key, system) for system in System}
    return {
        **{NAMES[system]: figure_text(figure.buy(step), system) for system, step in steps.items()},
        "need": figure.need,
        "bound": figure.bound,
        "proved": {NAMES[system]: figure.proved(step) for system, step in steps.items()},
        "like": list(figure.like) if figure.like else None,
    }
