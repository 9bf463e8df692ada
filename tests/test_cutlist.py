"""Shears, cuts along a thread, flaws and stripes in words: all told once, measures true."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import replace
from fractions import Fraction
from itertools import product

import pytest
from example_lays import in_drops, torn_at_random
from hypothesis import given, settings
from hypothesis import strategies as st
from plan_asks import checks, finished, flawed, pinwheel
from test_steps import ids_in, number

from marker.cloth import Cloth
from marker.geometry import Rect
from marker.lay import Lay, Mode, Offcut, Placement
from marker.piece import Piece
from marker.plan.words.cutlist import numbered_lines
from marker.plan.words.drops import clear_lines, drops
from marker.plan.words.heed import MOST_FLAWS, flaws
from marker.plan.words.pairing import grids
from marker.plan.words.parting import exceptions, how
from marker.plan.words.runs import Work
from marker.plan.words.steps import steps
from marker.plan.words.sums import check_sum, leftovers
from marker.units import CM, INCH, System

SEEDS = st.integers(0, 10_000)


def with_shears(seed: int) -> Lay:
    """The pieces of a lay torn at random, to be cut out with shears."""
    return replace(torn_at_random(seed), mode=Mode.SHEARS, tears=(), goals=())


def texts(lay: Lay, units: System = System.CM) -> list[str]:
    return [step.text for step in steps(lay, units)]


def test_a_lay_for_shears_is_told_drop_by_drop() -> None:
    told = [(step.numbers, step.text) for step in steps(pinwheel().lays[0], System.CM)]
    assert told[1] == (
        "then",
        "Chalk every outline before you cut on: along from the squared end, across from the outer "
        "edge of the near selvedge.",
    )
    assert told[:1] + told[2:4] == [
        ("1", "Square the cut end: chalk 2 cm from it, cut across along a thread. "
         "This edge is 0."),
        ("2", "Cut right across at 100 cm, along a thread: a drop of 100 cm with A-1 to A-4, B-1."),
        ("3", "A-1 (yoke): chalk at the squared end and 1 cm from the near selvedge; "
         "60 along × 40 cm across."),
    ]  # fmt: skip
    assert told[8][1] == (
        "C-1 to C-6 (pocket): chalk at 100 and 116 cm from the squared end and 1, 19 and 37 cm "
        "from the near selvedge; each 16 along × 18 cm across."
    )
    assert [numbers for numbers, _ in told] == ["1", "then", *map(str, range(2, 11))]


def places(text: str) -> tuple[list[Fraction], list[Fraction]]:
    """Where a line says to chalk: along and across, in its own unit."""
    found = re.search(r"chalk (.*?) end and (.*?)the near (?:selvedge|edge);", text)
    assert found
    return _numbers(found[1]), _numbers(found[2])


def _numbers(text: str) -> list[Fraction]:
    """The readings in a few words; nought where they name the edge itself."""
    if found := re.match(r"every (\S+) to (\S+)", text):
        each, last = Fraction(found[1]), Fraction(found[2])
        return [each * (i + 1) for i in range(int(last / each))]
    return [number(part) for part in re.findall(r"\d[\d./]*(?: \d+/\d+)?", text)] or [Fraction(0)]


@given(SEEDS)
@settings(max_examples=120)
def test_every_piece_is_told_once_at_its_place(seed: int) -> None:
    lay = with_shears(seed)
    told: Counter[tuple[str, Fraction, Fraction, Fraction, Fraction]] = Counter()
    ids: Counter[str] = Counter()
    for text in texts(lay):
        found = re.search(r"(\d[\d.]*) along × (\d[\d.]*) cm across", text)
        if not found:
            continue
        ids.update(ids_in(text))
        along, across = Fraction(found[1]), Fraction(found[2])
        letter = text.split("-")[0]
        xs, ys = places(text)
        told.update((letter, x, y, along, across) for x, y in product(xs, ys))
    rects = [(spot, spot.rect(lay.piece(spot.letter))) for spot in lay.placements]
    assert ids == Counter(spot.id for spot in lay.placements)
    assert told == Counter(
        (spot.letter, *(Fraction(v, CM) for v in (rect.x0, rect.y0, rect.along, rect.across)))
        for spot, rect in rects
    )


@given(SEEDS)
@settings(max_examples=100)
def test_drops_part_the_bolt_and_hold_every_piece(seed: int) -> None:
    lay = with_shears(seed)
    found = drops(lay)
    assert sum(drop.rect.along for drop in found) == lay.bolt.along
    held = [spot for drop in found for spot, _ in drop.held]
    assert sorted(spot.id for spot in held) == sorted(spot.id for spot in lay.placements)
    assert all(drop.rect.holds(rect) for drop in found for _, rect in drop.held)
    assert tuple(drop.rect.x1 for drop in found[:-1]) == clear_lines(lay)
    # Each line right across is one step, and bears its number.
    told = {
        number: step.text
        for step in steps(lay, System.CM)
        for number in range(step.first, step.last + 1)
    }
    assert sorted(told) == list(range(len(told)))
    for at, step in numbered_lines(Work(lay, System.CM)).items():
        assert told[step].startswith("Square" if at == 0 else "Cut right across")
    assert set(numbered_lines(Work(lay, System.CM))) == set(clear_lines(lay))


def test_equal_drops_are_told_together() -> None:
    cloth = Cloth("main", "felt", 90 * CM, 10 * CM, squaring=CM, tears=False)
    pieces = (
        Piece("A", "panel", 50 * CM, 45 * CM, 8, "main"),
        Piece("B", "band", 8 * CM, 90 * CM, 1, "main"),
    )
    panels = [(50 * CM, [("A", 0, 1)] * 2)] * 4
    lay = in_drops(cloth, pieces, [*panels, (8 * CM, [("B", 0, 1)])])
    lay = replace(lay, mode=Mode.SHEARS, tears=())
    assert [(step.numbers, step.text) for step in steps(lay, System.CM)][2:] == [
        ("2 to 5", "Cut right across every 50 to 200 cm, along a thread: four drops of 50 cm with "
         "A-1 to A-8."),
        ("6", "A-1 to A-8 (panel): chalk at 0, 50, 100 and 150 cm from the squared end and 0 and "
         "45 cm from the near edge; each 50 along × 45 cm across."),
        ("7", "Cut right across at 208 cm, along a thread: a drop of 8 cm with B-1; 1 cm left."),
        ("8", "B-1 (band): chalk at 200 cm from the squared end and at the near edge; "
         "8 along × 90 cm across."),
    ]  # fmt: skip
    assert numbered_lines(Work(lay, System.CM))[150 * CM] == 4


def test_a_grid_is_one_line_and_a_gap_in_it_another() -> None:
    def laid(copy: int, x: int, y: int) -> tuple[Placement, Rect]:
        return Placement("A", copy, x, y, 0), Rect(x, y, x + 9, y + 9)

    full = [laid(1, 0, 0), laid(2, 10, 0), laid(3, 0, 10), laid(4, 10, 10)]
    (grid,) = grids(full, 6)
    assert (grid.xs, grid.ys, len(grid.spots)) == ((0, 10), (0, 10), 4)
    assert [(grid.xs, grid.ys) for grid in grids(full[:3], 6)] == [((0, 10), (0,)), ((0,), (10,))]
    long = [laid(n + 1, 10 * n, 0) for n in range(8)]
    assert [len(grid.xs) for grid in grids(long, 6)] == [6, 2]


def test_an_end_that_is_not_squared_and_what_is_left_are_told() -> None:
    cloth = Cloth("main", "felt", 90 * CM, 10 * CM, tears=False)
    piece = Piece("A", "sole", 30 * CM, 20 * CM, 1, "main")
    lay = replace(in_drops(cloth, (piece,), [(30 * CM, [("A", 0, 1)])]), mode=Mode.SHEARS)
    lay = replace(lay, tears=(), bolt=Rect(0, 0, 40 * CM, 90 * CM))
    assert texts(lay) == [
        "Chalk every outline before you cut: along from the free end, across from the near edge.",
        "Cut right across at 30 cm, along a thread: a drop of 30 cm with A-1; 10 cm left.",
        "A-1 (sole): chalk at the free end and at the near edge; 30 along × 20 cm across.",
    ]


def test_the_sum_of_a_lay_for_shears_goes_by_its_drops() -> None:
    lay = pinwheel().lays[0]
    assert check_sum(lay, System.CM) == "2 squaring + 100 + 68 = 170 cm, the whole cloth."
    assert leftovers(lay, System.CM)[0] == "Remnant to keep: 68 along × 41 cm across."


def test_a_drop_that_is_kept_is_summed_as_the_remnant_that_it_is() -> None:
    cloth = Cloth("main", "felt", width=90 * CM, step=10 * CM)
    piece = Piece("A", "sole", 30 * CM, 90 * CM, 2, "main")
    sole = (30 * CM, [("A", 0, 1)])
    lay = in_drops(cloth, (piece,), [sole, (20 * CM, []), sole])
    gap = Rect(30 * CM, 0, 50 * CM, 90 * CM)
    for keep, word in ((True, "remnant"), (False, "waste")):
        told = check_sum(replace(lay, offcuts=(Offcut(gap, keep=keep),)), System.CM)
        assert told == f"30 + 20 {word} + 30 = 80 cm, the whole cloth."


def test_a_cut_along_a_thread_says_why() -> None:
    told = texts(flawed().lays[0])
    assert (
        "Snip at 226 cm; cut across along a thread (V not to be torn): a drop of 108 cm: A-2."
        in (told)
    )
    assert any(
        text.startswith(
            "Snip at 238, 241 and 244 cm; cut across along a thread (too narrow to tear)"
        )
        for text in told
    )
    assert any("cut along a thread (V not to be torn): selvedge, V-1" in text for text in told)
    assert told[0] == "Square the cut end: snip 2 cm from it, tear across. This edge is 0."


def test_a_row_partly_torn_names_the_places_that_are_cut() -> None:
    cloth = Cloth("main", "cloth", 100 * CM, 10 * CM, CM, least_strip=4 * CM)
    pieces = (
        Piece("A", "panel", 40 * CM, 60 * CM, 2, "main"),
        Piece("B", "tape", 40 * CM, 3 * CM, 2, "main"),
    )
    rows = [("A", 0, 1), ("B", 0, 1)]
    lay = finished(in_drops(cloth, pieces, [(40 * CM, rows)] * 2))
    assert texts(lay)[-1] == (
        "Each of two drops (A-1, A-2, B-1, B-2): from its near edge snip at 1, 61 and 64 cm; "
        "tear: selvedge, A, B, remnant; at 64 cm cut along a thread (too narrow to tear)."
    )


def test_equal_drops_of_which_one_is_cut_are_told_apart() -> None:
    # The last drop leaves 2 cm, too narrow to tear off.
    cloth = Cloth("main", "cloth", 60 * CM, 8 * CM, least_strip=4 * CM)
    piece = Piece("A", "panel", 50 * CM, 60 * CM, 3, "main")
    lay = finished(in_drops(cloth, (piece,), [(50 * CM, [("A", 0, 1)])] * 3))
    assert [tear.cut for tear in lay.tears] == [False, False, True]
    assert texts(lay) == [
        "Snip at 50 and 100 cm; tear across: two drops of 50 cm: A-1, A-2.",
        "Snip at 150 cm; cut across along a thread (too narrow to tear): A-3 (panel), 50 cm, "
        "2 cm left.",
    ]


def test_runs_torn_and_cut_are_not_alike() -> None:
    lay = checks().lays[0]
    cut = replace(lay, tears=(*lay.tears[:-1], replace(lay.tears[-1], cut=True)))
    told, other = Work(lay, System.CM), Work(cut, System.CM)
    alike = [a == b for a, b in zip(map(told.alike, told.runs), map(other.alike, other.runs),
                                    strict=True)]  # fmt: skip
    assert alike == [True] * (len(told.runs) - 1) + [False]


def test_both_reasons_are_told_together() -> None:
    lay = flawed().lays[0]
    cut = [tear for tear in lay.tears if tear.number in (5, 6)]
    assert how(lay, cut, "across") == (
        "cut across along a thread (V not to be torn, or too narrow to tear)"
    )
    assert how(lay, lay.tears[:1]) == "tear"
    assert exceptions(lay, cut, ["a", "b"]) == ""
    assert exceptions(lay, (lay.tears[0], cut[1]), ["a", "b"]) == (
        "; at b cut along a thread (too narrow to tear)"
    )


def test_selvedges_beside_a_piece_not_to_be_torn_are_cut_off() -> None:
    cloth = Cloth("main", "cloth", 62 * CM, 10 * CM, CM)
    piece = Piece("A", "panel", 80 * CM, 60 * CM, 1, "main", torn=False)
    lay = finished(in_drops(cloth, (piece,), [(80 * CM, [("A", 0, 1)])]))
    assert texts(lay)[0] == (
        "The whole cloth: snip 1 cm from either edge, cut off both selvedges along a thread "
        "(A not to be torn)."
    )


def test_flaws_are_chalked_once_the_end_is_squared_from_which_they_are_measured() -> None:
    lay = flawed().lays[0]
    assert [step.numbers for step in steps(lay, System.CM)][:3] == ["1", "then", "2"]
    assert texts(lay)[1] == (
        "Chalk the flaws, which no piece may touch: 60 to 63 cm from the squared end, 101 to "
        "103 cm from the near selvedge; 108 to 118 cm from the squared end, 30 to 62 cm from the "
        "near selvedge."
    )
    in_squaring = Rect(-CM, 0, 0, 9 * CM)
    many = tuple(Rect(n * CM, 99 * CM, n * CM + 5, 110 * CM) for n in range(7))
    told = replace(lay, cloth=replace(lay.cloth, flaws=(in_squaring, *many)))
    assert set(flaws(told)) == set(range(1, 9))
    chalked = texts(told)[1]
    assert chalked.count("from the near selvedge") == MOST_FLAWS
    assert chalked.endswith("; 3 more as on the plan.")
    whole = replace(lay.cloth, flaws=(Rect(100, 0, 1610, lay.bolt.y1),))
    assert texts(replace(lay, cloth=whole))[1].endswith(
        ": 0 to 1.1 cm from the squared end, right across."
    )
    none = replace(lay, cloth=replace(lay.cloth, flaws=(in_squaring,)))
    assert texts(none)[1].startswith("Snip at")
    raw = replace(lay, bolt=replace(lay.bolt, x0=0), tears=lay.tears[1:])
    assert steps(raw, System.CM)[0].numbers == "first"
    assert texts(raw)[0].startswith("Chalk the flaws")
    assert "cm from the free end, 101 to 103 cm" in texts(raw)[0]


def test_a_remnant_with_a_flaw_says_so() -> None:
    assert leftovers(flawed().lays[0], System.CM)[:2] == (
        "Remnant to keep: 108 along × 11 cm across.",
        "Remnant to keep: 108 along × 11 cm across, a flaw in it; clear of flaws "
        "60 along × 11 cm across.",
    )


def test_matched_edges_are_checked_before_tearing() -> None:
    lay = checks().lays[0]
    told = texts(lay)
    assert told[:2] == [
        "Repeat of 12 cm along: check that each hem (A-1 to A-4) lies on the same stripe before "
        "tearing.",
        "Repeat of 8 cm across: check that each seam (A-1 to A-4) lies on the same stripe before "
        "tearing.",
    ]
    shears = replace(lay, mode=Mode.SHEARS, tears=())
    assert "same stripe before cutting." in texts(shears)[0]
    panel = lay.piece("A")
    inner = replace(panel.matches[0], u=50 * CM)
    fold = replace(inner, u=6 * CM)
    for match, what in (
        (inner, "matched place"),
        (replace(inner, u=0), "waist"),
        (fold, "fold of the turn-down"),
    ):
        asked = replace(panel, matches=(match,))
        assert f"each {what} (A-1" in texts(replace(lay, pieces=(asked, lay.pieces[1])))[0]


@pytest.mark.parametrize(
    ("units", "told"),
    [
        (System.IN, "0, 7, 14 and 21 in from the near edge; each 9 along × 7 in across."),
        # 7 in = 17.78 cm, 9 in = 22.86 cm: each reading is rounded up for itself.
        (System.CM, "0, 17.8, 35.6 and 53.4 cm from the near edge; each 22.9 along × 17.8 cm "
         "across."),
    ],
)  # fmt: skip
def test_measures_are_in_the_cases_own_units(units: System, told: str) -> None:
    cloth = Cloth("main", "felt", 30 * INCH, INCH, tears=False)
    piece = Piece("A", "sole", 9 * INCH, 7 * INCH, 4, "main")
    lay = in_drops(cloth, (piece,), [(9 * INCH, [("A", 0, 1)] * 4)])
    lay = replace(lay, mode=Mode.SHEARS, tears=())
    assert texts(lay, units)[-1] == f"A-1 to A-4 (sole): chalk at the free end and {told}"
