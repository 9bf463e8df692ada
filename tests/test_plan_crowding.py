"""Words on the plan keep off the folds and seams, or break them through the middle."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from plan_lays import RECORDS, worked_out

import marker
from marker.lay import Lay
from marker.piece import MarkKind
from marker.plan.drawing import style
from marker.plan.drawing.page import Box, Paper
from marker.plan.lays import pieces
from marker.plan.lays.blocks import choices
from marker.plan.lays.layout import Plan
from marker.plan.lays.marks import place
from marker.record import Record

ROOT = Path(__file__).parents[1]
CASES = sorted(path.stem for path in (ROOT / "cases").glob("*.toml"))
NAMES = {"edge", "mark"}


def lines(record: Record, lay: Lay, plan: Plan) -> Iterator[tuple[str, Box]]:
    """Folds, hems and seams of straight pieces on the page, with the piece they are on."""
    for one in pieces.laid(lay, plan.view, record.units, pieces.Naming()):
        if one.shape or one.least <= 250:
            continue
        for mark in one.piece.marks:
            if mark.kind is not MarkKind.NOTCH:
                (x0, y0), (x1, y1) = place(plan.view, one, mark)
                x, y = plan.corner
                yield (
                    one.spot.id,
                    Box(min(x0, x1) + x, min(y0, y1) + y, max(x0, x1) + x + 1, max(y0, y1) + y + 1),
                )


def blots(record: Record, lay: Lay, kinds: set[str], clear: int) -> list[str]:
    """Labels with a line under their rim."""
    plan = worked_out(record, lay, Paper.A4)
    found = list(lines(record, lay, plan))
    return [
        f"{label.kind} {label.owner} at {label.box}"
        for label in plan.drawing.labels
        if label.kind in kinds and label.slab is None
        for owner, line in found
        if owner == label.owner and rim(label.box, line, clear)
    ]


def rim(box: Box, line: Box, clear: int) -> bool:
    x, y = box.width // 4, box.height // 4
    inner = Box(box.x0 + x, box.y0 + y, box.x1 - x, box.y1 - y)
    return box.grown(clear).hits(line) and not inner.hits(line.grown(20))


@pytest.mark.parametrize("case", CASES)
@pytest.mark.slow
def test_no_name_of_an_edge_blots_a_fold_in_the_gallery(case: str) -> None:
    record = marker.load_record(ROOT / "out" / case / "lay.json")
    for lay in record.lays:
        assert blots(record, lay, NAMES, 0) == []


@pytest.mark.parametrize("name", [name for name in RECORDS if name != "long"])
@pytest.mark.slow
def test_no_name_of_an_edge_blots_a_fold(name: str) -> None:
    record = RECORDS[name]()
    for lay in record.lays:
        assert blots(record, lay, NAMES, 0) == []


def test_the_check_of_blots_can_fail() -> None:
    """A line under the rim of a word is a blot; one through its middle or clear of it is none."""
    word = Box(1000, 1000, 1300, 2000)
    assert rim(word, Box(1020, 0, 1021, 9000), 0)
    assert rim(word, Box(1290, 0, 1291, 9000), 0)
    assert not rim(word, Box(1150, 0, 1151, 9000), 0)
    assert not rim(word, Box(990, 0, 991, 9000), 0)
    assert rim(word, Box(990, 0, 991, 9000), 15)


@pytest.mark.slow
@pytest.mark.parametrize("case", ["two-on-one-bolt", "taped-petticoat", "faced-skirt"])
def test_the_labels_of_strips_stand_clear_of_their_folds(case: str) -> None:
    record = marker.load_record(ROOT / "out" / case / "lay.json")
    strips = {p.letter for lay in record.lays for p in lay.pieces if "facing" in p.name}
    for lay in record.lays:
        told = blots(record, lay, {"piece"}, style.CLEAR - 20)
        assert [one for one in told if one.split()[1].split("-")[0] in strips] == []


def test_three_lines_may_stand_as_two() -> None:
    """In a strip too narrow for three, beside the letter or above it, and never over the size."""
    words = (("facing strip 1 of 2", False), ("Wenna", False), ("97.1 × 15 cm", True))
    for tall in (False, True):
        texts = [tuple(bit.text for bit in block.bits) for block in choices("E", words, tall)]
        assert ("E", "facing strip 1 of 2, Wenna", "97.1 × 15 cm") in texts
        assert texts[0] == ("E", *(text for text, _ in words))
    assert not any("," in bit.text for block in choices("E", words[1:], True) for bit in block.bits)
