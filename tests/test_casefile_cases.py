"""The demo cases, and the table of keys beside them."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import get_args

import pytest
from pydantic import BaseModel

from marker.casefile import read
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


def keys_of(model: type[BaseModel]) -> Iterator[str]:
    """Every key of a table, and of the tables in it, by its last word."""
    for name, field in model.model_fields.items():
        yield name
        for part in (field.annotation, *get_args(field.annotation)):
            if isinstance(part, type) and issubclass(part, BaseModel):
                yield from keys_of(part)


def test_every_key_is_explained_beside_the_cases() -> None:
    explained = (CASES[0].parent / "README.md").read_text(encoding="utf-8")
    for model in (WearerTable, ClothTable, *recipes().values()):
        for key in keys_of(model):
            assert re.search(rf"\b{key}\b", explained), key
