"""What is told of the bias: the figure, the measures of strips, and where it is left out."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from plan_lays import skirt
from plan_shapes import SHAPED

from marker.geometry import Outline
from marker.lay import Lay
from marker.piece import Grain, Mark, MarkKind, Piece
from marker.plan.drawing.verbs import Path, Words
from marker.plan.lays.legend import entries
from marker.plan.lays.marks import BIAS_LINE
from marker.plan.sheet.bias import JOINING, MARKING, PLACING, RULING, bias_words, figure
from marker.plan.sheet.bias_rows import CONTINUOUS, LONG, ROWS
from marker.record import Record
from marker.units import CM


def with_pieces(record: Record, *pieces: Piece) -> Record:
    lay: Lay = replace(record.lays[0], pieces=pieces, placements=())
    return replace(record, lays=(lay,))


def test_strips_are_told_with_what_they_take_along_the_selvedge() -> None:
    """4 cm x 1.41421 = 5.657 cm, printed up to 5.7 (Baldt's rule: width x the root of two)."""
    told = bias_words(SHAPED["bias"]())
    assert told[0] == MARKING + RULING
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
    next_line = replace(line, u0=10 * CM, u1=40 * CM)
    marks = (line, next_line)
    piece = Piece("A", "cloth for the binding", 90 * CM, 30 * CM, 1, "main", marks=marks)
    record = with_pieces(skirt(), piece)
    assert bias_words(record) == (MARKING + RULING, JOINING)
    told = entries(record.lays[0])
    assert BIAS_LINE in told
    assert "seam" not in told


def test_a_shape_on_the_bias_that_is_no_strip_asks_for_no_join() -> None:
    record = SHAPED["bias"]()
    yoke = record.lays[0].piece("B")
    on_bias = replace(record.lays[0].piece("C"), outline=yoke.outline, length=yoke.length,
                      breadth=yoke.breadth, marks=())  # fmt: skip
    assert bias_words(with_pieces(record, on_bias)) == (MARKING + PLACING,)


def test_the_figure_is_true() -> None:
    """Slanted lines lie at 45 degrees, and the two strips to be joined meet at a right angle."""
    drawing, size = figure(rows=True)
    lines = (mark for mark in drawing.over if isinstance(mark, Path) and not mark.closed)
    runs = [run for mark in lines for run in mark.runs]
    slants = 0
    for run in runs:
        for (ax, ay), (bx, by) in pairwise(run):
            if ax != bx and ay != by:
                assert abs(bx - ax) == abs(by - ay)
                slants += 1
    assert slants >= 6
    alone, _ = figure(joined=False)
    assert [mark.text for mark in alone.over if isinstance(mark, Words)].count("a") == 2
    assert not any("width" in mark.text for mark in alone.over if isinstance(mark, Words))
    assert not any("sewn" in mark.text for mark in alone.over if isinstance(mark, Words))
    for mark in drawing.over:
        if isinstance(mark, Words):
            assert mark.box.x0 >= 0
            assert mark.box.x1 <= size[0]
            assert mark.box.y1 <= size[1]
    texts = [mark.box for mark in drawing.over if isinstance(mark, Words)]
    assert not any(a.hits(b) for a in texts for b in texts if a is not b)


def test_one_bias_line_alone_asks_for_the_continuous_method() -> None:
    """Its rows are never cut apart, so nothing is said of joining strips."""
    line = Mark(MarkKind.SEAM, BIAS_LINE, 0, 0, 30 * CM, 30 * CM)
    piece = Piece("A", "cloth for the facing", 90 * CM, 30 * CM, 1, "main", marks=(line,))
    assert bias_words(with_pieces(skirt(), piece)) == (MARKING + RULING, *CONTINUOUS)


def test_the_rows_of_continuous_bias_meet_one_out_of_step() -> None:
    """At the seam the line between rows k and k + 1 above meets that of k + 1 and k + 2 below."""
    drawing, _ = figure(joined=False, rows=True)
    numbers = [mark for mark in drawing.over if isinstance(mark, Words) and mark.text.isdigit()]
    seam = sorted(numbers[-2 * ROWS :], key=lambda mark: mark.at[1])
    upper, lower = seam[:ROWS], seam[ROWS:]
    for above in upper:
        low = next(mark for mark in lower if mark.text == above.text)
        # A row runs on at 45 degrees across the seam, where it stands one row further.
        run = (above.at[0] - low.at[0]) - (low.at[1] - above.at[1])
        assert run == LONG // ROWS


def test_a_square_on_the_bias_is_no_strip_to_be_joined() -> None:
    square = Outline.through([(0, 0), (12 * CM, 0), (12 * CM, 12 * CM), (0, 12 * CM)])
    piece = Piece.shaped("A", "gusset", square, 2, "main", grain=Grain.BIAS)
    assert bias_words(with_pieces(skirt(), piece)) == (MARKING + PLACING,)
