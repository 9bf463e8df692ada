"""The tear solver against an exhaustive oracle, the referee, and facts of the trade."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from oracle import shortest
from strategies import asks

from marker.cloth import Cloth
from marker.errors import BadInput, CannotLay
from marker.lay import Lay, Mode, Proof
from marker.piece import Grain, Piece
from marker.referee import findings
from marker.solver import solve
from marker.solver.tear import search
from marker.units import CM, INCH, YARD

Ask = tuple[Cloth, tuple[Piece, ...]]
STEPS = {"in": YARD // 8, "cm": 10 * CM}


def cloth(width: int, unit: str = "cm", **more: object) -> Cloth:
    return Cloth(key="c", name="calico", width=width, step=STEPS[unit], **more)  # type: ignore[arg-type]


def piece(letter: str, length: int, breadth: int, count: int = 1, **more: object) -> Piece:
    return Piece(letter, f"piece {letter}", length, breadth, count, "c", **more)  # type: ignore[arg-type]


def lay(ask_cloth: Cloth, *pieces: Piece) -> Lay:
    """Solve by count alone and have the referee pass it."""
    found = solve(ask_cloth, pieces, iterations=20)
    assert findings(found) == ()
    return found


def oracle(ask: Ask) -> int | None:
    """The oracle's answer: each copy by itself, its turns read from the rules of grain."""
    on, pieces = ask
    sizes = []
    for each in pieces:
        turns = {(each.length, each.breadth), (each.breadth, each.length)}
        if each.grain is not Grain.EITHER:
            turns = {(each.length, each.breadth)}
        elif on.one_way:
            upright = each.up == "length"
            turns = {(each.length, each.breadth) if upright else (each.breadth, each.length)}
        if each.grain is Grain.ACROSS:
            turns = {(each.breadth, each.length)}
        sizes += [tuple(sorted(turns))] * each.count
    return shortest(on.usable.across, sizes)


@settings(max_examples=100, derandomize=True, deadline=None)
@given(asks())
def test_small_lays_are_the_shortest_of_all_cut_trees(ask: Ask) -> None:
    found = lay(ask[0], *ask[1])
    assert found.length == found.bound == oracle(ask)
    assert found.proof is Proof.LENGTH


@settings(max_examples=60, derandomize=True, deadline=None)
@given(asks())
def test_no_bound_passes_the_oracle_when_the_search_is_cut_off(ask: Ask) -> None:
    # With no effort allowed the exhaustion proves nothing: the bound is that of the rows.
    best = oracle(ask)
    assert best is not None
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(search, "QUICK", 0)
        patch.setattr(search, "BRIEF", 0)
        found = solve(ask[0], ask[1], iterations=0)
    assert found.bound <= best <= found.length
    assert findings(found) == ()


@settings(max_examples=40, derandomize=True, deadline=None)
@given(asks(most=8))
def test_wider_cloth_never_needs_more(ask: Ask) -> None:
    wider = replace(ask[0], width=ask[0].width + 7 * CM)
    assert lay(wider, *ask[1]).length <= lay(ask[0], *ask[1]).length


@settings(max_examples=40, derandomize=True, deadline=None)
@given(asks(most=8))
def test_a_piece_less_never_needs_more(ask: Ask) -> None:
    whole, fewer = lay(ask[0], *ask[1]), ask[1][1:]
    if fewer:
        assert lay(ask[0], *fewer).length <= whole.length


@settings(max_examples=40, derandomize=True, deadline=None)
@given(asks(most=8))
def test_one_way_cloth_is_never_shorter(ask: Ask) -> None:
    free, bound = replace(ask[0], one_way=False), replace(ask[0], one_way=True)
    assert lay(free, *ask[1]).length <= lay(bound, *ask[1]).length


@pytest.mark.parametrize(
    ("width", "panels", "unit", "panel", "band", "length", "bought"),
    [
        # Common practice, no source: panel 39 + 2 1/2 + 1 = 42 1/2 in; 100 + 6 + 2 = 108 cm.
        (45 * INCH, 3, "in", 85 * INCH // 2, None, 255 * INCH // 2, 29 * YARD // 8),
        (45 * INCH, 3, "in", 85 * INCH // 2, 3 * INCH, 261 * INCH // 2, 29 * YARD // 8),
        (54 * INCH, 2, "in", 85 * INCH // 2, 3 * INCH, 88 * INCH, 5 * YARD // 2),
        (112 * CM, 3, "cm", 108 * CM, None, 324 * CM, 330 * CM),
        (112 * CM, 3, "cm", 108 * CM, 15 * CM // 2, 663 * CM // 2, 340 * CM),
        (140 * CM, 2, "cm", 108 * CM, 15 * CM // 2, 447 * CM // 2, 230 * CM),
    ],
)
def test_panels_of_a_full_breadth_and_a_band(
    width: int, panels: int, unit: str, panel: int, band: int | None, length: int, bought: int
) -> None:
    pieces = [piece("A", panel, width, panels)]
    if band:
        pieces.append(piece("B", 30 * INCH, band, grain=Grain.EITHER))
    found = lay(cloth(width, unit), *pieces)
    assert (found.length, found.bound, found.buy) == (length, length, bought)


def test_area_is_not_layout() -> None:
    # 225 squares of 4 in from 30 in cloth: 132 in, not 120 (Dr. Math archive, 2003).
    found = lay(cloth(30 * INCH, "in"), piece("A", 4 * INCH, 4 * INCH, 225))
    assert (found.length, found.bound) == (132 * INCH, 132 * INCH)


def test_ruffle_strips_run_across_the_cloth() -> None:
    # Strips for a ruffle = ruffle / cloth width, up to the next whole; length = depth x
    # strips (Baldt 1916): 100 in of ruffle 9 in deep from 36 in cloth take three strips.
    found = lay(cloth(36 * INCH, "in"), piece("A", 36 * INCH, 9 * INCH, 3, grain=Grain.ACROSS))
    assert (found.length, found.bound) == (27 * INCH, 27 * INCH)


def test_squaring_and_selvedges_come_off_first() -> None:
    on = cloth(100 * CM, selvedge=CM, squaring=3 * CM)
    found = lay(on, piece("A", 50 * CM, 98 * CM), piece("B", 20 * CM, 30 * CM))
    first = found.tears[0]
    assert (first.at, first.in_hand.x0, first.frees) == (0, -3 * CM, ())
    trims = [tear for tear in found.tears if tear.at == CM and tear.falls.across == CM]
    assert len(trims) == 2
    assert not any(tear.frees for tear in trims)
    assert found.length == 70 * CM


def test_the_shops_end_joins_the_waste_beside_the_last_band() -> None:
    # 65 cm are used and 70 bought. Torn off across, the shop's end is 5 cm: no use. Left on
    # the band of the short piece it makes what lies beside it 20 cm long instead of 15.
    found = lay(cloth(100 * CM), piece("A", 50 * CM, 100 * CM), piece("B", 15 * CM, 30 * CM))
    kept = [cut.rect for cut in found.offcuts if cut.keep]
    assert [(rect.along, rect.across) for rect in kept] == [(20 * CM, 70 * CM)]


def test_waste_gathers_at_one_end() -> None:
    found = lay(cloth(60 * CM), *(piece(k, 10 * n * CM, 20 * CM) for n, k in enumerate("ABC", 4)))
    assert [spot.letter for spot in found.placements] == ["C", "B", "A"]


def test_a_piece_wider_than_the_cloth_is_refused_in_one_sentence() -> None:
    wide = piece("A", 40 * CM, 120 * CM)
    with pytest.raises(CannotLay, match=r"piece A \(piece A, 40 cm by 120 cm\) .*'c' has 98 cm"):
        solve(cloth(100 * CM, selvedge=CM), [wide])
    # Turned, it fits.
    assert lay(cloth(100 * CM), replace(wide, grain=Grain.EITHER)).length == 120 * CM
    with pytest.raises(CannotLay, match="wider cloth"):
        solve(cloth(100 * CM), [replace(wide, length=130 * CM, grain=Grain.EITHER)])


def test_nothing_to_lay_and_letters_given_twice_are_refused() -> None:
    with pytest.raises(BadInput, match="no piece"):
        solve(cloth(100 * CM), [])
    with pytest.raises(BadInput, match="'A'"):
        solve(cloth(100 * CM), [piece("A", CM, CM), piece("A", CM, CM)])


@pytest.mark.parametrize("mode", list(Mode))
def test_a_size_that_only_some_copies_may_turn_to_is_left_to_them(mode: Mode) -> None:
    # Turned, A takes 3 cm of the whole breadth, and C, as large, may not turn: 2 x 3 + 4 cm.
    cloth = Cloth("main", "linen", width=4 * CM, step=CM)
    turning = Piece("A", "strap", 4 * CM, 3 * CM, 2, "main", grain=Grain.EITHER)
    fixed = Piece("C", "pocket", 4 * CM, 3 * CM, 1, "main")
    small = Piece("D", "tab", 2 * CM, CM, 1, "main")
    for pieces in ((turning, fixed, small), (fixed, small, turning), (small, turning, fixed)):
        lay = solve(cloth, pieces, mode=mode, iterations=20)
        assert findings(lay) == ()
        assert lay.length == lay.bound == 10 * CM


def test_ctrl_c_keeps_the_best_lay_and_its_bound() -> None:
    told: list[tuple[int, int]] = []

    def stop(length: int, bound: int) -> None:
        told.append((length, bound))
        raise KeyboardInterrupt

    sizes = [(50, 40), (37, 22), (31, 55), (44, 18), (29, 33), (23, 61), (17, 19)]
    pieces = [
        piece(letter, a * CM, b * CM, 2) for letter, (a, b) in zip("ABCDEFG", sizes, strict=True)
    ]
    found = solve(cloth(112 * CM), pieces, iterations=50, progress=stop)
    assert len(told) == 1
    assert told[0] == (found.length, found.bound)
    assert findings(found) == ()


def test_the_same_seed_gives_the_same_lay() -> None:
    sizes = [(50, 41), (37, 22), (31, 55), (44, 18), (29, 33), (23, 61), (17, 19), (71, 30)]
    pieces = [
        piece(letter, a * CM, b * CM, 4) for letter, (a, b) in zip("ABCDEFGH", sizes, strict=True)
    ]
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(search, "QUICK", 200_000)
        patch.setattr(search, "BRIEF", 200_000)
        patch.setattr(search, "CHEAP", 1.0)
        one, two = (solve(cloth(151 * CM), pieces, iterations=400, seed=3) for _ in range(2))
        none = solve(cloth(151 * CM), pieces, iterations=0, seed=3)
    assert one == two
    assert one.length < none.length
    assert findings(one) == ()
