"""Pieces as kinds of a nest: every way in which copies may lie, and what rules say of their place.

Across the cloth a kind lies from the near edge of the usable cloth on, so its rules hold where
a nest takes up all of that width.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from marker.cloth import Cloth
from marker.errors import BadInput, CannotLay
from marker.geometry import Polygon
from marker.lay import Placement
from marker.piece import Piece, Wise
from marker.solver.nest import NestKind, NestSpot, Phase, ShapeRule
from marker.solver.nest.kinds import FREE
from marker.solver.rules.read import matched_sets, no_selvedge, spans
from marker.units import Rounding, format_length

Sets = Sequence[tuple[str, Wise]]


@dataclass(frozen=True)
class Way:
    """A turn in which copies may lie, turned over or not, and the cloth that one then covers."""

    turn: int
    flip: bool
    outline: Polygon
    rule: ShapeRule = FREE

    @property
    def key(self) -> tuple[frozenset[tuple[int, int]], ShapeRule]:
        """What tells ways apart for the search."""
        return frozenset(self.outline.points), self.rule


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
        rules = tuple(way.rule for way in self.ways)
        if all(rule == FREE for rule in rules):
            rules = ()
        return NestKind(self.count, tuple(way.outline for way in self.ways), rules)

    @property
    def tied(self) -> bool:
        """Whether a rule says where it lies."""
        return any(way.rule != FREE for way in self.ways)


def copies_of(cloth: Cloth, pieces: Sequence[Piece]) -> list[Copies]:
    """All pieces as kinds of a nest; those turned over are kinds of their own, numbered last.

    Raises `CannotLay` where one is too wide for the cloth, or can't lie at a selvedge as it
    must, and `BadInput` where one has more points to match than a nest can keep.
    """
    sets = matched_sets(cloth, pieces)
    found = []
    for piece in pieces:
        ways = fitting(cloth, piece, ways_of(cloth, piece, sets))
        over = turned_over(piece)
        for flip, first, count in (
            (False, 1, piece.count - over),
            (True, piece.count - over + 1, over),
        ):
            if count:
                found.append(Copies(piece, first, count, distinct(ways, flip)))
    return found


def turned_over(piece: Piece) -> int:
    """How many copies are turned over; a rectangle is the same either way."""
    return piece.mirrored if piece.outline is not None else 0


def distinct(ways: Iterable[Way], flip: bool) -> tuple[Way, ...]:
    """The ways turned over or not, alike ones once."""
    found: dict[object, Way] = {}
    for way in ways:
        if way.flip is flip:
            found.setdefault(way.key, way)
    return tuple(found.values())


def ways_of(cloth: Cloth, piece: Piece, sets: Sets) -> list[Way]:
    """All ways in which copies may lie; with points to match no two lie half a turn apart."""
    turns: Sequence[tuple[int, bool]] = piece.ways(cloth.one_way)
    if piece.outline is None:
        quarters = piece.turns(cloth.one_way)
        if piece.selvedges and not cloth.one_way:
            # Half a turn round, a rectangle has its edge at the other selvedge.
            quarters = (*quarters, *(turn + 180 for turn in quarters))
        turns = [(turn, False) for turn in quarters]
    matched = any((match.name, match.wise) in sets for match in piece.matches)
    taken: set[bool] = set()
    found = []
    for turn, flip in turns:
        if not (matched and flip in taken):
            taken.add(flip)
            placed = Placement(piece.letter, 1, 0, 0, turn, flip)
            phases = _phases(cloth, piece, placed, sets)
            outline = piece.laid(turn, flip)
            found += [
                Way(turn, flip, outline, ShapeRule(across, None, phases))
                for across in _across(cloth, piece, placed, outline.box.across)
            ]
    return found


def _across(
    cloth: Cloth, piece: Piece, placed: Placement, breadth: int
) -> Iterator[tuple[int, int] | None]:
    """Where it may start, from the usable cloth's near edge: anywhere, or near a selvedge."""
    if not piece.selvedges:
        yield None
        return
    low = cloth.usable.y0
    for least, greatest in spans(cloth, piece, placed, breadth):
        yield least - low, greatest - low


def _phases(cloth: Cloth, piece: Piece, placed: Placement, sets: Sets) -> tuple[Phase, ...]:
    """The points to match, at most one lengthwise and one crosswise."""
    found: dict[Wise, Phase] = {}
    for match in piece.matches:
        if (match.name, match.wise) not in sets:
            continue
        lengthwise = match.wise is Wise.LENGTHWISE
        at = placed.to_cloth(piece, match.u, match.v)[0 if lengthwise else 1]
        repeat = cloth.repeat.along if lengthwise else cloth.repeat.across
        phase = Phase(match.name, match.wise.value, at % repeat)
        if found.setdefault(match.wise, phase) != phase:
            raise BadInput(
                f"piece {piece.letter} ({piece.name}) has several points to match "
                f"{match.wise.value}, and beside curved pieces one can be kept; leave one, or cut "
                "the straight pieces from another cloth"
            )
    return tuple(found.values())


def fitting(cloth: Cloth, piece: Piece, ways: Sequence[Way]) -> list[Way]:
    """The ways that fit across the usable cloth. Raises `CannotLay` where one flip has none."""
    if not ways:
        raise CannotLay(no_selvedge(cloth, piece), proved=True)
    there = cloth.usable.across
    found = [way for way in ways if way.outline.box.across <= there]
    if {way.flip for way in found} == {way.flip for way in ways}:
        return found
    raise CannotLay(_too_wide(cloth, piece, ways, there), proved=True)


def _too_wide(cloth: Cloth, piece: Piece, ways: Sequence[Way], there: int) -> str:
    """That no way in which a piece may lie is narrow enough for the cloth, and what helps."""
    system = cloth.system
    least = format_length(min(way.outline.box.across for way in ways), system, Rounding.UP)
    return (
        f"piece {piece.letter} ({piece.name}) needs {least} across in the narrowest way in which "
        f"it may lie, and cloth {cloth.key!r} has {format_length(there, system)} of usable width; "
        "take a wider cloth, let the piece lie on another grain, or join it from narrower ones"
    )


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


def spots_of(copies: Sequence[Copies], placed: Iterable[Placement]) -> Iterator[NestSpot]:
    """The spots of placed copies, as far as they lie in ways that the kinds know."""
    for spot in placed:
        for kind, each in enumerate(copies):
            if each.piece.letter == spot.letter and each.ways[0].flip == spot.flip:
                points = frozenset(each.piece.laid(spot.turn, spot.flip).points)
                for shape, way in enumerate(each.ways):
                    if points == frozenset(way.outline.points):
                        yield NestSpot(kind, shape, spot.x, spot.y)
                        break


def moved(spots: Iterable[NestSpot], dx: int, dy: int) -> tuple[NestSpot, ...]:
    """The same spots elsewhere."""
    return tuple(replace(spot, x=spot.x + dx, y=spot.y + dy) for spot in spots)
