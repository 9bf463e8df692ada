"""Outlines from SVG path data: every command, absolute and relative.

What the path says is mapped to units of 1/160 mm at once, so that every later figure is a
length of cloth. SVG's y runs down the page; `place` is to turn it up.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Sequence
from dataclasses import replace

from marker.errors import BadInput
from marker.geometry.affine import NUMBER, Affine, scaling
from marker.geometry.curves import NOISE, Arc, Cubic, Line, Segment, Spot, has_length
from marker.geometry.ellipse import elliptical
from marker.geometry.outline import Outline
from marker.geometry.segments import told
from marker.units import LONGEST, MM

MOST_POINTS = 50_000
MOST_TEXT = 5_000_000
"""Characters of path data, and bytes of a drawing, that are read."""
GAP = 1.6
"""An outline that misses its own start by less than this (0.01 mm) was meant to be closed."""

_NUMBER = re.compile(rf"[\s,]*({NUMBER})")
_FLAG = re.compile(r"[\s,]*([01])")
_COMMAND = re.compile(r"[\s,]*([A-Za-z])")
_TAKES = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2, "A": 7, "Z": 0}


def from_path(d: str, unit: int = MM, names: Sequence[str] = ()) -> Outline:
    """The outline that path data draw, its figures in `unit` (1/160 mm each), y down the page.

    The outline is turned to run counter-clockwise and set against 0, 0. `names` are
    the edges' names, one for every line or curve drawn, in order. Raises `BadInput`: bad
    data, an open path or more than one, arcs that can't reach, an outline that crosses
    itself or encloses nothing, more than 50,000 points.
    """
    return outlined(d, scaling(unit, -unit), names)


def from_points(points: Sequence[Spot], names: Sequence[str] = ()) -> Outline:
    """The straight-edged outline through points in units, y up the page, set against 0, 0."""
    if len(points) > MOST_POINTS:
        raise BadInput(_too_many())
    for point in points:
        _sound(point)
    return Outline.through(points, names).at_nought()


def outlined(d: str, place: Affine, names: Sequence[str] = ()) -> Outline:
    """The outline that path data draw, mapped by `place` to units, set against 0, 0."""
    if len(d) > MOST_TEXT:
        raise BadInput("the path is over 5 MB long; simplify it in the drawing")
    pen = _Pen(place)
    for command, figures in _commands(d):
        pen.draw(command, figures)
    segments = pen.closed()
    if names:
        if len(names) != pen.drawn:
            raise BadInput(
                f"the path draws {pen.drawn} edges but {len(names)} names are given; "
                "give one name for each, empty where it needs none"
            )
        segments = [replace(seg, name=names[int(seg.name)]) for seg in segments]
    else:
        segments = [replace(seg, name="") for seg in segments]
    return Outline.of(segments).at_nought()


def _commands(d: str) -> list[tuple[str, list[float]]]:
    """Path data as commands, each with just the figures that it takes."""
    found: list[tuple[str, list[float]]] = []
    at, end = 0, len(d.rstrip(" \t\r\n,"))
    while at < end:
        match = _COMMAND.match(d, at)
        if match is None or match[1].upper() not in _TAKES:
            raise BadInput(_unread(d, at))
        command, at = match[1], match.end()
        first = True
        while first or (_TAKES[command.upper()] and at < end and not _COMMAND.match(d, at)):
            figures, at = _figures(d, at, command)
            found.append((command, figures))
            if len(found) > MOST_POINTS:
                raise BadInput(_too_many())
            # Further pairs after a move are lines.
            command = {"M": "L", "m": "l"}.get(command, command)
            first = False
    if not found or found[0][0] not in "Mm":
        raise BadInput("the path does not start with a move, M x y; give a whole outline")
    return found


def _figures(d: str, at: int, command: str) -> tuple[list[float], int]:
    figures = []
    for index in range(_TAKES[command.upper()]):
        # The two flags of an arc are single figures and may stand without a space.
        flag = command in "Aa" and index in (3, 4)
        match = (_FLAG if flag else _NUMBER).match(d, at)
        if match is None:
            raise BadInput(_unread(d, at))
        figures.append(float(match[1]))
        at = match.end()
    return figures, at


class _Pen:
    """Draws path commands; every segment's name is the number of the edge it belongs to."""

    def __init__(self, place: Affine) -> None:
        self.place = place
        self.at: Spot = (0.0, 0.0)
        self.start: Spot = (0.0, 0.0)
        self.handle: tuple[str, Spot] = ("", (0.0, 0.0))
        """The last curve's kind and control point, for S and T to mirror."""
        self.segments: list[Segment] = []
        self.drawn = 0
        self.shut = False

    def draw(self, command: str, figures: list[float]) -> None:
        kind = command.upper()
        if kind == "M":
            if self.segments:
                raise BadInput(
                    "the path has more than one part; a piece is one outline, so give each "
                    "part a path of its own"
                )
            self.at = self.start = self._to(command, figures)
            self.handle = ("", self.at)
            return
        if self.shut:
            raise BadInput("the path goes on after it is closed; end it there")
        verbs: dict[str, Callable[[str, list[float]], None]] = {
            "L": self._line, "H": self._line, "V": self._line, "C": self._cubic,
            "S": self._cubic, "Q": self._quadratic, "T": self._quadratic, "A": self._arc,
            "Z": self._shut,
        }  # fmt: skip
        verbs[kind](command, figures)

    def closed(self) -> list[Segment]:
        """All segments, the last one led to the start; `BadInput` where the path is open."""
        if not self.segments:
            raise BadInput("the path draws nothing; give a whole outline")
        start, last = self.segments[0].start, self.segments[-1]
        gap = math.dist(last.end, start)
        if gap > GAP and not self.shut:
            raise BadInput(
                f"the path is open: it ends {gap / MM:.2f} mm from its start at {told(start)}; "
                "close it with Z"
            )
        if gap > GAP:
            self.segments.append(Line(last.end, start, str(self.drawn)))
            self.drawn += 1
        elif gap > NOISE:
            self.segments[-1] = _ending(last, start)
        return self.segments

    def _to(self, command: str, figures: list[float]) -> Spot:
        """A pair of figures as a place in the drawing."""
        x, y = figures
        spot = (self.at[0] + x, self.at[1] + y) if command.islower() else (x, y)
        _sound(self.place(spot))
        return spot

    def _add(self, segments: list[Segment], end: Spot) -> None:
        kept = [segment for segment in segments if has_length(segment)]
        self.segments += [replace(segment, name=str(self.drawn)) for segment in kept]
        self.drawn += 1 if kept else 0
        if len(self.segments) > MOST_POINTS:
            raise BadInput(_too_many())
        if kept:
            self.at = end
        self.handle = ("", self.at)

    def _line(self, command: str, figures: list[float]) -> None:
        if command in "Hh":
            figures = [figures[0], 0.0 if command == "h" else self.at[1]]
        elif command in "Vv":
            figures = [0.0 if command == "v" else self.at[0], figures[0]]
        end = self._to(command, figures)
        self._add([Line(self.place(self.at), self.place(end))], end)

    def _cubic(self, command: str, figures: list[float]) -> None:
        spots = [self._to(command, figures[k : k + 2]) for k in range(0, len(figures), 2)]
        if command in "Ss":
            spots.insert(0, self._mirrored("C"))
        self._curve("C", spots[1], spots[0], spots[1], spots[2])

    def _quadratic(self, command: str, figures: list[float]) -> None:
        spots = [self._to(command, figures[k : k + 2]) for k in range(0, len(figures), 2)]
        if command in "Tt":
            spots.insert(0, self._mirrored("Q"))
        middle, end = spots
        first = _towards(self.at, middle)
        self._curve("Q", middle, first, _towards(end, middle), end)

    def _curve(self, kind: str, handle: Spot, first: Spot, second: Spot, end: Spot) -> None:
        start = self.place(self.at)
        self._add([Cubic(start, self.place(first), self.place(second), self.place(end))], end)
        self.handle = (kind, handle)

    def _mirrored(self, kind: str) -> Spot:
        """The last control point mirrored at the pen; the pen itself after another kind."""
        if self.handle[0] != kind:
            return self.at
        x, y = self.handle[1]
        return 2 * self.at[0] - x, 2 * self.at[1] - y

    def _arc(self, command: str, figures: list[float]) -> None:
        end = self._to(command, figures[5:])
        rx, ry, turn = abs(figures[0]), abs(figures[1]), figures[2]
        large, ccw = figures[3] == 1, figures[4] == 1
        first, last = self.place(self.at), self.place(end)
        scale = self.place.scale
        if rx == 0 or ry == 0 or math.dist(first, last) <= NOISE:
            self._add([Line(first, last)], end)
        elif scale is not None and abs(rx - ry) <= 1e-9 * rx:
            ccw = ccw != self.place.flips
            self._add([Arc.reaching(first, last, rx * scale, ccw, large)], end)
        else:
            self._add([*elliptical(self.at, end, (rx, ry), turn, large, ccw, self.place)], end)

    def _shut(self, command: str, figures: list[float]) -> None:  # noqa: ARG002
        self.shut = True


def _towards(start: Spot, control: Spot) -> Spot:
    """Two thirds of the way to a quadratic's control point: where the cubic's is."""
    return start[0] + (control[0] - start[0]) * 2 / 3, start[1] + (control[1] - start[1]) * 2 / 3


def _ending(segment: Segment, end: Spot) -> Segment:
    """The segment led to another end, a hair away."""
    if isinstance(segment, Arc):
        large = abs(segment.sweep) > math.pi
        return Arc.reaching(segment.start, end, segment.radius, segment.ccw, large, segment.name)
    return replace(segment, end=end)


def _sound(spot: Spot) -> None:
    if not all(math.isfinite(value) and abs(value) <= LONGEST for value in spot):
        raise BadInput("the outline reaches further than 1 km; check its figures and units")


def _too_many() -> str:
    return f"the outline has more than {MOST_POINTS:,} points; simplify it in the drawing"


def _unread(d: str, at: int) -> str:
    shown = " ".join(d[at : at + 20].split())
    where = f"at {shown!r}" if shown else "at its end, where figures are missing"
    return f"the path data can't be read {where}; save the drawing anew, or mend it there"
