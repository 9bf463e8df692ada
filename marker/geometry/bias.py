"""True bias strips from a rectangle of cloth, counted from their layout at 45 degrees.

Strips lie side by side across the rectangle; each gives a parallelogram whose ends lie on
one thread, so that all of them join in one chain without being turned over. The area of the
cloth over the width of the strip is no more than a bound. All in units of 1/160 mm.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from marker.errors import BadInput
from marker.geometry.curves import NOISE
from marker.geometry.outline import Outline
from marker.units import MM

ROOT2 = math.sqrt(2)
MOST = 20_000
"""More strips than anyone cuts: a width far too small is a slip of the pen."""


class Ends(StrEnum):
    """The thread that the ends of the strips, and so their joins, lie along."""

    WARP = "warp"
    WEFT = "weft"


@dataclass(frozen=True)
class BiasCut:
    """One strip in the layout.

    `offset` is where its first edge, run on, meets the near selvedge (y = 0); that may be
    beyond the cloth. `reach` is what one long edge covers along the bolt, and as much across;
    `start` is the corner that comes first on the first edge, x and y.
    """

    offset: float
    start: tuple[float, float]
    reach: float

    @property
    def length(self) -> float:
        """Length of either long edge, along the strip."""
        return self.reach * ROOT2


@dataclass(frozen=True)
class BiasLayout:
    """Strips of one width laid on a rectangle, `along` the bolt by `across`."""

    along: float
    across: float
    width: float
    seam: float
    ends: Ends
    strips: tuple[BiasCut, ...]

    @property
    def joins(self) -> int:
        """How many joins make one strip of all."""
        return max(0, len(self.strips) - 1)

    @property
    def joined(self) -> float:
        """Length of all strips joined into one: each join takes the seam of both, on the bias."""
        return sum(strip.length for strip in self.strips) - self.joins * join_takes(self.seam)

    def outlines(self) -> tuple[Outline, ...]:
        """The strips where they lie on the cloth, x along the bolt."""
        pitch = along_selvedge(self.width)
        made = []
        for strip in self.strips:
            (x, y), run = strip.start, strip.reach
            dx, dy = (pitch, 0.0) if self.ends is Ends.WARP else (0.0, -pitch)
            far = (x + run + dx, y + run + dy), (x + run, y + run)
            made.append(Outline.through([(x, y), (x + dx, y + dy), *far]))
        return tuple(made)


def along_selvedge(width: float) -> float:
    """What a strip of true bias takes along the selvedge, and the length of its join.

    width x sqrt 2; Baldt, Clothing for Women, 1916, ch. XXII, prints it to 1/8 inch.
    """
    return width * ROOT2


def join_takes(seam: float) -> float:
    """What one join on the straight thread takes of the strips' length: seam x sqrt 2 of each."""
    return 2 * seam * ROOT2


def area_bound(along: float, across: float, width: float) -> float:
    """No layout of this rectangle joins to a longer strip: its area over the strip's width."""
    return along * across / width


def layout(
    along: float, across: float, width: float, seam: float = 0.0, least: float = 0.0
) -> BiasLayout:
    """The 45-degree layout of a rectangle that joins to the longest strip.

    Strips shorter than `least`, or than a join takes, are left. Where the first line falls
    and which thread the ends lie along are chosen best: the joined length changes its slope
    only where a line passes a corner of the cloth or a strip reaches `least`, so trying those
    places finds the best. Raises `BadInput` where no strip fits.
    """
    for name, size in (("width", width), ("length of cloth", along), ("cloth's width", across)):
        if size <= 0:
            raise BadInput(f"bias strips need a {name} above nothing")
    if (along + across) / along_selvedge(width) > MOST:
        raise BadInput(
            f"bias strips {width / MM:.2f} mm wide make more than {MOST} of this cloth; "
            "check the width"
        )
    found = [
        BiasLayout(along, across, width, seam, ends, cuts)
        for ends in Ends
        for cuts in _phases(along, across, along_selvedge(width), max(least, 0.0), seam, ends)
    ]
    best = max(found, key=lambda made: (round(made.joined, 3), -len(made.strips)), default=None)
    if best is None:
        raise BadInput(
            f"no bias strip {width / MM:.1f} mm wide and {least / MM:.0f} mm long comes out of "
            f"cloth of {along / MM:.0f} by {across / MM:.0f} mm; allow shorter strips or more cloth"
        )
    return best


def cloth_for(
    needed: float, across: float, width: float, seam: float = 0.0, least: float = 0.0
) -> BiasLayout:
    """The layout on the shortest length of cloth, in whole units, that joins to `needed`.

    Raises `BadInput` where the strips across this cloth would all be shorter than `least`.
    """
    high = math.ceil(needed * width / across) + 1
    while _joins_to(high, across, width, seam, least) < needed - NOISE:
        high *= 2
        if high > 1e4 * (needed + across):
            raise BadInput(
                f"cloth {across / MM:.0f} mm wide gives no bias strips of {least / MM:.0f} mm to "
                "join; allow shorter strips"
            )
    low = 0
    while high - low > 1:
        middle = (low + high) // 2
        if _joins_to(middle, across, width, seam, least) < needed - NOISE:
            low = middle
        else:
            high = middle
    return layout(high, across, width, seam, least)


def continuous(along: float, across: float, width: float, seam: float = 0.0) -> tuple[int, float]:
    """Rows, and length of the strip, by the continuous method.

    A triangle is cut off on the bias, sewn to the other end, and the parallelogram sewn into
    a tube one row out of step. The longer side is the one that is ruled: it loses one seam
    and is ruled into whole rows; each row is as long as the shorter side on the bias, and
    every row but the first loses a join.
    """
    ruled, side = max(along, across), min(along, across)
    rows = int((ruled - 2 * seam) / along_selvedge(width) + NOISE)
    if rows < 1 or side <= 2 * seam:
        raise BadInput(
            f"cloth of {along / MM:.0f} by {across / MM:.0f} mm is too small for a continuous "
            f"bias strip {width / MM:.1f} mm wide; cut single strips or take more cloth"
        )
    return rows, rows * side * ROOT2 - (rows - 1) * join_takes(seam)


def _joins_to(along: float, across: float, width: float, seam: float, least: float) -> float:
    try:
        return layout(along, across, width, seam, least).joined
    except BadInput:
        return 0.0


def _phases(
    along: float, across: float, pitch: float, least: float, seam: float, ends: Ends
) -> list[tuple[BiasCut, ...]]:
    """The layout for every place of the first line that can be best; empty ones left out."""
    floor = max(least, join_takes(seam) + NOISE) / ROOT2
    bends = (0.0, along - across - pitch, along - across, along - pitch, pitch - across, -across)
    limits = (along - pitch - floor, floor - across, along - floor, floor - across - pitch)
    found = []
    for phase in {round(place % pitch, 6) for place in (*bends, *limits)}:
        first = math.floor((-across - phase) / pitch)
        last = math.ceil((along - phase) / pitch)
        cuts = [_cut(phase + k * pitch, along, across, pitch, ends) for k in range(first, last + 1)]
        kept = tuple(cut for cut in cuts if cut.reach >= floor - NOISE)
        if kept:
            found.append(kept)
    return found


def _cut(offset: float, along: float, across: float, pitch: float, ends: Ends) -> BiasCut:
    """The longest parallelogram between the lines x - y = offset and offset + pitch."""
    if ends is Ends.WARP:
        low, high = max(0.0, -offset), min(across, along - offset - pitch)
        return BiasCut(offset, (low + offset, low), high - low)
    low, high = max(0.0, offset + pitch), min(along, across + offset)
    return BiasCut(offset, (low, low - offset), high - low)
