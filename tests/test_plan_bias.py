"""What is told of the bias: the figure, the measures of strips, and where it is left out."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from plan_lays import skirt
from plan_shapes import SHAPED

from marker.lay import Lay
from marker.piece import Mark, MarkKind, Piece
from marker.plan.bias import JOINING, MARKING, SIZE, bias_words, figure
from marker.plan.legend import entries
from marker.plan.marks import BIAS_LINE
from marker.plan.verbs import Path, Words
from marker.record import Record
from marker.units import CM


def with_pieces(record: Record, *pieces: Piece) -> Record:
    lay: Lay = replace(record.lays[0], pieces=pieces, placements=())
    return replace(record, lays=(lay,))


def test_strips_are_told_with_what_they_take_along_the_selvedge() -> None:
    """4 cm x 1.41421 = 5.657 cm, printed up to 5.7 (Baldt's rule: width x the root of two)."""
    told = bias_words(SHAPED["bias"]())
    assert told[0] == MARKING
    assert told[1] == (
        "C hem binding strip: 5 strips, each 4 cm wide and 70 cm long; the lines stand 5.7 cm "
        "apart along the selvedge (1.41 times the width)."
    )
    assert told[2:] == (JOINING,)


def test_nothing_is_told_where_nothing_lies_on_the_bias() -> None:
    assert bias_words(skirt()) == ()
    assert bias_words(SHAPED["gores"]()) == ()


def test_a_rectangle_ruled_into_strips_is_told_too() -> None:
    line = Mark(MarkKind.SEAM, BIAS_LINE, 0, 0, 30 * CM, 30 * CM)
    piece = Piece("A", "cloth for the binding", 90 * CM, 30 * CM, 1, "main", marks=(line,))
    record = with_pieces(skirt(), piece)
    assert bias_words(record) == (MARKING, JOINING)
    told = entries(record.lays[0])
    assert BIAS_LINE in told
    assert "seam" not in told


def test_a_shape_on_the_bias_that_is_no_strip_asks_for_no_join() -> None:
    record = SHAPED["bias"]()
    yoke = record.lays[0].piece("B")
    on_bias = replace(record.lays[0].piece("C"), outline=yoke.outline, length=yoke.length,
                      breadth=yoke.breadth, marks=())  # fmt: skip
    assert bias_words(with_pieces(record, on_bias)) == (MARKING,)


def test_the_figure_is_true() -> None:
    """Slanted lines lie at 45 degrees, and the two strips to be joined meet at a right angle."""
    drawing = figure()
    runs = [run for mark in drawing.over if isinstance(mark, Path) for run in mark.runs]
    slants = 0
    for run in runs:
        for (ax, ay), (bx, by) in pairwise(run):
            if ax != bx and ay != by:
                assert abs(bx - ax) == abs(by - ay)
                slants += 1
    assert slants >= 6
    alone = figure(joined=False)
    assert [mark.text for mark in alone.over if isinstance(mark, Words)].count("a") == 2
    assert not any("sewn" in mark.text for mark in alone.over if isinstance(mark, Words))
    for mark in drawing.over:
        if isinstance(mark, Words):
            assert mark.box.x0 >= 0
            assert mark.box.x1 <= SIZE[0]
            assert mark.box.y1 <= SIZE[1]
    texts = [mark.box for mark in drawing.over if isinstance(mark, Words)]
    assert not any(a.hits(b) for a in texts for b in texts if a is not b)
