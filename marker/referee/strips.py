"""Do the segments of a pieced strip make it up, each on its own and all of the record together?

k segments joined with a seam at either side of every join: sum(segments) - 2 x seam x
(k - 1) >= total (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from marker.lay import Lay
from marker.piece import Piece, Pieced
from marker.referee.words import figure, plain, several, spell

_FIELDS = ("total", "seam", "least", "most", "pitch")
_MOST = 4
"""Figures that don't agree, listed in one sentence."""


def segment_faults(pieces: Iterable[Piece]) -> Iterator[str]:
    """Faults of each segment by itself."""
    for piece in pieces:
        pieced = piece.pieced
        if pieced is None:
            continue
        name = f"Piece {plain(piece.letter)}, a segment of strip {plain(pieced.strip)},"
        if piece.length < pieced.least:
            yield (
                f"{name} is {spell(piece.length)} long, under the shortest of "
                f"{spell(pieced.least)}."
            )
        inside = piece.length - 2 * pieced.seam
        if pieced.pitch > 0 and (inside <= 0 or inside % pieced.pitch):
            yield (
                f"{name} is {spell(inside)} long between its seams, which isn't a whole number "
                f"of pitches of {spell(pieced.pitch)}."
            )
        for field, least in (("total", 1), ("seam", 0), ("least", 0), ("most", 1), ("pitch", 0)):
            value = getattr(pieced, field)
            if value < least:
                yield f"{name} gives {_shown(field, value)} for its {field}."


def strip_faults(lays: Iterable[Lay]) -> Iterator[str]:
    """Faults of whole strips, their segments gathered from all lays of a record."""
    strips: dict[str, list[tuple[Piece, Pieced]]] = {}
    for lay in lays:
        for piece in lay.pieces:
            if piece.pieced is not None:
                strips.setdefault(piece.pieced.strip, []).append((piece, piece.pieced))
    for name, segments in strips.items():
        for fault in _one_strip(segments):
            yield f"Strip {plain(name)}: {fault}"


def _one_strip(segments: Sequence[tuple[Piece, Pieced]]) -> Iterator[str]:
    first = segments[0][1]
    for field in _FIELDS:
        values = dict.fromkeys(getattr(pieced, field) for _, pieced in segments)
        if len(values) > 1:
            told = _listed([_shown(field, value) for value in values])
            yield f"Its segments don't agree on its {field}: {told}."
    breadths = dict.fromkeys(piece.breadth for piece, _ in segments)
    if len(breadths) > 1:
        told = _listed([spell(breadth) for breadth in breadths])
        yield f"Its segments are of several breadths: {told}."
    garments = dict.fromkeys(piece.garment for piece, _ in segments)
    if len(garments) > 1:
        yield f"Its segments are for several garments: {several(list(garments))}."
    count = sum(piece.count for piece, _ in segments)
    if count > first.most:
        yield (
            f"It is joined from {figure(count)} segments, and {figure(first.most)} are the most."
        )
    joined = sum(piece.length * piece.count for piece, _ in segments)
    joined -= 2 * first.seam * (count - 1)
    if joined < first.total:
        yield (
            f"Its {figure(count)} segments join to {spell(joined)}, short of the "
            f"{spell(first.total)} that it must have."
        )


def _listed(figures: Sequence[str]) -> str:
    """List figures in a sentence, the first few of many."""
    more = [f"{len(figures) - _MOST} more"] if len(figures) > _MOST else []
    return " and ".join((*figures[:_MOST], *more))


def _shown(field: str, value: int) -> str:
    return figure(value) if field == "most" else spell(value)
