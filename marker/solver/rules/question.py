"""What real cloth and pieces ask, as a question that the searches by rules take up.

Every way in which a piece may lie is worked out once (`rules_read`): its turn, the sizes it
then takes along and across, where it may start across the cloth (a wanted selvedge), and where
its matched points then fall. Lengths stay in true units; `Question.steps` are the whole numbers
by which each axis may be divided without losing a lay.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from math import gcd

from marker.cloth import Cloth
from marker.geometry import Rect
from marker.lay import Placement
from marker.piece import Wise

Span = tuple[int, int]
Points = tuple[tuple[int, int], ...]
"""(set, offset): the piece's corner plus the offset falls in the set's place of the repeat."""


@dataclass(frozen=True)
class Way:
    """A way to lie: `a` along, `b` across, its low side starting within `ys` (cloth units)."""

    turn: int
    a: int
    b: int
    ys: tuple[Span, ...]
    along: Points = ()
    across: Points = ()
    senses: tuple[int, ...] = ()
    """Names of matches whose print it turns with itself: all pieces of one lie one way round."""

    @property
    def half(self) -> int:
        """1 where it lies half a turn round, else 0."""
        return self.turn // 180


@dataclass(frozen=True)
class Kind:
    """Pieces of which nothing asks a difference: their ways, and the copies that lie so."""

    ways: tuple[Way, ...]
    copies: tuple[tuple[str, int], ...]

    @property
    def area(self) -> int:
        """Area of one copy."""
        return self.ways[0].a * self.ways[0].b


@dataclass(frozen=True)
class Spot:
    """One copy of a kind on the cloth, its low corner at (x, y), in its way number `way`."""

    kind: int
    way: int
    rect: Rect


@dataclass(frozen=True)
class Question:
    """Kinds to lay on a cloth, no longer than `most` where that is above nought."""

    cloth: Cloth
    kinds: tuple[Kind, ...]
    most: int
    sets: tuple[tuple[str, Wise], ...]

    @property
    def count(self) -> int:
        """Number of copies in all."""
        return sum(len(kind.copies) for kind in self.kinds)

    @property
    def area(self) -> int:
        """Area of all copies."""
        return sum(kind.area * len(kind.copies) for kind in self.kinds)

    @cached_property
    def flaws(self) -> tuple[Rect, ...]:
        """The flaws as far as they lie on usable cloth behind the squared end."""
        low, high = self.cloth.usable.y0, self.cloth.usable.y1
        clipped = (
            Rect(max(flaw.x0, 0), max(flaw.y0, low), flaw.x1, min(flaw.y1, high))
            for flaw in self.cloth.flaws
        )
        return tuple(flaw for flaw in clipped if flaw.along > 0 and flaw.across > 0)

    @cached_property
    def steps(self) -> Span:
        """What divides each axis: of every lay there is one no longer whose starts it divides.

        Starts are bound by differences (sizes, repeats, offsets) and by least values; rounding
        all of them down to whole steps keeps every bound that is itself a whole step, and
        greatest values may be floored. So only the former enter.
        """
        ways = [way for kind in self.kinds for way in kind.ways]
        repeat, low = self.cloth.repeat, self.cloth.usable.y0
        along = [way.a for way in ways] + [flaw.x1 for flaw in self.flaws]
        across = [way.b for way in ways] + [flaw.y1 - low for flaw in self.flaws]
        across += [start - low for way in ways for start, _ in way.ys]
        for points, repeat_of, axis in (
            ([point for way in ways for point in way.along], repeat.along, along),
            ([point for way in ways for point in way.across], repeat.across, across),
        ):
            if points:
                axis += [repeat_of, *(offset for _, offset in points)]
        return gcd(*along), gcd(*across)

    def longest(self) -> int:
        """A length that surely holds the lay: every copy behind the other, in whole repeats."""
        total = sum(max(way.a for way in kind.ways) * len(kind.copies) for kind in self.kinds)
        slack = self.cloth.repeat.along * (self.count + len(self.flaws) + 1)
        return total + slack + sum(flaw.along for flaw in self.flaws) + max(
            (flaw.x1 for flaw in self.flaws), default=0
        )  # fmt: skip

    def placements(self, spots: Sequence[Spot]) -> tuple[Placement, ...]:
        """Name the copies: the first along the cloth is the first of its kind."""
        waiting = [list(kind.copies) for kind in self.kinds]
        named = []
        for spot in sorted(spots, key=lambda spot: (spot.rect.x0, spot.rect.y0)):
            letter, copy = waiting[spot.kind].pop(0)
            way = self.kinds[spot.kind].ways[spot.way]
            named.append(Placement(letter, copy, spot.rect.x0, spot.rect.y0, way.turn))
        return tuple(named)

    def agrees(self, band: Sequence[Spot]) -> bool:
        """Whether spots keep all rules among themselves, wherever along the cloth they come."""
        phases: dict[tuple[int, int], int] = {}
        return all(self._sound(spot, phases, flaws=False) for spot in band)

    def holds(self, spots: Sequence[Spot]) -> bool:
        """Whether a lay keeps every rule: all copies, apart, on sound cloth, matched."""
        counts = Counter(spot.kind for spot in spots)
        if any(counts[at] != len(kind.copies) for at, kind in enumerate(self.kinds)):
            return False
        phases: dict[tuple[int, int], int] = {}
        return all(self._sound(spot, phases) for spot in spots) and not any(
            one.rect.overlaps(two.rect) for at, one in enumerate(spots) for two in spots[:at]
        )

    def _sound(self, spot: Spot, phases: dict[tuple[int, int], int], *, flaws: bool = True) -> bool:
        way, rect = self.kinds[spot.kind].ways[spot.way], spot.rect
        repeat = self.cloth.repeat
        falls = [((0, name), (rect.x0 + at) % repeat.along) for name, at in way.along]
        falls += [((1, name), (rect.y0 + at) % repeat.across) for name, at in way.across]
        falls += [((2, name), way.half) for name in way.senses]
        return (
            (rect.along, rect.across) == (way.a, way.b)
            and rect.x0 >= 0
            and (not self.most or not flaws or rect.x1 <= self.most)
            and any(low <= rect.y0 <= high for low, high in way.ys)
            and not (flaws and any(rect.overlaps(flaw) for flaw in self.flaws))
            and all(phases.setdefault(key, value) == value for key, value in falls)
        )
