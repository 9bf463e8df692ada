"""Are the figures of a lay whole numbers at all?

A float or a fixed-width number of some array library can pass for an integer until it
rounds or wraps, so nothing but Python's own whole numbers is judged any further.
"""

from __future__ import annotations

from collections.abc import Iterator

from marker.geometry import Rect
from marker.lay import Direction, Lay, Proof
from marker.piece import Grain
from marker.referee.words import plain


def figure_faults(lay: Lay) -> Iterator[str]:
    """One sentence for every value that isn't a whole number or a word the lay may use."""
    for label, value in _figures(lay):
        if type(value) is not int:
            yield f"{label} is {_shown(value)}, not a whole number of units."
    for label, value, words in _words(lay):
        if value not in words:
            yield f"{label} is {_shown(value)}, not one of {', '.join(words)}."
    for label, value in _texts(lay):
        if not isinstance(value, str):
            yield f"{label} is {_shown(value)}, not a text."


def _shown(value: object) -> str:
    return repr(value)[:40]


def _sides(label: str, rect: Rect) -> Iterator[tuple[str, object]]:
    for side in ("x0", "y0", "x1", "y1"):
        yield f"{label}, {side},", getattr(rect, side)


def _figures(lay: Lay) -> Iterator[tuple[str, object]]:
    for field in ("width", "step", "selvedge", "squaring"):
        yield f"the {field} of the cloth", getattr(lay.cloth, field)
    yield "the length", lay.length
    yield "the bound", lay.bound
    yield from _sides("the bolt", lay.bolt)
    for piece in lay.pieces:
        for field in ("length", "breadth", "count"):
            yield f"the {field} of piece {plain(str(piece.letter))}", getattr(piece, field)
        for mark in piece.marks:
            for field in ("u0", "v0", "u1", "v1"):
                yield f"{field} of a mark on piece {plain(str(piece.letter))}", getattr(mark, field)
    for at, spot in enumerate(lay.placements, 1):
        for field in ("copy", "x", "y", "turn"):
            yield f"the {field} of placement {at}", getattr(spot, field)
    for at, tear in enumerate(lay.tears, 1):
        yield f"the number of the tear in place {at}", tear.number
        yield f"the reading of the tear in place {at}", tear.at
        yield from _sides(f"the part in hand of the tear in place {at}", tear.in_hand)
    for at, offcut in enumerate(lay.offcuts, 1):
        yield from _sides(f"offcut-{at}", offcut.rect)


def _words(lay: Lay) -> Iterator[tuple[str, object, list[str]]]:
    yield "the proof", lay.proof, [word.value for word in Proof]
    for piece in lay.pieces:
        letter = plain(str(piece.letter))
        yield f"the grain of piece {letter}", piece.grain, [word.value for word in Grain]
        yield f"the way up of piece {letter}", piece.up, ["length", "breadth"]
    for at, tear in enumerate(lay.tears, 1):
        directions = [word.value for word in Direction]
        yield f"the direction of the tear in place {at}", tear.direction, directions


def _texts(lay: Lay) -> Iterator[tuple[str, object]]:
    yield "the key of the cloth", lay.cloth.key
    yield "the ground of the bound", lay.bound_by
    for at, piece in enumerate(lay.pieces, 1):
        yield f"the letter of piece {at}", piece.letter
    for at, spot in enumerate(lay.placements, 1):
        yield f"the letter of placement {at}", spot.letter
    for at, tear in enumerate(lay.tears, 1):
        for freed in tear.frees:
            yield f"what the tear in place {at} frees", freed
