"""Pleats drawn up by running stitches: how many there are, and how tight they stand.

One pleat takes a stitch over and a stitch under, 2p; a tube of panels is stitched so that
every panel holds a whole number of pleats and the pattern runs on over the seams. A pleat
packs two layers of cloth, four where the top is turned down (common practice, no source).

>>> from marker.units import CM, MM
>>> plan = Gauging(round=320 * CM, panels=2, drawn=72 * CM, stitch=6 * MM, layers=4, thickness=64)
>>> plan.pleats, round(float(plan.fitted / MM), 3)
(266, 6.015)
>>> plan.least_drawn == 266 * 4 * 64, plan.closes
(True, True)
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from marker.record import Swatch


@dataclass(frozen=True)
class Gauging:
    """A `round` of cloth in `panels` drawn into a length; all lengths in units of 1/160 mm.

    `stitch` is the one wanted. `thickness` is that of one layer, nought where it isn't known;
    then nothing is said of how tight the pleats stand, unless a `measured` swatch tells it.
    `rows` are the distances of the rows from the fold, or from the cut edge where nothing is
    turned down; the lowest is drawn into `ease` more than the top one.
    """

    round: int
    panels: int
    drawn: int
    stitch: int
    layers: int
    thickness: int = 0
    rows: tuple[int, ...] = ()
    ease: int = 0
    measured: Swatch | None = None

    @property
    def panel(self) -> Fraction:
        """From one seam to the next."""
        return Fraction(self.round, self.panels)

    @property
    def each(self) -> int:
        """Pleats in one panel: the whole number nearest to the stitch wanted."""
        return max(1, int(self.panel / (2 * self.stitch) + Fraction(1, 2)))

    @property
    def pleats(self) -> int:
        """Pleats in the round."""
        return self.panels * self.each

    @property
    def fitted(self) -> Fraction:
        """The stitch that comes out even, in units."""
        return Fraction(self.round, 2 * self.pleats)

    def flat(self, over: Fraction) -> Fraction:
        """How far along the flat cloth a place on the band lies, both from the opening."""
        return over * self.round / self.drawn

    def per(self, length: int) -> Fraction:
        """Pleats on such a length of the band."""
        return Fraction(self.pleats * length, self.drawn)

    @property
    def packed(self) -> Fraction:
        """What one pleat takes of the drawn length where it stands close; nought if not known.

        Layers x thickness, or what the swatch came to: its drawn length shared by its pleats.
        """
        if self.measured:
            swatch = self.measured
            return Fraction(swatch.drawn * 2 * swatch.stitch, swatch.cloth)
        return Fraction(self.layers * self.thickness)

    @property
    def least_drawn(self) -> Fraction:
        """The length at which all pleats stand close together."""
        return self.pleats * self.packed

    @property
    def closes(self) -> bool:
        """Whether the pleats can close up to the drawn length; so it is told while nobody knows."""
        return self.least_drawn <= self.drawn

    @property
    def least_stitch(self) -> Fraction:
        """The least stitch whose pleats close up: C / 2p pleats, packed, fill the drawn length.

        Nought where the thickness isn't known.
        """
        return Fraction(self.round, 2 * self.drawn) * self.packed

    @property
    def greatest_fulness(self) -> Fraction | None:
        """The greatest fulness at which pleats of the stitch wanted close up, if that is known."""
        return 2 * self.stitch / self.packed if self.packed else None

    def drawn_at(self, row: int) -> Fraction:
        """What a row, counted from nought at the top, is drawn into: evenly looser downwards."""
        last = len(self.rows) - 1
        return self.drawn + (Fraction(self.ease * row, last) if last > 0 else Fraction(0))
