"""What skirts and petticoats hang from but strings: a top drawn up into a band or on a tape."""

from __future__ import annotations

from dataclasses import dataclass, replace

from marker.garments.gauged import stitched
from marker.garments.hips import tight_opening
from marker.garments.hung import Hung
from marker.garments.opening import LENGTH, Opening
from marker.garments.order import Order, Usual
from marker.garments.panel import Tube
from marker.garments.pleats import pressed, pressed_advice, widened
from marker.record import Method, Pleating

TURN_DOWN = Usual("6 cm", "2 1/2 in")
"""Of a gauged top (common practice, no source)."""


@dataclass(frozen=True)
class DrawnUp:
    """A top that is drawn up by a `method` into `drawn`; `underlap` is its band's."""

    order: Order
    spec: Hung
    method: Method
    drawn: int
    opening: Opening
    underlap: int

    @property
    def sized(self) -> Hung:
        """The keys of the garment, its panels as wide as its pleats ask for.

        Raises `BadInput` where a table is given that is for another top.
        """
        spec, order = self.spec, self.order
        wrong, right = ("pleats", "gauging") if self.method.stitched else ("gauging", "pleats")
        if getattr(spec, wrong) is not None:
            raise order.fault(
                f"{wrong} is given, but a {self.method.value} top has none; describe it in a "
                f"table {right}, or take it out"
            )
        panels = widened(order, spec.pleats, self.method, spec.panels, self.drawn, self.opening.at)
        return spec.model_copy(update={"panels": panels})

    def pleating(self, tube: Tube) -> Pleating:
        """What the record keeps of it for a tube; raises `BadInput` where it doesn't come out."""
        order, spec = self.order, self.spec
        if self.method.stitched:
            made = stitched(order, spec.gauging, self.method, tube, self.opening)
        else:
            made = pressed(order, spec.pleats, self.method, tube, self.drawn, self.opening)
        return replace(made, underlap=self.underlap)

    def advice(self, tube: Tube) -> tuple[str, ...]:
        """What to mind about its opening and its pleats, beyond what their own page tells."""
        order, opening = self.order, self.order.usual(self.opening.length, LENGTH)
        tight = tuple(tight_opening(order, self.drawn + self.underlap, opening))
        if self.method.stitched or tube.round <= self.drawn:
            return tight
        made = self.pleating(tube)
        return (*tight, *pressed_advice(order, self.spec.pleats, made, tube, self.drawn))
