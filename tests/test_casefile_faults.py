"""Every way to go wrong in a case file is told in one sentence, with a remedy."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from example_cases import text_of
from hypothesis import given, settings
from hypothesis import strategies as st

from marker.casefile import parse, read
from marker.casefile.reader import LARGEST
from marker.errors import BadInput


def fault(text: str) -> str:
    """The sentence with which a case is refused, by the reader or the recipe."""
    with pytest.raises(BadInput) as raised:
        for order in parse(text, "a.toml").orders:
            order.drafts()
    return str(raised.value)


NO_UNIT = "'70' has no unit; write it as "
SWAPS = {
    "unknown key": (
        'width = "45 in"',
        'widht = "45 in"',
        "cloth.main.widht is not a key; did you mean 'width'?",
    ),
    "key like no other": (
        'width = "45 in"',
        'width = "45 in"\nzzz = 1',
        "cloth.main.zzz is not a key; the keys here are: name, width,",
    ),
    "unknown key deep down": (
        "count = 3",
        "cuont = 3",
        "garment.skirt.panels.cuont is not a key; did you mean 'count'?",
    ),
    "unknown heading": (
        "[wearer.ada]",
        "[wearers.ada]",
        "wearers is not a key; did you mean 'wearer'?",
    ),
    "bare whole number": ('waist = "26 in"', "waist = 70", f"wearer.ada.waist: {NO_UNIT}"),
    "bare number in quotes": ('waist = "26 in"', 'waist = "70"', f"wearer.ada.waist: {NO_UNIT}"),
    "not a number": ('waist = "26 in"', "waist = nan", "wearer.ada.waist: 'nan' is not a length"),
    "boolean length": ('waist = "26 in"', "waist = true", "wearer.ada.waist: true is not a length"),
    "word in a list": (
        'seam = "1/2 in"',
        'wearers = ["ada", 3]',
        "garment.skirt.wearers (number 2): 3 is not text; put it in quotes",
    ),
    "list for a length": ('waist = "26 in"', "waist = []", "wearer.ada.waist: [] is not a length"),
    "negative": ('waist = "26 in"', 'waist = "-26 in"', "wearer.ada.waist: '-26 in' is negative"),
    "nothing": ('waist = "26 in"', 'waist = "0 in"', "wearer.ada.waist: '0 in' is nothing"),
    "empty": ('waist = "26 in"', 'waist = ""', "wearer.ada.waist: a length is missing"),
    "old measure": (
        'waist = "26 in"',
        'waist = "5 furlongs"',
        "wearer.ada.waist: '5 furlongs' is not a length",
    ),
    "too long a bolt": (
        'width = "45 in"',
        'width = "10000 m"',
        "cloth.main.width: '10000 m' is longer than 1 km",
    ),
    "text for a number": (
        "count = 3",
        'count = "3"',
        "garment.skirt.panels.count is '3', not a whole number; give how many",
    ),
    "10,000 panels": (
        "count = 3",
        "count = 10000",
        "garment.skirt.panels.count is 10000, but should be less than or equal to 1000; give",
    ),
    "no panels": (
        "count = 3",
        "count = 0",
        "garment.skirt.panels.count is 0, but should be greater than or equal to 1; give",
    ),
    "number for a table": (
        "[garment.skirt.panels]\ncount = 3",
        "panels = 3",
        "garment.skirt.panels is 3, not a table; give a table of panels",
    ),
    "missing table": (
        "[garment.skirt.panels]\ncount = 3",
        "",
        "garment.skirt.panels is missing; give a table of panels",
    ),
    "missing width": (
        'width = "45 in"',
        "",
        "cloth.main.width is missing; give the width from edge to edge",
    ),
    "missing measure": (
        'waist = "26 in"',
        "",
        "wearer.ada.waist is missing; give the girth at the waist",
    ),
    "missing length": (
        'length = "39 in"',
        "",
        "wearer.ada.length is missing; give the length from the waist to the hem",
    ),
    "missing title": ('title = "A skirt"', "", "title is missing; give a title in quotes"),
    "number for a title": (
        'title = "A skirt"',
        "title = 3",
        "title: 3 is not text; put it in quotes",
    ),
    "number too long to print": (
        'title = "A skirt"',
        f"title = 0x{'f' * 9000}",
        "title: a very long number is not text",
    ),
    "control character": (
        '"A skirt"',
        '"A\\u0007skirt"',
        "title: the text holds the control character U+0007",
    ),
    "text turned about": (
        '"A skirt"',
        '"A \\u202eskirt"',
        "title: the text holds the control character U+202E",
    ),
    "empty title": ('"A skirt"', '"  "', "title: the text is empty"),
    "long title": (
        '"A skirt"',
        f'"{"x" * 201}"',
        "title: the text has 201 characters; keep it to 200",
    ),
    "unknown units": (
        'units = "in"',
        'units = "inch"',
        "units is 'inch'; write 'cm', 'in', 'both', 'cm and in' or 'in and cm'",
    ),
    "wide selvedge": (
        'selvedge = "1/2 in"',
        'selvedge = "23 in"',
        "cloth.main.selvedge is half the width",
    ),
    "wide selvedge, kept": (
        'selvedge = "1/2 in"',
        'selvedge = "23 in"\nselvedges = "kept"',
        "cloth.main.selvedge is half the width",
    ),
    "word for a selvedge": (
        'selvedge = "1/2 in"',
        'selvedges = "gone"',
        "cloth.main.selvedges is 'gone'; write 'trimmed' or 'kept'",
    ),
    "shrinkage as a number": (
        'selvedge = "1/2 in"',
        "shrinkage = 3",
        "cloth.main.shrinkage is 3, not a table; give a table, such as",
    ),
    "shrinkage without a sign": (
        'selvedge = "1/2 in"',
        'shrinkage = { warp = "3" }',
        "cloth.main.shrinkage.warp: '3' is not a share of the length",
    ),
    "shrinks to nothing": (
        'selvedge = "1/2 in"',
        'shrinkage = { warp = "60 %" }',
        "cloth 'main': shrinkage is from 0 to under 50 per cent",
    ),
    "price without a unit": (
        'selvedge = "1/2 in"',
        'price = "9 USD"',
        "cloth.main.price: '9 USD' is not a price; write it as",
    ),
    "weight without a unit": (
        'selvedge = "1/2 in"',
        'weight = "150"',
        "cloth.main.weight: '150' is not a weight; write it as",
    ),
    "word for true": (
        'selvedge = "1/2 in"',
        'one_way = "yes"',
        "cloth.main.one_way is 'yes', not true or false; give true for a nap",
    ),
    "key with a slash": (
        "[cloth.main]",
        '[cloth."../main"]',
        "cloth has the key '../main', which can't name a file",
    ),
    "key with a line end": (
        "[cloth.main]",
        '[cloth."a\\nb"]',
        "cloth has the key 'a\\nb', which can't name a file",
    ),
    "very long key": (
        "[cloth.main]",
        f"[cloth.{'x' * 61}]",
        "which can't name a file; use up to 60 letters",
    ),
    "keys alike": (
        "[cloth.main]",
        '[cloth.Main]\nwidth = "1 m"\n[cloth.main]',
        "cloth has the keys 'Main' and 'main', which some computers can't tell apart",
    ),
    "a figure for a cloth": (
        "[cloth.main]",
        "[cloth]\nbad = 3\n[cloth.main]",
        "cloth.bad is 3, not a table; write [cloth.bad]",
    ),
    "unknown wearer": (
        'seam = "1/2 in"',
        'wearer = "adda"',
        "garment.skirt.wearer names 'adda', which is not in the file; did you mean 'ada'?",
    ),
    "wearer and wearers": (
        'seam = "1/2 in"',
        'wearer = "ada"\nwearers = ["ada"]',
        "garment.skirt has both wearer and wearers",
    ),
    "wearer named twice": (
        'seam = "1/2 in"',
        'wearers = ["ada", "ada"]',
        "garment.skirt.wearers is empty or names a wearer twice",
    ),
    "one wearer for a list": (
        'seam = "1/2 in"',
        'wearers = "ada"',
        "garment.skirt.wearers is 'ada', not a list in square brackets",
    ),
    "unknown cloth": (
        'seam = "1/2 in"',
        'cloth = "man"',
        "garment.skirt.cloth names 'man', which is not in the file; did you mean 'main'?",
    ),
    "unknown kind": (
        'seam = "1/2 in"',
        'kind = "strait skirt"',
        "garment.skirt.kind 'strait skirt' is not known; did you mean 'straight skirt'?",
    ),
    "kind as a number": (
        'seam = "1/2 in"',
        "kind = 3",
        "garment.skirt.kind 3 is not known; the kinds are: ",
    ),
    "key of odd signs": (
        'seam = "1/2 in"',
        '"se\\nam" = 1',
        "'garment.skirt.se\\nam' is not a key",
    ),
    "broken TOML": ("[cloth.main]", "[cloth.main", " is not valid TOML: "),
    "depth without end": (
        "count = 3",
        f"count = {'[' * 100_000}",
        " is nested too deeply for a case file",
    ),
}


@pytest.mark.parametrize(("old", "new", "said"), SWAPS.values(), ids=SWAPS)
def test_bad_input_is_told_in_one_sentence(old: str, new: str, said: str) -> None:
    text = text_of("in")
    assert text.count(old) == 1
    told = fault(text.replace(old, new))
    assert said in told
    assert told.startswith("a.toml")
    assert "\n" not in told and not re.search(r"\. [A-Z]", told) and len(told) < 400


def test_several_cloths_need_a_name_each_time() -> None:
    text = text_of("in").replace("[cloth.main]", "[cloth.red]")
    told = fault(text + '[cloth.blue]\nwidth = "1 m"\n')
    assert (
        told
        == "a.toml: garment.skirt.cloth is missing, and there are several; name one of: red, blue"
    )


def test_two_garments_may_not_come_to_one_name() -> None:
    text = text_of("in", garment='wearers = ["ada"]')
    more = "[garment.skirt-ada]\npanels = { count = 3 }\n"
    assert "would be called 'skirt-ada', as another garment is" in fault(text + more)


@pytest.mark.parametrize("data", [b"\xff\xfe", "title = 'é'".encode("latin-1")])
def test_other_encodings_are_refused(tmp_path: Path, data: bytes) -> None:
    path = tmp_path / "a.toml"
    path.write_bytes(data)
    with pytest.raises(BadInput, match=r"a\.toml is not text in UTF-8; save it again"):
        read(path)


def test_files_that_are_none(tmp_path: Path) -> None:
    with pytest.raises(BadInput, match=r"gone\.toml is not there; check the path"):
        read(tmp_path / "gone.toml")
    with pytest.raises(BadInput, match="is a folder; give the path of a case file"):
        read(tmp_path)
    with pytest.raises(BadInput, match="can't be read"):
        read(tmp_path / ("x" * 300))
    with pytest.raises(BadInput, match="can't be read"):
        read(Path("a\0b.toml"))


def test_a_file_over_a_megabyte_is_refused_unread(tmp_path: Path) -> None:
    path = tmp_path / "big.toml"
    path.write_bytes(b"#" * (LARGEST + 1))
    with pytest.raises(BadInput, match="is over 1 MB"):
        read(path)


def test_a_thousand_garments_are_the_most() -> None:
    wearers = "".join(f'[wearer.w{i}]\nwaist = "70 cm"\n' for i in range(501))
    named = ", ".join(f'"w{i}"' for i in range(501))
    again = f"[garment.more]\nwearers = [{named}]\npanels = {{ count = 3 }}\n"
    text = text_of("in", garment=f"wearers = [{named}]") + wearers + again
    assert "orders 1002 garments; 1000 are the most" in fault(text)


@settings(max_examples=80)
@given(st.text(max_size=60))
def test_any_text_is_a_case_or_a_sentence(text: str) -> None:
    try:
        parse(text, "a.toml")
    except BadInput as error:
        assert str(error).startswith("a.toml")
        assert "\n" not in str(error)


@settings(max_examples=80)
@given(st.sampled_from(text_of("in").splitlines()), st.text(max_size=20))
def test_any_line_spoiled_is_a_case_or_a_sentence(line: str, spoiled: str) -> None:
    text = text_of("in").replace(line, line.split("=")[0] + "= " + spoiled)
    try:
        for order in parse(text, "a.toml").orders:
            order.drafts()
    except BadInput as error:
        assert str(error).startswith("a.toml")
