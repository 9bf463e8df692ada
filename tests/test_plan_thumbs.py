"""Thumbnails: one scale, letters apart, long cloths in rows, pages that hold what they show."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from functools import cache
from itertools import combinations, pairwise
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from marker.plan.drawing import style
from marker.plan.drawing.page import Box, Paper
from marker.plan.drawing.verbs import Drawing, Words
from marker.plan.thumbs.grid import Grid, Shown, grid, lines_of, room_of
from marker.plan.thumbs.page import heading_block, pages, pdf, whole, words_blocks
from marker.plan.thumbs.rows import clip_ring, clip_run, windows
from marker.plan.thumbs.thumb import GUTTER, LETTER, thumb
from marker.record import Record, load
from marker.units import CM, System

GOLDEN = Path(__file__).parent / "golden"
NAMES = sorted(path.name.partition(".")[0] for path in GOLDEN.glob("*.lay.json"))
ROOM = room_of(Paper.A4)[0]


@cache
def stored(name: str) -> Record:
    return load(GOLDEN / f"{name}.lay.json")


@cache
def every() -> tuple[tuple[Shown, ...], Grid]:
    shown = tuple(
        Shown(record.title, record.lays, ("a note",), f"{number}")
        for number, record in enumerate(map(stored, NAMES), 1)
    )
    return shown, grid(shown, Paper.A4, System.CM)


def faults(drawing: Drawing, page: Box) -> list[str]:
    """Labels that cover each other or leave the page, and words that are too small to read."""
    found = [
        f"{a.kind} {a.owner!r} covers {b.kind} {b.owner!r}"
        for a, b in combinations(drawing.labels, 2)
        if a.box.hits(b.box)
    ]
    found += [
        f"{label.owner!r} leaves the page" for label in drawing.labels if not page.holds(label.box)
    ]
    words = (mark for mark in drawing.over if isinstance(mark, Words))
    return found + [f"{one.text!r} is too small" for one in words if one.size < LETTER]


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("n", [20, 50, 100])
def test_labels_of_a_thumbnail_stand_apart(name: str, n: int) -> None:
    for lay in stored(name).lays:
        small = thumb(lay, n, System.CM, ROOM)
        assert faults(small.drawing, Box(0, 0, *small.size).grown(10)) == []


@pytest.mark.parametrize("name", NAMES)
def test_a_thumbnail_letters_every_piece_that_it_has_room_for(name: str) -> None:
    for lay in stored(name).lays:
        told = {label.owner for label in thumb(lay, 20, System.CM, ROOM).drawing.labels}
        assert {piece.letter for piece in lay.pieces} <= told


def test_all_lays_are_drawn_at_one_scale() -> None:
    shown, found = every()
    lays = [lay for one in shown for lay in one.lays]
    drawn = [
        box
        for block in found.blocks
        for box in [mark.box for mark in block.drawing.ground if hasattr(mark, "box")]
        if getattr(box, "height", 0) > 0
    ]
    for lay in lays:
        across = round(lay.bolt.across * 5 / 8 / found.n)
        along = round(lay.bolt.along * 5 / 8 / found.n)
        assert any(
            abs(box.width - along) <= 1 and abs(box.height - across) <= 1 for box in drawn
        ), lay.cloth.name


def test_blocks_lie_apart_and_on_the_page() -> None:
    for block in every()[1].blocks:
        assert faults(block.drawing, Box(0, 0, ROOM, block.height)) == []


def test_words_tell_what_to_buy_and_how_wide_the_cloth_is() -> None:
    words = [
        mark.text
        for block in every()[1].blocks
        for mark in block.drawing.over
        if isinstance(mark, Words)
    ]
    assert any(text.startswith("Buy 2.30 m") for text in words)
    assert any("140 cm" in text for text in words)
    assert any("all drawn at 1:" in text for text in words)


def test_few_short_lays_are_drawn_large_and_many_long_ones_small() -> None:
    one = grid([Shown("one", stored("skirt").lays)], Paper.A4, System.CM)
    assert one.n < every()[1].n


def test_a_number_keeps_its_unit_on_its_line() -> None:
    lines = lines_of("Blue cotton of the mill, 150 cm wide after 2.00 m, 12 % more", 2200)
    assert len(lines) > 3
    assert not any(a[-1:].isdigit() and b[:1] in "cm%" for a, b in pairwise(lines)), lines


def test_a_cloth_longer_than_the_page_goes_on_in_rows() -> None:
    lay = stored("many").lays[0]
    room = 4000
    small = thumb(lay, 100, System.CM, room)
    assert small.size[0] <= room
    tall = lay.bolt.across * 5 // 8 // 100
    assert small.size[1] > 2 * tall
    told = {label.owner for label in small.drawing.labels}
    assert "A" in told
    assert faults(small.drawing, Box(0, 0, *small.size).grown(10)) == []


def test_a_row_ends_where_no_piece_is_broken() -> None:
    assert windows(1000, 400, [390, 610, 700]) == ((0, 390), (390, 700), (700, 1000))
    # A clear place too early in a row is no reason to leave most of it empty.
    assert windows(1000, 400, [100])[0] == (0, 400)


@given(
    st.integers(1, 100_000), st.integers(300, 30_000), st.lists(st.integers(0, 100_000), max_size=9)
)
@settings(max_examples=60, derandomize=True)
def test_rows_follow_each_other_and_hold_the_whole_cloth(
    width: int, room: int, clear: list[int]
) -> None:
    found = windows(width, room, clear)
    assert (found[0][0], found[-1][1]) == (0, width)
    assert all(a[1] == b[0] for a, b in pairwise(found))
    assert all(0 < high - low <= room for low, high in found)


def area(ring: tuple[tuple[int, int], ...]) -> float:
    turned = (*ring[1:], *ring[:1])
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(ring, turned, strict=True)) / 2


@given(st.lists(st.tuples(st.integers(0, 900), st.integers(0, 900)), min_size=3, max_size=9))
@settings(max_examples=60, derandomize=True)
def test_what_rows_show_of_an_outline_makes_up_the_whole(ring: list[tuple[int, int]]) -> None:
    parts = [clip_ring(ring, span) for span in ((0, 300), (300, 550), (550, 900))]
    # Corners on a break are rounded to whole units, once for each crossing.
    assert abs(sum(map(area, parts)) - area(tuple(ring))) <= 900 * len(ring)
    runs = [run for span in ((0, 300), (300, 900)) for run in clip_run(ring, span)]
    assert all(abs(b[1] - a[1]) <= 900 for run in runs for a, b in pairwise(run))
    shown = sum(abs(b[0] - a[0]) for run in runs for a, b in pairwise(run))
    assert shown == sum(abs(b[0] - a[0]) for a, b in pairwise(ring))


def blocks() -> tuple[object, ...]:
    head = heading_block("Which <cloth> & how", "Best first, 3 1/2 yd", ROOM)
    return (head, *every()[1].blocks, *words_blocks("Rules", ["One.", "Two."], ROOM))


def test_the_svg_stands_by_itself() -> None:
    text = whole(blocks(), Paper.A4, "Which <cloth>", "Four options & their lays")
    root = ET.fromstring(text)
    assert root.get("width") == "297mm"
    assert root.get("height", "").endswith("mm")
    across, down = root.get("viewBox", "").split()[2:]
    assert across == "29700"
    assert int(down) > 20_000
    names = {child.tag.partition("}")[2]: child.text for child in root}
    assert names["title"] == "Which <cloth>"
    assert names["desc"] == "Four options & their lays"
    assert "3½ yd" in text
    assert {child.tag.partition("}")[2] for child in root} <= {
        "title", "desc", "defs", "rect", "path", "circle", "text",
    }  # fmt: skip


def test_every_block_stands_on_one_page() -> None:
    drawn = pages(blocks(), Paper.A4, "t", "d")
    assert len(drawn) > 1
    assert all('height="210mm"' in page for page in drawn)
    shown = "".join(drawn)
    for record in map(stored, NAMES):
        assert shown.count(f">{record.lays[-1].cloth.name}, ") >= 1
    assert f"{len(drawn)} of {len(drawn)}" in drawn[-1]


def test_the_pdf_holds_every_page_and_is_the_same_each_time() -> None:
    drawn = pages(blocks(), Paper.LETTER, "t", "d")
    made = pdf(drawn, "Which cloth")
    assert made.startswith(b"%PDF")
    assert made == pdf(drawn, "Which cloth")
    assert made.count(b"/Type /Page\n") + made.count(b"/Type/Page/") == len(drawn)


@pytest.mark.slow
def test_a_very_long_bolt_still_fits_the_page() -> None:
    lay = stored("many").lays[0]
    found = grid([Shown("all", (lay,) * 6)], Paper.A4, System.CM)
    assert max(block.height for block in found.blocks) <= room_of(Paper.A4)[1]
    assert found.n * style.BAR * 8 // 5 > CM
    assert GUTTER < ROOM
