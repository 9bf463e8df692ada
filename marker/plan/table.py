"""What the terminal shows: a short table at the end, and progress while a solve runs."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from rich.console import Console
from rich.table import Table
from rich.text import Text

from marker.buying import shopping, total
from marker.lay import Lay
from marker.plan.pleats.words import of_record
from marker.plan.terminal import files_written, terminal
from marker.plan.words import phrases as words
from marker.plan.words.reached import goals_in_short
from marker.plan.words.sewing import sewing_data
from marker.plan.words.shopping import besides, shopping_data
from marker.plan.words.whose import saved_data, shared, wearers
from marker.record import Record
from marker.units import Units

MEANING = (
    "used: the pieces' share of the lay, over the whole width; waste: the share of the whole cloth "
    "that becomes neither a piece nor a remnant to keep"
)
"""The two shares are of different wholes, and need not make 100 %."""
NARROW = 60
"""Columns of a terminal under which cloths stand in a list, since a table would break figures."""
QUIET_SECONDS = 1.0
"""A solve shorter than this passes without a word."""

Told = Callable[[int, int], None]
"""Called with the best length and the bound while a cloth is laid."""


def show(record: Record, written: tuple[Path, ...]) -> None:
    """Print the table of cloths and the files written."""
    console = terminal()
    if console.width < NARROW:
        _list(console, record)
    else:
        console.print(_table(record))
    console.print(Text(MEANING))
    lines = shopping(record)
    bought = tuple(besides(lines, total(lines), record.units))
    for sentence in bought + record.choices + _advice(record):
        console.print(Text(sentence))
    console.print(files_written(written), soft_wrap=True)


def _table(record: Record) -> Table:
    table = Table(title=Text(record.title), title_justify="left", title_style="bold")
    keys = _headings(record)
    for heading in keys:
        table.add_column(heading, overflow="fold")
    for row in _rows(record):
        table.add_row(*(Text(row[key]) for key in keys.values()))
    return table


def _list(console: Console, record: Record) -> None:
    """The same, a figure a line, where a terminal is so narrow that columns would break figures."""
    console.print(Text(record.title, style="bold"))
    for row in _rows(record):
        for heading, key in _headings(record).items():
            told = row[key].replace("\n", ", ")
            console.print(Text(told if key == "cloth" else f"- {heading}: {told}"))


def _headings(record: Record) -> dict[str, str]:
    """What stands over each column, and the key of its figures."""
    keys = {"cloth": "cloth", "buy": "buy", "used": "used", "waste": "waste", "length": "proved"}
    if any(lay.goals for lay in record.lays):
        keys["goals"] = "goals_in_short"
    return keys


def _rows(record: Record) -> Iterator[dict[str, Any]]:
    for lay in record.lays:
        row = {**cloth_row(lay, record.units), "goals_in_short": goals_in_short(lay)}
        buys = (words.buy(lay, system) for system in record.units.systems)
        row["buy"] = "\n".join(dict.fromkeys(buys))  # a measure a line, which never breaks
        yield row


def _advice(record: Record) -> tuple[str, ...]:
    named = len(record.garments) > 1
    # What holds of one garment made for several wearers is said once.
    told = dict.fromkeys(
        f"{garment.name}: {sentence}" if named else sentence
        for garment in record.garments
        for sentence in garment.advice
    )
    for plan in of_record(record):
        for sentence in plan.warnings:
            told.setdefault(f"{plan.garment.name}: {sentence}" if named else sentence)
    return tuple(told)


def summary(record: Record, written: tuple[Path, ...]) -> dict[str, Any]:
    """The same as plain data, keys in a fixed order, for `--json`."""
    lines = shopping(record)
    return {
        "title": record.title,
        "cloths": [cloth_row(lay, record.units) for lay in record.lays],
        **shopping_data(lines, total(lines), record.units),
        "sewing": sewing_data(record),
        "choices": list(record.choices),
        **_wearers(record),
        "advice": list(_advice(record)),
        "files": [str(path) for path in written],
    }


def _wearers(record: Record) -> dict[str, Any]:
    """Who is who of several wearers, and what laying them together saves on each cloth."""
    named = wearers(record)
    if not named:
        return {}
    found: dict[str, Any] = {"wearers": named}
    if record.alone:
        found["saved"] = [saved_data(record, lay) for lay in shared(record)]
    return found


def cloth_row(lay: Lay, units: Units) -> dict[str, Any]:
    """One cloth as plain data; the goals in their order, areas in square units."""
    return {
        "cloth": lay.cloth.name,
        "key": lay.cloth.key,
        "mode": lay.mode.value,
        "buy": words.buy(lay, units),
        "need": words.need(lay, units),
        "used": words.used(lay),
        "waste": words.waste(lay),
        "proved": words.proof(lay, units),
        "lay_length": lay.length,
        "bound": lay.bound,
        "proof": lay.proof.value,
        "goals": [
            {
                "aim": goal.aim.value,
                "value": goal.value,
                "bound": goal.bound,
                "bound_by": goal.bound_by,
            }
            for goal in lay.goals
        ],
    }


@contextmanager
def progress(*, enabled: bool) -> Iterator[Told | None]:
    """Show on stderr, once a solve has lasted over a second, how far it has come."""
    console = terminal(stderr=True)
    if not enabled or not console.is_terminal:
        yield None
        return
    status = console.status(Text("laying the pieces; Ctrl-C keeps the best lay so far"))
    late = threading.Timer(QUIET_SECONDS, status.start)
    late.daemon = True

    def told(best: int, bound: int) -> None:
        share = 100 * (best - bound) / bound if bound else 0.0
        status.update(Text(f"laying: within {share:.1f} % of the bound; Ctrl-C keeps this lay"))

    late.start()
    try:
        yield told
    finally:
        late.cancel()
        status.stop()
