"""Paths read back out of a PDF: every matrix applied, in millimetres from the upper left."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from io import BytesIO
from itertools import pairwise

from pypdf import PageObject, PdfReader

Spot = tuple[float, float]
Box = tuple[float, float, float, float]
Matrix = tuple[float, float, float, float, float, float]
MM = 25.4 / 72
STEP = 4.0
"""How close the places looked at along every curve are, mm."""
WORDS = re.compile(rb"\bBT\b.*?\sET\b", re.DOTALL)
TOKEN = re.compile(rb"[A-Za-z*]+|/\S+|-?\d*\.?\d+")


@dataclass(frozen=True)
class Drawn:
    """A path with the ends of its lines and curves, as it is painted, and where it is cut off."""

    runs: tuple[tuple[Spot, ...], ...]
    """Close places along it."""
    corners: tuple[Spot, ...]
    stroke: float
    """Width of its line, mm; nought where it is filled only."""
    filled: bool
    clip: Box | None
    """The last rectangle that cuts it off: left, top, right, bottom."""

    @property
    def spots(self) -> list[Spot]:
        return [spot for run in self.runs for spot in run]

    @property
    def box(self) -> Box:
        xs, ys = zip(*self.corners, strict=True)
        return min(xs), min(ys), max(xs), max(ys)


class Page:
    """A page: its size in points, what is drawn on it, and its words."""

    def __init__(self, page: PageObject) -> None:
        self.page = page
        self.size = float(page.mediabox.width), float(page.mediabox.height)

    @cached_property
    def words(self) -> str:
        return " ".join(self.page.extract_text().split())

    @cached_property
    def paths(self) -> list[Drawn]:
        content = self.page.get_contents()
        assert content is not None
        return list(_paths(content.get_data(), self.size[1]))


def pages(pdf: bytes) -> list[Page]:
    """Every page of a PDF."""
    return [Page(page) for page in PdfReader(BytesIO(pdf)).pages]


def _operations(data: bytes) -> Iterator[tuple[str, list[float]]]:
    """What is drawn besides words, as operators with their numbers."""
    values: list[float] = []
    for token in TOKEN.findall(WORDS.sub(b" ", data)):
        if token[:1].isalpha():
            yield token.decode(), values
            values = []
        elif token[:1] != b"/":
            values.append(float(token))


def _times(a: Sequence[float], b: Matrix) -> Matrix:
    return (
        a[0] * b[0] + a[1] * b[2], a[0] * b[1] + a[1] * b[3],
        a[2] * b[0] + a[3] * b[2], a[2] * b[1] + a[3] * b[3],
        a[4] * b[0] + a[5] * b[2] + b[4], a[4] * b[1] + a[5] * b[3] + b[5],
    )  # fmt: skip


class _Reader:
    """The state in which a page is drawn: matrix, width of line, and what cuts off."""

    def __init__(self, high: float) -> None:
        self.high = high
        self.matrix: Matrix = (1, 0, 0, 1, 0, 0)
        self.wide = 1.0
        self.clip: Box | None = None
        self.clips = False
        self.kept: list[tuple[Matrix, float, Box | None]] = []
        self.runs: list[list[list[Spot]]] = []

    def at(self, x: float, y: float) -> Spot:
        a, b, c, d, e, f = self.matrix
        return (a * x + c * y + e) * MM, (self.high - (b * x + d * y + f)) * MM

    def set(self, name: str, values: list[float]) -> None:
        """An operator that changes the state, or goes on with a path."""
        if name == "q":
            self.kept.append((self.matrix, self.wide, self.clip))
        elif name == "Q":
            self.matrix, self.wide, self.clip = self.kept.pop()
        elif name == "cm":
            self.matrix = _times(values, self.matrix)
        elif name == "w":
            self.wide = values[0]
        elif name == "W":
            self.clips = True
        else:
            self.draw(name, values)

    def draw(self, name: str, values: list[float]) -> None:
        poles = [self.at(*pair) for pair in zip(values[::2], values[1::2], strict=True)] \
            if name in ("m", "l", "c") else []  # fmt: skip
        if name == "m":
            self.runs.append([poles])
        elif name in ("l", "c"):
            self.runs[-1].append(poles)
        elif name == "h":
            self.runs[-1].append(self.runs[-1][0])
        else:
            assert name not in ("re", "Do"), "the typesetter draws otherwise than it did"

    def paint(self, name: str) -> Drawn | None:
        """An operator that ends a path; gives it unless it only cuts off."""
        a, b, c, d = self.matrix[:4]
        stroke = self.wide * abs(a * d - b * c) ** 0.5 * MM if name in ("S", "s") else 0.0
        made = _drawn(self.runs, stroke, name in ("f", "f*"), self.clip)
        self.runs = []
        if made and self.clips:
            self.clip, self.clips = made.box, False
        return None if name == "n" else made


def _paths(data: bytes, high: float) -> Iterator[Drawn]:
    reader = _Reader(high)
    for name, values in _operations(data):
        if name not in PAINTS:
            reader.set(name, values)
        elif made := reader.paint(name):
            yield made


PAINTS = frozenset({"S", "s", "f", "f*", "n"})


def _drawn(
    runs: list[list[list[Spot]]], stroke: float, filled: bool, clip: Box | None
) -> Drawn | None:
    if not runs:
        return None
    close = []
    for run in runs:
        spots = [run[0][0]]
        for poles in run[1:]:
            ends = [spots[-1], *poles]
            count = 1
            if len(poles) > 1:
                count = max(4, math.ceil(sum(math.dist(*pair) for pair in pairwise(ends)) / STEP))
            spots += [_curve(ends, k / count) for k in range(1, count + 1)]
        close.append(tuple(spots))
    corners = tuple(poles[-1] for run in runs for poles in run)
    return Drawn(tuple(close), corners, stroke, filled, clip)


def _curve(poles: list[Spot], t: float) -> Spot:
    row = poles
    while len(row) > 1:
        row = [(a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t) for a, b in pairwise(row)]
    return row[0]


def squares(page: Page) -> list[float]:
    """Sides of the upright squares of some size that are drawn on a page, mm."""
    found = []
    for path in page.paths:
        x0, y0, x1, y1 = path.box
        upright = all(
            abs(x - x0) < 0.01 or abs(x - x1) < 0.01 for x, _ in path.corners
        ) and len({(round(x, 1), round(y, 1)) for x, y in path.corners}) == 4  # fmt: skip
        if path.stroke and upright and abs(x1 - x0 - y1 + y0) < 0.01 and 45 < x1 - x0 < 55:
            found.append(x1 - x0)
    return found
