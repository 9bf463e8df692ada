"""What can be had from cloth that is there, on the terminal and as plain data."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from rich.console import Console
from rich.table import Table
from rich.text import Text

from marker.casefile.changes import Changes
from marker.decide.reach import Most, Offer, Reached
from marker.plan import reach_words, table
from marker.record import Record


def show(reached: Reached, written: tuple[Path, ...]) -> None:
    """Print the verdict, the changes that fit, the most, and the files written."""
    console = Console(highlight=False)
    console.print(Text(reached.case.title, style="bold"))
    for sentence in reach_words.verdict(reached):
        console.print(Text(sentence))
    if not reached.record:
        _changes(console, reached)
    for sentence in reach_words.most_words(reached):
        console.print(Text(sentence))
    console.print(Text("written: " + ", ".join(str(path) for path in written)), soft_wrap=True)


def _changes(console: Console, reached: Reached) -> None:
    if not reached.offers:
        console.print(Text(reach_words.no_change(reached)))
        return
    how = ", two changes at once" if reached.several else ""
    told = Table(
        title=Text(f"What would fit{how}; what takes the least away comes first"),
        title_justify="left",
        title_style="",
    )
    for heading in ("", "change, and what to write in the file", "takes away", "less would do"):
        told.add_column(heading, overflow="fold")
    for change in reach_words.changes(reached):
        what = Text(change.what).append(f"\n{change.write}", style="dim")
        told.add_row(change.mark, what, change.takes, change.less or "")
    console.print(told)


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
        "files": [str(path) for path in written],
    }


def _offer(offer: Offer, reached: Reached) -> dict[str, Any]:
    return {
        "change": offer.words,
        "write": _written(offer.changes),
        "takes_away": float(offer.lost),
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
