"""What can be had from cloth that is there, on the terminal and as plain data."""

from __future__ import annotations

from pathlib import Path
from textwrap import wrap
from typing import Any

from rich.console import Console
from rich.text import Text

from marker.casefile.changes import Changes, told
from marker.decide.reach import Most, Offer, Reached
from marker.plan import table
from marker.plan.reach import words as reach_words
from marker.plan.terminal import files_written, terminal
from marker.record import Record

INDENT = 3
"""Spaces before what is told of a change, so that its number stands out."""


def show(reached: Reached, written: tuple[Path, ...]) -> None:
    """Print the verdict, the changes that fit, the most, and the files written."""
    console = terminal()
    console.print(Text(reached.case.title, style="bold"))
    for sentence in reach_words.verdict(reached):
        console.print(Text(sentence))
    if not reached.record:
        _changes(console, reached)
    for sentence in (*reach_words.not_asked(reached), *reach_words.most_told(reached)):
        console.print(Text(sentence))
    if reached.most:
        console.print(Text("To write:" if reached.most.changes else "It is what the file says."))
        _write(console, reached.most.changes)
    console.print(files_written(written), soft_wrap=True)


def _changes(console: Console, reached: Reached) -> None:
    if not reached.offers:
        console.print(Text(reach_words.no_change(reached)))
        return
    how = " (two changes at once, since no single one was found)" if reached.several else ""
    console.print(Text(f"What would fit{how}; what takes the least away comes first:"))
    for change, offer in zip(reach_words.changes(reached), reached.offers, strict=True):
        for at, note in enumerate((f"{change.what}.", *change.notes)):
            mark = "" if at else change.mark
            for line in wrap(note, max(20, console.width - INDENT)):
                console.print(Text(mark.ljust(INDENT) + line), soft_wrap=True)
                mark = ""
        _write(console, offer.changes)


def _write(console: Console, changes: Changes) -> None:
    """Changes as they are written into the file, one a line.

    A key is never broken, so that it can be copied, however narrow the terminal is.
    """
    for key, value in changes.items():
        line = " " * INDENT + told({key: value})
        console.print(Text(line, style="dim"), soft_wrap=True)


def summary(reached: Reached, written: tuple[Path, ...]) -> dict[str, Any]:
    """The same as plain data, keys in a fixed order, lengths in units of 1/160 mm."""
    return {
        "title": reached.case.title,
        "fits": reached.record is not None,
        "standing": reached.standing.value,
        "told": list(reach_words.verdict(reached)),
        "cloths": _cloths(reached.record, reached),
        "misses": [
            {
                "cloth": miss.cloth,
                "side": "width" if miss.wide else "length",
                "there": miss.there,
                "would_do": miss.least,
                "least_proved": miss.bound,
                "proved": reach_words.miss_proved(miss, reached.case.units),
                "cloths": _cloths(miss.record, reached),
            }
            for miss in reached.misses
        ],
        "two_at_once": reached.several,
        "changes": [_offer(offer, reached) for offer in reached.offers],
        "most": _most(reached.most, reached),
        "stopped": reached.stopped,
        "not_asked": list(reached.unasked),
        "files": [str(path) for path in written],
    }


def _offer(offer: Offer, reached: Reached) -> dict[str, Any]:
    return {
        "change": offer.words,
        "write": _written(offer.changes),
        "takes_away": float(offer.lost),
        "takes": reach_words.takes_away(offer, reached.case.units),
        "least_proved": offer.refuted if offer.figured else None,
        "cloths": _cloths(offer.record, reached),
    }


def _most(most: Most | None, reached: Reached) -> dict[str, Any] | None:
    if most is None:
        return None
    return {
        "of": most.of,
        "garment": most.garment,
        "told": list(reach_words.most_words(reached)),
        "figure": most.figure,
        "proved": most.refuted,
        "within": most.within,
        "at_most": most.limit,
        "write": _written(most.changes),
        "cloths": _cloths(most.record, reached),
    }


def _written(changes: Changes) -> dict[str, Any]:
    """Keys and values as the file would have them; null where a key is taken out."""
    return {".".join(key): value for key, value in changes.items()}


def _cloths(record: Record | None, reached: Reached) -> list[dict[str, Any]]:
    if record is None:
        return []
    return [table.cloth_row(lay, reached.case.units) for lay in record.lays]
