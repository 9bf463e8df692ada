"""Case files written for the tests: a plain skirt, with whatever a test wants otherwise."""

from __future__ import annotations

import pytest

from marker.casefile import Case, parse
from marker.errors import BadInput
from marker.garments.order import Draft
from marker.piece import Piece

IN = {
    "wearer": 'waist = "26 in"\nlength = "39 in"',
    "cloth": 'width = "45 in"\nselvedge = "1/2 in"',
    "garment": 'seam = "1/2 in"\nturn_down = "2 1/2 in"\ntake_up = "1 in"',
    "panels": "count = 3",
    "band": 'width = "1 in"\nunderlap = "3 in"',
}
CM = {
    "wearer": 'waist = "66 cm"\nlength = "100 cm"',
    "cloth": 'width = "114 cm"\nselvedge = "1 cm"',
    "garment": 'seam = "1.25 cm"\nturn_down = "6 cm"\ntake_up = "2 cm"',
    "panels": "count = 3",
    "band": 'width = "2.5 cm"\nunderlap = "7.5 cm"',
}
"""Waist to ankle 39 in, 2 1/2 in turned down and 1 in at the hem; the same in centimetres
(common practice, no source)."""


def text_of(units: str = "in", more: str = "", **parts: str) -> str:
    """A case file; `parts` replaces what stands under a heading, `more` is put at the end."""
    given = {**(IN if units == "in" else CM), **parts}
    band = f"[garment.skirt.band]\n{given['band']}\n" if given["band"] else ""
    return (
        f'title = "A skirt"\nunits = "{units}"\n'
        f"[wearer.ada]\n{given['wearer']}\n"
        f"[cloth.main]\n{given['cloth']}\n"
        f"[garment.skirt]\n{given['garment']}\n"
        f"[garment.skirt.panels]\n{given['panels']}\n"
        f"{band}{more}"
    )


def case_of(units: str = "in", more: str = "", **parts: str) -> Case:
    """The case read from `text_of`, under the name "a.toml"."""
    return parse(text_of(units, more, **parts), "a.toml")


def drafts_of(units: str = "in", more: str = "", **parts: str) -> tuple[Draft, ...]:
    """All drafts of its first order."""
    return case_of(units, more, **parts).orders[0].drafts()


def draft_of(units: str = "in", more: str = "", **parts: str) -> Draft:
    """Its only draft."""
    (draft,) = drafts_of(units, more, **parts)
    return draft


def jobs(draft: Draft) -> list[str]:
    """The order of work in its own words."""
    return [job.text for job in draft.work]


def piece_of(draft: Draft, name: str) -> Piece:
    """The one piece of that name."""
    (found,) = [piece for piece in draft.pieces if piece.name == name]
    return found


def fault(units: str = "in", more: str = "", **parts: str) -> str:
    """The one sentence with which the case, or its first order, is refused."""
    with pytest.raises(BadInput) as raised:
        drafts_of(units, more, **parts)
    told = str(raised.value)
    assert told.startswith("a.toml: ") and "\n" not in told
    return told
