"""The demo cases, and the table of keys beside them."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import get_args

import pytest
from pydantic import BaseModel

from marker.casefile import read
from marker.casefile.chart import ChartTable
from marker.casefile.pieces import PieceTable
from marker.casefile.tables import ClothTable, WearerTable
from marker.garments.registry import recipes

CASES = sorted((Path(__file__).parents[1] / "cases").glob("*.toml"))


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
def test_demo_cases_draft_and_say_their_one_idea(path: Path) -> None:
    assert path.read_text(encoding="utf-8").startswith("# One idea: ")
    for order in read(path).orders:
        assert all(draft.pieces for draft in order.drafts())


def test_there_are_demo_cases_enough() -> None:
    assert len(CASES) >= 5


def keys_of(annotation: object) -> Iterator[str]:
    """Every key of a table, and of the tables in it and in its lists, by its last word."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        for name, field in annotation.model_fields.items():
            yield name
            yield from keys_of(field.annotation)
    for part in get_args(annotation):
        yield from keys_of(part)


EXPLAINED = (CASES[0].parent / "README.md").read_text(encoding="utf-8")
TABLES = {
    "wearer": WearerTable,
    "cloth": ClothTable,
    "piece": PieceTable,
    "chart": ChartTable,
    **recipes(),
}


def test_keys_are_found_in_tables_within_lists() -> None:
    assert {"flaws", "across"} <= set(keys_of(ClothTable))


@pytest.mark.parametrize("name", TABLES)
def test_every_key_is_explained_beside_the_cases(name: str) -> None:
    for key in sorted(set(keys_of(TABLES[name]))):
        assert re.search(rf"\b{key}\b", EXPLAINED), key


@pytest.mark.parametrize("kind", recipes())
def test_every_kind_of_garment_has_its_section(kind: str) -> None:
    assert re.search(rf"(?m)^## .*\b{kind}\b", EXPLAINED)
    assert f'`"{kind}"`' in EXPLAINED
