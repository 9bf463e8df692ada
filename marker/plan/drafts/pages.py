"""The sheet's pages on how shaped pieces are drafted: a figure and words for each."""

from __future__ import annotations

from typing import Any

from marker.plan.drafts.draft import drafts
from marker.plan.drafts.figure import figure, scales
from marker.plan.drafts.words import draft_words, how_words
from marker.plan.lays.svg import picture
from marker.record import Record

ROOM = 134
"""A draft that would take more than this of a column, in mm, may run on in another."""
HEAD, TABLE, ROW = 13, 15, 4.6
"""What a draft's heading, a table of readings, and a row of words take of a column, in mm."""
LETTERS = 80
"""About so many letters stand in one row."""


def drafts_data(record: Record) -> dict[str, Any]:
    """How to draft, and every draft with its figure, sizes in mm; no drafts without shapes."""
    found = drafts(record)
    told = []
    for draft, n in zip(found, scales(found), strict=True):
        drawing, size = figure(draft, n, record.units)
        words = draft_words(draft, record.units)
        told.append(
            {
                **words,
                "figure": picture(drawing, size),
                "width": size[0] / 100,
                "scale": f"drawn 1:{n}",
                "long": size[1] / 100 + _height(words) > ROOM,
            }
        )
    return {
        "how": how_words(record.units, curved=any(draft.curved for draft in found)) if told else [],
        "pieces": told,
    }


def _height(words: dict[str, Any]) -> float:
    """About how much of a column the words of a draft take, in mm."""
    lines = [*words["edges"], *words["inside"]]
    rows = sum(-(-len(line) // LETTERS) for line in lines)
    tables = [len(table["rows"]) for table in words["tables"]]
    # The corners' rows stand one below the other, those of points on curves two abreast.
    deep = sum(tables[:1]) + -(-sum(tables[1:]) // 2)
    return HEAD + TABLE * deep + ROW * rows
