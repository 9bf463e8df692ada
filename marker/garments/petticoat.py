"""The gathered petticoat: breadths on a drawstring or a band, mostly with tucks and a flounce."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Literal

from pydantic import Field

from marker.garments.advice import uneven_advice
from marker.garments.closing import band_notions, no_band
from marker.garments.drawn_up import TURN_DOWN, DrawnUp
from marker.garments.hips import hips
from marker.garments.hung import Hung, Top, hung
from marker.garments.lengths import Levels
from marker.garments.made import Made
from marker.garments.opening import Opening, short_opening
from marker.garments.order import SEAM, Draft, Order, Usual
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
from marker.garments.work.breadths import cased_top, drawn_into_band
from marker.garments.work.hems import Rim
from marker.piece import Mark, Piece
from marker.record import Method

CASING = Usual("2 cm", "3/4 in")
METHODS = {
    "band": Method.STROKE,
    "gauged": Method.GAUGED,
    "knife pleated": Method.KNIFE,
    "box pleated": Method.BOX,
    "inverted pleated": Method.INVERTED,
}
"""How the top is drawn up that each word stands for; a band alone has it stroke gathered."""


@garment("petticoat")
class Petticoat(Hung):
    """The keys of a gathered petticoat; `panels` alone must be given."""

    top: Literal[
        "drawstring", "band", "gauged", "knife pleated", "box pleated", "inverted pleated"
    ] = Field(default="drawstring", description="what the top is gathered on, or how into a band")
    turn_down: Size | None = Field(
        default=None, description='the turn-down of a gauged one where it is longest, as "6 cm"'
    )
    casing: Size | None = Field(
        default=None, description='the finished depth of the casing, such as "2 cm"'
    )
    drawstring: Tape | None = Field(default=None, description="a table for the drawstring")
    band: Band | None = Field(default=None, description="a table for the waistband")
    opening: Opening | None = Field(default=None, description="a table for the opening")

    def drafts(self, order: Order) -> tuple[Draft, ...]:
        """One draft for each way the panels may lie; raises `BadInput` naming file and key."""
        strung = self.top == "drawstring"
        for key in ("band", "gauging", "pleats") if strung else ("drawstring", "casing"):
            if getattr(self, key) is not None:
                other = _top_for(key) if strung else "drawstring"
                raise order.fault(
                    f'{key} is given, but top is "{self.top}"; write top = "{other}", or take it '
                    "out"
                )
        if self.top != "gauged" and self.turn_down is not None:
            raise order.fault(f'turn_down is given, but top is "{self.top}"; take it out')
        if strung:
            return hung(order, self, _strung(self, order))
        up = _drawn_up(self, order)
        return hung(order, up.sized, _banded(self, order, up))


def _top_for(key: str) -> str:
    """The top that a table is for which a drawstring has none of."""
    return "knife pleated" if key == "pleats" else "band"


def _strung(spec: Petticoat, order: Order) -> Top:
    """A casing turned down at the top, its raw edge turned in by a seam, with a string in it."""
    string, seam = spec.drawstring or Tape(), order.usual(spec.seam, SEAM)
    drawn = order.measure(*WAIST) + string.ease
    no_band(order, spec, "drawstring")

    def marks(tube: Tube, levels: Levels) -> Sequence[Mark]:
        folds = top_marks(tube, levels, Method.GAUGED)
        return tuple(replace(mark, name=mark.name.replace("turn-down", "casing")) for mark in folds)

    casing = order.usual(spec.casing, CASING)

    def worked(_: Tube, levels: Levels, panels: Sequence[Piece]) -> Made:
        length = drawn + 2 * order.usual(string.tie, TIE)
        sizes, strung = (casing, seam), (length, drawn)
        return cased_top(order, panels, levels, sizes, strung, opening=spec.opening is not None)

    return Top(
        takes=casing + seam,
        drawn=drawn,
        turned=True,
        opening=spec.opening,
        passes=0 if spec.opening else hips(order),
        marks=marks,
        advice=lambda _, __: (),
        pleating=lambda _: None,
        line="fold of the casing",
        worked=worked,
        notions=(tape_item(order, string, drawn, "drawstring"),),
    )


def _drawn_up(spec: Petticoat, order: Order) -> DrawnUp:
    """Gathered, gauged or pleated into a band, with an opening in one seam."""
    band = spec.band or Band()
    return DrawnUp(
        order,
        spec,
        METHODS[spec.top],
        order.measure(*WAIST) + band.ease,
        spec.opening or Opening(),
        order.usual(band.underlap, UNDERLAP),
    )


def _banded(spec: Petticoat, order: Order, up: DrawnUp) -> Top:
    band, seam, gauged = spec.band or Band(), order.usual(spec.seam, SEAM), spec.top == "gauged"

    def marks(tube: Tube, levels: Levels) -> Sequence[Mark]:
        return tuple(top_marks(tube, levels, up.method))

    def advice(tube: Tube, levels: Levels) -> Sequence[str]:
        deeper = () if gauged else uneven_advice(order, levels)
        return (*short_opening(order, up.opening), *deeper, *up.advice(tube))

    bought = band_notions(order, spec, band, order.measure(*WAIST))
    bands = band_pieces(order, band, order.measure(*WAIST), seam)

    def worked(tube: Tube, levels: Levels, panels: Sequence[Piece]) -> Made:
        rim = Rim(tuple(piece.name for piece in panels), "waist")
        held = held_by(
            order, band, bands, rim, up.drawn, f"{up.method} top", whipped=gauged, notions=bought
        )
        return drawn_into_band(order, panels, levels, up.pleating(tube), held)

    return Top(
        takes=order.usual(spec.turn_down, TURN_DOWN) if gauged else seam,
        drawn=up.drawn,
        turned=gauged,
        opening=up.opening,
        marks=marks,
        advice=advice,
        pleating=up.pleating,
        line=line_of(up.method),
        worked=worked,
        pieces=bands,
        notions=bought,
    )
