"""The straight skirt: breadths of cloth sewn into a tube and drawn up at the waist."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Literal

from pydantic import Field

from marker.garments.advice import skirt_advice
from marker.garments.closing import band_notions, no_band
from marker.garments.gauged import stitched
from marker.garments.hung import Hung, Top, hung
from marker.garments.lengths import Levels
from marker.garments.opening import Opening
from marker.garments.order import SEAM, Draft, Order, Usual
from marker.garments.panel import Tube, top_marks
from marker.garments.registry import garment
from marker.garments.waist import (
    UNDERLAP,
    WAIST,
    Band,
    Tape,
    band_advice,
    band_pieces,
    tape_item,
)
from marker.garments.words import Size
from marker.piece import Mark
from marker.record import Method, Notion, Pleating

TURN_DOWN = Usual("6 cm", "2 1/2 in")


@garment("straight skirt")
class StraightSkirt(Hung):
    """The keys of a straight skirt; `panels` alone must be given."""

    top: Literal["gauged", "stroke gathered"] = Field(
        default="gauged", description="how the top is drawn up"
    )
    turn_down: Size | None = Field(
        default=None, description='the turn-down where the skirt is longest, such as "6 cm"'
    )
    band: Band | None = Field(default=None, description="a table for the waistband")
    tape: Tape | None = Field(default=None, description="a table for the waist tape")
    opening: Opening = Field(default=Opening(), description="a table for the opening")

    def drafts(self, order: Order) -> tuple[Draft, ...]:
        """One draft for each way the panels may lie; raises `BadInput` naming file and key."""
        if self.band and self.tape:
            raise order.fault("band and tape are both given, and a skirt has one; take one out")
        if self.top == "stroke gathered" and self.turn_down is not None:
            raise order.fault("turn_down is given, but a stroke gathered top has none; take it out")
        return hung(order, self, _top(self, order))


def _top(spec: StraightSkirt, order: Order) -> Top:
    gauged, band = spec.top == "gauged", spec.band or Band()
    seam = order.usual(spec.seam, SEAM)
    waist = order.measure(*WAIST)
    drawn = waist + (spec.tape.ease if spec.tape else band.ease)

    def marks(tube: Tube, levels: Levels) -> Sequence[Mark]:
        return tuple(top_marks(tube, levels, gauged))

    def advice(tube: Tube, levels: Levels) -> Sequence[str]:
        joins = () if spec.tape else band_advice(order, band)
        return (*skirt_advice(order, spec.opening, levels, tube, gauged), *joins)

    method = Method.GAUGED if gauged else Method.STROKE

    def pleating(tube: Tube) -> Pleating:
        drawn_up = stitched(order, spec.gauging, method, tube, spec.opening)
        underlap = 0 if spec.tape else order.usual(band.underlap, UNDERLAP)
        return replace(drawn_up, underlap=underlap)

    return Top(
        takes=order.usual(spec.turn_down, TURN_DOWN) if gauged else seam,
        drawn=drawn,
        turned=gauged,
        opening=spec.opening,
        marks=marks,
        advice=advice,
        pleating=pleating,
        pieces=() if spec.tape else band_pieces(order, band, waist, seam),
        notions=_notions(order, spec, band, waist),
    )


def _notions(order: Order, spec: StraightSkirt, band: Band, waist: int) -> tuple[Notion, ...]:
    """What is bought for the top: a tape to tie, or what closes a band."""
    if spec.tape is None:
        return band_notions(order, spec, band, waist)
    no_band(order, spec, "tape")
    return (tape_item(order, spec.tape, waist + spec.tape.ease),)
