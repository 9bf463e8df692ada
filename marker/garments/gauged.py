"""A top drawn up by running stitches: its keys, and what the record keeps of them."""

from __future__ import annotations

from pydantic import Field

from marker.cloth import THICKEST
from marker.garments.opening import Opening
from marker.garments.order import Order, Usual
from marker.garments.panel import Tube
from marker.garments.words import Length, Size, Strict
from marker.record import Method, Pleating, Swatch
from marker.units import format_length

STITCH = Usual("6 mm", "1/4 in")
"""Over and under alike (common practice, no source)."""
SPACING = Usual("1.3 cm", "1/2 in")
"""Three rows 1/2 in (1.3 cm) apart (common practice, no source)."""
FIRST = Usual("3 mm", "1/8 in")
"""The first row 1/8 in from the fold (Hand Sewing Lessons, Model 12; Hapgood, 1893)."""
EASE = Usual("1 cm", "1/2 in")
"""Lower rows a little looser than the top one (common practice, no source)."""
EDGE = Usual("6 mm", "1/4 in")
"""From the cut edge of a stroke-gathered top, and between rows (common practice, no source)."""
ROWS = {Method.GAUGED: 3, Method.STROKE: 2}
MOST_ROWS = 12


class Measured(Strict):
    """The keys of a practice swatch: a strip of cloth, and what it was drawn into."""

    cloth: Size = Field(description='the length of the strip that was sewn, such as "10 cm"')
    drawn: Size = Field(
        description='its length once drawn up as close as it goes, such as "2.1 cm"'
    )
    stitch: Size | None = Field(
        default=None, description='the stitch it was sewn with, such as "6 mm"'
    )


class Gauging(Strict):
    """The keys of the stitches; all have a usual value."""

    stitch: Size | None = Field(
        default=None, description='one running stitch, as long as its space, such as "6 mm"'
    )
    rows: int | None = Field(
        default=None, ge=1, le=MOST_ROWS, description=f"how many rows, from 1 to {MOST_ROWS}"
    )
    spacing: Size | None = Field(
        default=None, description='from one row to the next, such as "1.3 cm"'
    )
    first: Size | None = Field(
        default=None, description='how far the first row lies from the fold, such as "3 mm"'
    )
    ease: Length | None = Field(
        default=None,
        description='by how much the lowest row stays longer than the top one, such as "1 cm"',
    )
    thickness: Size | None = Field(
        default=None, description='the thickness of one layer, such as "0.4 mm"'
    )
    measured: Measured | None = Field(
        default=None, description="a table of a practice swatch, with cloth and drawn"
    )


def stitched(
    order: Order, keys: Gauging | None, method: Method, tube: Tube, opening: Opening | None
) -> Pleating:
    """What the record keeps of a gauged or stroke-gathered top.

    Raises `BadInput` naming the key where a panel takes no whole pleat, or a swatch can't be.
    """
    keys = keys or Gauging()
    stitch, turned = order.usual(keys.stitch, STITCH), method is Method.GAUGED
    if 2 * stitch > tube.pitch:
        raise order.fault(
            f"gauging.stitch is {_fine(order, stitch)}, and a pleat takes two of them, more than "
            f"the {order.spell(tube.pitch)} from seam to seam of a panel; give a shorter stitch"
        )
    if (keys.thickness or 0) > THICKEST:
        raise order.fault(
            "gauging.thickness is more than 2 cm, thicker than any cloth; give that of one layer, "
            'such as "0.4 mm"'
        )
    rows = ROWS[method] if keys.rows is None else keys.rows
    return Pleating(
        method,
        stitch=stitch,
        rows=rows,
        spacing=order.usual(keys.spacing, SPACING if turned else EDGE) if rows > 1 else 0,
        first=order.usual(keys.first, FIRST if turned else EDGE),
        ease=_ease(order, keys, rows, turned=turned),
        thickness=keys.thickness or 0,
        measured=_measured(order, keys.measured, stitch),
        opening_at=opening.at if opening else "",
        seam=tube.seam,
    )


def _ease(order: Order, keys: Gauging, rows: int, *, turned: bool) -> int:
    if rows == 1:
        if keys.ease:
            raise order.fault(
                "gauging.ease is given, but a single row has no looser one below it; give more "
                "rows, or take it out"
            )
        return 0
    return order.usual(keys.ease, EASE) if turned else keys.ease or 0


def _measured(order: Order, keys: Measured | None, stitch: int) -> Swatch | None:
    if keys is None:
        return None
    sewn = stitch if keys.stitch is None else keys.stitch
    if keys.drawn >= keys.cloth:
        raise order.fault(
            f"gauging.measured.drawn is {_fine(order, keys.drawn)}, no less than the "
            f"{_fine(order, keys.cloth)} of its cloth; give the length once it is drawn up"
        )
    if 2 * sewn > keys.cloth:
        raise order.fault(
            f"gauging.measured.cloth is {_fine(order, keys.cloth)}, less than the "
            f"{_fine(order, 2 * sewn)} that one pleat takes; sew a longer swatch"
        )
    return Swatch(keys.cloth, keys.drawn, sewn)


def _fine(order: Order, length: int) -> str:
    """A length of stitches: inches to 1/16."""
    return format_length(length, order.system, fine=True)
