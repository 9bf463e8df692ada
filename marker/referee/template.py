"""Read full-size templates back, and hold them against the piece that they are of.

Every part of a template stands in a group `template-A-3` behind the clip path `window-A-3`; in
it `frame-A-3` carries the piece's own frame to the page by one matrix and holds the path
`cut-A-3`. A page has 1/100 mm for its unit and says so in millimetres.
"""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ET
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from marker.piece import Piece
from marker.referee.drawn import SVG
from marker.referee.shape import Spot, measured, spots
from marker.referee.words import plain

REACH = 16.0
"""0.1 mm: how far a drawn line may lie from the outline, in units."""
_FULL = 0.625
"""1/100 mm to a unit of cloth."""
_NEAR = 1e-6
_STEPS = 24
"""Places looked at along every curve of a drawn line, and along every straight one."""
_NUMBER = re.compile(r"-?\d+(?:\.\d+)?(?:[eE][-+]?\d+)?")
_TOKEN = re.compile(r"[A-Za-z]|-?\d+(?:\.\d+)?(?:[eE][-+]?\d+)?")
SQUARES = (5000.0, 5080.0)
"""5 cm and 2 in, in 1/100 mm."""


@dataclass(frozen=True)
class Part:
    """One part of a template as it is drawn: matrix, window, and the runs of its cut line."""

    name: str
    matrix: tuple[float, ...]
    window: tuple[float, float, float, float]
    runs: tuple[tuple[Spot, ...], ...]

    def at(self, spot: Spot) -> Spot:
        """A place of the piece's frame on the page."""
        a, b, c, d, e, f = self.matrix
        return a * spot[0] + c * spot[1] + e, b * spot[0] + d * spot[1] + f

    def shows(self, spot: Spot) -> bool:
        """Whether a place of the piece's frame lies in the window."""
        (x, y), (left, top, wide, high) = self.at(spot), self.window
        return left <= x <= left + wide and top <= y <= top + high


def check_template(pages: Sequence[str], piece: Piece, half: bool = False) -> tuple[str, ...]:
    """Every way in which a template's pages depart from the piece, one sentence each.

    `half`: only the part with v up to the outline's middle is drawn, to be laid on the fold.
    Parts of other pieces on the same page are let be. Drawn lines must lie within 0.1 mm of the
    outline, all of it must show, at full size, and every page must have a test square.
    """
    try:
        roots = [ET.fromstring(page) for page in pages]
    except (ET.ParseError, ValueError) as error:
        return (f"A page of {plain(piece.letter)} isn't sound XML: {str(error)[:80]}.",)
    faults: list[str] = []
    parts: list[Part] = []
    for number, root in enumerate(roots, 1):
        faults += (f"Page {number} of {plain(piece.letter)} {fault}." for fault in _page(root))
        for group in root.iter(f"{SVG}g"):
            name = group.get("id", "")
            if re.fullmatch(rf"frame-{re.escape(piece.letter)}-\d+", name):
                part = _part(root, group, name.removeprefix("frame-"))
                if isinstance(part, str):
                    faults.append(part)
                else:
                    parts.append(part)
    if not parts and not faults:
        return (f"No page shows {plain(piece.letter)}.",)
    return (*faults, *_shape_faults(parts, piece, half))


def _page(root: ET.Element) -> Iterator[str]:
    """A page must be as large as it says, and have a square to measure."""
    box = [float(number) for number in _NUMBER.findall(root.get("viewBox", ""))]
    size = [root.get(side, "") for side in ("width", "height")]
    if len(box) != 4 or not all(re.fullmatch(r"\d+(\.\d+)?mm", side) for side in size):
        yield "doesn't tell its size in millimetres"
        return
    for side, units in zip(size, box[2:], strict=True):
        if abs(float(side.removesuffix("mm")) * 100 - units) > _NEAR:
            yield f"is {side} for {units:g} units, so that it isn't at full size"
    squares = [
        float(node.get("width", "0"))
        for node in root.iter(f"{SVG}rect")
        if node.get("width") == node.get("height") and "transform" not in node.attrib
    ]
    if not any(side in SQUARES for side in squares):
        yield "has no test square"


def _part(root: ET.Element, group: ET.Element, name: str) -> Part | str:
    """A part read back; a sentence where it can't be."""
    match = re.fullmatch(r"matrix\(([^)]*)\)", group.get("transform", ""))
    matrix = tuple(float(number) for number in _NUMBER.findall(match[1])) if match else ()
    clips = [node for node in root.iter(f"{SVG}clipPath") if node.get("id") == f"window-{name}"]
    outer = [node for node in root.iter(f"{SVG}g") if node.get("id") == f"template-{name}"]
    paths = [node for node in group.iter(f"{SVG}path") if node.get("id") == f"cut-{name}"]
    if len(matrix) != 6 or not len(clips) == len(outer) == len(paths) == 1:
        return f"{plain(name)} lacks its matrix, its window or its cut line."
    if outer[0].get("clip-path") != f"url(#window-{name})" or "transform" in outer[0].attrib:
        return f"{plain(name)} isn't cut off at its own window."
    rects = list(clips[0])
    if len(rects) != 1 or rects[0].tag != f"{SVG}rect":
        return f"The window of {plain(name)} isn't one rectangle."
    window = tuple(float(rects[0].get(key, "nan")) for key in ("x", "y", "width", "height"))
    a, b, c, d = matrix[:4]
    if abs(a * d - b * c + _FULL**2) > _NEAR or abs(math.hypot(a, b) - _FULL) > _NEAR:
        return f"{plain(name)} isn't drawn at full size, right side up."
    runs = _runs(paths[0].get("d", ""))
    if runs is None:
        return f"The cut line of {plain(name)} isn't made of M, L, C and Z."
    return Part(name, matrix, window, runs)  # type: ignore[arg-type]


def _runs(data: str) -> tuple[tuple[Spot, ...], ...] | None:
    """Places along the runs of a path, close by one another; None where it can't be read."""
    tokens = _TOKEN.findall(data)
    runs: list[list[Spot]] = []
    at = 0
    while at < len(tokens):
        order, count = tokens[at], {"M": 2, "L": 2, "C": 6, "Z": 0}.get(tokens[at])
        if count is None or (order != "M" and not runs):
            return None
        try:
            values = [float(token) for token in tokens[at + 1 : at + 1 + count]]
        except ValueError:
            return None
        if len(values) < count:
            return None
        poles = list(zip(values[::2], values[1::2], strict=True))
        if order == "M":
            runs.append(poles)
        else:
            start = runs[-1][-1]
            ends = poles or [runs[-1][0]]
            runs[-1] += [_curve([start, *ends], k / _STEPS) for k in range(1, _STEPS + 1)]
        at += 1 + count
    return tuple(tuple(run) for run in runs)


def _curve(poles: Sequence[Spot], t: float) -> Spot:
    """The place at a parameter of a line or a curve, by halving between its poles."""
    row = list(poles)
    while len(row) > 1:
        row = [(a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t) for a, b in pairwise(row)]
    return row[0]


def _shape_faults(parts: Sequence[Part], piece: Piece, half: bool) -> Iterator[str]:
    if piece.outline is None:
        yield f"{plain(piece.letter)} has no outline, so no template is asked for."
        return
    wanted = spots(piece.outline)
    _, low, _, high = piece.outline.box
    axis = (low + high) / 2
    drawn_side = [spot for spot in wanted if not half or spot[1] <= axis]
    for part in parts:
        line = [spot for run in part.runs for spot in run]
        off = [far for _, _, far in measured(line, wanted, REACH)]
        if not all(map(math.isfinite, off)):
            yield f"The cut line of {plain(part.name)} strays from the outline by over 0.1 mm."
        ring = [spot for run in part.runs for spot in (*run, *reversed(run))]
        missing = [far for _, _, far in measured(drawn_side, ring, REACH)]
        if not all(map(math.isfinite, missing)):
            yield f"The cut line of {plain(part.name)} leaves some of the outline out."
    unseen = sum(not any(part.shows(spot) for part in parts) for spot in drawn_side)
    if unseen and parts:
        yield (
            f"{unseen} of {len(drawn_side)} places on the outline of {plain(piece.letter)} "
            "show on no page."
        )
