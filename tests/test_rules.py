"""Lays by rules: each rule against every possible lay of small cases, and against the trade."""

from __future__ import annotations

from dataclasses import replace

import pytest
from rules_cases import MOST, asked
from rules_oracle import shortest

from marker import referee
from marker.cloth import Cloth, Repeat
from marker.errors import CannotLay
from marker.geometry import Rect
from marker.lay import Mode, Placement
from marker.piece import AtSelvedge, Grain, Match, Piece, Side, Wise
from marker.solver import stop
from marker.solver.finish import cut, torn
from marker.solver.rules.lay import Ruled, lay_by_rules
from marker.units import CM, INCH

TEAR, SHEARS = Mode.TEAR, Mode.SHEARS
HEM = Match("hem", Wise.LENGTHWISE, 0, 0)


def ruled(
    cloth: Cloth, pieces: list[Piece], mode: Mode, within: int | None = None, iterations: int = 20
) -> Ruled:
    """A lay by count, passed by the referee."""
    found = lay_by_rules(cloth, pieces, mode, within=within, iterations=iterations)
    if found.tree is not None:
        made = torn(cloth, pieces, found.tree, found.length, found.bound, found.bound_by)
    else:
        made = cut(cloth, pieces, found.placements, found.bound, found.bound_by)
    assert referee.findings(made) == ()
    return found


def proved(cloth: Cloth, pieces: list[Piece], mode: Mode) -> int:
    """The shortest length, which must be proved."""
    found = ruled(cloth, pieces, mode)
    assert found.bound == found.length
    return found.length


@pytest.mark.parametrize("mode", Mode)
@pytest.mark.parametrize("seed", range(90))
def test_small_cases_come_out_as_every_lay_tried_says(seed: int, mode: Mode) -> None:
    cloth, pieces = asked(seed)
    most = cloth.length or MOST
    best = shortest(cloth, pieces, mode, most)
    try:
        found = proved(cloth, pieces, mode)
    except CannotLay:
        assert best is None
    else:
        assert best == found or (best is None and found > most)


@pytest.mark.parametrize(
    ("cut_length", "repeat", "pitch"), [(116, 25, 125), (118, 13, 130), (114, 11, 121)]
)
@pytest.mark.parametrize("mode", Mode)
def test_panels_in_one_phase_lie_whole_repeats_apart(
    cut_length: int, repeat: int, pitch: int, mode: Mode
) -> None:
    # Trade examples of a cut length rounded up to whole repeats (secondary copies), in inches: n
    # panels need (n - 1) x pitch + cut.
    cloth = Cloth("c", "check", width=60 * INCH, step=INCH, repeat=Repeat(along=repeat * INCH))
    panel = Piece("A", "panel", cut_length * INCH, 45 * INCH, 3, "c", matches=(HEM,))
    assert proved(cloth, [panel], mode) == (2 * pitch + cut_length) * INCH


@pytest.mark.parametrize("mode", Mode)
def test_what_fits_a_gap_of_the_repeat_takes_no_more_cloth(mode: Mode) -> None:
    # 116 in every 125 leave 9 in between: a band of 8 goes in, one of 10 goes behind.
    cloth = Cloth("c", "check", width=60 * INCH, step=INCH, repeat=Repeat(along=25 * INCH))
    panel = Piece("A", "panel", 116 * INCH, 45 * INCH, 2, "c", matches=(HEM,))
    band = Piece("B", "band", 40 * INCH, 8 * INCH, 1, "c", grain=Grain.ACROSS)
    wide = replace(band, breadth=10 * INCH)
    assert proved(cloth, [panel, band], mode) == 241 * INCH
    assert proved(cloth, [panel, wide], mode) == 251 * INCH


def test_a_stripe_goes_on_across_where_it_left_off() -> None:
    # Stripes 5 apart: breadths of 7 side by side start 10 apart, so three take 27 of the width.
    panel = Piece("A", "panel", 10, 7, 3, "c", matches=(Match("seam", Wise.CROSSWISE, 0, 1),))
    cloth = Cloth("c", "stripes", width=27, step=1, repeat=Repeat(across=5))
    assert proved(cloth, [panel], TEAR) == 10
    assert proved(replace(cloth, width=26), [panel], TEAR) == 20


def test_sets_of_other_names_are_free_of_each_other() -> None:
    cloth = Cloth("c", "check", width=4, step=1, repeat=Repeat(along=5))
    one = Piece("A", "panel", 6, 3, 1, "c", matches=(HEM,))
    two = replace(one, letter="B")
    other = replace(two, matches=(replace(HEM, name="other hem"),))
    assert proved(cloth, [one, two], TEAR) == 16
    assert proved(cloth, [one, other], TEAR) == 12


def test_no_two_pieces_of_a_match_lie_half_a_turn_apart() -> None:
    # Half a turn would bring the second's low edge to the far selvedge, beside the first's.
    low = AtSelvedge(Side.LOW)
    cloth = Cloth("c", "check", width=6, step=1, repeat=Repeat(along=1))
    one = Piece("A", "panel", 5, 3, 1, "c", matches=(HEM,), selvedges=(low,))
    two = replace(one, letter="B")
    assert proved(cloth, [one, two], TEAR) == 10
    assert proved(cloth, [one, replace(two, matches=())], TEAR) == 5
    assert proved(cloth, [one, replace(two, matches=(replace(HEM, name="b"),))], TEAR) == 5


def test_whole_sets_may_lie_half_a_turn_apart() -> None:
    # Both panels of the second set turn their low edges to the far selvedge, beside the first's.
    low = AtSelvedge(Side.LOW)
    cloth = Cloth("c", "check", width=6, step=1, repeat=Repeat(along=5))
    one = Piece("A", "panel", 5, 3, 2, "c", matches=(HEM,), selvedges=(low,))
    two = replace(one, letter="B", matches=(replace(HEM, name="other"),))
    assert proved(cloth, [one, two], TEAR) == 10
    assert proved(cloth, [replace(one, count=4)], TEAR) == 20


@pytest.mark.parametrize("mode", Mode)
def test_pieces_close_round_a_flaw_with_shears_and_not_by_tearing(mode: Mode) -> None:
    cloth = Cloth("c", "flawed", width=7, step=1, flaws=(Rect(3, 3, 4, 4),))
    piece = Piece("A", "panel", 4, 3, 4, "c", grain=Grain.EITHER)
    assert proved(cloth, [piece], mode) == (7 if mode is SHEARS else 8)


@pytest.mark.parametrize(
    ("one_way", "side", "count", "length"),
    [
        (False, Side.LOW, 2, 5),  # the second turns half round, to the far selvedge
        (True, Side.LOW, 2, 10),  # which one-way cloth forbids
        (True, Side.EITHER_SIDE, 2, 5),
        (False, Side.EITHER_SIDE, 3, 10),
    ],
)
def test_wanted_edges_lie_at_a_selvedge(one_way: bool, side: Side, count: int, length: int) -> None:
    cloth = Cloth("c", "border print", width=9, step=1, one_way=one_way)
    piece = Piece("A", "panel", 5, 3, count, "c", selvedges=(AtSelvedge(side),))
    assert proved(cloth, [piece], TEAR) == length


def test_a_selvedge_on_both_sides_takes_the_whole_width() -> None:
    both = (AtSelvedge(Side.LOW, 1), AtSelvedge(Side.HIGH, 1))
    piece = Piece("A", "panel", 5, 7, 2, "c", selvedges=both)
    assert proved(Cloth("c", "border print", width=9, step=1), [piece], TEAR) == 10
    with pytest.raises(CannotLay, match="selvedge"):
        lay_by_rules(Cloth("c", "border print", width=10, step=1), [piece], TEAR, iterations=5)


@pytest.mark.parametrize("mode", Mode)
def test_pieces_lie_clear_of_flaws_on_all_sides(mode: Mode) -> None:
    # The flaw at 4..6 along in the middle leaves 4 before it: one pair fits, one goes behind.
    cloth = Cloth("c", "flawed", width=6, step=1, flaws=(Rect(4, 2, 6, 4),))
    piece = Piece("A", "panel", 4, 3, 4, "c")
    assert proved(cloth, [piece], mode) == 10
    narrow = replace(piece, breadth=2)
    assert proved(cloth, [narrow], mode) == 8


def test_a_flaw_that_hangs_over_the_squared_end_still_counts() -> None:
    cloth = Cloth("c", "flawed", width=6, step=1, squaring=2, flaws=(Rect(-1, 0, 1, 6),))
    assert proved(cloth, [Piece("A", "panel", 4, 6, 1, "c")], TEAR) == 5


def test_a_remnant_too_short_is_refused_with_what_it_would_take() -> None:
    cloth = Cloth("c", "scrap", width=10 * CM, step=CM, length=20 * CM, repeat=Repeat(along=8 * CM))
    piece = Piece("A", "panel", 10 * CM, 6 * CM, 2, "c", matches=(HEM,))
    with pytest.raises(CannotLay, match="at least 26 cm"):
        lay_by_rules(cloth, [piece], TEAR, iterations=20)
    assert proved(replace(cloth, length=26 * CM), [piece], TEAR) == 26 * CM


@pytest.mark.parametrize("mode", Mode)
def test_a_length_is_found_to_be_enough_or_refuted(mode: Mode) -> None:
    cloth = Cloth("c", "check", width=60 * INCH, step=INCH, repeat=Repeat(along=25 * INCH))
    panels = [Piece("A", "panel", 116 * INCH, 45 * INCH, 3, "c", matches=(HEM,))]
    enough = ruled(cloth, panels, mode, within=366 * INCH)
    assert enough.length <= 366 * INCH
    refuted = ruled(cloth, panels, mode, within=366 * INCH - 1)
    assert refuted.bound > 366 * INCH - 1


def test_a_pinwheel_is_cut_with_shears_and_not_torn() -> None:
    # Four pieces round a fifth fill 7 x 7 for shears; the flaw far off only calls for rules.
    cloth = Cloth("c", "linen", width=7, step=1, flaws=(Rect(90, 0, 91, 1),))
    sizes = ((4, 3), (3, 4), (4, 3), (3, 4), (1, 1))
    pieces = [Piece("ABCDE"[at], "sail", a, b, 1, "c") for at, (a, b) in enumerate(sizes)]
    assert proved(cloth, pieces, SHEARS) == 7
    assert proved(cloth, pieces, TEAR) == 8


def test_a_lay_in_hand_is_taken_up_where_it_keeps_the_rules() -> None:
    cloth = Cloth("c", "flawed", width=6, step=1, flaws=(Rect(4, 2, 6, 4),))
    piece = Piece("A", "panel", 4, 3, 2, "c")
    start = [Placement("A", 1, 7, 0, 0), Placement("A", 2, 11, 3, 180)]
    heard: list[int] = []
    found = lay_by_rules(
        cloth, [piece], TEAR, iterations=20, start=start, progress=lambda a, _: heard.append(a)
    )
    assert found.length == 4
    wrong = [Placement("A", 1, 3, 0, 0), Placement("A", 2, 11, 3, 0)]
    assert lay_by_rules(cloth, [piece], TEAR, iterations=20, start=wrong).length == 4


def test_a_floor_is_kept_and_named() -> None:
    cloth = Cloth("c", "flawed", width=6, step=1, flaws=(Rect(40, 2, 46, 4),))
    found = lay_by_rules(
        cloth, [Piece("A", "panel", 4, 5, 2, "c")], TEAR, iterations=5, floor=8, floor_by="told"
    )
    assert (found.length, found.bound, found.bound_by) == (8, 8, "told")


def test_ctrl_c_keeps_the_best_lay() -> None:
    def interrupt(*_: int) -> None:
        raise KeyboardInterrupt

    cloth = Cloth("c", "check", width=60 * INCH, step=INCH, repeat=Repeat(along=25 * INCH))
    pieces = [Piece("A", "panel", 116 * INCH, 45 * INCH, 3, "c", matches=(HEM,)),
              Piece("B", "band", 40 * INCH, 8 * INCH, 2, "c")]  # fmt: skip
    with stop.listening():
        found = lay_by_rules(cloth, pieces, TEAR, seconds=60, progress=interrupt)
        assert stop.asked()
    assert found.length >= found.bound > 0


def test_phases_that_no_width_holds_are_told_as_impossible() -> None:
    # Points 5 apart in a crosswise repeat of 20 on a cloth 8 wide: both can't be met
    cloth = Cloth("c", "stripe", width=8, step=1, repeat=Repeat(across=20))
    matches = [(Match("m", Wise.CROSSWISE, 0, v),) for v in (0, -9)]
    pieces = [
        Piece(x, "panel", 4, 4, 1, "c", matches=m) for x, m in zip("AB", matches, strict=True)
    ]
    with pytest.raises(CannotLay, match="however long it is"):
        lay_by_rules(cloth, pieces, TEAR, iterations=5)
