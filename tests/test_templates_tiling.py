"""How templates are parted into pages, and what stands on them; nothing is set as a PDF here."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import combinations, pairwise
from pathlib import Path

import pytest
from shapely import LinearRing, Point

from marker.geometry import Arc, Cubic, Line, Outline
from marker.piece import Mark, MarkKind, Piece
from marker.plan.drafts.draft import Draft, stretches
from marker.plan.drawing.page import Box, Paper
from marker.plan.drawing.slabs import corners, meet
from marker.plan.drawing.verbs import Words
from marker.plan.templates.curves import below, cubics
from marker.plan.templates.joins import View
from marker.plan.templates.large import A0, LONGEST, ROLL, Kind, is_huge, large_sheets
from marker.plan.templates.page import Sheet, draw_part
from marker.plan.templates.shapes import Template, straight, templates
from marker.plan.templates.tiling import Tiling, fewest, overlap, tile
from marker.plan.templates.words import blanks
from marker.record import load
from marker.units import CM, METRE, MM, Both, System

OUT = Path(__file__).parents[1] / "out"
WINDOW = Sheet(Paper.A4).window.width, Sheet(Paper.A4).window.height


def half_disc(radius: int, *, letter: str = "A") -> Template:
    """A template of half a disc, straight along u = 0."""
    ends = (0.0, 0.0), (0.0, 2.0 * radius)
    ring = (Arc(*ends, (0.0, float(radius)), True, "hem"), Line(ends[1], ends[0], "waist"))
    piece = Piece.shaped(letter, "half disc", Outline(ring), 1, "main")
    return Template(Draft(piece, (letter,), stretches(piece)), (letter,), (piece,), ("Felt",), "T")


def test_the_overlap_is_one_centimetre_or_half_an_inch() -> None:
    assert overlap(System.CM) == 1000
    assert overlap(System.IN) == 1270
    assert overlap(Both.CM_IN) == 1000


def test_what_one_page_holds_is_not_parted() -> None:
    tiling = tile(half_disc(8 * CM), WINDOW, 1000)
    assert len(tiling.tiles) == 1
    assert tiling.name(tiling.tiles[0]) == "A"


def test_pages_are_numbered_row_by_row_and_know_their_neighbours() -> None:
    tiling = tile(half_disc(40 * CM), WINDOW, 1000)
    places = [(one.row, one.column) for one in tiling.tiles]
    assert places == sorted(places)
    assert [one.number for one in tiling.tiles] == list(range(1, len(places) + 1))
    for one in tiling.tiles:
        right = tiling.beside(one, 0, 1)
        if right:
            assert right.window.x0 == one.window.x1 - 1000
            assert (right.window.y0, right.window.y1) == (one.window.y0, one.window.y1)
        below_it = tiling.beside(one, 1, 0)
        if below_it:
            assert below_it.window.y0 == one.window.y1 - 1000


def test_a_ring_leaves_its_middle_out() -> None:
    out, inner = 60.0 * CM, 45.0 * CM
    ring = Outline(
        (
            Arc((0.0, 0.0), (2 * out, 0.0), (out, 0.0), True, "hem"),
            Line((2 * out, 0.0), (out + inner, 0.0), "seam"),
            Arc((out + inner, 0.0), (out - inner, 0.0), (out, 0.0), False, "top"),
            Line((out - inner, 0.0), (0.0, 0.0), "seam"),
        )
    )
    piece = Piece.shaped("F", "facing", ring, 1, "main")
    template = Template(Draft(piece, ("F",), stretches(piece)), ("F",), (piece,), ("Felt",), "T")
    tiling = tile(template, WINDOW, 1000)
    assert len(tiling.tiles) < fewest(template, WINDOW, 1000)
    held = [one for one in tiling.tiles if _holds(one.window, tiling, (out, out * 4 / 5))]
    assert not held, "the middle of the ring is a hole"


def _holds(window: Box, tiling: Tiling, spot: tuple[float, float]) -> bool:
    x, y = tiling.seen.point(spot)
    return window.holds(Box(x, y, x, y))


def test_pages_that_only_fill_the_middle_are_told() -> None:
    tiling = tile(half_disc(60 * CM), WINDOW, 1000)
    seen = tiling.seen
    places = [seen.point((60 * CM * math.cos(a / 200), 60 * CM + 60 * CM * math.sin(a / 200)))
              for a in range(-314, 315)]  # fmt: skip
    places += [seen.point((0.0, v * 2.0 * MM)) for v in range(600)]
    without = [one.number for one in tiling.tiles
               if not any(one.window.holds(Box(*at, *at)) for at in places)]  # fmt: skip
    assert without
    assert list(blanks(tiling)) == without


@pytest.mark.parametrize("radius", [5 * CM, 60 * CM, 20 * METRE])
def test_cubics_lie_within_a_micron_of_their_arcs(radius: int) -> None:
    centre = (3.0, 4.0)
    arc = Arc((3.0 + radius, 4.0), (3.0 - radius, 4.0), centre, True)
    found = list(cubics([arc]))
    assert found[0].start == arc.start
    assert found[-1].end == arc.end
    for part in found:
        assert isinstance(part, Cubic)
        for k in range(21):
            assert abs(math.dist(part.point(k / 20), centre) - radius) < MM / 1000


def test_half_an_outline_ends_on_the_fold_exactly() -> None:
    circle = [Arc((-1.0, 0.0), (1.0, 0.0), (0.0, 0.0), True), Arc((1.0, 0.0), (-1.0, 0.0), (0, 0))]
    ((first, *_),) = (run for run in below(circle, 0.5))
    assert first.start == pytest.approx((-math.sqrt(0.75), 0.5))
    bump = [Line((0, 0), (4, 0)), Cubic((4, 0), (4, 4), (0, 4), (0, 0))]
    ((*_, last),) = below(bump, 1.5)[-1:]
    assert isinstance(last, Cubic | Line)
    ends = [run[-1].end[1] for run in below(bump, 1.5)] + [
        run[0].start[1] for run in below(bump, 1.5)
    ]
    assert ends == pytest.approx([1.5, 1.5])


CASES = ("apron", "drawn-bodice", "gored-walking-skirt", "half-circle-skirt")


@pytest.mark.parametrize("case", CASES)
@pytest.mark.slow
def test_no_words_collide_and_none_stands_on_the_outline(case: str) -> None:
    record = load(OUT / case / "lay.json")
    sheet, lap = Sheet(Paper.LETTER), overlap(record.units)
    window = sheet.window
    for template in templates(record)[:2]:
        tiling = tile(template, (window.width, window.height), lap)
        for one in tiling.tiles[:8]:
            desk = draw_part(View(tiling, one, (window.x0, window.y0)), (5000,))
            labels = desk.over.labels
            kinds = {label.kind for label in labels}
            assert {"square", "stamp"} <= kinds
            for a, b in combinations(labels, 2):
                assert not meet(corners(a.slab or a.box), corners(b.slab or b.box)), (a, b)
            for label in labels:
                assert window.holds(label.box)
                if label.kind == "square":
                    continue  # where a page is full, it is set across its lines
                area = corners(label.slab or label.box)
                ring = desk.ring
                pairs = zip(ring, (*ring[1:], ring[0]), strict=True)
                assert not any(meet(area, pair) for pair in pairs), label


def test_straight_pieces_get_none() -> None:
    assert templates(load(OUT / "plain-skirt" / "lay.json")) == ()
    bodice = load(OUT / "drawn-bodice" / "lay.json")
    assert [template.letter for template in templates(bodice)] == ["A", "B"]
    # The tab has slanting edges, but no curved one; the strip is a rectangle.
    assert straight(bodice) == ("C", "D")


def test_curved_seam_lines_keep_their_distance_from_the_edge() -> None:
    """Where the record's chords stray by up to 1 mm, the template's line follows the edge."""
    (front, *_) = templates(load(OUT / "gored-walking-skirt" / "lay.json"))
    (hem,) = (run for mark, run in front.lines if mark.name == "hem line")
    edge = front.piece.outline and front.piece.outline.edge("end")
    assert edge
    (arc,) = edge.segments
    assert isinstance(arc, Arc)
    depths = [arc.radius - math.dist(spot, arc.centre) for spot in hem]
    chords = [mark for mark in front.piece.marks if mark.name == "hem line"]
    assert len(hem) > 10 * len(chords)
    assert max(depths) - min(depths) < 0.02 * MM


def test_curved_seams_of_unnamed_edges_are_made_round_too() -> None:
    """An oval of four arcs that run on into one another, its seam's chords past their joints."""
    cap, flat, lean = 10.0 * CM, 10.0 * CM + math.hypot(10 * CM, 20 * CM), math.atan2(20, 10)
    middles = [(10.0 * CM, 0.0), (0.0, -20.0 * CM), (-10.0 * CM, 0.0), (0.0, 20.0 * CM)]
    radii = [cap, flat, cap, flat]
    starts = [-lean, lean, math.pi - lean, math.pi + lean]

    def on(number: int, angle: float, deep: float = 0.0) -> tuple[float, float]:
        (x, y), reach = middles[number], radii[number] - deep
        return x + reach * math.cos(angle), y + reach * math.sin(angle)

    ring = Outline(
        tuple(
            Arc(on(i, starts[i]), on((i + 1) % 4, starts[(i + 1) % 4]), middles[i])
            for i in range(4)
        )
    )
    halves = [starts[0] + lean, math.pi / 2, math.pi, 3 * math.pi / 2]
    sides = [on(i, halves[i] + off, CM) for i in range(4) for off in (-0.4, -0.15, 0.15, 0.4)]
    ends = [(round(x), round(y)) for x, y in sides]
    marks = tuple(
        Mark(MarkKind.SEAM, "seam", *a, *b) for a, b in zip(ends, [*ends[1:], ends[0]], strict=True)
    )
    piece = Piece.shaped("A", "oval", ring, 1, "main", marks=marks)
    template = Template(Draft(piece, ("A",), stretches(piece)), ("A",), (piece,), ("Felt",), "T")
    ((_, run),) = template.lines
    assert piece.outline
    edge = LinearRing(
        [arc.at(arc.length * k / 900) for arc in piece.outline.segments for k in range(900)]
    )
    between = [((x + u) / 2, (y + v) / 2) for (x, y), (u, v) in pairwise(run)]
    off = [edge.distance(Point(spot)) for spot in (*run, *between)]
    assert max(off) - min(off) < 0.02 * MM


def test_a_long_name_is_clipped_but_never_left_out() -> None:
    disc = half_disc(25 * CM)
    named = replace(disc.piece, name="Leaf " * 600)
    draft = Draft(named, ("A",), stretches(named))
    template = Template(draft, ("A",), (named,), ("Felt",), "T " * 200)
    tiling = tile(template, WINDOW, 1000)
    for one in tiling.tiles:
        desk = draw_part(View(tiling, one, (1100, 1100)))
        assert "stamp" in {label.kind for label in desk.over.labels}
        assert "cut 1" in {mark.text for mark in desk.over.over if isinstance(mark, Words)}


def test_the_large_sheet_is_a0_where_one_holds_all() -> None:
    (large,) = large_sheets([half_disc(30 * CM), half_disc(20 * CM, letter="B")], 1000)
    assert (large.kind, large.size) in ((Kind.A0, A0), (Kind.A0, A0[::-1]))
    _apart(large.views)


def test_else_it_is_a_roll_as_long_as_needed() -> None:
    (large,) = large_sheets([half_disc(60 * CM), half_disc(50 * CM, letter="B")], 1000)
    assert (large.kind, large.size[0]) == (Kind.ROLL, ROLL)
    assert large.size[1] <= LONGEST
    _apart(large.views)
    assert all(view.window.y1 < large.size[1] - 7000 for view in large.views)


def test_what_is_broader_than_the_roll_comes_in_strips() -> None:
    sheets = large_sheets([half_disc(150 * CM)], 1000)
    views = [view for large in sheets for view in large.views]
    assert len(views) > 1
    for large in sheets:
        assert large.size[1] <= LONGEST
        _apart(large.views)


def test_a_piece_beyond_all_paper_is_known() -> None:
    assert is_huge(half_disc(20 * METRE), 1000)
    assert not is_huge(half_disc(150 * CM), 1000)


def _apart(views: tuple[View, ...]) -> None:
    for a, b in combinations(views, 2):
        assert not a.window.hits(b.window)
