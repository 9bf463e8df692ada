"""Quarter points: where a quarter of the skirt meets a quarter of the band."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from marker.gauging.pressed import QUARTERS, Pressed
from marker.gauging.stitched import Gauging


@dataclass(frozen=True)
class Quarter:
    """One quarter point, named for where it is worn.

    It lies `on_band` so far from the end of the band that meets the opening's first edge; the
    underlap lies beyond the band's other end. On the flat cloth it lies in `panel`, counted
    from the opening to the right, `after` so far from the panel's first seam line, `pleat`
    pleats from the opening. All units of 1/160 mm, exact.
    """

    place: str
    on_band: Fraction
    panel: int
    after: Fraction
    pleat: Fraction


def quarters(plan: Gauging | Pressed, opening_at: str) -> tuple[Quarter, ...]:
    """The quarter points from the opening on to the right, as the outside is looked at."""
    found = []
    for number, place in enumerate(QUARTERS[opening_at or "back"]):
        over = Fraction(number * plan.drawn, 4)
        at = plan.flat(over) if number else Fraction(0)
        panel = int(at // plan.panel)
        found.append(
            Quarter(
                place, over, panel + 1, at - panel * plan.panel, over * plan.pleats / plan.drawn
            )
        )
    return tuple(found)
