"""Gored skirts: how waist and hem are shared out, the shapes of gores, and what is refused."""

from __future__ import annotations

import math
from fractions import Fraction
from itertools import pairwise

import pytest
from curved_cases import figure, named, read_drafts, refused
from hypothesis import given, settings
from hypothesis import strategies as st

from marker.garments.gored.gores import Waistline
from marker.garments.gored.outline import gore_outline
from marker.geometry.offset import with_allowance
from marker.geometry.shapes import gore
from marker.piece import MarkKind, Piece
from marker.units import CM, INCH, MM

FIVE = """
[garment.skirt.front]
hem = "20 in"
[garment.skirt.side]
hem = "22 in"
[garment.skirt.back]
hem = "24 in"
"""


def gored(gores: str, *, skirt: str = "", wearer: str = 'waist = "24 in"\nlength = "36 in"') -> str:
    """A gored skirt with its tables of gores, in inches; `skirt` adds keys of its own."""
    return (
        'title = "A skirt"\nunits = "in"\n'
        f"[wearer.ada]\n{wearer}\n"
        '[cloth.main]\nwidth = "60 in"\n'
        f'[garment.skirt]\nkind = "gored skirt"\nseam = "1/2 in"\n{skirt}\n{gores}'
    )


# --- sums ---------------------------------------------------------------------------------


def test_five_gores_share_the_waist_as_ingalls_does() -> None:
    # Ingalls, Text-Book on Domestic Art, 1911: front W/8 on the fold, side W/6, back the rest of
    # W/2; W = 24 in: 3, 4, 5. So the whole front gore is 6, each side 4, and the back has 10.
    (draft,) = read_drafts(gored(FIVE))
    assert [(p.name, p.count) for p in draft.pieces[:3]] == [
        ("front gore", 1),
        ("side gore", 2),
        ("back gore", 2),
    ]
    tops = [figure(draft, f"{name} gore at the waist") for name in ("front", "side", "back")]
    assert tops == [6 * INCH, 4 * INCH, 5 * INCH]
    assert draft.garment.round_hem == (20 + 2 * 22 + 2 * 24) * INCH
    assert draft.garment.panels == 5
    # A back in one piece takes all of it.
    (one,) = read_drafts(
        gored(FIVE.replace("[garment.skirt.back]", "[garment.skirt.back]\ncount = 1"))
    )
    assert figure(one, "back gore at the waist") == 10 * INCH


def test_the_misprinted_gores_are_refused_and_the_rest_shared_rightly() -> None:
    # The Perfect Dressmaking System, 1914, p. 13, prints 17 1/2 in for four gores beside a front
    # gore of 10 in, 2 1/4 yd round: (81 - 10) / 4 is 17 3/4.
    tables = (
        '[garment.skirt.gores]\nround = "2 1/4 yd"\n[garment.skirt.front]\nhem = "10 in"\n'
        "[garment.skirt.side]\n{side}[garment.skirt.back]\n{back}"
    )
    wrong = 'hem = "17 1/2 in"\n'
    said = refused(gored(tables.format(side=wrong, back=wrong)))
    assert "the gores come to 80 in in all, but gores.round is 81 in" in said
    (draft,) = read_drafts(gored(tables.format(side="", back="")))
    assert figure(draft, "side gore at the hem") == Fraction(71, 4) * INCH
    assert figure(draft, "back gore at the hem") == Fraction(71, 4) * INCH
    assert draft.garment.round_hem == 81 * INCH


@settings(max_examples=40, deadline=None)
@given(
    st.integers(1, 12), st.integers(60 * CM, 110 * CM), st.integers(120 * CM, 500 * CM),
    st.integers(0, 30 * CM),
)  # fmt: skip
def test_gores_alike_close_round_waist_and_hem(
    count: int, waist: int, hem: int, gathers: int
) -> None:
    around = max(hem, waist + gathers)
    tables = (
        f'[garment.skirt.gores]\ncount = {count}\nround = "{around / MM} mm"\n'
        f'gathers = "{gathers / MM} mm"'
    )
    text = gored(tables, wearer=f'waist = "{waist / MM} mm"\nlength = "90 cm"')
    (draft,) = read_drafts(text.replace('"60 in"', '"6 m"'))
    piece = draft.pieces[0]
    assert piece.count == draft.garment.panels == count
    assert draft.garment.round_hem == pytest.approx(around, abs=1)
    assert count * figure(draft, "gore at the waist") == pytest.approx(waist + gathers, abs=count)
    assert figure(draft, "round the waist") == pytest.approx(waist, abs=1)
    assert draft.garment.drawn == 0
    if gathers:
        whole = figure(draft, "top, gathered into it")
        assert whole == pytest.approx(waist + gathers, abs=1)


@pytest.mark.parametrize(
    ("gores", "said"),
    [
        ("", "gores.count is missing; give how many gores are alike, or the tables front"),
        ("[garment.skirt.gores]\ncount = 6", 'gores.round is missing; give it, such as "3 m"'),
        ("[garment.skirt.front]\n", "front.hem is missing; give it, or the round hem as gores"),
        (
            "[garment.skirt.gores]\ncount = 6\n" + FIVE,
            "gores.count is for gores that are all alike, but there is a table front too",
        ),
        (
            FIVE.replace('"22 in"', '"22 in"\ncount = 3'),
            "side.count is 3, and side gores come in pairs; give an even number",
        ),
        (
            FIVE.replace('"22 in"', '"3 in"'),
            "side.hem gives a gore 3 in at the hem, narrower than its top of 4 in; give a wider",
        ),
        (
            FIVE.replace('"20 in"', '"20 in"\ntop = "24 in"'),
            "side.top: the other gores take 24 in and leave nothing of it, where the waist is 24",
        ),
        (
            '[garment.skirt.gores]\nround = "1 yd"\n' + FIVE.replace('hem = "24 in"', ""),
            "back.hem: the other gores take 64 in and leave nothing of it, where gores.round is 36",
        ),
        (
            '[garment.skirt.gores]\ncount = 2\nround = "400 in"',
            "gores: the gore takes 78 1/8 in of the width, and the cloth 'main' gives 60 in",
        ),
        (
            FIVE + '[garment.skirt.opening]\nlength = "36 in"',
            "opening.length is 36 in, as long as the skirt itself; give a shorter opening",
        ),
    ],
)
def test_what_cannot_be_cut_is_refused_in_a_sentence(gores: str, said: str) -> None:
    told = refused(gored(gores))
    assert told.startswith("a.toml: garment.skirt.") and said in told


# --- shapes -------------------------------------------------------------------------------


def test_a_gore_as_wide_above_as_below_is_a_rectangle() -> None:
    assert gore_outline(100, 100, 900, 900, 900) == gore(100, 100, 900)
    text = gored('[garment.skirt.gores]\ncount = 4\nround = "24 in"', skirt='hem = "none"')
    piece = read_drafts(text)[0].pieces[0]
    assert (piece.length, piece.breadth) == (int(36.5 * INCH), 7 * INCH)
    assert piece.area2 == 2 * piece.length * piece.breadth


def test_the_cut_gore_is_the_finished_one_with_its_allowances_outside() -> None:
    (draft,) = read_drafts(gored(FIVE, skirt='hem = "facing"'))
    piece = named(draft, "side gore")
    finished = gore(4 * INCH, 22 * INCH, 36 * INCH)
    cut = with_allowance(finished, INCH / 2)
    assert piece.outline is not None
    assert piece.outline.area == pytest.approx(cut.area)
    hem = [mark for mark in piece.marks if mark.kind is MarkKind.HEM]
    chords = sum(math.dist((m.u0, m.v0), (m.u1, m.v1)) for m in hem)
    assert 0.999 * 22 * INCH < chords <= 22 * INCH + len(hem)
    assert draft.garment.cut_length == 37 * INCH


@settings(max_examples=60, deadline=None)
@given(
    st.floats(20 * MM, 400 * MM), st.floats(1.0, 6.0),
    *[st.floats(850 * MM, 1050 * MM)] * 3,
)  # fmt: skip
def test_a_sloping_gore_keeps_its_top_its_hem_and_its_lengths(
    top: float, flare: float, low: float, middle: float, high: float
) -> None:
    # From seam to seam the waist of a real wearer slopes by a few centimetres, not steeper.
    low, high = (middle + (side - middle) * top / (800 * MM) for side in (low, high))
    hem = max(top * flare, 1.1 * math.hypot(top, high - low))
    made = gore_outline(top, hem, low, middle, high)
    assert made.edge("start").length == pytest.approx(top, abs=0.01)
    assert made.edge("end").length == pytest.approx(hem, rel=1e-9)
    assert made.edge("low").length == pytest.approx(low)
    assert made.edge("high").length == pytest.approx(high)


def test_the_waistline_goes_over_the_lengths_that_were_given() -> None:
    line = Waistline(36 * INCH, 38 * INCH, 37 * INCH)
    places = [line.at(Fraction(part, 4)) for part in range(5)]
    assert [length / INCH for length in places] == pytest.approx([36, 38, 37, 38, 36])
    steep = max(
        abs(line.at(Fraction(k + 1, 999)) - line.at(Fraction(k, 999))) * 999 for k in range(999)
    )
    assert 0.7 * line.steepest(24 * INCH) < steep / (24 * INCH) <= line.steepest(24 * INCH)
    wearer = 'waist = "24 in"\nfront = "20 in"\nside = "37 in"\nback = "38 in"'
    said = "gores: the wearer's lengths of 20 in, 37 in, 38 in at front, side and back are too far"
    assert said in refused(gored(FIVE, wearer=wearer))


def test_seams_of_gores_that_meet_are_of_one_length() -> None:
    wearer = 'waist = "24 in"\nfront = "36 in"\nside = "37 in"\nback = "38 in"'
    tables = FIVE.replace('"22 in"', '"22 in"\ncount = 4')
    (draft,) = read_drafts(gored(tables, wearer=wearer, skirt='hem = "none"'))
    names = ["front gore", "side gore 1", "side gore 2", "back gore"]
    gores = [named(draft, name) for name in names]
    assert [(g.count, g.mirrored, g.folds) for g in gores] == [(1, 0, True)] + [(2, 1, False)] * 3

    def seam(piece: Piece, side: str) -> float:
        marks = [m for m in piece.marks if m.kind is MarkKind.SEAM]
        lines = [m for m in marks if abs(m.u1 - m.u0) > 30 * INCH]
        low, high = sorted(lines, key=lambda m: m.v0 + m.v1)
        mark = low if side == "low" else high
        return math.dist((mark.u0, mark.v0), (mark.u1, mark.v1))

    for before, after in pairwise(gores):
        assert seam(before, "high") == pytest.approx(seam(after, "low"), abs=2)
    # From 36 in front over 37 at the side to 38 behind, an eighth of the way round.
    assert seam(gores[0], "high") == pytest.approx((37 - math.cos(math.pi / 4)) * INCH, abs=2)
    assert seam(gores[3], "high") == pytest.approx(38 * INCH, abs=2)
    assert "Sew gores of one kind in the order of their numbers" in " ".join(draft.garment.advice)


def test_gores_all_alike_begin_in_the_middle_of_the_front() -> None:
    wearer = 'waist = "24 in"\nfront = "36 in"\nside = "37 in"\nback = "38 in"'
    tables = '[garment.skirt.gores]\ncount = 6\nround = "110 in"'
    (draft,) = read_drafts(gored(tables, wearer=wearer))
    found = [(p.name, p.count, p.mirrored) for p in draft.pieces[:-1]]
    assert found == [("gore 1", 1, 0), ("gore 2", 2, 1), ("gore 3", 2, 1), ("gore 4", 1, 0)]
    (level,) = read_drafts(gored(tables))
    assert [(p.name, p.count, p.mirrored, p.folds) for p in level.pieces[:-1]] == [
        ("gore", 6, 0, True)
    ]


# --- top, opening, advice -----------------------------------------------------------------


@pytest.mark.parametrize(
    ("at", "gores"),
    [
        ("front", {"front gore", "side gore"}),
        ("side", {"side gore", "back gore"}),
        ("back", {"back gore"}),
    ],
)
def test_the_opening_ends_in_the_seam_nearest_to_it(at: str, gores: set[str]) -> None:
    # Seams at 3/24, 7/24 and 12/24 of the waist: nearest to the side is the one behind it.
    opening = f'[garment.skirt.opening]\nat = "{at}"\nlength = "11 in"\n'
    (draft,) = read_drafts(gored(FIVE + opening))
    marked = {
        piece.name: [m for m in piece.marks if m.name.startswith("opening ends")]
        for piece in draft.pieces
    }
    assert {name for name, marks in marked.items() if marks} == gores
    assert draft.garment.opening == 11 * INCH
    for marks in marked.values():
        for mark in marks:
            assert math.dist((mark.u0, mark.v0), (mark.u1, mark.v1)) == pytest.approx(
                INCH / 2, abs=2
            )
            # On a gore nearly 36 in long it is 11 in below the waist, less what the seam leans.
            assert 9.5 * INCH < mark.u1 - INCH / 2 < 12.5 * INCH


def test_an_opening_in_the_middle_of_the_front_is_between_a_pair() -> None:
    opening = '[garment.skirt.opening]\nat = "front"\nlength = "11 in"\n'
    (draft,) = read_drafts(
        gored(FIVE.replace('hem = "20 in"', 'hem = "20 in"\ncount = 2') + opening)
    )
    marked = [p.name for p in draft.pieces if any("opening" in mark.name for mark in p.marks)]
    assert marked == ["front gore"]


def test_ease_widens_the_top() -> None:
    (draft,) = read_drafts(gored(FIVE + '[garment.skirt.band]\nease = "2 in"\n'))
    assert figure(draft, "round the waist") == 26 * INCH
    assert figure(draft, "front gore at the waist") == int(6.5 * INCH)


def test_hips_wider_than_the_skirt_are_told() -> None:
    wearer = 'waist = "24 in"\nhip = "{}"\nlength = "36 in"'
    # A gore widens evenly: 8 of 36 in below the waist it measures 24 + (112 - 24) x 8 / 36.
    hips = int((24 + 88 * 8 / 36) * INCH)
    (draft,) = read_drafts(gored(FIVE, wearer=wearer.format("38 in")))
    assert figure(draft, "round, 8 in below the waist") == hips
    assert "less than the wearer's" not in " ".join(draft.garment.advice)
    (draft,) = read_drafts(gored(FIVE, wearer=wearer.format("44 in")))
    assert "less than the wearer's 44 in; give it a wider hem" in " ".join(draft.garment.advice)


def test_a_turn_down_takes_the_place_of_the_waist_seam() -> None:
    (draft,) = read_drafts(gored(FIVE, skirt='turn_down = "1 in"\nhem = "none"'))
    (row,) = draft.garment.turn_downs
    assert (row.place, row.finished, row.depth) == ("all round", 36 * INCH, INCH)
    assert draft.garment.cut_length == 37 * INCH
    assert any(m.name == "fold of the turn-down" for m in draft.pieces[0].marks)
    # 88 in wider over 36 in of length: 88 / 36 in more an inch below the fold, as much less above.
    told = " ".join(draft.garment.advice)
    assert "The edge of the turn-down is 4 7/8 in shorter than the place it lies on" in told
