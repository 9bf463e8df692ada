"""Write a planned case to a folder: all of its files, or none of them.

Everything is drawn, judged and set before the folder is touched; then `putting` moves the
files into place, the record last.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

from marker import record as records
from marker import referee
from marker.errors import CannotWrite, Refused
from marker.lay import Lay
from marker.plan.drawing.page import Half, Paper
from marker.plan.lays.binding import bound
from marker.plan.lays.svg import draw, draw_pages
from marker.plan.putting import in_a_sentence, put, recover
from marker.plan.sheet.halves import pairs
from marker.plan.sheet.setting import compile_sheet
from marker.record import Record

RECORD = "lay.json"
SHEET = "sheet.pdf"

_KEY = re.compile(r"\w(?:[\w .-]{0,58}[\w-])?")
"""Cloth keys that any file system takes as part of a name."""


def plan_name(lay: Lay) -> str:
    """Name of the plan's file: "plan-main.svg" for the cloth of key "main".

    Raises `CannotWrite` where the key can't be part of a file name.
    """
    name = _plan_name(lay.cloth.key)
    if name is None:
        raise CannotWrite(
            f"cloth {lay.cloth.key!r}: its key can't be part of a file name; "
            "use letters, figures and hyphens"
        )
    return name


def write(
    record: Record | None, folder: Path, paper: Paper, beside: Mapping[str, bytes] | None = None
) -> tuple[Path, ...]:
    """Draw, set and write a record, and files `beside` it; gives the paths written, its own last.

    Without a record what an earlier one left in the folder is taken away.
    Raises `Refused` where the referee finds a fault in a lay or a drawing, and
    `CannotWrite` where the folder can't take the files; then the folder is as it was.
    """
    pages = {**(beside or {}), **(_make(record, paper) if record else {})}
    with in_a_sentence(folder):
        recover(folder)
        old = _listed(folder)
        if old and record is None:
            old += [name for name in (SHEET, RECORD) if (folder / name).is_file()]
        return put(folder, pages, [name for name in old if name not in pages])


def _make(record: Record, paper: Paper) -> dict[str, bytes]:
    """Every file of a record under its name, in the order in which they are put in place."""
    if faults := referee.check_record(record):
        raise Refused("the plan", faults)
    plans: dict[str, str] = {}
    strips: dict[str, list[str]] = {}
    names: dict[str, bytes] = {}
    drawn: dict[str, Sequence[tuple[str, Lay]]] = {}
    for lay in record.lays:
        name, pages = plan_name(lay), draw_pages(record, lay, paper)
        svg = bound([page for page, _ in pages], paper.size)
        for page, part in ((svg, lay), *pages):
            if faults := referee.check_drawing(page, part):
                raise Refused(f"the drawing of {lay.cloth.name}", faults)
        if name.casefold() in {known.casefold() for known in names}:
            raise CannotWrite(
                f"cloth {lay.cloth.key!r}: another cloth's plan has the same file name; "
                "give one of them another key"
            )
        plans[lay.cloth.key], *strips[lay.cloth.key] = [page for page, _ in pages]
        names[name], drawn[lay.cloth.key] = svg.encode(), pages
    halves = _half_drawings(record, paper)
    sheet = compile_sheet(record, plans, paper, halves, strips)
    if faults := referee.check_sheet(sheet, _printed(record, halves, drawn)):
        raise Refused("the sheet", faults)
    return {**names, SHEET: sheet, RECORD: records.dump(record).encode()}


def _printed(
    record: Record, halves: Mapping[str, str], drawn: Mapping[str, Sequence[tuple[str, Lay]]]
) -> Iterator[tuple[str, Lay]]:
    """Every drawing that the sheet sets, with what of a lay it shows."""
    for lay in record.lays:
        first, *stretches = drawn[lay.cloth.key]
        half = halves.get(lay.cloth.key)
        yield first if half is None else (half, lay)
        yield from stretches


def _half_drawings(record: Record, paper: Paper) -> dict[str, str]:
    """The smaller drawings of scraps that share a page of the sheet, by the cloth's key."""
    found: dict[str, str] = {}
    for lay in (lay for pair in pairs(record) for lay in pair):
        found[lay.cloth.key] = svg = draw(record, lay, Half(paper))
        if faults := referee.check_drawing(svg, lay):
            raise Refused(f"the small drawing of {lay.cloth.name}", faults)
    return found


def _plan_name(key: str) -> str | None:
    return f"plan-{key}.svg" if _KEY.fullmatch(key) else None


def _listed(folder: Path) -> list[str]:
    """The plans that an earlier record in the folder lists and that still stand there."""
    try:
        known = json.loads((folder / RECORD).read_text(encoding="utf-8"))
        names = [_plan_name(str(lay["cloth"]["key"])) for lay in known["lays"]]
    except (FileNotFoundError, NotADirectoryError, IsADirectoryError):
        return []
    except (ValueError, KeyError, TypeError, RecursionError):
        return []  # not a record of ours: then no file is ours to remove
    return [name for name in names if name and (folder / name).is_file()]
