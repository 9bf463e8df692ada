"""The command line as a user meets it: files written, one sentence a fault, exit codes."""

from __future__ import annotations

import json
import re
import shlex
import signal
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

import marker
from marker import decide
from marker.casefile import Case
from marker.cli import main
from marker.record import Record

ROOT = Path(__file__).parents[1]
CASES = sorted((ROOT / "cases").glob("*.toml"))
Run = Callable[..., Result]

SMALL = """
title = "Small skirt"
units = "cm"
[wearer.ilka]
waist = "66 cm"
length = "100 cm"
[cloth.main]
width = "114 cm"
selvedge = "1 cm"
squaring = "2 cm"
[garment.skirt]
seam = "1 cm"
turn_down = "6 cm"
hem = "own hem"
take_up = "2 cm"
[garment.skirt.panels]
count = 3
[garment.skirt.band]
width = "3 cm"
"""


@pytest.fixture
def run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Run:
    """Run a command in an empty folder that holds one small case."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "small.toml").write_text(SMALL, encoding="utf-8")
    return lambda *args, **kept: CliRunner().invoke(main, [str(arg) for arg in args], **kept)


def fault(result: Result, code: int, *says: str) -> None:
    """Check for an exit code and for one sentence that says what it must."""
    assert result.exit_code == code, result.output
    assert result.stdout == ""
    sentence = result.stderr.strip()
    assert sentence.startswith("marker: ")
    assert "\n" not in sentence
    assert "Traceback" not in sentence
    for said in says:
        assert said in sentence


def test_plan_writes_plan_sheet_and_record(run: Run, tmp_path: Path) -> None:
    done = run("plan", "small.toml")
    assert done.exit_code == 0, done.stderr
    folder = tmp_path / "out" / "small"
    assert sorted(path.name for path in folder.iterdir()) == [
        "lay.json", "plan-main.svg", "sheet.pdf",
    ]  # fmt: skip
    # 3 x 108 + 8 = 332 cm, and 2 cm of squaring: 334 cm, bought as 3.40 m.
    assert "3.40 m" in done.stdout
    assert "proved: no" in done.stdout
    assert "To buy besides: sewing thread, 1 spool of 100 m;" in done.stdout
    checked = run("check", folder / "lay.json")
    assert checked.exit_code == 0
    assert "no faults" in checked.stdout


def test_json_prints_json_and_nothing_else(run: Run) -> None:
    told = json.loads(run("plan", "small.toml", "--json", "--out", "there").stdout)
    (cloth,) = told["cloths"]
    assert cloth["buy"] == "3.40 m"
    assert cloth["lay_length"] == cloth["bound"] == 332 * 1600
    assert cloth["proof"] == "length"
    bought = {line["name"]: line for line in told["shopping"]}
    assert bought[cloth["cloth"]]["buy"] == "3.40 m"
    assert bought["sewing thread"]["counter"] == "thread"
    assert set(told["total"]) == {"amount", "currencies", "unpriced"}
    assert told["sewing"][0]["rows"][0]["flat"] > told["sewing"][0]["rows"][0]["pushed"]
    assert all(Path(path).exists() for path in told["files"])


def test_a_case_can_be_cut_with_shears_instead(run: Run) -> None:
    assert run("plan", "small.toml", "--mode", "shears", "--out", "o").exit_code == 0
    told = json.loads(Path("o/lay.json").read_text(encoding="utf-8"))
    assert (told["lays"][0]["mode"], told["lays"][0]["tears"]) == ("shears", [])
    assert run("check", "o/lay.json").exit_code == 0


def test_counted_searches_give_the_same_bytes(run: Run) -> None:
    for folder in ("one", "two"):
        told = run("plan", "small.toml", "--iterations", 3, "--seed", 5, "--out", folder)
        assert told.exit_code == 0, told.stderr
    for name in ("lay.json", "plan-main.svg", "sheet.pdf"):
        assert Path("one", name).read_bytes() == Path("two", name).read_bytes()


def test_letter_paper_is_drawn_on_letter_paper(run: Run) -> None:
    assert run("plan", "small.toml", "--paper", "letter", "--out", "o").exit_code == 0
    assert 'width="279.4mm"' in Path("o/plan-main.svg").read_text(encoding="utf-8")


def test_a_tampered_record_is_refused(run: Run) -> None:
    run("plan", "small.toml", "--out", "o")
    record = Path("o/lay.json")
    told = json.loads(record.read_text(encoding="utf-8"))
    told["lays"][0]["placements"][0]["y"] += 1
    record.write_text(json.dumps(told), encoding="utf-8")
    fault(run("check", record), 4, "refused by the referee", "A-1")


def test_a_tampered_drawing_is_refused(run: Run) -> None:
    run("plan", "small.toml", "--out", "o")
    drawing = Path("o/plan-main.svg")
    text = drawing.read_text(encoding="utf-8")
    changed = re.sub(r'(id="A-1"[^>]* y=")(\d+)', lambda m: m[1] + str(int(m[2]) + 1), text)
    if changed == text:
        changed = re.sub(r'(y=")(\d+)("[^>]*id="A-1")|(id="A-1")', r'\g<4> y="1"', text, count=1)
    assert changed != text
    drawing.write_text(changed, encoding="utf-8")
    fault(run("check", "o/lay.json"), 4, "plan-main.svg")


BAD = {
    "unknown key": ('title = "Small skirt"', 'titel = "x"', ("titel", "title")),
    "bare number": ('waist = "66 cm"', "waist = 66", ("waist",)),
    "no unit": ('waist = "66 cm"', 'waist = "66"', ("waist", "no unit")),
    "missing measure": ('waist = "66 cm"', "", ("waist",)),
    "selvedge too wide": ('selvedge = "1 cm"', 'selvedge = "60 cm"', ("selvedge",)),
    "10 km of cloth": ('width = "114 cm"', 'width = "10000 m"', ("width", "1 km")),
    "10,000 panels": ("count = 3", "count = 10000", ("count",)),
    "wrong type": ("count = 3", 'count = "three"', ("count",)),
    "control characters": ('"Small skirt"', '"Small\\u0007skirt"', ("title",)),
    "not TOML": ("[cloth.main]", "[cloth.main", ("small.toml",)),
}


@pytest.mark.parametrize("name", BAD)
def test_bad_cases_get_one_sentence_and_write_nothing(run: Run, tmp_path: Path, name: str) -> None:
    old, new, says = BAD[name]
    assert old in SMALL
    (tmp_path / "small.toml").write_text(SMALL.replace(old, new), encoding="utf-8")
    fault(run("plan", "small.toml"), 2, "small.toml", *says)
    assert not (tmp_path / "out").exists()


def test_a_piece_wider_than_the_cloth_names_piece_and_cloth(run: Run, tmp_path: Path) -> None:
    wide = SMALL.replace("count = 3", 'count = 3\nwidth = "113 cm"')
    (tmp_path / "small.toml").write_text(wide, encoding="utf-8")
    result = run("plan", "small.toml")
    assert result.exit_code in (2, 3)
    fault(result, result.exit_code, "small.toml", "113 cm", "112 cm")


def test_missing_files_and_folders_get_one_sentence(run: Run, tmp_path: Path) -> None:
    fault(run("plan", "nowhere.toml"), 2, "nowhere.toml")
    fault(run("plan", tmp_path), 2, str(tmp_path))
    fault(run("check", "nowhere.json"), 2, "nowhere.json")
    fault(run("check", "small.toml"), 2, "small.toml")


def test_a_title_with_markup_prints_as_text(run: Run, tmp_path: Path) -> None:
    bold = SMALL.replace("Small skirt", "<script>alert(1)</script> & #strong[x]")
    (tmp_path / "small.toml").write_text(bold, encoding="utf-8")
    assert run("plan", "small.toml", "--out", "o").exit_code == 0
    drawing = Path("o/plan-main.svg").read_text(encoding="utf-8")
    assert "<script" not in drawing
    assert "&lt;script&gt;" in drawing


def test_a_folder_that_cant_be_written_is_left_alone(run: Run, tmp_path: Path) -> None:
    (tmp_path / "taken").write_text("mine", encoding="utf-8")
    fault(run("plan", "small.toml", "--out", "taken"), 5, "taken")
    assert (tmp_path / "taken").read_text(encoding="utf-8") == "mine"


def test_ctrl_c_before_any_lay_writes_nothing(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def stop(*_: object, **__: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("marker.decide.plan", stop)
    fault(run("plan", "small.toml"), 1, "stopped")
    assert not (tmp_path / "out").exists()


def test_ctrl_c_keeps_the_best_lay_and_says_so(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    plain = decide.plan

    def interrupted(case: Case, **limits: Any) -> Record:
        signal.raise_signal(signal.SIGINT)
        return plain(case, **limits)

    monkeypatch.setattr("marker.decide.plan", interrupted)
    done = run("plan", "small.toml", "--out", "o")
    assert done.exit_code == 0, done.stderr
    assert "marker: stopped early; these are the best lays found so far" in done.stderr
    assert run("check", "o/lay.json").exit_code == 0
    monkeypatch.setattr("marker.decide.plan", plain)
    assert "stopped" not in run("plan", "small.toml", "--out", "o").stderr


def test_new_writes_a_case_that_plans_at_once(run: Run) -> None:
    for units in ("cm", "in"):
        made = run("new", f"dance-{units}", "--units", units, "--defaults")
        assert made.exit_code == 0, made.stderr
        planned = run("plan", f"dance-{units}.toml")
        assert planned.exit_code == 0, planned.stderr


def test_new_asks_until_an_answer_can_be_used(run: Run) -> None:
    typed = "in\n27\n27 in\n" + "\n" * 10
    made = run("new", "asked", input=typed)
    assert made.exit_code == 0, made.stderr
    assert "no unit" in made.stderr
    assert 'waist = "27 in"' in Path("asked.toml").read_text(encoding="utf-8")


def test_new_keeps_what_stands_and_says_what_it_cant_use(run: Run, tmp_path: Path) -> None:
    fault(run("new", "small", "--defaults"), 2, "small.toml")
    fault(run("new", "x", "--defaults", "--answer", "waist"), 2, "'='")
    fault(run("new", "x", "--defaults", "--answer", "waits=66 cm"), 2, "waits")
    fault(run("new", "x", "--defaults", "--answer", "waist=66"), 2, "no unit")
    fault(run("new", "no/such/folder/x", "--defaults"), 5, "folder")
    assert (tmp_path / "small.toml").read_text(encoding="utf-8") == SMALL
    assert not list(tmp_path.glob("x*"))


def test_every_command_has_help_and_stands_in_the_readme() -> None:
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    for name, command in main.commands.items():
        assert command.help
        assert f"`marker {name}" in readme


@pytest.mark.usefixtures("run")
def test_the_library_walks_the_same_road(tmp_path: Path) -> None:
    record = marker.plan_case(marker.read_case("small.toml"))
    assert marker.findings(record) == ()
    assert marker.draw_plan(record, "main").startswith("<?xml")
    written = marker.write_files(record, tmp_path / "lib")
    assert marker.load_record(written[-1]) == record
    # Importing a room must not shadow a function of the library.
    assert all(callable(getattr(marker, name)) for name in marker.__all__)
    with pytest.raises(marker.BadInput, match="no cloth 'silk'"):
        marker.draw_plan(record, "silk")


def test_the_readme_commands_run_here(run: Run) -> None:
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    blocks = re.findall(r"^```sh\n(.*?)^```", readme, flags=re.DOTALL | re.MULTILINE)
    assert len(blocks) == 2
    assert all(block.startswith("python3 -m venv .venv && ") for block in blocks)
    # Installing needs a network, which tests do without; CI runs the commands whole.
    words = shlex.split(blocks[0].split("&&")[-1])
    assert words[0] == ".venv/bin/marker"
    assert not words[2].startswith("/")
    done = run(words[1], ROOT / words[2], "--out", "o")
    assert done.exit_code == 0, done.stderr
    assert shlex.split(blocks[1].split("&&")[-1])[0] == ".venv/bin/pytest"


@pytest.mark.parametrize("case", CASES, ids=lambda path: path.stem)
def test_demo_cases_open_with_their_one_idea(case: Path) -> None:
    first = case.read_text(encoding="utf-8").splitlines()[0]
    assert first.startswith("# One idea: ")
