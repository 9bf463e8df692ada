"""Pieces that the user brings: each outline, however it is given, becomes the piece it says."""

from __future__ import annotations

from pathlib import Path

import pytest
from example_cases import text_of
from hypothesis import given, settings
from hypothesis import strategies as st
from own_cases import CLOTH, DRAWN, YOKE, own_case, own_draft, own_piece

from marker.casefile import parse, read
from marker.cloth import Cloth
from marker.errors import BadInput
from marker.geometry import Rect
from marker.piece import Edges, Grain, MarkKind
from marker.units import CM, MM


def size(piece: str, folder: Path = Path()) -> tuple[float, float]:
    made = own_piece(piece, folder)
    return made.length / CM, made.breadth / CM


def test_a_rectangle_is_a_plain_piece_that_may_be_torn() -> None:
    made = own_piece('length = "22 cm"\nbreadth = "8 cm"')
    assert (made.name, made.count, made.cloth, made.wearer) == ("yoke", 1, "main", "")
    assert (made.length, made.breadth, made.grain) == (22 * CM, 8 * CM, Grain.ALONG)
    assert made.outline is None and made.torn and made.edges == Edges()
    assert not own_piece('length = "22 cm"\nbreadth = "8 cm"\ntorn = false').torn


def test_points_are_laid_exactly_as_they_are_given() -> None:
    made = own_piece(YOKE)
    corners = ((0, 0), (40 * CM, 0), (36 * CM, 18 * CM), (4 * CM, 18 * CM))
    assert sorted(made.polygon.points) == sorted(corners)
    assert made.outline and made.mirrored == 0 and not made.folds
    assert [edge.name for edge in made.outline.edges] == ["centre", "side", "neck", "side"]


def test_points_may_run_either_way_round_anywhere_and_come_back() -> None:
    there = own_piece(YOKE).polygon.points
    away = """points = [["-4 cm", "13 cm"], ["-36 cm", "13 cm"], ["-40 cm", "-5 cm"],
        ["0 cm", "-5 cm"], ["-4 cm", "13 cm"]]"""
    assert sorted(own_piece(away).polygon.points) == sorted(there)


def test_a_drawing_lies_with_the_side_up_that_it_shows(tmp_path: Path) -> None:
    # The slanted side runs from the upper right corner down and to the left; v runs up.
    (tmp_path / "a.svg").write_text(DRAWN, encoding="utf-8")
    corners = {(0, 0), (4 * CM, 0), (6 * CM, 3 * CM), (0, 3 * CM)}
    drawn = own_piece('svg = "a.svg"\nid = "yoke"', tmp_path)
    assert set(drawn.polygon.points) == corners
    told = own_piece('d = "M 5 5 h 6 l -2 3 h -4 z"\nunit = "cm"')
    assert set(told.polygon.points) == corners


@pytest.mark.parametrize(("unit", "along"), [("mm", 6), ("cm", 60), ("in", 152.4)])
def test_path_data_have_the_unit_that_is_named(unit: str, along: float) -> None:
    assert size(f'd = "M0 0 H 60 L 30 40 Z"\nunit = "{unit}"')[0] == along


def test_a_drawing_is_looked_for_beside_the_case_file(tmp_path: Path) -> None:
    (tmp_path / "shapes").mkdir()
    (tmp_path / "shapes" / "a.svg").write_text(DRAWN, encoding="utf-8")
    case = tmp_path / "own.toml"
    case.write_text(
        f'title = "Own"\nunits = "cm"\n[cloth.main]\n{CLOTH}\n'
        '[piece.yoke]\nsvg = "shapes/a.svg"\nid = "yoke"\n',
        encoding="utf-8",
    )
    (order,) = read(case).orders
    assert order.drafts()[0].pieces[0].length == 6 * CM


def test_seam_allowance_goes_outside_but_for_what_is_included() -> None:
    plain = 'length = "22 cm"\nbreadth = "8 cm"\nseam = "1 cm"\n'
    assert size(plain) == (24, 10)
    assert size(plain + "seam_included = true") == (22, 8)
    assert size(plain + 'seams = { end = "4 cm", low = "0 cm" }') == (27, 9)
    assert size('length = "22 cm"\nbreadth = "8 cm"\nseams = { end = "4 cm" }') == (26, 8)


def test_seam_allowance_follows_slanted_edges() -> None:
    # A 3-4-5 triangle, all edges 12 cm out: similar, its inscribed circle grown from 10 to 22.
    triangle = 'points = [["0 cm","0 cm"],["40 cm","0 cm"],["0 cm","30 cm"]]\nseam = "12 cm"'
    grown = own_piece(triangle)
    assert (grown.length, grown.breadth) == (88 * CM, 66 * CM)
    square = own_piece(triangle + '\ncorners = "square"')
    assert square.length < 88 * CM and square.area2 < grown.area2


def test_square_corners_make_a_rectangle_a_shape() -> None:
    made = own_piece('length = "22 cm"\nbreadth = "8 cm"\nseam = "1 cm"\ncorners = "square"')
    assert made.outline and not made.torn and len(made.polygon.points) == 8
    assert (made.length, made.breadth) == (24 * CM, 10 * CM)


def test_a_half_on_the_fold_is_unfolded_and_notched() -> None:
    made = own_piece(f'{YOKE}\nfold = "centre"')
    assert (made.length, made.breadth, made.folds) == (40 * CM, 36 * CM, True)
    assert made.area2 == 2 * (40 + 32) * 18 * CM * CM
    assert [(m.kind, m.name) for m in made.marks] == [
        (MarkKind.FOLD, ""),
        (MarkKind.NOTCH, "centre"),
        (MarkKind.NOTCH, "centre"),
    ]
    middle = 18 * CM
    assert [(m.u0, m.u1, m.v0, m.v1) for m in made.marks] == [
        (0, 40 * CM, middle, middle),
        (0, 5 * MM, middle, middle),
        (40 * CM - 5 * MM, 40 * CM, middle, middle),
    ]


def test_no_seam_runs_along_the_fold() -> None:
    half = 'length = "40 cm"\nbreadth = "18 cm"\nseam = "1 cm"\nfold = "low"'
    made = own_piece(half)
    assert (made.length, made.breadth) == (42 * CM, 38 * CM)
    assert made.folds and made.outline is None
    notches = [mark for mark in made.marks if mark.kind is MarkKind.NOTCH]
    assert [mark.name for mark in notches] == ["fold", "fold"]
    (fold,) = (mark for mark in made.marks if mark.kind is MarkKind.FOLD)
    assert (fold.u0, fold.v0, fold.u1, fold.v1) == (1 * CM, 19 * CM, 41 * CM, 19 * CM)
    # Stitching lines run round the finished rectangle, and none along the fold.
    lines = {
        (m.name, *sorted(((m.u0, m.v0), (m.u1, m.v1))))
        for m in made.marks
        if m.kind is MarkKind.SEAM
    }
    corners = [(a * CM, b * CM) for a in (1, 41) for b in (1, 37)]
    assert lines == {("seam", corners[i], corners[j]) for i, j in ((0, 1), (0, 2), (1, 3), (2, 3))}


END = 'length = "18 cm"\nbreadth = "40 cm"\nedges = ["", "centre", "side", "neck"]\nfold = "centre"'


@pytest.mark.parametrize(
    ("grain", "lies", "folds", "up"),
    [
        ("along", Grain.ALONG, False, "length"),  # the fold would lie across the bolt
        ("across", Grain.ALONG, True, "breadth"),  # the fold lies along the warp
        ("either", Grain.EITHER, True, "breadth"),
    ],
)
def test_a_fold_across_the_piece_is_turned_to_lie_along_it(
    grain: str, lies: Grain, folds: bool, up: str
) -> None:
    made = own_piece(f'{END}\ngrain = "{grain}"')
    assert (made.grain, made.folds, made.up) == (lies, folds, up)
    sizes = (40 * CM, 36 * CM) if folds else (36 * CM, 40 * CM)
    assert (made.length, made.breadth) == sizes
    # The neck is opposite the fold: on both sides of it once it is unfolded.
    ends = (made.edges.start, made.edges.end, made.edges.low, made.edges.high)
    expected = ("", "side", "neck", "neck") if folds else ("neck", "neck", "", "side")
    assert sorted(ends[:2]) == sorted(expected[:2]) and sorted(ends[2:]) == sorted(expected[2:])
    fold, mark, other = made.marks
    assert fold.kind is MarkKind.FOLD and {(fold.u0, fold.v0), (fold.u1, fold.v1)} == {
        (mark.u0, mark.v0),
        (other.u1, other.v1),
    }
    if folds:
        assert (mark.v0, mark.u0, other.u1) == (18 * CM, 0, 40 * CM)
    else:
        assert (mark.u0, mark.v0, other.v1) == (18 * CM, 0, 40 * CM)


HALF = """points = [["0 cm","0 cm"],["18 cm","0 cm"],["18 cm","40 cm"],["4 cm","36 cm"]]
edges = ["", "centre", "", ""]"""
WHOLE = """points = [["0 cm","0 cm"],["36 cm","0 cm"],["32 cm","36 cm"],["18 cm","40 cm"],
    ["4 cm","36 cm"]]"""


@pytest.mark.parametrize("one_way", [True, False])
@pytest.mark.parametrize("grain", ["along", "across", "either"])
def test_a_half_lies_in_all_ways_that_its_whole_does(grain: str, one_way: bool) -> None:
    lies = []
    for piece in (f'{HALF}\nfold = "centre"', WHOLE):
        made = own_piece(f'{piece}\ngrain = "{grain}"')
        lies.append({frozenset(made.laid(*way).points) for way in made.ways(one_way)})
    assert lies[0] == lies[1]


def test_a_fold_drawn_a_hair_off_the_grain_is_set_on_it() -> None:
    skew = 'points = [["0 cm","0 cm"],["40 cm","1 mm"],["36 cm","18 cm"],["4 cm","18 cm"]]'
    names = 'edges = ["centre", "", "", ""]\nfold = "centre"'
    made = own_piece(f"{skew}\n{names}")
    assert made.folds and abs(made.length - 40 * CM) <= 16
    # The fold's ends are the furthest points either way; both lie on the middle line.
    ends = [v for u, v in made.polygon.points if not 16 < u < made.length - 16]
    assert all(abs(2 * v - made.breadth) <= 32 for v in ends)
    slanted = own_piece(f"{skew.replace('1 mm', '10 mm')}\n{names}")
    assert not slanted.folds and [m.kind for m in slanted.marks] == [MarkKind.FOLD]


def test_pairs_turn_half_of_the_copies_over_where_that_differs() -> None:
    slanted = 'points = [["0 cm","0 cm"],["40 cm","0 cm"],["40 cm","18 cm"],["4 cm","18 cm"]]\n'
    assert (own_piece(slanted + "pairs = true").count) == 2
    assert own_piece(slanted + "pairs = true\ncount = 6").mirrored == 3
    assert own_piece(slanted + "count = 6").mirrored == 0
    assert own_piece('length = "3 cm"\nbreadth = "2 cm"\npairs = true').mirrored == 0
    folded = own_piece(f'{YOKE}\nfold = "centre"\npairs = true')
    assert (folded.count, folded.mirrored) == (2, 0)


def test_a_rectangle_on_the_bias_is_a_shape() -> None:
    made = own_piece('length = "22 cm"\nbreadth = "8 cm"\ngrain = "bias"')
    assert made.outline and not made.torn and made.grain is Grain.BIAS
    assert made.laid(45).box.along == pytest.approx(30 * CM / 2**0.5, abs=32)


def test_a_shape_that_is_a_rectangle_is_one_however_it_is_given() -> None:
    made = own_piece('d = "M 0 0 H 22 V 8 H 0 Z"\nunit = "cm"\nedges = ["top","","hem",""]')
    assert made.outline is None and made.torn
    # Drawn from the upper left corner to the right, so that its first edge is the upper one.
    assert made.edges == Edges(low="hem", high="top")


def test_torn_edges_of_a_rectangle_are_given_over() -> None:
    piece = 'length = "22 cm"\nbreadth = "8 cm"'
    cloth = f'{CLOTH}\ntorn_edge = "2 mm"'
    assert own_piece(piece, cloth=cloth).length == 224 * MM
    assert own_piece(piece + "\ntorn = false", cloth=cloth).length == 220 * MM
    assert any("Torn edges" in said for said in own_draft(piece, cloth=cloth).garment.advice)


def test_a_piece_may_come_from_several_cloths() -> None:
    made = own_piece(
        'length = "3 cm"\nbreadth = "2 cm"\ncloth = ["lawn", "main"]',
        more=f"[cloth.lawn]\n{CLOTH}",
    )
    assert (made.cloth, made.also) == ("lawn", ("main",))


def test_the_sheet_tells_what_was_added_and_what_edges_measure() -> None:
    told = own_draft(f'{YOKE}\nname = "Yoke"\nfold = "centre"\nseam = "1 cm"').garment
    assert (told.key, told.name, told.wearer) == ("own-pieces", "Own pieces", "")
    lengths = {item.name: item.length / MM for item in told.figures}
    # Finished, not cut: the neck is 32 cm on either side; a side runs 4 cm in over 18, and goes
    # on over the fold.
    assert lengths["Yoke, finished neck, each"] == 320
    assert lengths["Yoke, finished side, each"] == pytest.approx(20 * (16 + 324) ** 0.5, abs=0.01)
    assert told.advice[0] == "Yoke: 1 cm seam allowance is added outside the outline."
    assert "drawn by half" in told.advice[1]
    assert next(item.name for item in own_draft(YOKE).garment.figures) == "yoke, centre"
    cut = own_draft(f'{YOKE}\nseam = "1 cm"\nseam_included = true').garment
    assert cut.figures == () and "holds its seam allowance of 1 cm" in cut.advice[0]
    assert "no seam allowance is added" in own_draft(YOKE).garment.advice[0]


def test_pieces_stand_beside_garments_and_for_wearers() -> None:
    pocket = '[piece.{}]\nlength = "18 cm"\nbreadth = "15 cm"\n{}\n'
    text = text_of("cm", pocket.format("one", "") + pocket.format("two", 'wearer = "ada"'))
    orders = parse(text, "a.toml").orders
    assert [order.key for order in orders] == ["skirt", "own-pieces", "own-pieces-ada"]
    two = orders[2].drafts()[0]
    assert (two.garment.wearer, two.pieces[0].wearer) == ("ada", "ada")
    assert [piece.name for piece in orders[1].drafts()[0].pieces] == ["one"]


def cloth_of(more: str) -> Cloth:
    return own_case('length = "3 cm"\nbreadth = "2 cm"', cloth=f"{CLOTH}\n{more}").cloths["main"]


def test_folded_cloth_is_cut_with_shears_and_keeps_a_margin() -> None:
    cloth = cloth_of('folded = true\nmargin = "5 mm"')
    assert cloth.folded and not cloth.tears and cloth.margin == 5 * MM
    plain = cloth_of("")
    assert not plain.folded and plain.tears and plain.margin == 0
    assert not cloth_of("folded = true\ntears = false").tears
    with pytest.raises(BadInput, match=r"own.toml: cloth.main.tears is true, but cloth laid fold"):
        cloth_of("folded = true\ntears = true")
    case = own_case('length = "3 cm"\nbreadth = "2 cm"', cloth=f"{CLOTH}\nfolded = true")
    assert case.parted(tears=False)
    with pytest.raises(BadInput, match=r"own.toml: cloth.main.folded is true, .*--mode tear"):
        case.parted(tears=True)


LENGTH = st.integers(min_value=10, max_value=400)


@settings(derandomize=True, max_examples=40, deadline=None)
@given(LENGTH, LENGTH, st.integers(0, 4), st.integers(0, 30))
def test_a_half_and_its_whole_have_the_same_cloth(
    along: int, high: int, inset: int, seam: int
) -> None:
    # Whatever the half, the whole is twice as much, and its allowance runs all round it. No
    # corner falls in, so that every allowance is there in full; mitres add to it.
    half = (
        f'points = [["0 mm","0 mm"],["{along} mm","0 mm"],["{along - inset} mm","{high} mm"],'
        f'["{inset} mm","{high} mm"]]\nedges = ["f","","",""]\n'
    )
    whole = own_piece(half + 'fold = "f"')
    assert whole.folds and whole.area2 == 2 * own_piece(half).area2
    grown = own_piece(f'{half}fold = "f"\nseam = "{seam} mm"')
    around = 2 * (along - 2 * inset + 2 * high) * MM
    least = 2 * seam * MM * around
    assert least <= grown.area2 - whole.area2
    # A tip of no less than 68 degrees is 1.8 allowances away: a kite of 1.5 squares at most.
    assert grown.area2 <= whole.area2 + least * 1.12 + 2 * 6 * 1.5 * (seam * MM) ** 2 + 64 * around
    assert grown.polygon.box == Rect(0, 0, grown.length, grown.breadth)
