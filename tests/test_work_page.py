"""The sheet's order of work: alike garments told once, every step with its box and its figures."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from example_lays import record
from test_sheet import pages, set_sheet

from marker.plan.work.alike import FIGURE, Order, orders
from marker.plan.work.page import in_hand, work_data
from marker.record import Garment, Method, Pleating, Stage, Task, load
from marker.units import set_fractions

OUT = Path(__file__).parents[1] / "out"
WORDS = (
    (Stage.MARK, "Chalk the hem line {} cm above the lower edge and seams 1 cm inside.", ("A1",)),
    (Stage.JOIN, "Sew 2 seams of the band, which ends at {} cm.", ("A1", "A2")),
    (Stage.FINISH, "Press it.", ()),
)


def garment(wearer: str, letter: str, *figures: str) -> Garment:
    told = iter(figures)
    work = tuple(
        Task(
            stage,
            text.format(next(told)) if "{}" in text else text,
            tuple(one.replace("A", letter) for one in letters),
        )
        for stage, text, letters in WORDS
    )
    return Garment(f"skirt-{letter}", "Round skirt", wearer, work=work)


ADA, BEA, CORA = garment("Ada", "A", "4", "70.5"), garment("Bea", "B", "5", "81"), garment(
    "Cora", "C", "4", "66 1/2"
)  # fmt: skip


def told_for(order: Order, number: int) -> list[str]:
    """Every step as it is for one garment, the letters of the table put back."""
    values = {letter: of_all[number] for letter, of_all in order.table}
    return [
        "".join(values[text] if apart else text for text, apart in task.words)
        for task in order.tasks
    ]


def test_garments_made_alike_are_told_once_with_letters_for_what_differs() -> None:
    (order,) = orders((ADA, BEA, CORA))
    assert [one.wearer for one in order.garments] == ["Ada", "Bea", "Cora"]
    assert order.table == (("a", ("4", "5", "4")), ("b", ("70.5", "81", "66½")))
    assert order.tasks[0].words == (
        ("Chalk the hem line ", False), ("a", True),
        (" cm above the lower edge and seams 1 cm inside.", False),
    )  # fmt: skip
    assert order.tasks[0].letters == ("A1", "B1", "C1")
    assert order.tasks[2].words == (("Press it.", False),)


@pytest.mark.parametrize("number", range(3))
def test_every_wearer_finds_her_own_figures_in_the_table(number: int) -> None:
    made = (ADA, BEA, CORA)
    (order,) = orders(made)
    own = [set_fractions(task.text) for task in made[number].work]
    assert told_for(order, number) == own


def test_other_words_are_another_order() -> None:
    other = replace(BEA, work=(*BEA.work[:2], Task(Stage.FINISH, "Press the hem.")))
    assert [len(order.garments) for order in orders((ADA, other, CORA))] == [2, 1]
    longer = replace(BEA, work=BEA.work[:2])
    assert [len(order.garments) for order in orders((ADA, longer))] == [1, 1]
    assert orders((replace(ADA, work=()),)) == ()


def test_a_number_in_a_letter_is_no_figure() -> None:
    assert FIGURE.findall("A1-3 is 12.5 cm, 66½ in or ⁵⁄₁₆ in, and B2 to B2-10") == [
        "12.5", "66½", "⁵⁄₁₆",
    ]  # fmt: skip


@pytest.mark.slow
def test_the_page_begins_with_the_tears_and_sorts_steps_by_their_stage() -> None:
    case = record()
    mine = case.garments[0]
    work = tuple(Task(stage, f"Do the {stage.value}.", ("A",)) for stage in Stage)
    case = replace(case, garments=(replace(mine, work=work),))
    (page,) = work_data(case)
    names = [stage["name"] for stage in page["stages"]]
    assert names == ["Tear", "Mark", "Join", "Hem", "Draw up the top", "Band", "Finish"]
    first = page["stages"][0]["tasks"]
    assert [task["words"][0][0].split()[0] for task in first] == ["Tear"] * len(first)
    printed = next(text for text in pages(set_sheet(case)) if "Order of work" in text)
    for task in work:
        assert task.text in printed
    assert not any("Order of work" in text for text in pages(set_sheet(record())))


@pytest.mark.parametrize("method", Method)
def test_pleats_that_are_pressed_are_not_called_drawn_up(method: Method) -> None:
    case = record()
    work = (Task(Stage.GAUGE, "Fold the pleats.", ("A",)),)
    made = replace(case.garments[0], work=work, pleating=Pleating(method, pleats=8))
    (page,) = work_data(replace(case, garments=(made,)))
    drawn = method in (Method.GAUGED, Method.STROKE)
    assert page["stages"][-1]["name"] == ("Draw up the top" if drawn else "Pleat the top")


@pytest.mark.parametrize(
    ("letters", "told"),
    [
        ("A1 B1 C1 A2", "A1, B1, C1, A2"),
        ("A1 B1 C1 D1 E1 F1 G1", "A1, B1 … G1"),
        ("A2 A1 B2 B1 C2 C1 D2 D1", "A1, B1 … D1, A2, B2 … D2"),
        ("A1 B1 C1 D1 F1 G1 H3 I1", "A1, B1 … D1, F1, G1, I1, H3"),
        ("W1 X1 Y1 Z1 AA1 AB1 AC1", "W1, X1 … AC1"),
        ("A B C D E F G", "A, B, C, D, E, F, G"),
    ],
)
def test_like_pieces_of_many_wearers_are_told_in_short(letters: str, told: str) -> None:
    assert in_hand(letters.split()) == told


def test_figures_that_differ_are_printed_in_a_table() -> None:
    case = record()
    printed = pages(set_sheet(replace(case, garments=(ADA, BEA))))
    page = next(text for text in printed if "Order of work" in text)
    assert "Round skirt, for Ada, Bea" in page
    assert "a b Ada 4 70.5 Bea 5 81" in page


def test_a_long_list_of_pieces_is_told_as_all_of_them() -> None:
    case = load(OUT / "village-company" / "lay.json")
    work = (Task(Stage.FINISH, "Press it."),)
    case = replace(case, garments=tuple(replace(one, work=work) for one in case.garments))
    (page,) = work_data(case)
    placed = len(case.lays[0].placements)
    assert page["stages"][0]["tasks"][0]["words"][0][0].startswith(f"Tear all {placed} pieces of ")
    some = replace(case, garments=case.garments[:-1])
    (page,) = work_data(some)
    told = page["stages"][0]["tasks"][0]["words"][0][0]
    assert told.startswith("Tear all 20 pieces of A, B, C, D, E of Madder linen, ")
