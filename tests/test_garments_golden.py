"""What every recipe drafts, held against a list of what it drafted: a slip anywhere shows.

That the figures are right is for the other tests to say; this one sees that none moves unseen.
The list has no sentences, so that wording may change freely: of a task or an advice only its
stage, its figures and its pieces. After a change that was meant:
MARKER_REWRITE=1 pytest tests/test_garments_golden.py, then look at every line that moved.
"""

from __future__ import annotations

import os
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from work_cases import GARMENTS, case

from marker.garments.order import Draft
from marker.piece import Piece

GOLDEN = Path(__file__).parent / "golden" / "drafts"
REWRITE = bool(os.environ.get("MARKER_REWRITE"))
MOST = 4
"""So many ways of a garment are listed; the others differ in the same few things."""
DEMOS = (
    "drawn-bodice",
    "flounced-petticoat",
    "taped-petticoat",
    "gored-walking-skirt",
    "whole-list",
)
"""Demo cases of what the made-up ones lack, such as pieces that the user brings."""


def figures(text: str) -> str:
    """The figures of a sentence, in their order."""
    return " ".join(re.findall(r"\d+(?:[./]\d+)*", text))


def of_piece(piece: Piece) -> Iterator[str]:
    """Everything that a recipe says of a piece, in units."""
    ways = f"{piece.grain}, up {piece.up}, {'torn' if piece.torn else 'cut'}"
    yield f"{piece.count} x {piece.name}: {piece.length} x {piece.breadth}, {ways}, {piece.cloth}"
    if piece.outline is not None:
        area = round(piece.outline.area / 160**2)
        yield f"  outline {area} mm2, mirrored {piece.mirrored}, folds {piece.folds}"
    yield from (
        f"  {mark.kind} {mark.u0} {mark.v0} to {mark.u1} {mark.v1} {mark.name}"
        for mark in piece.marks
    )
    for name in ("edges", "selvedges", "matches", "pieced", "also"):
        if value := getattr(piece, name):
            yield f"  {name} {value}"


def of_draft(draft: Draft) -> Iterator[str]:
    """A draft in lines."""
    told = draft.garment
    yield f"== {draft.way or 'the one way'}"
    yield (
        f"panels {told.panels}, cut {told.cut_length}, hem {told.round_hem}, drawn {told.drawn}, "
        f"opening {told.opening}"
    )
    yield from (f"turn-down {turn.place} {turn.depth}" for turn in told.turn_downs)
    yield from (f"bought {one.name} {one.length} {one.count}" for one in told.notions)
    yield from (f"figure {one.name} {one.length}" for one in told.figures)
    yield f"pleating {told.pleating}"
    yield f"flex {(draft.flex.low, draft.flex.high, draft.flex.step) if draft.flex else None}"
    for piece in draft.pieces:
        yield from of_piece(piece)
    yield from (f"advice {figures(text)}" for text in (*told.advice, *draft.left_out))
    yield from (
        f"{job.stage}: {figures(job.text)} -> {', '.join(job.pieces)}" for job in draft.work
    )
    yield from (
        f"sewn {seam.piece} {seam.edge} to {seam.other or 'itself'} {seam.other_edge}"
        for seam in draft.sewn
    )


@pytest.mark.parametrize("name", [*GARMENTS, *DEMOS])
def test_a_recipe_drafts_what_it_did(name: str) -> None:
    drafts = [draft for order in case(name).orders for draft in order.drafts()[:MOST]]
    text = "\n".join(line for draft in drafts for line in of_draft(draft)) + "\n"
    kept = GOLDEN / f"{name.replace(',', '').replace(' ', '-')}.txt"
    if REWRITE:
        kept.write_text(text, encoding="utf-8")
    assert text == kept.read_text(encoding="utf-8")
