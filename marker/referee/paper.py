"""What is drawn on the pages of a PDF, read back: runs of corners, in millimetres.

Reads what a typesetter writes in the open: a plain table of objects, and pages whose drawing
stands in their own contents (ISO 32000-1). Anything else, such as a drawing kept elsewhere or
as a picture, is not seen, and so counts as not drawn. Curves give their ends alone.
"""

from __future__ import annotations

import re
import zlib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

Spot = tuple[float, float]
Box = tuple[float, float, float, float]
Run = tuple[Spot, ...]
Matrix = tuple[float, float, float, float, float, float]

_MM = 25.4 / 72
_DEEPEST = 60
"""Levels of pages within pages that are followed."""
_LARGEST = 200_000_000
"""Bytes of one page's contents; a page of a thousand pieces has about one in a thousand of that."""
_REF = rb"(\d+)\s+\d+\s+R"
_TOKEN = re.compile(
    rb"\((?:\\.|[^\\()])*\)"  # a text
    rb"|<<|>>|<[0-9A-Fa-f\s]*>|[\[\]]|/[^\s\[\]()<>/%]*"
    rb"|(?P<number>[-+]?(?:\d+\.?\d*|\.\d+))|(?P<verb>[A-Za-z'\"][A-Za-z0-9*]*)",
    re.DOTALL,
)
_PAINTS = frozenset(b"S s f F f* B B* b b*".split())
_CURVES = {b"l": 2, b"c": 6, b"v": 4, b"y": 4}
"""Verbs that go on with a run, by how many numbers they take, the end last."""


class Unreadable(ValueError):
    """A PDF of a make that isn't known here."""


@dataclass(frozen=True)
class Page:
    """One page: its height, and every run that is painted, wholly within what is left to see."""

    high: float
    runs: tuple[Run, ...]


def pages(pdf: bytes) -> tuple[Page, ...]:
    """Every page in order. Raises `Unreadable` for what isn't such a PDF."""
    try:
        objects = _Objects(pdf)
        return tuple(_page(objects, page) for page in objects.pages())
    except (ValueError, KeyError, IndexError, TypeError, zlib.error) as error:
        raise Unreadable(str(error)[:80]) from error


def box_of(run: Run) -> Box:
    """The box around a run: left, upper, right and lower edge."""
    xs, ys = zip(*run, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


class _Objects:
    """The objects of a PDF, found by its table."""

    def __init__(self, pdf: bytes) -> None:
        self.pdf = pdf
        start = int(_found(rb"startxref\s+(\d+)\s+%%EOF\s*$", pdf[-1024:]))
        table, _, self.trailer = pdf[start:].partition(b"trailer")
        first, lines = _search(rb"\Axref\s+(\d+) \d+\s+(.*)", table).groups()
        rows = re.findall(rb"(\d{10}) \d{5} ([nf])", lines)
        self.at = {
            number: int(place)
            for number, (place, kind) in enumerate(rows, int(first))
            if kind == b"n"
        }

    def head(self, number: int) -> bytes:
        """The text of an object, up to its stream if it has one."""
        text = self.pdf[self.at[number] :]
        _search(rb"\A%d \d+ obj\b" % number, text)
        return text[: _search(rb"\bstream\r?\n|\bendobj\b", text).start()]

    def stream(self, number: int) -> bytes:
        """The bytes of an object's stream, unpacked."""
        at, head = self.at[number], self.head(number)
        start = at + _search(rb"stream\r?\n", self.pdf[at:]).end()
        data = self.pdf[start : start + int(_found(rb"/Length\s+(\d+)(?!\s+\d+\s+R)", head))]
        packed = re.findall(rb"/Filter\s*\[?\s*/(\w+)", head)
        if packed not in ([], [b"FlateDecode"]) or b"/DecodeParms" in head:
            raise ValueError(f"a page is packed as {packed}")
        return zlib.decompressobj().decompress(data, _LARGEST) if packed else data

    def pages(self) -> Iterator[bytes]:
        """The heads of all pages, in order."""
        root = self.head(int(_found(rb"/Root\s+" + _REF, self.trailer)))
        yield from self._below(int(_found(rb"/Pages\s+" + _REF, root)), _DEEPEST)

    def _below(self, number: int, deep: int) -> Iterator[bytes]:
        head = self.head(number)
        kids = re.search(rb"/Kids\s*\[([^\]]*)\]", head)
        if kids is None:
            yield head
        elif deep:
            for kid in re.findall(_REF, kids[1]):
                yield from self._below(int(kid), deep - 1)


def _search(pattern: bytes, text: bytes) -> re.Match[bytes]:
    match = re.search(pattern, text, re.DOTALL)
    if match is None:
        raise ValueError("something that every page has is missing")
    return match


def _found(pattern: bytes, text: bytes) -> bytes:
    return _search(pattern, text)[1]


def _page(objects: _Objects, head: bytes) -> Page:
    box = _found(rb"/MediaBox\s*\[([^\]]*)\]", head).split()
    if len(box) != 4 or b"/Rotate" in head or b"/UserUnit" in head:
        raise ValueError("a page lies otherwise than it should")
    refs = re.search(rb"/Contents\s*(?:\[([^\]]*)\]|(\d+\s+\d+\s+R))", head)
    parts = re.findall(_REF, refs[1] or refs[2]) if refs else []
    contents = b"\n".join(objects.stream(int(part)) for part in parts)
    left, low, _, high = map(float, box)
    hand = _Hand((1, 0, 0, 1, -left, -low), high - low)
    for verb, numbers in _steps(contents):
        hand.do(verb, numbers)
    return Page((high - low) * _MM, tuple(hand.done))


def _steps(contents: bytes) -> Iterator[tuple[bytes, list[float]]]:
    """Each verb of a page with the numbers before it."""
    numbers: list[float] = []
    for match in _TOKEN.finditer(contents):
        if match["number"] is not None:
            numbers.append(float(match["number"]))
        elif match["verb"] is not None:
            yield match["verb"], numbers
            numbers = []


@dataclass
class _Hand:
    """The state in which a page is drawn, and what has been drawn."""

    matrix: Matrix
    high: float
    seen: Box | None = None
    """What all that cuts off leaves to see; None for the whole page."""
    cuts: bool = False
    kept: list[tuple[Matrix, Box | None]] = field(default_factory=list)
    runs: list[list[Spot]] = field(default_factory=list)
    done: list[Run] = field(default_factory=list)

    def do(self, verb: bytes, numbers: Sequence[float]) -> None:
        """Do one step; what neither draws nor moves is passed over."""
        if verb == b"q":
            self.kept.append((self.matrix, self.seen))
        elif verb == b"Q":
            self.matrix, self.seen = self.kept.pop()
        elif verb == b"cm":
            self.matrix = _times(numbers[-6:], self.matrix)
        elif verb in (b"W", b"W*"):
            self.cuts = True
        elif verb in _PAINTS or verb == b"n":
            self._end(painted=verb != b"n")
        else:
            self._draw(verb, numbers)

    def _draw(self, verb: bytes, numbers: Sequence[float]) -> None:
        if verb == b"m":
            self.runs.append([self._at(*numbers[-2:])])
        elif verb in _CURVES and len(numbers) >= _CURVES[verb]:
            self.runs[-1].append(self._at(*numbers[-2:]))
        elif verb == b"re":
            x, y, wide, tall = numbers[-4:]
            corners = ((x, y), (x + wide, y), (x + wide, y + tall), (x, y + tall))
            self.runs.append([self._at(*corner) for corner in corners])

    def _at(self, x: float, y: float) -> Spot:
        """A place in millimetres from the page's upper left corner."""
        a, b, c, d, e, f = self.matrix
        return (a * x + c * y + e) * _MM, (self.high - (b * x + d * y + f)) * _MM

    def _end(self, *, painted: bool) -> None:
        runs = [tuple(run) for run in self.runs]
        if painted:
            self.done += [run for run in runs if self.seen is None or _holds(self.seen, run)]
        if self.cuts and runs:
            box = box_of(tuple(spot for run in runs for spot in run))
            self.seen = box if self.seen is None else _both(self.seen, box)
        self.runs, self.cuts = [], False


def _times(a: Sequence[float], b: Matrix) -> Matrix:
    return (
        a[0] * b[0] + a[1] * b[2], a[0] * b[1] + a[1] * b[3],
        a[2] * b[0] + a[3] * b[2], a[2] * b[1] + a[3] * b[3],
        a[4] * b[0] + a[5] * b[2] + b[4], a[4] * b[1] + a[5] * b[3] + b[5],
    )  # fmt: skip


def _both(one: Box, other: Box) -> Box:
    return (
        max(one[0], other[0]), max(one[1], other[1]), min(one[2], other[2]), min(one[3], other[3])
    )  # fmt: skip


def _holds(box: Box, run: Run) -> bool:
    """Whether a run lies in a box, to a tenth of a millimetre."""
    left, top, right, foot = box_of(run)
    return (
        left >= box[0] - 0.1 and top >= box[1] - 0.1
        and right <= box[2] + 0.1 and foot <= box[3] + 0.1
    )  # fmt: skip
