"""Waste: one word with one meaning, on the terminal, in JSON, on the plan and on the sheet."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest
from example_lays import in_drops, skirt

import marker
from marker.cloth import Cloth
from marker.geometry import Rect
from marker.lay import Offcut
from marker.piece import Piece
from marker.plan import table
from marker.plan.lays.notes import notes
from marker.plan.words import phrases as words
from marker.plan.words.sums import leftovers
from marker.units import CM, System

ROOT = Path(__file__).parents[1]
CASES = sorted(path.stem for path in (ROOT / "cases").glob("*.toml"))


def share(lines: tuple[str, ...]) -> str:
    (found,) = [line for line in lines if line.startswith("Waste")] or [
        "Waste: 0.0 % of the cloth."
    ]
    match = re.search(r": (.* %) of the cloth", found)
    assert match
    return match[1]


@pytest.mark.parametrize("case", CASES)
def test_the_same_share_is_told_everywhere(case: str) -> None:
    record = marker.load_record(ROOT / "out" / case / "lay.json")
    told = table.summary(record, ())["cloths"]
    for lay, row in zip(record.lays, told, strict=True):
        assert row["waste"] == words.waste(lay) == share(leftovers(lay, record.units))
        assert share(notes(record, lay, 10, frozenset()).left) == row["waste"]
        kept = sum(offcut.rect.area for offcut in lay.offcuts if offcut.keep)
        parts = [100 * area / lay.bolt.area for area in (lay.used, kept)]
        assert sum(parts) + float(row["waste"].split()[0]) == pytest.approx(100, abs=0.051)


def test_a_remnant_to_keep_is_no_waste() -> None:
    """On 10 x 10 dm a piece of 4 x 10, a remnant of 5 x 10: a tenth of the cloth is wasted."""
    cloth = Cloth("main", "cloth", 100 * CM, 10 * CM)
    piece = Piece("A", "panel", 40 * CM, 100 * CM, 1, "main")
    lay = in_drops(cloth, (piece,), [(40 * CM, [("A", 0, 1)])])
    bolt = Rect(0, 0, 100 * CM, 100 * CM)
    left = Offcut(Rect(50 * CM, 0, 100 * CM, 100 * CM), keep=True)
    told = replace(lay, bolt=bolt, offcuts=(left,))
    assert words.waste(told) == "10.0 %"
    assert words.waste(replace(told, offcuts=(replace(left, keep=False),))) == "60.0 %"
    assert words.used(told) == "100.0 %", "of the lay, which ends where its pieces do"


def test_only_what_comes_off_is_said_to_be_counted() -> None:
    lay = skirt()
    for bare, words_told in (
        (lay, "Waste, squaring and selvedges counted: "),
        (replace(lay, cloth=replace(lay.cloth, keep_selvedges=True)), "Waste, squaring counted: "),
        (replace(lay, bolt=replace(lay.bolt, x0=0)), "Waste, selvedges counted: "),
    ):
        assert leftovers(bare, System.CM)[-1].startswith(words_told)


def test_the_smaller_of_many_remnants_are_counted() -> None:
    lay = skirt()
    strips = tuple(
        Offcut(Rect(0, n * 10 * CM, (30 + n) * CM, (n + 1) * 10 * CM), keep=True) for n in range(9)
    )
    told = leftovers(replace(lay, offcuts=strips), System.CM, 4)
    assert len(told) == 4
    assert told[0] == "Remnant to keep: 38 along × 10 cm across."
    assert told[2] == "Seven smaller remnants to keep."
    assert told[3].startswith("Waste")
    assert len(leftovers(replace(lay, offcuts=strips), System.CM)) == 10
    assert len(leftovers(replace(lay, offcuts=strips[:3]), System.CM, 4)) == 4


def test_the_terminal_says_of_what_the_shares_are(capsys: pytest.CaptureFixture[str]) -> None:
    record = marker.load_record(ROOT / "out" / "plain-skirt" / "lay.json")
    table.show(record, ())
    shown = " ".join(capsys.readouterr().out.split())
    assert table.MEANING in shown
    assert words.waste(record.lays[0]) in shown
