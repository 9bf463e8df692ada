"""Lays that are torn and cut: straight pieces torn off, the others cut out of regions.

Which straight pieces are torn is tried several ways. What of the rest fits goes into what the
tears leave over, the largest rectangle first, and what remains into a drop of the full width
behind all torn pieces. Each such region comes off by tears as a piece does.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import nullcontext, suppress
from dataclasses import dataclass, replace
from math import inf
from time import monotonic

from marker.cloth import Cloth
from marker.errors import CannotLay
from marker.geometry import Rect
from marker.lay import USEFUL, Lay, Mode, Placement
from marker.piece import Piece
from marker.solver import nested
from marker.solver.copies import copies_of, placements
from marker.solver.finish import in_hand, parted
from marker.solver.lays import Limits, lay
from marker.solver.nest import NestSpot
from marker.solver.problem import check
from marker.solver.separate import knots, tear_apart
from marker.solver.shears.cuts import leftovers

CHOICES = 5
"""So many ways to choose the torn pieces are tried."""
TRYING, TEARING = 0.4, 0.4
"""Part of the time for trying all of them a little, and of each try for its tears."""
ROOMS = 6
"""Rectangles left over that are tried in a torn lay."""
LEAST = 0.1
"""Seconds that each way to choose them must have: in little time fewer are tried."""
FILLING = 0.7
"""Part of the time of a lay after which no further rectangle left over is filled."""
FIT_ROUNDS = 2
"""Rounds of betterment in which copies must come to fit in a rectangle."""


@dataclass(frozen=True)
class Region:
    """A part of the cloth for the shears, and where copies lie in it; kinds as all copies are."""

    rect: Rect
    spots: tuple[NestSpot, ...]


def lay_mixed(cloth: Cloth, pieces: Sequence[Piece], limits: Limits) -> Lay:
    """The best lay found in which straight pieces are torn first, others cut from regions.

    Raises `CannotLay` where a piece is too wide for the cloth, or a remnant is too short.
    """
    check(cloth, pieces)
    floor = nested.bound(cloth, pieces)
    began = monotonic()
    choices = list(_choices(cloth, pieces))
    if limits.iterations is None:
        some = max(1, int(TRYING * limits.seconds / LEAST))
        choices = choices[:: -(-len(choices) // some)]
    each = replace(
        limits,
        seconds=TRYING * limits.seconds / len(choices),
        iterations=None if limits.iterations is None else 1,
        progress=None,
    )
    tried: list[_Table] = []
    for choice in choices:
        with suppress(CannotLay):
            tried.append(_laid(cloth, pieces, choice, each.now))
    choice = min(tried, key=_rank).choice if tried else choices[0]
    if not any(table.length == floor[0] for table in tried):
        with suppress(CannotLay) if tried else nullcontext():
            tried.append(_laid(cloth, pieces, choice, limits.left(began)))
    best = min(tried, key=_rank)
    if limits.progress:
        limits.progress(best.length, floor[0])
    return best.lay(floor)


def _choices(cloth: Cloth, pieces: Sequence[Piece]) -> Iterator[frozenset[str]]:
    """Letters of pieces to be torn: all straight ones, then fewer, the largest to the last."""
    repeats = cloth.repeat.along or cloth.repeat.across
    held = {
        match.name for piece in pieces if piece.outline is not None for match in piece.matches
    }  # fmt: skip
    straight = [
        piece
        for piece in pieces
        if piece.outline is None
        and not (repeats and any(match.name in held for match in piece.matches))
    ]
    straight.sort(key=lambda piece: -piece.length * piece.breadth)
    some = max(1, -(-len(straight) // CHOICES))
    for many in range(len(straight), 0, -some):
        yield frozenset(piece.letter for piece in straight[:many])
    if not straight:
        yield frozenset()


def _laid(cloth: Cloth, pieces: Sequence[Piece], choice: frozenset[str], limits: Limits) -> _Table:
    """The lay in which the chosen pieces are torn."""
    began = monotonic()
    torn = [piece for piece in pieces if piece.letter in choice]
    placed: tuple[Placement, ...] = ()
    if torn:
        first = replace(limits, seconds=TEARING * limits.seconds, within=None)
        placed = lay(replace(cloth, length=0), torn, Mode.TEAR, first).placements
    table = _Table(cloth, pieces, choice, placed, limits)
    clock = limits.iterations is None
    table.fill_rooms(began + FILLING * limits.seconds if clock else inf)
    table.add_drop(limits.left(began))
    return table


def _rank(table: _Table) -> tuple[int, int]:
    """What lays yet to be finished are compared by: the first two goals."""
    return table.cloth.buy(table.length), table.length


class _Table:
    """Torn pieces on the cloth, and the regions that are found for all others."""

    def __init__(
        self,
        cloth: Cloth,
        pieces: Sequence[Piece],
        choice: frozenset[str],
        torn: Sequence[Placement],
        limits: Limits,
    ) -> None:
        known = {piece.letter: piece for piece in pieces}
        self.cloth, self.pieces, self.choice, self.torn = cloth, pieces, choice, torn
        self.copies = copies_of(cloth, [piece for piece in pieces if piece.letter not in choice])
        self.rects = [spot.rect(known[spot.letter]) for spot in torn]
        self.length = max((rect.x1 for rect in self.rects), default=0)
        self.left = [each.count for each in self.copies]
        self.regions: list[Region] = []
        self.until = inf
        """When filling rectangles ends."""
        self.quick = replace(limits, iterations=FIT_ROUNDS, within=None, progress=None)

    def lay(self, floor: tuple[int, str]) -> Lay:
        """The finished lay. Raises `CannotLay` where a remnant is too short for it."""
        in_hand(self.cloth, self.length, floor[0])
        spots = [spot for region in self.regions for spot in region.spots]
        rects = [region.rect for region in self.regions]
        torn = [piece for piece in self.pieces if piece.letter in self.choice]
        # To the tears a region is a piece like any other; no piece has a letter with a space in it.
        stands = [Piece(f"region {at}", "region", rect.along, rect.across, 1, self.cloth.key)
                  for at, rect in enumerate(rects)]  # fmt: skip
        stand_ins = [
            Placement(f"region {at}", 1, rect.x0, rect.y0, 0) for at, rect in enumerate(rects)
        ]
        tree = tear_apart(self.cloth, [*torn, *stands], [*self.torn, *stand_ins])
        spots_placed = placements(self.copies, spots)
        return parted(self.cloth, self.pieces, tree, spots_placed, rects, *floor)

    def fill_rooms(self, until: float = inf) -> None:
        """Lay what fits into the rectangles that tears leave over, the largest first."""
        self.until = until
        tried: set[Rect] = set()
        while any(self.left) and len(tried) < ROOMS and monotonic() < until:
            room = next((room for room in self._rooms() if room not in tried), None)
            if room is None:
                return
            tried.add(room)
            spots = self._fitted(room)
            if spots:
                self._add(room, spots)

    def _rooms(self) -> Iterator[Rect]:
        """Empty rectangles that can be torn off whole and in which some copy fits."""
        usable = self.cloth.usable
        hand = Rect(0, 0, self.length, self.cloth.laid_width)
        for room in leftovers(hand, self.rects, usable):
            inside = usable.y0 <= room.y0 and room.y1 <= usable.y1
            if inside and any(self._able(room)) and not knots([*self.rects, room]):
                yield room

    def _able(self, room: Rect) -> list[int]:
        """How many copies of each kind are left and fit in a rectangle, by their boxes."""
        return [
            left
            if not each.tied
            and any(
                way.outline.box.along <= room.along and way.outline.box.across <= room.across
                for way in each.ways
            )
            else 0
            for each, left in zip(self.copies, self.left, strict=True)
        ]

    def _fitted(self, room: Rect) -> tuple[NestSpot, ...]:
        """Copies laid in a rectangle: of each kind, large ones first, as many as go in."""
        able = self._able(room)
        taken = [0] * len(able)
        best: tuple[NestSpot, ...] = ()
        areas = [each.piece.area2 for each in self.copies]
        for kind in sorted(range(len(able)), key=lambda kind: -areas[kind]):
            used = sum(count * area for count, area in zip(taken, areas, strict=True))
            most = min(able[kind], (2 * room.area - used) // areas[kind])
            least, many = 0, most
            while least < most:
                asked = [*taken[:kind], many, *taken[kind + 1 :]]
                spots = self._in(room, asked)
                if spots:
                    best, least = spots, many
                else:
                    most = many - 1
                many = (least + most + 1) // 2
            taken[kind] = least
        return best

    def _in(self, room: Rect, counts: Sequence[int]) -> tuple[NestSpot, ...]:
        """So many copies of each kind in a rectangle, if they are soon found to fit."""
        if monotonic() >= self.until:
            return ()
        try:
            spots = self._spread(room, counts, self.quick)
        except CannotLay:
            return ()
        return spots if self._end(spots)[0] <= room.x1 else ()

    def add_drop(self, limits: Limits) -> None:
        """Lay what is left in a drop behind all torn pieces, over the full width."""
        if not any(self.left):
            return
        usable = self.cloth.usable
        zone = Rect(self.length, usable.y0, self.length, usable.y1)
        self._add(zone, self._spread(zone, self.left, limits))

    def _spread(self, zone: Rect, counts: Sequence[int], limits: Limits) -> tuple[NestSpot, ...]:
        """Where so many copies of each kind lie in a zone that is as long as they take."""
        kinds = [kind for kind, count in enumerate(counts) if count]
        asked = [replace(self.copies[kind], count=counts[kind]) for kind in kinds]
        found = nested.spread(self.cloth, asked, zone, limits)
        return tuple(replace(spot, kind=kinds[spot.kind]) for spot in found)

    def _add(self, room: Rect, spots: tuple[NestSpot, ...]) -> None:
        """Make a region as long as its copies take, as wide too where that leaves a remnant."""
        x, y = self._end(spots)
        if room.y1 - y < USEFUL or x - room.x0 < USEFUL:
            y = room.y1
        rect = Rect(room.x0, room.y0, x, y)
        self.rects.append(rect)
        self.length = max(self.length, x)
        self.regions.append(Region(rect, spots))
        for spot in spots:
            self.left[spot.kind] -= 1

    def _end(self, spots: Sequence[NestSpot]) -> tuple[int, int]:
        """Where copies end along and across."""
        boxes = [self.copies[spot.kind].ways[spot.shape].outline.box for spot in spots]
        return (
            max(spot.x + box.x1 for spot, box in zip(spots, boxes, strict=True)),
            max(spot.y + box.y1 for spot, box in zip(spots, boxes, strict=True)),
        )
