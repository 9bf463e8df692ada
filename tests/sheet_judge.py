"""Every figure of a printed sheet against the record alone: what it ought to be, reckoned anew.

Lengths are spelled here by rules of their own: up to the millimetre or the eighth of an inch for
what is bought or cut, down for what is left. Each check gives its complaints in sentences. Each
kind of page has a file of its own: `sheet_steps` and `sheet_sums` those of a cloth, `sheet_cards`,
`sheet_work` the order of work, `sheet_pleats`, and `sheet_thread` thread and weight.
"""

from __future__ import annotations

import re

from sheet_lengths import up
from sheet_sums import Judge, sizes_of
from sheet_text import Cloth, Sheet, part, steps

from marker.record import Record


def judge(record: Record, sheet: Sheet) -> list[str]:
    """All complaints about the steps, sums, sizes and purchases that a sheet tells."""
    found = []
    if len(sheet.cloths) != len(record.lays):
        found.append(f"there are {len(sheet.cloths)} plans of {len(record.lays)} cloths")
    for lay, cloth in zip(record.lays, sheet.cloths, strict=False):
        one = Judge(record, lay)
        _cloth(one, cloth)
        found += one.found
    for text in (sheet.front, *([sheet.slips] if sheet.slips else [])):
        found += _pieces(record, " ".join(text.split()))
    return found


def _cloth(one: Judge, cloth: Cloth) -> None:
    for text in (cloth.plan, cloth.words):
        one.sums = text is cloth.words
        one.steps(steps(text), whole="stand in the list" not in " ".join(text.split()))
    one.plan(cloth.plan)
    one.sum(part(cloth.words, "Check sum along the bolt", ("What is proved", "Left over")))
    one.purchase(" ".join(cloth.words.split()), "Buy {}", "Exact need {}")


def _pieces(record: Record, front: str) -> list[str]:
    """The list of pieces, and those on slips: letter, how many, and the size in every measure."""
    systems = [system.value for system in record.units.systems]
    found = []
    for lay in record.lays:
        for piece in lay.pieces:
            sizes = [
                " ".join(f"{up(a, s)} × {up(b, s)} {s}" for s in systems)
                for a, b in sizes_of(piece)
            ]
            name, letter = re.escape(" ".join(piece.name.split())), piece.letter
            rows = (
                rf"\b(?:{letter} {name}|{name}(?=.{{,150}} {letter} edges: ))"
                rf"[^×]*? {piece.count} × {re.escape(s)}"
                for s in sizes
            )
            if not any(re.search(row, front) for row in rows):
                found.append(f"the list of pieces lacks {piece.letter}, {piece.count} × {sizes[0]}")
    return found
