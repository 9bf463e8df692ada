"""The plan in a real browser: words keep to their boxes, the test square is five centimetres."""

from __future__ import annotations

import json
import re
import shutil
import struct
import subprocess
import zlib
from html import unescape
from pathlib import Path

import numpy as np
import pytest
from plan_lays import drawn

from marker.plan.drawing import style
from marker.plan.drawing.page import Paper
from marker.plan.drawing.verbs import Field, Words
from marker.plan.lays.binding import bound
from marker.plan.lays.svg import draw_pages, emit

CHROMIUM = next((found for name in ("chromium", "chromium-browser", "google-chrome")
                 if (found := shutil.which(name))), "")  # fmt: skip
pytestmark = pytest.mark.skipif(not CHROMIUM, reason="no chromium here to render the SVG with")

DOTS = 2
"""Device dots to a CSS pixel; one CSS pixel is 1/96 in (W3C)."""
PER_MM = 96 / 25.4

MEASURE = """<script>
const found = [...document.querySelectorAll("body > svg")].map(svg => {
  const page = svg.getBoundingClientRect();
  return [...svg.querySelectorAll("text")].map(one => {
    const box = one.getBoundingClientRect();
    return [one.textContent, box.left - page.left, box.top - page.top, box.width, box.height];
  });
});
const told = document.createElement("pre");
told.id = "told"; told.textContent = JSON.stringify(found); document.body.append(told);
</script>"""
NAMES = ("skirt", "mixed", "pinwheel", "checks", "bias", "many")


def run(folder: Path, svg: str, *options: str, more: str = "") -> str:
    """Show an SVG alone on a page, in a profile of its own."""
    page = folder / "page.html"
    body = re.sub(r"<\?xml[^>]*>\n", "", svg)
    page.write_text(
        f"<!doctype html><meta charset=utf-8><body style='margin:0'>{body}{more}", encoding="utf-8"
    )
    command = [
        CHROMIUM, "--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars",
        f"--user-data-dir={folder / 'profile'}", "--window-size=1200,900", *options,
        page.as_uri(),
    ]  # fmt: skip
    return subprocess.run(command, capture_output=True, check=True, timeout=60, text=True).stdout


Found = tuple[str, float, float, float, float]


@pytest.fixture(scope="module")
def measured(tmp_path_factory: pytest.TempPathFactory) -> dict[str, list[Found]]:
    """The words of all plans with their boxes in 1/100 mm, from one start of the browser.

    The last is a long bolt: its guide and the pages of its stretches in one file.
    """
    folder = tmp_path_factory.mktemp("shown")
    drawings = [emit(case, lay, plan) for case, lay, plan in
                (drawn(name, Paper.A4) for name in NAMES[:-1])]  # fmt: skip
    case, lay, _ = drawn(NAMES[-1], Paper.A4)
    drawings.append(bound([svg for svg, _ in draw_pages(case, lay, Paper.A4)], Paper.A4.size))
    shown = run(folder, "".join(drawings), "--dump-dom", more=MEASURE)
    match = re.search(r'<pre id="told">(.*?)</pre>', shown, re.DOTALL)
    assert match
    told = json.loads(unescape(match[1]))
    return {
        name: [(text, *(value * 100 / PER_MM for value in box)) for text, *box in found]
        for name, found in zip(NAMES, told, strict=True)
    }


@pytest.mark.parametrize("name", NAMES[:-1])
@pytest.mark.slow
def test_words_keep_to_the_room_reckoned_for_them(
    name: str, measured: dict[str, list[Found]]
) -> None:
    plan = drawn(name, Paper.A4)[2]
    words = [mark for mark in plan.drawing.over if isinstance(mark, Words)]
    assert len(measured[name]) == len(words) > 40
    for (text, x0, y0, width, height), mark in zip(measured[name], words, strict=True):
        assert text == mark.text
        x1, y1 = x0 + width, y0 + height
        assert min(x0, y0) > 0
        assert x1 < plan.paper.size[0]
        assert y1 < plan.paper.size[1]
        # The browser's box is as high as the font's own lines, so only its length is compared;
        # of slanted words it is the box round them, which their height adds to on either side.
        spare = 15 if mark.angle in (0, 90) else 15 + mark.size // 4
        low, high = (y0, y1) if mark.turned else (x0, x1)
        ends = (mark.box.y0, mark.box.y1) if mark.turned else (mark.box.x0, mark.box.x1)
        assert ends[0] - spare <= low
        assert high <= ends[1] + spare


@pytest.mark.slow
def test_no_word_of_a_long_bolt_leaves_its_page(measured: dict[str, list[Found]]) -> None:
    """Each page keeps half a centimetre white all round, in the one file of all pages too."""
    width, height = Paper.A4.size
    numbers = set()
    for text, x0, y0, wide, tall in measured[NAMES[-1]]:
        page = int(y0) // height
        numbers.add(page)
        assert x0 > 500 and x0 + wide < width - 500
        assert page * height + 500 < y0 and y0 + tall < (page + 1) * height - 500, text
    case, lay, plan = drawn(NAMES[-1], Paper.A4)
    assert plan.guide
    assert numbers == set(range(len(draw_pages(case, lay, Paper.A4))))


def test_the_test_square_is_fifty_millimetres(tmp_path: Path) -> None:
    record, _, plan = drawn("skirt", Paper.A4)
    frame = next(
        m.box for m in plan.drawing.over if isinstance(m, Field) and m.box.width == style.SQUARE
    )
    left, top = (frame.x0 - 300) * PER_MM / 100, (frame.y1 - 300) * PER_MM / 100
    # The page is pushed out of the window's corner, so that only the foot of the square is shot.
    push = f"<style>svg{{position:absolute;left:{-left:.4f}px;top:{-top:.4f}px}}</style>"
    shot = tmp_path / "shot.png"
    run(tmp_path, emit(record, record.lays[0], plan), f"--screenshot={shot}",
        "--window-size=560,12", f"--force-device-scale-factor={DOTS}", more=push)  # fmt: skip
    row = pixels(shot.read_bytes())[round(150 * PER_MM * DOTS / 100)]
    per = PER_MM * DOTS
    ends = np.flatnonzero(row[: round(56 * per)] < 200)
    # The outline is as wide as THIN, half of it outside on either side.
    assert (ends[-1] - ends[0] + 1) / per - style.THIN / 100 == pytest.approx(50, abs=0.3)
    assert ends[0] / per + style.THIN / 200 == pytest.approx(3, abs=0.3)
    assert len(ends) <= 2 * 3  # its two sides, and nothing between them


@pytest.mark.slow
def test_the_margin_of_the_page_stays_white(tmp_path: Path) -> None:
    record, _, plan = drawn("many", Paper.A4)
    small = "<style>svg{width:297px;height:210px}</style>"
    shot = tmp_path / "shot.png"
    run(tmp_path, emit(record, record.lays[0], plan), f"--screenshot={shot}",
        "--window-size=297,210", more=small)  # fmt: skip
    inked = pixels(shot.read_bytes())[:210, :297] < 250
    assert inked[9:-9, 9:-9].mean() > 0.05
    for edge in (inked[:8], inked[-8:], inked[:, :8], inked[:, -8:]):
        assert not edge.any()


def pixels(data: bytes) -> np.ndarray:
    """The brightness of each pixel of an 8-bit PNG without interlace (PNG specification, W3C)."""
    width, height, depth, kind = struct.unpack(">IIBB", data[16:26])
    assert depth == 8
    step = {2: 3, 6: 4}[kind]
    parts, at = b"", 8
    while at < len(data):
        (size,) = struct.unpack(">I", data[at : at + 4])
        if data[at + 4 : at + 8] == b"IDAT":
            parts += data[at + 8 : at + 8 + size]
        at += size + 12
    raw = np.frombuffer(zlib.decompress(parts), np.uint8).reshape(height, 1 + width * step)
    image = np.zeros((height + 1, width + 1, step), np.int64)
    for y in range(height):
        line = raw[y, 1:].reshape(width, step).astype(np.int64)
        _unfilter(image, y, line, int(raw[y, 0]))
    return image[1:, 1:, :3].mean(axis=2)


def _unfilter(image: np.ndarray, y: int, line: np.ndarray, kind: int) -> None:
    """Undo one line's filter; the image has a blank row above and a blank column before it."""
    above = image[y, 1:]
    if kind in (0, 2):
        image[y + 1, 1:] = (line + (above if kind == 2 else 0)) % 256
        return
    if kind == 1:
        image[y + 1, 1:] = np.cumsum(line, axis=0) % 256
        return
    for x in range(line.shape[0]):
        left, up, corner = image[y + 1, x], image[y, x + 1], image[y, x]
        if kind == 3:
            guess = (left + up) // 2
        else:
            first = left + up - corner
            a, b, c = abs(first - left), abs(first - up), abs(first - corner)
            guess = np.where((a <= b) & (a <= c), left, np.where(b <= c, up, corner))
        image[y + 1, x + 1] = (line[x] + guess) % 256
