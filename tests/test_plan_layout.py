"""What must hold of every plan, from one piece to sixty, from 30 cm of cloth to 20 m."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import pairwise

import pytest
from example_lays import facing, in_drops, torn_at_random
from example_lays import skirt as trimmed
from plan_checks import faults
from plan_lays import RECORDS, drawn, main_cloth, record, skirt

from marker.lay import Direction, Lay, Proof
from marker.piece import Grain, Piece
from marker.plan.drawing import style
from marker.plan.drawing.page import Box, Paper
from marker.plan.drawing.verbs import Disc, Drawing, Field, Label, Path, Words
from marker.plan.lays import notes
from marker.plan.lays.cloth_view import _join
from marker.plan.lays.layout import Plan, layout
from marker.plan.lays.margins import Tag
from marker.plan.lays.marks import together
from marker.plan.lays.stretches import stretches
from marker.plan.words.runs import Work
from marker.plan.words.told import Step
from marker.units import System, parse, set_fractions


def said(plan: Plan) -> list[str]:
    return [mark.text for mark in plan.drawing.over if isinstance(mark, Words)]


def of_kind(plan: Plan, *kinds: str) -> list[Label]:
    return [label for label in plan.drawing.labels if label.kind in kinds]


EVERY = pytest.mark.parametrize("name", RECORDS)
PAPERS = pytest.mark.parametrize(
    "paper", [Paper.A4, pytest.param(Paper.LETTER, marks=pytest.mark.slow)]
)


@EVERY
@PAPERS
def test_no_two_labels_meet_and_none_leaves_the_page(name: str, paper: Paper) -> None:
    _, lay, plan = drawn(name, paper)
    assert faults(plan, lay) == []


@pytest.mark.parametrize("seed", range(8))
@pytest.mark.slow
def test_labels_of_random_lays_do_not_meet(seed: int) -> None:
    lay = torn_at_random(seed)
    paper, units = list(Paper)[seed % 2], list(System)[seed // 2 % 2]
    plan = layout(record(lay, "Torn at random", units), lay, paper)
    assert faults(plan, lay) == []
    check_numbers(plan, lay)


def test_the_check_of_labels_can_fail() -> None:
    _, lay, plan = drawn("skirt", Paper.A4)
    ring = of_kind(plan, "ring")[0]
    spoiled = Drawing(**vars(plan.drawing))
    spoiled.labels = [
        *plan.drawing.labels,
        Label("piece", "twice", ring.box),
        Label("piece", "outside", Box(0, 0, 900, 300)),
        Label("piece", "on a tear", plan.view.box(lay.tears[1].falls).moved(*plan.corner)),
    ]
    spoiled.over = [*plan.drawing.over, Words((29_000, 20_000), "stray", 300)]
    spoiled.leaders = [(ring.box.middle, (0, 0))]
    text = " ".join(faults(replace(plan, drawing=spoiled), lay))
    for fault in (
        "covers piece 'twice'",
        "leaves the page",
        "covers tear",
        "stand in no label",
        "leader",
    ):
        assert fault in text


def numbers(figures: str) -> set[int] | None:
    """The tears that a ring stands for; None where it names only the ends of some."""
    if "…" in figures:
        return None
    if "–" in figures:
        first, last = map(int, figures.split("–"))
        return set(range(first, last + 1))
    return {int(part) for part in figures.split(", ")}


def check_numbers(plan: Plan, lay: Lay) -> None:
    """Every tear has its number on the plan, alone or in a ring with its neighbours."""
    rings = [label.owner for label in of_kind(plan, "ring")]
    told: list[int] = []
    spans: list[tuple[int, int]] = []
    for figures in rings:
        found = numbers(figures)
        told += found or ()
        if found is None:
            first, last = map(int, figures.split("…"))
            spans.append((first, last))
            told += [first, last]
    assert len(told) == len(set(told))
    missing = {tear.number for tear in lay.tears} - set(told)
    assert all(any(a < number < b for a, b in spans) for number in missing)
    if not spans:
        assert not missing


@EVERY
@PAPERS
def test_no_word_is_under_two_millimetres_tall(name: str, paper: Paper) -> None:
    for plan, _ in shown(name, paper):
        words = [mark for mark in plan.drawing.over if isinstance(mark, Words)]
        assert words and all(mark.size * style.CAPITALS >= 200_000 for mark in words)


@EVERY
@PAPERS
def test_every_tear_is_numbered_once(name: str, paper: Paper) -> None:
    for plan, lay in shown(name, paper):
        check_numbers(plan, lay)


def shown(name: str, paper: Paper) -> list[tuple[Plan, Lay]]:
    """The plan with its lay; where it is a guide, its stretches, each with its own."""
    case, lay, plan = drawn(name, paper)
    found = stretches(case, lay, paper) if plan.guide else ()
    return [(one, one.lay) for one in found] or [(plan, lay)]  # type: ignore[misc]


@pytest.mark.parametrize("name", [n for n, make in RECORDS.items() if make().lays[0].tears])
def test_every_tear_across_the_bolt_has_its_reading(name: str) -> None:
    for plan, lay in shown(name, Paper.A4):
        work = Work(lay, drawn(name, Paper.A4)[0].units)
        across = {f"{tear.number}" for run in work.runs if work.of_bolt(run) for tear in run.tears}
        assert {label.owner for label in of_kind(plan, "reading")} == across
        boxes = {label.owner: label.box for label in of_kind(plan, "reading", "ring")}
        bottom = plan.corner[1] + plan.view.y(0)
        assert all(boxes[owner].y0 > bottom for owner in across if owner in boxes)


@EVERY
@PAPERS
def test_every_piece_is_named_inside_or_called_out(name: str, paper: Paper) -> None:
    for plan, lay in shown(name, paper):
        told = " ".join(label.owner for label in of_kind(plan, "piece", "call-out")).split()
        assert sorted(told) == sorted(spot.id for spot in lay.placements)
        for label in of_kind(plan, "piece"):
            spot = next(spot for spot in lay.placements if spot.id == label.owner)
            piece = plan.view.box(spot.rect(lay.piece(spot.letter))).moved(*plan.corner)
            assert piece.holds(label.box)


def test_a_piece_without_a_full_label_is_in_the_list() -> None:
    """What the plan itself doesn't explain, the notes must."""
    _, lay, plan = drawn("gores", Paper.A4)
    text = " ".join(said(plan))
    assert "Pieces" in said(plan)
    assert f"B shaped facing, {lay.piece('B').count} of 7.9 × 43.8 cm" in text


@EVERY
@PAPERS
def test_nothing_is_set_too_small(name: str, paper: Paper) -> None:
    _, _, plan = drawn(name, paper)
    sizes = [mark.size for mark in plan.drawing.over if isinstance(mark, Words)]
    assert min(sizes) >= style.LEAST >= 200
    steps = [label.box.height for label in of_kind(plan, "step")]
    assert min(steps) >= 250


@EVERY
@PAPERS
def test_the_scale_bar_is_five_centimetres_and_the_scale_is_told(name: str, paper: Paper) -> None:
    _, _, plan = drawn(name, paper)
    bars = [m for m in plan.drawing.over if isinstance(m, Field) and m.box.width == style.BAR]
    assert [bar.box.width for bar in bars] == [5000]
    assert any(text.endswith(f"drawn 1:{plan.view.n}") for text in said(plan))


def test_head_tells_what_to_buy_and_what_is_proved() -> None:
    case, lay, plan = drawn("skirt", Paper.A4)
    assert "Buy 3.40 m" in said(plan)
    assert any("needs 334 cm · proved: no shorter lay" in text for text in said(plan))
    step = replace(lay, proof=Proof.STEP, bound=lay.length - 1600)
    text = " ".join(said(layout(case, step, Paper.A4)))
    assert "proved: one step (10 cm) less is not enough" in text
    assert "no shorter lay" not in text


def test_an_open_lay_tells_its_gap_and_inches_their_fractions() -> None:
    text = " ".join(said(drawn("inches", Paper.LETTER)[2]))
    assert "Buy 2½ yd" in text
    assert "within 5.0 % of the bound" in text
    assert "proved" not in text
    assert "42½ × 22⅝ in" in text
    assert "1/2" not in text


def test_steps_are_set_as_they_are_told() -> None:
    """All of them, in order, beside their numbers and one tick box each."""
    case, lay, plan = drawn("skirt", Paper.A4)
    told = notes.notes(case, lay, plan.view.n, frozenset()).steps
    flowing = " ".join(text for text in said(plan))
    at = 0
    for step in told:
        at = flowing.index(step.numbers, at)
        for word in step.text.split():
            at = flowing.index(word, at)
    boxes = [m for m in plan.drawing.over if isinstance(m, Field) and m.box.width == notes.BOX]
    assert len(boxes) == len(told)


def test_steps_that_do_not_fit_are_said_to_be_in_the_list() -> None:
    told = tuple(Step(n, n, f"Tear {n}, and mind how you go about it. " * 3) for n in range(1, 90))
    drawing = Drawing()
    area = Box(1000, 1000, 18_000, 6000)
    assert not notes.draw_steps(drawing, "Tear in this order", told, area)
    texts = [mark.text for mark in drawing.over if isinstance(mark, Words)]
    match = re.fullmatch(
        r"Steps (\d+) to 89 stand in the list that goes with this plan\.", texts[-1]
    )
    assert match
    last = max(int(text) for text in texts if text.isdigit())
    assert int(match[1]) == last + 1
    assert all(area.holds(label.box) for label in drawing.labels)


def test_pieces_carry_their_marks_and_edges() -> None:
    _, lay, plan = drawn("skirt", Paper.A4)
    for panel in ("A-1", "A-2", "A-3"):
        named = sorted(said_in(plan, panel, "edge"))
        assert named == ["hem", "seam", "seam", "waist"]
        assert said_in(plan, panel, "mark") == ["opening", "fold of the turn-down"]
        assert said_in(plan, panel, "grain") == ["grain"]
    chains = [m for m in plan.drawing.over if isinstance(m, Path) and m.dash == style.DASH_FOLD]
    folds = sum(mark.kind.value in ("fold", "hem") for p in lay.pieces for mark in p.marks)
    assert folds == 3
    # Two for each of three panels, one on the band, and the sample in the legend.
    assert len(chains) == 3 * 2 + 1 + 1
    fold = plan.view.x(lay.placements[0].x + lay.piece("A").marks[2].u0) + plan.corner[0]
    assert chains[0].runs[0][0][0] == chains[0].runs[0][1][0] == fold


def said_in(plan: Plan, owner: str, kind: str) -> list[str]:
    boxes = [label.box for label in of_kind(plan, kind) if label.owner == owner]
    words = [mark for mark in plan.drawing.over if isinstance(mark, Words)]
    return [w.text for w in words if any(box.grown(9).holds(w.box) for box in boxes)]


def test_grain_points_up_on_one_way_cloth_and_both_ways_else() -> None:
    def heads(name: str) -> int:
        _, _, plan = drawn(name, Paper.A4)
        boxes = [label.box.grown(1) for label in of_kind(plan, "grain")]
        solids = [m.runs[0] for m in plan.drawing.over if isinstance(m, Path) and m.closed]
        found = [s for s in solids if any(b.holds(Box(*s[0], *s[0])) for b in boxes)]
        return len(found) * 100 // len(boxes)

    assert heads("skirt") == 200
    assert heads("inches") == 100


def test_waste_is_hatched_and_a_remnant_named_with_its_size() -> None:
    lay = facing()
    kept = replace(
        lay, offcuts=tuple(replace(o, keep=o.rect.x1 == lay.bolt.x1) for o in lay.offcuts)
    )
    plan = layout(record(kept, "Facings", System.IN), kept, Paper.A4)
    (label,) = of_kind(plan, "remnant")
    assert {"remnant", "2½ × 45 in"} <= set(said(plan))
    last = next(n for n, offcut in enumerate(kept.offcuts, 1) if offcut.keep)
    assert label.owner == f"offcut-{last}"
    lines = [run for m in plan.drawing.ground if isinstance(m, Path) for run in m.runs]
    for offcut in kept.offcuts:
        box = plan.view.box(offcut.rect).moved(*plan.corner)
        edge = plan.view.length(lay.cloth.selvedge)
        inside = [r for r in lines if all(box.holds(Box(*p, *p)) for p in r)]
        assert bool(inside) == (min(box.width, box.height) > edge + 2)


def test_wearers_are_told_only_where_there_are_several() -> None:
    lay = trimmed()
    assert "Ilse" not in said(layout(record(lay, "One wearer"), lay, Paper.A4))
    other = replace(lay, pieces=tuple(replace(p, wearer="Jorun") for p in lay.pieces))
    both = layout(record(lay, "Two wearers", others=(other,)), lay, Paper.A4)
    assert said(both).count("Ilse") == len(lay.placements)


def test_a_tear_stands_under_its_ring_and_over_its_reading() -> None:
    _, lay, plan = drawn("skirt", Paper.A4)
    for number, reading in ((2, "108"), (3, "216")):
        tear = lay.tears[number - 1]
        x = plan.corner[0] + plan.view.x(tear.at)
        ring = next(label for label in of_kind(plan, "ring") if label.owner == f"{number}")
        below = next(label for label in of_kind(plan, "reading") if label.owner == f"{number}")
        assert ring.box.middle[0] == pytest.approx(x, abs=1)
        assert below.box.middle[0] == pytest.approx(x, abs=1)
        assert reading in said(plan)


def test_a_long_bolt_is_told_in_the_order_of_the_cloth() -> None:
    _, lay, _ = drawn("long", Paper.A4)
    rings = [
        sorted(
            (label.box.middle[0], int(label.owner))
            for label in of_kind(plan, "ring")
            if label.owner.isdigit() and lay.tears[int(label.owner) - 1].in_hand.y1 == lay.bolt.y1
            and lay.tears[int(label.owner) - 1].direction is Direction.ACROSS
        )
        for plan, _ in shown("long", Paper.A4)
    ]  # fmt: skip
    assert sum(map(len, rings)) == 37
    assert all(a[1] < b[1] for page in rings for a, b in pairwise(page))


def test_drawing_twice_gives_the_same_marks() -> None:
    case = skirt()
    one, two = (layout(case, case.lays[0], Paper.A4) for _ in range(2))
    assert one == two


def test_dots_of_a_leader_stand_apart() -> None:
    drawing = Drawing()
    drawing.dots([(0, 0), (100, 0), (200, 0), (100, 0)])
    dots = [mark for mark in drawing.over if isinstance(mark, Disc)]
    assert [dot.at for dot in dots] == [(0, 0), (100, 0), (200, 0)]
    assert {dot.radius for dot in dots} == {30}
    assert set_fractions("1 1/2 in") == "1½ in"


@pytest.mark.parametrize(
    ("names", "told"),
    [
        (["fold (back)", "fold (side)"], "fold (back, side)"),
        (["fold (back)"], "fold (back)"),
        (["fold", "fold"], "fold"),
        (["fold", "pleat (front)"], "fold, pleat (front)"),
    ],
)
def test_lines_side_by_side_are_named_together(names: list[str], told: str) -> None:
    assert together(names) == told


@pytest.mark.slow
def test_rings_joined_for_want_of_room_do_not_claim_tears_between() -> None:
    """A hundred drops of 5 mm on 50 cm of cloth: rings share, and a dash is only for a run."""
    piece = Piece("A", "tape", parse("90 cm"), parse("5 mm"), 100, "main", Grain.ACROSS)
    cloth = main_cloth("90 cm", squaring=0, keep_selvedges=True)
    lay = in_drops(cloth, (piece,), [(parse("5 mm"), [("A", 90, 1)])] * 100)
    plan = layout(record(lay, "Tapes"), lay, Paper.A4)
    assert faults(plan, lay) == []
    check_numbers(plan, lay)
    assert any("–" in label.owner for label in of_kind(plan, "ring"))
    pairs = ("3", "4"), ("3", "5"), ("3–4", "5–9"), ("3…7", "8"), ("9", "8")
    told = [_join(*(Tag("ring", one, (((0, 0),),), True, ()) for one in pair)) for pair in pairs]
    assert [tag.owner for tag in told] == ["3–4", "3…5", "3–9", "3…8", "8–9"]


@pytest.mark.parametrize("units", list(System))
@pytest.mark.parametrize("length", ["2 cm", "30 cm", "19.9 m", "900 m"])
@pytest.mark.slow
def test_any_length_of_cloth_can_be_drawn(length: str, units: System) -> None:
    piece = Piece("A", "runner", parse(length), parse("9 cm"), 1, "main")
    cloth = main_cloth("10 cm", squaring=0, keep_selvedges=True)
    lay = in_drops(cloth, (piece,), [(parse(length), [("A", 0, 1)])])
    plan = layout(record(lay, "One piece", units), lay, Paper.LETTER)
    assert faults(plan, lay) == []
    assert len(of_kind(plan, "tape")) < 40


def test_a_long_title_is_set_smaller_before_it_is_cut_short() -> None:
    case, lay, _ = drawn("skirt", Paper.A4)
    title = "A walking skirt of six gores with a shaped facing, for Ilse's second winter of dances"
    plan = layout(replace(case, title=title), lay, Paper.A4)
    head = next(m for m in plan.drawing.over if isinstance(m, Words) and m.text == title)
    assert style.TITLE_SIZES[-1] <= head.size < style.TITLE_SIZES[0]
    buy = next(m for m in plan.drawing.over if isinstance(m, Words) and m.text == "Buy 3.40 m")
    assert head.box.x1 + style.APART <= buy.box.x0
    assert "".join(said(plan)).count("…") == 0
