"""Pressed pleats: how deep and how far apart they are, and where they are folded on the flat.

Cloth = 2 x depth x folds + the length it is pleated into; a knife pleat has one fold of the
depth, a box or an inverted pleat two (National Instructional Media Institute, Dress Making,
pp. 202-205). So the ratio is 1 + 2 x depth / spacing for each fold of a pleat.

>>> from marker.units import CM
>>> plan = Pressed(236 * CM, 1, 92 * CM, 18, Method.KNIFE)
>>> plan.depth / CM, round(float(plan.spacing / CM), 1)
(Fraction(4, 1), 5.1)
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from itertools import groupby, pairwise

from marker.record import Direction, Method

QUARTERS = {
    "back": ("back", "right side", "front", "left side"),
    "side": ("left side", "back", "right side", "front"),
    "front": ("front", "left side", "back", "right side"),
}
"""What lies a quarter of the round on, to the right as the outside is looked at, from an opening
at the back, at the left side or in front (that a side opening is at the left: common practice,
no source)."""
UNITS = {
    Direction.RIGHT: ((1, "depth", False), (1, "spacing", True), (-1, "depth", False)),
    Direction.LEFT: ((-1, "depth", False), (1, "spacing", True), (1, "depth", False)),
}
"""The legs of one knife pleat, from inner fold to inner fold."""


def pattern(section: int, depth: int, number: int) -> int:
    """The cloth that `number` folds of a depth take, pleated into a section (NIMI pp. 202-205)."""
    return 2 * depth * number + section


@dataclass(frozen=True)
class Leg:
    """A stretch of cloth between two folds, or to where it goes under a pleat.

    `way` is 1 where it runs on to the right, -1 where it runs back; `shows` where it is seen.
    It begins `at` so far along the flat cloth and `over` so far along the band, units.
    """

    way: int
    long: Fraction
    shows: bool
    at: Fraction = Fraction(0)
    over: Fraction = Fraction(0)

    @property
    def ends(self) -> Fraction:
        """How far along the flat cloth it ends."""
        return self.at + self.long


@dataclass(frozen=True)
class Crease:
    """A fold on the flat cloth, `at` so far along it; `outer` where it is a pleat's edge.

    Folded, it lies `over` so far along the band.
    """

    at: Fraction
    over: Fraction
    outer: bool


@dataclass(frozen=True)
class Pressed:
    """A `round` of cloth in `panels` folded into pleats that measure `drawn`; units of 1/160 mm.

    `face` is that of box pleats, nought where their backs just meet. The cloth begins and ends
    at the opening, which is worn at `opening_at`.
    """

    round: int
    panels: int
    drawn: int
    pleats: int
    method: Method
    face_asked: int = 0
    direction: Direction = Direction.RIGHT
    opening_at: str = "back"
    thickness: int = 0

    @property
    def panel(self) -> Fraction:
        """From one seam to the next."""
        return Fraction(self.round, self.panels)

    @property
    def each(self) -> int:
        """Pleats in one panel."""
        return self.pleats // self.panels

    @property
    def folds(self) -> int:
        """Folds of the depth in one pleat."""
        return 1 if self.method is Method.KNIFE else 2

    @property
    def spacing(self) -> Fraction:
        """From one pleat to the next."""
        return Fraction(self.drawn, self.pleats)

    @property
    def depth(self) -> Fraction:
        """How deep a fold is, from its edge to its inside."""
        return Fraction(self.round - self.drawn, 2 * self.folds * self.pleats)

    @property
    def takes(self) -> Fraction:
        """The flat cloth that one pleat takes: its spacing, and two depths for every fold."""
        return self.spacing + 2 * self.folds * self.depth

    @property
    def ratio(self) -> Fraction:
        """Cloth to the length it is pleated into."""
        return Fraction(self.round, self.drawn)

    @property
    def face(self) -> Fraction:
        """The face of a box pleat; what shows of another is its spacing."""
        if self.method is not Method.BOX:
            return self.spacing
        return Fraction(self.face_asked) if self.face_asked else min(2 * self.depth, self.spacing)

    @property
    def layers(self) -> int:
        """Layers of cloth where most lie on one another."""
        return 1 + 2 * math.ceil(self.depth / (self.spacing if self.folds == 1 else self.face))

    def flat(self, over: Fraction) -> Fraction:
        """How far along the flat cloth what shows there on the band lies."""
        leg = next(
            leg for leg in self.legs if leg.shows and leg.over <= over <= leg.over + leg.long
        )
        return leg.at + over - leg.over

    def per(self, length: int) -> Fraction:
        """Pleats on such a length of the band."""
        return Fraction(self.pleats * length, self.drawn)

    @cached_property
    def legs(self) -> tuple[Leg, ...]:
        """All the cloth from the opening round to it again, to the right as seen from outside."""
        rest = list(self._merged())
        first = next(index for index, leg in enumerate(rest) if leg.shows)
        over = -sum((leg.way * leg.long for leg in rest[:first]), Fraction(0))
        placed, at = [], Fraction(0)
        for leg in rest:
            placed.append(Leg(leg.way, leg.long, leg.shows, at, over))
            at, over = at + leg.long, over + leg.way * leg.long
        return tuple(placed)

    def creases(self, panel: int = 0) -> tuple[Crease, ...]:
        """The folds on one panel, counted from nought at the opening: `at` from its first seam.

        A fold that lies on a seam line belongs to the panel that it begins.
        """
        begins, ends = panel * self.panel, (panel + 1) * self.panel
        return tuple(
            Crease(leg.at - begins, leg.over, before.shows or leg.shows)
            for before, leg in pairwise((self.legs[-1], *self.legs))
            if before.way != leg.way and begins <= leg.at < ends
        )

    @property
    def laps_first(self) -> bool:
        """Whether the cloth that goes under at the opening does so before its first edge.

        So it is where pleats turn to the right there: the band's underlap then begins the band.
        """
        return self.legs[0].over < 0

    def alike(self) -> bool:
        """Whether the folds of all panels lie alike."""
        kinds = {
            tuple((crease.at, crease.outer) for crease in self.creases(panel))
            for panel in range(self.panels)
        }
        return len(kinds) == 1

    def seam(self, number: int) -> tuple[bool, Fraction]:
        """Where a seam lies, the opening's own being nought: whether it shows, and how far in.

        That is how far along the cloth from the nearest edge of what shows.
        """
        at, seen = number * self.panel, [leg for leg in self.legs if leg.shows]
        if at == 0:
            return self.legs[0].shows and self.legs[-1].shows, min(
                seen[0].at, self.round - seen[-1].ends
            )
        near = min(min(abs(at - leg.at), abs(at - leg.ends)) for leg in seen)
        return any(leg.at < at < leg.ends for leg in seen), near

    def _merged(self) -> Iterator[Leg]:
        """Legs that run on the same way, both seen or both hidden, as one."""
        for (way, shows), run in groupby(self._each_leg(), key=lambda leg: (leg.way, leg.shows)):
            yield Leg(way, sum((leg.long for leg in run), Fraction(0)), shows)

    def _each_leg(self) -> Iterator[Leg]:
        if self.method is not Method.KNIFE:
            for _ in range(self.pleats):
                yield from self._double()
            return
        turns = self.turns
        for index, turned in enumerate(turns):
            before, after = turns[index - 1], turns[(index + 1) % len(turns)]
            legs = [Leg(way, getattr(self, size), shows) for way, size, shows in UNITS[turned]]
            under = [Leg(1, self.depth, False)]
            # Pleats that turn to one another have twice the depth of cloth behind the place where
            # they meet, half of it on either side; those that turn away from one another none.
            if before is not turned:
                legs[:1] = [*under, legs[0]] if before is Direction.RIGHT else []
            if after is not turned:
                legs[-1:] = [legs[-1], *under] if turned is Direction.RIGHT else []
            yield from legs

    def _double(self) -> tuple[Leg, ...]:
        """The legs of a box or an inverted pleat, from inner fold to inner fold."""
        depth = self.depth
        back, on = Leg(-1, depth, False), Leg(1, depth, False)
        if self.method is Method.INVERTED:
            return (back, Leg(1, self.spacing, True), back, Leg(1, 2 * depth, False))
        gap = self.spacing - self.face
        between = (Leg(1, gap, True),) if gap else ()
        return (back, Leg(1, self.face, True), back, on, *between, on)

    @property
    def turns(self) -> tuple[Direction, ...]:
        """Which way each knife pleat turns, from the opening on to the right."""
        right, left = Direction.RIGHT, Direction.LEFT
        if self.direction in (right, left):
            return (self.direction,) * self.pleats
        places, quarter = QUARTERS[self.opening_at], self.pleats // 4
        towards = "front" if self.direction is Direction.FRONT else "back"
        if towards in (places[0], places[2]):
            half = self.pleats // 2
            first, then = (right, left) if towards == places[2] else (left, right)
            return (first,) * half + (then,) * half
        last = (left,) * quarter
        if towards == places[3]:
            return last + (right,) * (2 * quarter) + last
        return (right,) * quarter + (left,) * (2 * quarter) + (right,) * quarter
