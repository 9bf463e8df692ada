"""The order of work and what edges meet, in every recipe: whole, symmetrical, of known pieces."""

from __future__ import annotations

import re
from functools import cache

import pytest
from work_cases import GARMENTS, NAMES, case

from marker.garments.order import Draft
from marker.garments.work.job import ORDER, meetings
from marker.piece import FACE, Meeting
from marker.record import Stage

SLIP = re.compile(r"  | [.,]|\.\.|(?<![\d.])0 cm|\bthe the\b|None|\{|\}")
"""What no text may hold: empty places, and lengths of nothing."""
LONGEST = 460
"""Characters: a longer task is no single step any more."""


@cache
def drafts(name: str) -> tuple[Draft, ...]:
    """All drafts of a case, each garment in every way."""
    return tuple(draft for order in case(name).orders for draft in order.drafts())


def met(draft: Draft) -> dict[str, tuple[Meeting, ...]]:
    return {piece.name: meetings(piece, draft.sewn) for piece in draft.pieces}


def of_recipe(draft: Draft) -> bool:
    """Whether a recipe drafted it: of pieces that the user brings nothing is known."""
    return bool(draft.sewn)


@pytest.mark.parametrize("name", NAMES)
def test_what_an_edge_meets_says_so_too(name: str) -> None:
    for draft in drafts(name):
        found = met(draft)
        said = {
            (one, other) for one, seams in found.items() for seam in seams for other in seam.pieces
        }
        assert said == {(other, one) for one, other in said}
        assert {other for _, other in said} <= set(found)


@pytest.mark.parametrize("name", NAMES)
def test_no_named_edge_is_left_without_a_meeting(name: str) -> None:
    for draft in drafts(name):
        found = met(draft) if of_recipe(draft) else {}
        for piece in draft.pieces:
            edges = {seam.edge for seam in found.get(piece.name, ())}
            assert not found or set(piece.edges.named) <= edges, (piece.name, piece.edges.named)


@pytest.mark.parametrize("name", NAMES)
def test_every_seam_is_of_edges_that_there_are(name: str) -> None:
    for draft in drafts(name):
        edges = {piece.name: {*piece.edges.named, FACE} for piece in draft.pieces}
        for seam in draft.sewn:
            assert seam.edge in edges[seam.piece], seam
            assert not seam.other or seam.other_edge in edges[seam.other], seam


@pytest.mark.parametrize("name", NAMES)
def test_the_work_is_in_order_and_of_pieces_that_there_are(name: str) -> None:
    for draft in drafts(name):
        names = {piece.name for piece in draft.pieces}
        assert draft.work and draft.work[-1].stage is Stage.FINISH
        stages = [ORDER.index(job.stage) for job in draft.work]
        assert stages == sorted(stages)
        for job in draft.work:
            assert set(job.pieces) <= names, job
            assert job.text[0].isupper() and job.text.endswith("."), job
            assert len(job.text) <= LONGEST, job
            assert not SLIP.search(job.text), job


@pytest.mark.parametrize("name", NAMES)
def test_every_piece_comes_up_in_the_work(name: str) -> None:
    for draft in drafts(name):
        told = {piece for job in draft.work for piece in job.pieces}
        assert told == {piece.name for piece in draft.pieces}


@pytest.mark.parametrize("name", GARMENTS)
def test_cautions_stand_where_it_can_hurt(name: str) -> None:
    """A hot iron, and pins and needles left in the cloth (common practice, no source)."""
    for draft in drafts(name):
        told = " ".join(job.text for job in draft.work)
        assert "iron burns" in told
        assert "Count pins and needles" in draft.work[-2].text
        if any("running stitches" in job.text for job in draft.work if job.stage is Stage.GAUGE):
            assert "one left in the pleats will hurt" in told
