"""The same case with some values changed, as if the file said so."""

from __future__ import annotations

from pathlib import Path

import pytest

from marker import casefile
from marker.casefile.changes import changed, told, value_at
from marker.errors import BadInput

CASES = Path(__file__).parents[1] / "cases"


def test_a_change_is_what_the_file_would_say() -> None:
    case = casefile.read(CASES / "faced-skirt.toml")
    text = (CASES / "faced-skirt.toml").read_text(encoding="utf-8")
    written = casefile.parse(text.replace("count = 3", "count = 2"), case.file, case.folder)
    assert changed(case, {("garment", "skirt", "panels", "count"): 2}) == written
    assert value_at(case, ("garment", "skirt", "panels", "count")) == 3


def test_nothing_changed_is_the_same_case() -> None:
    for path in sorted(CASES.glob("*.toml")):
        case = casefile.read(path)
        assert changed(case, {}) == case


def test_a_missing_table_is_made_and_a_key_taken_out() -> None:
    case = casefile.read(CASES / "plain-skirt.toml")
    faced = changed(case, {("garment", "skirt", "facing", "depth"): "12 cm"})
    assert value_at(faced, ("garment", "skirt", "facing")) == {"depth": "12 cm"}
    assert value_at(case, ("garment", "skirt", "facing")) is None
    bare = changed(faced, {("garment", "skirt", "facing"): None})
    assert value_at(bare, ("garment", "skirt", "facing")) is None
    assert changed(case, {("garment", "skirt", "facing", "depth"): None}) == case


def test_a_change_that_clashes_is_told_by_its_key() -> None:
    case = casefile.read(CASES / "plain-skirt.toml")
    with pytest.raises(BadInput, match=r"panels\.count.*greater than or equal to 1"):
        changed(case, {("garment", "skirt", "panels", "count"): 0})


def test_the_case_itself_stays_as_it_is() -> None:
    case = casefile.read(CASES / "faced-skirt.toml")
    before = value_at(case, ("cloth", "main", "width"))
    changed(case, {("cloth", "main", "width"): "60 in"})
    assert value_at(case, ("cloth", "main", "width")) == before


def test_changes_are_told_as_the_user_would_write_them() -> None:
    key = ("garment", "skirt")
    changes = {
        (*key, "panels", "count"): 3,
        (*key, "cloth"): 'so-"called"',
        (*key, "facing"): None,
        (*key, "panels", "width"): ["66 cm", "full"],
        ("cloth", "main", "one_way"): True,
        ("cloth", "main", "repeat"): {"along": "12 cm"},
    }
    assert told(changes) == (
        'garment.skirt.panels.count = 3, garment.skirt.cloth = "so-\\"called\\"", '
        'without garment.skirt.facing, garment.skirt.panels.width = ["66 cm", "full"], '
        'cloth.main.one_way = true, cloth.main.repeat = { along = "12 cm" }'
    )
