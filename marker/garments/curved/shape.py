"""Panels of any outline: what is sewn, what is added outside it, and the piece it is cut as."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise

from marker.cloth import Cloth
from marker.errors import BadInput
from marker.garments.allowance import grow
from marker.garments.order import Order
from marker.geometry import Arc, Cubic, Edge, Outline
from marker.geometry.curves import Segment
from marker.geometry.offset import with_allowance
from marker.piece import Edges, Grain, Mark, MarkKind, Match, Piece
from marker.units import MM

SAG = MM
"""A curved seam line is marked by chords that leave it by no more than this."""
SNIP = 5 * MM
"""How far in a notch goes where no allowance is added."""
SKIRT = Edges(start="waist", end="hem", low="seam", high="seam")


@dataclass(frozen=True)
class Shape:
    """One kind of panel: its finished outline, and how its copies are cut.

    The outline's edges are called "start" (the waist or neck), "end" (the hem), "low" and
    "high"; `added` is the allowance outside each, and `lines` says what the finished edge is
    marked as where that isn't a seam. Of the `count` copies `mirrored` are cut turned over; it
    `folds` where it is the same on both sides of its length. `notches` are edge, distance
    along the edge, and name; `matches` are points of the outline's frame.
    """

    name: str
    outline: Outline
    count: int = 1
    mirrored: int = 0
    folds: bool = False
    added: Mapping[str, int] = field(default_factory=dict)
    edges: Edges = SKIRT
    lines: Mapping[str, tuple[MarkKind, str]] = field(default_factory=dict)
    notches: tuple[tuple[str, float, str], ...] = ()
    matches: tuple[Match, ...] = ()

    def measure(self, edge: str) -> float:
        """What all copies measure along an edge when sewn, units."""
        return self.count * self.outline.edge(edge).length

    def notched(self, *notches: tuple[str, float, str]) -> Shape:
        """The shape with further notches."""
        return replace(self, notches=self.notches + notches)


def shape_piece(order: Order, part: str, shape: Shape, cloths: Sequence[Cloth]) -> Piece:
    """The piece that a shape is cut as, its finished edges and notches marked on it.

    It may come from any of `cloths` that is wide enough. Raises `BadInput` naming the part
    where none is, or where the allowance can't be added.
    """
    try:
        cut = with_allowance(shape.outline, {name: float(by) for name, by in shape.added.items()})
        piece = Piece.shaped(
            "",
            shape.name,
            cut,
            shape.count,
            cloths[0].key,
            grain=Grain.ALONG,
            edges=shape.edges,
            marks=(*_lines(shape), *(_notch(shape, *notch) for notch in shape.notches)),
            garment=order.key,
            wearer=order.wearer.name,
            mirrored=shape.mirrored,
            folds=shape.folds,
            matches=shape.matches,
        )
    except BadInput as fault:
        raise order.fault(f"{part}: the {shape.name} can't be cut: {fault}") from None
    if piece.area2 == 2 * piece.length * piece.breadth and not any(c.folded for c in cloths):
        # A plain rectangle can be torn, and is given what torn edges need.
        piece = grow(replace(piece, outline=None, mirrored=0, folds=False), cloths)
    keys = [cloth.key for cloth in cloths if across(piece, cloth) <= room(piece, cloth)]
    if not keys:
        widest = max(cloths, key=lambda cloth: room(piece, cloth))
        gives = "gives" if room(piece, widest) == widest.usable.across else "gives beside its fold"
        raise order.fault(
            f"{part}: the {piece.name} takes {order.spell(across(piece, widest))} of the width, "
            f"and the cloth {widest.key!r} {gives} {order.spell(room(piece, widest))}; cut the "
            "garment in more panels, or take a wider cloth"
        )
    return replace(piece, cloth=keys[0], also=tuple(keys[1:]))


def across(piece: Piece, cloth: Cloth) -> int:
    """The least that a piece with an outline takes of the width, in the ways it may lie."""
    return min(piece.laid(*way).box.across for way in piece.ways(cloth.one_way))


def room(piece: Piece, cloth: Cloth) -> int:
    """How much of the width a piece may take: half of it beside a fold it does not lie on."""
    if not cloth.folded or piece.folds:
        return cloth.usable.across
    return cloth.laid_width // 2 - cloth.usable.y0


def _lines(shape: Shape) -> Iterator[Mark]:
    """The finished edges, wherever something is added outside them; curves as chords."""
    for edge in shape.outline.edges:
        if not shape.added.get(edge.name):
            continue
        kind, name = shape.lines.get(edge.name, (MarkKind.SEAM, "seam"))
        for (u0, v0), (u1, v1) in pairwise(chords(edge)):
            yield Mark(kind, name, u0, v0, u1, v1)
            name = "" if kind is MarkKind.FOLD else name  # a fold's name is told once


def chords(edge: Edge, sag: int = SAG) -> Iterator[tuple[int, int]]:
    """Whole places along an edge, its ends among them, so that chords leave it by `sag` at most."""
    yield _whole(edge.segments[0].start)
    for segment in edge.segments:
        steps = _steps(segment, sag)
        for step in range(1, steps + 1):
            if isinstance(segment, Cubic):
                yield _whole(segment.point(step / steps))
            else:
                yield _whole(segment.at(segment.length * step / steps))


def _steps(segment: Segment, sag: int) -> int:
    """How many chords a segment takes; a cubic's leave it by its bend / 8 at most."""
    if isinstance(segment, Arc):
        turn = 2 * math.acos(max(1 - sag / segment.radius, 0.0))
        return max(1, math.ceil(segment.length / segment.radius / turn))
    if isinstance(segment, Cubic):
        spots = (segment.start, segment.first, segment.second, segment.end)
        bend = max(
            6 * math.hypot(*(a - 2 * b + c for a, b, c in zip(*three, strict=True)))
            for three in (spots[:3], spots[1:])
        )
        return max(1, math.ceil(math.sqrt(bend / 8 / sag)))
    return 1


def _notch(shape: Shape, name: str, at: float, told: str) -> Mark:
    """A notch from the cut edge in to the finished one, or a short way in from a raw edge."""
    (u, v), (du, dv) = shape.outline.edge(name).at(at)
    out = shape.added.get(name, 0)
    inwards = 0 if out else SNIP
    outer = _whole((u + dv * out, v - du * out))
    inner = _whole((u - dv * inwards, v + du * inwards))
    return Mark(MarkKind.NOTCH, told, *outer, *inner)


def _whole(spot: tuple[float, float]) -> tuple[int, int]:
    return round(spot[0]), round(spot[1])
