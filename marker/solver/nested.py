"""Lays of any outlines, cut wholly with shears: pieces become kinds of a nest, and come back."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from operator import itemgetter

from marker.cloth import Cloth
from marker.errors import BadInput, CannotLay
from marker.geometry import Polygon, Rect
from marker.lay import Lay, Placement
from marker.piece import Piece
from marker.solver.bounds import ROWS, by_rows
from marker.solver.coarse import coarser
from marker.solver.finish import cut, cut_out
from marker.solver.lays import Limits
from marker.solver.nest import NestKind, NestSpot, nest
from marker.solver.nest.bounds import least_length
from marker.solver.problem import read
from marker.units import Rounding, System, format_length

ROUNDS = 100
"""Rounds of moves in a nest that stand for one round of betterment."""


@dataclass(frozen=True)
class Way:
    """A turn in which copies may lie, turned over or not, and the cloth that one then covers."""

    turn: int
    flip: bool
    outline: Polygon


@dataclass(frozen=True)
class Copies:
    """Copies of a piece, turned over or not, from the number `first` on: a kind of the nest."""

    piece: Piece
    first: int
    count: int
    ways: tuple[Way, ...]

    @property
    def kind(self) -> NestKind:
        """The kind of piece that the nest lays."""
        return NestKind(self.count, tuple(way.outline for way in self.ways))


def lay_nested(
    cloth: Cloth,
    pieces: Sequence[Piece],
    limits: Limits,
    start: Sequence[Placement] = (),
) -> Lay:
    """The lay of pieces of any outline by shears alone, on cloth laid open.

    It starts from any lay of the same pieces. Raises `CannotLay` where a piece is too wide for
    the cloth, or a remnant is too short.
    """
    check(cloth, pieces)
    copies = copies_of(cloth, pieces)
    spots = spread(cloth, copies, cloth.usable, limits, tuple(_spots(copies, start)))
    best = bound(cloth, pieces, copies)
    return finished(cloth, pieces, placements(copies, spots), *best)


def spread(
    cloth: Cloth,
    copies: Sequence[Copies],
    zone: Rect,
    limits: Limits,
    start: Sequence[NestSpot] = (),
) -> tuple[NestSpot, ...]:
    """Where copies lie if a zone of cloth, from its first x on, is as long as they take.

    Spots, those to start from too, are on the cloth; their kinds are places in `copies`.
    """
    found = nest(
        coarser([each.kind for each in copies]),
        zone.across,
        margin=cloth.margin,
        flaws=tuple(_flaws(cloth, zone)),
        seconds=limits.seconds,
        iterations=None if limits.iterations is None else ROUNDS * limits.iterations,
        seed=limits.seed,
        progress=limits.progress,
        start=_moved(start, -zone.x0, -zone.y0) or None,
    )
    return _moved(found.spots, zone.x0, zone.y0)


def _moved(spots: Iterable[NestSpot], dx: int, dy: int) -> tuple[NestSpot, ...]:
    return tuple(replace(spot, x=spot.x + dx, y=spot.y + dy) for spot in spots)


def _spots(copies: Sequence[Copies], placed: Iterable[Placement]) -> Iterator[NestSpot]:
    """The spots of placed copies."""
    for spot in placed:
        for kind, each in enumerate(copies):
            if each.piece.letter == spot.letter and each.ways[0].flip == spot.flip:
                points = frozenset(each.piece.laid(spot.turn, spot.flip).points)
                shapes = [frozenset(way.outline.points) for way in each.ways]
                yield NestSpot(kind, shapes.index(points), spot.x, spot.y)


def finished(
    cloth: Cloth,
    pieces: Sequence[Piece],
    placed: Sequence[Placement],
    bound: int,
    bound_by: str,
) -> Lay:
    """The finished lay; of rectangles alone all that is left falls into rectangles too."""
    shaped = any(piece.outline is not None for piece in pieces)
    return (cut_out if shaped else cut)(cloth, pieces, placed, bound, bound_by)


def check(cloth: Cloth, pieces: Sequence[Piece]) -> None:
    """Raise `BadInput` where there is nothing to lay or two pieces share a letter."""
    if not pieces:
        raise BadInput(f"cloth {cloth.key!r}: there is no piece to lay; give at least one")
    for letter, times in Counter(piece.letter for piece in pieces).items():
        if times > 1:
            raise BadInput(f"two pieces are lettered {letter!r}; give each a letter of its own")


def copies_of(cloth: Cloth, pieces: Sequence[Piece]) -> list[Copies]:
    """All pieces as kinds of a nest; those turned over are kinds of their own, numbered last.

    Raises `CannotLay` where one is too wide for the cloth in every turn.
    """
    found = []
    for piece in pieces:
        ways = list(ways_of(cloth, piece))
        over = piece.mirrored if piece.outline is not None else 0
        for flip, first, count in (
            (False, 1, piece.count - over),
            (True, piece.count - over + 1, over),
        ):
            if count:
                own = _distinct(way for way in ways if way.flip is flip)
                found.append(Copies(piece, first, count, _fitting(cloth, piece, own)))
    return found


def ways_of(cloth: Cloth, piece: Piece) -> Iterator[Way]:
    """All ways in which copies may lie; with points to match no two lie half a turn apart."""
    if piece.outline is None:
        ways: Sequence[tuple[int, bool]] = [(turn, False) for turn in piece.turns(cloth.one_way)]
    else:
        ways = piece.ways(cloth.one_way)
    seen = set()
    repeats = cloth.repeat.along or cloth.repeat.across
    for turn, flip in ways:
        if not (repeats and piece.matches and flip in seen):
            seen.add(flip)
            yield Way(turn, flip, piece.laid(turn, flip))


def _distinct(ways: Iterator[Way]) -> tuple[Way, ...]:
    found: dict[frozenset[tuple[int, int]], Way] = {}
    for way in ways:
        found.setdefault(frozenset(way.outline.points), way)
    return tuple(found.values())


def _fitting(cloth: Cloth, piece: Piece, ways: tuple[Way, ...]) -> tuple[Way, ...]:
    there = cloth.usable.across
    fitting = tuple(way for way in ways if way.outline.box.across <= there)
    if fitting:
        return fitting
    system = System.IN if cloth.step % 127 == 0 else System.CM
    least = format_length(min(way.outline.box.across for way in ways), system, Rounding.UP)
    raise CannotLay(
        f"piece {piece.letter} ({piece.name}) needs {least} across in the narrowest way in which "
        f"it may lie, and cloth {cloth.key!r} has {format_length(there, system)} of usable width; "
        "take a wider cloth, let the piece lie on another grain, or join it from narrower ones"
    )


def _flaws(cloth: Cloth, zone: Rect) -> Iterator[Rect]:
    """The flaws in a zone, from its lower left corner."""
    for flaw in cloth.flaws:
        x, y = max(0, flaw.x0 - zone.x0), max(0, flaw.y0 - zone.y0)
        rect = Rect(x, y, flaw.x1 - zone.x0, min(flaw.y1, zone.y1) - zone.y0)
        if rect.along > 0 and rect.across > 0:
            yield rect


def placements(copies: Sequence[Copies], spots: Iterable[NestSpot]) -> tuple[Placement, ...]:
    """Numbered copies for spots on the cloth, along it."""
    given = [each.first for each in copies]
    found = []
    for spot in sorted(spots, key=lambda spot: (spot.x, spot.y)):
        each = copies[spot.kind]
        way, number = each.ways[spot.shape], given[spot.kind]
        found.append(Placement(each.piece.letter, number, spot.x, spot.y, way.turn, way.flip))
        given[spot.kind] += 1
    return tuple(found)


def bound(cloth: Cloth, pieces: Sequence[Piece], copies: Sequence[Copies]) -> tuple[int, str]:
    """What no lay undercuts, and where that comes from: all outlines, or the rectangles alone."""
    found = least_length([each.kind for each in copies], cloth.usable.across)
    straight = [piece for piece in pieces if piece.outline is None]
    if straight:
        scaled = read(cloth, straight)
        rows = by_rows(scaled.problem).bound(scaled.problem) * scaled.along
        found = max(found, (rows, f"{ROWS}, of the straight pieces alone"), key=itemgetter(0))
    return found
