"""Pieces that the user brings match by a place; stitching is marked where seams are added."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from own_cases import YOKE, own_case, own_draft, own_piece

from marker import referee
from marker.decide import plan
from marker.errors import BadInput
from marker.piece import MarkKind, Match, Piece, Wise
from marker.units import CM, MM

STRIPE = 'width = "140 cm"\nrepeat = { along = "12 cm", across = "8 cm" }'


def matched(at: str, *, wise: str = "lengthwise", name: str = "front") -> str:
    return f'match = {{ set = "{name}", at = {at}, wise = "{wise}" }}\n'


def refused(piece: str, **parts: str) -> str:
    with pytest.raises(BadInput) as raised:
        own_draft(piece, **parts)
    return str(raised.value)


def test_a_place_is_counted_as_the_points_are() -> None:
    away = """points = [
    ["-30 cm", "5 cm"], ["10 cm", "5 cm"], ["6 cm", "23 cm"], ["-26 cm", "23 cm"]
]
count = 2
seam = "1 cm"
"""
    made = own_piece(away + matched('["-30 cm", "7 cm"]', wise="both"), cloth=STRIPE)
    # The allowance of a slanted side runs out by more than its breadth: the corner tells where.
    low = next(m for m in made.marks if m.v0 == m.v1 == 1 * CM)
    assert [(m.name, m.wise) for m in made.matches] == [
        ("own-pieces/front", Wise.LENGTHWISE),
        ("own-pieces/front", Wise.CROSSWISE),
    ]
    assert {(m.u, m.v) for m in made.matches} == {(min(low.u0, low.u1), 3 * CM)}


@pytest.mark.parametrize(
    ("grain", "there"),
    [("along", (16, 30)), ("across", (10, 16)), ("either", (30, 20))],
)
def test_a_place_goes_where_unfolding_and_turning_take_it(
    grain: str, there: tuple[int, int]
) -> None:
    half = """points = [["0 cm","0 cm"],["18 cm","0 cm"],["18 cm","40 cm"],["0 cm","40 cm"]]
edges = ["", "centre", "", ""]
fold = "centre"
count = 2
"""
    place = 'match = { set = "front", at = ["16 cm", "30 cm"] }'
    made = own_piece(f'{half}grain = "{grain}"\n{place}', cloth=STRIPE)
    assert made.matches == (
        Match("own-pieces/front", Wise.LENGTHWISE, there[0] * CM, there[1] * CM),
    )


def test_places_that_match_nothing_are_refused() -> None:
    front = matched('["0 cm", "4 cm"]')
    assert refused(YOKE + "\ncount = 2\n" + front) == (
        "own.toml: piece.yoke.match: the cloth 'main' has no lengthwise repeat; give repeat = "
        '{ along = "12 cm" } for it, or take match out'
    )
    assert refused(f"{YOKE}\n{front}", cloth=STRIPE).startswith(
        "own.toml: piece.yoke.match.set is 'front', and nothing else is in that set lengthwise; "
    )
    off = matched('["41 cm", "4 cm"]')
    assert refused(f"{YOKE}\ncount = 2\n{off}", cloth=STRIPE) == (
        "own.toml: piece.yoke.match.at lies off the outline, which is 40 cm by 18 cm; give a "
        "place on it"
    )
    assert "'4 cm' is not a place" in refused(f"{YOKE}\n" + matched('"4 cm"'), cloth=STRIPE)


def test_a_repeat_that_no_piece_heeds_is_told() -> None:
    two = f"{YOKE}\ncount = 2\n"
    told = [line for line in own_draft(two, cloth=STRIPE).garment.advice if "repeat" in line]
    assert told == [
        "No piece is matched to the repeat of the cloth 'main'; give those that meet a match of "
        "one set."
    ]
    heeded = own_draft(two + matched('["0 cm", "4 cm"]'), cloth=STRIPE).garment.advice
    assert not any("repeat" in line for line in (*heeded, *own_draft(two).garment.advice))


def test_pieces_of_one_set_lie_whole_repeats_apart() -> None:
    other = f"[piece.back]\n{YOKE}\npairs = true\n" + matched('["36 cm", "18 cm"]', wise="both")
    case = own_case(
        f"{YOKE}\n" + matched('["4 cm", "18 cm"]', wise="both"), cloth=STRIPE, more=other
    )
    record = plan(case, iterations=1, seed=1)
    assert referee.check_record(record) == ()
    (lay,) = record.lays
    assert len(lay.placements) == 3
    points = [
        spot.to_cloth(piece, match.u, match.v)
        for spot in lay.placements
        for piece in [lay.piece(spot.letter)]
        for match in piece.matches
    ]
    assert len({x % (12 * CM) for x, _ in points}) == len({y % (8 * CM) for _, y in points}) == 1


def chain(piece: Piece, name: str) -> list[tuple[int, int]]:
    """The places of a line from end to end, its chords following one another."""
    marks = [m for m in piece.marks if m.kind is MarkKind.SEAM and m.name == name]
    assert all((a.u1, a.v1) == (b.u0, b.v0) for a, b in pairwise(marks))
    return [(marks[0].u0, marks[0].v0), *((m.u1, m.v1) for m in marks)]


def test_stitching_lines_run_round_the_finished_outline() -> None:
    made = own_piece(
        'd = "M 0 20 A 20 20 0 0 1 40 20 Z"\nunit = "cm"\nedges = ["curve", "base"]\n'
        'seam = "1 cm"\nseams = { base = "3 cm" }'
    )
    base, curve = chain(made, "base"), chain(made, "curve")
    assert len(base) == 2 and abs(math.dist(*base) - 40 * CM) <= 2
    centre = [(a + b) / 2 for a, b in zip(*base, strict=True)]
    assert all(v == 3 * CM for _, v in base)
    # Places lie on the half circle within rounding, chords no more than 0.5 mm inside it.
    assert all(abs(math.dist(centre, spot) - 20 * CM) <= 2 for spot in curve)
    chords = [math.dist(a, b) for a, b in pairwise(curve)]
    sags = [20 * CM - math.sqrt((20 * CM) ** 2 - (long / 2) ** 2) for long in chords]
    assert max(sags) <= MM / 2 + 2
    assert len(curve) < 40


def test_a_cubic_is_marked_by_chords_that_keep_near_it() -> None:
    made = own_piece(
        'd = "M 0 0 C 10 -12 25 -12 35 0 V 45 H 0 Z"\nunit = "cm"\nseam = "1 cm"\n'
        'edges = ["cap", "", "wrist", ""]'
    )
    cap = chain(made, "cap")
    (edge,) = (edge for edge in made.outline.edges if edge.name == "cap")  # type: ignore[union-attr]
    assert 8 < len(cap) < 60
    # The cut edge lies the allowance outside: every chord's middle keeps that distance.
    cut = [edge.at(edge.length * k / 2000)[0] for k in range(2001)]
    for (u0, v0), (u1, v1) in pairwise(cap[2:-2]):
        near = min(math.dist(((u0 + u1) / 2, (v0 + v1) / 2), spot) for spot in cut)
        assert abs(near - 1 * CM) <= 0.6 * MM


def test_nothing_is_marked_where_nothing_is_added() -> None:
    assert not own_piece(YOKE).marks
    assert not own_piece(f'{YOKE}\nseam = "1 cm"\nseam_included = true').marks
    bare = own_piece(f'{YOKE}\nseam = "1 cm"\nseams = {{ neck = "0 cm" }}')
    assert {mark.name for mark in bare.marks} == {"centre", "side"}
