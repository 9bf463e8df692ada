"""Case files that hold too much, and names that lie: told in a sentence, and nothing else made."""

from __future__ import annotations

import json
import subprocess
import sys
import unicodedata
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from time import process_time
from xml.dom import minidom

import pytest
from click.testing import CliRunner
from example_cases import text_of
from example_lays import record
from hypothesis import example, given, settings
from hypothesis import strategies as st

from marker import units
from marker.casefile import parse
from marker.casefile.reader import MOST_ENTRIES
from marker.cli import main
from marker.errors import BadInput, MarkerError
from marker.garments.words import is_key, text_fault
from marker.plan.drawing.page import Paper
from marker.plan.lays.svg import draw
from marker.signs import harmless, unprintable

PLAIN = text_of("in")
MANY = MOST_ENTRIES + 1


def fault(text: str) -> str:
    """The sentence by which a case is refused, in next to no time."""
    began = process_time()
    with pytest.raises(BadInput) as caught:
        parse(text, "a.toml")
    assert process_time() - began < 5
    told = str(caught.value)
    assert told.startswith("a.toml") and "\n" not in told and len(told) < 700
    return told


def tables(kind: str, keys: str, many: int = MANY) -> str:
    return PLAIN + "".join(f"[{kind}.w{at}]\n{keys}\n" for at in range(many))


TOO_MUCH = {
    "a key without end": (lambda: f"{PLAIN}\n[{'a.' * 400_000}a]", "is nested too deeply"),
    "spaced out": (lambda: f"{PLAIN}\n{'a . ' * 200_000}a = 1", "is nested too deeply"),
    "in quotes": (lambda: f"{PLAIN}\n'a'{'.a' * 300_000} = 1", "is nested too deeply"),
    "brackets": (lambda: f"{PLAIN}\nx = {'[' * 10_000}{']' * 10_000}", "is nested too deeply"),
    "tables": (lambda: f"{PLAIN}\nx = {'{a=' * 10_000}1{'}' * 10_000}", "is nested too deeply"),
    "a million figures": (
        lambda: PLAIN.replace("count = 3", f"count = {'9' * 900_000}"),
        "a.toml holds a number of thousands of digits; no figure of a case has, so check it",
    ),
    "keys": (
        lambda: "".join(f"k{at} = 1\n" for at in range(20_000)) + PLAIN,
        "k0 is not a key; the keys here are: title",
    ),
    "wearers": (lambda: tables("wearer", 'waist = "70 cm"'), "wearer holds 1002 tables; 1000 are"),
    "cloths": (lambda: tables("cloth", 'width = "1 m"'), "cloth holds 1002 tables; 1000 are"),
    "pieces": (lambda: tables("piece", 'length = "1 m"'), "piece holds 1001 tables; 1000 are"),
    "notions": (
        lambda: PLAIN + '[[notion]]\nname = "a"\ncount = 1\n' * MANY,
        "notion has 1001 entries; 1000 are the most",
    ),
    "names to choose from": (
        lambda: (
            PLAIN.replace("[cloth.main]", "[cloth.red]")
            + "".join(f'[cloth.c{at}]\nwidth = "1 m"\n' for at in range(500))
        ),
        "c37, c38 and 461 more",
    ),
    "a day for a number": (
        lambda: PLAIN.replace("count = 3", "count = 1979-05-27T07:32:00"),
        "count is 1979-05-27T07:32:00, not a whole number",
    ),
}


@pytest.mark.parametrize("name", TOO_MUCH)
def test_a_case_that_holds_too_much_is_refused_at_once(name: str) -> None:
    made, says = TOO_MUCH[name]
    assert says in fault(made())


@pytest.mark.parametrize(
    "text", ["a" * 900_000, "a " * 400_000, '"' * 900_000, "a." * 39 + "a = 1"]
)
def test_looking_for_long_keys_takes_no_time(text: str) -> None:
    assert "nested" not in fault(PLAIN + "\n" + text)


NAMES = (
    "a/b", "../../etc/passwd", "..", "a\\b", "CON", "NUL.txt", "aux", "-rf", ".hidden",
    "x" * 200, "أحمد", "a\u200fb", "👗 Rock", "👩‍🌾", "é", "e\u0301", "#panic()",
    '#read("/etc/passwd")',
    "$x$ *b* _i_ @ref <lab> `c` \\", "[red]r[/red]", "</svg><script>&amp;", "]]>", "%s {0} {{x}}",
)  # fmt: skip
HOSTILE = (
    "a\0b", "\x1b[2J", "\x1b]8;;http://a\x07b\x1b]8;;\x07", "a\x07", "a\x08b", "a\rb", "a\nb",
    "a\x7fb", "a\x9b31m", "a\u202eb", "a\u2066b", "a\u2028b", "\ufffe", "x" * 300, " ",
)  # fmt: skip


@pytest.mark.parametrize("name", HOSTILE)
def test_names_that_would_move_a_cursor_are_refused_everywhere(name: str) -> None:
    spelled = "".join(f"\\U{ord(sign):08x}" for sign in name)
    for old, new in (
        ('"A skirt"', f'"{spelled}"'),
        ("[cloth.main]", f'[cloth.main]\nname = "{spelled}"'),
        ("[wearer.ada]", f'[wearer.ada]\nname = "{spelled}"'),
        ("[garment.skirt]", f'[garment.skirt]\nname = "{spelled}"'),
        ("[wearer.ada]", f'[[notion]]\nname = "{spelled}"\ncount = 1\n[wearer.ada]'),
        ("[wearer.ada]", f'[wearer."{spelled}"]\n[wearer.ada]'),
        ("[wearer.ada]", f'["{spelled}"]\n[wearer.ada]'),
    ):
        assert PLAIN.count(old) == 1
        told = fault(PLAIN.replace(old, new))
        assert not unprintable(told), told


@settings(max_examples=60)
@given(st.text(st.characters(), max_size=12), st.sampled_from(["title", "key", "wearer", "value"]))
def test_no_name_that_is_told_holds_what_cant_be_printed(name: str, where: str) -> None:
    spelled = "".join(f"\\U{ord(sign):08x}" for sign in name if not 0xD800 <= ord(sign) < 0xE000)
    swap = {
        "title": ('"A skirt"', f'"{spelled}"'),
        "key": ("[cloth.main]", f'[cloth."{spelled}"]'),
        "wearer": ('waist = "26 in"', f'"{spelled}" = "26 in"'),
        "value": ('waist = "26 in"', f'waist = "{spelled}"'),
    }[where]
    try:
        case = parse(PLAIN.replace(*swap), "a.toml")
    except BadInput as error:
        assert not unprintable(str(error))
    else:
        assert not unprintable(case.title)
        assert all(is_key(key) for key in case.cloths)


@settings(max_examples=60)
@given(st.text(st.characters(), max_size=30))
@example("\x1b[31m")
@example("\udcff")
def test_whatever_is_made_harmless_can_be_printed(text: str) -> None:
    assert not unprintable(harmless(text))
    assert harmless(harmless(text)) == harmless(text)


@settings(max_examples=60)
@given(st.text(st.characters(), min_size=1, max_size=70))
@example("CON")
@example("../x")
@example("a\0")
@example(".")
@example("İ")
def test_no_key_reaches_out_of_its_folder(key: str) -> None:
    # One name is one file: no two keys differ in case, or in how letters are put together, alone.
    if not is_key(key):
        return
    name = f"plan-{key}.svg"
    assert Path(name).name == name and len(name.encode()) < 255
    assert unicodedata.normalize("NFD", key) == unicodedata.normalize("NFKC", key) == key
    assert key.isascii()


def test_names_are_drawn_as_the_text_they_are() -> None:
    assert [name for name in NAMES if text_fault(name)] == []
    told = record(title=" ".join(NAMES))
    lay = replace(told.lays[0], cloth=replace(told.lays[0].cloth, name=" ".join(NAMES)))
    drawing = minidom.parseString(draw(replace(told, lays=(lay,)), lay, Paper.A4))
    tags = {element.tagName for element in drawing.getElementsByTagName("*")}
    assert "script" not in tags and drawing.documentElement.tagName == "svg"
    (text,) = drawing.getElementsByTagName("title")[0].childNodes
    for name in NAMES:
        # Letters are put together, and signs that join others are left out.
        seen = unicodedata.normalize("NFC", name)
        assert "".join(c for c in seen if unicodedata.category(c) != "Cf") in text.data


LENGTHS = (
    "1e999 cm", "nan", "inf cm", "１２ cm", "١٢ cm", "1 1/0 in", "9" * 100_000 + " cm",
    "1/" * 50_000, "0x10 cm", "1_000 cm", "--1 cm", "1 cm\0", "1\u00a0cm",
    "², in", "⅒ in", "1 ½ ½ in",
)  # fmt: skip


@pytest.mark.parametrize("length", LENGTHS)
def test_lengths_that_are_none_or_none_too_long(length: str) -> None:
    began = process_time()
    try:
        assert 0 <= units.parse(length) <= units.LONGEST
    except BadInput as error:
        assert len(str(error)) < 300
    assert process_time() - began < 1


@settings(max_examples=100)
@given(
    st.text(
        st.sampled_from("0123456789０١²½ ./-+_eE\"'′″cmindty\u00a0\u2044₀")
        | st.characters(max_codepoint=0x2FFF),
        max_size=24,
    )
)
def test_any_text_is_a_length_or_a_sentence(text: str) -> None:
    try:
        value = units.parse(text)
    except BadInput as error:
        assert not unprintable(str(error))
    else:
        assert 0 <= value <= units.LONGEST
        assert units.parse(units.format_exact(value)) == value


OPTIONS = (
    ["--seconds", "nan"], ["--seconds", "1e999"], ["--seconds", "-1"], ["--seed", "9" * 40],
    ["--iterations", "1e3"], ["--iterations", "0"], ["--paper", "\x1b[2J"], ["--have", "main"],
    ["--have", "main=nan"], ["--have", "main=1e999 cm"], ["--have", "=1 m"],
    ["--have", "\x1b=1 m"],
    ["--have", "main=１２ cm"], ["--have", "main=1 m", "--have", "main=2 m"],
    ["--have", "../x=1 m"],
    ["--have", "main=" + "9" * 5000 + " cm"], ["--most", "\u202e"], ["\x1b[2J"],
)  # fmt: skip


@pytest.mark.parametrize("options", OPTIONS, ids=range(len(OPTIONS)))
def test_options_that_are_none_are_told_and_nothing_is_written(
    options: list[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("a.toml").write_text(PLAIN, encoding="utf-8")
    done = CliRunner().invoke(main, ["reach", "a.toml", *options])
    assert done.exit_code == 2 and done.stdout == ""
    assert not any(sign in done.stderr for sign in "\x1b\x07\u202e")
    assert isinstance(done.exception, SystemExit | MarkerError)
    assert [path.name for path in tmp_path.iterdir()] == ["a.toml"]


@pytest.mark.parametrize("command", ["plan", "compare", "chart", "reach", "templates"])
def test_nobody_waits_for_what_cant_be_written(
    command: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def search(*_: object, **__: object) -> None:
        raise AssertionError("it searched in vain")

    for where in ("decide.plan", "decide.comparison.compare", "decide.chart.chart"):
        monkeypatch.setattr(f"marker.{where}", search)
    monkeypatch.setattr("marker.decide.reach.reach", search)
    (tmp_path / "a.toml").write_text(PLAIN, encoding="utf-8")
    (tmp_path / "taken").write_text("mine")
    for out in ("taken", "taken/deeper"):
        done = CliRunner().invoke(
            main, [command, str(tmp_path / "a.toml"), "--out", str(tmp_path / out)]
        )
        assert done.exit_code == 5
        assert "a file stands where a folder should" in done.stderr
    assert (tmp_path / "taken").read_text() == "mine"


def test_two_cloths_never_share_a_file() -> None:
    for first, second in (("main", "MAIN"), ("a-b", "A-B")):
        text = PLAIN.replace("[cloth.main]", f"[cloth.{first}]\nwidth = '1 m'\n[cloth.{second}]")
        assert "which some computers can't tell apart" in fault(text)


@pytest.mark.slow
@pytest.mark.skipif(sys.platform != "linux", reason="memory is bounded by Linux here")
def test_a_hundred_megabytes_take_no_memory(tmp_path: Path) -> None:
    case = tmp_path / "a.toml"
    with case.open("wb") as file:
        file.truncate(100_000_000)
    script = (
        "import resource, sys\n"
        "resource.setrlimit(resource.RLIMIT_DATA, (300_000_000, 300_000_000))\n"
        "from marker.cli import main\n"
        "main(sys.argv[1:])\n"
    )
    for command in (["plan", str(case)], ["check", str(case)]):
        done = subprocess.run(
            [sys.executable, "-c", script, *command], capture_output=True, text=True, check=False
        )
        assert done.returncode == 2 and "too large" in done.stderr


@pytest.mark.slow
def test_markup_is_set_in_pages_as_the_text_it_is(
    tmp_path: Path, need_tool: Callable[[str], str]
) -> None:
    names = (
        '#panic() #read("/etc/passwd")', "$x$ *b* _i_ @ref <lab> `c`", "[red]r[/red] &amp; <b>",
        "= // /* */ #set %s {0} \\u{41}",
    )  # fmt: skip
    title, cloth, wearer, skirt = (json.dumps(name) for name in names)
    text = PLAIN.replace('"A skirt"', title)
    for table, name in (("cloth.main", cloth), ("wearer.ada", wearer), ("garment.skirt", skirt)):
        text = text.replace(f"[{table}]", f"[{table}]\nname = {name}")
    (tmp_path / "a.toml").write_text(text, encoding="utf-8")
    done = CliRunner().invoke(main, ["pleats", str(tmp_path / "a.toml"), "--out", str(tmp_path)])
    assert done.exit_code == 0, done.stderr
    read = [need_tool("pdftotext"), str(tmp_path / "pleats.pdf"), "-"]
    printed = subprocess.run(read, capture_output=True, text=True, check=True).stdout
    for name in names:
        assert [word for word in name.split() if word not in printed] == []
        assert name in " ".join(done.stdout.split())
