"""Strips joined from segments: each segment's place in its strip, and the joins in words."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby

from marker.lay import Lay
from marker.piece import Piece, Pieced
from marker.plan.words.runs import count, measured
from marker.record import Record
from marker.units import Units, format_length


@dataclass(frozen=True)
class Segment:
    """One segment: the cloth it is cut from, its name on the plan, and its length."""

    cloth: str
    id: str
    piece: Piece
    pieced: Pieced


def strips(record: Record) -> dict[str, list[Segment]]:
    """The segments of every pieced strip through all cloths, in the order they are joined."""
    found: dict[str, list[Segment]] = {}
    for lay in record.lays:
        for segment in _segments(lay):
            found.setdefault(segment.pieced.strip, []).append(segment)
    return found


def _segments(lay: Lay) -> Iterator[Segment]:
    for piece in lay.pieces:
        if piece.pieced:
            for copy in range(1, piece.count + 1):
                yield Segment(lay.cloth.key, f"{piece.letter}-{copy}", piece, piece.pieced)


def places(record: Record, cloth: str) -> dict[str, tuple[int, int]]:
    """For each segment on a cloth, by its name there: which it is of how many in its strip."""
    return {
        segment.id: (number, len(segments))
        for segments in strips(record).values()
        for number, segment in enumerate(segments, 1)
        if segment.cloth == cloth
    }


@dataclass(frozen=True)
class Join:
    """A strip's joins in words, for the sheet."""

    strip: str
    segments: str
    lines: tuple[str, ...]


def joins(record: Record) -> tuple[Join, ...]:
    """The join list of every strip of more than one segment."""
    return tuple(
        _join(name, segments, record.units)
        for name, segments in strips(record).items()
        if len(segments) > 1
    )


def _join(name: str, segments: list[Segment], units: Units) -> Join:
    pieced = segments[0].pieced
    number = len(segments)
    total = sum(one.piece.length for one in segments) - 2 * pieced.seam * (number - 1)
    joined = "one join" if number == 2 else f"{count(number - 1)} joins"
    spare = total - pieced.total
    measures = f"Joined it measures {format_length(total, units)}"
    against = (
        f"{measures}, and {format_length(pieced.total, units)} is needed; "
        f"{format_length(spare, units)} to spare."
        if spare
        else f"{measures}, just what is needed."
    )
    seam = f"{joined}, each with a seam of {format_length(pieced.seam, units)} on either side"
    meet = (
        "Every join meets a seam of the skirt."
        if pieced.pitch
        else "The joins need not meet the skirt's seams; press them open so that they lie flat."
    )
    return Join(
        name,
        _ids(segments, units),
        (
            f"{_terms(segments, units)}: {seam}.",
            against,
            meet,
        ),
    )


def _ids(segments: list[Segment], units: Units) -> str:
    """Every segment with its length."""
    form = ", ".join(f"{one.id} {{}}" for one in segments)
    return measured(units, form, *(one.piece.length for one in segments))


def _terms(segments: list[Segment], units: Units) -> str:
    """The lengths in order as a sum, equal ones told together."""
    told, sizes = [], []
    for size, same in groupby(one.piece.length for one in segments):
        number = len(list(same))
        told.append(f"{number} × {{}}" if number > 1 else "{}")
        sizes.append(size)
    return measured(units, " + ".join(told), *sizes)
