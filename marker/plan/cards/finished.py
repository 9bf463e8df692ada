"""What is left of a piece inside its seam lines, hems and folds, read off its marks alone."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass

from marker.piece import Mark, MarkKind, Piece
from marker.plan.drafts.draft import Draft, Stretch, ends

TUCK = "tuck"
"""What recipes call a fold that is sewn later, inside the finished size."""
_PLACE = re.compile(r".* \((.+)\)")


@dataclass(frozen=True)
class Inside:
    """One way of a straight piece between its lines: the length left at each place.

    `places` has one entry with an empty name, or one for each place of the waist where the
    turn-down differs. `folded`: the piece is folded in two this way.
    """

    places: tuple[tuple[str, int], ...]
    folded: bool


def inside(piece: Piece, *, lengthwise: bool) -> Inside | None:
    """What is left of a straight piece, along its length or its breadth; None without lines."""
    size = piece.length if lengthwise else piece.breadth
    lines = [(_place(mark), at) for mark, at in _across(piece, lengthwise) if mark.name != TUCK]
    if not lines:
        return None
    low = [one for one in lines if 2 * one[1] < size]
    high = [one for one in lines if 2 * one[1] > size]
    if len(low) + len(high) < len(lines):
        margin = max([at for _, at in low] + [size - at for _, at in high], default=0)
        return Inside((("", size // 2 - margin),), folded=True)
    end = min((at for _, at in high), default=size)
    named = [one for one in low if one[0]]
    starts = named if len(named) > 1 else [("", max((at for _, at in low), default=0))]
    return Inside(tuple((place, end - at) for place, at in starts), folded=False)


def _across(piece: Piece, lengthwise: bool) -> Iterator[tuple[Mark, int]]:
    """Seam, hem and fold lines that run across one way of a piece, with where they stand."""
    for mark in piece.marks:
        if mark.kind in (MarkKind.NOTCH, MarkKind.CHALK):
            continue
        along, broad = (mark.u0, mark.u1), (mark.v0, mark.v1)
        (a, b), (c, d) = (along, broad) if lengthwise else (broad, along)
        whole = piece.breadth if lengthwise else piece.length
        if a == b and 2 * abs(d - c) > whole:
            yield mark, a


def _place(mark: Mark) -> str:
    """The place of the waist that a fold's name holds in brackets."""
    found = _PLACE.fullmatch(mark.name)
    return found[1] if found else ""


def sewn_edges(draft: Draft) -> tuple[tuple[str, float], ...]:
    """The lengths of the lines inside a shaped piece, by the named edge that each runs beside.

    Lines beside an arc are chords of a like arc, and are told as long as that. Only edges along
    the whole of which a line runs are told, in order round the piece.
    """
    found: dict[int, float] = {}
    for mark in draft.piece.marks:
        if mark.kind in (MarkKind.SEAM, MarkKind.HEM):
            a, b = ends(mark)
            middle = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
            number, _, _ = draft.nearest(middle)
            long = _on_arc(draft.stretches[number], math.dist(a, b))
            found[number] = found.get(number, 0.0) + long
    return tuple(
        (stretch.name, found[number])
        for number, stretch in enumerate(draft.stretches)
        if stretch.name and 2 * found.get(number, 0.0) > stretch.length
    )


def _on_arc(stretch: Stretch, chord: float) -> float:
    """The length beside an edge of which a chord is known: an arc's like arc, else the chord."""
    radius = stretch.arc.radius if stretch.arc else 0.0
    if 2 * radius <= chord:
        return chord
    # The line's own radius differs by its seam, which moves the length by a hair of a hair.
    return 2 * radius * math.asin(chord / (2 * radius))
