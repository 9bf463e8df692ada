"""The words for pieces that are cut out: chalked by place, told which way they lie."""

from __future__ import annotations

from dataclasses import replace

import pytest
from plan_shapes import SHAPED, Table, cut_out, wool

from marker.geometry.shapes import ring_sector
from marker.piece import Edges, Grain, Piece
from marker.plan.words.pairing import plain_turn
from marker.plan.words.runs import Work
from marker.plan.words.steps import steps
from marker.units import CM, System


def told(name: str) -> list[tuple[str, str]]:
    return [(step.numbers, step.text) for step in steps(SHAPED[name]().lays[0], System.CM)]


def test_a_lay_of_gores_is_chalked_and_cut_from_the_free_end() -> None:
    lines = told("gores")
    assert lines[0][1].startswith("Square the cut end: ")
    assert lines[1] == (
        "then",
        "Chalk round every piece before you cut on: along from the squared end, across from the "
        "outer edge of the near selvedge. A shaped piece lies with its leftmost and its nearest "
        "point at the places told.",
    )
    assert lines[2][1] == (
        "Cut right across at 84.7 cm, along a thread: a drop of 84.7 cm with A-1 to A-4."
    )
    assert lines[3][1] == (
        "A-1, A-3 (gore), waist to the free end: chalk at the squared end and 1 and 59.5 cm from "
        "the near selvedge; each reaches over 84.7 along × 43.8 cm across."
    )
    assert lines[4][1].startswith("A-2, A-4 (gore), hem to the free end: ")
    assert lines[5] == ("5", "Cut out A-1 to A-4, along their outlines.")
    assert lines[8] == ("8", "Cut out C-1, along its outline.")


def test_every_copy_is_chalked_once_and_cut_out_once() -> None:
    for name in ("gores", "bias"):
        lay = SHAPED[name]().lays[0]
        cuts = [text for _, text in told(name) if text.startswith("Cut out")]
        chalked = [text for _, text in told(name) if ": chalk " in text]
        for spot in lay.placements:
            assert sum(_names(text.split("(")[0], spot.letter, spot.copy) for text in chalked) == 1
            assert sum(_names(text, spot.letter, spot.copy) for text in cuts) == 1


def _names(text: str, letter: str, copy: int) -> bool:
    """Whether a text names a copy, itself or in a run "A-1 to A-4"."""
    parts = text.replace(",", " ").replace(".", " ").split()
    copies: set[int] = set()
    for index, part in enumerate(parts):
        if part.startswith(f"{letter}-"):
            copies.add(int(part.split("-")[1]))
            if index > 1 and parts[index - 1] == "to":
                copies |= set(range(int(parts[index - 2].split("-")[1]), int(part.split("-")[1])))
    return copy in copies


def test_bias_and_turned_over_are_said_where_a_piece_is_chalked() -> None:
    lines = [text for _, text in told("bias")]
    assert any(text.startswith("C-1 to C-5 (hem binding strip), on the bias: ") for text in lines)
    (over,) = [text for text in lines if "turned over" in text]
    assert over.startswith("B-2 (yoke), waist to the free end, turned over: ")


def test_strips_that_differ_by_half_a_turn_are_chalked_in_one_step() -> None:
    """A strip with slanting ends is the same after half a turn, so are those cut on the bias."""
    lay = SHAPED["bias"]().lays[0]
    lines = [step.text for step in steps(lay, System.CM)]
    turned = tuple(
        replace(spot, turn=(spot.turn + 180) % 360) if spot.id in ("C-2", "C-3") else spot
        for spot in lay.placements
    )
    assert [step.text for step in steps(replace(lay, placements=turned), System.CM)] == lines
    strips = [spot for spot in turned if spot.letter == "C"]
    assert len({spot.turn for spot in strips}) == 2
    assert {plain_turn(lay.piece("C"), spot) for spot in strips} == {strips[0].turn % 180}
    gore = SHAPED["gores"]().lays[0]
    turns = {plain_turn(gore.piece("A"), s) for s in gore.placements if s.letter == "A"}
    assert turns == {0, 180}


def test_tears_come_first_then_the_part_for_the_shears_by_its_own_corner() -> None:
    lay = SHAPED["mixed"]().lays[0]
    lines = told("mixed")
    last = len(lay.tears)
    at = next(i for i, (numbers, _) in enumerate(lines) if numbers == f"{last + 1}")
    assert lines[at][1] == (
        "Part of B-1 to B-4, C-1, C-2 (116 along × 138 cm across), for the shears: chalk round "
        "every piece before you cut, measuring from its left and its near edge. A shaped piece "
        "lies with its leftmost and its nearest point at the places told."
    )
    assert "chalk at its left edge and 0 and 58.5 cm from its near edge" in lines[at + 1][1]
    assert lines[-1][1] == "Cut out B-1 to B-4, C-1, C-2, along their outlines."
    numbers = [int(one.split(" to ")[0]) for one, _ in lines]
    assert numbers == sorted(numbers)


def test_a_region_is_never_told_as_a_piece_torn_free() -> None:
    """Not even where a piece fills it: A-1 is torn free, unless its place is for the shears."""
    lay = SHAPED["mixed"]().lays[0]
    first = next(spot for spot in lay.placements if spot.letter == "A").rect(lay.piece("A"))
    assert Work(lay, System.CM).freed(first)
    alone = replace(lay, regions=(first,))
    assert not Work(alone, System.CM).freed(first)
    text = " ".join(step.text for step in steps(alone, System.CM))
    assert "tear: selvedge, the part for the shears (A-1), remnant." in text


@pytest.mark.parametrize(
    "line",
    [
        "A-2 with A-3 underneath (gore), hem to the free end: chalk at the squared end and 1 cm",
        "A-1 (gore), waist to the free end, on the fold: chalk at the squared end and 48.2 cm",
        "each its near half, ",
        "C-1 with C-2 underneath (pocket): chalk at 117.2 cm",
        "Cut out A-1, A-2 through both layers, along their outlines; leave the fold itself uncut.",
    ],
)
def test_folded_cloth_is_chalked_on_its_upper_layer(line: str) -> None:
    text = " ".join(text for _, text in told("folded"))
    if line.startswith("each"):
        assert line not in text
        assert "reaches over its near half, 84.7 along × 21.9 cm across" in text
    else:
        assert line in text


def test_folding_comes_before_the_chalk_and_nothing_below_is_chalked() -> None:
    lines = told("folded")
    assert [numbers for numbers, _ in lines][:2] == ["1", "then"]
    assert lines[1][1].startswith(
        "Fold the cloth lengthwise, right sides together, selvedge on selvedge, and pin it: "
    )
    chalked = " ".join(text.split(" with ")[0] for _, text in lines if ": chalk " in text)
    assert "A-3" not in chalked
    assert "B-2" not in chalked


def test_a_copy_on_the_fold_is_not_told_with_pairs_beside_it() -> None:
    """Though both lie the same way, at one place along."""
    record = SHAPED["folded"]()
    lay = record.lays[0]
    turned = tuple(
        replace(spot, turn=0) if spot.id in ("A-2", "A-3") else spot for spot in lay.placements
    )
    lines = [step.text for step in steps(replace(lay, placements=turned), System.CM)]
    assert any(line.startswith("A-2 with A-3 underneath (gore), waist to") for line in lines)
    assert any(
        line.startswith("A-1 (gore), waist to the free end, on the fold: ") for line in lines
    )


def test_what_the_places_mean_is_told_for_the_first_region_only() -> None:
    lay = SHAPED["mixed"]().lays[0]
    region = lay.regions[0]
    cut = [spot for spot in lay.placements if spot.letter in "BC"]
    edge = max(s.rect(lay.piece("B")).x1 for s in cut if s.letter == "B")
    halves = (replace(region, x1=edge), replace(region, x0=edge))
    text = " ".join(step.text for step in steps(replace(lay, regions=halves), System.CM))
    assert text.count("for the shears: chalk round every piece before you cut") == 2
    assert text.count("at the places told") == 1
    assert text.index("Part of B-1") < text.index("at the places told") < text.index("Part of C-1")


@pytest.mark.parametrize(
    ("near", "way"),
    [(True, "through the upper layer only"),
     (False, "through both layers, what comes from the upper one to spare")],
)  # fmt: skip
def test_an_odd_copy_on_folded_cloth_is_cut_through_the_layer_it_lies_in(
    near: bool, way: str
) -> None:
    lay = SHAPED["folded"]().lays[0]
    pockets = [spot for spot in lay.placements if spot.letter == "C"]
    one = next(spot for spot in pockets if (2 * spot.y < lay.cloth.laid_width) is near)
    kept = tuple(s for s in lay.placements if s not in pockets or s == one)
    pieces = tuple(replace(p, count=1) if p.letter == "C" else p for p in lay.pieces)
    cut = steps(replace(lay, pieces=pieces, placements=kept), System.CM)[-1].text
    assert f"through both layers; {one.id} {way}, along their outlines" in cut


def facing(turn: int, **more: object) -> str:
    """What is told of how a crescent lies: tips at its `top`, which is hollow."""
    outline = ring_sector(80 * CM, 88 * CM, 1.2)
    names = {"edges": Edges("top", "hem", "front edge", "seam"), **more}
    piece = Piece.shaped("A", "facing", outline, 1, "main", **names)
    table = Table((piece,))
    table.put(("A", turn, False), 0, 0)
    lay = cut_out(wool(squaring=0), (piece,), table, CM)
    return next(s.text for s in steps(lay, System.CM) if s.text.startswith("A-1 "))


def test_an_edge_is_named_by_where_it_faces_not_by_its_tips() -> None:
    """The tips of a crescent lie first, but it is its hollow edge that faces the free end."""
    assert facing(0).startswith("A-1 (facing), top to the free end: ")
    assert facing(180).startswith("A-1 (facing), hem to the free end: ")


def test_a_piece_that_no_name_tells_apart_is_told_by_its_draft() -> None:
    both = Edges("top", "hem", "seam", "seam")
    across = {"grain": Grain.EITHER, "edges": both}
    assert facing(90, **across).startswith("A-1 (facing), top to the near edge: ")
    assert facing(270, **across).startswith("A-1 (facing), hem to the near edge: ")
    one = Edges(high="front edge", end="towards the back")
    assert facing(0, edges=one).startswith(
        "A-1 (facing), “towards the back” away from the free end: "
    )
    assert facing(180, edges=one).startswith("A-1 (facing), “towards the back” to the free end: ")
    bare = {"grain": Grain.EITHER, "edges": Edges()}
    for turn, words in (
        (0, "the way it is drafted"),
        (90, "its draft turned a quarter to the left"),
        (180, "its draft turned half round"),
        (270, "its draft turned a quarter to the right"),
    ):
        assert facing(turn, **bare).startswith(f"A-1 (facing), {words}: ")
