"""Sharing out: strips pieced freely and pieces that several cloths could give."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import combinations_with_replacement, product
from random import Random

import pytest
from rules_oracle import shortest
from strategies import STRAIGHT

from marker import referee
from marker.cloth import Cloth
from marker.errors import CannotLay
from marker.geometry import Rect
from marker.lay import Mode
from marker.piece import Grain, Mark, MarkKind, Piece, Pieced
from marker.referee.strips import segment_faults
from marker.solver import solve
from marker.solver.share import out as share
from marker.solver.share.level import level
from marker.solver.share.model import Segment, Shares
from marker.solver.share.out import Shared, share_out
from marker.units import CM, INCH, MM

SEAM = CM


def strip(total: int, cloth: str, *also: str, depth: int = 17 * CM, seam: int = SEAM,
          least: int = 20 * CM, most: int = 8, pitch: int = 0,
          grain: Grain = Grain.EITHER) -> Piece:  # fmt: skip
    """A facing to be pieced, with the marks of its joins and its hem."""
    marks = (
        Mark(MarkKind.SEAM, "join", seam, 0, seam, depth),
        Mark(MarkKind.SEAM, "join", total - seam, 0, total - seam, depth),
        Mark(MarkKind.HEM, "hem seam", 0, seam, total, seam),
    )
    pieced = Pieced("skirt/facing", total, seam, least, most, pitch)
    return Piece("", "facing strip", total, depth, 1, cloth, grain=grain, marks=marks,
                 pieced=pieced, also=also)  # fmt: skip


def scrap(key: str, width: int, length: int) -> Cloth:
    return Cloth(key, f"scrap {key}", width=width, step=CM, length=length)


def shared(
    cloths: Sequence[Cloth], pieces: Sequence[Piece], mode: Mode = Mode.TEAR, iterations: int = 30
) -> Shared:
    """Shares by count that keep every promise: settled, long enough, and laid on each cloth."""
    by_key = {cloth.key: cloth for cloth in cloths}
    found = share_out(by_key, pieces, dict.fromkeys(by_key, mode), iterations=iterations)
    assert all(not piece.also for piece in found.pieces)
    assert list(segment_faults(found.pieces)) == []
    for piece in pieces:
        if piece.pieced is not None:
            own = [made for made in found.pieces if made.pieced == piece.pieced]
            count = sum(made.count for made in own)
            joined = sum(made.length * made.count for made in own)
            assert joined - 2 * piece.pieced.seam * (count - 1) >= piece.pieced.total
            assert count <= piece.pieced.most
    for lay in lays(by_key, found, mode):
        assert referee.findings(lay) == ()
    return found


def lays(cloths: Mapping[str, Cloth], found: Shared, mode: Mode) -> Iterator[object]:
    lettered = [replace(piece, letter=f"P{at}") for at, piece in enumerate(found.pieces)]
    for key, cloth in cloths.items():
        own = [piece for piece in lettered if piece.cloth == key]
        if own:
            yield solve(cloth, own, mode=mode, iterations=20)


def segments(found: Shared) -> list[tuple[str, int, int]]:
    """(cloth, length, count) of a strip's segments, in order."""
    return sorted((p.cloth, p.length, p.count) for p in found.pieces if p.pieced)


def test_a_facing_is_pieced_from_three_scraps() -> None:
    # 332 and a seam pair for each join: 4 x 84.5 = 338 = 332 + 6; 3 would have to be 112 each.
    cloths = [
        scrap("a", 60 * CM, 70 * CM),
        scrap("b", 90 * CM, 40 * CM),
        scrap("c", 110 * CM, 35 * CM),
    ]
    found = shared(cloths, [strip(332 * CM, "a", "b", "c")])
    assert sum(count for _, _, count in segments(found)) == 4
    (sentence,) = found.sentences
    assert "pieced from 4 strips of 84.5 cm" in sentence
    assert "with 3, cut to whole millimetres, it was proved not to fit" in sentence


def test_segments_a_step_apart_on_one_cloth_are_made_alike() -> None:
    """2 x 73.4 + 73.2 as well as 73.4 + 2 x 73.3 make 220, and only the first needs no sliver."""
    pieced = strip(274 * CM, "a", "b", "c").pieced
    assert pieced
    found = [Segment("b", 734 * MM), Segment("b", 733 * MM), Segment("c", 733 * MM)]
    assert level(found, pieced) == (
        Segment("b", 734 * MM), Segment("b", 734 * MM), Segment("c", 732 * MM),
    )  # fmt: skip
    whole = [*found, Segment("a", 600 * MM)]
    assert sum(each.length for each in level(whole, pieced)) == 2800 * MM
    # None is made shorter than the least, none is let out by much, and pitches are kept.
    assert level(found[:2], pieced) == (Segment("b", 734 * MM),) * 2
    least = replace(pieced, least=733 * MM)
    assert level(found, least)[2] == Segment("c", 733 * MM)
    assert level(found, replace(pieced, pitch=40 * CM)) == tuple(found)
    far = [Segment("b", 734 * MM), Segment("b", 700 * MM)]
    assert level(far, pieced) == tuple(far)


def test_levelled_segments_are_taken_only_where_they_fit(monkeypatch: pytest.MonkeyPatch) -> None:
    """Side by side on one scrap; on another two end to end that fill it but for 0.5 mm."""
    uneven = Segment("b", 734 * MM), Segment("b", 733 * MM)
    piece = strip(uneven[0].length + uneven[1].length - 2 * SEAM, "b")
    for width, length, fits in ((40 * CM, 80 * CM, True), (17 * CM, 1467 * MM + MM // 2, False)):
        cloths = {"b": scrap("b", width, length)}
        tried = share.Tried(Shares({}, {0: uneven}), (0, 0, 2, MM))
        monkeypatch.setattr(share, "_better", lambda *_, tried=tried: tried)
        found = share_out(cloths, [piece], {"b": Mode.TEAR}, iterations=10)
        assert len(segments(found)) == (1 if fits else 2)
        monkeypatch.undo()


def test_marks_keep_their_distance_to_either_end() -> None:
    found = shared([scrap("a", 40 * CM, 120 * CM)], [strip(200 * CM, "a")], iterations=20)
    for piece in found.pieces:
        joins = [(m.u0, m.u1) for m in piece.marks if m.kind is MarkKind.SEAM]
        assert joins == [(SEAM, SEAM), (piece.length - SEAM, piece.length - SEAM)]
        (hem,) = [m for m in piece.marks if m.kind is MarkKind.HEM]
        assert (hem.u0, hem.u1) == (0, piece.length)


def test_joins_that_meet_seams_are_whole_pitches_apart() -> None:
    cloths = [scrap("a", 60 * CM, 90 * CM), scrap("b", 40 * CM, 90 * CM)]
    found = shared(cloths, [strip(242 * CM, "a", "b", pitch=40 * CM)])
    assert sum((length - 2 * SEAM) * count for _, length, count in segments(found)) >= 240 * CM
    assert {(length - 2 * SEAM) % (40 * CM) for _, length, _ in segments(found)} == {0}


@pytest.mark.parametrize(("depth", "most"), [(20, 4), (17, 12)])
def test_unequal_scraps_are_mixed_for_the_fewest_joins(depth: int, most: int) -> None:
    """A segment of 20 by 20 cm lies one way, a longer one two: 2 x 82 along, 2 x 60 across.

    They make 284 cm, which is 278 and three joins of 2 cm; 3 give no more than 90 + 90 + 60.
    Of 12 possible segments the first answer takes long, and nothing is bought that it could better.
    """
    cloths = [scrap("a", 40 * CM, 90 * CM), scrap("b", 60 * CM, 50 * CM)]
    piece = strip(278 * CM, "a", "b", depth=depth * CM, least=20 * CM, most=most)
    found = shared(cloths, [piece], iterations=5)
    assert {cloth for cloth, _, _ in segments(found)} == {"a", "b"}
    if most == 4:
        assert segments(found) == [("a", 82 * CM, 2), ("b", 60 * CM, 2)]


def test_baldts_ruffle_strips() -> None:
    # Baldt, Clothing for Women (1916): strips = ruffle width / cloth width up to the next whole;
    # length of cloth = depth x strips. 130 in of ruffle, 36 in cloth, 6 in deep: 4 strips, 24 in.
    cloth = Cloth("c", "lawn", width=36 * INCH, step=INCH)
    ruffle = strip(130 * INCH, "c", depth=6 * INCH, seam=0, least=6 * INCH, grain=Grain.ACROSS)
    found = shared([cloth], [ruffle], iterations=8)
    assert sum(piece.count for piece in found.pieces) == 4
    assert solve(cloth, [replace(p, letter=f"P{at}") for at, p in enumerate(found.pieces)],
                 iterations=10).length == 24 * INCH  # fmt: skip


def test_a_scrap_saves_a_cutting_step_of_the_bolt() -> None:
    bolt = Cloth("main", "linen", width=100 * CM, step=50 * CM)
    panel = Piece("", "panel", 100 * CM, 100 * CM, 1, "main")
    pocket = Piece("", "pocket", 30 * CM, 25 * CM, 2, "main", also=("a",))
    found = shared([bolt, scrap("a", 30 * CM, 60 * CM)], [panel, pocket], iterations=15)
    assert [(p.name, p.cloth, p.count) for p in found.pieces] == [
        ("panel", "main", 1), ("pocket", "a", 2),
    ]  # fmt: skip
    assert found.sentences == ("The pocket is cut from scrap a.",)


def test_copies_part_between_cloths_where_one_holds_but_some() -> None:
    cloths = [scrap("a", 30 * CM, 40 * CM), scrap("b", 30 * CM, 65 * CM)]
    pocket = Piece("", "pocket", 30 * CM, 25 * CM, 3, "a", grain=Grain.ACROSS, also=("b",))
    found = shared(cloths, [pocket], iterations=15)
    assert [(p.cloth, p.count) for p in found.pieces] == [("a", 1), ("b", 2)]
    assert found.sentences == ("Of the pockets, 1 from scrap a and 2 from scrap b are cut.",)


def test_torn_shares_can_be_torn_and_cut_ones_need_not() -> None:
    # 7 x 7 holds the pinwheel of four for shears only; for tears one must go elsewhere.
    square = scrap("a", 7 * CM, 7 * CM)
    blade = Piece("", "sail", 4 * CM, 3 * CM, 4, "a", grain=Grain.EITHER, also=("b",))
    hub = Piece("", "hub", CM, CM, 1, "a")
    shared([square, scrap("b", 2 * CM, 2 * CM)], [blade, hub], Mode.SHEARS)
    with pytest.raises(CannotLay, match="can't hold"):
        shared([square, scrap("b", 2 * CM, 2 * CM)], [blade, hub], Mode.TEAR)
    found = shared([square, scrap("b", 3 * CM, 4 * CM)], [blade, hub], Mode.TEAR)
    assert [(p.name, p.cloth, p.count) for p in found.pieces] == [
        ("sail", "a", 3), ("sail", "b", 1), ("hub", "a", 1),
    ]  # fmt: skip


def test_pieces_that_fit_nowhere_are_refused() -> None:
    with pytest.raises(CannotLay, match="can't hold"):
        shared([scrap("a", 20 * CM, 60 * CM)], [strip(300 * CM, "a")])


def test_a_piece_that_no_cloth_has_room_for_is_named() -> None:
    cloths = [scrap("a", 30 * CM, 40 * CM), scrap("b", 20 * CM, 50 * CM)]
    band = Piece("", "band", 80 * CM, 60 * CM, 1, "a", Grain.EITHER, also=("b",))
    with pytest.raises(CannotLay, match="band finds no room on any cloth that may give it"):
        shared(cloths, [band])


@pytest.mark.slow
def test_strips_start_from_the_bolt_where_a_scrap_holds_but_some() -> None:
    # A nap lets strips lie only across: three of a third from a bolt 40 wide, or one scrap's few
    bolt = Cloth("bolt", "bolt", width=40 * CM, step=10 * CM, one_way=True)
    small = scrap("small", 60 * CM, 40 * CM)
    one = strip(90 * CM, "small", "bolt", depth=15 * CM)
    assert one.pieced is not None
    many = [replace(one, pieced=replace(one.pieced, strip=f"{at}/facing")) for at in range(4)]
    found = shared([small, bolt], many, iterations=3)
    assert {piece.cloth for piece in found.pieces} >= {"bolt"}


def test_flaws_and_fixed_pieces_take_their_room() -> None:
    flawed = replace(scrap("a", 20 * CM, 100 * CM), flaws=(Rect(45 * CM, 0, 55 * CM, 20 * CM),))
    found = shared([flawed], [strip(80 * CM, "a", least=10 * CM)], iterations=20)
    assert sum(count for _, _, count in segments(found)) == 2
    plain = shared([scrap("a", 20 * CM, 100 * CM)], [strip(80 * CM, "a", least=10 * CM)])
    assert plain.sentences == ("The facing is cut in one length from scrap a.",)


@pytest.mark.parametrize("seed", range(6))
def test_free_strips_take_no_more_than_equal_ones(seed: int) -> None:
    dice = Random(seed)
    bolt = Cloth("c", "linen", width=dice.randint(80, 150) * CM, step=dice.choice((10, 25)) * CM)
    panel = Piece("", "panel", dice.randint(60, 110) * CM, dice.randint(50, 75) * CM, 3, "c")
    total = 3 * panel.breadth
    free = shared([bolt], [panel, strip(total, "c")], iterations=15)
    (taken,) = lays({"c": bolt}, free, Mode.TEAR)
    for count in (2, 3, 4):
        length = -(-(total + 2 * SEAM * (count - 1)) // count // MM) * MM
        fixed = replace(strip(total, "c"), length=length, count=count, pieced=None)
        try:
            lay = solve(
                bolt, [replace(panel, letter="A"), replace(fixed, letter="B")], iterations=20
            )
        except CannotLay:
            continue
        assert taken.buy <= lay.buy  # type: ignore[attr-defined]


def fewest(cloths: Sequence[Cloth], piece: Piece, unit: int) -> int | None:
    """The fewest segments, by trying all lengths and all ways to share them out; sizes in mm."""
    pieced = piece.pieced
    assert pieced is not None
    small = [replace(c, width=c.width // unit, length=c.length // unit) for c in cloths]
    for count in range(1, pieced.most + 1):
        lengths = range(pieced.least // unit, pieced.total // unit + 1)
        for chosen in combinations_with_replacement(lengths, count):
            joined = sum(chosen) - 2 * pieced.seam // unit * (count - 1)
            if joined != pieced.total // unit:
                continue
            for where in product(range(len(small)), repeat=count):
                lots = [[n for n, at in zip(chosen, where, strict=True) if at == c]
                        for c in range(len(small))]  # fmt: skip
                if all(_holds(c, piece, lot, unit) for c, lot in zip(small, lots, strict=True)):
                    return count
    return None


def _holds(cloth: Cloth, piece: Piece, lengths: Sequence[int], unit: int) -> bool:
    own = [
        Piece(f"{at}", "s", length, piece.breadth // unit, 1, cloth.key, grain=piece.grain)
        for at, length in enumerate(lengths)
    ]
    return not own or shortest(cloth, own, Mode.SHEARS, cloth.length) is not None


@pytest.mark.parametrize("seed", range(12))
def test_the_fewest_segments_are_found(seed: int) -> None:
    dice = Random(seed)
    cloths = [scrap(key, dice.randint(2, 5) * MM, dice.randint(2, 5) * MM) for key in "ab"]
    piece = strip(
        dice.randint(4, 9) * MM, "a", "b", depth=dice.randint(1, 2) * MM,
        seam=0 if dice.random() < 0.5 else MM // 2, least=2 * MM, most=4,
        grain=dice.choice(STRAIGHT),
    )  # fmt: skip
    best = fewest(cloths, piece, MM)
    try:
        found = shared(cloths, [piece], Mode.SHEARS, iterations=20)
    except CannotLay:
        assert best is None
    else:
        assert sum(count for _, _, count in segments(found)) == best


def test_many_pieces_take_what_they_can_from_scraps_beside_a_crowded_bolt(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    # As if the four panels and strips were too many to be settled as one question.
    monkeypatch.setattr(share, "MOST_COPIES", 5)
    monkeypatch.setattr(share, "MOST_BESIDE", 3)
    bolt = Cloth("main", "linen", width=150 * CM, step=10 * CM, selvedge=CM)
    pieces = [Piece("", "panel", 90 * CM, 148 * CM, 4, "main")]
    for at, also in enumerate((("a", "b"), ("a", "b"), ())):
        facing = strip(140 * CM, "main", *also)
        assert facing.pieced is not None
        pieced = replace(facing.pieced, strip=f"{at}/facing")
        pieces.append(replace(facing, pieced=pieced, garment=f"skirt {at}"))
    found = shared([bolt, scrap("a", 40 * CM, 75 * CM), scrap("b", 40 * CM, 75 * CM)], pieces)
    # A strip of 140 fills a row of 148 alone, and two of 71 come out of either scrap.
    given = {p.garment for p in found.pieces if p.cloth != "main"}
    assert given == {"skirt 0", "skirt 1"}
    assert len(found.sentences) == 3
    assert not any("proved" in sentence for sentence in found.sentences)
