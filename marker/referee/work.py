"""Does the order of work agree with the pieces: their letters, and the edges that are sewn?"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from marker.piece import Piece
from marker.record import Garment, Stage
from marker.referee.words import plain

_ORDER = tuple(Stage)


def work_faults(garment: Garment, pieces: Sequence[Piece]) -> Iterator[str]:
    """Faults of a garment's tasks, and of what the edges of its pieces meet."""
    letters = {piece.letter for piece in pieces}
    for number, task in enumerate(garment.work, 1):
        if not task.text.strip():
            yield f"Task {number} of its work says nothing."
        for letter in task.letters:
            if letter not in letters:
                yield f"Task {number} of its work is about {plain(letter)}, no piece of it."
    for number, (task, then) in enumerate(pairwise(garment.work), 2):
        if _ORDER.index(then.stage) < _ORDER.index(task.stage):
            yield f"Task {number} of its work, to {then.stage}, comes after one to {task.stage}."
    for piece in pieces:
        named = _edges(piece)
        for meeting in piece.meets:
            if meeting.edge not in named:
                yield (
                    f"Piece {plain(piece.letter)} has no edge {plain(meeting.edge)}, and yet "
                    "that is said to meet something."
                )


def _edges(piece: Piece) -> set[str]:
    """The names of a piece's edges, its outline's own among them."""
    edges = piece.edges
    named = {edges.start, edges.end, edges.low, edges.high}
    if piece.outline is not None:
        named |= {edge.name for edge in piece.outline.edges}
    return named - {""}
