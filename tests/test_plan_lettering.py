"""Widths are upper bounds in every font we can fall back to, and odd text is made harmless."""

import unicodedata
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from marker.plan.drawing.lettering import ASCENT, BOLD, DESCENT, REGULAR, clean, clip, width, wrap

TEXT = st.text(max_size=60)
SYSTEM = Path("/usr/share/fonts/truetype")


def fonts(bold: bool) -> list[Path]:
    import font_source_sans_pro

    own = Path(font_source_sans_pro.font_directory)
    style = "Bold" if bold else "Regular"
    return [
        own / f"SourceSansPro-{style}.ttf",
        SYSTEM / "liberation" / f"LiberationSans-{style}.ttf",
        SYSTEM / "dejavu" / ("DejaVuSans-Bold.ttf" if bold else "DejaVuSans.ttf"),
    ]


@pytest.mark.parametrize("bold", [False, True])
def test_no_font_is_wider_than_the_table(bold: bool) -> None:
    tables = pytest.importorskip("fontTools.ttLib", reason="fontTools is not installed")
    letters = "".join(part for _, part in (BOLD if bold else REGULAR))
    assert len(letters) == len(set(letters)) > 200
    for path in fonts(bold):
        if not path.exists():
            continue
        font = tables.TTFont(path)
        names, advances, em = font.getBestCmap(), font["hmtx"], font["head"].unitsPerEm
        for letter in letters:
            if ord(letter) in names:
                advance = advances[names[ord(letter)]][0]
                assert advance * 1000 <= width(letter, 1000, bold=bold) * em, (path, letter)


@pytest.mark.parametrize("bold", [False, True])
def test_letters_and_figures_reach_no_higher_or_lower_than_said(bold: bool) -> None:
    tables = pytest.importorskip("fontTools.ttLib", reason="fontTools is not installed")
    for path in fonts(bold):
        if not path.exists():
            continue
        font = tables.TTFont(path)
        names, glyphs, em = font.getBestCmap(), font["glyf"], font["head"].unitsPerEm
        for letter in "AHbdfklt0123456789½×gjpqy,":
            glyph = glyphs[names[ord(letter)]]
            assert glyph.yMax * 1000 <= ASCENT * em, (path, letter)
            assert -glyph.yMin * 1000 <= DESCENT * em, (path, letter)


def test_width_adds_up_and_grows_with_the_size() -> None:
    assert width("ab", 1000) == width("a", 1000) + width("b", 1000)
    assert width("panel", 2000) == 2 * width("panel", 1000)
    assert width("panel", 100, bold=True) > width("panel", 100)
    assert width("漢", 100) == 140


@given(TEXT)
@settings(max_examples=200, derandomize=True)
def test_cleaned_text_can_stand_in_any_xml(text: str) -> None:
    found = clean(text)
    assert not any(unicodedata.category(letter) in ("Cc", "Cs", "Cn", "Cf") for letter in found)
    assert found == found.strip()
    assert "  " not in found
    assert clean(found) == found


def test_marks_do_not_pile_up() -> None:
    assert clean("q" + "\u0323\u0323\u0323\u0323") == "q\u0323\u0323"
    assert clean("bell\x07 and\x1b[0m\nline") == "bell and[0m line"


@given(TEXT, st.integers(0, 4000))
@settings(max_examples=200, derandomize=True)
def test_clipped_text_fits(text: str, room: int) -> None:
    found = clip(text, 300, room)
    assert width(found, 300) <= room
    if width(text, 300) <= room:
        assert found == text
    elif found:
        assert found.endswith("…")


@given(TEXT, st.integers(600, 9000))
@settings(max_examples=200, derandomize=True)
def test_wrapped_lines_fit_and_lose_no_word_that_fits(text: str, room: int) -> None:
    lines = wrap(text, 280, room)
    assert all(width(line, 280) <= room for line in lines)
    if all(width(word, 280) <= room for word in text.split()):
        assert " ".join(lines).split() == text.split()
    if all(width(letter, 280) <= room for letter in text):  # what is too long is broken
        assert "".join("".join(lines).split()) == "".join(text.split())
