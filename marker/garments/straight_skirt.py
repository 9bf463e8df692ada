"""The straight skirt: breadths of cloth sewn into a tube and drawn up at the waist."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from pydantic import Field

from marker.garments.advice import skirt_advice
from marker.garments.closing import band_notions, no_band
from marker.garments.drawn_up import TURN_DOWN, DrawnUp
from marker.garments.hung import Hung, Top, hung
from marker.garments.lengths import Levels
from marker.garments.made import Made
from marker.garments.opening import Opening
from marker.garments.order import SEAM, Draft, Order
from marker.garments.panel import Tube, line_of, top_marks
from marker.garments.registry import garment
from marker.garments.waist import (
    TIE,
    UNDERLAP,
    WAIST,
    Band,
    Tape,
    band_pieces,
    held_by,
    tape_item,
)
from marker.garments.words import Size
from marker.garments.work.breadths import drawn_into_band, drawn_on_tape
from marker.garments.work.hems import Rim
from marker.piece import Mark, Piece
from marker.record import Method, Notion


@garment("straight skirt")
class StraightSkirt(Hung):
    """The keys of a straight skirt; `panels` alone must be given."""

    top: Literal[
        "gauged", "stroke gathered", "knife pleated", "box pleated", "inverted pleated"
    ] = Field(default="gauged", description="how the top is drawn up")
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
        gauged = self.top == "gauged"
        if not gauged and self.turn_down is not None:
            raise order.fault(f"turn_down is given, but a {self.top} top has none; take it out")
        band, waist = self.band or Band(), order.measure(*WAIST)
        up = DrawnUp(
            order,
            self,
            Method(self.top),
            waist + (self.tape.ease if self.tape else band.ease),
            self.opening,
            0 if self.tape else order.usual(band.underlap, UNDERLAP),
        )
        return hung(order, up.sized, _top(self, order, up))


def _top(spec: StraightSkirt, order: Order, up: DrawnUp) -> Top:
    gauged, band = up.method is Method.GAUGED, spec.band or Band()
    seam, waist = order.usual(spec.seam, SEAM), order.measure(*WAIST)

    def marks(tube: Tube, levels: Levels) -> Sequence[Mark]:
        return tuple(top_marks(tube, levels, up.method))

    def advice(tube: Tube, levels: Levels) -> Sequence[str]:
        said = skirt_advice(order, spec.opening, levels, tube, gauged)
        return (*said, *up.advice(tube))

    bands = () if spec.tape else band_pieces(order, band, waist, seam)

    bought = _notions(order, spec, band, waist)

    def worked(tube: Tube, levels: Levels, panels: Sequence[Piece]) -> Made:
        rim = Rim(tuple(piece.name for piece in panels), "waist")
        if spec.tape:
            tie = order.usual(spec.tape.tie, TIE)
            return drawn_on_tape(order, panels, levels, up.pleating(tube), (up.drawn, tie))
        held = held_by(
            order, band, bands, rim, up.drawn, f"{up.method} top", whipped=gauged, notions=bought
        )
        return drawn_into_band(order, panels, levels, up.pleating(tube), held)

    return Top(
        takes=order.usual(spec.turn_down, TURN_DOWN) if gauged else seam,
        drawn=up.drawn,
        turned=gauged,
        opening=spec.opening,
        marks=marks,
        advice=advice,
        pleating=up.pleating,
        line=line_of(up.method),
        worked=worked,
        pieces=bands,
        notions=bought,
    )


def _notions(order: Order, spec: StraightSkirt, band: Band, waist: int) -> tuple[Notion, ...]:
    """What is bought for the top: a tape to tie, or what closes a band."""
    if spec.tape is None:
        return band_notions(order, spec, band, waist)
    no_band(order, spec, "tape")
    return (tape_item(order, spec.tape, waist + spec.tape.ease),)
