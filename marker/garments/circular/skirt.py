"""The circle skirt: a full, three-quarter, half or quarter circle round the waist."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from marker.garments.circular.circles import (
    LAY,
    MIDDLE,
    Circular,
    fewest,
    panel_outline,
    quarters,
    radii,
)
from marker.garments.curved.drafted import (
    Skirted,
    drafted,
    opening_made,
    top_figures,
    top_made,
)
from marker.garments.curved.hem import Finish, finishes, hemmed
from marker.garments.curved.shape import Shape
from marker.garments.hips import DEPTH, scant_at_hips
from marker.garments.lengths import finished_lengths
from marker.garments.made import Made
from marker.garments.opening import OPENING_ENDS, in_any_seam, opened
from marker.garments.order import SEAM, Draft, Order
from marker.garments.registry import garment
from marker.garments.waist import WAIST
from marker.garments.work.curves import Curved, curves_marked, hung_out, notched_quarters
from marker.garments.work.seams import Round, joined, sides_met

WIDER = "take more of the circle, or gathers at the waist"
"""What helps a circle that is too scant at the hips."""


@garment("circle skirt")
class CircleSkirt(Circular, Skirted):
    """The keys of a circle skirt; `circle` alone must be given."""

    def drafts(self, order: Order) -> tuple[Draft, ...]:
        """One draft for each lie of the panels and each way to finish the hem."""
        return tuple(
            _draft(self, order, grain, finish)
            for grain in self.grain
            for finish in finishes(order, self)
        )


def _draft(spec: CircleSkirt, order: Order, grain: str, finish: Finish) -> Draft:
    seam = order.usual(spec.seam, SEAM)
    waist = order.measure(*WAIST)
    inner = waist + spec.ease + spec.gathers
    lengths = finished_lengths(order, spec.shorter, spec.longer)
    longest = max(lengths.values())
    opening = opened(order, spec.opening, min(lengths.values()))

    def shapes(panels: int) -> tuple[Shape, ...]:
        outline = panel_outline(order, spec, inner, longest, panels, grain)
        shape = Shape(
            "panel",
            outline,
            count=panels,
            mirrored=0 if grain == MIDDLE else panels // 2,
            folds=grain == MIDDLE,
            added={"low": seam, "high": seam, "start": seam},
            notches=(
                *quarters(outline),
                ("low", opening, OPENING_ENDS),
                ("high", longest - opening, OPENING_ENDS),
            ),
        )
        return (hemmed(shape, finish),)

    panels = fewest(order, spec, shapes)
    count = sum(shape.count for shape in panels)
    long, drawn = round(inner), waist + spec.ease
    curved = Curved(("panel",), "waist", long, drawn, seam, seam, finish.hem.take_up)
    tube = Round(("panel",), count, seam, opening + seam, curved=True, matched=bool(spec.match))
    before = Made(
        work=(
            *curves_marked(order, curved),
            notched_quarters(order, curved, count),
            *joined(order, tube),
            hung_out(order, curved, "a day"),
        ),
        sewn=tuple(sides_met(panels)),
    )
    rest = top_made(order, spec, waist, seam, curved)
    rest += opening_made(order, spec, waist, seam, [("panel", "seam")])
    rest += Made(
        figures=(
            *top_figures("waist", waist + spec.ease, inner),
            *radii(spec, inner, longest, "waist"),
        ),
        advice=(
            in_any_seam(order, count, spec.opening.at, opening),
            *scant_at_hips(order, _at_hips(order, spec, inner, lengths), WIDER),
            *_hung(order, lengths),
        ),
    )
    way = [LAY[grain]] * (len(spec.grain) > 1)
    return drafted(
        order,
        spec,
        finish,
        "panels",
        panels,
        rest,
        longest,
        way=way,
        opening=opening,
        before=before,
    )


def _at_hips(order: Order, spec: CircleSkirt, inner: int, lengths: Mapping[str, int]) -> int:
    """What a circle measures at the hips, rounded down: it widens evenly from the waist."""
    deep = min(DEPTH.of(order.system), *lengths.values())
    return int(inner + 2 * math.pi * spec.part * deep)


def _hung(order: Order, lengths: Mapping[str, int]) -> Iterator[str]:
    """A circle drops where it hangs on the bias, so it is levelled at the hem."""
    longest = max(lengths.values())
    over = [
        f"{place} {order.spell(longest - length)}"
        for place, length in lengths.items()
        if length < longest
    ]
    cut = f"; cut off besides: {', '.join(over)}" if over else ""
    yield (
        "Let the skirt hang for a day before you level the hem: it drops where the cloth hangs "
        f"on the bias{cut}."
    )
