"""The gored skirt: panels narrower at the waist than at the hem, front, side and back or alike."""

from __future__ import annotations

from pydantic import Field

from marker.garments.curved.drafted import (
    Skirted,
    drafted,
    opening_made,
    top_figures,
    top_made,
)
from marker.garments.curved.hem import Finish, finishes, hemmed
from marker.garments.gored.gores import PLACES, Gore, Gores, Waistline, half, kinds, measurable
from marker.garments.gored.joined import beside_opening, gores_joined, gores_met
from marker.garments.gored.seams import opening_advice, seam_figures
from marker.garments.gored.shapes import Top, gore_shapes
from marker.garments.gored.told import gore_advice, gore_figures
from marker.garments.lengths import finished_lengths
from marker.garments.made import Made
from marker.garments.opening import opened
from marker.garments.order import SEAM, Draft, Order
from marker.garments.registry import garment
from marker.garments.waist import WAIST
from marker.garments.words import Size
from marker.garments.work.curves import Curved, curves_marked, hung_out, quartered
from marker.record import TurnDown

STEEPEST = 0.5
"""A waist that slopes more than this, one in two, is a slip in the measures."""


@garment("gored skirt")
class GoredSkirt(Skirted):
    """The keys of a gored skirt; `gores` or the tables of its kinds of gores must be given."""

    gores: Gores = Field(default=Gores(), description="a table for all gores together")
    front: Gore | None = Field(default=None, description="a table for the front gores")
    side: Gore | None = Field(default=None, description="a table for the side gores")
    back: Gore | None = Field(default=None, description="a table for the back gores")
    turn_down: Size | None = Field(
        default=None, description='what is turned down at the waist, such as "3 cm"'
    )

    def drafts(self, order: Order) -> tuple[Draft, ...]:
        """One draft for each way to finish the hem; raises `BadInput` naming file and key."""
        return tuple(_draft(self, order, finish) for finish in finishes(order, self))


def _draft(spec: GoredSkirt, order: Order, finish: Finish) -> Draft:
    seam = order.usual(spec.seam, SEAM)
    waist = order.measure(*WAIST)
    top = waist + spec.ease + spec.gores.gathers
    tables = {"front": spec.front, "side": spec.side, "back": spec.back}
    found = kinds(order, spec.gores, tables, top)
    lengths = finished_lengths(order, spec.shorter, spec.longer)
    if len(set(lengths.values())) == 1:
        found = measurable(found, tables, seam, order.grid)
        top = round(sum(kind.count * kind.top for kind in found))
    waistline = _waistline(order, lengths, top)
    opening = opened(order, spec.opening, min(lengths.values()))
    at_top = Top(spec.turn_down or seam, bool(spec.turn_down), opening, spec.opening.at)
    worn = half(found)
    gores = gore_shapes(order, worn, waistline, seam, at_top)
    shapes = [hemmed(shape, finish) for shape in gores.shapes]
    curved = Curved(
        tuple(shape.name for shape in shapes),
        "waist",
        top,
        waist + spec.ease,
        seam,
        at_top.added,
        finish.hem.take_up,
        at_top.turned,
    )
    before = Made(
        work=(
            *curves_marked(order, curved),
            *gores_joined(order, worn, gores, at_top, seam),
            hung_out(order, curved, "a night"),
            quartered(order, curved),
        ),
        sewn=tuple(gores_met(worn, gores)),
    )
    rest = top_made(order, spec, waist, seam, curved)
    rest += opening_made(order, spec, waist, seam, beside_opening(worn, gores, spec.opening.at))
    rest += Made(
        figures=(
            *top_figures("waist", waist + spec.ease, top),
            *gore_figures(order, found, lengths),
            *seam_figures(worn, waistline, gores.names),
        ),
        advice=(
            opening_advice(order, worn, gores, at_top),
            *gore_advice(order, found, shapes, lengths, spec.turn_down or 0),
        ),
    )
    return drafted(
        order,
        spec,
        finish,
        "gores",
        shapes,
        rest,
        longest=max(lengths.values()),
        opening=opening,
        turn_downs=_turned(spec, lengths),
        before=before,
    )


def _waistline(order: Order, lengths: dict[str, int], top: int) -> Waistline:
    """The waist over the wearer's lengths, unless it would slope too steeply to be cut."""
    waistline = Waistline(**lengths)
    if waistline.steepest(top) > STEEPEST:
        told = ", ".join(order.spell(lengths[place]) for place in PLACES)
        raise order.fault(
            f"gores: the wearer's lengths of {told} at front, side and back are too far apart "
            f"for a waist of {order.spell(top)}; give lengths nearer to each other"
        )
    return waistline


def _turned(spec: GoredSkirt, lengths: dict[str, int]) -> tuple[TurnDown, ...]:
    """The turn-down, which is as deep all round: the waist itself slopes where lengths differ."""
    if not spec.turn_down:
        return ()
    if len(set(lengths.values())) == 1:
        return (TurnDown("all round", lengths["front"], spec.turn_down),)
    return tuple(TurnDown(place, lengths[place], spec.turn_down) for place in PLACES)
