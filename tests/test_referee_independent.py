"""The referee stands on its own: what solvers reckon with it reckons anew, in whole numbers."""

from __future__ import annotations

import ast
import dataclasses
import inspect
import sys
from collections.abc import Iterator
from pathlib import Path
from types import FrameType, ModuleType
from typing import Any

import pytest
from asked_lays import ASKED
from curved_lays import CURVED
from lays import GOOD, record
from test_referee_drawing import drawing

import marker.cloth
import marker.lay
import marker.piece
import marker.referee
from marker.lay import Lay
from marker.referee import check_drawing, check_record, findings

ROOM = Path(marker.referee.__file__).parent
SHARED = {"Arc", "Cubic", "Line", "Outline", "Polygon", "Rect", "edges", "near_pairs"}
"""All that the referee takes from geometry: outlines, and how they are walked along."""
STRAIGHT = GOOD | ASKED


def taken(path: Path) -> set[str]:
    """The names that a file takes from geometry."""
    return {
        alias.name
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("marker.geometry")
        for alias in node.names
    }


def test_of_geometry_only_outlines_are_shared() -> None:
    assert set().union(*map(taken, ROOM.glob("*.py"))) == SHARED


def reckoned(room: ModuleType) -> Iterator[tuple[type, str]]:
    """What the classes of a room work out, besides what they only hold."""
    for one in vars(room).values():
        if (
            inspect.isclass(one)
            and one.__module__ == room.__name__
            and dataclasses.is_dataclass(one)
        ):
            held = {field.name for field in dataclasses.fields(one)}
            yield from ((one, name) for name in vars(one) if name[0] != "_" and name not in held)


@pytest.mark.parametrize("name", [*STRAIGHT, *CURVED])
def test_nothing_that_the_data_reckons_is_taken_on_trust(
    name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Sizes, places, purchases and readings: a fault in them would deceive solver and referee."""
    lay = (STRAIGHT | CURVED)[name]()
    svg, whole = drawing(lay), record()

    def asked(*_: object) -> Any:
        raise AssertionError("the referee asked the data")

    for room in (marker.cloth, marker.lay, marker.piece):
        for one, what in reckoned(room):
            if (one.__name__, what) != ("Edges", "named"):  # a tuple of the fields
                monkeypatch.setattr(one, what, property(asked))
    with pytest.raises(AssertionError):
        _ = lay.used
    assert findings(lay) == ()
    assert check_drawing(svg, lay) == ()
    assert check_record(whole) == ()


def fractions(lay: Lay) -> list[str]:
    """Where the referee holds a number that isn't whole while it judges a lay."""
    found: list[str] = []

    def look(frame: FrameType, event: str, given: object) -> None:
        if event != "return" or "/marker/" not in frame.f_code.co_filename:
            return
        for value in (given, *frame.f_locals.values()):
            inner = value if isinstance(value, tuple | list) else (value,)
            if any(isinstance(one, float) for one in inner):
                found.append(f"{frame.f_code.co_qualname}: {value!r}")

    svg = drawing(lay)
    sys.setprofile(look)
    try:
        assert findings(lay) == ()
        assert check_drawing(svg, lay) == ()
    finally:
        sys.setprofile(None)
    return found


@pytest.mark.parametrize("name", STRAIGHT)
def test_straight_pieces_are_judged_in_whole_numbers(name: str) -> None:
    assert fractions(STRAIGHT[name]()) == []


def test_numbers_that_are_not_whole_would_be_seen() -> None:
    assert fractions(next(iter(CURVED.values()))()) != []
