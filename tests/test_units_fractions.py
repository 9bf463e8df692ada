"""Fractions are set as real ones wherever ink meets paper, and stay text that can be found."""

from __future__ import annotations

import re
from dataclasses import replace
from io import BytesIO
from pathlib import Path
from shutil import which
from subprocess import run

import pypdf
import pytest
from hypothesis import given
from hypothesis import strategies as st
from plan_lays import RECORDS

from marker.plan.drawing.lettering import UNKNOWN, width
from marker.plan.drawing.page import Paper
from marker.plan.lays.svg import draw
from marker.plan.sheet.setting import compile_sheet
from marker.units import INCH, Both, Rounding, System, format_length, parse, set_fractions

PLAIN = re.compile(r"\d\s*/\s*\d")


@pytest.mark.parametrize(
    ("plain", "real"),
    [
        ("42 1/2 in", "42½ in"), ("3/8 in", "⅜ in"), ("1/3 of it", "⅓ of it"),
        ("5/16 in", "⁵⁄₁₆ in"), ("2 11/16 in", "2¹¹⁄₁₆ in"), ("1/32 in", "¹⁄₃₂ in"),
        ("99 cm (38 15/16 in)", "99 cm (38¹⁵⁄₁₆ in)"),
        # A day and a month, parts of no tape, and what is no proper fraction, are left alone.
        ("the dance of 24/12", "the dance of 24/12"), ("5/7", "5/7"), ("17/16", "17/16"),
        ("1/0", "1/0"), ("EUR/m", "EUR/m"),
    ],
)  # fmt: skip
def test_fractions_of_a_tape_are_set_as_real_ones(plain: str, real: str) -> None:
    assert set_fractions(plain) == real
    assert set_fractions(real) == real


@given(st.integers(0, 200 * INCH), st.sampled_from([System.IN, *Both]))
def test_no_length_prints_a_plain_fraction_and_all_are_read_again(value: int, units: Both) -> None:
    for fine in (False, True):
        told = format_length(value, units, Rounding.UP, fine=fine)
        shown = set_fractions(told)
        assert not PLAIN.search(shown)
        for plain, real in zip(told.split(" ("), shown.split(" ("), strict=True):
            assert parse(real.removesuffix(")")) == parse(plain.removesuffix(")"))


def test_every_part_of_a_built_fraction_has_a_width_of_its_own() -> None:
    for text in ("⁰¹²³⁴⁵⁶⁷⁸⁹", "₀₁₂₃₄₅₆₇₈₉", "\u2044"):
        for bold in (False, True):
            assert width(text, 1000, bold=bold) < 500 * len(text) < UNKNOWN * len(text)


@pytest.fixture(scope="module")
def sheet() -> bytes:
    """The sheet of a lay in inches, its plan in it, with a figure to the sixteenth."""
    record = replace(RECORDS["inches"](), choices=("Take stitches of at least 3/16 in.",))
    return compile_sheet(record, {"main": draw(record, record.lays[0], Paper.A4)}, Paper.A4)


@pytest.mark.slow
def test_the_sheet_and_the_plan_hold_no_plain_fraction(sheet: bytes) -> None:
    text = "\n".join(page.extract_text() for page in pypdf.PdfReader(BytesIO(sheet)).pages)
    assert not PLAIN.search(text)
    assert "³⁄₁₆ in" in text
    assert "22⅝" in text
    record = RECORDS["inches"]()
    drawn = draw(record, record.lays[0], Paper.A4).replace("units of 1/160 mm", "")
    assert not any(PLAIN.search(shown) for shown in re.findall(r">([^<]+)<", drawn))


@pytest.mark.skipif(which("pdftotext") is None, reason="pdftotext is not installed")
def test_real_fractions_are_found_in_the_pdf_by_other_readers(sheet: bytes, tmp_path: Path) -> None:
    (tmp_path / "sheet.pdf").write_bytes(sheet)
    text = run(
        ["pdftotext", "-layout", tmp_path / "sheet.pdf", "-"], capture_output=True, check=True
    ).stdout.decode()
    assert "³⁄₁₆ in" in text
    assert "42½ × 22⅝ in" in text
    assert not PLAIN.search(text)
