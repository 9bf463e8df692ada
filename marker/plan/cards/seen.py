"""A straight piece as its card shows it: upright as it is worn, or lying where it is a strip."""

from __future__ import annotations

from dataclasses import dataclass

from marker.piece import Grain, Mark, MarkKind, Piece

STRIP = 3
"""A piece so many times as long as it is broad is drawn lying, whichever way it is worn."""


@dataclass(frozen=True)
class Line:
    """A mark in the frame that is seen: x to the right, y down, units of cloth."""

    kind: MarkKind
    name: str
    x0: int
    y0: int
    x1: int
    y1: int

    @property
    def level(self) -> bool:
        """Whether it runs from left to right."""
        return self.y0 == self.y1

    @property
    def upright(self) -> bool:
        """Whether it runs up and down."""
        return self.x0 == self.x1


@dataclass(frozen=True)
class Seen:
    """A piece in the frame that is seen, its edges by their names."""

    wide: int
    tall: int
    lines: tuple[Line, ...]
    top: str
    bottom: str
    left: str
    right: str
    warp: str
    """Which way the warp runs: "up", "level", or "" where it may run either way."""


def lies(piece: Piece) -> bool:
    """Whether a piece is drawn with its length from left to right."""
    return piece.up != "length" or piece.length > STRIP * piece.breadth


def seen(piece: Piece) -> Seen:
    """A straight piece as it is seen: a panel's waist at the top, a band's lower edge below."""
    lying, edges = lies(piece), piece.edges
    size = (piece.length, piece.breadth) if lying else (piece.breadth, piece.length)
    top, bottom, left, right = (
        (edges.high, edges.low, edges.start, edges.end)
        if lying
        else (edges.start, edges.end, edges.low, edges.high)
    )
    along = {Grain.ALONG: lying, Grain.ACROSS: not lying}.get(piece.grain)
    warp = {True: "level", False: "up", None: ""}[along]
    lines = tuple(_line(piece, mark, lying) for mark in piece.marks)
    return Seen(*size, lines, top, bottom, left, right, warp)


def _line(piece: Piece, mark: Mark, lying: bool) -> Line:
    ends = ((mark.u0, mark.v0), (mark.u1, mark.v1))
    (x0, y0), (x1, y1) = (
        (u, piece.breadth - v) if lying else (v, u) for u, v in ends
    )  # fmt: skip
    return Line(mark.kind, mark.name, x0, y0, x1, y1)
