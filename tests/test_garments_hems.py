"""Hems of curved garments: own hems, shaped and bias facings, and bias bindings."""

from __future__ import annotations

import math

import pytest
import shapely
from curved_cases import figure, hem_case, named, read_drafts, refused

from marker.garments.bias_keys import CONTINUOUS, CUTS, RECTANGLE
from marker.geometry import Arc
from marker.piece import Grain, MarkKind, Piece
from marker.units import INCH, MM

ROUND = (28 + 30 * math.pi) * INCH


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
    (draft,) = read_drafts(hem_case('facing.depth = "3 in"', kind, keys))
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
    (draft,) = read_drafts(hem_case('facing.depth = "3 in"'))
    inner = (28 + (30 - 3) * math.pi) * INCH
    assert figure(draft, "upper edge of the shaped facing") == pytest.approx(inner, abs=1)


def test_a_facing_may_come_from_another_cloth() -> None:
    (draft,) = read_drafts(hem_case('panels = 4\nfacing.cloth = "lining"', keys='circle = "half"'))
    assert (named(draft, "panel").cloth, named(draft, "panel facing").cloth) == ("main", "lining")
    said = refused(hem_case('facing.cloth = "lining"'))
    assert "garment.skirt.facing: the panel facing takes 56 1/2 in of the width" in said


@pytest.mark.parametrize("cut", CUTS)
def test_bias_may_come_from_whichever_cloth_suits(cut: str) -> None:
    (draft,) = read_drafts(hem_case(f'facing.cut = "{cut}"\nfacing.cloth = ["main", "lining"]'))
    piece = draft.pieces[1]
    assert (piece.cloth, piece.also) == ("main", ("lining",))
    # Cut for the narrower of the two, 36 in.
    widest = 36 * INCH if piece.outline is None else 36 * INCH * math.sqrt(2) + piece.breadth
    assert max(piece.breadth, piece.length) <= widest


# --- bias facings and bindings ------------------------------------------------------------


def test_every_way_to_face_is_drafted_in_the_order_named() -> None:
    ways = '["bias strips", "shaped", "bias rectangle", "continuous bias"]'
    drafts = read_drafts(hem_case(f"facing.cut = {ways}"))
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
    (draft,) = read_drafts(hem_case('facing.cut = "bias strips"\nfacing.depth = "3 in"'))
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
    (draft,) = read_drafts(hem_case('facing.cut = "bias strips"', "cape", keys))
    strip = named(draft, "bias facing strip")
    edge = strip.length - strip.breadth
    joined = strip.count * edge - (strip.count - 1) * math.sqrt(2) * INCH
    hem = (15 + 30 * math.pi) * INCH
    assert hem + 2 * INCH <= joined <= hem + 2 * INCH + strip.count * INCH / 8
    assert "1 join on the straight thread: right sides together" in " ".join(draft.garment.advice)


def test_a_bound_hem_is_cut_off_at_the_hem_line() -> None:
    (draft,) = read_drafts(hem_case('binding.lap = "1 in"\nbinding.width = "1/2 in"'))
    (item,) = (found for found in draft.garment.notions if found.length)
    assert (item.name, item.width) == ("hem binding", INCH // 2)
    assert item.length == pytest.approx(ROUND + INCH, abs=1)
    assert draft.garment.cut_length == int(30.5 * INCH)
    assert not [m for m in named(draft, "panel").marks if m.kind is MarkKind.HEM]


def test_a_cut_binding_is_four_times_as_wide_as_it_shows() -> None:
    # four times the finished width: common practice, no source
    (draft,) = read_drafts(hem_case('binding.width = "1/2 in"\nbinding.cut = "bias strips"'))
    strip = named(draft, "hem binding strip")
    assert strip.breadth == 2 * INCH and not any(item.length for item in draft.garment.notions)
    assert sorted(m.v0 for m in strip.marks if m.kind is MarkKind.FOLD) == [
        INCH // 2,
        INCH,
        3 * INCH // 2,
    ]
    (own,) = read_drafts(hem_case('binding.cut_width = "1 3/4 in"\nbinding.cut = "bias strips"'))
    assert named(own, "hem binding strip").breadth == 7 * INCH // 4


def test_several_numbers_of_strips_are_ways_of_their_own() -> None:
    text = hem_case('facing.cut = ["shaped", "bias strips"]\nfacing.strips = [3, 6]')
    drafts = read_drafts(text)
    ways = ["shaped facing", "facing of 3 bias strips", "facing of 6 bias strips"]
    assert [draft.way for draft in drafts] == ways
    assert [draft.pieces[1].count for draft in drafts] == [2, 3, 6]
    (one,) = read_drafts(hem_case('facing.cut = "bias strips"\nfacing.strips = 4'))
    assert (one.way, named(one, "bias facing strip").count) == ("", 4)


def test_a_cape_s_binding_is_open_and_laps_at_the_front() -> None:
    keys = 'circle = "half"\npanels = 2\nlength = "30 in"'
    (draft,) = read_drafts(
        hem_case('binding.cut = "bias strips"\nbinding.lap = "2 in"', "cape", keys)
    )
    strip = named(draft, "hem binding strip")
    joined = strip.count * (strip.length - strip.breadth)
    joined -= (strip.count - 1) * math.sqrt(2) * INCH / 2
    hem = (15 + 30 * math.pi) * INCH
    assert hem + 2 * INCH <= joined <= hem + 2 * INCH + strip.count * INCH / 8


@pytest.mark.parametrize("cut", ["shaped", "bias strips"])
def test_the_hem_s_seam_and_the_upper_edge_keep_their_own_widths(cut: str) -> None:
    text = hem_case(f'take_up = "3/4 in"\nfacing.top = "1/4 in"\nfacing.cut = "{cut}"')
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
        (draft,) = read_drafts(hem_case(f'hem = "{hem}"', keys=keys))
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
    text = hem_case(
        'facing.cut = ["shaped", "bias strips"]\nbinding.cut = ["bought", "continuous bias"]'
    )
    assert [draft.way for draft in read_drafts(text)] == [
        "shaped facing, bought binding",
        "shaped facing, binding of continuous bias",
        "facing of bias strips, bought binding",
        "facing of bias strips, binding of continuous bias",
    ]


def test_an_own_hem_says_how_much_is_eased_in() -> None:
    (draft,) = read_drafts(hem_case('take_up = "1 in"'))
    # Below the hem line it is pi in longer than there, and sewn where it is pi in shorter.
    assert "The hem's cut edge is 6 1/4 in longer than the place" in " ".join(draft.garment.advice)
    keys = 'gores.round = "110 in"\ngores.count = 12\ntake_up = "30 in"'
    said = refused(hem_case("", "gored skirt", keys))
    assert "garment.skirt.take_up is 30 in, as deep as the garment is long" in said
    (draft,) = read_drafts(hem_case('hem = "none"'))
    assert "hem's cut edge" not in " ".join(draft.garment.advice)


def test_kept_selvedges_that_could_show_are_refused() -> None:
    text = hem_case('hem = "none"').replace(
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
    assert f"a.toml: garment.skirt.{said}" in refused(hem_case(more))


FOLDED = ('[cloth.main]\nwidth = "60 in"', '[cloth.main]\nwidth = "60 in"\nfolded = true')


@pytest.mark.parametrize("part", ["facing", "binding"])
def test_several_bias_strips_are_not_asked_of_folded_cloth(part: str) -> None:
    text = hem_case(f'{part}.cut = "bias strips"').replace(*FOLDED)
    told = refused(text)
    assert f"a.toml: garment.skirt.{part}.cut is 'bias strips', and the " in told
    for remedy in (f'write {part}.cut = "bias rectangle" or "continuous bias"', f"{part}.cloth"):
        assert remedy in told
    # Of two cloths the one that lies open gives them, and the remedies named can be followed.
    (draft,) = read_drafts(text + f'\n{part}.cloth = ["main", "lining"]')
    (strip,) = [piece for piece in draft.pieces if piece.grain is Grain.BIAS]
    assert (strip.cloth, strip.also) == ("lining", ())
    for cut in (RECTANGLE, CONTINUOUS):
        assert read_drafts(hem_case(f'{part}.cut = "{cut}"').replace(*FOLDED))
