"""A job in the order of work, and two edges that are sewn together."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from marker.piece import FACE, Meeting, Piece
from marker.record import Stage

ORDER = tuple(Stage)


@dataclass(frozen=True)
class Job:
    """One step of the work; `pieces` are the names of those in hand, letters not yet given."""

    stage: Stage
    text: str
    pieces: tuple[str, ...] = ()


@dataclass(frozen=True)
class Sewn:
    """An edge of a piece and the edge that it is sewn to, each told what it meets.

    Where there is no `other` piece the edge becomes something by itself, as a hem does.
    """

    piece: str
    edge: str
    meets: str
    other: str = ""
    other_edge: str = ""
    other_meets: str = ""


def in_order(jobs: Iterable[Job]) -> tuple[Job, ...]:
    """Jobs by their stage; those of one stage stay in the order in which they were told."""
    return tuple(sorted(jobs, key=lambda job: ORDER.index(job.stage)))


def meetings(piece: Piece, sewn: Sequence[Sewn]) -> tuple[Meeting, ...]:
    """What the edges of a piece meet, in their order, so that both of two pieces tell of a seam."""
    found: dict[str, tuple[dict[str, None], dict[str, None]]] = {
        edge: ({}, {}) for edge in (*piece.edges.named, FACE)
    }
    for seam in sewn:
        sides = (seam.piece, seam.edge, seam.meets, seam.other), (
            seam.other, seam.other_edge, seam.other_meets, seam.piece,
        )  # fmt: skip
        for name, edge, meets, other in sides:
            if name == piece.name and edge in found:
                texts, others = found[edge]
                texts[meets] = None
                others.update({other: None} if other else {})
    return tuple(
        Meeting(edge, "; ".join(texts), tuple(others))
        for edge, (texts, others) in found.items()
        if texts
    )


def listed(words: Sequence[str]) -> str:
    """Words in a row: "1, 2 and 3"."""
    return " and ".join(filter(None, (", ".join(words[:-1]), *words[-1:])))


def many(count: int, one: str, more: str = "") -> str:
    """A number of things: "1 panel", "3 panels"."""
    return f"{count} {one if count == 1 else more or one + 's'}"
