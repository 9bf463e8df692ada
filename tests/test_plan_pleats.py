"""The pleat plans in words, on the terminal, as data and as pages, with nothing laid."""

from __future__ import annotations

import io
import json
import re
import subprocess
import sys
from itertools import pairwise
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from example_cases import case_of
from rich.console import Console
from sheet_text import pages

import marker
from marker.cli import main
from marker.gauging import Gauging, Pressed
from marker.plan.drawing import style
from marker.plan.drawing.page import Paper
from marker.plan.drawing.verbs import Disc, Drawing, Words
from marker.plan.drawing.verbs import Path as Run
from marker.plan.pleats import table as pleats_table
from marker.plan.pleats.case import of_case
from marker.plan.pleats.page import pleats_data, pleats_files
from marker.plan.pleats.round import draw_round
from marker.plan.pleats.rows import SIDES, draw_rows
from marker.plan.pleats.section import draw_folds, draw_section
from marker.plan.pleats.told import Told
from marker.plan.sheet.words import garment_words
from marker.plan.words.figures import Figures
from marker.units import MM, Both, System, set_fractions

ROOT = Path(__file__).parents[1]
THIN = 'width = "114 cm"\nselvedge = "1 cm"\nthickness = "0.4 mm"'
PLEATED = 'top = "{}"\nseam = "1.25 cm"\ntake_up = "2 cm"'
PANELS = 'count = 3\nwidth = "62.5 cm"'
WEARER = 'waist = "60 cm"\nlength = "100 cm"'


def plan_of(units: str = "cm", more: str = "", **parts: str) -> Told:
    plans, _ = of_case(case_of(units, more, **parts))
    (plan,) = plans
    return plan


TWO = 'count = 2\nwidth = "82.5 cm"'


def pleated(top: str, keys: str = "count = 12", at: str = "back", panels: str = PANELS) -> Told:
    more = f'[garment.skirt.pleats]\n{keys}\n[garment.skirt.opening]\nat = "{at}"\n'
    garment = PLEATED.format(top)
    return plan_of("cm", more, garment=garment, panels=panels, wearer=WEARER)


# --- words --------------------------------------------------------------------------------


def test_what_is_told_of_a_gauged_skirt() -> None:
    told = plan_of("in", '[garment.skirt.gauging]\nstitch = "1/4 in"\n', panels="count = 3",
                   cloth='width = "43 in"')  # fmt: skip
    assert told.title == "Pleats of skirt, for ada"
    facts = dict(told.facts)
    # Common practice, no source: 126 in, stitches of 1/4 in: 252 pleats; 26 in: 9.7 to the inch.
    assert facts["cloth round the top"] == "126 in: 3 panels of 42 in"
    assert facts["drawn into"] == "26 in, fulness 4.85 to 1"
    assert facts["stitch, over and under alike"] == "¼ in"
    assert facts["pleats"] == "84 in each panel, 252 in all"
    assert facts["pleats on 1 in of the band"] == "9.7"
    assert "all pleats drawn close" not in facts
    rows, points, steps = told.tables
    assert rows.rows[0] == ("1", "⅛ in", "26 in")
    assert rows.rows[-1] == ("3", "1⅛ in", "26½ in")
    assert points.rows[1] == ("back", "6½ in", "63", "panel 1, 10½ in from its last seam")
    assert points.rows[-1] == ("opening", "26 in", "252", "its other edge")
    assert [row[0] for row in steps.rows] == ["⅛ in", "³⁄₁₆ in", "now ¼ in", "⁵⁄₁₆ in", "⅜ in"]
    assert [row[3] for row in steps.rows] == ["504", "336", "252", "201", "168"]
    assert not told.warnings


def test_a_stitch_fitted_by_less_than_is_printed_is_told_once() -> None:
    # 106.75 cm hold 89 pleats of 5.997 mm, 106.2 cm 88 of 6.034 mm.
    near = dict(plan_of(panels='count = 3\nwidth = "109.25 cm"').facts)
    assert near["stitch, over and under alike"] == "6 mm"
    off = dict(plan_of(panels='count = 3\nwidth = "108.69 cm"').facts)
    assert off["stitch, over and under alike"] == "6.03 mm; 6 mm wanted"


def test_a_plan_with_a_warning_and_every_figure_is_one_page() -> None:
    cloth = 'width = "45 in"\nselvedge = "1/2 in"\nthickness = "1/32 in"'
    told = plan_of("cm", panels='count = 3\nwidth = "43 in"', cloth=cloth)
    assert told.warnings and len(told.tables) == 3
    assert len(pages(pleats_files("A skirt", [told], System.CM, Paper.A4)["pleats.pdf"])) == 1


def test_how_close_the_pleats_stand_is_estimated_or_measured() -> None:
    told = plan_of("cm", cloth=THIN)
    # 328.5 cm in 273 pleats of four layers of 0.4 mm: 43.7 cm of 66.
    facts = dict(told.facts)
    assert facts["a pleat drawn close (estimated, 4 layers)"] == "1.6 mm"
    assert facts["all pleats drawn close"] == "43.7 cm, 66 %"
    assert facts["greatest fulness of this stitch"] == "7.50 to 1"
    assert [row[-1] for row in told.tables[-1].rows] == ["yes"] * 5
    assert any("By the estimate, 1.3 cm." in said for said in told.notes)
    measured = plan_of("cm", cloth=THIN, more='[garment.skirt.gauging]\nmeasured = { cloth = '
                       '"10 cm", drawn = "2.1 cm" }\n')  # fmt: skip
    # 2.1 cm for 10 cm in 1.2 cm pleats: each takes 2.52 mm.
    facts = dict(measured.facts)
    assert facts["a pleat drawn close (measured)"] == "2.52 mm"
    assert facts["least stitch that closes up"] == "6.27 mm, so take 7 mm"
    assert measured.warnings == (
        "The pleats can't close up: drawn as close as they go they take 68.8 cm, and there is "
        "66 cm; take stitches of at least 7 mm, or less cloth round the top.",
    )
    assert [row[-1] for row in measured.tables[-1].rows] == ["no", "no", "no", "yes", "yes"]


def test_rows_below_the_turn_down_are_warned_of() -> None:
    told = plan_of("cm", "[garment.skirt.gauging]\nrows = 6\n")
    assert told.warnings == (
        "The lowest row lies 6.8 cm below the fold, lower than the turn-down of 6 cm reaches; give "
        "fewer rows, or a deeper one.",
    )


def test_what_is_told_of_pressed_pleats() -> None:
    told = pleated("knife pleated", "count = 24")
    facts = dict(told.facts)
    assert facts["pleated into"] == "60 cm, 3.00 to 1"
    assert (facts["from pleat to pleat"], facts["depth of a fold"]) == ("2.5 cm", "2.5 cm")
    assert facts["they turn"] == "to the right, outside up"
    ((panel, folds),) = told.tables[0].rows
    assert panel == "every panel"
    assert folds.startswith("5, (7.5), 12.5, (15), 20, (22.5), 27.5, (30)")
    assert folds.endswith("57.5 cm")
    assert (
        "Every seam between panels lies hidden inside a pleat, 2.5 cm from its edge." in told.notes
    )
    assert "Sum: 24 pleats × 7.5 cm = 180 cm; 24 × 2.5 cm = 60 cm." in told.notes


def test_the_sheet_says_what_pleats_are_folded_into() -> None:
    facts = dict(garment_words(pleated("box pleated").garment, Figures(System.CM))["facts"])
    assert facts["pleated into"] == "60 cm"
    assert "drawn up to" in dict(garment_words(plan_of("cm").garment, Figures(System.CM))["facts"])


def test_seams_and_openings_that_show_are_told() -> None:
    away = pleated("knife pleated", 'direction = "to the front"')
    assert [row[0] for row in away.tables[0].rows] == ["1", "2", "3"]
    assert "The opening at the back shows: it lies in the middle of a broad face." in away.notes
    # Two panels of 80 cm, 28 pleats 2.14 cm apart and 1.79 deep: the seam lies two depths after an
    # inside fold, the first of them covered by the pleat before; 0.36 cm on is the next edge.
    front = pleated(
        "knife pleated", 'direction = "to the front"\ncount = 28', at="side", panels=TWO
    )
    assert (
        "Every seam between panels shows, 0.4 cm from the nearest edge of a pleat; with all pleats "
        "turned one way it would lie hidden."
    ) in front.notes


def test_a_petticoat_on_a_string_has_no_pleats() -> None:
    case = case_of("cm", garment='kind = "petticoat"', band="")
    plans, others = of_case(case)
    assert plans == ()
    assert others == (
        "skirt: no pleats to plan; straight skirts and petticoats on a band have them.",
    )


def test_every_way_that_the_file_leaves_open_has_a_plan() -> None:
    plans, _ = of_case(case_of("cm", panels="count = [2, 4]"))
    assert [(plan.way, plan.plan.panels) for plan in plans] == [
        ("2 panels", 2), ("3 panels", 3), ("4 panels", 4)
    ]  # fmt: skip
    plans, _ = of_case(case_of("cm", panels='count = 3\nwidth = ["60 cm", "70 cm"]'))
    assert "least width" in plans[0].way


def test_both_measures_may_be_told() -> None:
    told = plan_of("both", cloth=THIN, wearer=WEARER)
    facts = dict(told.facts)
    assert facts["drawn into"].startswith("60 cm (23⅝ in), fulness")
    assert facts["stitch, over and under alike"].startswith("6.02 mm (0.237 in)")
    assert [row[0] for row in told.tables[-1].rows] == ["4 mm", "5 mm", "now 6 mm", "7 mm", "8 mm"]
    assert pleats_data([told], Both.CM_IN)


# --- figures ------------------------------------------------------------------------------

FIGURES = [
    plan_of("cm", cloth=THIN),
    plan_of("in"),
    plan_of("in", panels='count = 1\nwidth = "40 in"'),
    plan_of("cm", "[garment.skirt.gauging]\nrows = 12\nstitch = \"2 cm\"\n", panels="count = 9"),
    plan_of("cm", band='underlap = "1 cm"'),
    *(pleated(top) for top in ("knife pleated", "box pleated", "inverted pleated")),
    pleated("knife pleated", 'direction = "left"\ncount = 3'),
    pleated("knife pleated", 'direction = "to the front"\ncount = 60', at="side"),
]  # fmt: skip


def drawn(told: Told) -> list[tuple[Drawing, tuple[int, int]]]:
    plan, units = told.plan, told.data and System.CM
    whole = draw_round(plan, told.garment, units)
    if isinstance(plan, Gauging):
        return [whole, draw_rows(plan, told.garment, units)[:2]]
    assert isinstance(plan, Pressed)
    return [whole, draw_section(plan, units)[:2], draw_folds(plan, units)[:2]]


@pytest.mark.parametrize("told", FIGURES, ids=range(len(FIGURES)))
def test_words_of_a_figure_stay_on_it_and_apart(told: Told) -> None:
    for drawing, (width, height) in drawn(told):
        boxes = [mark.box for mark in drawing.over if isinstance(mark, Words)]
        assert boxes
        for box in boxes:
            assert box.x0 >= 0 and box.y0 >= 0 and box.x1 <= width and box.y1 <= height, box
        for index, one in enumerate(boxes):
            for other in boxes[:index]:
                apart = (
                    one.x1 <= other.x0 or other.x1 <= one.x0
                    or one.y1 <= other.y0 or other.y1 <= one.y0
                )  # fmt: skip
                assert apart, (one, other)
        # Capitals of 2 mm: those of Source Sans stand 0.66 of the size tall.
        assert min(mark.size for mark in drawing.over if isinstance(mark, Words)) >= 303


@pytest.mark.parametrize("turned", ["right", "left"])
def test_the_spacing_is_dimensioned_between_two_edges(turned: str) -> None:
    told = pleated("knife pleated", f'direction = "{turned}"\ncount = 24')
    assert isinstance(told.plan, Pressed)
    drawing, _, n = draw_section(told.plan, System.CM)
    paths = [mark for mark in drawing.over if isinstance(mark, Run) and not mark.closed]
    (cloth,) = (path.runs[0] for path in paths if path.weight == style.OUTLINE)
    top = min(y for _, y in cloth)
    edges = {x for x, y in cloth if y == top}
    lines = [path.runs[0] for path in paths if path.weight == style.THIN]
    # Extension lines above the cloth stand over two of its edges, a spacing of 2.5 cm apart.
    above = {a[0] for a, b in lines if a[0] == b[0] and max(a[1], b[1]) < top}
    assert above <= edges
    assert max(above) - min(above) == round(2500 / n)
    # The first leg runs up to its pleat's edge, the way that the pleats turn.
    assert (cloth[1][0] > cloth[0][0]) == (turned == "right")


def test_the_dots_of_a_row_are_a_stitch_apart_and_half_of_one_from_the_seam() -> None:

    told = plan_of("cm")
    assert isinstance(told.plan, Gauging)
    drawing, _, n = draw_rows(told.plan, told.garment, System.CM)
    assert n == 1
    discs = [mark.at for mark in drawing.over if isinstance(mark, Disc)]
    rows = sorted({y for _, y in discs})
    assert len(rows) == 3
    assert [(below - above) / 100 for above, below in pairwise(rows)] == [13, 13]
    first = sorted(x for x, y in discs if y == rows[0])
    pitch = float(told.plan.fitted / MM) * 100
    at_opening = [x - SIDES[0] for x in first if x < SIDES[0] + 1200]
    assert at_opening == [round(pitch / 2), round(pitch * 3 / 2)]
    over_seam = [x - SIDES[1] for x in first if abs(x - SIDES[1]) < pitch]
    assert over_seam == [-round(pitch / 2), round(pitch / 2)]


# --- terminal, data, pages ----------------------------------------------------------------


def test_the_terminal_tells_the_plan() -> None:
    console = Console(file=io.StringIO(), width=100, highlight=False)
    told = plan_of("cm", "[garment.skirt.gauging]\nrows = 6\n", cloth=THIN)
    pleats_table.show("A skirt", [told], ["apron has no pleats."], (), console)
    text = console.file.getvalue()  # type: ignore[attr-defined]
    for said in ("Pleats of skirt, for ada", "Mind: The lowest row", "Quarter points", "6.02 mm",
                 "apron has no pleats."):  # fmt: skip
        assert said in text


def run(*words: str) -> Result:
    return CliRunner().invoke(main, ["pleats", *words])


def test_the_command_writes_a_page_and_tells_the_figures(tmp_path: Path) -> None:
    case = str(ROOT / "cases" / "pleated-skirt.toml")
    result = run(case, "--out", str(tmp_path), "--json")
    assert result.exit_code == 0, result.output
    told = json.loads(result.stdout)
    (plan,) = told["plans"]
    assert (plan["method"], plan["pleats"], plan["pleats_per_panel"]) == ("knife pleated", 20, 5)
    assert (plan["depth_mm"], plan["spacing_mm"], plan["round_mm"]) == (32, 34, 1960)
    assert [fold["at_mm"] for fold in plan["folds"][0][:3]] == [0, 66, 98]
    assert told["files"] == [str(tmp_path / "pleats.pdf")]
    page = (tmp_path / "pleats.pdf").read_bytes()
    assert page.startswith(b"%PDF")
    assert run(case, "--out", str(tmp_path)).exit_code == 0
    assert (tmp_path / "pleats.pdf").read_bytes() == page


@pytest.mark.parametrize("number", [0, 3, 5, 9])
def test_the_page_says_all_that_is_told(number: int) -> None:
    told = FIGURES[number]
    pdf = pleats_files("A skirt", [told], System.CM, Paper.A4)["pleats.pdf"]
    text = " ".join(" ".join(pages(pdf)).split())
    cells = [cell for table in told.tables for row in table.rows for cell in row]
    for said in (told.title, *dict(told.facts).values(), *told.notes, *told.warnings, *cells):
        assert " ".join(set_fractions(said).split()) in text, said
    assert "\npleats\n" in "".join(pages(pdf))


def test_a_case_without_pleats_is_refused(tmp_path: Path) -> None:
    result = run(str(ROOT / "cases" / "half-circle-skirt.toml"), "--out", str(tmp_path / "out"))
    assert result.exit_code == 2
    assert (
        "no garment in it has pleats to plan; straight skirts and petticoats on a band have"
        in result.stderr
    )
    assert not (tmp_path / "out").exists()


def test_pleats_need_no_solver(tmp_path: Path) -> None:
    asked = (
        "import sys; from marker.cli import main; "
        "main(['pleats', sys.argv[1], '--out', sys.argv[2]], standalone_mode=False); "
        "print(','.join(sys.modules))"
    )
    case = str(ROOT / "cases" / "plain-skirt.toml")
    done = subprocess.run(
        [sys.executable, "-c", asked, case, str(tmp_path)],
        capture_output=True, text=True, check=True, cwd=ROOT,
    )  # fmt: skip
    loaded = done.stdout.splitlines()[-1].split(",")
    assert "marker.gauging" in loaded
    heavy = re.compile(r"ortools|numba|numpy|shapely|marker\.solver|marker\.decide")
    assert [name for name in loaded if heavy.match(name)] == []


def test_page_data_are_plain_words_and_drawings() -> None:
    for told in FIGURES:
        (data,) = pleats_data([told], System.CM)
        json.dumps(data)
        assert all(figure["svg"].startswith("<") for figure in data["details"])


def test_pleats_on_a_tape_are_told_of_a_tape() -> None:
    cases = Path(__file__).parents[1] / "cases"
    (taped,), (banded,) = (
        of_case(marker.read_case(cases / name))[0]
        for name in ("taped-petticoat.toml", "plain-skirt.toml")
    )
    assert "Sew each pleat to the tape with one stitch: 185 of them" in " ".join(taped.notes)
    assert "Sew each pleat to the band with one stitch: 220" in " ".join(banded.notes)
    assert "pleats on 10 cm of the tape" in dict(taped.facts)
    (points,) = (table for table in taped.tables if table.title == "Quarter points")
    assert points.heads[1] == "tape"
    drawing, _ = draw_round(taped.plan, taped.garment, System.CM)
    words = [mark.text for mark in drawing.over if isinstance(mark, Words)]
    assert "tape" in words and "band" not in words
    assert "band" not in str(pleats_data([taped], System.CM))
