"""The tear solver: true optima, sound bounds, lays that the referee passes."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path
from random import Random

import oracle
import pytest
import strategies
from hypothesis import given, settings
from hypothesis import strategies as st

from marker import referee
from marker.cloth import Cloth
from marker.errors import BadInput, CannotLay
from marker.lay import Lay, Proof
from marker.piece import Grain, Piece
from marker.solver import search, solve
from marker.solver.bounds import by_rows
from marker.solver.exact import shortest_within
from marker.solver.packing import Purse
from marker.solver.problem import read
from marker.units import CM, INCH, MM

ROUNDS = 30


def lay_of(cloth: Cloth, pieces: list[Piece]) -> Lay:
    """Solve by rounds, not by the clock; every lay must pass the referee."""
    lay = solve(cloth, pieces, iterations=ROUNDS)
    assert referee.findings(lay) == ()
    return lay


def sizes(cloth: Cloth, pieces: list[Piece]) -> tuple[tuple[tuple[int, int], ...], ...]:
    """The pieces as the oracle takes them: every copy with the sizes in which it may lie."""
    found = []
    for piece in pieces:
        a, b = piece.length // CM, piece.breadth // CM
        shapes = {0: (a, b), 90: (b, a)}
        turns = piece.turns(cloth.one_way)
        found += [tuple(shapes[turn] for turn in turns)] * piece.count
    return tuple(found)


@pytest.mark.parametrize("seed", range(40))
def test_the_optimum_of_small_cases_is_the_oracles(seed: int) -> None:
    random = Random(seed)
    width = random.randint(4, 8)
    cloth = strategies.cloth(width)
    pieces = [
        Piece(
            chr(ord("A") + index), "piece", random.randint(1, width) * CM,
            random.randint(1, width) * CM, random.choice((1, 1, 2)), "main",
            grain=random.choice((Grain.ALONG, Grain.EITHER)),
        )
        for index in range(random.randint(2, 4))
    ]  # fmt: skip
    lay = lay_of(cloth, pieces)
    best = oracle.shortest_torn(sizes(cloth, pieces), width)
    assert lay.length == best * CM
    assert lay.bound == lay.length
    assert lay.proof is Proof.LENGTH


@given(strategies.pieces())
@settings(max_examples=60)
def test_every_lay_passes_the_referee_and_its_bound(pieces: list[Piece]) -> None:
    lay = lay_of(strategies.cloth(selvedge=CM, width=14, squaring=2 * CM), pieces)
    area = -(-lay.used // lay.cloth.usable.across)
    assert area <= lay.bound <= lay.length


@given(strategies.pieces(most=4), st.integers(1, 5))
@settings(max_examples=40)
def test_wider_cloth_never_needs_more(pieces: list[Piece], wider: int) -> None:
    narrow, wide = (lay_of(strategies.cloth(width), pieces) for width in (12, 12 + wider))
    assert narrow.proof is wide.proof is Proof.LENGTH
    assert wide.length <= narrow.length


@given(strategies.pieces(most=4))
@settings(max_examples=40)
def test_a_piece_less_never_needs_more(pieces: list[Piece]) -> None:
    if len(pieces) > 1:
        cloth = strategies.cloth()
        assert lay_of(cloth, pieces[1:]).length <= lay_of(cloth, pieces).length


@given(strategies.pieces(most=4))
@settings(max_examples=40)
def test_one_way_cloth_is_never_shorter_than_free(pieces: list[Piece]) -> None:
    free = lay_of(strategies.cloth(), pieces)
    assert lay_of(strategies.cloth(one_way=True), pieces).length >= free.length


@given(strategies.pieces(most=4), st.randoms(use_true_random=False))
@settings(max_examples=30)
def test_the_order_of_the_pieces_does_not_matter(pieces: list[Piece], random: Random) -> None:
    mixed = list(pieces)
    random.shuffle(mixed)
    assert lay_of(strategies.cloth(), mixed).length == lay_of(strategies.cloth(), pieces).length


def test_the_same_seed_gives_the_same_lay() -> None:
    pieces = [Piece(chr(65 + i), "p", (11 + i) * CM, (7 + 3 * i) * CM, 2, "main") for i in range(4)]
    cloth = strategies.cloth(40)
    assert lay_of(cloth, pieces) == lay_of(cloth, pieces)


def breadths(count: int, long: int, wide: int, band: int, width: int, step: int) -> Lay:
    """Full breadths with a band torn across the same cloth."""
    cloth = Cloth("main", "cotton", width=width, step=step)
    panel = Piece("A", "panel", long, wide, count, "main")
    strip = Piece("B", "band", 30 * INCH, band, 1, "main", Grain.EITHER, up="breadth")
    return lay_of(cloth, [panel, strip])


def test_three_breadths_and_a_band() -> None:
    # Common practice, no source: 3 x 42 1/2 + 3 in = 130 1/2 in = 3 5/8 yd exactly;
    # 3 x 108 + 7.5 = 331.5 cm, bought as 3.40 m.
    inches = breadths(3, 85 * INCH // 2, 45 * INCH, 3 * INCH, 45 * INCH, 9 * INCH // 2)
    assert inches.length == inches.bound == inches.buy == 261 * INCH // 2
    metric = breadths(3, 108 * CM, 114 * CM, 75 * MM, 114 * CM, 10 * CM)
    assert metric.length == metric.bound == 3315 * MM
    assert metric.buy == 340 * CM


def test_two_breadths_of_wide_cloth_and_a_band() -> None:
    # Common practice, no source: 88 in = 2 1/2 yd; 223.5 cm = 2.30 m.
    inches = breadths(2, 85 * INCH // 2, 54 * INCH, 3 * INCH, 54 * INCH, 9 * INCH // 2)
    assert inches.length == 88 * INCH
    assert inches.buy == 90 * INCH
    metric = breadths(2, 108 * CM, 140 * CM, 75 * MM, 140 * CM, 10 * CM)
    assert metric.length == 2235 * MM
    assert metric.buy == 230 * CM


def test_area_is_not_layout() -> None:
    # Dr. Math archive, 2003: 225 squares of 4 in from 30 in cloth need 132 in, and not the
    # 120 in of their area; seven go in a row, and 225 / 7 makes 33 rows.
    cloth = Cloth("main", "cotton", width=30 * INCH, step=INCH)
    lay = lay_of(cloth, [Piece("A", "square", 4 * INCH, 4 * INCH, 225, "main")])
    assert lay.length == lay.bound == 132 * INCH


def test_mixed_inches_and_millimetres_still_prove() -> None:
    pieces = [
        Piece("A", "panel", 40 * INCH, 650 * MM, 3, "main"),
        Piece("B", "facing", 700 * MM, 6 * INCH, 3, "main", Grain.EITHER, up="breadth"),
        Piece("C", "band", 30 * INCH, 75 * MM, 1, "main", Grain.EITHER, up="breadth"),
    ]
    lay = lay_of(Cloth("main", "cotton", width=150 * CM, step=10 * CM, selvedge=CM), pieces)
    assert lay.proof is Proof.LENGTH


def test_the_larger_remnant_is_kept_in_one_piece() -> None:
    # Torn across at 160, the bolt's end is 40 x 100; left on the apron's strip, the cloth
    # beside the apron runs on to the end, and is 100 x 50.
    pieces = [
        Piece("A", "panel", 100 * CM, 100 * CM, 1, "main"),
        Piece("B", "apron", 60 * CM, 50 * CM, 1, "main"),
    ]
    lay = lay_of(Cloth("main", "cotton", width=100 * CM, step=50 * CM), pieces)
    largest = max(offcut.rect.area for offcut in lay.offcuts if offcut.keep)
    assert lay.length == 160 * CM
    assert largest == 100 * CM * 50 * CM


def problem_of(path: Path) -> tuple[Cloth, list[Piece], int]:
    told = json.loads(path.read_text(encoding="utf-8"))
    cloth = Cloth("main", told["name"], width=told["width"] * MM, step=MM)
    pieces = [
        Piece(f"P{i}", "piece", item["length"] * MM, item["width"] * MM, item["count"], "main")
        for i, item in enumerate(told["pieces"])
    ]
    return cloth, pieces, told["optimum"] * MM


@pytest.mark.parametrize("name", ["bkw1", "bkw2", "c1_1", "c1_3", "c2_3", "c3_1", "c3_3"])
def test_published_sets_tear_at_their_optimum(benchmarks: Path, name: str) -> None:
    # Hopper and Turton, EJOR 128 (2001); Burke, Kendall and Whitwell, Oper. Res. 52 (2004).
    cloth, pieces, optimum = problem_of(benchmarks / "rectangles" / f"{name}.json")
    lay = lay_of(cloth, pieces)
    assert lay.length == lay.bound == optimum


@pytest.mark.parametrize("name", ["n1a", "n1b", "t1a", "t1b"])
def test_hoppers_optimum_of_200_cant_be_torn(benchmarks: Path, name: str) -> None:
    # Hopper, PhD thesis, Cardiff 2000; that 200 can't be torn is settled by exhaustion here too.
    cloth, pieces, optimum = problem_of(benchmarks / "rectangles" / f"{name}.json")
    problem = read(cloth, pieces)
    target = optimum // problem.along
    found = shortest_within(problem.problem, target, by_rows(problem.problem), Purse(10**9))
    assert found is None


def test_ctrl_c_keeps_the_lay_in_hand(monkeypatch: pytest.MonkeyPatch) -> None:
    def stop(*_: object, **__: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(search, "exhaust", stop)
    sizes = ((5, 4), (4, 7), (3, 5), (6, 3), (2, 9))
    pieces = [Piece("ABCDE"[i], "p", a * CM, b * CM, 1, "main") for i, (a, b) in enumerate(sizes)]
    lay = lay_of(strategies.cloth(10), pieces)
    assert lay.proof is Proof.OPEN
    assert lay.bound < lay.length


def test_progress_is_told_lengths_in_true_units() -> None:
    told: list[tuple[int, int]] = []
    pieces = [
        Piece("A", "p", 5 * CM, 4 * CM, 3, "main"),
        Piece("B", "p", 4 * CM, 7 * CM, 2, "main"),
    ]
    lay = solve(
        strategies.cloth(10), pieces, iterations=5, progress=lambda *pair: told.append(pair)
    )
    assert told
    assert told[-1] == (lay.length, lay.bound)
    assert all(bound <= lay.length <= length for length, bound in told)


def test_a_piece_too_wide_is_named_with_a_remedy() -> None:
    cloth = strategies.cloth(14, selvedge=CM)
    panel = Piece("A", "panel", 9 * CM, 13 * CM, 1, "main")
    with pytest.raises(CannotLay, match=r"piece A \(panel, 9 cm by 13 cm\).*12 cm.*turn"):
        solve(cloth, [panel])
    solve(cloth, [replace(panel, grain=Grain.EITHER)], iterations=1)


def test_nothing_to_lay_and_two_of_one_letter_are_refused() -> None:
    with pytest.raises(BadInput, match="no piece"):
        solve(strategies.cloth(), [])
    panel = Piece("A", "panel", CM, CM, 1, "main")
    with pytest.raises(BadInput, match="letter"):
        solve(strategies.cloth(), [panel, panel])
