"""Lays on cloth laid folded: two layers, mirror images, and pieces on the fold."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import pytest
import shaped_lays
from test_nested_lays import check, seen

from marker import referee
from marker.cloth import Repeat
from marker.errors import BadInput, CannotLay
from marker.geometry import Outline, Polygon, Rect
from marker.geometry.shapes import bias_strip, facing, gore, rectangle
from marker.lay import Lay, Mode
from marker.piece import AtSelvedge, Grain, Match, Piece, Side, Wise
from marker.solver import solve, usual_mode
from marker.solver.copies import ways_of
from marker.solver.layers import _below, _image, _pair, mirror_image
from marker.solver.nest import ShapeRule
from marker.units import CM, MM

FOLD = 70 * CM


def folded(pieces: tuple[Piece, ...], **more: object) -> Lay:
    asked = shaped_lays.cloth(folded=True, **more)
    return solve(asked, pieces, iterations=2, seed=3)


def on_fold(lay: Lay) -> list[str]:
    known = {piece.letter: piece for piece in lay.pieces}
    boxes = {spot.id: spot.rect(known[spot.letter]) for spot in lay.placements}
    return [name for name, box in boxes.items() if box.y0 < FOLD < box.y1]


def check_folded(lay: Lay) -> None:
    """Every copy beside the fold has its image across it, but for one of a piece at most."""
    check(lay)
    known = {piece.letter: piece for piece in lay.pieces}
    shapes = {spot.id: seen(spot.polygon(known[spot.letter])) for spot in lay.placements}
    across = on_fold(lay)
    near = [shape for shape in shapes.values() if shape.bounds[3] <= FOLD]
    halved = any(known[name.split("-")[0]].outline is not None for name in across)
    near = near if halved else []
    for one, two in combinations(near, 2):
        # Beside halves, which may each be 0.1 mm out.
        assert one.distance(two) >= MM / 5
    lone: list[str] = []
    for name, shape in shapes.items():
        if name in across:
            assert abs(shape.bounds[1] + shape.bounds[3] - 2 * FOLD) <= 1
            assert known[name.split("-")[0]].folds
            continue
        image = Polygon.of((round(x), 2 * FOLD - round(y)) for x, y in shape.exterior.coords[:-1])
        letter = name.split("-")[0]
        mates = [
            other
            for other, there in shapes.items()
            if other.startswith(f"{letter}-") and there.hausdorff_distance(seen(image)) < MM / 5
        ]
        lone += [name] if not mates else []
        if not mates:
            assert not any(seen(image).intersection(there).area for there in shapes.values())
    assert len({name.split("-")[0] for name in lone}) == len(lone)


def test_odd_gores_lie_on_the_fold_and_pairs_in_two_layers() -> None:
    lay = shaped_lays.folded()
    check_folded(lay)
    assert lay.mode is Mode.SHEARS
    assert sorted(name[0] for name in on_fold(lay)) == ["A", "D"]


def test_even_gores_need_no_fold() -> None:
    lay = folded((shaped_lays.gores(4),))
    check_folded(lay)
    assert not on_fold(lay)


def test_a_mirrored_pair_is_cut_in_one_go() -> None:
    lay = folded((replace(shaped_lays.yoke(), count=4, mirrored=2),))
    check_folded(lay)
    plain, over = (
        sorted(spot.x for spot in lay.placements if spot.flip is flip) for flip in (False, True)
    )
    assert len(plain) == 2
    assert plain == over


def test_what_is_wider_than_half_the_cloth_lies_on_the_fold() -> None:
    panel, edge = shaped_lays.half_circle()
    wide = replace(panel, count=2)
    assert wide.breadth > FOLD
    lay = folded((wide, edge))
    check_folded(lay)
    assert {"F-1", "F-2"} <= set(on_fold(lay))


def test_one_copy_alone_leaves_its_image_empty() -> None:
    """A yoke of which one is cut lies in one layer; nothing else lies where it is cut through."""
    one = replace(shaped_lays.yoke(), count=1, mirrored=0)
    lay = folded((one, shaped_lays.gores(2)))
    check_folded(lay)
    assert not on_fold(lay)
    three = replace(shaped_lays.yoke(), count=3, mirrored=1)
    lay = folded((three,))
    check_folded(lay)
    assert sorted((spot.copy, spot.flip) for spot in lay.placements) == [
        (1, False), (2, False), (3, True),
    ]  # fmt: skip


def test_copies_all_one_way_round_are_refused() -> None:
    with pytest.raises(CannotLay, match=r"cut 4 times as drawn and 0 times turned over.*open"):
        folded((replace(shaped_lays.yoke(), count=4, mirrored=0),))


def test_straight_pieces_have_straight_images() -> None:
    lay = folded((shaped_lays.gores(2), replace(shaped_lays.band(), count=4)))
    check_folded(lay)


def test_straight_pieces_alone_are_cut_from_folded_cloth_too() -> None:
    for count in (3, 4):
        lay = folded((replace(shaped_lays.band(), count=count), shaped_lays.panels(2)))
        assert not referee.findings(lay)


def test_a_straight_piece_alone_in_one_layer_spoils_the_other() -> None:
    """Three bands with an edge at a selvedge: two in one go, and one from one layer."""
    wanted = (AtSelvedge(Side.HIGH),)
    bands = replace(shaped_lays.band(), grain=Grain.ALONG, count=3, selvedges=wanted)
    lay = folded((bands, shaped_lays.panels(1)))
    assert not referee.findings(lay)
    alone = [
        box
        for box in (spot.rect(bands) for spot in lay.placements if spot.letter == "D")
        if Rect(box.x0, 2 * FOLD - box.y1, box.x1, 2 * FOLD - box.y0)
        not in [spot.rect(bands) for spot in lay.placements if spot.letter == "D"]
    ]
    assert len(alone) == 1
    image = Rect(alone[0].x0, 2 * FOLD - alone[0].y1, alone[0].x1, 2 * FOLD - alone[0].y0)
    assert not any(cut.rect.overlaps(image) for cut in lay.offcuts)


def test_straight_pieces_lie_edge_to_edge_in_both_layers() -> None:
    """Nothing is rounded, so nothing is kept apart: 23 cm thrice fill the half of 69 cm."""
    strips = Piece("A", "strip", 50 * CM, 23 * CM, 6, "wool")
    lay = folded((strips,))
    assert lay.length == 50 * CM
    assert not referee.findings(lay)


def test_a_margin_is_kept_on_both_layers_and_at_the_fold() -> None:
    lay = folded((shaped_lays.gores(5), shaped_lays.yoke(), shaped_lays.band()), margin=CM)
    check_folded(lay)


def test_flaws_of_either_layer_are_cleared_by_both() -> None:
    flaws = (Rect(20 * CM, 10 * CM, 26 * CM, 16 * CM), Rect(50 * CM, 100 * CM, 58 * CM, 106 * CM))
    lay = folded((shaped_lays.gores(4), shaped_lays.yoke()), flaws=flaws)
    check_folded(lay)


@pytest.mark.parametrize("y", [10 * CM, 80 * CM])
def test_a_flaw_of_either_layer_holds_off_both(y: int) -> None:
    lay = folded((shaped_lays.gores(2),), flaws=(Rect(0, y, 12 * CM, y + 50 * CM),))
    check_folded(lay)
    assert min(spot.x for spot in lay.placements) >= 12 * CM


def test_half_the_margin_is_kept_from_the_fold() -> None:
    """Two images lie a margin apart across the fold, so that 69 cm hold no more than 68.5."""
    yoke = shaped_lays.yoke()
    for breadth, fits in ((69 * CM, False), (69 * CM - CM // 2 - 1, True)):
        outline = Outline.through([(0, 0), (30 * CM, 0), (20 * CM, breadth), (0, breadth)])
        piece = Piece.shaped("B", "sail", outline, yoke.count, "wool", mirrored=1)
        check_folded(folded((piece,)))
        if fits:
            check_folded(folded((piece,), margin=CM))
        else:
            with pytest.raises(CannotLay, match="from selvedge to fold"):
                folded((piece,), margin=CM)


def test_an_image_a_unit_broader_keeps_off_the_fold() -> None:
    """Turned by 45 degrees a gore's box is rounded up, its image's perhaps a unit further."""
    cloth = shaped_lays.cloth(folded=True)
    broader = 0
    for top in range(100 * MM, 104 * MM, 7):
        piece = Piece.shaped(
            "A", "godet", gore(top, 30 * CM, 30 * CM), 2, "wool", grain=Grain.BIAS, folds=True
        )
        every = ways_of(cloth, piece, ())
        for way in every:
            ruled = replace(way, rule=ShapeRule((0, 9 * CM)))
            kept, image = _pair(cloth, ruled, every)
            assert image is not None
            more = image.outline.box.across - way.outline.box.across
            broader += more > 0
            assert kept.rule.across == (0, 9 * CM - max(0, more))
    assert broader


def test_an_odd_width_of_cloth_folds_too() -> None:
    asked = shaped_lays.cloth(140 * CM + 1, folded=True)
    lay = solve(asked, (shaped_lays.gores(3), shaped_lays.yoke()), iterations=2)
    check(lay)


def test_lengthwise_matches_hold_and_crosswise_ones_are_refused() -> None:
    match = (Match("hem", Wise.LENGTHWISE, 80 * CM, 0),)
    gores = shaped_lays.gores(5, matches=match)
    lay = folded((gores,), repeat=Repeat(9 * CM))
    check_folded(lay)
    match = (Match("side", Wise.CROSSWISE, 0, 0),)
    with pytest.raises(BadInput, match="lay the cloth open"):
        folded((shaped_lays.gores(5, matches=match),), repeat=Repeat(0, 9 * CM))


def test_a_piece_too_wide_for_half_the_cloth_is_named() -> None:
    """What could lie on the fold but for its width is too wide for the whole cloth too."""
    wide = replace(shaped_lays.half_circle()[0], folds=False)
    with pytest.raises(CannotLay, match=r"piece F .*way.* 69 cm from selvedge to fold; lay it op"):
        folded((wide,))
    broad = Piece.shaped("A", "panel", rectangle(90 * CM, 150 * CM), 3, "wool", folds=True)
    with pytest.raises(CannotLay) as found:
        folded((broad,))
    assert str(found.value) == (
        "piece A (panel) needs 150 cm across in the narrowest way in which it may lie, and cloth "
        "'wool' has 138 cm of usable width; take a wider cloth, let the piece lie on another "
        "grain, or join it from narrower ones"
    )


def test_what_to_do_with_strips_on_the_bias_is_told() -> None:
    """A strip is no pair, so nothing is said of pairs."""
    slanted = Outline.through([(0, 0), (60 * CM, 0), (64 * CM, 4 * CM), (4 * CM, 4 * CM)],
                              ("a", "b", "c", "d"))  # fmt: skip
    remedy = "cut it on the bias from a rectangle, take another cloth, or lay the cloth open"
    strips = Piece.shaped("C", "binding", slanted, 2, "wool", grain=Grain.BIAS)
    with pytest.raises(CannotLay, match=rf"piece C \(binding\) is cut 2 times.*{remedy}"):
        folded((strips,))
    facing_strip = Piece.shaped("C", "binding", bias_strip(150 * CM, 4 * CM), 2, "wool",
                                grain=Grain.BIAS)  # fmt: skip
    with pytest.raises(CannotLay, match=r"piece C .*fold; lay it open, cut the piece on the bias"):
        folded((facing_strip,))


def test_even_gores_lie_on_the_fold_where_that_is_shorter() -> None:
    """Three pairs take three lengths of a gore; two on the fold lie beside two pairs."""
    wide = Piece.shaped("A", "gore", gore(12 * CM, 50 * CM, 90 * CM), 6, "wool", folds=True)
    lay = folded((wide,))
    check_folded(lay)
    assert len(on_fold(lay)) == 2
    assert lay.length < 2.5 * wide.length
    assert lay == folded((wide,))


def test_folded_cloth_is_cut_with_shears() -> None:
    cloth = shaped_lays.cloth(folded=True)
    assert usual_mode(cloth, (shaped_lays.panels(),)) is Mode.SHEARS
    assert solve(cloth, (shaped_lays.panels(),), mode=Mode.TEAR, iterations=1).mode is Mode.SHEARS


@pytest.mark.parametrize("turn", [0, 180])
def test_the_half_below_the_fold_holds_half_the_shape(turn: int) -> None:
    panel, _ = shaped_lays.half_circle()
    for piece in (panel, shaped_lays.gores(), facing_of(panel)):
        whole = piece.laid(turn)
        middle = piece.breadth // 2
        half = _below(whole, middle)
        low = seen(Polygon.of_rect(Rect(0, 0, piece.length, middle)))
        assert seen(half).buffer(1e-6).covers(seen(whole).intersection(low))
        assert seen(half).area <= seen(whole).intersection(low).area + 2 * piece.length
        assert half.box.y1 <= middle


def facing_of(panel: Piece) -> Piece:
    assert panel.outline is not None
    return Piece.shaped("G", "facing", facing(panel.outline, "end", 6 * CM), 2, "wool", folds=True)


def test_images_are_turned_over_or_their_own() -> None:
    cloth = shaped_lays.cloth()
    yoke, gore = shaped_lays.yoke(), shaped_lays.gores()
    ways = ways_of(cloth, yoke, ())
    for way in ways:
        image = _image(cloth, way, ways)
        assert image is not None
        assert image.flip is not way.flip
        assert frozenset(image.outline.points) == frozenset(mirror_image(way.outline).points)
    alone = [way for way in ways if not way.flip]
    assert all(_image(cloth, way, alone) is None for way in alone)
    own = ways_of(cloth, gore, ())
    assert all(_image(cloth, way, own) == way for way in own)


def test_symmetric_pieces_on_the_bias_are_images_to_the_unit() -> None:
    """Turned by 45 degrees a gore's box is rounded, so that its image may be a unit broader."""
    for top in range(100 * MM, 104 * MM, 131):
        piece = Piece.shaped(
            "A", "godet", gore(top, 30 * CM, 30 * CM), 2, "wool", grain=Grain.BIAS, folds=True
        )
        check_folded(folded((piece,)))


def test_an_edge_that_must_lie_at_a_selvedge_does_so_in_both_layers() -> None:
    """The image of a yoke has the same edge at the other selvedge; that of a gore has its own
    image's other edge there, and one alone lies in one layer."""
    wanted = (AtSelvedge(Side.LOW),)
    yokes = replace(shaped_lays.yoke(), selvedges=wanted)
    lay = folded((yokes, shaped_lays.gores(2)))
    check_folded(lay)
    with pytest.raises(CannotLay, match="lay the cloth open"):
        folded((shaped_lays.gores(2, selvedges=wanted),))
    check_folded(folded((shaped_lays.gores(2, selvedges=(AtSelvedge(Side.EITHER_SIDE),)),)))
    wide = replace(shaped_lays.panels(2), selvedges=wanted)
    with pytest.raises(CannotLay, match="wants a selvedge at its low"):
        folded((wide,))
