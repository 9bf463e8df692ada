"""Pieces of any outline on the plan: drawn to the unit, lettered inside, told as they are cut."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from plan_checks import faults, rings_of
from plan_lays import drawn
from plan_shapes import SHAPED, Table, cut_out, gores, wool, yoke

from marker import referee
from marker.geometry import Outline, Rect
from marker.geometry.segments import where
from marker.geometry.shapes import bias_strip, circle_panel, facing
from marker.piece import Edges, Grain, Mark, MarkKind, Piece
from marker.plan.drawing import style
from marker.plan.drawing.labels import Room
from marker.plan.drawing.page import Box, Paper, View
from marker.plan.drawing.slabs import Slab, corners, meet
from marker.plan.drawing.verbs import Label, Path, Words
from marker.plan.lays import folded
from marker.plan.lays.attempts import Effort
from marker.plan.lays.cloth_view import compose
from marker.plan.lays.layout import layout
from marker.plan.lays.legend import entries
from marker.plan.lays.pieces import Naming
from marker.plan.lays.shape import shape_of
from marker.plan.lays.stretches import stretches
from marker.plan.lays.svg import emit
from marker.plan.words import phrases as words
from marker.record import Record
from marker.units import CM, System

SVG = "{http://www.w3.org/2000/svg}"
EVERY = pytest.mark.parametrize("name", SHAPED)
INSIDE = ("piece", "grain", "edge", "mark")


def elements(name: str) -> dict[str, ET.Element]:
    record, lay, plan = drawn(name, Paper.A4)
    root = ET.fromstring(emit(record, lay, plan))
    group = next(one for one in root.iter(f"{SVG}g") if one.get("id") == "lay")
    return {one.get("id", ""): one for one in group}


@EVERY
def test_the_referee_passes_these_lays(name: str) -> None:
    assert referee.check_record(SHAPED[name]()) == ()


@EVERY
def test_every_outline_is_drawn_to_the_unit_as_it_was_laid(name: str) -> None:
    _, lay, _ = drawn(name, Paper.A4)
    found = elements(name)
    for spot in lay.placements:
        piece = lay.piece(spot.letter)
        if piece.outline is None:
            assert found[spot.id].tag == f"{SVG}rect"
            continue
        start, *rest, end = (found[spot.id].get("d") or "").split()
        assert (found[spot.id].tag, start, end) == (f"{SVG}path", "M", "Z")
        values = [int(value) for value in rest if value != "L"]
        points = tuple(zip(values[::2], values[1::2], strict=True))
        assert points == spot.polygon(piece).points
        assert rest[2::3] == ["L"] * (len(points) - 1)


@pytest.mark.slow
@EVERY
@pytest.mark.parametrize("paper", list(Paper))
def test_labels_of_a_shaped_piece_lie_inside_its_outline(name: str, paper: Paper) -> None:
    case, lay, plan = drawn(name, paper)
    found = stretches(case, lay, paper) if plan.guide else ()
    for page, part in [(one, one.lay) for one in found] or [(plan, lay)]:
        rings = rings_of(page, part)  # type: ignore[arg-type]
        named = set()
        for label in page.drawing.labels:
            if label.owner in rings and label.kind in INSIDE:
                named.add(label.owner)
                for x, y in corners(label.slab or label.box):
                    assert where(rings[label.owner], x, y) > 0
        told = " ".join(one.owner for one in page.drawing.labels if one.kind == "call-out")
        assert named >= rings.keys() - set(told.split())


def test_a_label_across_an_outline_is_a_fault() -> None:
    _, lay, plan = drawn("gores", Paper.A4)
    assert faults(plan, lay) == []
    x, y = rings_of(plan, lay)["A-1"][0]
    spoiled = replace(plan, drawing=replace(plan.drawing, labels=[
        Label("piece", "A-1", Slab((x, y), 100, 40, 30).box, Slab((x, y), 100, 40, 30)),
    ]))  # fmt: skip
    assert any("covers the outline of A-1" in fault for fault in faults(spoiled, lay))


def test_strips_on_the_bias_are_lettered_along_themselves() -> None:
    case, lay, plan = drawn("bias", Paper.A4)
    large = compose(lay, View(lay.bolt, 8), case.units, Naming(), Effort.FULL)
    angles = [label.slab.angle for label in large.drawing.labels
              if label.kind == "piece" and label.owner.startswith("C-") and label.slab]  # fmt: skip
    assert angles == [45] * lay.piece("C").count
    # On the page they are narrower than letters of 2 mm, so each is called out.
    called = [label.owner for label in plan.drawing.labels if label.kind == "call-out"]
    assert sorted(called) == [f"C-{copy}" for copy in range(1, 6)]
    assert any("hem binding strip" in getattr(m, "text", "") for m in plan.drawing.over)


def test_the_grain_arrow_runs_along_the_warp_in_every_large_piece() -> None:
    for name in SHAPED:
        _, lay, plan = drawn(name, Paper.A4)
        told = {label.owner for label in plan.drawing.labels if label.kind == "grain"}
        large = {
            s.id for s in lay.placements if lay.piece(s.letter).name in ("gore", "circle panel")
        }
        assert large - folded.under(lay).keys() <= told
        for label in plan.drawing.labels:
            if label.kind == "grain":
                assert not (label.slab and label.slab.angle)


def test_copies_turned_over_say_so() -> None:
    for name in ("bias", "mixed", "folded"):
        _, lay, plan = drawn(name, Paper.A4)
        boxes = {one.owner: one.box for one in plan.drawing.labels
                 if one.kind in ("piece", "call-out")}  # fmt: skip
        beneath = folded.under(lay)
        said = [
            mark for mark in plan.drawing.over
            if isinstance(mark, Words) and "turned over" in mark.text
            and any(box.grown(5).holds(mark.box) for box in boxes.values())
        ]  # fmt: skip
        flipped = [s for s in lay.placements if s.flip and s.id not in beneath]
        assert len(said) == len(flipped)
        for spot in flipped:
            assert any(boxes[spot.id].grown(5).holds(mark.box) for mark in said)


def test_edges_are_named_along_themselves() -> None:
    """The seams of a gore lean by half its flare: (44 - 14) / 84 / 2 of a radian, 10 degrees."""
    _, _, plan = drawn("gores", Paper.A4)
    leans = {label.slab.angle for label in plan.drawing.labels
             if label.kind == "edge" and label.owner.startswith("A-") and label.slab}  # fmt: skip
    assert leans == {10, -10, 90}


def test_only_what_lies_between_the_pieces_shows_its_hatching() -> None:
    _, lay, plan = drawn("gores", Paper.A4)
    assert all(one.get("fill") == "#f6f1e6" for key, one in elements("gores").items()
               if key[:1] in "ABC")  # fmt: skip
    hatched = [mark for mark in plan.drawing.ground if isinstance(mark, Path)]
    cloth = plan.view.box(lay.bolt).moved(*plan.corner)
    xs = [x for mark in hatched for run in mark.runs for x, _ in run]
    assert (min(xs), max(xs)) == (cloth.x0, cloth.x1)


def test_a_region_is_drawn_and_named_for_the_shears() -> None:
    _, lay, plan = drawn("mixed", Paper.A4)
    shape = elements("mixed")["region-1"]
    rect = lay.regions[0]
    wanted = [str(value) for value in (rect.x0, rect.y0, rect.along, rect.across)]
    assert [shape.get(key) for key in ("x", "y", "width", "height")] == wanted
    (label,) = [label for label in plan.drawing.labels if label.kind == "region"]
    box = label.box.moved(-plan.corner[0], -plan.corner[1])
    assert plan.view.box(rect).holds(box)
    for ring in rings_of(plan, lay).values():
        assert where(ring, *label.box.middle) < 0


def test_the_layer_below_is_quiet_and_says_what_lies_on_it() -> None:
    record, lay, plan = drawn("folded", Paper.A4)
    assert folded.under(lay) == {"A-3": "A-2", "B-2": "B-1", "C-2": "C-1"}
    found = elements("folded")
    assert {key for key, one in found.items() if one.get("fill") == "#ffffff"} == {
        "A-3", "B-2", "C-2",
    }  # fmt: skip
    texts = [getattr(mark, "text", "") for mark in plan.drawing.over]
    assert [text for text in texts if text.startswith("under ")] == [
        "under A-2", "under B-1", "under C-1",
    ]  # fmt: skip
    assert "fold" in {label.owner for label in plan.drawing.labels if label.kind == "side"}
    fold = plan.corner[1] + plan.view.box(lay.bolt).middle[1]
    lines = [run for mark in plan.drawing.over if isinstance(mark, Path) and mark.dash
             for run in mark.runs if {y for _, y in run} == {fold}]  # fmt: skip
    assert [run[-1][0] - run[0][0] for run in lines] == [plan.view.box(lay.bolt).width]
    assert record.units is System.CM


def test_a_copy_alone_in_its_layer_lies_under_nothing() -> None:
    _, lay, _ = drawn("folded", Paper.A4)
    fewer = replace(lay, placements=tuple(s for s in lay.placements if s.id != "A-2"))
    assert "A-3" not in folded.under(fewer)
    held = [(spot, spot.rect(lay.piece(spot.letter))) for spot in fewer.placements]
    above = {spot.id: rect for spot, rect in folded.upper(fewer, held)}
    gone = next(spot for spot in lay.placements if spot.id == "A-2")
    assert above["A-3"] == gone.rect(lay.piece("A"))


def test_the_legend_explains_what_only_such_plans_show() -> None:
    legends = {name: entries(SHAPED[name]().lays[0]) for name in SHAPED}
    assert all("grain" in told and "waste" in told and "cut" in told for told in legends.values())
    nap = SHAPED["gores"]().lays[0]
    one_way = replace(nap, cloth=replace(nap.cloth, one_way=True))
    assert "grain, one way" in entries(one_way)
    assert "grain" not in entries(one_way)
    assert [name for name, told in legends.items() if "cloth fold" in told] == ["folded"]
    assert [name for name, told in legends.items() if "layer below" in told] == ["folded"]


def test_a_bound_by_area_alone_is_said_to_be_no_more() -> None:
    lay = SHAPED["gores"]().lays[0]
    alone = replace(lay, bound=-(-lay.used // lay.cloth.usable.across))
    assert "of the area's bound" in words.proof(alone, System.CM)
    assert "area" not in words.proof(replace(alone, bound=alone.bound + CM), System.CM)


@pytest.mark.slow
def test_crowds_of_small_shapes_are_drawn_in_good_order() -> None:
    """A hundred yokes and facings: none may be nameless, none named across its outline."""
    corners_ = [(0, 0), (14 * CM, 2 * CM), (18 * CM, 12 * CM), (5 * CM, 14 * CM)]
    small = Piece.shaped("A", "leaf", Outline.through(corners_), 50, "main")
    pieces = (small, yoke("B", 50, 25))
    table = Table(pieces)
    x = 0
    for column in range(10):
        ways = [("A", 0, False)] * 5 + [("B", 0, column % 2 == 1)] * 5
        x = table.column(x, CM, ways[:5]).x1
        x = table.column(x, CM, ways[5:]).x1
    lay = cut_out(wool(), pieces, table, CM)
    case = Record("A crowd", System.CM, (), (lay,))
    plan = layout(case, lay, Paper.A4)
    assert plan.guide and faults(plan, lay) == []
    pages = stretches(case, lay, Paper.A4)
    labels = [label for page in pages for label in page.drawing.labels]
    told = " ".join(one.owner for one in labels if one.kind in ("piece", "call-out"))
    assert sorted(told.split()) == sorted(spot.id for spot in lay.placements)


def test_a_seat_for_words_keeps_off_every_edge() -> None:
    panel = circle_panel(70 * CM, 52 * CM, 0.5, 2)
    for outline, turn in (
        (panel, 0), (facing(panel, "end", 8 * CM), 0), (facing(panel, "end", 8 * CM), 90),
    ):  # fmt: skip
        piece = Piece.shaped("A", "one", outline, 1, "main")
        shape = shape_of(piece.laid(turn), View(Rect(0, 0, 300 * CM, 140 * CM), 12))
        seats = [seat for angle in shape.angles for seat in shape.seats(600, 200, angle)]
        assert seats
        for seat in seats:
            assert shape.holds(seat)
            ring = shape.ring
            assert not any(meet(seat.corners, side) for side in pairwise([*ring, ring[0]]))
            assert all(where(ring, *corner) > 0 for corner in seat.corners)
        assert not shape.holds(Slab((shape.box.x1, shape.box.y1), 600, 200))


def test_the_heart_of_a_crescent_lies_in_its_middle_and_it_is_lettered_upright() -> None:
    """The centroid of a deep crescent lies outside it; the heart is half way along."""
    outline = facing(circle_panel(70 * CM, 52 * CM, 0.5, 2), "end", 8 * CM)
    shape = shape_of(
        Piece.shaped("A", "facing", outline, 1, "main").laid(0),
        View(Rect(0, 0, 300 * CM, 140 * CM), 12),
    )
    assert shape.heart[1] == pytest.approx(shape.box.height / 2, abs=20)
    assert where(shape.ring, *shape.heart) > 0
    assert shape.lean == 90


def test_a_strip_is_told_by_its_edges_and_any_other_shape_by_its_box() -> None:
    from marker.plan.words.sizes import cut_size, edge_sizes, is_strip

    strip = Piece.shaped("C", "strip", bias_strip(70 * CM, 4 * CM), 1, "main", grain=Grain.BIAS,
                         edges=Edges("join", "join", "hem"))  # fmt: skip
    assert (cut_size(strip), strip.length) == ((70 * CM, 4 * CM), 74 * CM)
    assert is_strip(strip)
    # 4 cm x the root of 2 is 5.657 cm; the edge without a name is not told.
    assert edge_sizes(strip, System.CM) == "hem 70, 2 × join 5.7 cm"
    gore = gores(1)
    assert cut_size(gore) == (gore.length, gore.breadth)
    assert not is_strip(gore)
    assert edge_sizes(gore, System.CM) == "2 × seam 84, hem 44, waist 14 cm"


@given(
    st.integers(-90, 90), st.integers(-90, 90), st.integers(-3000, 3000), st.integers(-3000, 3000)
)
def test_two_slabs_meet_or_miss_alike_from_either_side(a: int, b: int, x: int, y: int) -> None:
    one, two = Slab((0, 0), 1600, 300, a), Slab((x, y), 900, 500, b)
    found = meet(one.corners, two.corners)
    assert found == meet(two.corners, one.corners)
    if found:
        assert one.box.hits(two.box)
    if abs(x) + abs(y) < 100:
        assert found
    if x * x + y * y > 1400**2:  # half diagonals of 814 and 515 together
        assert not found


def test_a_label_keeps_off_a_slanted_outline_and_a_leader_counts_it() -> None:
    room = Room(Box(0, 0, 5000, 5000), [])
    room.strokes.add((0, 0), (5000, 5000))
    assert not room.free(Box(2000, 2100, 2400, 2300))
    assert not room.free(Box(2000, 2420, 2400, 2600)), "nearer than labels keep to lines"
    assert room.free(Box(2000, 2600, 2400, 2800))
    assert room.crossings((1000, 3000), (3000, 1000)) == 1
    assert room.crossings((1000, 3000), (1000, 2000)) == 0


def with_lines(width: int, count: int) -> Record:
    """A bias strip with lines that run along it, a join line across either end."""
    across = tuple(width * k // (count + 1) for k in range(1, count + 1))
    marks = tuple(Mark(MarkKind.FOLD, "fold", v, v, v + 60 * CM, v) for v in across)
    strip = Piece.shaped("A", "strip", bias_strip(60 * CM, width), 1, "main", grain=Grain.BIAS,
                         marks=marks)  # fmt: skip
    table = Table((strip,))
    table.put(("A", 45, False), 0, CM)
    lay = cut_out(wool(width=70 * CM), (strip,), table, 40 * CM)
    return Record("One strip", System.CM, (), (lay,))


def folds(record: Record) -> list[Path]:
    lay = record.lays[0]
    plan = layout(record, lay, Paper.A4)
    return [mark for mark in plan.drawing.over if isinstance(mark, Path)
            and mark.dash and mark.weight == style.FOLD
            and all(a[0] != b[0] and a[1] != b[1] for a, b in mark.runs)]  # fmt: skip


def test_lines_too_close_to_tell_apart_are_left_out() -> None:
    assert len(folds(with_lines(12 * CM, 3))) == 3
    assert folds(with_lines(2 * CM, 3)) == []


def test_the_grain_arrow_may_interrupt_lines_where_it_cannot_dodge_them() -> None:
    record = with_lines(12 * CM, 9)
    plan = layout(record, record.lays[0], Paper.A4)
    assert [label.owner for label in plan.drawing.labels if label.kind == "grain"] == ["A-1"]


def test_notes_go_below_the_cloth_where_the_steps_need_their_room() -> None:
    """Seven gores, each a little off any row, make a step each."""
    piece = gores(7)
    table = Table((piece,))
    for n in range(7):
        table.put(("A", 0, False), n // 3 * 88 * CM + n * CM // 2, CM + n % 3 * 45 * CM + n * 90)
    lay = cut_out(wool(), (piece,), table, 200 * CM)
    plan = layout(Record("Odd places", System.CM, (), (lay,)), lay, Paper.A4)
    heads = {label.owner: label.box for label in plan.drawing.labels if label.kind == "heading"}
    cloth = plan.view.box(lay.bolt).moved(*plan.corner)
    assert heads["Chalk and cut in this order"].x0 > cloth.x1
    assert heads["Check"].y0 > cloth.y1
    assert heads["Check"].x1 < heads["Chalk and cut in this order"].x0
    assert faults(plan, lay) == []


def test_no_label_is_set_over_the_fold_of_the_cloth() -> None:
    _, lay, plan = drawn("folded", Paper.A4)
    fold = plan.corner[1] + plan.view.box(lay.bolt).middle[1]
    over = [
        one for one in plan.drawing.labels if one.kind in INSIDE and one.box.y0 < fold < one.box.y1
    ]
    assert over == []


def test_a_strip_too_narrow_for_words_is_called_out() -> None:
    """Three centimetres at about 1:17 are not two millimetres on paper."""
    strip = Piece.shaped("A", "strip", bias_strip(110 * CM, 3 * CM), 2, "main", grain=Grain.BIAS)
    panel = Piece("B", "panel", 80 * CM, 100 * CM, 3, "main")
    table = Table((strip, panel))
    for n in range(3):
        table.put(("B", 0, False), n * 81 * CM, CM)
    for n in range(2):
        table.put(("A", 45, False), (250 + 10 * n) * CM, 20 * CM)
    lay = cut_out(wool(), (strip, panel), table, 200 * CM)
    case = Record("Narrow strips", System.CM, (), (lay,))
    pages = stretches(case, lay, Paper.A4)
    assert all(faults(page, page.lay) == [] for page in pages)  # type: ignore[arg-type]
    called = [one.owner for page in pages for one in page.drawing.labels if one.kind == "call-out"]
    assert sorted(called) == ["A-1", "A-2"]


def test_a_full_shape_is_lettered_level() -> None:
    """A half circle has a longest way that leans, but room for level words."""
    half = Piece.shaped("A", "cape", circle_panel(38 * CM, 55 * CM, 0.5, 1), 1, "main")
    shape = shape_of(half.laid(0), View(Rect(0, 0, 300 * CM, 150 * CM), 20))
    assert shape.lean not in (0, 90)
    assert shape.angles == (0,)
