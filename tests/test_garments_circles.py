"""Circle skirts and capes: radii, panels, the way they lie, and what is refused."""

from __future__ import annotations

import math

import pytest
from curved_cases import figure, named, read_drafts, refused
from hypothesis import given, settings
from hypothesis import strategies as st

from marker.geometry import Arc
from marker.piece import Grain, MarkKind, Piece
from marker.units import CM, INCH, MM


def circle(keys: str, more: str = "", kind: str = "circle skirt", width: str = "150 in") -> str:
    """A garment cut from a circle: waist 28 in, 30 in long, neck 15 in."""
    return (
        'title = "A circle"\nunits = "in"\n'
        '[wearer.ada]\nwaist = "28 in"\nlength = "30 in"\nneck = "15 in"\n'
        f'[cloth.main]\nwidth = "{width}"\n'
        f'[garment.skirt]\nkind = "{kind}"\nseam = "1/2 in"\n{keys}\n{more}'
    )


def arc(piece: Piece, edge: str) -> Arc:
    """The arc that an edge of a cut piece is."""
    assert piece.outline is not None
    (found,) = [part for part in piece.outline.edge(edge).segments if isinstance(part, Arc)]
    return found


@pytest.mark.parametrize(
    ("part", "radius"),
    [("full", 28 / math.tau), ("half", 28 / math.pi), ("quarter", 2 * 28 / math.pi)],
)
def test_the_radius_of_the_waist(part: str, radius: float) -> None:
    # SOURCES: r = W / 2 pi (full), W / pi (half), 2 W / pi (quarter); W = 28 in.
    (draft,) = read_drafts(circle(f'circle = "{part}"\nhem = "none"\npanels = 2'))
    assert figure(draft, "radius of the waist") / INCH == pytest.approx(radius, abs=1e-3)
    assert figure(draft, "radius of the hem") / INCH == pytest.approx(radius + 30, abs=1e-3)
    piece = named(draft, "panel")
    # The seam allowance is outside: the cut edge is half an inch nearer to the centre.
    assert arc(piece, "start").radius / INCH == pytest.approx(radius - 0.5)
    assert arc(piece, "end").radius / INCH == pytest.approx(radius + 30)
    assert figure(draft, "round the waist") == 28 * INCH


def test_the_hem_of_a_full_circle() -> None:
    # SOURCES: W = 28 in, length 30: r = 4.4563, hem 216.496 in (computed).
    for panels in (2, 4, 8):
        (draft,) = read_drafts(circle(f'circle = "full"\npanels = {panels}'))
        assert draft.garment.round_hem / INCH == pytest.approx(216.496, abs=5e-4)
        assert named(draft, "panel").count == draft.garment.panels == panels


def test_gathers_and_ease_widen_the_waist_of_the_circle() -> None:
    (draft,) = read_drafts(circle('circle = "half"\ngathers = "6 in"\nband.ease = "1 in"'))
    assert figure(draft, "radius of the waist") / INCH == pytest.approx(35 / math.pi, abs=1e-3)
    assert figure(draft, "round the waist") == 29 * INCH
    assert named(draft, "band").length == (29 + 3 + 1) * INCH


def test_as_few_panels_as_lie_within_the_cloth() -> None:
    # A whole half circle, 2 x 34.46 in broad by its middle, and half as much by its edge.
    def count(width: str, grain: str) -> int:
        text = circle(f'circle = "full"\nhem = "none"\ngrain = "{grain}"', width=width)
        return named(read_drafts(text)[0], "panel").count

    assert [count(width, "middle") for width in ("70 in", "68 in", "50 in", "36 in")] == [
        2,
        4,
        4,
        6,
    ]
    assert [count(width, "edge") for width in ("70 in", "36 in", "34 in")] == [2, 2, 6]
    (whole,) = read_drafts(circle('circle = "half"\ngrain = "edge"', width="42 in"))
    assert named(whole, "panel").count == 1
    said = refused(circle('circle = "full"', width="8 in"))
    assert "garment.skirt.panels: the panel takes" in said and "in more panels" in said


def test_on_folded_cloth_a_panel_lies_on_the_fold_or_beside_it() -> None:
    def count(grain: str) -> int:
        text = circle(f'circle = "full"\nhem = "none"\ngrain = "{grain}"', width="50 in")
        text = text.replace('width = "50 in"', 'width = "50 in"\nfolded = true')
        return named(read_drafts(text)[0], "panel").count

    # By its middle it may lie across the fold; by its edge it has 25 in from selvedge to fold.
    assert (count("middle"), count("edge")) == (4, 10)
    text = circle('circle = "full"\npanels = 4\ngrain = "edge"', width="50 in")
    text = text.replace('width = "50 in"', 'width = "50 in"\nfolded = true')
    assert "the cloth 'main' gives beside its fold 25 in; cut the garment in more" in refused(text)


def test_both_ways_to_lie_are_drafted_where_both_are_named() -> None:
    text = circle('circle = "half"\npanels = 2\ngrain = ["edge", "middle"]')
    edge, middle = read_drafts(text)
    assert (edge.way, middle.way) == (
        "panels' edge along the warp",
        "panels' middle along the warp",
    )
    piece = named(edge, "panel")
    assert (piece.grain, piece.mirrored, piece.folds) == (Grain.ALONG, 1, False)
    assert piece.outline is not None
    (low,) = piece.outline.edge("low").segments
    assert low.start[1] == pytest.approx(low.end[1], abs=1e-6)
    piece = named(middle, "panel")
    assert (piece.mirrored, piece.folds) == (0, True)


@settings(max_examples=40, deadline=None)
@given(
    st.sampled_from(["full", "three-quarter", "half", "quarter"]),
    st.integers(2, 9),
    st.sampled_from(["middle", "edge"]),
    st.sampled_from(["circle skirt", "cape"]),
    st.integers(0, 40),
)
def test_marks_lie_on_the_pieces_and_hems_add_up(
    part: str, panels: int, grain: str, kind: str, gathers: int
) -> None:
    keys = f'circle = "{part}"\npanels = {panels}\ngrain = "{grain}"\ngathers = "{gathers} cm"\n'
    length = 'length = "30 in"' if kind == "cape" else ""
    (draft,) = read_drafts(circle(keys + length, kind=kind))
    share = {"full": 1, "three-quarter": 0.75, "half": 0.5, "quarter": 0.25}[part]
    inner = (15 if kind == "cape" else 28) * INCH + gathers * CM
    hem = inner + math.tau * share * 30 * INCH
    assert draft.garment.round_hem == pytest.approx(hem, abs=1)
    shaped = [piece for piece in draft.pieces if piece.outline]
    assert sum(piece.count for piece in shaped) == panels
    for piece in shaped:
        for mark in piece.marks:
            assert 0 <= min(mark.u0, mark.u1) <= max(mark.u0, mark.u1) <= piece.length
            assert 0 <= min(mark.v0, mark.v1) <= max(mark.v0, mark.v1) <= piece.breadth
        if piece.folds and piece.outline:
            low, high = (piece.outline.edge(side).segments[0] for side in ("low", "high"))
            assert low.start[1] + high.end[1] == pytest.approx(piece.breadth, abs=2)
            assert low.end[1] + high.start[1] == pytest.approx(piece.breadth, abs=2)


@pytest.mark.parametrize(
    ("keys", "said"),
    [
        (
            'circle = "full"\npanels = 1',
            "panels is 1, but a whole circle needs a seam for its opening, and in one piece it has "
            "none; write panels = 2 or more",
        ),
        ('circle = "half"\ngrain = "bias"', "grain: 'bias' is not among the ways; write one of"),
        ('circle = "half"\ngrain = []', "grain: [] is empty or names one twice"),
        ('circle = "third"', "circle is 'third'; write 'full', 'three-quarter', 'half' or"),
        ("", "circle is missing; give which part of the circle it is"),
        ('circle = "half"\nopening.length = "30 in"', "opening.length is 30 in, as long as the"),
        ('circle = "half"\npanels = 0', "panels is 0, but"),
        ('circle = "half"\nband.ease = "0 in"\ntape.tie = "9 in"', "band and tape are both given"),
    ],
)
def test_what_cannot_be_cut_is_refused_in_a_sentence(keys: str, said: str) -> None:
    assert f"a.toml: garment.skirt.{said}" in refused(circle(keys))


def test_a_wearer_shorter_somewhere_cuts_the_hem_off_there() -> None:
    text = circle('circle = "half"').replace(
        'length = "30 in"', 'length = "30 in"\nfront = "29 in"'
    )
    (draft,) = read_drafts(text)
    assert "on the bias; cut off besides: front 1 in." in " ".join(draft.garment.advice)
    assert draft.garment.cut_length == int(30 * INCH + 0.5 * INCH + 0.75 * INCH)


def test_the_opening_ends_as_far_below_the_waist_on_either_side_of_its_seam() -> None:
    (draft,) = read_drafts(circle('circle = "half"\npanels = 2\nopening.length = "9 in"'))
    piece = named(draft, "panel")
    low, high = (mark for mark in piece.marks if mark.name.startswith("opening ends"))
    assert low.u1 == pytest.approx(high.u1, abs=2)
    assert low.v1 + high.v1 == pytest.approx(piece.breadth, abs=2)
    # The side runs at 45 degrees to the middle, from the waist's corner 28 / pi from the centre.
    waist = min(mark.u0 for mark in piece.marks if mark.name == "seam" and mark.v0 > mark.v1)
    assert low.u1 - waist == pytest.approx(9 * INCH / math.sqrt(2), abs=INCH / 16)


def test_any_seam_between_panels_that_are_alike_may_hold_the_opening() -> None:
    def told(keys: str) -> str:
        (draft,) = read_drafts(circle(keys + '\nopening.length = "11 in"\nopening.at = "back"'))
        (said,) = [line for line in draft.garment.advice if line.startswith("The opening is")]
        return said

    assert told('circle = "full"') == (
        "The opening is in any one seam, 11 in down from the waist; wear that seam at the back."
    )
    assert told('circle = "half"\npanels = 1') == (
        "The opening is in the one seam, 11 in down from the waist; wear it at the back."
    )


# --- capes --------------------------------------------------------------------------------


def test_a_cape_goes_round_the_neck_and_is_open_in_front() -> None:
    keys = 'circle = "half"\nlength = "32 in"\nfront = "2 in"\nhem = "none"\npanels = {}'
    (one,) = read_drafts(circle(keys.format(1), kind="cape"))
    piece = named(one, "panel")
    assert (piece.edges.start, piece.edges.low, piece.edges.high) == ("neck",) + ("front edge",) * 2
    assert figure(one, "radius of the neck") / INCH == pytest.approx(15 / math.pi, abs=1e-3)
    assert (figure(one, "round the neck"), one.garment.opening) == (15 * INCH, 0)
    # 2 in turned in beyond either front edge of a half circle of radius 15 / pi + 32.
    assert piece.breadth / INCH == pytest.approx(2 * (15 / math.pi + 32), abs=5)
    (two,) = read_drafts(circle(keys.format(2), kind="cape"))
    front = named(two, "front panel")
    assert (front.count, front.mirrored, front.folds) == (2, 1, False)
    (four,) = read_drafts(circle(keys.format(4), kind="cape"))
    assert [(p.name, p.count, p.mirrored) for p in four.pieces[:2]] == [
        ("front panel", 2, 1),
        ("back panel", 2, 0),
    ]
    assert four.garment.panels == 4


def test_the_front_edges_of_a_cape_have_their_own_allowance() -> None:
    keys = 'circle = "half"\nlength = "32 in"\nfront = "2 in"\nhem = "none"\npanels = 2\n'
    (draft,) = read_drafts(circle(keys + 'grain = "edge"', kind="cape"))
    front = named(draft, "front panel")
    seams = [m for m in front.marks if m.kind is MarkKind.SEAM and m.v0 == m.v1]
    # Along the warp, the front edge's line lies 2 in inside the cut edge.
    assert [mark.v0 for mark in seams] == [2 * INCH]
    assert front.edges.low == "front edge"


def test_a_neck_band_meets_edge_to_edge_and_a_tape_ties() -> None:
    keys = 'circle = "half"\nlength = "32 in"\n'
    (draft,) = read_drafts(circle(keys, kind="cape"))
    assert named(draft, "band").length == 16 * INCH
    (draft,) = read_drafts(circle(keys + 'band.underlap = "1 in"', kind="cape"))
    assert named(draft, "band").length == 17 * INCH
    (draft,) = read_drafts(circle(keys + 'tape.tie = "12 in"', kind="cape"))
    assert draft.garment.notions[0].length == (15 + 24) * INCH
    assert not [piece for piece in draft.pieces if piece.name == "band"]


def test_a_cape_asks_for_the_neck() -> None:
    text = circle('circle = "half"\nlength = "32 in"', kind="cape").replace('neck = "15 in"', "")
    assert "a.toml: wearer.ada.neck is missing; give the girth at the base" in refused(text)
    assert "length is missing; give the length from the neck to the hem" in refused(
        circle('circle = "half"', kind="cape")
    )


def test_in_centimetres_allowances_and_hems_are_usual_in_centimetres() -> None:
    text = circle('circle = "quarter"').replace('seam = "1/2 in"\n', "").replace('"in"', '"cm"')
    (draft,) = read_drafts(text)
    assert draft.garment.cut_length == 30 * INCH + 10 * MM + 20 * MM
