"""The order of work of a printed sheet against the record: every step, for every garment.

Garments that are made alike share a page, and letters stand for the figures that differ. Here
each garment's steps are looked for with her own figures put back from the table.
"""

from __future__ import annotations

import re

from sheet_text import IDS, NUMBER, figures

from marker.record import Garment, Record
from marker.units import set_fractions

HEADS = re.compile(r"^((?:[a-z] )*[a-z])$", re.MULTILINE)
"""The letters over the columns of a table of figures."""
CUT = re.compile(
    r"\b(?:Tear|Cut) (?=[A-Z]{1,2}\d*-\d|all \d)[^.]*?, step by step as its own page says\."
)
BETWEEN = r"(?: [A-Z]{1,2}\d*(?:, [A-Z]{1,2}\d*)*)? "
LETTERS = re.compile(r"\b[A-Z]{1,2}\d+\b")
"""The pieces in hand, at the end of a step's line."""


def work_faults(record: Record, text: str) -> list[str]:
    """All complaints about the order of work, and about figures in it that nothing explains."""
    blocks = re.split(r"(?m)^(?=Order of work )", text)
    orders = [block for block in blocks if block.startswith("Order of work ")]
    found, left = [], [_flat(block) for block in orders]
    for garment in record.garments:
        if not garment.work:
            continue
        tries = [_missing(garment, block) for block in orders]
        best = min(range(len(tries)), key=lambda at: len(tries[at])) if tries else None
        if best is None:
            found.append(f"{garment.key} has no order of work")
            continue
        found += [f"{garment.key}: {said!r} is not told" for said in tries[best]]
        for task in garment.work:
            left[best] = _pattern(_told(task.text)).sub(" ", left[best])
    return found + [f"nobody's step tells {one}" for rest in left for one in _strange(rest)]


def _pattern(told: str) -> re.Pattern[str]:
    """A step with room for a letter in the place of every figure.

    The pieces in hand, which stand beside it, may come between any two of its words.
    """
    figure = rf"((?:{NUMBER.pattern})|\b[a-z]\b)"
    parts = (re.escape(part).replace(r"\ ", BETWEEN) for part in NUMBER.split(told))
    return re.compile(figure.join(parts))


def _flat(block: str) -> str:
    """A page in one line, words whole that are broken at their hyphen."""
    return " ".join(re.sub(r"(?<=[a-z]-)\n(?=[a-z])", "", block).split())


def _told(text: str) -> str:
    return " ".join(set_fractions(text).split())


def _missing(garment: Garment, block: str) -> list[str]:
    """The steps that the page doesn't tell her, with her own figures."""
    flat, hers = _flat(block), _row(garment, block)
    return [
        told
        for told in (_told(task.text) for task in garment.work)
        if not any(
            [hers.get(figure, figure) for figure in match.groups()] == NUMBER.findall(told)
            for match in _pattern(told).finditer(flat)
        )
    ]


def _row(garment: Garment, block: str) -> dict[str, str]:
    """Her row of the table, by the letters over it."""
    head = HEADS.search(block)
    name = re.escape(garment.wearer or garment.name)
    row = re.search(rf"(?m)^(?:[A-Z]{{1,2}} )?{name} (\S.*)$", block[head.end() :] if head else "")
    if not (head and row):
        return {}
    return dict(zip(head[1].split(), row[1].split(), strict=True))


def _strange(rest: str) -> list[str]:
    """Figures that are left once every step is taken out: of no stage, piece or table."""
    plain = rest.partition("Letters in heavy type stand")[0]
    plain = LETTERS.sub(" ", IDS.sub(" ", CUT.sub(" ", plain)))
    return figures(re.sub(r"(?<![\d.])[1-9] (?=[A-Z][a-z])", " ", plain))
