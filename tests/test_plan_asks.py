"""What plan and sheet show of shears, cuts along a thread, flaws, repeats and selvedges."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from dataclasses import replace
from fractions import Fraction
from pathlib import Path as File

import plan_lays
import pytest
from example_lays import torn_at_random
from plan_asks import checks, flawed, pinwheel, remnant
from plan_checks import faults
from plan_lays import record, skirt
from test_cutlist import places
from test_steps import number

from marker import load_record
from marker.cloth import Repeat
from marker.geometry import Rect
from marker.lay import Lay, Mode, Placement
from marker.piece import AtSelvedge, Edges, Match, Piece, Side, Wise
from marker.plan.drawing import style
from marker.plan.drawing.page import Paper
from marker.plan.drawing.verbs import Path, Words
from marker.plan.lays import legend
from marker.plan.lays.cutview import APART, ROWS
from marker.plan.lays.layout import Plan, layout
from marker.plan.lays.svg import emit
from marker.plan.words.drops import clear_lines, copies
from marker.plan.words.repeats import lines, matched_sets
from marker.plan.words.runs import reading
from marker.plan.words.steps import steps
from marker.plan.words.wishes import edge_names, wish_words
from marker.record import Record
from marker.units import CM

GALLERY = File(__file__).parents[1] / "out"

SVG = "{http://www.w3.org/2000/svg}"


def drawn(name: str) -> tuple[Record, Lay, Plan]:
    return plan_lays.drawn(name, Paper.A4)


def group(name: str, wanted: str = "lay") -> dict[str, ET.Element]:
    """The elements of one group of a drawing by their ids, or by their place without one."""
    case, lay, plan = drawn(name)
    root = ET.fromstring(emit(case, lay, plan))
    (found,) = [one for one in root.iter(f"{SVG}g") if one.get("id") == wanted]
    return {one.get("id") or f"{place}": one for place, one in enumerate(found)}


def said(plan: Plan) -> list[str]:
    return [mark.text for mark in plan.drawing.over if isinstance(mark, Words)]


def owners(plan: Plan, kind: str) -> list[str]:
    return [label.owner for label in plan.drawing.labels if label.kind == kind]


class TestShears:
    def test_outlines_are_solid_lines_to_cut_and_nothing_is_torn(self) -> None:
        _, lay, plan = drawn("pinwheel")
        found = group("pinwheel")
        scale = float(plan.view.scale)
        for spot in lay.placements:
            weight = float(found[spot.id].get("stroke-width") or 0) * scale
            assert weight == pytest.approx(style.CUT, abs=0.01)
        assert not any(one.get("stroke-dasharray") for one in found.values())
        assert not any(name.startswith("tear") for name in found)
        assert {"Chalk and cut in this order", "cut"} <= set(said(plan))
        assert "tear" not in said(plan)

    def test_lines_right_across_are_drawn_and_bear_the_number_of_their_step(self) -> None:
        _, lay, plan = drawn("pinwheel")
        # Behind the four yokes, and where the cloth was squared; nowhere else.
        assert clear_lines(lay) == (0, 100 * CM)
        assert owners(plan, "ring") == ["1", "2"]
        foot = plan.view.box(lay.bolt).y1
        drawn_lines = [
            run
            for mark in plan.drawing.over
            if isinstance(mark, Path) and mark.weight == style.CUT
            for run in mark.runs
        ]
        for at in (0, 100 * CM):
            x, top = plan.corner[0] + plan.view.x(at), plan.corner[1]
            assert ((x, top), (x, top + foot)) in drawn_lines

    def test_the_tape_is_read_where_pieces_start_and_lines_run_across(self) -> None:
        _, _, plan = drawn("pinwheel")
        starts = (0, 40, 60, 100, 116, 132)
        assert owners(plan, "reading") == [f"{at * CM}" for at in starts]
        assert {f"{at}" for at in starts} <= set(said(plan))

    @pytest.mark.parametrize(
        "case", ["apron", "drawn-bodice", "gored-walking-skirt", "half-circle-skirt"]
    )
    @pytest.mark.slow
    def test_the_plans_readings_are_those_of_the_list(self, case: str) -> None:
        """Every place that the list has chalked along the tape, and no other."""
        told = load_record(GALLERY / case / "lay.json")
        lay = told.lays[0]
        listed = {Fraction(0)}
        for step in steps(lay, told.units):
            if ": chalk " in step.text and "selvedge;" in step.text:
                listed |= set(places(step.text)[0])
        plan = layout(told, lay, Paper.A4)
        shown = {number(reading(int(owner), told.units)) for owner in owners(plan, "reading")}
        assert shown == listed

    @pytest.mark.parametrize("seed", range(8))
    def test_as_many_places_are_read_as_there_is_room_for(self, seed: int) -> None:
        lay = replace(torn_at_random(seed), mode=Mode.SHEARS, tears=())
        plan = layout(record(lay, "By shears"), lay, Paper.A4)
        told = [int(owner) for owner in owners(plan, "reading")]
        every = {rect.x0 for _, rect in copies(lay)} | set(clear_lines(lay))
        assert set(told) <= every
        assert set(clear_lines(lay)) <= set(told)
        room = ROWS * (plan.view.length(lay.bolt.along) // APART)
        assert len(told) == min(len(every), room)

    def test_lines_right_across_are_read_however_close(self) -> None:
        case = checks()
        lay = replace(case.lays[0], mode=Mode.SHEARS, tears=())
        plan = layout(case, lay, Paper.A4)
        assert {f"{at * CM}" for at in (104, 108, 212, 220)} <= set(owners(plan, "reading"))

    @pytest.mark.parametrize("seed", range(8))
    def test_labels_of_random_lays_keep_off_the_lines(self, seed: int) -> None:
        lay = replace(torn_at_random(seed), mode=Mode.SHEARS, tears=(), goals=())
        plan = layout(Record("By shears", checks().units, (), (lay,)), lay, Paper.A4)
        assert faults(plan, lay) == []

    @pytest.mark.parametrize("seed", range(30))
    def test_no_line_right_across_cuts_a_piece_or_a_remnant(self, seed: int) -> None:
        lay = torn_at_random(seed)
        whole = [spot.rect(lay.piece(spot.letter)) for spot in lay.placements]
        whole += [offcut.rect for offcut in lay.offcuts if offcut.keep]
        for at in clear_lines(lay):
            assert not any(rect.x0 < at < rect.x1 for rect in whole)


class TestCutsAlongAThread:
    def test_they_are_drawn_solid_and_tears_dashed(self) -> None:
        _, lay, plan = drawn("flawed")
        found = group("flawed")
        assert {tear.number for tear in lay.tears if tear.cut} == {4, 5, 6, 7, 8, 13, 14}
        for tear in lay.tears:
            dash = found[f"tear-{tear.number}"].get("stroke-dasharray")
            assert bool(dash) == (not tear.cut)
        scale = float(plan.view.scale)
        heavy = {n: float(found[f"tear-{n}"].get("stroke-width") or 0) * scale for n in (3, 4)}
        assert heavy[3] == pytest.approx(style.TEAR, abs=0.01)
        assert heavy[4] == pytest.approx(style.CUT, abs=0.01)

    def test_the_legend_shows_only_what_occurs(self) -> None:
        assert legend.entries(flawed().lays[0]) == (
            "tear", "cut", "waste", "remnant", "flaw", "selvedge",
        )  # fmt: skip
        assert "cut" not in legend.entries(skirt().lays[0])
        assert legend.entries(pinwheel().lays[0])[0] == "cut"
        assert {"repeat", "matched"} <= set(legend.entries(checks().lays[0]))


class TestFlaws:
    def test_each_is_one_rect_by_its_number_clipped_to_the_bolt(self) -> None:
        case = flawed()
        beyond = Rect(-50 * CM, -3 * CM, 4 * CM, 5 * CM)
        lay = case.lays[0]
        lay = replace(lay, cloth=replace(lay.cloth, flaws=(*lay.cloth.flaws, beyond)))
        root = ET.fromstring(emit(case, lay, layout(case, lay, Paper.A4)))
        found = {one.get("id"): one for one in root.iter(f"{SVG}rect")}
        # The third lies wholly beyond the bolt.
        assert [name for name in found if name and name.startswith("flaw")] == [
            "flaw-1", "flaw-2", "flaw-4",
        ]  # fmt: skip
        shape = [int(found["flaw-4"].get(key, "")) for key in ("x", "y", "width", "height")]
        assert shape == [-2 * CM, 0, 6 * CM, 5 * CM]

    def test_each_is_named_inside_or_from_the_margin_and_hatched_both_ways(self) -> None:
        _, lay, plan = drawn("flawed")
        assert sorted(owners(plan, "flaw")) == ["flaw-1", "flaw-2"]
        boxes = {label.owner: label.box for label in plan.drawing.labels if label.kind == "flaw"}
        large, small = (plan.view.box(f).moved(*plan.corner) for f in lay.cloth.flaws[:2])
        assert large.holds(boxes["flaw-1"])
        assert not small.hits(boxes["flaw-2"])
        runs = [
            run
            for mark in plan.drawing.ground
            if isinstance(mark, Path) and mark.weight == style.FLAW
            for run in mark.runs
        ]
        rising = {(a[0] < b[0]) == (a[1] < b[1]) for a, b in runs}
        assert rising == {True, False}


def striped(lay: Lay, along: int, across: int) -> Lay:
    return replace(lay, cloth=replace(lay.cloth, repeat=Repeat(along, across)))


class TestRepeat:
    def test_its_lines_pass_through_the_matched_points(self) -> None:
        lay = checks().lays[0]
        across, along = lines(lay, Wise.LENGTHWISE), lines(lay, Wise.CROSSWISE)
        # Hems at 104 and 212 cm, 9 repeats of 12 cm apart; seams at 1 and 57 cm, 7 of 8 cm.
        assert across[0] == 8 * CM and across[-1] == 224 * CM
        assert {104 * CM, 212 * CM} <= set(across)
        assert along == tuple(range(CM, 114 * CM + 1, 8 * CM))
        assert lines(striped(lay, 12 * CM, 0), Wise.CROSSWISE) == ()
        assert lines(skirt().lays[0], Wise.LENGTHWISE) == ()

    def test_they_stand_in_a_group_of_their_own_before_the_lay(self) -> None:
        case, lay, plan = drawn("checks")
        root = ET.fromstring(emit(case, lay, plan))
        groups = {one.get("id"): one for one in root.iter(f"{SVG}g")}
        names = [one.get("id") for one in root.iter(f"{SVG}g")]
        assert names.index("repeat") < names.index("lay")
        assert groups["repeat"].get("transform") == groups["lay"].get("transform")
        upright = {
            int(one.get("x1") or 0) for one in groups["repeat"] if one.get("x1") == one.get("x2")
        }
        assert upright == set(lines(lay, Wise.LENGTHWISE))
        assert 'id="repeat"' not in emit(*drawn("flawed"))

    def test_pieces_let_the_stripes_show(self) -> None:
        assert group("checks")["A-1"].get("fill") == "none"
        assert group("flawed")["A-1"].get("fill") == style.TINT

    def test_the_largest_set_leads_where_sets_fall_apart(self) -> None:
        lay = checks().lays[0]
        panel = lay.piece("A")
        other = Match("band", Wise.LENGTHWISE, 3 * CM, 0)
        band = replace(lay.piece("B"), matches=(other,))
        for spots in (lay.placements, lay.placements[::-1]):
            told = replace(lay, pieces=(panel, band), placements=spots)
            assert lines(told, Wise.LENGTHWISE) == lines(lay, Wise.LENGTHWISE)
            assert len(matched_sets(told)) == 3

    def test_a_fine_repeat_is_thinned_on_the_page(self) -> None:
        case = checks()
        lay = striped(case.lays[0], CM, 8 * CM)
        plan = layout(case, lay, Paper.A4)
        root = ET.fromstring(emit(case, lay, plan))
        stripes = next(one for one in root.iter(f"{SVG}g") if one.get("id") == "repeat")
        xs = sorted(int(o.get("x1") or 0) for o in stripes if o.get("x1") == o.get("x2"))
        pitch = xs[1] - xs[0]
        assert plan.view.length(pitch) >= style.LEAST_REPEAT > plan.view.length(pitch // 5)
        assert 104 * CM in xs
        assert f"drawn every {pitch // CM} repeats" in " ".join(said(plan))

    def test_a_diamond_marks_each_matched_edge_of_each_piece(self) -> None:
        _, lay, plan = drawn("checks")
        diamonds = [
            mark.runs[0]
            for mark in plan.drawing.over
            if isinstance(mark, Path) and mark.closed and len(mark.runs[0]) == 4
        ]
        # Four panels with a hem and a seam each, and the sample in the legend.
        assert len(diamonds) == 4 * 2 + 1
        for spot in lay.placements[:4]:
            box = plan.view.box(spot.rect(lay.piece("A"))).moved(*plan.corner)
            inside = [d for d in diamonds if all(box.x0 <= x <= box.x1 and box.y0 <= y <= box.y1
                                                 for x, y in d)]  # fmt: skip
            assert len(inside) == 2
            assert any(max(x for x, _ in d) > box.x1 - 2 * style.DIAMOND for d in inside)

    @pytest.mark.parametrize(
        ("turn", "wise", "u", "v", "edge"),
        [
            (0, Wise.LENGTHWISE, 30, 5, "end"), (180, Wise.LENGTHWISE, 30, 5, "end"),
            (90, Wise.LENGTHWISE, 5, 0, "low"), (270, Wise.CROSSWISE, 0, 5, "start"),
            (0, Wise.CROSSWISE, 5, 12, "high"), (0, Wise.LENGTHWISE, 10, 0, ""),
        ],
    )  # fmt: skip
    def test_a_matched_edge_is_found_at_any_turn(
        self, turn: int, wise: Wise, u: int, v: int, edge: str
    ) -> None:
        lay = skirt().lays[0]
        piece = Piece("A", "p", 30, 10, 1, "main", edges=Edges("start", "end", "low", "high"),
                      matches=(Match("m", wise, u, v),))  # fmt: skip
        told = replace(striped(lay, 7, 7), pieces=(piece,),
                       placements=(Placement("A", 1, 0, 0, turn),))  # fmt: skip
        (one,) = matched_sets(told)
        assert one.edge == edge
        assert one.points[0].on_edge == bool(edge)


class TestSelvedgeWishes:
    def piece(self, *wishes: AtSelvedge) -> Piece:
        names = Edges("start", "end", "hem", "top")
        return Piece("A", "strip", 40 * CM, 10 * CM, 1, "main", edges=names, selvedges=wishes)

    @pytest.mark.parametrize(
        ("turn", "far", "side", "told"),
        [
            (0, False, Side.LOW, "hem"), (180, True, Side.LOW, "hem"), (0, True, Side.HIGH, "top"),
            (180, False, Side.HIGH, "top"), (90, False, Side.START, "start"),
            (90, True, Side.END, "end"), (270, False, Side.END, "end"),
            (270, True, Side.START, "start"), (0, False, Side.EITHER_SIDE, "hem"),
            (0, True, Side.EITHER_SIDE, "top"),
        ],
    )  # fmt: skip
    def test_the_edge_that_lies_there_says_so(
        self, turn: int, far: bool, side: Side, told: str
    ) -> None:
        cloth = replace(skirt().lays[0].cloth, keep_selvedges=True)
        piece = self.piece(AtSelvedge(side))
        high = 10 * CM if turn in (0, 180) else 40 * CM
        spot = Placement("A", 1, 0, cloth.laid_width - high if far else 0, turn)
        names = edge_names(cloth, piece, spot)
        found = [name for name in vars(names).values() if name.endswith(" on selvedge")]
        assert found == [f"{told} on selvedge"]
        middle = replace(spot, y=30 * CM)
        assert edge_names(cloth, piece, middle) == piece.edges

    def test_an_edge_that_lies_only_near_it_is_by_it(self) -> None:
        piece = self.piece(AtSelvedge(Side.LOW, 2 * CM))
        kept = replace(skirt().lays[0].cloth, keep_selvedges=True)
        assert edge_names(kept, piece, Placement("A", 1, 0, CM, 0)).low == "hem by selvedge"
        # Where selvedges are torn off, the piece ends beside them.
        trimmed = skirt().lays[0].cloth
        assert edge_names(trimmed, piece, Placement("A", 1, 0, CM, 0)).low == "hem by selvedge"
        assert edge_names(kept, piece, Placement("A", 1, 0, 4 * CM, 0)).low == "hem"

    def test_it_is_written_on_the_plan_and_in_the_list(self) -> None:
        case = remnant()
        plan = layout(case, case.lays[0], Paper.A4)
        assert "hem on selvedge" in said(plan)
        assert wish_words(self.piece(AtSelvedge(Side.LOW), AtSelvedge(Side.HIGH))) == (
            "hem and top at a selvedge"
        )
        assert wish_words(self.piece(AtSelvedge(Side.EITHER_SIDE))) == "one side at a selvedge"
        assert wish_words(self.piece()) == ""
