"""The gathered petticoat: breadths on a drawstring or a band, mostly with tucks and a flounce."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Literal

from pydantic import Field

from marker.garments.advice import uneven_advice
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
from marker.record import Method, Pleating

CASING = Usual("2 cm", "3/4 in")
GAP = "Leave a gap in the casing's seam for the string; the petticoat has no other opening."


@garment("petticoat")
class Petticoat(Hung):
    """The keys of a gathered petticoat; `panels` alone must be given."""

    top: Literal["drawstring", "band"] = Field(
        default="drawstring", description="what the top is gathered on"
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
        for key in ("band", "gauging") if strung else ("drawstring", "casing"):
            if getattr(self, key) is not None:
                other = "band" if strung else "drawstring"
                raise order.fault(
                    f'{key} is given, but top is "{self.top}"; write top = "{other}", or take it '
                    "out"
                )
        return hung(order, self, _strung(self, order) if strung else _banded(self, order))


def _strung(spec: Petticoat, order: Order) -> Top:
    """A casing turned down at the top, its raw edge turned in by a seam, with a string in it."""
    string, seam = spec.drawstring or Tape(), order.usual(spec.seam, SEAM)
    drawn = order.measure(*WAIST) + string.ease
    no_band(order, spec, "drawstring")

    def marks(tube: Tube, levels: Levels) -> Sequence[Mark]:
        folds = top_marks(tube, levels, True)
        return tuple(replace(mark, name=mark.name.replace("turn-down", "casing")) for mark in folds)

    def advice(_: Tube, __: Levels) -> Sequence[str]:
        return () if spec.opening else (GAP,)

    return Top(
        takes=order.usual(spec.casing, CASING) + seam,
        drawn=drawn,
        turned=True,
        opening=spec.opening,
        passes=0 if spec.opening else order.wearer.measures.get("hip", 0),
        marks=marks,
        advice=advice,
        pleating=lambda _: None,
        notions=(tape_item(order, string, drawn, "drawstring"),),
    )


def _banded(spec: Petticoat, order: Order) -> Top:
    """Gathered into a band, with an opening in one seam."""
    band, seam = spec.band or Band(), order.usual(spec.seam, SEAM)
    waist = order.measure(*WAIST)

    def marks(tube: Tube, levels: Levels) -> Sequence[Mark]:
        return tuple(top_marks(tube, levels, False))

    def advice(_: Tube, levels: Levels) -> Sequence[str]:
        return (*uneven_advice(order, levels), *band_advice(order, band))

    def pleating(tube: Tube) -> Pleating:
        gathered = stitched(order, spec.gauging, Method.STROKE, tube, spec.opening or Opening())
        return replace(gathered, underlap=order.usual(band.underlap, UNDERLAP))

    return Top(
        takes=seam,
        drawn=waist + band.ease,
        turned=False,
        opening=spec.opening or Opening(),
        marks=marks,
        advice=advice,
        pleating=pleating,
        pieces=band_pieces(order, band, waist, seam),
        notions=band_notions(order, spec, band, waist),
    )
