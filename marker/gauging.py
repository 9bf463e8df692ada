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

from marker.cloth import Cloth
from marker.record import Garment


@dataclass(frozen=True)
class Gauging:
    """A `round` of cloth in `panels` drawn into a length; all lengths in units of 1/160 mm.

    `stitch` is the one wanted. `thickness` is that of one layer, nought where it isn't known;
    then nothing is said of how tight the pleats stand.
    """

    round: int
    panels: int
    drawn: int
    stitch: int
    layers: int
    thickness: int = 0

    @property
    def pleats(self) -> int:
        """Pleats in the round: a whole number in every panel, nearest to the stitch wanted."""
        pitch = Fraction(self.round, self.panels * 2 * self.stitch)
        return self.panels * max(1, int(pitch + Fraction(1, 2)))

    @property
    def fitted(self) -> Fraction:
        """The stitch that comes out even, in units."""
        return Fraction(self.round, 2 * self.pleats)

    def per(self, length: int) -> Fraction:
        """Pleats on such a length of the band."""
        return Fraction(self.pleats * length, self.drawn)

    @property
    def least_drawn(self) -> int:
        """The length at which all pleats stand close together: layers x thickness."""
        return self.pleats * self.layers * self.thickness

    @property
    def closes(self) -> bool:
        """Whether the pleats can close up to the drawn length; so it is told while nobody knows."""
        return self.least_drawn <= self.drawn

    @property
    def least_stitch(self) -> Fraction:
        """The least stitch whose pleats close up: C / 2p pleats of so many layers fill the length.

        Nought where the thickness isn't known.
        """
        return Fraction(self.round * self.layers * self.thickness, 2 * self.drawn)

    @property
    def greatest_fulness(self) -> Fraction | None:
        """The greatest fulness at which pleats of the stitch wanted close up, if that is known."""
        if not self.thickness:
            return None
        return Fraction(2 * self.stitch, self.layers * self.thickness)


def gauging(garment: Garment, cloth: Cloth) -> Gauging | None:
    """The pleats of a garment whose panels are cut from this cloth; none if it isn't drawn up."""
    if not (garment.drawn and garment.stitch and garment.panels):
        return None
    layers = 4 if garment.turn_downs else 2
    return Gauging(
        garment.round_hem, garment.panels, garment.drawn, garment.stitch, layers, cloth.thickness
    )
