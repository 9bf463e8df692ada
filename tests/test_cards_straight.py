"""Cards of straight pieces: what shares a card, what is left inside, and the drawing's measures."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations, pairwise
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from marker import record as records
from marker.piece import Mark, MarkKind, Piece
from marker.plan.cards.axis import axis
from marker.plan.cards.family import Family, families
from marker.plan.cards.figure import draw
from marker.plan.cards.finished import inside
from marker.plan.cards.measures import readings
from marker.plan.cards.pages import LYING, STANDING, cards_data
from marker.plan.cards.seen import lies, seen
from marker.plan.drawing.page import Box
from marker.plan.drawing.verbs import Drawing, Words
from marker.record import Method, Pleating, Record
from marker.units import CM, MM, System

OUT = Path(__file__).parents[1] / "out"
CASES = sorted(path.parent.name for path in OUT.glob("*/lay.json"))


def demo(name: str) -> Record:
    return records.load(OUT / name / "lay.json")


def bare(name: str) -> Record:
    """A demo case without what is chalked while it is sewn, so that figures can be told by hand."""
    told = demo(name)
    lays = tuple(
        replace(
            lay,
            pieces=tuple(
                replace(
                    piece,
                    meets=(),
                    marks=tuple(m for m in piece.marks if m.kind is not MarkKind.CHALK),
                )
                for piece in lay.pieces
            ),
        )
        for lay in told.lays
    )
    garments = tuple(replace(one, pleating=None) for one in told.garments)
    return replace(told, lays=lays, garments=garments)


def drawn(family: Family) -> tuple[Drawing, tuple[int, int]]:
    """A card's drawing, sizes that differ told by an "x"."""
    sizes = [seen(sort.drawn) for sort in family.sorts]
    return draw(
        sizes,
        lambda values: (str(values[0] / CM) if len(set(values)) == 1 else "x",),
        LYING if lies(family.piece) else STANDING,
    )


def all_families() -> Iterator[tuple[str, Family]]:
    for name in CASES:
        for family in families(demo(name)):
            yield name, family


def card_of(name: str, letter: str) -> Family:
    return next(one for one in families(bare(name)) if letter in one.letters)


def test_there_are_demo_cases() -> None:
    assert len(CASES) > 12


@pytest.mark.parametrize("name", CASES)
def test_every_piece_has_its_place_on_one_card(name: str) -> None:
    told = demo(name)
    data = cards_data(told)
    cards = data["straight"] + data["shaped"]
    letters = [
        letter
        for card in cards
        for letter in card["letters"]
        or [one for row in card["table"]["rows"] for one in row[0].split(", ")]
    ]
    pieces = {piece.letter for lay in told.lays for piece in lay.pieces}
    assert sorted(letters) == sorted(pieces)
    count = sum(int(re.findall(r"\d+", card["count"])[0]) for card in cards)
    assert count == sum(len(lay.placements) for lay in told.lays)


def test_pieces_of_a_company_share_a_card_and_their_sizes_stand_in_its_table() -> None:
    cards = cards_data(bare("village-company"))["straight"]
    band = next(card for card in cards if card["name"] == "band")
    assert band["letters"] == ["A2", "B2", "C2", "D2", "E2", "F2"]
    assert band["table"]["head"] == ["", "for", "cut", "a", "finished"]
    # Her waist 68 cm, 5.5 cm of underlap and ease, two seams: 77.5; folded it is 8 / 2 - 1.
    assert band["table"]["rows"][0] == ["A2", "Hesse", "1", "77.5", "75.5 × 3 cm"]
    assert len(cards) == 3, "turned down all round, and by places: two makes of panel"


def test_alike_pieces_of_two_wearers_need_no_table() -> None:
    strip = next(c for c in cards_data(demo("railroaded-pair"))["straight"] if "A2" in c["letters"])
    assert strip["letters"] == ["A2", "B2"] and strip["table"] is None
    assert strip["count"] == "cut 4"
    assert ["cut", "182 × 16 cm"] in strip["rows"]


def test_sizes_are_not_told_together_where_a_line_is_missing() -> None:
    told = demo("village-company")
    lay = told.lays[0]
    pieces = tuple(
        replace(piece, marks=piece.marks[:-1]) if piece.letter == "C2" else piece
        for piece in lay.pieces
    )
    bands = families(replace(told, lays=(replace(lay, pieces=pieces),)))
    assert [card.letters for card in bands if "C2" in card.letters] == [("C2",)]


def test_garments_of_another_name_have_cards_of_their_own() -> None:
    told = demo("village-company")
    first, *others = told.garments
    bands = families(replace(told, garments=(replace(first, name="Short skirt"), *others)))
    assert [card.letters for card in bands if "A2" in card.letters] == [("A2",)]


def panel(*marks: Mark) -> Piece:
    return Piece("A", "panel", 100 * CM, 60 * CM, 2, "main", marks=marks)


def level(kind: MarkKind, name: str, at: int) -> Mark:
    return Mark(kind, name, at * CM, 0, at * CM, 60 * CM)


def test_what_is_left_of_a_panel_lies_between_turn_down_and_hem() -> None:
    one = panel(
        level(MarkKind.FOLD, "fold of the turn-down", 6),
        level(MarkKind.HEM, "hem line", 95),
        level(MarkKind.FOLD, "tuck", 80),
        Mark(MarkKind.SEAM, "seam", 0, CM, 100 * CM, CM),
        Mark(MarkKind.SEAM, "seam", 0, 58 * CM, 100 * CM, 58 * CM),
        Mark(MarkKind.NOTCH, "opening ends", 33 * CM, 0, 33 * CM, CM),
    )
    along, across = inside(one, lengthwise=True), inside(one, lengthwise=False)
    assert along is not None and along.places == (("", 89 * CM),) and not along.folded
    assert across is not None and across.places == (("", 57 * CM),)
    assert inside(panel(), lengthwise=True) is None
    deep = inside(panel(level(MarkKind.FOLD, "fold of the casing", 45)), lengthwise=True)
    assert deep is not None and deep.places == (("", 55 * CM),), "in the upper half, if barely"


def test_a_turn_down_that_differs_leaves_a_length_at_every_place() -> None:
    folds = [
        level(MarkKind.FOLD, f"fold of the turn-down ({place})", depth)
        for place, depth in (("front", 8), ("side", 7), ("back", 6))
    ]
    along = inside(panel(*folds, level(MarkKind.HEM, "hem line", 94)), lengthwise=True)
    assert along is not None
    assert along.places == (("front", 86 * CM), ("side", 87 * CM), ("back", 88 * CM))


def test_a_band_folded_in_two_keeps_half_its_breadth_less_the_seam() -> None:
    band = card_of("plain-skirt", "B").piece
    across = inside(band, lengthwise=False)
    assert across is not None and across.folded and across.places == (("", 3 * CM),)


def told_of(drawing: Drawing) -> list[str]:
    return [mark.text for mark in drawing.over if isinstance(mark, Words)]


def test_a_panel_is_measured_from_the_nearer_edge() -> None:
    drawing, _ = drawn(card_of("plain-skirt", "A"))
    figures = [text for text in told_of(drawing) if text[0].isdigit()]
    # Cut 68 x 99; seams 1 and 1, turn-down 6, opening 32 from the waist, hem 99 - 94 = 5.
    assert sorted(figures) == ["1.0", "1.0", "32.0", "5.0", "6.0", "68.0", "99.0"]
    assert {"waist", "hem", "turn-down", "opening ends", "hem line", "grain"} <= set(
        told_of(drawing)
    )


@pytest.mark.parametrize("name", CASES)
def test_every_line_and_notch_has_its_figure(name: str) -> None:
    """Each distance from the nearer edge, reckoned here from the marks, is printed."""
    for family in families(demo(name)):
        piece = family.piece
        wanted = set()
        for mark in piece.marks:
            for a, b, size in ((mark.u0, mark.u1, piece.length), (mark.v0, mark.v1, piece.breadth)):
                if a == b and 0 < a < size:
                    wanted.add(min(a, size - a))
        many = [seen(sort.piece) for sort in family.sorts]
        told = {one.values[0] for way in (True, False) for one in readings(many, way)}
        assert told == wanted
        figures = set(told_of(drawn(family)[0]))
        same = {
            one.values[0]
            for way in (True, False)
            for one in readings(many, way)
            if len(set(one.values)) == 1
        }
        assert {str(value / CM) for value in same} <= figures


@pytest.mark.parametrize("name", CASES)
def test_no_words_of_a_drawing_meet_or_leave_it(name: str) -> None:
    for family in families(demo(name)):
        drawing, size = drawn(family)
        boxes = [label.box for label in drawing.labels]
        assert boxes
        page = Box(0, 0, *size)
        outside = [label.owner for label in drawing.labels if not page.holds(label.box)]
        assert not outside, (family.letters, outside)
        for a, b in combinations(drawing.labels, 2):
            assert not a.box.hits(b.box), (family.letters, a.owner, b.owner)


def test_a_strip_far_longer_than_it_is_drawn_has_a_break() -> None:
    long = Piece("A", "tie", 300 * CM, 4 * CM, 1, "main", up="breadth")
    short = replace(long, length=20 * CM)

    def zigzags(piece: Piece) -> int:
        sizes = [seen(piece)]
        drawing, _ = draw(sizes, lambda values: (str(values[0]),), LYING)
        runs = [mark.runs[0] for mark in drawing.over if hasattr(mark, "runs")]
        return sum(len(run) == 6 for run in runs)

    assert zigzags(long) == 2 and zigzags(short) == 0


@given(st.sets(st.integers(1, 100_000), min_size=1, max_size=12), st.integers(6000, 12000))
def test_an_axis_keeps_order_and_distance(values: set[int], most: int) -> None:
    least = 400
    made = axis({0, *values}, most, least)
    assert made.stops == tuple(sorted({0, *values}))
    assert all(b - a >= least for a, b in pairwise(made.places))
    assert made.long <= max(most, least * (len(made.stops) - 1)) + len(made.stops)
    assert [made.at(stop) for stop in made.stops] == list(made.places)
    gaps = sorted(
        (b - a, q - p)
        for (a, b), (p, q) in zip(pairwise(made.stops), pairwise(made.places), strict=True)
    )
    assert all(one <= two for (_, one), (_, two) in pairwise(gaps)), "more cloth, no less paper"


def test_figures_of_inches_are_set_as_fractions() -> None:
    told = demo("faced-skirt")
    assert told.units is System.IN
    card = next(c for c in cards_data(told)["straight"] if c["letters"] == ["A"])
    assert "41½" in card["figure"] and "1/2" not in card["figure"]
    assert ["cut", "41½ × 44 in"] in card["rows"]


def gauged(name: str, rows: int = 3) -> Record:
    """A demo case whose top is gauged in rows 1.3 cm apart, the first 3 mm below the fold."""
    told = demo(name)
    pleating = Pleating(Method.GAUGED, 6 * MM, rows, 13 * MM, 3 * MM)
    return replace(told, garments=tuple(replace(one, pleating=pleating) for one in told.garments))


def test_rows_of_gauging_are_measured_from_the_cut_edge() -> None:
    """The turn-down is 6 cm deep: 6 + 0.3, 1.6 and 2.9."""
    (card,) = (one for one in families(gauged("plain-skirt")) if one.piece.name == "panel")
    told = told_of(drawn(card)[0])
    assert {"6.3", "7.6", "8.9"} <= set(told) and "row of stitches" in told
    without = told_of(drawn(card_of("plain-skirt", "A"))[0])
    assert not {"6.3", "7.6", "8.9"} & set(without)


def test_no_row_is_drawn_below_a_fold_that_is_not_level() -> None:
    """The turn-down of this skirt is deeper in front than behind."""
    (card,) = (one for one in families(gauged("faced-skirt")) if one.piece.name == "panel")
    assert "row of stitches" not in told_of(drawn(card)[0])


def test_panels_of_different_rows_have_cards_of_their_own() -> None:
    told = gauged("railroaded-pair")
    assert [card.letters for card in families(told) if card.piece.name == "panel"] == [("A1", "B1")]
    first, second = told.garments
    other = replace(second, pleating=gauged("railroaded-pair", 2).garments[1].pleating)
    apart = families(replace(told, garments=(first, other)))
    assert [card.letters for card in apart if card.piece.name == "panel"] == [("A1",), ("B1",)]


def test_no_row_is_drawn_where_the_top_is_levelled_at_the_waist() -> None:
    """Gathered without a turn-down, along a line that lies deeper in front: no row is level."""
    told = gauged("plain-skirt")
    lay = told.lays[0]
    lines = tuple(level(MarkKind.SEAM, f"gathering line ({at})", 2) for at in ("front", "back"))
    pieces = tuple(
        replace(piece, marks=lines) if piece.name == "panel" else piece for piece in lay.pieces
    )
    (card,) = (
        one
        for one in families(replace(told, lays=(replace(lay, pieces=pieces),)))
        if one.piece.name == "panel"
    )
    assert "row of stitches" not in told_of(drawn(card)[0])
