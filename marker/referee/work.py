"""Does the order of work agree with the pieces: their letters, and the edges that are sewn?"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from marker.piece import FACE, Piece
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
    yield from _meeting_faults(pieces)


def _meeting_faults(pieces: Sequence[Piece]) -> Iterator[str]:
    """What an edge meets is of the same garment, and says so too."""
    met = {(piece.name, other) for piece in pieces for seam in piece.meets for other in seam.pieces}
    names = {piece.name for piece in pieces}
    for piece in pieces:
        for seam in piece.meets:
            if seam.edge not in (*piece.edges.named, FACE):
                yield (
                    f"Piece {plain(piece.letter)} has no edge {plain(seam.edge)}, and yet that "
                    "is said to meet something."
                )
            for other in seam.pieces:
                if other not in names:
                    yield (
                        f"Piece {plain(piece.letter)} meets {plain(other)}, which the garment "
                        "doesn't have."
                    )
                elif (other, piece.name) not in met:
                    yield (
                        f"Piece {plain(piece.letter)} meets {plain(other)}, which says nothing "
                        "of it."
                    )
