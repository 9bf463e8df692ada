"""The row guide's figures: where the dots of the running stitches lie on a panel.

Dots are a stitch apart, and the needle goes down at one and up at the next. A panel holds a
whole number of pleats, so the dots of all panels lie alike: the first half a stitch from the
seam line, the last as far from the next, and one stitch runs over every seam. At the opening
half a stitch is left at either edge, half a pleat (common practice, no source).
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from marker.cloth import Cloth
from marker.gauging.read import gauging
from marker.record import Garment


@dataclass(frozen=True)
class RowGuide:
    """What a full-size guide of one panel shows; all in units of 1/160 mm.

    `pitch` is the fitted stitch, from dot to dot, and `panel` the width from seam line to seam
    line: both are exact, and a panel is `dots` x pitch. `rows` are the distances of the rows
    from the fold, or from the cut edge unless the top is `turned` down. `seam` is the allowance
    that lies outside either seam line.
    """

    pitch: Fraction
    panel: Fraction
    pleats: int
    rows: tuple[int, ...]
    turned: bool
    seam: int

    @property
    def dots(self) -> int:
        """Dots in one row of a panel: two to a pleat."""
        return 2 * self.pleats

    @property
    def period(self) -> Fraction:
        """After how much the guide comes round again: one pleat, a stitch over and one under."""
        return 2 * self.pitch

    def dot(self, number: int) -> Fraction:
        """How far a dot, counted from nought, lies from the first seam line of its panel."""
        return (number + Fraction(1, 2)) * self.pitch


def row_guide(garment: Garment, cloth: Cloth) -> RowGuide | None:
    """The guide of a garment whose panels are cut from this cloth; none if it isn't stitched."""
    plan, pleating = gauging(garment, cloth), garment.pleating
    if plan is None or pleating is None:
        return None
    return RowGuide(
        plan.fitted, plan.panel, plan.each, plan.rows, bool(garment.turn_downs), pleating.seam
    )
