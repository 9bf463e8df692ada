"""How shaped pieces are drafted: readings, arcs and curves, the figure, and the sheet's pages.

Figures are reckoned by hand from the triangle 3, 4, 5 and from circles.
"""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import pytest
from own_cases import own_piece
from plan_lays import skirt
from plan_shapes import SHAPED
from test_sheet import pages, plain, set_sheet

from marker.geometry import Outline
from marker.geometry.curves import Arc, Cubic, Line
from marker.geometry.shapes import ring_sector
from marker.piece import Edges, Grain, Mark, MarkKind, Piece
from marker.plan.drafts.draft import Draft, drafts, stretches
from marker.plan.drafts.figure import ROOM, figure, scales
from marker.plan.drafts.labels import BESIDE
from marker.plan.drafts.words import draft_words, how_words
from marker.plan.drawing.verbs import Path as Stroke
from marker.plan.drawing.verbs import Words
from marker.units import CM, INCH, MM, System

NAMES = Edges("waist", "hem", "seam", "seam")
ANGLE = 2 * math.atan2(3, 4)


def sector(**more: object) -> Piece:
    """A ring sector of radii 10 and 50 cm whose sides run 3 up for 4 along."""
    fields: dict[str, object] = {"edges": NAMES, **more}
    return Piece.shaped("A", "panel", ring_sector(10 * CM, 50 * CM, ANGLE), 2, "main", **fields)


def draft(piece: Piece) -> Draft:
    return Draft(piece, (piece.letter,), stretches(piece))


def of(*segments: Line | Arc | Cubic) -> Piece:
    return Piece.shaped("A", "own", Outline.of(segments), 1, "main")


def at(*spot: float) -> tuple[float, float]:
    """A place in centimetres, as floating-point units."""
    return spot[0] * float(CM), spot[1] * float(CM)


def test_corners_are_read_off_the_box() -> None:
    """50 - 8 = 42 and twice 30; the box that is laid holds the arc with 0.1 mm to spare."""
    told = draft_words(draft(sector()), System.CM)
    assert told["box"].startswith("42.1 along × 60 cm up; the warp runs from left to right")
    (row,) = told["tables"][0]["rows"]
    places = set(zip(row["along"], row["up"], strict=True))
    assert places == {("0", "24"), ("32", "0"), ("32", "60"), ("0", "36")}
    assert row["names"] == ["1", "2", "3", "4"]


def test_an_arc_is_told_by_radius_centre_and_offsets() -> None:
    """Chord 60 at radius 50: 50 - 40 = 10 half way, root(2500 - 225) - 40 = 7.7 at a quarter."""
    edges = draft_words(draft(sector()), System.CM)["edges"]
    hem = next(line for line in edges if "hem" in line)
    assert "bulging arc" in hem
    assert "of radius 50 cm; its centre 8 cm beyond the left edge, on the middle line" in hem
    assert hem.endswith("offsets 7.7, 10 and 7.7 cm.")
    waist = next(line for line in edges if "waist" in line)
    assert "hollow arc" in waist
    assert "of radius 10 cm; its centre 8 cm beyond the left edge, on the middle line" in waist
    assert waist.endswith("offsets 1.5, 2 and 1.5 cm.")
    assert sum("“seam”: straight, 40 cm." in line for line in edges) == 2


@pytest.mark.parametrize("edges", ["", '\nedges = ["cap", "", "wrist", ""]'])
def test_a_drawn_curve_is_one_stretch_told_by_points_named_or_not(edges: str) -> None:
    made = own_piece('d = "M 0 0 C 10 -12 25 -12 35 0 V 45 H 0 Z"\nunit = "cm"' + edges)
    told = draft_words(draft(made), System.CM)
    assert len(told["edges"]) == 4 and not any("centre" in line for line in told["edges"])
    assert sum("through the points told" in line for line in told["edges"]) == 1


def test_inches_are_told_in_inches() -> None:
    piece = Piece.shaped("A", "panel", ring_sector(10 * INCH, 50 * INCH, ANGLE), 2, "main")
    told = draft_words(draft(piece), System.IN)
    assert any("of radius 50 in; its centre 8 in beyond" in line for line in told["edges"])
    assert "⅛ in" in how_words(System.IN)[-1]


def test_an_arc_in_parts_is_one_and_other_curves_are_told_by_points() -> None:
    half = Arc(at(10, 0), at(0, 10), at(0, 0)), Arc(at(0, 10), at(-10, 0), at(0, 0))
    piece = of(*(replace(arc, name="top") for arc in half), Line(at(-10, 0), at(10, 0)))
    edges = draft_words(draft(piece), System.CM)["edges"]
    assert len(edges) == 2, "no corner where one arc runs on"
    assert any("of radius 10 cm; its centre 10 cm along, level with the lower" in e for e in edges)
    cubic = Cubic(at(20, 0), at(20, 30), at(0, 10), at(0, 20), "cap")
    piece = of(Line(at(0, 0), at(20, 0)), cubic, Line(at(0, 20), at(0, 0)))
    told = draft(piece)
    words = draft_words(told, System.CM)
    assert any("“cap”: a curve" in line for line in words["edges"])
    rows = words["tables"][1]["rows"]
    count = sum(len(row["along"]) for row in rows)
    stretch = next(s for s in told.stretches if s.name == "cap")
    assert stretch.length / (count + 1) <= 5 * CM
    for spot in stretch.points(System.CM):
        assert min(math.dist(spot, cubic.point(i / 4000)) for i in range(4001)) < MM / 4


def test_a_circle_has_a_centre_and_no_corners() -> None:
    halves = Arc(at(10, 0), at(-10, 0), at(0, 0)), Arc(at(-10, 0), at(10, 0), at(0, 0))
    piece = of(*(replace(arc, name="edge") for arc in halves))
    told = draft_words(draft(piece), System.CM)
    assert told["tables"] == []
    (line,) = told["edges"]
    assert "circle" in line
    assert "of radius 10 cm; its centre 10 cm along, on the middle line" in line


def test_lines_inside_and_notches_are_told_by_their_edges() -> None:
    marks = (
        Mark(MarkKind.NOTCH, "middle", 42 * CM, 30 * CM, 41 * CM, 30 * CM),
        # Written from inside to the edge; it stands on the high seam all the same.
        Mark(MarkKind.NOTCH, "match", 72 * MM, 404 * MM, 80 * MM, 420 * MM),
        Mark(MarkKind.FOLD, "fold", 4 * CM, 30 * CM, 37 * CM, 30 * CM),
        # 1 cm inside the low seam, which runs from (0, 24) to (32, 0).
        Mark(MarkKind.SEAM, "seam", 6 * MM, 248 * MM, 326 * MM, 8 * MM),
    )
    inside = draft_words(draft(sector(marks=marks)), System.CM)["inside"]
    assert "Notch middle: half way along “hem”." in inside
    assert "Notch match: 10 cm from corner 4 along “seam”." in inside
    assert "Fold: from 4 along, 30 up to 37 along, 30 up (cm)." in inside
    assert "Seam line: 1 cm inside “seam”." in inside


def test_a_fold_without_a_name_is_no_part_of_the_seam_told_before_it() -> None:
    marks = (
        Mark(MarkKind.SEAM, "seam", 6 * MM, 248 * MM, 326 * MM, 8 * MM),
        Mark(MarkKind.FOLD, "", 4 * CM, 30 * CM, 20 * CM, 30 * CM),
        Mark(MarkKind.FOLD, "", 20 * CM, 30 * CM, 20 * CM, 36 * CM),
    )
    assert draft_words(draft(sector(marks=marks)), System.CM)["inside"] == [
        "Seam line: 1 cm inside “seam”.",
        "Fold: from 4 along, 30 up to 20 along, 30 up (cm) "
        "and from 20 along, 30 up to 20 along, 36 up (cm).",
    ]


def test_the_name_of_an_edge_is_set_apart_from_the_sentence_round_it() -> None:
    marks = (
        Mark(MarkKind.SEAM, "towards the back", 6 * MM, 248 * MM, 326 * MM, 8 * MM),
        Mark(MarkKind.NOTCH, "match", 16 * CM, 12 * CM, 17 * CM, 13 * CM),
    )
    piece = sector(marks=marks, edges=Edges("waist", "hem", "towards the back", "seam"))
    told = draft_words(draft(piece), System.CM)
    assert told["inside"] == [
        "Seam line: 1 cm inside “towards the back”.",
        "Notch match: half way along “towards the back”.",
    ]
    assert any(", “towards the back”: straight, 40 cm." in line for line in told["edges"])


def test_a_line_along_all_edges_is_told_without_their_names() -> None:
    """A square of 20 cm with its seam line 1 cm inside; its edges have no names."""
    square = of(
        *(Line(at(*a), at(*b)) for a, b in pairwise([(0, 0), (20, 0), (20, 20), (0, 20), (0, 0)]))
    )
    inner = [(1, 1), (19, 1), (19, 19), (1, 19), (1, 1)]
    sides = [
        Mark(MarkKind.SEAM, "seam", a[0] * CM, a[1] * CM, b[0] * CM, b[1] * CM)
        for a, b in pairwise(inner)
    ]
    for marks, told in ((sides, "every edge"), (sides[:2], "the edge 1 to 2 and the edge 2 to 3")):
        inside = draft_words(draft(replace(square, marks=tuple(marks))), System.CM)["inside"]
        assert inside == [f"Seam line: 1 cm inside {told}."]


def test_alike_pieces_are_drafted_once_and_strips_on_the_bias_not_at_all() -> None:
    record = SHAPED["gores"]()
    lay = record.lays[0]
    gore = next(piece for piece in lay.pieces if piece.outline)
    twin = replace(gore, letter="Q", name="other")
    found = drafts(replace(record, lays=(replace(lay, pieces=(gore, twin)),)))
    assert [one.letters for one in found] == [(gore.letter, "Q")]
    on_bias = SHAPED["bias"]()
    letters = {letter for one in drafts(on_bias) for letter in one.letters}
    assert letters == {"A", "B"}
    assert all(p.grain is Grain.BIAS for p in on_bias.lays[0].pieces if p.letter not in letters)
    assert drafts(skirt()) == ()


@pytest.mark.parametrize("name", SHAPED)
def test_the_figures_are_to_scale_and_words_never_meet(name: str) -> None:
    found = drafts(SHAPED[name]())
    for one, n in zip(found, scales(found), strict=True):
        drawing, size = figure(one, n, System.CM)
        assert size[0] <= ROOM[0] + 2 * BESIDE
        assert size[1] <= ROOM[1] + 2 * BESIDE
        outline = max(
            (mark for mark in drawing.over if isinstance(mark, Stroke) and mark.closed),
            key=lambda mark: len(mark.runs[0]) * 10**6 + _wide(mark),
        )
        assert _wide(outline) == pytest.approx(one.piece.length * 5 / 8 / n, abs=3)
        words = [mark for mark in drawing.over if isinstance(mark, Words) and not mark.angle]
        boxes = [mark.box for mark in words]
        assert not any(a.hits(b) for i, a in enumerate(boxes) for b in boxes[:i])
        assert all(box.x0 >= 0 and box.x1 <= size[0] for box in boxes)


def _wide(mark: Stroke) -> int:
    xs = [x for x, _ in mark.runs[0]]
    return max(xs) - min(xs)


def test_the_sheet_has_the_draft_of_every_shape_on_its_card() -> None:
    record = SHAPED["gores"]()
    told = pages(set_sheet(record))
    page = " ".join(told)
    for one in drafts(record):
        words = draft_words(one, System.CM)
        for line in (words["box"], *words["inside"]):
            # readers of PDFs differ in where they see a space
            assert plain(line).replace(" ", "") in page.replace(" ", "")
    assert plain(how_words(System.CM)[0]) in page
    assert not any(plain(how_words(System.CM)[0]) in text for text in pages(set_sheet(skirt())))


@pytest.mark.slow
def test_the_readings_of_a_table_stand_together_on_one_page() -> None:
    """A scalloped edge of many curves, whose tables fill more than a column."""
    bumps = [
        Cubic(at(x, 0), at(x + 4, -5), at(x + 8, -5), at(x + 12, 0)) for x in range(0, 12 * 26, 12)
    ]
    sides = [Line(at(312, 0), at(312, 20)), Line(at(312, 20), at(0, 20)), Line(at(0, 20), at(0, 0))]
    record = SHAPED["gores"]()
    lay = record.lays[0]
    scalloped = replace(of(*bumps, *sides), letter=lay.pieces[0].letter)
    told = pages(
        set_sheet(replace(record, lays=(replace(lay, pieces=(scalloped,), placements=()),)))
    )
    tables = [
        plain(" ".join([table["head"], *row["names"], "along", *row["along"], "up", *row["up"]]))
        for table in draft_words(draft(scalloped), System.CM)["tables"]
        for row in table["rows"]
    ]
    assert len(tables) > 26
    assert [table for table in tables if not any(table in page for page in told)] == []
