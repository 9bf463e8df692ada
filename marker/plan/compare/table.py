"""Compared options on the terminal: a short table by which they are ranked, then each in full."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from rich.box import SIMPLE_HEAD
from rich.console import Console
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from marker.decide.comparison import Comparison, Row
from marker.gauging import Gauging
from marker.plan.compare import words as say
from marker.plan.table import cloth_row
from marker.plan.terminal import files_written, terminal

MORE = ("length", "round", "proved", "seams", "joins", "pleats", "mass", "waste")
"""Columns that the table shows after those it is ranked by, as far as there is room."""
GAP, LEAST, WIDEST = 2, 18, 12
"""Places between columns, one of them the box's own; the fewest for an option's words; the most
for two sizes side by side."""
OPTION = LEAST + 2 + 2 * GAP
"""Places for its number, its words, and the space after them."""


def show(found: Comparison, written: tuple[Path, ...], console: Console | None = None) -> None:
    """Print the table, the rule it is ranked by, every option in full, and the files written."""
    console = console or terminal()
    console.print(_table(found, console.width))
    console.print()
    for sentence in (*say.rules(found), *say.common(found)):
        console.print(Text(sentence))
    for place, row in enumerate(found.rows, 1):
        console.print()
        console.print(Text(f"{place}. {_titled(row)}", "bold"))
        console.print(Padding(Text(" ".join(say.details(row, found))), (0, 0, 0, 3)))
    if found.refused:
        console.print()
        console.print(Text("Can't be made", "bold"))
        for sentence in say.refusals(found):
            console.print(Padding(Text(sentence), (0, 0, 0, 3)))
    console.print()
    console.print(files_written(written), soft_wrap=True)


def _table(found: Comparison, across: int) -> Table:
    title = Text(found.title)
    table = Table(
        title=title, title_justify="left", title_style="bold", box=SIMPLE_HEAD,
        show_edge=False, pad_edge=False, padding=(0, GAP - 1, 0, 0),
    )  # fmt: skip
    heads, shown = say.headings(found), columns(found, across)
    table.add_column("", justify="right", width=2)
    table.add_column("option", overflow="fold", min_width=LEAST)
    for key, width in shown.items():
        table.add_column(heads[key], justify="right", overflow="fold", width=width)
    for place, row in enumerate(found.rows, 1):
        figures = say.figures(row, found)
        words = Text(_titled(row))
        table.add_row(f"{place}", words, *(Text(_folded(figures[key])) for key in shown))
    return table


def _titled(row: Row) -> str:
    flag = say.flag(row)
    return f"{row.option.words} ({flag})" if flag else row.option.words


def columns(found: Comparison, across: int) -> dict[str, int]:
    """What is ranked by first, what to buy, then others as far as there is room; their widths.

    A column in which nothing stands is left out.

    A column is as broad as its longest figure, or a word over it.
    """
    heads = say.headings(found)
    told = [say.figures(row, found) for row in found.rows]
    left, shown = across - OPTION, {}
    for key in dict.fromkeys((*found.order[:1], "buy", *found.order[1:], *MORE)):
        if key not in heads or all(each[key] in ("", say.NONE) for each in told):
            continue
        lines = [line for each in told for line in _folded(each[key]).splitlines()]
        width = max(map(len, (*heads[key].split(), *lines)))
        if width + GAP <= left:
            left -= width + GAP
            shown[key] = width
    return shown


def _folded(figure: str) -> str:
    """A figure of several cloths, or of two sizes that are long, one below the other."""
    parts = figure.replace(" + ", " +\n").replace(" / ", " /\n")
    return parts.replace(" × ", " ×\n") if len(figure) > WIDEST else parts


def summary(found: Comparison, written: tuple[Path, ...]) -> dict[str, Any]:
    """The whole comparison as plain data, keys in a fixed order; lengths in 1/160 mm."""
    return {
        "title": found.title,
        "ranked_by": list(found.order),
        "rules": list(say.rules(found)),
        "options": [_option(place, row, found) for place, row in enumerate(found.rows, 1)],
        "refused": [
            {"option": one.option.words, "changes": one.option.written, "reason": one.reason}
            for one in found.refused
        ],
        "not_laid": found.left,
        "files": [str(path) for path in written],
    }


def _option(place: int, row: Row, found: Comparison) -> dict[str, Any]:
    one = row.worth
    return {
        "place": place,
        "option": row.option.words,
        "as_the_case_has_it": row.option.own,
        "changes": row.option.written,
        "bettered_by": row.beaten_by,
        "printed": say.figures(row, found),
        "buy": one.buy,
        "cost": None if one.cost is None else f"{one.cost:.2f}",
        "length": one.length,
        "proof": one.proof.value,
        "gap": round(float(one.gap), 6),
        "seams": one.seams,
        "sewn": one.sewn,
        "grams": one.grams,
        "waste": round(float(one.waste), 6),
        "remnant": one.remnant,
        "tears": one.tears,
        "garments": [
            {
                "key": worn.garment.key,
                "name": worn.garment.name,
                "wearer": worn.garment.wearer,
                "round_hem": worn.garment.round_hem,
                "fulness": round(worn.garment.fulness, 4),
                "pleats": worn.pleats.pleats if worn.pleats else None,
                "pleats_per": worn.pleats_per(found.units.lead),
                "pleats_close": worn.pleats.closes if isinstance(worn.pleats, Gauging) else None,
                "facing_joins": worn.joins.count if worn.joins else None,
                "joins_meet_seams": worn.joins.meet if worn.joins else None,
                "advice": list(worn.advice),
            }
            for worn in one.worn
        ],
        "cloths": [cloth_row(lay, found.units) for lay in one.record.lays],
        "choices": list(one.record.choices),
    }
