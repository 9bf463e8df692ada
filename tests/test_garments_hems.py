"""Hems of curved garments: shaped and bias facings, bias bindings, and how bias is cut."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
import shapely
from curved_cases import figure, named, read_drafts, refused
from hypothesis import given, settings
from hypothesis import strategies as st

from marker.cloth import Cloth
from marker.errors import BadInput
from marker.garments.bias import Bias, bias
from marker.garments.bias_keys import CONTINUOUS, CUTS, RECTANGLE, STRIPS
from marker.garments.order import Order, Spec, Wearer
from marker.geometry import Arc
from marker.geometry.bias import area_bound, join_takes, layout
from marker.geometry.shapes import bias_strip
from marker.piece import Grain, MarkKind, Piece
from marker.units import CM, INCH, MM, Rounding, System, format_length


def skirt(more: str, kind: str = "circle skirt", keys: str = 'circle = "half"\npanels = 2') -> str:
    """A half circle in two panels: waist 28 in, 30 in long, so the hem is 28 + 30 pi."""
    return (
        'title = "A hem"\nunits = "in"\n'
        '[wearer.ada]\nwaist = "28 in"\nlength = "30 in"\nneck = "15 in"\n'
        '[cloth.main]\nwidth = "60 in"\n[cloth.lining]\nwidth = "36 in"\n'
        f'[garment.skirt]\nkind = "{kind}"\ncloth = "main"\nseam = "1/2 in"\n{keys}\n{more}'
    )


ROUND = (28 + 30 * math.pi) * INCH


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


def outline_arc(piece: Piece, edge: str) -> Arc:
    assert piece.outline is not None
    (found,) = [part for part in piece.outline.edge(edge).segments if isinstance(part, Arc)]
    return found


# --- shaped facings -----------------------------------------------------------------------


@pytest.mark.parametrize(
    ("kind", "keys"),
    [
        ("circle skirt", 'circle = "half"\npanels = 2'),
        ("circle skirt", 'circle = "full"\npanels = 4\ngrain = "edge"'),
        ("cape", 'circle = "half"\npanels = 4\nlength = "30 in"'),
        ("gored skirt", 'gores.round = "110 in"\ngores.count = 5'),
    ],
)
def test_facing_and_hem_have_the_same_edge(kind: str, keys: str) -> None:
    (draft,) = read_drafts(skirt('facing.depth = "3 in"', kind, keys))
    faced = [piece for piece in draft.pieces if piece.name.endswith(" facing")]
    panels = [named(draft, piece.name.removesuffix(" facing")) for piece in faced]
    assert faced and len(faced) == sum(1 for piece in draft.pieces if piece.outline) / 2
    for facing, panel in zip(faced, panels, strict=True):
        assert (facing.count, facing.mirrored, facing.folds) == (
            panel.count,
            panel.mirrored,
            panel.folds,
        )
        mine, its = outline_arc(facing, "end"), outline_arc(panel, "end")
        assert mine.radius == pytest.approx(its.radius)
        assert mine.length == pytest.approx(its.length)
        # Depth, the hem's seam and what the upper edge takes: 3 + 1/2 + 1/2 in.
        assert mine.radius - outline_arc(facing, "start").radius == pytest.approx(4 * INCH)
        assert facing.edges.low == panel.edges.low and facing.edges.start == "top"
    assert draft.garment.cut_length == 31 * INCH


def test_the_upper_edge_of_a_shaped_facing_is_told() -> None:
    (draft,) = read_drafts(skirt('facing.depth = "3 in"'))
    inner = (28 + (30 - 3) * math.pi) * INCH
    assert figure(draft, "upper edge of the shaped facing") == pytest.approx(inner, abs=1)


def test_a_facing_may_come_from_another_cloth() -> None:
    (draft,) = read_drafts(skirt('panels = 4\nfacing.cloth = "lining"', keys='circle = "half"'))
    assert (named(draft, "panel").cloth, named(draft, "panel facing").cloth) == ("main", "lining")
    said = refused(skirt('facing.cloth = "lining"'))
    assert "garment.skirt.facing: the panel facing takes 56 1/2 in of the width" in said


@pytest.mark.parametrize("cut", CUTS)
def test_bias_may_come_from_whichever_cloth_suits(cut: str) -> None:
    (draft,) = read_drafts(skirt(f'facing.cut = "{cut}"\nfacing.cloth = ["main", "lining"]'))
    piece = draft.pieces[1]
    assert (piece.cloth, piece.also) == ("main", ("lining",))
    # Cut for the narrower of the two, 36 in.
    widest = 36 * INCH if piece.outline is None else 36 * INCH * math.sqrt(2) + piece.breadth
    assert max(piece.breadth, piece.length) <= widest


# --- bias facings and bindings ------------------------------------------------------------


def test_every_way_to_face_is_drafted_in_the_order_named() -> None:
    ways = '["bias strips", "shaped", "bias rectangle", "continuous bias"]'
    drafts = read_drafts(skirt(f"facing.cut = {ways}"))
    assert [draft.way for draft in drafts] == [
        "facing of bias strips",
        "shaped facing",
        "facing of bias from a rectangle",
        "facing of continuous bias",
    ]
    names = [draft.pieces[1].name for draft in drafts]
    assert names == [
        "bias facing strip",
        "panel facing",
        "cloth for the bias facing",
        "cloth for the bias facing",
    ]
    # All draw the same panels, so that the ways differ by their facing alone.
    assert len({draft.pieces[0] for draft in drafts}) == 1


def test_a_bias_facing_goes_all_round_and_is_closed_on_the_thread() -> None:
    (draft,) = read_drafts(skirt('facing.cut = "bias strips"\nfacing.depth = "3 in"'))
    strip = named(draft, "bias facing strip")
    assert strip.grain is Grain.BIAS and strip.breadth == 4 * INCH
    # The strip's box is longer than its edge by its width, its ends being on the thread.
    edge = strip.length - strip.breadth
    # Each join on the thread takes seam x sqrt 2 of both strips (SOURCES, computed).
    joined = strip.count * (edge - math.sqrt(2) * INCH)
    assert ROUND <= joined <= ROUND + strip.count * INCH / 8
    told = " ".join(draft.garment.advice)
    assert "2 joins on the straight thread, the one that closes it among them" in told
    # 3 in above the hem of a half circle the skirt is 3 pi in narrower.
    assert "longer than the place it is sewn to; shrink it in with the iron" in told
    assert "is 9 3/8 in longer" in told


def test_a_cape_s_bias_facing_is_open_and_turned_in_at_the_front() -> None:
    keys = 'circle = "half"\npanels = 2\nlength = "30 in"\nfront = "1 in"'
    (draft,) = read_drafts(skirt('facing.cut = "bias strips"', "cape", keys))
    strip = named(draft, "bias facing strip")
    edge = strip.length - strip.breadth
    joined = strip.count * edge - (strip.count - 1) * math.sqrt(2) * INCH
    hem = (15 + 30 * math.pi) * INCH
    assert hem + 2 * INCH <= joined <= hem + 2 * INCH + strip.count * INCH / 8
    assert "1 join on the straight thread: right sides together" in " ".join(draft.garment.advice)


def test_a_bound_hem_is_cut_off_at_the_hem_line() -> None:
    (draft,) = read_drafts(skirt('binding.lap = "1 in"\nbinding.width = "1/2 in"'))
    (item,) = draft.garment.notions
    assert item.name == "hem binding, 1/2 in wide"
    assert item.length == pytest.approx(ROUND + INCH, abs=1)
    assert draft.garment.cut_length == int(30.5 * INCH)
    assert not [m for m in named(draft, "panel").marks if m.kind is MarkKind.HEM]


def test_a_cut_binding_is_four_times_as_wide_as_it_shows() -> None:
    # four times the finished width: common practice, no source
    (draft,) = read_drafts(skirt('binding.width = "1/2 in"\nbinding.cut = "bias strips"'))
    strip = named(draft, "hem binding strip")
    assert strip.breadth == 2 * INCH and not draft.garment.notions
    assert sorted(m.v0 for m in strip.marks if m.kind is MarkKind.FOLD) == [
        INCH // 2,
        INCH,
        3 * INCH // 2,
    ]
    (own,) = read_drafts(skirt('binding.cut_width = "1 3/4 in"\nbinding.cut = "bias strips"'))
    assert named(own, "hem binding strip").breadth == 7 * INCH // 4


def test_several_numbers_of_strips_are_ways_of_their_own() -> None:
    text = skirt('facing.cut = ["shaped", "bias strips"]\nfacing.strips = [3, 6]')
    drafts = read_drafts(text)
    ways = ["shaped facing", "facing of 3 bias strips", "facing of 6 bias strips"]
    assert [draft.way for draft in drafts] == ways
    assert [draft.pieces[1].count for draft in drafts] == [2, 3, 6]
    (one,) = read_drafts(skirt('facing.cut = "bias strips"\nfacing.strips = 4'))
    assert (one.way, named(one, "bias facing strip").count) == ("", 4)


def test_a_cape_s_binding_is_open_and_laps_at_the_front() -> None:
    keys = 'circle = "half"\npanels = 2\nlength = "30 in"'
    (draft,) = read_drafts(skirt('binding.cut = "bias strips"\nbinding.lap = "2 in"', "cape", keys))
    strip = named(draft, "hem binding strip")
    joined = strip.count * (strip.length - strip.breadth)
    joined -= (strip.count - 1) * math.sqrt(2) * INCH / 2
    hem = (15 + 30 * math.pi) * INCH
    assert hem + 2 * INCH <= joined <= hem + 2 * INCH + strip.count * INCH / 8


@pytest.mark.parametrize("cut", ["shaped", "bias strips"])
def test_the_hem_s_seam_and_the_upper_edge_keep_their_own_widths(cut: str) -> None:
    text = skirt(f'take_up = "3/4 in"\nfacing.top = "1/4 in"\nfacing.cut = "{cut}"')
    piece = read_drafts(text)[0].pieces[1]
    assert piece.outline is not None
    polygon = shapely.Polygon(piece.polygon.points)
    for kind, inside in ((MarkKind.HEM, 3 * INCH / 4), (MarkKind.FOLD, INCH / 4)):
        edge = piece.outline.edge("end" if kind is MarkKind.HEM else "start")
        if cut != "shaped":
            edge = piece.outline.edge("low" if kind is MarkKind.HEM else "high")
        line = shapely.LineString([edge.at(edge.length * k / 400)[0] for k in range(401)])
        mark = next(m for m in piece.marks if m.kind is kind)
        middle = shapely.Point((mark.u0 + mark.u1) / 2, (mark.v0 + mark.v1) / 2)
        assert line.distance(middle) == pytest.approx(inside, abs=MM)
        assert polygon.contains(middle)


@pytest.mark.parametrize("hem", ["facing", "none"])
def test_notches_run_from_the_cut_edge_inwards(hem: str) -> None:
    for keys in ('circle = "half"\npanels = 2', 'circle = "full"\npanels = 4\ngrain = "edge"'):
        (draft,) = read_drafts(skirt(f'hem = "{hem}"', keys=keys))
        for piece in (piece for piece in draft.pieces if piece.outline):
            polygon = shapely.Polygon(piece.polygon.points)
            notches = [mark for mark in piece.marks if mark.kind is MarkKind.NOTCH]
            assert notches
            for mark in notches:
                outer, inner = shapely.Point(mark.u0, mark.v0), shapely.Point(mark.u1, mark.v1)
                assert polygon.exterior.distance(outer) <= 20
                assert polygon.exterior.distance(inner) >= 5 * MM - 20
                assert polygon.contains(inner)


def test_facings_and_bindings_are_compared_each_with_each() -> None:
    text = skirt(
        'facing.cut = ["shaped", "bias strips"]\nbinding.cut = ["bought", "continuous bias"]'
    )
    assert [draft.way for draft in read_drafts(text)] == [
        "shaped facing, bought binding",
        "shaped facing, binding of continuous bias",
        "facing of bias strips, bought binding",
        "facing of bias strips, binding of continuous bias",
    ]


def test_an_own_hem_says_how_much_is_eased_in() -> None:
    (draft,) = read_drafts(skirt('take_up = "1 in"'))
    # Below the hem line it is pi in longer than there, and sewn where it is pi in shorter.
    assert "The hem's cut edge is 6 1/4 in longer than the place" in " ".join(draft.garment.advice)
    keys = 'gores.round = "110 in"\ngores.count = 12\ntake_up = "30 in"'
    said = refused(skirt("", "gored skirt", keys))
    assert "garment.skirt.take_up is 30 in, as deep as the garment is long" in said
    (draft,) = read_drafts(skirt('hem = "none"'))
    assert "hem's cut edge" not in " ".join(draft.garment.advice)


def test_kept_selvedges_that_could_show_are_refused() -> None:
    text = skirt('hem = "none"').replace(
        "[cloth.main]", '[cloth.main]\nselvedges = "kept"\nselvedge = "1/4 in"'
    )
    said = "cloth 'main' keeps selvedges of 1/4 in, which could show in a piece whose edges have 0"
    assert f"garment.skirt.{said}" in refused(text)
    assert read_drafts(text.replace('hem = "none"', 'take_up = "1 in"'))


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ('facing.depth = "30 in"', "facing.depth is 30 in, as deep as the garment is long"),
        (
            "facing.strips = 3",
            'facing: strips is for bias; write cut = "bias strips", or take it out',
        ),
        (
            'facing.strips = 3\nfacing.cut = "continuous bias"',
            'facing: strips is for strips cut singly; write cut = "bias strips", or take it out',
        ),
        (
            'facing.strips = 1\nfacing.cut = "bias strips"',
            "facing.strips is 1, and each would be 123 5/8 in long on the bias, where the cloth",
        ),
        (
            'facing.strips = 60\nfacing.cut = "bias strips"',
            "facing.strips is 60, and each would be",
        ),
        (
            'facing.across = "61 in"\nfacing.cut = "bias rectangle"',
            "facing.across is 61 in, wider than the 60 in that the cloth 'main' gives",
        ),
        (
            'facing.across = "1 in"\nfacing.cut = "continuous bias"',
            "facing: a rectangle 1 in across is too narrow for continuous bias",
        ),
        (
            'facing.cut = "bias"',
            "facing.cut: 'bias' is not among the ways; write one of \"shaped\"",
        ),
        ('facing.cut = ["shaped", "shaped"]', "facing.cut: ['shaped', 'shaped'] is empty or names"),
        ('hem = "own hem"\nfacing.depth = "3 in"', 'hem is "own hem", but there is a facing too'),
        ('hem = "none"\ntake_up = "1 in"', 'take_up is given, but hem is "none"; take one out'),
        ('binding.cut_width = "1 in"', "binding: cut_width is for a binding that is cut; write"),
        (
            'binding.cut_width = "1 in"\nbinding.width = "1 in"\nbinding.cut = "bias strips"',
            "binding.cut_width is 1 in, too narrow to show 1 in on both sides",
        ),
        ('facing.cloth = "silk"', "facing.cloth names the cloth 'silk', but the file has only"),
    ],
)
def test_what_cannot_be_sewn_is_refused_in_a_sentence(more: str, said: str) -> None:
    assert f"a.toml: garment.skirt.{said}" in refused(skirt(more))


FOLDED = ('[cloth.main]\nwidth = "60 in"', '[cloth.main]\nwidth = "60 in"\nfolded = true')


@pytest.mark.parametrize("part", ["facing", "binding"])
def test_several_bias_strips_are_not_asked_of_folded_cloth(part: str) -> None:
    text = skirt(f'{part}.cut = "bias strips"').replace(*FOLDED)
    told = refused(text)
    assert f"a.toml: garment.skirt.{part}.cut is 'bias strips', and the " in told
    for remedy in (f'write {part}.cut = "bias rectangle" or "continuous bias"', f"{part}.cloth"):
        assert remedy in told
    # Of two cloths the one that lies open gives them, and the remedies named can be followed.
    (draft,) = read_drafts(text + f'\n{part}.cloth = ["main", "lining"]')
    (strip,) = [piece for piece in draft.pieces if piece.grain is Grain.BIAS]
    assert (strip.cloth, strip.also) == ("lining", ())
    for cut in (RECTANGLE, CONTINUOUS):
        assert read_drafts(skirt(f'{part}.cut = "{cut}"').replace(*FOLDED))


def test_one_bias_strip_on_folded_cloth_lies_between_selvedge_and_fold() -> None:
    order = order_on(140 * CM, folded=True)
    (piece,) = bias(order, Bias("hem", "strip", 90 * CM, 2 * CM, 0, False), STRIPS, None).pieces
    assert piece.count == 1
    assert min(piece.laid(*way).box.across for way in piece.ways(False)) <= 70 * CM
    # A strip of 70 cm x sqrt 2 is the longest there.
    with pytest.raises(BadInput, match="the 2 strips must lean one way"):
        bias(order, Bias("hem", "strip", 100 * CM, 2 * CM, 0, False), STRIPS, None)


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
    assert made.figures[1].length == slant


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
        read_drafts(skirt(f'binding.cut = "continuous bias"\n{across}'))[0].garment
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
