"""Are the figures of a lay whole numbers at all?

A float or a fixed-width number of some array library can pass for an integer until it
rounds or wraps, so nothing but Python's own whole numbers is judged any further.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import chain

from marker.cloth import Cloth
from marker.geometry import Arc, Cubic, Line, Rect
from marker.lay import Aim, Direction, Lay, Mode, Proof
from marker.piece import Grain, Piece, Side, Wise
from marker.referee.words import plain
from marker.units import LONGEST


def figure_faults(lay: Lay) -> Iterator[str]:
    """One sentence for every value that isn't a whole number or a word the lay may use."""
    for label, value in _figures(lay):
        if type(value) is not int:
            yield f"{label} is {_shown(value)}, not a whole number of units."
    yield from _outline_faults(lay)
    for label, value in _answers(lay):
        if type(value) is not bool:
            yield f"{label} is {_shown(value)}, neither true nor false."
    for label, value, words in _words(lay):
        if value not in words:
            yield f"{label} is {_shown(value)}, not one of {', '.join(words)}."
    for label, value in _texts(lay):
        if not isinstance(value, str):
            yield f"{label} is {_shown(value)}, not a text."


def _outline_faults(lay: Lay) -> Iterator[str]:
    """Outlines may run between whole units, but through plain numbers of some sense."""
    for label, value in _ordinates(lay):
        if not isinstance(value, int | float) or not -LONGEST <= value <= LONGEST:
            yield f"{label} is {_shown(value)}, not a number of units within 1 km."


def _shown(value: object) -> str:
    return repr(value)[:40]


def _sides(label: str, rect: Rect) -> Iterator[tuple[str, object]]:
    for side in ("x0", "y0", "x1", "y1"):
        yield f"{label}, {side},", getattr(rect, side)


def _figures(lay: Lay) -> Iterator[tuple[str, object]]:
    yield from _cloth_figures(lay.cloth)
    yield "the length", lay.length
    yield "the bound", lay.bound
    yield from _sides("the bolt", lay.bolt)
    for piece in lay.pieces:
        yield from _piece_figures(piece, _named(piece))
    for at, spot in enumerate(lay.placements, 1):
        for field in ("copy", "x", "y", "turn"):
            yield f"the {field} of placement {at}", getattr(spot, field)
    for at, tear in enumerate(lay.tears, 1):
        yield f"the number of the tear in place {at}", tear.number
        yield f"the reading of the tear in place {at}", tear.at
        yield from _sides(f"the part in hand of the tear in place {at}", tear.in_hand)
    for at, offcut in enumerate(lay.offcuts, 1):
        yield from _sides(f"offcut-{at}", offcut.rect)
    for at, region in enumerate(lay.regions, 1):
        yield from _sides(f"region-{at}", region)
    for at, goal in enumerate(lay.goals, 1):
        yield f"the value of goal {at}", goal.value
        yield f"the bound of goal {at}", goal.bound


def _named(piece: Piece) -> str:
    return f"piece {plain(str(piece.letter))}"


def _cloth_figures(cloth: Cloth) -> Iterator[tuple[str, object]]:
    fields = ("width", "step", "selvedge", "squaring", "length", "torn_edge", "least_strip")
    for field in (*fields, "margin"):
        yield f"the {field.replace('_', ' ')} of the cloth", getattr(cloth, field)
    yield "the lengthwise repeat of the cloth", cloth.repeat.along
    yield "the crosswise repeat of the cloth", cloth.repeat.across
    for at, flaw in enumerate(cloth.flaws, 1):
        yield from _sides(f"flaw {at}", flaw)


def _piece_figures(piece: Piece, name: str) -> Iterator[tuple[str, object]]:
    for field in ("length", "breadth", "count"):
        yield f"the {field} of {name}", getattr(piece, field)
    yield f"how many copies of {name} are turned over", piece.mirrored
    for mark in piece.marks:
        for field in ("u0", "v0", "u1", "v1"):
            yield f"{field} of a mark on {name}", getattr(mark, field)
    for wish in piece.selvedges:
        yield f"how near a selvedge {name} must lie", wish.within
    for match in piece.matches:
        yield f"u of a match of {name}", match.u
        yield f"v of a match of {name}", match.v
    if piece.pieced is not None:
        for field in ("total", "seam", "least", "most", "pitch"):
            yield f"the {field} of the strip of {name}", getattr(piece.pieced, field)


def _ordinates(lay: Lay) -> Iterator[tuple[str, object]]:
    """Everything that an outline is drawn by."""
    for piece in lay.pieces:
        if piece.outline is None:
            continue
        label = f"an ordinate of the outline of {_named(piece)}"
        for segment in piece.outline.segments:
            for spot in _poles(segment):
                yield from ((label, value) for value in spot)


def _poles(segment: Line | Arc | Cubic) -> Iterator[Sequence[object]]:
    yield from (segment.start, segment.end)
    if isinstance(segment, Arc):
        yield segment.centre
    elif isinstance(segment, Cubic):
        yield from (segment.first, segment.second)


def _answers(lay: Lay) -> Iterator[tuple[str, object]]:
    """Everything that is so or isn't."""
    yield "whether the selvedges are kept", lay.cloth.keep_selvedges
    yield "whether the cloth is one-way", lay.cloth.one_way
    yield "whether the cloth tears", lay.cloth.tears
    yield "whether the cloth is folded", lay.cloth.folded
    for piece in lay.pieces:
        yield f"whether {_named(piece)} may be torn", piece.torn
        yield f"whether {_named(piece)} folds", piece.folds
    for at, spot in enumerate(lay.placements, 1):
        yield f"whether placement {at} is turned over", spot.flip
    for at, tear in enumerate(lay.tears, 1):
        yield f"whether the tear in place {at} is cut", tear.cut
    for at, offcut in enumerate(lay.offcuts, 1):
        yield f"whether offcut-{at} is kept", offcut.keep


def _words(lay: Lay) -> Iterator[tuple[str, object, Sequence[str]]]:
    yield "the proof", lay.proof, list(Proof)
    yield "the mode", lay.mode, list(Mode)
    for piece in lay.pieces:
        name = _named(piece)
        yield f"the grain of {name}", piece.grain, list(Grain)
        yield f"the way up of {name}", piece.up, ["length", "breadth"]
        for wish in piece.selvedges:
            yield f"the edge of {name} at a selvedge", wish.edge, list(Side)
        for match in piece.matches:
            yield f"the way of a match of {name}", match.wise, list(Wise)
    for at, goal in enumerate(lay.goals, 1):
        yield f"the aim of goal {at}", goal.aim, list(Aim)
    for at, tear in enumerate(lay.tears, 1):
        yield f"the direction of the tear in place {at}", tear.direction, list(Direction)


def _texts(lay: Lay) -> Iterator[tuple[str, object]]:
    yield "the key of the cloth", lay.cloth.key
    yield "the ground of the bound", lay.bound_by
    for at, piece in enumerate(lay.pieces, 1):
        yield f"the letter of piece {at}", piece.letter
        for key in chain((piece.cloth, piece.garment), piece.also):
            yield f"a key that piece {at} names", key
        for match in piece.matches:
            yield f"the name of a match of piece {at}", match.name
        if piece.pieced is not None:
            yield f"the strip of piece {at}", piece.pieced.strip
    for at, goal in enumerate(lay.goals, 1):
        yield f"the ground of goal {at}", goal.bound_by
    for at, spot in enumerate(lay.placements, 1):
        yield f"the letter of placement {at}", spot.letter
    for at, tear in enumerate(lay.tears, 1):
        for freed in tear.frees:
            yield f"what the tear in place {at} frees", freed
