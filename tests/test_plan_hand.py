"""Remnants in hand, strips pieced from scraps, and what is proved, on plan, sheet and terminal."""

from __future__ import annotations

import io
import re
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest
from example_lays import skirt_cloth
from hypothesis import given
from hypothesis import strategies as st
from plan_asks import checks, finished, flawed, pinwheel, remnant, scrap_of
from plan_checks import faults
from plan_lays import skirt
from pypdf import PdfReader

from marker import record as records
from marker import referee
from marker.buying.shopping import shopping, total
from marker.cloth import Price
from marker.lay import Aim, Goal, Lay, Proof
from marker.piece import Grain, Piece
from marker.plan import files, table
from marker.plan.drawing.page import Half, Paper
from marker.plan.drawing.verbs import Words
from marker.plan.lays.layout import layout
from marker.plan.lays.svg import draw
from marker.plan.sheet.cloths import cloth_words
from marker.plan.sheet.halves import pairs
from marker.plan.words import phrases as words
from marker.plan.words.figures import Figures
from marker.plan.words.reached import area, goal_lines, goals_in_short
from marker.plan.words.segments import joins, places
from marker.record import Record
from marker.units import CM, INCH, System


def said(case: Record, lay: Lay, paper: Paper | Half = Paper.A4) -> list[str]:
    plan = layout(case, lay, paper)
    return [mark.text for mark in plan.drawing.over if isinstance(mark, Words)]


def pages(case: Record, folder: Path) -> list[str]:
    """The words of each page of the sheet that is written."""
    files.write(case, folder, Paper.A4)
    pdf = PdfReader(io.BytesIO((folder / "sheet.pdf").read_bytes()))
    return [" ".join(page.extract_text().split()) for page in pdf.pages]


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> list[str]:
    return pages(remnant(), tmp_path_factory.mktemp("scraps"))


class TestInHand:
    def test_the_heading_says_what_is_used_and_left(self) -> None:
        case = remnant()
        drawer, chest, attic = case.lays
        heading = "From the remnant of 1.20 m: 0.82 m used, 0.38 m left"
        assert words.heading(drawer, System.CM) == heading
        assert heading in said(case, drawer)
        assert not any(text.startswith("Buy") for text in said(case, drawer))
        assert words.heading(chest, System.CM).endswith("0.48 m: 0.28 m used, 0.20 m left")
        assert words.heading(attic, System.IN) == (
            "From the remnant of 11 3/4 in: 5 5/8 in used, 6 1/8 in left"
        )

    @given(st.integers(20 * CM, 900 * CM), st.integers(1, 100), st.sampled_from(System))
    def test_the_three_figures_agree_and_promise_nothing(
        self, length: int, share: int, units: System
    ) -> None:
        cloth = replace(skirt_cloth(), squaring=0, length=length)
        lay = replace(skirt().lays[0], cloth=cloth, length=max(1, length * share // 100))
        whole, used, left = (
            sum((Fraction(part) for part in text.split()[:-1]), Fraction(0))
            for text in words.remnant(lay, units)
        )
        unit = 100 * CM if units is System.CM else INCH
        assert whole == used + left
        assert whole * unit <= length
        assert left * unit <= length - lay.need or left == 0

    def test_nothing_is_bought_for_it(self, told: list[str]) -> None:
        assert told[0].count("nothing to buy") == 3
        assert "a remnant of 120 cm in hand, 70 cm wide" in told[0]
        assert "Buy" not in "".join(told)

    def test_a_price_counts_for_bolts_alone(self) -> None:
        price = Price(Decimal(9), "EUR")
        lays = tuple(
            replace(lay, cloth=replace(lay.cloth, price=price))
            for lay in (*remnant().lays, *skirt().lays)
        )
        told = [cloth_words(lay, Figures(System.CM)) for lay in lays]
        assert [one["cost"] for one in told] == ["", "", "", "30.60 EUR"]
        alone = replace(remnant(), lays=lays)
        assert total(shopping(alone)).amount == Decimal("30.60")
        assert total(shopping(replace(alone, lays=(*lays, lays[-1])))).amount == Decimal("61.20")

    def test_a_shorter_use_is_not_claimed_to_be_proved(self) -> None:
        drawer = remnant().lays[0]
        assert drawer.proof is Proof.STEP
        assert words.proof(drawer, System.CM) == (
            "it fits; the least use is open, within 5.3 % of the bound"
        )


class TestScraps:
    def test_two_small_scraps_share_a_page_of_drawings_and_one_of_words(
        self, told: list[str]
    ) -> None:
        assert [[lay.cloth.key for lay in pair] for pair in pairs(remnant())] == [
            ["drawer", "chest"]
        ]
        # The list, drawings and words of two scraps, then of one; then the cards.
        assert ["Piece cards" in page for page in told] == [False] * 5 + [True]
        assert "remnant of 1.20 m" in told[1] and "remnant of 0.48 m" in told[1]
        assert told[2].count("Tear by tear") == 2
        assert "blue linen, striped ticking" in told[2]
        assert "remnant of 0.30 m" in told[3] and told[4].count("Tear by tear") == 1
        assert "Take care" in told[4] and "Take care" not in told[2]

    @pytest.mark.parametrize("paper", Paper)
    def test_the_small_drawings_are_sound(self, paper: Paper) -> None:
        case = remnant()
        for lay in case.lays:
            plan = layout(case, lay, Half(paper))
            assert faults(plan, lay) == []
            svg = draw(case, lay, Half(paper))
            assert referee.check_drawing(svg, lay) == ()
            width, height = Half(paper).size
            assert f'viewBox="0 0 {width} {height}"' in svg
            # Two of them, the margin above and the title block below share a page.
            first, second = Half(paper).places
            assert 0 < first < second <= first + height
            assert second + height < paper.size[1]
            assert any(text.startswith("Tear in this order") for text in said(case, lay))

    def test_what_half_a_page_has_no_room_for_is_left_to_the_words(self) -> None:
        case = remnant()
        drawer, chest, _ = case.lays
        assert "Left over" in said(case, chest, Half(Paper.A4))
        assert "Left over" not in said(case, drawer, Half(Paper.A4))
        assert "Left over" in said(case, drawer)

    def test_bolts_long_remnants_and_full_ones_stand_alone(self) -> None:
        case = remnant()
        long = replace(case.lays[1], cloth=replace(case.lays[1].cloth, length=300 * CM))
        assert pairs(replace(case, lays=(case.lays[0], long, case.lays[2]))) == ()
        assert pairs(replace(case, lays=(case.lays[0], skirt().lays[0], case.lays[2]))) == ()
        piece = Piece("A", "tie", 50 * CM, 3 * CM, 1, "rag", Grain.ACROSS)
        full = scrap_of("rag", "rag", 50 * CM, 60 * CM, piece, 13)
        assert pairs(replace(case, lays=(full, full))) == ()
        assert len(pairs(replace(case, lays=case.lays[1:] * 2))) == 2


class TestJoins:
    def test_segments_are_numbered_through_all_scraps(self) -> None:
        case = remnant()
        assert places(case, "drawer") == {"B-1": (1, 4)}
        assert places(case, "chest") == {"A-1": (2, 4), "A-2": (3, 4)}
        assert places(case, "attic") == {"C-1": (4, 4)}
        for lay, wanted in zip(case.lays, ("1 of 4", "2 of 4", "4 of 4"), strict=True):
            assert any(text.startswith(f"facing strip {wanted}") for text in said(case, lay))

    def test_the_join_list_adds_up(self, told: list[str]) -> None:
        (join,) = joins(remnant())
        # 80 + 2 x 92 + 82 - 3 joins x 2 cm = 340.
        assert join.segments == "B-1 80, A-1 92, A-2 92, C-1 82 cm"
        assert join.lines == (
            "80 + 2 × 92 + 82 cm: three joins, each with a seam of 1 cm on either side.",
            "Joined it measures 340 cm, and 336 cm is needed; 4 cm to spare.",
            "The joins need not meet the skirt's seams; press them open so that they lie flat.",
        )
        assert "Joining: facing of the dance skirt" in told[0]
        for line in join.lines:
            assert line.replace("'", "’") in told[0].replace("'", "’")

    def test_joins_that_meet_the_seams_and_sums_that_just_do_are_told(self) -> None:
        case = remnant()
        lays = []
        for lay in case.lays:
            pieces = tuple(
                replace(p, pieced=replace(p.pieced, total=340 * CM, pitch=10 * CM))
                if p.pieced
                else p
                for p in lay.pieces
            )
            lays.append(replace(lay, pieces=pieces))
        (join,) = joins(replace(case, lays=tuple(lays)))
        assert join.lines[1:] == (
            "Joined it measures 340 cm, just what is needed.",
            "Every join meets a seam of the skirt.",
        )

    def test_a_strip_in_one_piece_has_no_joins(self) -> None:
        case = remnant()
        attic = replace(case, lays=case.lays[2:])
        assert joins(attic) == ()
        assert "facing strip" in said(attic, attic.lays[0])


class TestProof:
    def test_which_of_the_two_was_proved_is_said(self) -> None:
        lay = skirt().lays[0]
        step = replace(lay, proof=Proof.STEP, bound=lay.length - 1600)
        assert words.proof(lay, System.CM) == "proved: no shorter lay"
        assert words.proof(step, System.CM) == "proved: one step (10 cm) less is not enough"
        assert words.proof(replace(step, proof=Proof.OPEN), System.CM) == (
            "open: within 0.4 % of the bound"
        )

    def test_each_goal_has_its_value_bound_and_ground(self) -> None:
        lines = goal_lines(flawed().lays[0], System.CM)
        assert [(line.name, line.value, line.bound) for line in lines] == [
            ("to buy", "2.50 m", "at least 2.40 m"), ("used", "244 cm", "at least 238 cm"),
            # The remnant of 10 x 110 cm is 10 x 108 cm without its selvedges.
            ("largest remnant", "1080 cm²", lines[2].bound), ("tears", "20", "at least 8"),
        ]  # fmt: skip
        assert lines[2].bound.startswith("at most ")
        assert all(line.how for line in lines)
        proved = goal_lines(skirt().lays[0], System.IN)
        assert proved[0].bound == "3¾ yd, proved" and proved[1].bound == "130⅝ in, proved"

    def test_cuts_take_the_place_of_tears_under_shears(self) -> None:
        assert goal_lines(pinwheel().lays[0], System.CM)[3].name == "cuts"
        assert goals_in_short(pinwheel().lays[0]) == "open: to buy, used, largest remnant, cuts"

    def test_an_area_is_told_to_the_nearest_square(self) -> None:
        assert area(3 * CM * 5 * CM, System.CM) == "15 cm²"
        assert area(CM * CM // 2, System.CM) == "1 cm²"
        assert area(CM * CM // 2 - 1, System.CM) == "0 cm²"
        assert area(12 * INCH * INCH, System.IN) == "12 in²"

    @pytest.mark.slow
    def test_the_sheet_has_the_table_and_does_without_it(self, tmp_path: Path) -> None:
        case = replace(skirt(), garments=())
        words_ = pages(case, tmp_path / "with")[2]
        assert "goal reached bound to buy 3.40 m 3.40 m, proved used 331.5 cm" in words_
        assert "none can be shorter" not in words_
        bare = replace(case, lays=(replace(case.lays[0], goals=()),))
        (tmp_path / "bare").mkdir()
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(files.referee, "check_record", lambda _: ())
            without = pages(bare, tmp_path / "bare")[2]
        assert "goal reached" not in without
        assert "and none can be shorter: the heights" in without
        assert goal_lines(bare.lays[0], System.CM) == () and goals_in_short(bare.lays[0]) == ""

    def test_the_ground_of_a_bound_is_told_once(self, told: list[str]) -> None:
        # Buy and length have one bound: one ground on each of the three scraps.
        assert "".join(told).count("the heights of what must lie one after another") == 3


class TestTerminal:
    def test_a_narrow_column_tells_what_is_open(self, capsys: pytest.CaptureFixture[str]) -> None:
        table.show(remnant(), (Path("lay.json"),))
        shown = " ".join(re.sub(r"[│┃]", " ", capsys.readouterr().out).split())
        assert "goals" in shown and "in hand" in shown and "all proved" in shown
        bare = replace(skirt(), lays=(replace(skirt().lays[0], goals=()),))
        table.show(bare, ())
        assert "goals" not in capsys.readouterr().out

    def test_plain_data_hold_all_four(self) -> None:
        (cloth,) = table.summary(pinwheel(), ())["cloths"]
        assert cloth["mode"] == "shears"
        assert [goal["aim"] for goal in cloth["goals"]] == ["buy", "length", "remnant", "tears"]
        assert cloth["goals"][1] == {
            "aim": "length",
            "value": 164 * CM,
            "bound": 142 * CM,
            "bound_by": "the area of the pieces over the usable width",
        }

    def test_all_proved_is_said(self) -> None:
        lay = skirt().lays[0]
        goals = tuple(Goal(aim, 3, 3, "counted") for aim in Aim)
        assert goals_in_short(replace(lay, goals=goals)) == "all proved"


class TestSheetOfEachMode:
    def test_shears_are_told_as_cuts(self, tmp_path: Path) -> None:
        printed = pages(pinwheel(), tmp_path)
        assert "Shopping list, pieces and cutting plan for Ilse" in printed[0]
        assert "selvedges cut off (1 cm)" in printed[0]
        assert "cuts of felted loden" in printed[2] and "Cut by cut" in printed[2]
        assert "Tear" not in "".join(printed) and "Blades: cut away" in printed[2]

    @pytest.mark.slow
    def test_stripes_flaws_and_torn_edges_are_told_with_the_cloth(self, tmp_path: Path) -> None:
        checked = pages(checks(), tmp_path / "checks")
        assert "repeat 12 cm along and 8 cm across" in checked[0]
        assert "torn sizes include 0.2 cm for every torn edge" in checked[0]
        assert "panel matched to the repeat 4 ×" in checked[0]
        calico = pages(flawed(), tmp_path / "flawed")
        assert "three flaws to avoid, strips under 4 cm are cut along a thread" in calico[0]
        assert "velvet band not to be torn 1 ×" in calico[0]
        assert "draw out a thread at the snip" in calico[2]
        assert "draw out a thread" not in checked[2]

    @pytest.mark.parametrize("case", [pinwheel, checks, flawed, remnant])
    @pytest.mark.slow
    def test_the_written_record_reads_back_and_is_passed(
        self, case: type[Record], tmp_path: Path
    ) -> None:
        told = case()
        files.write(told, tmp_path, Paper.LETTER)
        assert records.load(tmp_path / "lay.json") == told
        assert referee.check_record(told) == ()


def test_finished_lays_have_four_goals() -> None:
    assert [goal.aim for goal in finished(skirt().lays[0]).goals] == list(Aim)
