"""The figures in the order of work, reckoned anew beside it; rules of the trade, no source."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from example_cases import case_of, draft_of, jobs, piece_of
from flounce_cases import TOP, flounced
from hypothesis import given
from hypothesis import strategies as st
from lays import skirt
from work_cases import case

from marker.decide.worked import worked
from marker.garments.order import Draft
from marker.garments.work.chalk import QUARTER, inset, quarter_marks, quarters
from marker.garments.work.job import Job, in_order, listed
from marker.lay import Lay
from marker.piece import MarkKind
from marker.record import Stage
from marker.units import CM, INCH, MM, parse

OPENING = '[garment.skirt.opening]\nlength = "11 in"\nat = "back"\n'
TORN = 'width = "114 cm"\nselvedge = "1 cm"\ntorn_edge = "3 mm"'


def told(draft: Draft, *words: str) -> str:
    """The one task that holds all these words."""
    (found,) = [text for text in jobs(draft) if all(word in text for word in words)]
    return found


@given(st.integers(1, 12), st.integers(20 * CM, 200 * CM), st.integers(0, 3 * CM))
def test_quarter_points_part_the_round_in_four(panels: int, pitch: int, seam: int) -> None:
    points = quarters(panels, pitch)
    at = [(number - 1) * pitch + off for number, off in points]
    assert at == [Fraction(panels * pitch * k, 4) for k in (1, 2, 3)]
    assert all(0 <= off < pitch for _, off in points)
    inside = [(number, off) for number, off in points if off]
    marks = quarter_marks(panels, pitch, seam, 6 * CM)
    assert [number for number, _ in marks] == [number for number, _ in inside]
    for (_, mark), (_, off) in zip(marks, inside, strict=True):
        assert mark.kind is MarkKind.CHALK and (mark.u0, mark.u1) == (0, 6 * CM)
        assert mark.v0 == mark.v1 and abs(mark.v0 - seam - off) <= Fraction(1, 2)


def test_three_panels_have_their_quarter_points_at_three_quarters_a_half_and_a_quarter() -> None:
    """44 in cut, 1/2 in seams: a pitch of 43 in; 3/4 and 1/2 and 1/4 of it, from the edge."""
    draft = draft_of("in", more=OPENING)
    panel = piece_of(draft, "panel")
    chalked = {mark.name: mark.v0 for mark in panel.marks if mark.kind is MarkKind.CHALK}
    assert chalked == {
        f"{QUARTER} (panel 1)": parse("32 3/4 in"),
        f"{QUARTER} (panel 2)": parse("22 in"),
        f"{QUARTER} (panel 3)": parse("11 1/4 in"),
    }
    text = told(draft, "quarter points of the top")
    assert "measuring from the side edge of each that comes first: panel 1, 32 3/4 in; " in text
    assert "panel 1, 32 3/4 in; panel 2, 22 in; panel 3, 11 1/4 in." in text
    assert "the sides and the middle of the front, since the opening is worn at the back" in text


def test_four_panels_have_them_in_their_seams_and_one_panel_has_all() -> None:
    four = told(draft_of("in", panels="count = 4"), "quarter points of the top")
    assert "the seam of panels 1 and 2, the seam of panels 2 and 3 and the seam of panels 3" in four
    (draft,) = case("one railroaded panel").orders[0].drafts()
    text = told(draft, "quarter points of the top")
    assert "76 cm, 151 cm and 226 cm from one side edge" in text


def test_a_plain_skirt_is_worked_with_its_own_figures() -> None:
    """Waist 26 in, underlap 3 in; 2 1/2 in turned down, opening 11 in, hem 1 in, seams 1/2 in."""
    draft = draft_of("in", more=OPENING)
    assert "turn-down 2 1/2 in below the top edge, the hem line 1 in above the" in jobs(draft)[0]
    told(draft, "Chalk where the opening ends", "13 1/2 in below the top edge", "is 11 in long")
    told(draft, "quarter points of the band", "7 in, 13 1/2 in and 20 in", "begins at 26 1/2 in")
    told(draft, "Sew 2 seams, 1/2 in from the edge")
    told(draft, "the upper 13 1/2 in, counted from the cut edge, stay open")
    told(draft, "hem line, 1 in deep")
    told(draft, "2 1/2 in deep, press the fold")
    told(draft, "Sew 3 rows", "1/8 in, 5/8 in and 1 1/8 in below the fold", "1/4 in or a hair off")
    told(draft, "Draw all rows up", "26 in long, 6 1/2 in from each", "1/2 in longer, for the hips")
    told(draft, "Finished it is 1 in by 29 in")
    told(draft, "Sew 1 hook to the end", "1 eye where the underlap begins", "goes 26 in round")
    stages = [job.stage for job in draft.work]
    assert list(dict.fromkeys(stages)) == list(Stage)


def test_torn_edges_move_every_figure_that_is_measured_from_them() -> None:
    """3 mm over at every torn edge: 6 + 0.3, 2 + 0.3 and 1.25 + 0.3 cm from the real edges."""
    draft = draft_of("cm", cloth=TORN)
    panel = piece_of(draft, "panel")
    assert inset(panel, "start", "fold of the turn-down") == 63 * MM
    first = jobs(draft)[0]
    assert "6.3 cm below the top edge" in first and "2.3 cm above the lower edge" in first
    assert "1.6 cm inside the sides" in first  # 1.55 rounds up
    told(draft, "Chalk where the opening ends", "32.3 cm below the top edge", "is 26 cm long")
    last = told(draft, "quarter points of the band")
    assert "18.1 cm, 34.6 cm and 51.1 cm from one end; the underlap begins at 67.6 cm" in last


def test_where_lengths_differ_the_turn_down_is_chalked_round_the_joined_tube() -> None:
    wearer = 'waist = "26 in"\nfront = "38 in"\nside = "38 1/2 in"\nback = "39 in"'
    draft = draft_of("in", wearer=wearer)
    assert "turn-down" not in jobs(draft)[0]
    text = told(draft, "Chalk the fold of the turn-down")
    assert "3 1/2 in at the front, 3 in at the side and 2 1/2 in at the back" in text
    (job,) = [job for job in draft.work if job.text == text]
    assert job.stage is Stage.GAUGE


def test_a_facing_is_joined_into_a_ring_as_long_as_the_hem() -> None:
    """Three panels of 43 in go 129 in round; three strips of 44 in less seams make as much."""
    draft = draft_of("in", more="[garment.skirt.facing]\nstrips = 3\n")
    told(draft, "Join the 3 strips", "1/2 in from the edge", "goes 129 in round. Press")
    told(draft, "fell it down 6 in above the hem")


def test_what_a_ring_of_strips_has_over_goes_into_its_last_join() -> None:
    """2 x 109.5 = 219 cm; seven strips of 33.8 cm less 2.5 each make 219.1."""
    draft = draft_of("cm", more="[garment.skirt.facing]\nstrips = 7\n", panels="count = 2")
    assert piece_of(draft, "facing strip").length == 338 * MM
    told(draft, "Join the 7 strips", "219 cm round; take the 0.1 cm that are over into the last")


def test_a_flounce_is_shared_out_by_quarters() -> None:
    """132 in of panels; five breadths of 44 in make 220: 55 into 33 in."""
    draft = flounced('depth = "8 in"')
    told(draft, "Join the 5 strips", "220 in round")
    told(draft, "Draw every 55 in of it into 33 in")


def test_a_flounce_goes_on_to_the_flounce_above_it() -> None:
    one, two = (f'[[garment.skirt.flounce]]\ndepth = "{depth} in"\n' for depth in (8, 5))
    draft = draft_of("in", garment=TOP, more=one + two)
    assert "of the flounce above" not in told(draft, "Pin the first flounce to the lower edge, ")
    told(draft, "Pin the second flounce to the lower edge of the flounce above, edges even")


def test_gores_are_joined_from_the_front_and_the_opening_comes_last() -> None:
    shaped, _ = case("gores front, side, back").orders[0].drafts()
    text = told(shaped, "Join the gores")
    assert "the front gore to the side gore and the side gore to the back gore" in text
    assert "in the middle" not in text  # that seam holds the opening, and comes last
    opening = told(shaped, "Sew that seam from the hem up")
    assert "in the middle of the back" in opening and "the upper 27 cm" in opening
    assert jobs(shaped).index(opening) == jobs(shaped).index(text) + 1


def test_pressed_pleats_have_their_depth_and_spacing() -> None:
    """(3 x 146 - 70) / (2 x 27) = 6.81 cm deep, 70 / 27 = 2.59 apart (NIMI pp. 202-205)."""
    (draft,) = case("knife pleated").orders[0].drafts()
    told(draft, "folds of 27 knife pleats", "9 to a panel")
    told(draft, "each fold 6.8 cm deep", "2.6 cm from one pleat", "70 cm long", "17.5 cm apart")
    assert not any("quarter points of the top" in text for text in jobs(draft))


def test_pleats_in_inches_are_told_to_a_sixteenth() -> None:
    """84 in into 28 in by 10 inverted pleats: 56 / 40 = 1.4 in deep, 2.8 in apart."""
    draft = draft_of(
        "in",
        wearer='waist = "28 in"\nlength = "39 in"',
        garment='seam = "1/2 in"\ntop = "inverted pleated"\ntake_up = "1 in"',
        panels='count = 2\nwidth = "43 in"',
        more="[garment.skirt.pleats]\ncount = 10\n",
    )
    told(draft, "each fold 1 3/8 in deep", "2 13/16 in from one pleat")


def test_jobs_keep_their_order_within_a_stage() -> None:
    made = [Job(Stage.BAND, "b"), Job(Stage.MARK, "a"), Job(Stage.BAND, "c")]
    assert [job.text for job in in_order(made)] == ["a", "b", "c"]
    assert [listed(words) for words in ((), ("1",), ("1", "2"), ("1", "2", "3"))] == [
        "", "1", "1 and 2", "1, 2 and 3",
    ]  # fmt: skip


@pytest.fixture
def lettered() -> tuple[tuple[Draft, ...], tuple[Lay, ...]]:
    """The draft of a skirt, and its pieces under letters, the panels out of two cloths."""
    (draft,) = case_of("in").orders[0].drafts()
    return (draft,), (_lay(draft, "AB"), _lay(draft, "C", only=1))


def _lay(draft: Draft, letters: str, only: int = 9) -> Lay:
    pieces = zip(letters, draft.pieces[:only], strict=True)
    return replace(skirt(), pieces=tuple(replace(p, letter=letter) for letter, p in pieces))


def test_tasks_have_the_letters_of_their_pieces(
    lettered: tuple[tuple[Draft, ...], tuple[Lay, ...]],
) -> None:
    way, lays = lettered
    (garment,), told_lays = worked(way, lays)
    letters = {task.text: task.letters for task in garment.work}
    assert letters[jobs(way[0])[0]] == ("A", "C")
    assert [task.stage for task in garment.work] == [job.stage for job in way[0].work]
    waist = [p.meets[0] for lay in told_lays for p in lay.pieces if p.name == "panel"]
    assert [(seam.edge, seam.pieces) for seam in waist] == [("waist", ("band",))] * 2


def test_the_insets_of_a_piece_are_those_of_its_outermost_lines() -> None:
    panel = piece_of(draft_of("in"), "panel")
    seam = INCH // 2
    assert (inset(panel, "low", "seam"), inset(panel, "high", "seam")) == (seam, seam)
    assert inset(panel, "end", "hem line") == INCH
    assert inset(panel, "end", "no such line") == 0


def test_a_raw_top_that_is_level_nowhere_is_cut_to_its_seam() -> None:
    """1/2 in of seam where the skirt is longest, 1 in less of length at the side, 2 in in front."""
    wearer = 'waist = "26 in"\nfront = "37 in"\nside = "38 in"\nback = "39 in"'
    garment = 'seam = "1/2 in"\ntop = "stroke gathered"'
    text = told(draft_of("in", wearer=wearer, garment=garment), "Chalk the gathering line")
    assert "2 1/2 in at the front, 1 1/2 in at the side and 1/2 in at the back" in text
    assert text.endswith("Cut off what lies more than 1/2 in above it.")
    turned = told(draft_of("in", wearer=wearer), "Chalk the fold of the turn-down")
    assert "Cut off" not in turned


def test_an_apron_is_quartered_between_its_finished_sides() -> None:
    """150 - 2 cm of cloth, less 2 x 1.5 cm of hems: 145 cm; half the waist of 70 cm: 35 cm."""
    (draft,) = case("apron").orders[0].drafts()
    told(draft, "Fold the top in half", "quarter points, 36.3 cm apart")
    told(draft, "Draw both rows up", "35 cm long, 8.8 cm from each quarter point")
    told(draft, "quarter points of the band", "9.8 cm, 18.5 cm and 27.3 cm from one end")


def test_a_hem_that_has_dropped_is_trimmed() -> None:
    (draft,) = case("half circle").orders[0].drafts()
    told(draft, "hang the skirt up", "where it has dropped; trim the edge to match.")
