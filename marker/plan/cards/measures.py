"""Where a tape is laid to mark a piece: every line and notch from the edge that is nearer."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from marker.piece import MarkKind
from marker.plan.cards.seen import Line, Seen


@dataclass(frozen=True)
class Reading:
    """A place along one way of a piece, told from its low (left, upper) or its high edge.

    `values` are the distances from that edge, one for each size of the card; `at` is the place
    of the first size from the low edge, where it is drawn.
    """

    high: bool
    values: tuple[int, ...]
    at: int


def readings(sizes: Sequence[Seen], level: bool) -> tuple[Reading, ...]:
    """The places across a piece (`level`: from left to right), in the order of the tape.

    Places that fall together are told once.
    """
    found: dict[tuple[bool, tuple[int, ...]], Reading] = {}
    for number, line in enumerate(sizes[0].lines):
        if not _tells(line, level):
            continue
        at, most = _at(line, level), _size(sizes[0], level)
        high = 2 * at > most
        places = [(_at(one.lines[number], level), _size(one, level)) for one in sizes]
        values = tuple(end - place if high else place for place, end in places)
        if any(values):
            found.setdefault((high, values), Reading(high, values, at))
    return tuple(sorted(found.values(), key=lambda one: one.at))


def _tells(line: Line, level: bool) -> bool:
    """Whether a mark has one place this way: a line across it, a notch or a short stroke."""
    return line.upright if level else line.level


def _at(line: Line, level: bool) -> int:
    return line.x0 if level else line.y0


def _size(piece: Seen, level: bool) -> int:
    return piece.wide if level else piece.tall


def slanted(piece: Seen) -> bool:
    """Whether any mark runs at a slant, so that the drawing must keep its shape."""
    return any(not line.level and not line.upright for line in piece.lines)


def lines_across(piece: Seen, level: bool) -> Iterator[Line]:
    """Seams, hems and folds that part a piece this way: those that run most of the other."""
    for line in piece.lines:
        if line.kind in (MarkKind.NOTCH, MarkKind.CHALK) or not _tells(line, level):
            continue
        long, whole = (
            (abs(line.y1 - line.y0), piece.tall) if level else (abs(line.x1 - line.x0), piece.wide)
        )
        if 2 * long > whole:
            yield line
