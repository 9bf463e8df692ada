"""How a settled way is sewn: the order of work by letters, and what the edges of pieces meet."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from marker.decide.ways import Way
from marker.garments.order import Draft
from marker.garments.work.job import meetings
from marker.lay import Lay
from marker.record import Garment, Task


def worked(way: Way, lays: Sequence[Lay]) -> tuple[tuple[Garment, ...], tuple[Lay, ...]]:
    """The garments with their tasks, and the lays, their pieces told what their edges meet.

    A piece that came out of several cloths, or in strips of several lengths, has several letters.
    """
    letters: dict[tuple[str, str], list[str]] = {}
    for piece in (piece for lay in lays for piece in lay.pieces):
        letters.setdefault((piece.garment, piece.name), []).append(piece.letter)
    sewn = {chosen.garment.key: chosen.sewn for chosen in way}
    return (
        tuple(replace(chosen.garment, work=_tasks(chosen, letters)) for chosen in way),
        tuple(
            replace(
                lay,
                pieces=tuple(
                    replace(piece, meets=meetings(piece, sewn.get(piece.garment, ())))
                    for piece in lay.pieces
                ),
            )
            for lay in lays
        ),
    )


def _tasks(chosen: Draft, letters: dict[tuple[str, str], list[str]]) -> tuple[Task, ...]:
    key = chosen.garment.key
    return tuple(
        Task(
            job.stage,
            job.text,
            tuple(letter for name in job.pieces for letter in letters.get((key, name), ())),
        )
        for job in chosen.work
    )
