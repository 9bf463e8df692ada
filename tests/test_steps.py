"""The tears in words: every tear told once, readings true, sums exact."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from example_lays import facing, in_drops, skirt, skirt_cloth, squares, torn_at_random
from hypothesis import given, settings
from hypothesis import strategies as st

from marker.cloth import Cloth
from marker.geometry import Rect
from marker.lay import Direction, Lay, Tear
from marker.piece import Piece
from marker.plan.words.steps import steps
from marker.plan.words.sums import check_sum, leftovers
from marker.plan.words.told import Step
from marker.units import CM, INCH, MM, System, parse

SEEDS = st.integers(0, 10_000)


def number(text: str) -> Fraction:
    return sum((Fraction(part) for part in text.split()), Fraction(0))


def ids_in(text: str) -> list[str]:
    """Every id that a text names, runs such as "A-1 to A-3" spelled out."""
    found = []
    for letter, first, last in re.findall(r"\b([A-Z]+\d*)-(\d+)(?: to \1-(\d+))?", text):
        found += [f"{letter}-{copy}" for copy in range(int(first), int(last or first) + 1)]
    return found


def low_edges(lay: Lay) -> dict[int, int]:
    """For each tear, where the tape lies: the squared end, or the low edge of the part."""
    edges: dict[int, int] = {}
    before: Tear | None = None
    for tear in lay.tears:
        across = tear.direction is Direction.ACROSS
        goes_on = before and before.stays == tear.in_hand and before.direction is tear.direction
        if before and goes_on:
            edges[tear.number] = edges[before.number]
        elif across and tear.in_hand == lay.bolt:
            edges[tear.number] = 0
        else:
            edges[tear.number] = tear.in_hand.x0 if across else tear.in_hand.y0
        before = tear
    return edges


def readings_told(text: str) -> list[Fraction] | None:
    """The readings of a step in its own unit; None where it tells none."""
    if found := re.search(r"nip every (\S+) to (\S+) (?:cm|in)", text):
        each, last = Fraction(found[1]), Fraction(found[2])
        return [each * (i + 1) for i in range(int(last / each))]
    if found := re.search(r"nip at (.+?) (?:cm|in)\b", text):
        return [number(part) for part in re.split(r", | and ", found[1])]
    return None


def test_a_skirt_is_told_in_five_lines() -> None:
    # 13 tears: common practice, no source.
    told = steps(skirt(), System.CM)
    assert [(step.numbers, step.text) for step in told] == [
        ("1", "Square the cut end: snip 2.5 cm from it, tear across. This edge is 0."),
        ("2 to 4", "Snip at 108, 216 and 324 cm; tear across: three drops of 108 cm: A-1 to A-3."),
        ("5", "Snip at 331.5 cm; tear across: a drop of 7.5 cm: B-1, 6 cm left."),
        ("6 to 11", "Each of three drops (A-1 to A-3): snip 1 cm from either edge, "
         "tear off both selvedges."),
        ("12 to 13", "Drop of B-1: from its near edge snip at 1 and 79 cm; "
         "tear: selvedge, B-1 (band), waste."),
    ]  # fmt: skip


def test_most_lines_fit_half_a_page() -> None:
    for lay in (skirt(), facing()):
        told = steps(lay, lay_units(lay))
        assert sum(len(step.text) <= 95 for step in told) >= 0.75 * len(told)
        assert max(len(step.text) for step in told) <= 140


def lay_units(lay: Lay) -> System:
    return System.IN if lay.cloth.key == "facing" else System.CM


def test_like_strips_within_a_drop_are_told_together() -> None:
    told = [step.text for step in steps(facing(), System.IN)]
    assert any("five strips (G-1 to G-10)" in text for text in told)
    assert any("go on, snip at 42 1/2 in; tear: a strip (G-11, G-12), waste" in t for t in told)
    assert any(
        text
        == "Each of six strips (G-1 to G-12): from its left edge snip at 6 1/2 in; tear: two G."
        for text in told
    )


def test_an_even_row_is_told_by_its_pitch_only_where_print_is_exact() -> None:
    inches = [step.text for step in steps(squares(), System.IN)]
    assert inches[0].startswith("Snip every 4 to 24 in; tear across: six drops of 4 in")
    centimetres = [step.text for step in steps(squares(), System.CM)]
    # 4 in = 10.16 cm: each reading is rounded up for itself, so that no error adds up.
    assert centimetres[0].startswith("Snip at 10.2, 20.4, 30.5, 40.7, 50.8 and 61 cm;")


def test_a_block_of_tears_done_again_is_told_once() -> None:
    cloth = Cloth("main", "cloth", 30 * CM, CM)
    pieces = (
        Piece("A", "big", 10 * CM, 20 * CM, 3, "main"),
        Piece("B", "small", 5 * CM, 10 * CM, 6, "main"),
    )
    lay = in_drops(cloth, pieces, [(10 * CM, [("A", 0, 1), ("B", 0, 2)])] * 3)
    told = steps(lay, System.CM)
    assert told[-1] == Step(5, 8, "Do as in tears 3 to 4, two times more: A-2, A-3, B-3 to B-6.")
    assert all_once(lay, told)


def all_once(lay: Lay, told: tuple[Step, ...]) -> bool:
    covered = [n for step in told for n in range(step.first, step.last + 1)]
    return covered == [tear.number for tear in lay.tears]


@given(SEEDS)
@settings(max_examples=150)
def test_every_tear_stands_in_one_step_and_in_order(seed: int) -> None:
    lay = torn_at_random(seed)
    assert all_once(lay, steps(lay, System.CM))


@given(SEEDS)
@settings(max_examples=150)
def test_readings_are_those_of_the_tears(seed: int) -> None:
    lay = torn_at_random(seed)
    edges = low_edges(lay)
    for step in steps(lay, System.CM):
        tears = lay.tears[step.first - 1 : step.last]
        wanted = [Fraction(tear.at - edges[tear.number], CM) for tear in tears]
        told = readings_told(step.text)
        if told is None:
            assert re.match(r"Square|Do as in|.*from (either|the (near|far)) edge", step.text)
        else:
            times = len(wanted) // len(told)
            assert told * times == wanted


@given(SEEDS)
@settings(max_examples=150)
def test_steps_name_every_piece(seed: int) -> None:
    lay = torn_at_random(seed)
    named = {found for step in steps(lay, System.CM) for found in ids_in(step.text)}
    torn = lay.tears != ()
    assert named == ({placed.id for placed in lay.placements} if torn else set())


@given(SEEDS, st.sampled_from([MM, 127, 1000, 4064 // 8]), st.sampled_from(System))
@settings(max_examples=200)
def test_printed_sums_agree_or_say_that_they_are_about_right(
    seed: int, grain: int, units: System
) -> None:
    lay = torn_at_random(seed, grain)
    text = check_sum(lay, units)
    head, _, tail = text.partition(f" {units.value}")
    terms, _, total = head.partition(" = ")
    summed = Fraction(0)
    for term in terms.split(" + "):
        times, _, size = re.sub(r" (squaring|waste|remnant)", "", term).rpartition(" × ")
        summed += int(times or 1) * number(size)
    about, total = total.startswith("about "), total.removeprefix("about ")
    assert about == bool(total and summed != number(total))
    if found := re.search(r"with (.+?) (?:cm|in) left, (.+?) (?:cm|in)", tail):
        assert (number(total) if total else summed) + number(found[1]) == number(found[2])
    if "rounded" not in text:
        whole = summed + (number(found[1]) if found else 0)
        assert whole * (CM if units is System.CM else INCH) == lay.bolt.along


def test_check_sum_of_a_skirt() -> None:
    # 3 x 108 + 7.5 = 331.5: common practice, no source.
    assert check_sum(skirt(), System.CM) == (
        "2.5 squaring + 3 × 108 + 7.5 = 334 cm; with 6 cm left, 340 cm, the whole cloth."
    )
    assert check_sum(skirt(), System.IN).endswith("(figures rounded).")
    assert check_sum(facing(), System.IN) == (
        "1 squaring + 3 × 7 + 13 + 3 = 38 in; with 2 1/2 in left, 40 1/2 in, the whole cloth."
    )


def test_a_full_cloth_has_nothing_left() -> None:
    assert check_sum(squares(), System.IN) == "33 × 4 = 132 in, the whole cloth."
    last = [step for step in steps(squares(), System.IN) if step.last == 32]
    assert last[0].text.endswith("S-225 stays in hand.")


def test_leftovers_name_remnants_first() -> None:
    cloth = Cloth("main", "cloth", 100 * CM, 10 * CM)
    lay = in_drops(
        cloth, (Piece("A", "panel", 75 * CM, 60 * CM, 1, "main"),), [(75 * CM, [("A", 0, 1)])]
    )
    assert leftovers(lay, System.CM) == (
        "Remnant to keep: 75 along × 40 cm across.",
        "Waste: 6.3 % of the cloth.",
    )
    # The remnant stands in the steps as one, the narrow end as what is left.
    texts = [step.text for step in steps(lay, System.CM)]
    assert texts[0].endswith("a drop of 75 cm: A-1, 5 cm left.")
    assert texts[1].endswith("tear: A-1 (panel), remnant.")


def test_equal_remnants_are_told_in_one_line() -> None:
    cloth = Cloth("main", "cloth", 100 * CM, 10 * CM)
    piece = Piece("A", "panel", 75 * CM, 60 * CM, 2, "main")
    lay = in_drops(cloth, (piece,), [(75 * CM, [("A", 0, 1)])] * 2)
    told = leftovers(lay, System.CM)
    assert told == ("Two remnants to keep, each 75 along × 40 cm across.",)


def test_a_part_with_many_pieces_is_called_by_its_first() -> None:
    cloth = Cloth("main", "cloth", 100 * CM, 10 * CM, squaring=2 * CM)
    pieces = [Piece(letter, letter.lower(), 10 * CM, 20 * CM, 1, "main") for letter in "ABCDE"]
    lay = in_drops(cloth, pieces, [(10 * CM, [(letter, 0, 1) for letter in "ABCDE"])])
    assert [step.text for step in steps(lay, System.CM)[1:]] == [
        "Snip at 10 cm; tear across: a drop of 10 cm: A-1 and four more, 8 cm left.",
        "Drop of A-1 and four more: from its near edge snip every 20 to 80 cm; "
        "tear: A-1 (a), B-1 (b), C-1 (c), D-1 (d), E-1 (e).",
    ]


def test_nothing_left_over_is_said() -> None:
    cloth = Cloth("main", "cloth", 60 * CM, 10 * CM)
    piece = Piece("A", "panel", 80 * CM, 60 * CM, 1, "main")
    lay = in_drops(cloth, (piece,), [(80 * CM, [("A", 0, 1)])])
    assert lay.tears == () and steps(lay, System.CM) == ()
    assert leftovers(lay, System.CM) == ("Nothing is left over.",)
    assert check_sum(lay, System.CM) == "80 cm, the whole cloth."


def test_one_selvedge_is_told_by_its_side() -> None:
    cloth = Cloth("main", "cloth", 62 * CM, 10 * CM, CM)
    piece = Piece("A", "panel", 80 * CM, 61 * CM, 1, "main")
    kept_far = in_drops(cloth, (piece,), [(80 * CM, [("A", 0, 1)])])
    assert steps(kept_far, System.CM)[0].text == (
        "The whole cloth: snip 1 cm from the near edge, tear off the selvedge."
    )


def test_a_washed_cloth_is_summed_as_it_lies() -> None:
    from dataclasses import replace
    from decimal import Decimal

    washed = replace(skirt_cloth(), warp_shrinkage=Decimal(3), weft_shrinkage=Decimal(1))
    piece = Piece("A", "panel", parse("108 cm"), parse("110 cm"), 2, "main")
    lay = in_drops(washed, (piece,), [(parse("108 cm"), [("A", 0, 1)])] * 2)
    text = check_sum(lay, System.CM)
    assert "2.5 squaring + 2 × 108 = 218.5 cm" in text and "after washing" in text


@pytest.mark.parametrize("count", [2000])
def test_a_great_lay_is_told_at_once(count: int) -> None:
    cloth = Cloth("main", "cloth", 100 * CM, 10 * CM, CM)
    piece = Piece("A", "panel", 9 * CM, 98 * CM, count, "main")
    lay = in_drops(cloth, (piece,), [(9 * CM, [("A", 0, 1)])] * count)
    told = steps(lay, System.CM)
    assert all_once(lay, told)
    assert isinstance(lay.bolt, Rect) and f"drops (A-1 to A-{count}): snip 1 cm" in told[-1].text
