"""The sheet's page of thread, weight and time."""

from __future__ import annotations

from typing import Any

from marker.plan.words import sewing as words
from marker.plan.words.shopping import mass
from marker.record import Record
from marker.units import Units

TITLES = ("thread", "weight", "time")
MOST_TOLD = 2
"""So many garments are told part by part; of more each has one line."""


def sewing_page(record: Record) -> dict[str, Any]:
    """Everything that the page says; its lists are empty where nothing is known."""
    thread, units = record.thread, record.units
    works = words.works(record)
    sewn = [work for work in works if work.thread]
    rows = [words.row_words(work, thread, units) for work in sewn if work.rows and thread]
    known = [work for work in works if work.weight.told]
    timed = [work for work in works if work.hours]
    parts = [name for name, some in zip(TITLES, (sewn, known, timed), strict=True) if some]
    return {
        "title": _together(parts).capitalize(),
        "rows": rows,
        "thread_notes": words.thread_notes(thread, units, rows=bool(rows))
        if thread and sewn
        else [],
        "detailed": len(works) <= MOST_TOLD,
        "sewn": [_sewn(work, units) for work in sewn],
        "weights": [_weight(work, units) for work in known],
        "weight_notes": words.weight_notes(record) if known else [],
        "hours": [_hours(work) for work in timed],
        "time_note": words.time_note(record.pace) if record.pace else "",
    }


def _together(parts: list[str]) -> str:
    return f"{', '.join(parts[:-1])} and {parts[-1]}" if parts[1:] else "".join(parts)


def _sewn(work: words.Work, units: Units) -> dict[str, Any]:
    others = [one for one in work.garment.sewing if not one.pushed]
    return {
        "name": work.name,
        "lines": [words.sewn_words(one, units) for one in others],
        "length": words.length(sum(one.length for one in others), units),
        "stitches": str(sum(one.stitches for one in others)),
        "all": words.length(work.thread, units),
    }


def _weight(work: words.Work, units: Units) -> dict[str, Any]:
    return {
        "name": work.name,
        "parts": words.weight_words(work.weight, units),
        "total": mass(work.weight.grams, units),
        "unknown": ", ".join(work.weight.unknown),
    }


def _hours(work: words.Work) -> dict[str, Any]:
    return {
        "name": work.name,
        "stages": [
            {
                "stage": one.stage,
                "stitches": str(one.stitches),
                "time": words.quarter_hours(one.quarters),
            }
            for one in work.hours
        ],
        "stitches": str(sum(one.stitches for one in work.hours)),
        "total": words.quarter_hours(sum(one.quarters for one in work.hours)),
    }
