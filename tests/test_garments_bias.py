"""How bias is cut: strips, a rectangle and continuous bias, and what each joins to."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
import shapely
from curved_cases import hem_case, read_drafts
from hypothesis import given, settings
from hypothesis import strategies as st

from marker.cloth import Cloth
from marker.errors import BadInput
from marker.garments.bias import Bias, bias
from marker.garments.bias_keys import CONTINUOUS, CUTS, RECTANGLE, STRIPS
from marker.garments.order import Order, Spec, Wearer
from marker.geometry.bias import area_bound, join_takes, layout
from marker.geometry.shapes import bias_strip
from marker.piece import MarkKind
from marker.units import CM, INCH, MM, Rounding, System, ceil_to, format_length


class Plain(Spec):
    """A garment of which only its hem is asked here."""

    def drafts(self, order: Order) -> tuple[()]:
        del order
        return ()


def order_on(
    width: int, one_way: bool = False, system: System = System.CM, *, folded: bool = False
) -> Order:
    """An order whose cloth is as wide, without selvedges."""
    cloth = Cloth("main", "Lawn", width, 10 * CM, one_way=one_way, folded=folded)
    wearer = Wearer("ada", "Ada", {})
    return Order("a.toml", "hem", "hem", "Hem", wearer, Plain(), {"main": cloth}, "main", system)


# --- how bias is cut ----------------------------------------------------------------------


@settings(max_examples=60, deadline=None)
@given(
    st.integers(60, 600), st.integers(20, 160), st.integers(30, 160), st.integers(0, 15),
    st.sampled_from(CUTS), st.booleans(), st.booleans(),
)  # fmt: skip
def test_the_joined_strip_is_never_short(
    joined_cm: int, width_mm: int, cloth_cm: int, seam_mm: int, cut: str, ring: bool, one_way: bool
) -> None:
    order = order_on(cloth_cm * CM, one_way)
    wanted = Bias("hem", "strip", joined_cm * CM, width_mm * MM, seam_mm * MM, ring, shortest=CM)
    made = bias(order, wanted, cut, None)
    (piece,) = made.pieces
    joined = made.figures[0].length
    closing = join_takes(wanted.seam) if ring else 0
    assert joined >= math.floor(wanted.joined + closing)
    if cut == STRIPS:
        edge = piece.length - wanted.width
        total = piece.count * edge - (piece.count - 1) * join_takes(wanted.seam)
        assert joined == math.floor(total)
        for turn, flip in piece.ways(one_way):
            box = piece.laid(turn, flip).box
            assert min(box.across, box.along) <= cloth_cm * CM
        assert min(piece.laid(*way).box.across for way in piece.ways(one_way)) <= cloth_cm * CM
    else:
        # A layout never joins to more than the area would give.
        assert joined <= area_bound(piece.length, piece.breadth, wanted.width) + 1


def test_the_fewest_strips_that_lie_across_the_cloth() -> None:
    # On the bias a cloth 100 cm wide gives strips of 100 x sqrt 2 = 141.4 cm.
    order = order_on(100 * CM)

    def strips(joined: int) -> int:
        wanted = Bias("hem", "strip", joined, 4 * CM, 0, ring=False)
        return bias(order, wanted, STRIPS, None).pieces[0].count

    assert [strips(141 * CM), strips(142 * CM), strips(282 * CM), strips(284 * CM)] == [1, 2, 2, 3]


def test_a_strip_keeps_its_shape_and_its_marks_are_on_it() -> None:
    lines = ((MarkKind.HEM, "hem seam", CM), (MarkKind.FOLD, "upper edge", 8 * CM))
    wanted = Bias("hem", "strip", 200 * CM, 9 * CM, CM, lines=lines)
    (piece,) = bias(order_on(150 * CM), wanted, STRIPS, None).pieces
    assert piece.outline is not None
    edge = piece.length - 9 * CM
    assert piece.outline.area == pytest.approx(bias_strip(edge, 9 * CM).area)
    assert piece.outline.edge("low").length == pytest.approx(edge)
    assert piece.outline.edge("start").length == pytest.approx(9 * CM * math.sqrt(2))
    for mark in piece.marks:
        ends = [(mark.u0, mark.v0), (mark.u1, mark.v1)]
        # Every mark ends on the strip's edges: u + v runs from the width to it and its length.
        assert all(9 * CM - 1 <= u + v <= 9 * CM + edge + 1 for u, v in ends)
        assert all(0 <= v <= 9 * CM for _, v in ends)
    hem = next(mark for mark in piece.marks if mark.kind is MarkKind.HEM)
    assert (hem.v0, abs(hem.u1 - hem.u0)) == (CM, edge)


def test_the_rectangle_of_the_indian_example_is_no_shorter_than_its_area() -> None:
    # Dress Making, Trade Practical (Government of India), p. 220: strip 500 x 2.5 cm from cloth
    # 86 cm wide, shortest piece 10 cm: an area account gives 15.12 cm, an upper bound on yield.
    wanted = Bias("hem", "strip", 500 * CM, 25 * MM, 0, ring=False, shortest=10 * CM)
    (piece,) = bias(order_on(86 * CM), wanted, RECTANGLE, None).pieces
    assert piece.breadth == 86 * CM
    area = 500 * CM * 25 * MM / (86 * CM)
    assert area < piece.length <= 17 * CM
    assert layout(piece.length, 86 * CM, 25 * MM, 0, 10 * CM).joined >= 500 * CM
    assert layout(piece.length - MM, 86 * CM, 25 * MM, 0, 10 * CM).joined < 500 * CM


def test_the_leaflet_s_ten_yards_of_bias_are_not_promised() -> None:
    # An old leaflet: 1/4 yd of 40 in cloth gives about 10 yd of 1 1/4 in bias; its area is 8 yd.
    for cut in (RECTANGLE, CONTINUOUS):
        wanted = Bias("hem", "strip", 10 * 36 * INCH, 5 * INCH // 4, 0, ring=False)
        (piece,) = bias(order_on(40 * INCH, system=System.IN), wanted, cut, None).pieces
        assert min(piece.length, piece.breadth) > 9 * INCH * 10 / 8


@pytest.mark.parametrize("width", [3 * CM, 77 * MM, 10 * CM, 113 * MM])
def test_a_rectangle_shows_the_lines_to_cut_along(width: int) -> None:
    wanted = Bias("hem", "strip", 300 * CM, width, CM)
    made = bias(order_on(150 * CM), wanted, RECTANGLE, None)
    (piece,) = made.pieces
    found = layout(piece.length, piece.breadth, width, CM, 10 * CM)
    lines = [mark for mark in piece.marks if mark.name == "bias line"]
    # Strips side by side share the line between them, so there is one line more than strips.
    assert len(lines) == len(found.strips) + 1
    offsets = [mark.u0 - mark.v0 for mark in lines]
    assert all(after - before > width for before, after in pairwise(offsets))
    for strip in found.strips:
        for edge in (strip.offset, strip.offset + width * math.sqrt(2)):
            assert any(abs(edge - offset) <= 1 for offset in offsets)
    for mark in lines:
        assert mark.u1 - mark.u0 == mark.v1 - mark.v0 > 0
        assert mark.u0 == 0 or mark.v0 == 0
        assert mark.u1 == piece.length or mark.v1 == piece.breadth
    assert f"is {len(found.strips)} strips of true bias" in made.advice[0]
    slant = math.ceil(width * math.sqrt(2))
    assert f"mark {format_length(slant, System.CM, Rounding.UP)} along" in made.advice[0]
    assert made.figures[1].length == ceil_to(slant, MM)  # as it is chalked


def test_continuous_bias_takes_the_least_rectangle() -> None:
    wanted = Bias("hem", "strip", 400 * CM, 5 * CM, CM, across=60 * CM)
    (piece,) = bias(order_on(150 * CM), wanted, CONTINUOUS, None).pieces
    assert piece.breadth == 60 * CM
    # Ruled along its longer side, 60 - 2 cm, into 8 rows of 5 x sqrt 2: each is as long as the
    # shorter side on the bias, and 7 of them lose a join; the ring's own join is wanted besides.
    rows = int((60 - 2) / (5 * math.sqrt(2)))
    side = (400 + rows * 2 * math.sqrt(2)) / (rows * math.sqrt(2))
    assert piece.length == math.ceil(side * 10) * MM
    (line,) = piece.marks
    assert (line.u1 - line.u0, line.v1 - line.v0) == (piece.length, piece.length)


def test_more_strips_than_anyone_cuts_are_refused() -> None:
    with pytest.raises(BadInput, match=r"takes 1\d\d\d bias strips; 1000 are the most"):
        bias(order_on(1 * CM), Bias("hem", "strip", 1500 * CM, MM, 0), STRIPS, None)


def test_one_bias_strip_on_folded_cloth_lies_between_selvedge_and_fold() -> None:
    order = order_on(140 * CM, folded=True)
    (piece,) = bias(order, Bias("hem", "strip", 90 * CM, 2 * CM, 0, False), STRIPS, None).pieces
    assert piece.count == 1
    assert min(piece.laid(*way).box.across for way in piece.ways(False)) <= 70 * CM
    # A strip of 70 cm x sqrt 2 is the longest there.
    with pytest.raises(BadInput, match="the 2 strips must lean one way"):
        bias(order, Bias("hem", "strip", 100 * CM, 2 * CM, 0, False), STRIPS, None)


# --- joins of continuous bias -------------------------------------------------------------


@settings(max_examples=40, deadline=None)
@given(st.integers(80, 600), st.integers(20, 120), st.integers(40, 150), st.integers(0, 12))
def test_a_continuous_strip_tells_all_its_joins(
    joined_cm: int, width_mm: int, across_cm: int, seam_mm: int
) -> None:
    wanted = Bias("hem", "strip", joined_cm * CM, width_mm * MM, seam_mm * MM)
    made = bias(order_on(across_cm * CM), wanted, CONTINUOUS, None)
    (piece,), (told, *_) = made.pieces, made.advice
    ruled, side = sorted((piece.length, piece.breadth), reverse=True)
    rows = int(told.split("rule ")[1].split()[0])
    # The parallelogram that is left once the triangle is sewn on: its rows lie between lines
    # x - y = k x width x sqrt 2, and the triangle's seam runs straight over it at its far end.
    far = ruled - 2 * wanted.seam
    seam = shapely.LineString([(far, 0), (far, side)])
    pitch = wanted.width * math.sqrt(2)
    crossed = sum(
        shapely.Polygon([(at, 0), (at + pitch, 0), (at + pitch + side, side), (at + side, side)])
        .intersection(seam)
        .length
        > 1
        for at in (k * pitch for k in range(rows))
    )
    joins = rows - 1 + crossed + 1
    assert f"It has about {joins} joins on the straight thread (" in told
    if rows > 1:
        (item,) = [item for item in made.figures if "joins" in item.name]
        assert item.name == f"strip, about {joins} joins, mostly apart"
        # A row is as long as the shorter side on the bias, less what a join takes.
        assert item.length == int(math.sqrt(2) * (side - 2 * wanted.seam))


def test_a_squarer_rectangle_has_fewer_joins_as_the_sheet_says() -> None:
    wide, narrow = (
        read_drafts(hem_case(f'binding.cut = "continuous bias"\n{across}'))[0].garment
        for across in ("", 'binding.across = "18 in"')
    )
    hint = "With a smaller binding.across the rectangle for the hem binding is nearer to a square"
    assert [sum(hint in line for line in each.advice) for each in (wide, narrow)] == [1, 0]
    counts = [
        int(item.name.split("about ")[1].split()[0])
        for each in (wide, narrow)
        for item in each.figures
        if "joins" in item.name
    ]
    assert counts[0] > 2 * counts[1] > 0
